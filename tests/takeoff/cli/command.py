"""Running the command inside the test's own process."""

from dataclasses import dataclass
from pathlib import Path

import pytest

from takeoff.cli.main import run

DATA = Path(__file__).parents[3] / "data"

HEADING = "mark,fitting,gauge,note,width,depth,height,length,openings,edges,arrangement\n"
GOOD = "D1,duct,26,,20,,8,47,,,\n"


@dataclass(frozen=True)
class Outcome:
    """How a command ended."""

    code: int
    out: str
    err: str


class Command:
    """The command, run in a folder of its own."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self._capsys = capsys

    def __call__(self, *arguments: object) -> Outcome:
        with pytest.raises(SystemExit) as caught:
            run([str(each) for each in arguments])
        out, err = self._capsys.readouterr()
        code = caught.value.code
        return Outcome(code if isinstance(code, int) else 0, out, err)

    def file(self, name: str, content: str | bytes) -> Path:
        """A file in the folder."""
        path = self.folder / name
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return path

    def job(self, rows: str = GOOD, heading: str = HEADING) -> Path:
        """A job list in the folder."""
        return self.file("job.csv", heading + rows)

    def files(self) -> set[str]:
        """All that lies in the folder."""
        return {path.relative_to(self.folder).as_posix() for path in self.folder.rglob("*")}
