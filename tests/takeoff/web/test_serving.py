"""Listening on a port, and the secret that sessions are signed with."""

import socket
from pathlib import Path

import pytest

from takeoff.web import serving


def test_a_port_that_is_taken_is_told() -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        with pytest.raises(serving.NoPort, match=f"Port {port} of 127.0.0.1 cannot be used"):
            serving._listening("127.0.0.1", port)


def test_an_address_of_no_computer_is_told() -> None:
    with pytest.raises(serving.NoPort, match="Name another with --port"):
        serving._listening("no.such.name.invalid", 0)


def test_answers_do_not_wait_for_more() -> None:
    with serving._listening("127.0.0.1", 0) as ear:
        with socket.create_connection(ear.getsockname()):
            line, _ = ear.accept()
        with line:
            assert line.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


def test_the_secret_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "folder"
    secret = serving.secret_in(folder)
    assert len(secret) >= 48
    assert serving.secret_in(folder) == secret
    assert (folder / serving.KEY_FILE).stat().st_mode & 0o077 == 0


def test_a_folder_that_cannot_be_made_gives_another_secret_each_time(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    below = tmp_path / "file" / "folder"
    assert serving.secret_in(below) != serving.secret_in(below)


def test_a_secret_that_cannot_be_read_gives_another_each_time(tmp_path: Path) -> None:
    file = tmp_path / serving.KEY_FILE
    file.write_bytes(b"\xff\xfe")
    assert len(serving.secret_in(tmp_path)) > 40
    file.unlink()
    file.mkdir()
    assert serving.secret_in(tmp_path) != serving.secret_in(tmp_path)
