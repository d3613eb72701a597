"""A request as a page gets it, and how pages are given their addresses.

Pages are plain functions; they run in a thread of their own, so that a slow one holds up no other.
A form is parsed, and seen to come from a page of ours, before its page is called.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import cached_property
from itertools import chain

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from takeoff.errors import CONTROLS

from .desk import Desk
from .shop_book import ShopNow

TOKEN = "_csrf"
"""The field of a form, and the key of the session, that shows whose form it is."""
TOKEN_HEADER = "X-CSRF-Token"
NOT_OURS = (
    "This form was not opened from here, or too long ago. Nothing was kept: go back, where what "
    "you typed still stands, copy it, reload the page and send it again"
)
NOT_SOUND = "This form is broken, or larger than any of ours. Nothing was kept of it"
NOT_TEXT = "This form has something in it that is no text. Nothing was kept of it"
MOST_FIELDS = 300
MOST_FILES = 1
MOST_LETTERS = 20_000
"""Bytes of one field."""
MOST_NUMBER = 2**31 - 1
"""Of a number in an address: what every database can look for."""


@dataclass(frozen=True)
class Ask:
    """A request.

    Attributes:
        request: as it came.
        form: what was filled in; empty where nothing was sent.
        desk: what the pages work with.
    """

    request: Request
    form: FormData
    desk: Desk

    def text(self, name: str) -> str:
        """What was filled in as text, "" for nothing."""
        value = self.form.get(name)
        return value if isinstance(value, str) else ""

    def upload(self, name: str) -> tuple[str, bytes] | None:
        """Name and contents of a file that was sent; None where none was chosen."""
        value = self.form.get(name)
        if not isinstance(value, UploadFile) or not value.filename:
            return None
        return value.filename, value.file.read()

    def number(self, name: str) -> int:
        """A whole number from the address. Raises HTTPException: nothing has so high a number."""
        number = int(self.request.path_params[name])
        if number > MOST_NUMBER:
            raise HTTPException(404)
        return number

    def part(self, name: str) -> str:
        """A text from the address."""
        return str(self.request.path_params[name])

    @cached_property
    def shop(self) -> ShopNow:
        """The shop as it is set, looked up once for the whole request."""
        return self.desk.shop()

    @property
    def fragment(self) -> bool:
        """Whether a part of a page is wanted instead of a whole one."""
        return self.request.headers.get("HX-Request") == "true"


Page = Callable[[Ask], Response]


def get(path: str, page: Page) -> Route:
    """The route of a page that is looked at; it changes nothing."""
    return Route(path, _endpoint(page), methods=["GET"], name=f"{page.__module__}.{page.__name__}")


def post(path: str, page: Page) -> Route:
    """The route of a form."""
    return Route(path, _endpoint(page), methods=["POST"], name=f"{page.__module__}.{page.__name__}")


def token(request: Request) -> str:
    """What a form must carry to be one of ours; made with the session."""
    return str(request.session.setdefault(TOKEN, secrets.token_urlsafe(24)))


def _endpoint(page: Page) -> Callable[[Request], object]:
    async def endpoint(request: Request) -> Response:
        desk: Desk = request.app.state.desk
        given = [*request.path_params.values(), *chain(*request.query_params.multi_items())]
        if not all(map(_is_text, given)):
            raise HTTPException(404)
        if request.method != "POST":
            return await run_in_threadpool(page, Ask(request, FormData(), desk))
        async with _form(request) as form:
            _check_token(request, form)
            return await run_in_threadpool(page, Ask(request, form, desk))

    return endpoint


@asynccontextmanager
async def _form(request: Request) -> AsyncIterator[FormData]:
    """What was filled in, files closed at the end. Raises HTTPException: it is not sound."""
    try:
        form = await request.form(
            max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=MOST_LETTERS
        )
    except HTTPException as error:
        raise HTTPException(400, NOT_SOUND) from error
    try:
        if not all(_is_text(each) for pair in form.multi_items() for each in pair):
            raise HTTPException(400, NOT_TEXT)
        yield FormData([(name, _printing(value)) for name, value in form.multi_items()])
    finally:
        await form.close()


def _is_text(value: object) -> bool:
    """Whether it can be kept as text; a file has a name that is."""
    words = value.filename or "" if isinstance(value, UploadFile) else str(value)
    return "\0" not in words and not any("\ud800" <= letter <= "\udfff" for letter in words)


def _printing(value: UploadFile | str) -> UploadFile | str:
    """What was filled in without characters that are no part of a text but act on it."""
    return CONTROLS.sub("", value) if isinstance(value, str) else value


def _check_token(request: Request, form: FormData) -> None:
    given = request.headers.get(TOKEN_HEADER) or form.get(TOKEN)
    known = request.session.get(TOKEN)
    if not (
        isinstance(given, str) and known and hmac.compare_digest(given.encode(), known.encode())
    ):
        raise HTTPException(403, NOT_OURS)
