"""A process that does what a run's process does, but no work: it waits to be told how to end.

The file `end` in its folder says how: done, failed, break (an error of the program), or half a word
(killed while it tells of its end).
"""

import os
import signal
import sys
import time
from functools import partial
from pathlib import Path
from threading import Thread

from takeoff.web.runs.orders import End, Progress, say, unpacked
from takeoff.web.runs.shelf import PAPERS, VIEW


def main() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _, name = unpacked(partial(os.read, 0))
    folder, wishes = Path(name), Path(name) / "wish"
    Thread(target=listen, args=(wishes,), daemon=True).start()
    say(
        Progress("Waiting to be told", "Nothing yet.", ("What", "How"), (("<b>", "1"),)), sys.stdout
    )
    while not wishes.exists() and not (folder / "end").exists():
        time.sleep(0.01)
    how = "done" if wishes.exists() else (folder / "end").read_text()
    for part in (PAPERS, VIEW):
        (folder / part).mkdir()
    if how == "half a word":
        sys.stdout.write('{"End": {"done": tr')
        sys.stdout.flush()
        os.kill(os.getpid(), signal.SIGKILL)
    if how == "break":
        sys.exit("an error of the program")
    say(End(how == "done", "so it ended", wishes.exists()), sys.stdout)


def listen(wishes: Path) -> None:
    while said := os.read(0, 100):
        wishes.write_bytes(said)
    os._exit(3)


if __name__ == "__main__":
    main()
