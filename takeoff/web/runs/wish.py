"""The wish to end early, brought to a search that ends at Ctrl-C."""

from __future__ import annotations

import signal
import threading
from types import FrameType


class Wish:
    """Whether the person wants what is found until now; made in the main thread."""

    def __init__(self) -> None:
        self.asked = False
        signal.signal(signal.SIGINT, self._noted)

    def stop(self) -> None:
        """The person wants it; called once, by any thread."""
        self.asked = True
        main = threading.main_thread().ident
        assert main is not None
        # to that thread, so that a search for which it waits is woken
        signal.pthread_kill(main, signal.SIGINT)

    def check(self) -> None:
        """Called by a search when it tells something. Raises KeyboardInterrupt, a wish to it."""
        if self.asked:
            raise KeyboardInterrupt

    def _noted(self, number: int, frame: FrameType | None) -> None:
        """Outside a search nothing is broken off: what is written then is nearly ready."""
