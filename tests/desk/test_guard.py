"""Who may ask the desk: everything else is turned away before it is looked at."""

from __future__ import annotations

import json

import pytest

pytest.importorskip("httpx", reason="starlette's test client needs it")
pytest.importorskip("starlette", reason="the extra live has it")
pytest.importorskip("ruamel.yaml", reason="the extra live has it")

from starlette.testclient import TestClient

from springgeo.desk.desk import Desk
from springgeo.desk.guard import LARGEST, Guard
from springgeo.desk.server import application
from tests.desk.test_desk import TEXT

HOST = "127.0.0.1:5555"
ORIGIN = {"origin": f"http://{HOST}"}


@pytest.fixture(name="guard")
def _guard(tmp_path):
    path = tmp_path / "spring.yaml"
    path.write_text(TEXT)
    desk = Desk(path, apart=False)
    yield Guard(application(desk), 5555)
    desk.close()


def client(guard):
    return TestClient(guard, base_url=f"http://{HOST}")


@pytest.fixture(name="page")
def _page(guard):
    found = client(guard)
    assert found.get(f"/?token={guard.token}").status_code == 200
    return found


def test_the_token_opens_the_page_once(guard):
    first = client(guard)
    answer = first.get(f"/?token={guard.token}")
    assert answer.status_code == 200
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    # the same browser may load it again, another may not
    assert first.get("/").status_code == 200
    assert client(guard).get(f"/?token={guard.token}").status_code == 403


@pytest.mark.parametrize("query", ["", "?token=", "?token=wrong", "?token=wrong&token=wrong"])
def test_without_the_token_nothing_opens(guard, query):
    assert client(guard).get("/" + query).status_code == 403
    assert client(guard).post("/ask", json={"what": "start"}, headers=ORIGIN).status_code == 403


def test_the_token_does_not_open_the_questions(guard):
    asked = client(guard).post(f"/ask?token={guard.token}", json={"what": "start"}, headers=ORIGIN)
    assert asked.status_code == 403


@pytest.mark.parametrize(
    "host", ["evil.example:5555", "127.0.0.1:80", "127.0.0.1", "127.0.0.1.evil.example:5555", ""]
)
def test_another_name_for_this_machine_is_turned_away(guard, page, host):
    """DNS rebinding: the name asked for gives it away."""
    assert page.get("/", headers={"host": host}).status_code == 421
    asked = page.post("/ask", json={"what": "start"}, headers={**ORIGIN, "host": host})
    assert asked.status_code == 421


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "http://127.0.0.1:5556", "https://127.0.0.1:5555", "null"]
)
def test_a_foreign_origin_is_turned_away(page, origin):
    asked = page.post("/ask", json={"what": "start"}, headers={"origin": origin})
    assert asked.status_code == 403


def test_a_question_without_an_origin_or_from_another_site_is_turned_away(page):
    assert page.post("/ask", json={"what": "start"}).status_code == 403
    cross = {**ORIGIN, "sec-fetch-site": "cross-site"}
    assert page.post("/ask", json={"what": "start"}, headers=cross).status_code == 403
    assert page.get("/", headers={"sec-fetch-site": "cross-site"}).status_code == 403


@pytest.mark.parametrize(
    "path",
    ["/../etc/passwd", "/..%2f..%2fetc/passwd", "//etc/passwd", "/spring.yaml", "/static/x"],
)
def test_there_are_no_paths(page, path):
    answer = page.get(path)
    assert answer.status_code in (404, 405)
    assert "root:" not in answer.text
    assert "astm" not in answer.text


def test_ten_megabytes_are_too_much(page):
    body = json.dumps({"what": "near", "changes": {"name": "x" * 10_000_000}}).encode()
    headers = {**ORIGIN, "content-type": "application/json"}
    assert page.post("/ask", content=body, headers=headers).status_code == 413

    def chunks():  # no length is said
        for _ in range(1 + LARGEST // 100_000):
            yield b" " * 100_000

    assert page.post("/ask", content=chunks(), headers=headers).status_code == 413


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[" * 100_000, b"null", b'{"what": 1}'])
def test_what_is_no_question_is_refused_in_a_line(page, body):
    answer = page.post("/ask", content=body, headers={**ORIGIN, "content-type": "application/json"})
    assert answer.status_code == 400
    assert len(answer.json()["problem"]) < 100


def test_a_form_of_another_page_is_no_question(page):
    headers = {**ORIGIN, "content-type": "text/plain"}
    assert page.post("/ask", content=b"{}", headers=headers).status_code == 415


def test_the_policy_lets_nothing_in_or_out(page):
    answer = page.get("/")
    policy = answer.headers["content-security-policy"]
    for part in (
        "default-src 'none'",
        "connect-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    ):
        assert part in policy
    assert "unsafe" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["cache-control"] == "no-store"


def test_a_page_asks_and_is_answered(page):
    answer = page.post("/ask", json={"what": "near", "page": "p"}, headers=ORIGIN)
    assert answer.status_code == 200
    assert answer.json()["rows"]
