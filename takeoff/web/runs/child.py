"""The process of one run: `python -m takeoff.web.runs.child`, started by the server alone.

It reads its order from standard input and tells how far it is on standard output; see `orders`.
"""

from __future__ import annotations

import os
import sys
from functools import partial
from pathlib import Path
from threading import Thread

from takeoff.errors import TakeoffError

from .orders import CompareOrder, End, Order, Report, say, unpacked
from .wish import Wish

NICE = 10
"""How far the search stands back when the pages want a core."""

SERVER_GONE = 3
"""Exit code when the server has died."""


def main() -> None:
    """Do one run."""
    os.nice(NICE)
    wish = Wish()
    with os.fdopen(os.dup(1), "w", encoding="utf-8") as out:
        os.dup2(2, 1)  # what a library prints is not for the server
        try:
            order, folder = unpacked(partial(os.read, 0))
        except EOFError:
            sys.exit(SERVER_GONE)
        Thread(target=_listen, args=(wish,), daemon=True).start()
        say(_done(order, Path(folder), lambda progress: say(progress, out), wish), out)


def _done(order: Order, folder: Path, report: Report, wish: Wish) -> End:
    # each of them loads what the other does not need
    try:
        if isinstance(order, CompareOrder):
            from .comparing import compare  # noqa: PLC0415

            return compare(order, folder, report, wish)
        from .planning import plan  # noqa: PLC0415

        return plan(order, folder, report, wish)
    except TakeoffError as error:
        return End(False, str(error))


def _listen(wish: Wish) -> None:
    """Hear the wish, if there is one, until the server is gone: then nobody wants the rest."""
    if os.read(0, 1024):
        wish.stop()
    while os.read(0, 1024):
        pass
    os._exit(SERVER_GONE)


if __name__ == "__main__":
    main()
