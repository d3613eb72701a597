"""Choices worked out on a cluster at an address."""

from collections.abc import Iterator

import pytest

from takeoff.compare import cluster as clusters
from takeoff.compare.choices import Choice, Supply
from takeoff.compare.cluster import NoCluster, cluster, work_all
from takeoff.compare.work import Task
from takeoff.jobs.read_csv import read_csv
from takeoff.profile import default
from takeoff.stock import standard

JOB = read_csv(b"mark,fitting,gauge,width,height,length\nD1,duct,26,20,8,47\n")


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """A Dask scheduler with two workers, inside this process."""
    from distributed import LocalCluster  # noqa: PLC0415

    with LocalCluster(
        n_workers=2, threads_per_worker=1, processes=False, protocol="tcp", dashboard_address=None
    ) as local:
        yield local.scheduler_address


def task(gauge: int) -> Task:
    return Task(Choice(gauge=gauge), JOB, Supply(standard(default()), None, {}), default(), 0.1, 0)


def test_every_choice_comes_back(address: str) -> None:
    wanted = [24, 26, 99, 28]
    with cluster(address, len(wanted)) as client:
        found = {each.choice.gauge: each for each in work_all(client, [task(g) for g in wanted])}
    assert set(found) == set(wanted)
    assert found[99].reason.startswith("galvanized has no gauge 99")
    weights = [figures.weight for gauge in (24, 26, 28) if (figures := found[gauge].figures)]
    assert weights == sorted(weights, reverse=True)
    assert len(set(weights)) == 3


def test_a_choice_that_breaks_down_does_not_stop_the_others(address: str) -> None:
    broken = Task(Choice(gauge=24), JOB, None, default(), 0.1, 0)  # type: ignore[arg-type]
    with cluster(address, 2) as client:
        found = {each.choice.gauge: each for each in work_all(client, [broken, task(26)])}
    assert found[24].reason.startswith("an error in this program (AttributeError: ")
    assert found[26].figures is not None


def test_where_no_cluster_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "PATIENCE", 0.2)
    with (
        pytest.raises(NoCluster, match=r"No cluster answers at tcp://127\.0\.0\.1:9\. "),
        cluster("tcp://127.0.0.1:9", 1),
    ):
        pass
    with pytest.raises(NoCluster), cluster("nonsense://x", 1):
        pass
