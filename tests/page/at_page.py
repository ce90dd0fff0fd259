"""A piece that is served, and what a browser asks of it, without a browser: real sockets, one program.

What a screen's keys are as presses of a page, ``as_presses`` tells.
"""

from __future__ import annotations

import http.client
import json
import socket
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import urlsplit

from companion.dialogue.finding import Finding
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.marking import Marking
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, Choice, Reading, Words, YesNo
from companion.dialogue.sitting import Sitting
from companion.page.address import new_tokens
from companion.page.opened import ON_SCREENS_ALONE, Tapper
from companion.page.server import PageServer
from companion.page.start import link
from companion.page.turns import Turns
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.patience import PATIENCE
from tests.screens.at_the_needles import SWATCH, shelf

Press = dict[str, Any]


class Answer:
    """What came back: ``status``, ``headers``, ``body``."""

    def __init__(self, status: int, headers: Mapping[str, str], body: bytes) -> None:
        self.status, self.headers, self.body = status, headers, body

    @property
    def data(self) -> Any:
        """The JSON in it."""
        return json.loads(self.body)


class AtPage:
    """A browser with the page open: ``state`` is what it shows."""

    server: PageServer
    look: str

    def __init__(self, port: int, token: str) -> None:
        self.port, self.host, self.token = port, f"127.0.0.1:{port}", token
        answer = self.ask("GET", f"/?token={self.token}")
        assert answer.status == 200
        self.cookie = answer.headers["Set-Cookie"].partition(";")[0]
        self.state: Any = self.news()

    @classmethod
    def of(cls, server: PageServer) -> AtPage:
        """The page of a server in this program."""
        tokens = server.house.tokens
        page = cls(server.port, tokens.press)
        page.server, page.look = server, link(server, tokens.look)
        return page

    @classmethod
    def at(cls, link: str) -> AtPage:
        """The page at an address that was printed."""
        parts = urlsplit(link)
        assert parts.port
        return cls(parts.port, parts.query.removeprefix("token="))

    @property
    def link(self) -> str:
        """Its first address."""
        return f"http://{self.host}/?token={self.token}"

    def ask(self, method: str, target: str, sent: bytes | None = None, **headers: str | None) -> Answer:
        """One request with these headers; None leaves out one that is usual."""
        usual = {"Host": self.host, "Cookie": getattr(self, "cookie", None)}
        if method == "POST":
            usual |= {"Origin": f"http://{self.host}", "Content-Type": "application/json"}
        given = usual | {name.replace("_", "-"): value for name, value in headers.items()}
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            connection.putrequest(method, target, skip_host=True, skip_accept_encoding=True)
            for name, value in given.items():
                if value is not None:
                    connection.putheader(name, value)
            if sent is not None and "Content-Length" not in given:
                connection.putheader("Content-Length", str(len(sent)))
            connection.endheaders(sent)
            reply = connection.getresponse()
            body = reply.read() if reply.getheader("Content-Length") else b""  # news have no end
            return Answer(reply.status, dict(reply.getheaders()), body)
        finally:
            connection.close()

    def raw(self, sent: bytes) -> bytes:
        """What comes back for these bytes, until the other side closes."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE) as connection:
            connection.sendall(sent)
            return b"".join(iter(lambda: connection.recv(1 << 16), b""))

    def listen(self, cookie: str | None = None) -> Iterator[Any]:
        """The news, state by state."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE) as connection:
            head = f"GET /news HTTP/1.1\r\nHost: {self.host}\r\nCookie: {cookie or self.cookie}\r\n\r\n"
            connection.sendall(head.encode())
            with connection.makefile("rb") as lines:
                for line in lines:
                    assert line != b":\n", "no news for a long time"
                    if line.startswith(b"data: "):
                        yield json.loads(line[6:])

    def news(self) -> Any:
        """What is so now."""
        listening = self.listen()
        try:
            return next(listening)
        finally:
            listening.close()  # type: ignore[attr-defined]  # it is a generator

    def post(self, press: Press) -> Answer:
        """Send a press as it is; nothing is made of the answer."""
        return self.ask("POST", "/press", json.dumps(press).encode())

    def press(self, **press: Any) -> Any:
        """Press on what is shown, and show what comes of it."""
        answer = self.post({"seen": self.state["seen"], **press})
        assert answer.status == 200, answer.body.decode()
        self.state = answer.data
        return self.state

    @property
    def asked(self) -> Any:
        """What is asked over the piece."""
        return self.state["asked"]

    @property
    def is_left(self) -> bool:
        """The piece is left."""
        return self.state["work"] is None


@contextmanager
def served(first: Asking[object], knitter: Knitter) -> Iterator[AtPage]:
    """A browser at what ``first`` opens, in a thread of its own as long as it lasts."""
    turns = Turns()
    with PageServer("127.0.0.1", 0, new_tokens(), turns) as server:
        opening = Thread(target=turns.run, args=(knitter, first))
        serving = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02})
        opening.start()
        serving.start()
        try:
            yield AtPage.of(server)
        finally:
            turns.stop()
            opening.join(PATIENCE)
            server.shutdown()
            serving.join(PATIENCE)
            assert not opening.is_alive()


@contextmanager
def page_of(home: Path, plan: Path = SWATCH, settings: Settings | None = None) -> Iterator[AtPage]:
    """The same at a plan's piece."""
    knitter = Tapper(settings)
    with served(open_plan(knitter, shelf(home), plan), knitter) as page:
        yield page


def as_presses(board: Keyboard, keys: Iterable[str]) -> Iterator[Press]:
    """Press keys one by one, and give the presses of a page that say the same. A deed that is found is named; one
    that is for screens alone, and moving to another line, is none."""
    for key in keys:
        press = _press_for(board, key)
        board.press(key)
        if press is not None:
            yield press


def _press_for(board: Keyboard, key: str) -> Press | None:
    top = board.top
    deed = next((one.name for one in board._deeds(top.where) if key in one.keys), "")
    match top.request:
        case Words() | Choice() if deed == "answer":
            return {"answer": top.field if isinstance(top.request, Words) else top.at}
        case Words() | Choice() | Reading() | Finding() if deed in ("leave_it", "put_away"):
            return {"answer": None}
        case YesNo() if deed in ("yes", "no"):
            return {"answer": deed == "yes"}
        case Finding() if deed == "choose":
            return {"found": _found(board)}
        case Words() | Choice() | Reading() | YesNo() | Finding():
            return None
        case Listing() if deed and deed not in ON_SCREENS_ALONE:
            return {"deed": deed} if deed == "leave" or not top.lines else {"deed": deed, "at": top.at}
        case Sitting() | Marking() if deed and deed not in ON_SCREENS_ALONE:
            return {"deed": deed}
    return None


def _found(board: Keyboard) -> str:
    """What is called the deed under the highlight of what was looked for."""
    finding = board.top.request
    assert isinstance(finding, Finding)
    return finding.table.rows[board.top.at][1].text


def play(page: AtPage, presses: Iterable[Press]) -> None:
    """Do these one after the other; a deed that is found is chosen by what it is called."""
    for press in presses:
        if "found" in press:
            title = f"{press['found']} ("
            at = next(line["at"] for line in page.asked["lines"] if line.get("text", "").startswith(title))
            press = {"deed": "choose", "at": at}
        page.press(**press)
