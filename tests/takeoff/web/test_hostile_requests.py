"""Requests that mean harm, or come from a broken program: refused in a sentence."""

import pytest

from takeoff.web.asking import MOST_FIELDS, MOST_LETTERS
from takeoff.web.desk import Desk
from takeoff.web.guard import MOST_TYPED

from .conftest import Visitor
from .jobs_kept import DUCT, cells, kept

TYPED = "application/x-www-form-urlencoded"

PATHS = {
    "up out of the static files": "/static/../app.py",
    "the same, encoded": "/static/%2e%2e/%2e%2e/app.py",
    "the same, encoded twice": "/static/%252e%252e/app.py",
    "the same with backslashes": "/static/..%5c..%5capp.py",
    "an absolute path": "/static//etc/passwd",
    "a zero byte": "/static/page.css%00.txt",
    "a number no database can hold": "/jobs/99999999999999999999",
    "a number just too high": "/jobs/2147483648",
    "a negative number": "/jobs/-1",
    "no number": "/jobs/1%20OR%201=1",
    "digits of another script": "/jobs/%D9%A1",
    "a row that climbs": "/jobs/{job}/rows/..%2f..%2fx",
    "a row with a zero byte": "/jobs/{job}/rows/%00",
    "a row with bytes that are no text": "/jobs/{job}/rows/%ff%fe",
    "a row with SQL in it": "/jobs/{job}/rows/'%20OR%20''='",
    "a very long row": "/jobs/{job}/rows/" + "r" * 5000,
    "a family that is none": "/jobs/{job}/add/..%2f..%2fetc",
    "a picture of none": "/families/%3Cscript%3E.svg",
    "a picture that climbs": "/families/..%2f..%2f..%2fx.svg",
    "a run that climbs": "/runs/..%2f..%2fetc%2fpasswd",
    "a run that is a dot": "/runs/%2e",
    "a run with a zero byte": "/runs/a%00b",
    "a very long run": "/runs/" + "a" * 5000,
}
"""By what is tried; every one is answered with 4xx."""

QUERIES = (
    "page=-1",
    "page=99999999999999999999",
    "page=%00",
    "page=1&page=2",
    "page=%D9%A1",
    "page[]=1",
    "=&&&=",
    "page=<script>alert(1)</script>",
    "x=" + "y" * 6_000,
)

TEXTS = {
    "markup": "<script>alert(1)</script>",
    "an attribute that ends": '"><img src=x onerror=alert(1)>',
    "a template": "{{ 7*7 }}{% for x in y %}",
    "SQL": "'; DROP TABLE job; --",
    "a format": "%s%n{0}{self}",
    "letters that print from right to left": "\u202egpj.exe",
    "combining letters": "Z" + "\u0300" * 400,
    "letters beyond the first plane": "\U0001f527\U00010348",
    "line ends": "a\r\nSet-Cookie: x=1\r\n\r\nb",
    "what a terminal obeys": "\x1b[2J\x1b]0;x\x07",
    "a formula": '=HYPERLINK("http://evil.example","x")',
    "spaces of many kinds": "\u00a0\u2003\u200b\ufeff",
}


@pytest.mark.parametrize("path", PATHS.values(), ids=PATHS)
def test_paths(visitor: Visitor, desk: Desk, path: str) -> None:
    job = kept(desk, DUCT)
    page = visitor.get(path.replace("{job}", str(job.id)))
    # what is left of a row that is not there is a message on the page of its job
    assert 400 <= page.status_code < 500 or "deleted in the meantime" in page.text
    assert "Traceback" not in page.text
    assert "root:" not in page.text
    assert "<script>" not in page.text
    assert cells(desk, job) == [DUCT]


@pytest.mark.parametrize("query", QUERIES)
@pytest.mark.parametrize("path", ["/jobs", "/jobs/{job}", "/jobs/{job}/add"])
def test_queries(visitor: Visitor, desk: Desk, path: str, query: str) -> None:
    job = kept(desk, DUCT)
    page = visitor.get(f"{path.replace('{job}', str(job.id))}?{query}")
    assert page.status_code == (404 if "%00" in query else 200)
    assert "<script>alert" not in page.text


@pytest.mark.parametrize("words", TEXTS.values(), ids=TEXTS)
@pytest.mark.parametrize("column", ["mark", "note", "width", "seam", "gauge", "qty", "connects_to"])
def test_texts_in_a_fitting(visitor: Visitor, desk: Desk, column: str, words: str) -> None:
    job = kept(desk)
    sent = {**DUCT, column: words, "_do": "keep"}
    pages = [visitor.post(f"/jobs/{job.id}/add/straight-duct", sent)]
    (row,) = desk.jobs.get(job.id).rows
    pages += [
        visitor.get(f"/jobs/{job.id}"),
        visitor.get(f"/jobs/{job.id}/check"),
        visitor.get(f"/jobs/{job.id}/rows/{row.key}"),
        visitor.get(f"/jobs/{job.id}/rows/{row.key}/delete"),
        visitor.post(f"/jobs/{job.id}/preview/straight-duct", sent),
    ]
    for page in pages:
        assert page.status_code == 200
        assert "<script>alert" not in page.text
        assert "<img src=x" not in page.text
        assert "\x1b" not in page.text
    picture = visitor.get(f"/jobs/{job.id}/pictures/{row.key}.svg")
    assert picture.headers["content-type"].startswith("image/svg+xml")
    assert "<script" not in picture.text
    for ending in ("csv", "xlsx"):
        assert visitor.get(f"/jobs/{job.id}/job.{ending}").status_code == 200


