"""The password of the page: only a hash of it is kept, by scrypt (RFC 7914)."""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
from base64 import b64decode, b64encode
from pathlib import Path
from threading import Lock

from takeoff.errors import TakeoffError

SHORTEST, LONGEST = 10, 200
"""Letters of a password."""

KIND = "scrypt"
COST, BLOCK, LANES = 2**15, 8, 3
"""N, r and p: 32 MiB, and some tenths of a second. One of the choices of the OWASP password
storage cheat sheet (from memory)."""
MOST_MEMORY = 2**27
"""Bytes; a hash that asks for more is refused."""
SALT = 16

FILE = "password"
VARIABLE = "BLANKWRIGHT_PASSWORD_HASH"
"""The environment variable that holds a hash where none is kept in a file."""

_one_at_a_time = Lock()


class BadPassword(TakeoffError, ValueError):
    """A password that will not do, or a hash that is none."""


def check(password: str) -> None:
    """BadPassword where it is too short or too long."""
    if len(password) < SHORTEST:
        raise BadPassword(f"A password needs {SHORTEST} letters or more; several words will do.")
    if len(password) > LONGEST:
        raise BadPassword(f"A password has {LONGEST} letters at most.")


def hashed(password: str) -> str:
    """A hash of a password, as it is kept: kind, N, r, p, salt and key. Raises BadPassword."""
    check(password)
    salt = secrets.token_bytes(SALT)
    key = _key(password, salt, COST, BLOCK, LANES)
    return "$".join((KIND, str(COST), str(BLOCK), str(LANES), _text(salt), _text(key)))


def fits(password: str, kept: str) -> bool:
    """Whether a password is the one that a hash was made of; takes as long either way.

    Raises:
        BadPassword: `kept` is no hash that `hashed` made.
    """
    cost, block, lanes, salt, key = _read(kept)
    tried = _key(password[: LONGEST + 1], salt, cost, block, lanes)
    return hmac.compare_digest(tried, key)


def keep(password: str, folder: Path) -> Path:
    """Keep a hash in a folder, in a file that only the user may read; gives the file.

    Raises:
        BadPassword: see `check`; or the folder cannot be written.
    """
    text, file = hashed(password), folder / FILE
    aside = folder / f".{FILE}.{secrets.token_hex(4)}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with os.fdopen(os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as new:
            new.write(f"{text}\n")
        aside.replace(file)
    except OSError as error:
        aside.unlink(missing_ok=True)
        raise BadPassword(f"{file} cannot be written: {error.strerror or error}.") from error
    return file


def kept_in(folder: Path) -> str:
    """The hash that is to be used: of the environment, else of the folder's file; "" for none.

    Raises:
        BadPassword: it is no hash.
    """
    text = os.environ.get(VARIABLE, "").strip()
    if not text:
        try:
            text = (folder / FILE).read_text(encoding="ascii").strip()
        except FileNotFoundError:
            return ""
        except (OSError, UnicodeDecodeError) as error:
            raise BadPassword(f"{folder / FILE} cannot be read: {error}.") from error
    _read(text)
    return text


def _read(kept: str) -> tuple[int, int, int, bytes, bytes]:
    try:
        kind, *numbers, salt, key = kept.split("$")
        cost, block, lanes = map(int, numbers)
        sound = kind == KIND and 0 < 128 * cost * block <= MOST_MEMORY and 0 < lanes <= 16
        if not sound or cost < 2**10 or cost & (cost - 1):
            raise ValueError
        return cost, block, lanes, b64decode(salt, validate=True), b64decode(key, validate=True)
    except ValueError:
        told = "The hash of the password is damaged. Set it anew with serve --set-password."
        raise BadPassword(told) from None


def _key(password: str, salt: bytes, cost: int, block: int, lanes: int) -> bytes:
    data = password.encode("utf-8", "surrogatepass")
    with _one_at_a_time:  # so that many tries do not take all the memory
        return hashlib.scrypt(
            data, salt=salt, n=cost, r=block, p=lanes, maxmem=2 * MOST_MEMORY, dklen=32
        )


def _text(data: bytes) -> str:
    return b64encode(data).decode("ascii")
