"""A plan and a comparison that are made once for all tests that look at them."""

from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from starlette.testclient import TestClient

from takeoff.web.app import build
from takeoff.web.desk import Desk
from takeoff.web.runs import Run
from tests.takeoff.web.conftest import HOME, Visitor
from tests.takeoff.web.desks import desk_in
from tests.takeoff.web.jobs_kept import DUCT, kept

from .waiting import until

CAP = {"mark": "C1", "fitting": "end cap", "gauge": "24", "width": "14", "height": "9 1/4"}
HOSTILE = "<script>alert(1)</script>"


@dataclass(frozen=True)
class Made:
    """A desk with a job of which a plan is made, and a visitor to it."""

    desk: Desk
    visitor: Visitor
    job: int
    plan: Run

    @property
    def path(self) -> str:
        return f"/runs/{self.plan.key}"


def finish(desk: Desk, key: str) -> Run:
    until(lambda: not desk.runs.run(key).live, "the end of the run", 240)
    return desk.runs.run(key)


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Made]:
    folder = tmp_path_factory.mktemp("planned")
    with desk_in(folder) as desk:
        job = kept(desk, {**DUCT, "note": HOSTILE}, {**CAP, "qty": "2"}, name=f"Elm {HOSTILE}")
        with TestClient(build(desk, "a secret of the tests"), HOME) as client:
            visitor = Visitor(client)
            page = visitor.post(f"/jobs/{job.id}/plan", {"seconds": "1"})
            key = page.url.path.rpartition("/")[2]
            yield Made(desk, visitor, job.id, finish(desk, key))
