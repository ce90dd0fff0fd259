"""What the page refuses, over a real socket: statuses by RFC 9110; nothing is done, and nothing of the request comes
back. Each was tried on a server that let it in (DNS rebinding, other sites' requests, pages that are behind)."""

from __future__ import annotations

import json
import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import Any

import pytest

from companion.page import server
from companion.page.address import new_tokens
from companion.page.turns import Turns
from tests.page.at_page import AtPage, page_of
from tests.patience import PATIENCE, until
from tests.screens.at_the_needles import begun, on_disk


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The swatch at run 3 of row 21."""
    folder = tmp_path_factory.mktemp("page")
    begun(folder, row=21, runs=2)
    return folder


@pytest.fixture(scope="module")
def page(home: Path) -> Iterator[AtPage]:
    """One page for all that it refuses: it stays as it was."""
    with page_of(home) as one:
        yield one


def saved(home: Path) -> dict[str, bytes]:
    """Every file of the shelf."""
    return {path.name: path.read_bytes() for path in (home / "pieces").iterdir()}


@pytest.fixture
def on(page: AtPage, home: Path) -> Iterator[bytes]:
    """A press that would do something; nothing is done with it, and it is good again after all."""
    before = saved(home)
    yield json.dumps({"seen": page.state["seen"], "deed": "on"}).encode()
    assert saved(home) == before
    assert page.server.turns.state.seen == page.state["seen"]


@pytest.mark.parametrize("cookie", [None, "", "rowside=1", "{name}=", "{name}=0123456789abcdef0123456789abcdef"])
@pytest.mark.parametrize("target", ["/", "/news", "/chart?part=0", "/press"])
def test_who_has_no_token_is_let_in_nowhere(page: AtPage, on: bytes, cookie: str | None, target: str) -> None:
    name = page.cookie.partition("=")[0]
    method, body = ("POST", on) if target == "/press" else ("GET", None)
    answer = page.ask(method, target, body, Cookie=cookie and cookie.format(name=name))
    assert answer.status == 401
    assert answer.body == b"Open the whole address that the program prints, with its token.\n"
    assert "Set-Cookie" not in answer.headers


@pytest.mark.parametrize("token", ["", "0" * 32, "{token}0", "%00", "\u00e9"])
def test_a_wrong_token_in_the_address_is_none(page: AtPage, token: str) -> None:
    target = "/?token=" + token.format(token=page.token).encode("ascii", "replace").decode()
    assert page.ask("GET", target, Cookie=None).status == 401


def test_a_token_counts_in_the_first_address_alone(page: AtPage) -> None:
    assert page.ask("GET", f"/news?token={page.token}", Cookie=None).status == 401
    assert page.ask("GET", f"/chart?part=0&token={page.token}", Cookie=None).status == 401


@pytest.mark.parametrize("host", [
    None, "", "harbour.example", "harbour.example:{port}", "127.0.0.1", "127.0.0.1:1",
    "127.0.0.1.harbour.example:{port}", "localhost.:{port}", "0.0.0.0:{port}", "[::1]:{port}",
    "127.0.0.1:{port}@harbour.example",
])
def test_another_name_that_leads_here_is_misdirected(page: AtPage, on: bytes, host: str | None) -> None:
    named = host and host.format(port=page.server.port)
    for method, target, body in (("GET", "/", None), ("GET", "/news", None), ("POST", "/press", on)):
        assert page.ask(method, target, body, Host=named).status == 421


def test_two_names_at_once_are_misdirected(page: AtPage) -> None:
    head = f"GET / HTTP/1.1\r\nHost: {page.host}\r\nHost: harbour.example\r\nCookie: {page.cookie}\r\n\r\n"
    assert page.raw(head.encode()).startswith(b"HTTP/1.0 421 ")


def test_this_computer_may_be_called_localhost(page: AtPage) -> None:
    assert page.ask("GET", "/", Host=f"localhost:{page.server.port}").status == 200


@pytest.mark.parametrize("origin", [
    None, "null", "", "http://harbour.example", "https://{host}", "http://{host}.harbour.example", "http://127.0.0.1",
    "http://127.0.0.1:1", "http://{host}/", "HTTP://{host}",
])
def test_a_press_from_another_site_is_forbidden(page: AtPage, on: bytes, origin: str | None) -> None:
    assert page.ask("POST", "/press", on, Origin=origin and origin.format(host=page.host)).status == 403


def test_another_site_may_not_look_in_either(page: AtPage) -> None:
    for target in ("/news", "/chart?part=0"):
        assert page.ask("GET", target, Origin="http://harbour.example").status == 403
        assert page.ask("GET", target, Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors").status == 403
        assert page.ask("GET", target, Sec_Fetch_Site="same-site", Sec_Fetch_Mode="cors").status == 403
    assert page.ask("GET", "/", Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="navigate").status == 200


def test_who_has_the_token_to_look_sees_all_and_presses_nothing(page: AtPage, on: bytes) -> None:
    token = page.server.house.tokens.look
    first = page.ask("GET", f"/?token={token}", Cookie=None)
    assert (first.status, b'data-role="look" data-may="look"' in first.body) == (200, True)
    cookie = first.headers["Set-Cookie"].partition(";")[0]
    assert next(page.listen(cookie)) == page.state
    assert page.ask("GET", "/chart?part=0", Cookie=cookie).status == 200
    assert page.ask("POST", "/press", on, Cookie=cookie).status == 403
    assert page.ask("POST", "/press", on, Cookie=cookie.replace("-look=", "-press=")).status == 401


@pytest.mark.usefixtures("on")
@pytest.mark.parametrize("body", [
    b"", b"on", b"{", b"[]", b"null", b'"on"', b"{}", b'{"seen": 1, "deed": "on"}', b'{"deed": "on"}',
    b'{"seen": "%s"}', b'{"seen": "%s", "deed": 1}', b'{"seen": "%s", "deed": null}',
    b'{"seen": "%s", "deed": "on", "at": "0"}', b'{"seen": "%s", "deed": "on", "at": true}',
    b'{"seen": "%s", "deed": "on", "answer": 1}', b'{"seen": "%s", "answer": []}',
    b'{"seen": "%s", "deed": "on", "x": 1}', b'{"seen": "%s", "answer": 1.5}', b"\xff\xfe", b"[" * 8000,
])
def test_a_body_that_is_no_press_is_a_bad_request(page: AtPage, body: bytes) -> None:
    sent = body.replace(b"%s", page.state["seen"].encode())
    assert page.ask("POST", "/press", sent).status == 400


@pytest.mark.usefixtures("on")
@pytest.mark.parametrize("press", [
    {"deed": "no such"}, {"deed": "leave"}, {"deed": "alone"}, {"deed": "on", "at": 0}, {"at": 0}, {"answer": None},
    {"answer": True}, {"deed": "_on"}, {"deed": ""},
])
def test_what_cannot_be_done_at_the_needles_is_a_bad_request(page: AtPage, press: dict[str, Any]) -> None:
    assert page.post({"seen": page.state["seen"], **press}).status == 400


@pytest.mark.parametrize(("headers", "status"), [
    ({"Content_Type": None}, 400), ({"Content_Type": "text/plain"}, 400),
    ({"Content_Type": "application/x-www-form-urlencoded"}, 400), ({"Content_Length": "many"}, 400),
    ({"Content_Length": "-1"}, 400), ({"Transfer_Encoding": "chunked", "Content_Length": None}, 400),
    ({"Content_Length": "8193"}, 413), ({"Content_Length": "9" * 30}, 413),
])
def test_a_press_says_what_it_is_and_how_long(
    page: AtPage, on: bytes, headers: dict[str, str | None], status: int
) -> None:
    assert page.ask("POST", "/press", on, **headers).status == status


def test_too_long_a_press_is_told_so_though_it_is_still_being_sent(page: AtPage, on: bytes) -> None:
    assert page.ask("POST", "/press", on + b" " * 300_000).status == 413


@pytest.mark.parametrize("target", [
    "/favicon.ico", "/index.html", "/press/", "/../progress", "/%2e%2e/", "/chart?part=1", "/chart?part=-1", "/chart",
    "/chart?part=x", "/News", "http://harbour.example/", "*",
])
def test_what_is_not_there_is_not_found(page: AtPage, target: str) -> None:
    answer = page.ask("GET", target)
    assert (answer.status, answer.body) == (404, b"There is nothing here.\n")


@pytest.mark.parametrize(("method", "target", "allowed"), [
    ("GET", "/press", "POST"), ("POST", "/", "GET"), ("POST", "/news", "GET"), ("PUT", "/press", "POST"),
    ("DELETE", "/", "GET"), ("OPTIONS", "/press", "POST"), ("HEAD", "/", "GET"), ("TRACE", "/", "GET"),
    ("on", "/", "GET"),
])
def test_what_is_asked_for_in_another_way_is_not_allowed(
    page: AtPage, method: str, target: str, allowed: str
) -> None:
    answer = page.ask(method, target)
    assert (answer.status, answer.headers["Allow"]) == (405, allowed)


@pytest.mark.parametrize(("sent", "status"), [
    (b"\r\n\r\n", b""), (b"<script>\r\n\r\n", b"400"), (b"GET / HTTP/9.9\r\n\r\n", b"505"),
    (b"GET / HTTP/1.1 <script>\r\n\r\n", b"400"), (b"GET /" + b"x" * 70_000 + b" HTTP/1.1\r\n\r\n", b"414"),
    (b"GET / HTTP/1.1\r\nX: " + b"x" * 70_000 + b"\r\n\r\n", b"431"),
    (b"GET / HTTP/1.1\r\n" + b"X: x\r\n" * 101 + b"\r\n", b"431"), (b"GET / HTTP/1.1\r\n\r\n", b"421"),
    (b"GET /\r\n\r\n", b"421"), (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", b"400"),
])
def test_what_is_no_request_is_refused_without_an_echo(page: AtPage, sent: bytes, status: bytes) -> None:
    came = page.raw(sent)
    assert came.removeprefix(b"HTTP/1.0 ")[:len(status)] == status
    assert b"script" not in came
    assert b"xxx" not in came


def test_no_answer_tells_more_than_it_must(page: AtPage) -> None:
    for target in ("/", "/chart?part=0", "/nothing"):
        headers = page.ask("GET", target).headers
        assert headers["Server"] == "Rowside"
        assert headers["Cache-Control"] == "no-store"
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert headers["Content-Security-Policy"].startswith("default-src 'none'; frame-ancestors 'none'")
        assert "Access-Control-Allow-Origin" not in headers


def test_the_cookie_is_for_this_page_alone(page: AtPage) -> None:
    cookie = page.ask("GET", f"/?token={page.token}", Cookie=None).headers["Set-Cookie"]
    name, *rest = cookie.split("; ")
    assert name == f"rowside-{page.server.port}-press={page.token}"
    assert rest == ["Path=/", "Max-Age=5184000", "HttpOnly", "SameSite=Strict"]


def test_a_page_that_is_behind_presses_nothing_and_is_told_what_is_so(home: Path, page: AtPage) -> None:
    older = page.state["seen"]
    page.press(deed="on")
    before = on_disk(home)
    for seen in (older, "", "another-1"):
        answer = page.post({"seen": seen, "deed": "on"})
        assert (answer.status, answer.data) == (409, page.state)
    assert on_disk(home) == before
    page.press(deed="back")


def test_who_asks_slowly_or_says_nothing_keeps_nobody_waiting_and_is_let_go(
    page: AtPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Slow requests keep a simple server busy for as long as they like. As long as they may last for ever others are
    heard beside them; those that may last for a moment are let go by themselves."""
    with monkeypatch.context() as moment:
        moment.setattr(server, "READ_WITHIN", float("inf"))
        lasting = slow(page, 10)
        until(lambda: {one.getsockname() for one in lasting} <= {*heard_of(page)}, "the server hears of them")
    page.press(deed="on")
    page.press(deed="back")
    with monkeypatch.context() as moment:
        moment.setattr(server, "READ_WITHIN", 0.3)
        short = slow(page, 10)
        until(lambda: sum(map(is_let_go, short)) == len(short), "a byte now and then does not help")
    assert [one for one in lasting if is_let_go(one)] == []
    assert page.news() == page.state
    for one in lasting:
        one.close()


