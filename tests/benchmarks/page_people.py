"""People at the page: each walks from one to the next as he does who measures a job."""

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urlsplit

import httpx2

from takeoff.web.asking import TOKEN, TOKEN_HEADER

WALK = (
    "job list", "job", "check of the job", "small picture", "small picture", "small picture",
    "form", "preview", "preview", "preview", "preview", "preview", "preview",
    "plan under way", "plan under way", "plan under way", "result", "sheet", "stock", "rack",
)  # fmt: skip
"""The pages of one round, in their order."""
VARIED = ("length", "width", "diameter", "large", "height")
"""The size that he types, of those that the form has."""


class Form(HTMLParser):
    """What stands in the fields of the form of a fitting, by name."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.preview = ""
        self.values: dict[str, str] = {}
        self._choice = ""
        self._chosen = False
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "form" and (given.get("hx-post") or "").startswith("/jobs/"):
            self.preview = given["hx-post"] or ""
        elif tag == "input" and given.get("name"):
            self.values[str(given["name"])] = given.get("value") or ""
        elif tag == "select":
            self._choice = str(given["name"])
        elif tag == "option":
            self._chosen = "selected" in given

    def handle_data(self, data: str) -> None:
        if self._choice and self._chosen:
            self.values[self._choice] = data

    def handle_endtag(self, tag: str) -> None:
        if tag == "option":
            self._chosen = False
        elif tag == "select":
            self._choice = ""

    def typed(self, chance: random.Random) -> dict[str, str]:
        """The form with one size a little larger, so that it was hardly ever drawn before."""
        for name in VARIED:
            if self.values.get(name, "").isdecimal():
                larger = int(self.values[name]) + chance.randrange(1, 512) / 128
                return {**self.values, name: str(larger)}
        return self.values


@dataclass
class Plans:
    """The plan that is made at the moment, and one that was made before."""

    live: str = ""
    done: str = ""


@dataclass
class Person:
    """Someone with a browser of his own.

    Attributes:
        client: keeps his cookies.
        job: its number.
        rows: the keys of its rows.
        plans: what he looks at besides.
    """

    client: httpx2.Client
    job: int
    rows: list[str]
    plans: Plans
    chance: random.Random
    token: str = ""
    form: Form = field(default_factory=lambda: Form(""))

    def enter(self) -> None:
        """Open the page for the first time."""
        self.token = Form(self.client.get("/jobs").text).values[TOKEN]
        self.see("form")

    def see(self, kind: str) -> httpx2.Response:
        """One page; a form is kept to type into."""
        answer = self._pages[kind]()
        if kind == "form":
            form = Form(answer.text)
            self.form = form if form.preview else self.form
        return answer

    @property
    def _pages(self) -> dict[str, Callable[[], httpx2.Response]]:
        return {
            "job list": lambda: self.client.get("/jobs"),
            "job": lambda: self.client.get(f"/jobs/{self.job}"),
            "check of the job": lambda: self._part(f"/jobs/{self.job}/check"),
            "small picture": lambda: self.client.get(f"/jobs/{self.job}/pictures/{self._row}.svg"),
            "form": lambda: self.client.get(f"/jobs/{self.job}/rows/{self._row}"),
            "preview": self._preview,
            "plan under way": lambda: self._part(f"/runs/{self.plans.live}"),
            "result": lambda: self.client.get(f"/runs/{self.plans.done}"),
            "sheet": lambda: self.client.get(f"/runs/{self.plans.done}/sheets/1"),
            "stock": lambda: self.client.get("/stock"),
            "rack": lambda: self.client.get("/rack"),
        }

    @property
    def _row(self) -> str:
        return self.chance.choice(self.rows)

    def _part(self, path: str) -> httpx2.Response:
        return self.client.get(path, headers={"HX-Request": "true"})

    def _preview(self) -> httpx2.Response:
        headers = {"HX-Request": "true", TOKEN_HEADER: self.token}
        typed = self.form.typed(self.chance)
        return self.client.post(self.form.preview, data=typed, headers=headers)


def right(kind: str, answer: httpx2.Response) -> bool:
    """Whether it is the page that was asked for: a preview has a picture."""
    if kind == "plan under way":  # one that has just ended sends to its result
        return answer.status_code in (200, 204)
    return answer.status_code == 200 and (kind != "preview" or "<svg" in answer.text)


def last_part(answer: httpx2.Response) -> str:
    """The last part of the address that a form led to."""
    return urlsplit(str(answer.url)).path.rsplit("/", 1)[-1]
