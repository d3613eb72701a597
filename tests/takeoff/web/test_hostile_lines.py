"""What comes over the line: no request at all, one that lies of its size, one that never ends."""

import socket
import time
from collections.abc import Iterator
from contextlib import suppress
from urllib.parse import urlsplit

import pytest

from takeoff.web import guard
from takeoff.web.app import build

from .desks import desk_in
from .serving import serving
from .test_hostile_requests import TYPED


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    with (
        desk_in(tmp_path_factory.mktemp("served")) as desk,
        serving(build(desk, "a secret of the tests")) as served,
    ):
        yield served


def raw(address: str, data: bytes) -> bytes:
    """What a served application answers to bytes as they are."""
    place = urlsplit(address)
    with socket.create_connection((place.hostname or "", place.port or 0), 3) as line:
        line.sendall(data)
        told = b""
        # a line that was put down while there was more to read answers with a reset
        with suppress(TimeoutError, ConnectionResetError):
            while more := line.recv(65536):
                told += more
    return told


def test_a_form_that_stops_halfway(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "SLOWEST", 0.2)
    head = "POST /jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n"
    told = raw(address, f"{head}Content-Type: {TYPED}\r\n\r\nname=".encode())
    assert told.startswith(b"HTTP/1.1 408")


def test_a_form_that_drips(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "LONGEST", 0.5)
    head = "POST /jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100000\r\n"
    place = urlsplit(address)
    with socket.create_connection((place.hostname or "", place.port or 0), 5) as line:
        line.sendall(f"{head}Content-Type: {TYPED}\r\n\r\n".encode())
        with suppress(BrokenPipeError, ConnectionResetError):
            for _ in range(100):
                line.sendall(b"a")
                time.sleep(0.02)
        assert line.recv(100).startswith(b"HTTP/1.1 408")


RAW = {
    "no request at all": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03",
    "an address of 100 kB": b"GET /" + b"a" * 100_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "a heading of 100 kB": b"GET / HTTP/1.1\r\nHost: localhost\r\nX: "
    + b"a" * 100_000
    + b"\r\n\r\n",
    "ten thousand headings": b"GET / HTTP/1.1\r\nHost: localhost\r\n"
    + b"X: y\r\n" * 20_000
    + b"\r\n",
    "a foreign place as the path": b"GET //evil.example/jobs HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "the same with a slash behind": b"GET //evil.example/jobs/ HTTP/1.1\r\nHost: localhost\r\n\r\n",
    "no host": b"GET /jobs HTTP/1.1\r\n\r\n",
    "two hosts": b"GET /jobs HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\n\r\n",
    "a foreign host": b"GET /jobs HTTP/1.1\r\nHost: evil.example\r\n\r\n",
    "a zero byte in a heading": b"GET /jobs HTTP/1.1\r\nHost: localhost\r\nX: a\0b\r\n\r\n",
    "two lengths": b"POST /jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: 3\r\n"
    b"Content-Length: 4\r\n\r\nabcd",
    "a negative length": b"POST /jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1\r\n\r\n",
    "a length of a gigabyte": b"POST /jobs HTTP/1.1\r\nHost: localhost\r\n"
    b"Content-Length: 1000000000\r\n\r\nname=x",
    "chunks of a false size": b"POST /jobs HTTP/1.1\r\nHost: localhost\r\n"
    b"Transfer-Encoding: chunked\r\n\r\nzz\r\nabc\r\n0\r\n\r\n",
    "a request within a request": b"POST /jobs HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5\r\n"
    b"Transfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /x HTTP/1.1\r\nHost: evil.example\r\n\r\n",
    "a whole address as the path": b"GET http://evil.example/jobs HTTP/1.1\r\n"
    b"Host: evil.example\r\n\r\n",
}


@pytest.mark.parametrize("data", RAW.values(), ids=RAW)
def test_bytes_on_the_line(address: str, data: bytes) -> None:
    told = raw(address, data)
    assert told[:10] in (b"HTTP/1.1 4", b""), told[:200]
    assert b"Traceback" not in told
    sound = b"GET /jobs HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
    assert raw(address, sound).startswith(b"HTTP/1.1 200")