def slow(page: AtPage, number: int) -> list[socket.socket]:
    """So many who say nothing, or not all of what they ask."""
    found = [socket.create_connection(("127.0.0.1", page.server.port), timeout=PATIENCE) for _ in range(number)]
    for at, one in enumerate(found):
        one.sendall(b"" if at % 2 else b"POST /press HTTP/1.1\r\nContent-Le")
    return found


def heard_of(page: AtPage) -> Iterator[object]:
    """The addresses of all whom the server hears."""
    for one in [*page.server.connected]:
        with suppress(OSError):  # it is closed
            yield one.getpeername()


def is_let_go(one: socket.socket) -> bool:
    """Whether the server has closed a connection over which it is sent another byte."""
    if one.fileno() == -1:
        return True
    try:
        one.sendall(b"x")
        one.settimeout(0.02)
        if not one.recv(1):
            one.close()
    except TimeoutError:
        return False
    except OSError:
        one.close()
    return one.fileno() == -1


def test_who_was_heard_may_listen_for_longer_than_a_request_may_take(
    page: AtPage, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For a request there is as little time as this machine needs for one."""
    for within in (0.05, 0.5, 5.0):
        with monkeypatch.context() as moment:
            moment.setattr(server, "READ_WITHIN", within)
            news = page.listen()
            if next(news, None):
                break
    time.sleep(2 * within + 0.1)
    page.press(deed="on")
    assert next(news) == page.state
    page.press(deed="back")
    news.close()  # type: ignore[attr-defined]  # it is a generator


def test_of_too_many_at_once_the_last_are_not_heard(page: AtPage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server, "MOST_CONNECTIONS", len(page.server.connected) + 3)
    crowd = [socket.create_connection(("127.0.0.1", page.server.port), timeout=PATIENCE) for _ in range(5)]
    assert crowd[-1].recv(1) == b""
    for one in crowd:
        one.close()


def test_who_keeps_many_listening_shuts_nobody_out(page: AtPage, monkeypatch: pytest.MonkeyPatch) -> None:
    """The one that listens longest is let go, and again and again there is room for another."""
    monkeypatch.setattr(server, "LOOKED", 0.02)
    monkeypatch.setattr(server, "MOST_LISTENING", 3)
    monkeypatch.setattr(server, "MOST_CONNECTIONS", len(page.server.connected) + 6)
    crowd = [page.listen() for _ in range(3)]
    assert [next(one) for one in crowd] == [page.state] * 3
    for _ in range(8):
        crowd.append(page.listen())
        assert next(crowd[-1]) == page.state
        with pytest.raises(StopIteration):
            next(crowd.pop(0))
    page.press(deed="on")
    assert [next(one) for one in crowd] == [page.state] * 3
    page.press(deed="back")
    for one in crowd:
        one.close()  # type: ignore[attr-defined]  # it is a generator


def test_who_waits_for_news_is_sent_an_empty_line_now_and_then(page: AtPage, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that one who is gone is found out."""
    monkeypatch.setattr(server, "LOOKED", 0.01)
    monkeypatch.setattr(server, "QUIET", 0.1)
    start = time.monotonic()
    news = page.listen()
    assert next(news) == page.state
    with pytest.raises(AssertionError, match="no news for a long time"):
        next(news)
    assert time.monotonic() - start >= 0.1


def test_of_those_who_listen_one_of_the_address_with_the_most_is_let_go() -> None:
    with server.PageServer("127.0.0.1", 0, new_tokens(), Turns()) as house, ExitStack() as open_ones:
        sockets = [open_ones.enter_context(socket.socket()) for _ in range(server.MOST_LISTENING + 2)]
        house.listen(sockets[0], "192.0.2.1")
        for one in sockets[1:]:
            house.listen(one, "192.0.2.2")
        assert list(house.listening) == [sockets[0], *sockets[3:]]
        house.listening.clear()
