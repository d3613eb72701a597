"""The application on a port of its own, in a thread, as long as a test needs it."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from starlette.applications import Starlette


@contextmanager
def serving(app: Starlette) -> Iterator[str]:
    """Serve on loopback; gives the address."""
    with socket.socket() as ear:
        ear.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        ear.bind(("127.0.0.1", 0))
        ear.listen(64)
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", ws="none"))
        thread = threading.Thread(target=server.run, args=([ear],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        try:
            yield f"http://127.0.0.1:{ear.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(10)