@pytest.mark.parametrize("words", TEXTS.values(), ids=TEXTS)
def test_texts_as_the_name_of_a_job(visitor: Visitor, desk: Desk, words: str) -> None:
    pages = [visitor.post("/jobs", {"name": words})]
    pages += [visitor.get(f"/jobs/{head.id}") for head in desk.jobs.all()]
    for page in (*pages, visitor.get("/jobs")):
        assert page.status_code in (200, 422)
        assert "<script>alert" not in page.text
        assert "<img src=x" not in page.text
    for head in desk.jobs.all():
        sent = visitor.get(f"/jobs/{head.id}/job.csv").headers
        assert "x=1" not in sent.get("set-cookie", "")


def parts(*each: str, boundary: str = "b") -> bytes:
    """A form in parts, each as it is."""
    lines = [f"--{boundary}\r\n{part}\r\n" for part in each]
    return "".join([*lines, f"--{boundary}--\r\n"]).encode("utf-8", "surrogatepass")


def field(name: str, value: str = "x") -> str:
    return f'Content-Disposition: form-data; name="{name}"\r\n\r\n{value}'


FORMS: dict[str, tuple[bytes, str, int]] = {
    "many fields": (
        b"&".join(b"a%d=1" % number for number in range(MOST_FIELDS + 50)),
        TYPED,
        400,
    ),
    "a hundred thousand fields": (b"a&" * 100_000, TYPED, 400),
    "a field too long": (
        b"name=" + b"x" * (MOST_LETTERS + 1),
        TYPED,
        400,
    ),
    "more than a form holds": (
        b"x" * (MOST_TYPED + 1),
        TYPED,
        413,
    ),
    "a zero byte": (b"name=a%00b", TYPED, 400),
    "a zero byte in a field's name": (b"na%00me=a", TYPED, 400),
    "half a letter": (b"name=%ed%a0%80", TYPED, 303),
    "bytes that are no UTF-8": (b"name=%ff%fe", TYPED, 303),
    "a broken escape": (b"name=%zz%", TYPED, 303),
    "parts without a boundary": (parts(field("name")), "multipart/form-data", 400),
    "parts with another boundary": (
        parts(field("name")),
        "multipart/form-data; boundary=c",
        400,
    ),
    "a part without a name": (
        parts("Content-Disposition: form-data\r\n\r\nx"),
        "multipart/form-data; boundary=b",
        400,
    ),
    "a part without an end": (
        b'--b\r\nContent-Disposition: form-data; name="name"\r\n\r\nx',
        "multipart/form-data; boundary=b",
        422,
    ),
    "many parts": (
        parts(*[field(f"a{number}") for number in range(MOST_FIELDS + 50)]),
        "multipart/form-data; boundary=b",
        400,
    ),
    "a part too long": (
        parts(field("name", "x" * (MOST_LETTERS + 1))),
        "multipart/form-data; boundary=b",
        400,
    ),
    "two files": (
        parts(*['Content-Disposition: form-data; name="a"; filename="a"\r\n\r\nx'] * 2),
        "multipart/form-data; boundary=b",
        400,
    ),
    "a part with a long heading": (
        parts(f'Content-Disposition: form-data; name="{"n" * 200_000}"\r\n\r\nx'),
        "multipart/form-data; boundary=b",
        400,
    ),
    "a part with many headings": (
        parts("X: y\r\n" * 20_000 + field("name")),
        "multipart/form-data; boundary=b",
        400,
    ),
    "a boundary a thousand letters long": (
        parts(field("name"), boundary="b" * 1000),
        f"multipart/form-data; boundary={'b' * 1000}",
        400,
    ),
    "parts within parts, a thousand deep": (
        parts(
            *[f"Content-Type: multipart/mixed; boundary=c{n}\r\n\r\n--c{n}" for n in range(1000)]
        ),
        "multipart/form-data; boundary=b",
        400,
    ),
    "UTF-16": (b"name=x", "application/x-www-form-urlencoded; charset=utf-16", 415),
    "UTF-7": (parts(field("name")), "multipart/form-data; boundary=b; charset=utf-7", 415),
    "an encoding that runs escapes": (
        parts(field("name", "\\ud800")),
        "multipart/form-data; charset=unicode_escape; boundary=b",
        415,
    ),
    "an encoding that always fails": (
        parts(field("name")),
        'multipart/form-data; charset="undefined"; boundary=b',
        415,
    ),
    "JSON, a million deep": (b"[" * 200_000, "application/json", 422),
    "XML with entities": (
        b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><x>&b;</x>',
        "text/xml",
        422,
    ),
    "no type": (b"name=x", "", 422),
    "a type that is none": (b"name=x", "\x7f;;;=", 422),
}
"""By what is tried: the body, its type, and the answer. 422 and 303: taken for a form as it is."""


@pytest.mark.parametrize(("body", "kind", "status"), FORMS.values(), ids=FORMS)
def test_forms(visitor: Visitor, desk: Desk, body: bytes, kind: str, status: int) -> None:
    headers = {"Content-Type": kind, "X-CSRF-Token": visitor.token()}
    page = visitor.client.post("/jobs", content=body, headers=headers, follow_redirects=False)
    assert page.status_code == status, page.text
    assert "Traceback" not in page.text
    assert visitor.get("/jobs").status_code == 200
    if status != 303:
        assert not desk.jobs.all()


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW"])
def test_methods(visitor: Visitor, desk: Desk, method: str) -> None:
    job = kept(desk, DUCT)
    page = visitor.client.request(method, f"/jobs/{job.id}", headers={"X-CSRF-Token": "x"})
    assert page.status_code in (403, 405)
    assert desk.jobs.get(job.id) == job
