"""The page over HTTP, by the standard library. Nobody who is slow, silent or many keeps the others waiting for long.

A connection carries one request, which must be whole within ``READ_WITHIN`` seconds.
"""

from __future__ import annotations

import errno
import os
import socket
import time
from contextlib import suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from socketserver import TCPServer
from threading import Lock
from typing import Any

from companion.knitting.piece import Piece
from companion.page.address import Tokens, in_address
from companion.page.asked import METHODS, Asked, House, Refused, length_of, let_in, press_in
from companion.page.chart import Part, drawn
from companion.page.document import document
from companion.page.opened import NotHere
from companion.page.turns import Behind, Gone, Turns

READ_WITHIN, WRITE_WITHIN = 10.0, 20.0
"""Seconds for a request to be whole, and for something that is sent to be taken."""

QUIET = 15.0
"""Seconds without news after which pages are sent a line without any, so that those that are gone are found."""

LOOKED = 1.0
"""Seconds after which who is told the news is looked at: whether it is quiet for long, whether its place is taken."""

MOST_CONNECTIONS, MOST_LISTENING = 96, 64
"""More at once are not heard; of those more that wait for news, the one that waits longest is let go."""

SAFE = {
    "Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin", "X-Frame-Options": "DENY",
}  # fmt: skip
"""What goes with every answer: nothing is stored, guessed, told to others or shown in their frames."""

POLICY = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"


class PageServer(ThreadingHTTPServer):
    """Serves what ``turns`` tell, at a host and port (0: whichever is free).

    Raises:
        OSError: it cannot be served there.
    """

    daemon_threads = True
    allow_reuse_address = os.name == "posix"  # elsewhere that lets two programs have one port

    def __init__(self, host: str, port: int, tokens: Tokens, turns: Turns) -> None:
        self.address_family = socket.AF_INET6 if ":" in host else socket.AF_INET
        self.turns = turns
        self.connected: dict[socket.socket, float] = {}
        """Until when each has to be read; many threads change it, so each change is one step."""
        self.listening = dict[socket.socket, str]()
        """Who is told the news, the longest first, with the address of each."""
        self._coming = Lock()
        self._drawing, self._pictures = Lock(), dict[Part, bytes]()
        super().__init__((host, port), Handler)
        self.port = self.server_address[1]
        names = {in_address(host)} | ({"localhost"} if host in ("127.0.0.1", "::1") else set())
        hosts = {f"{name}:{self.port}" for name in names} | (names if self.port == 80 else set())
        self.house = House(hosts, tokens, f"rowside-{self.port}")

    def server_bind(self) -> None:
        """As below, but for asking the network for the host's name, which takes long where there is none."""
        TCPServer.server_bind(self)
        self.server_name, self.server_port = str(self.server_address[0]), self.server_address[1]

    def process_request(self, request: Any, client_address: Any) -> None:
        """One more connection, while there are not too many."""
        if len(self.connected) >= MOST_CONNECTIONS:
            self.shutdown_request(request)
            return
        self.connected[request] = time.monotonic() + READ_WITHIN
        super().process_request(request, client_address)

    def shutdown_request(self, request: Any) -> None:
        """One connection less."""
        self.connected.pop(request, None)
        super().shutdown_request(request)

    def picture(self, piece: Piece, part: Part) -> bytes:
        """A chart as SVG, drawn once, however many ask for it."""
        with self._drawing:
            if part not in self._pictures:
                self._pictures = {part: "".join(drawn(piece, part)).encode()}
            return self._pictures[part]

    def is_read(self, request: Any) -> None:
        """It is whole."""
        self.connected[request] = float("inf")
        request.settimeout(WRITE_WITHIN)

    def listen(self, request: socket.socket, host: str) -> None:
        """One more is told the news. Where that are too many, of those of the address that has the most the one that
        was told them longest is let go: whoever keeps many open shuts nobody else out. Its browser asks anew."""
        with self._coming:
            hosts = list(self.listening.values())
            if len(hosts) >= MOST_LISTENING:
                most = max(hosts, key=hosts.count)
                self.listening.pop(next(one for one, at in list(self.listening.items()) if at == most), None)
            self.listening[request] = host

    def service_actions(self) -> None:
        """Twice a second: let go of those who take too long to ask."""
        now = time.monotonic()
        for request, until in list(self.connected.items()):
            if until < now:
                with suppress(OSError):
                    request.shutdown(socket.SHUT_RDWR)

    def wait_for_last(self, patience: float) -> None:
        """Until those who listen to the news have heard that it is over, or so many seconds have passed."""
        until = time.monotonic() + patience
        while self.listening and time.monotonic() < until:
            time.sleep(0.01)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Somebody went away, or what was asked could not be answered: nothing that the knitter has to know."""


class Handler(BaseHTTPRequestHandler):
    """One request."""

    server: PageServer
    timeout = READ_WITHIN

    def do_GET(self) -> None:
        """The page, its news, its chart."""
        self._answer_with(self._get)

    def do_POST(self) -> None:
        """A press."""
        self._answer_with(self._post)

    def _answer_with(self, answer: Any) -> None:
        try:
            answer(let_in(self.command, self.path, self.headers, self.server.house))
        except Refused as refused:
            self._refuse(refused.status, refused.why)

    def _get(self, asked: Asked) -> None:
        self.server.is_read(self.connection)
        if asked.path == "/news":
            self._tell_news()
        elif asked.path == "/chart":
            self._send_chart(asked.query.get("part", ""))
        else:
            nonce = os.urandom(16).hex()
            policy = (
                f"{POLICY}; script-src 'nonce-{nonce}'; style-src 'nonce-{nonce}'; connect-src 'self'; "
                "img-src 'self' data:"
            )
            role = "look" if "view" in asked.query else asked.role
            more = {"Content-Security-Policy": policy}
            if asked.token:
                name, day = self.server.house.cookie_of(asked.role), 86_400
                more["Set-Cookie"] = f"{name}={asked.token}; Path=/; Max-Age={60 * day}; HttpOnly; SameSite=Strict"
            self._send(200, "text/html; charset=utf-8", document(nonce, role, asked.role).encode(), **more)

    def _send_chart(self, part: str) -> None:
        state = self.server.turns.state
        is_there = part.isascii() and part.isdigit() and len(part) < 4 and int(part) < len(state.charts)
        if state.piece is None or not is_there:
            raise Refused(404, "There is nothing here.")
        picture = self.server.picture(state.piece, state.charts[int(part)])
        policy = f"{POLICY}; style-src 'unsafe-inline'; sandbox"
        self._send(200, "image/svg+xml; charset=utf-8", picture, **{"Content-Security-Policy": policy})

    def _post(self, asked: Asked) -> None:
        length = length_of(self.headers)
        press = press_in(self.rfile.read(length))
        self.server.is_read(self.connection)
        turns, status = self.server.turns, 200
        try:
            state = turns.press(press)
        except Behind:
            state, status = turns.state, 409
        except NotHere as reason:
            raise Refused(400, str(reason)) from None
        except Gone:
            raise Refused(410, "The piece is left; everything is saved.") from None
        self._send(status, "application/json", state.data)

    def _tell_news(self) -> None:
        """Every state as an event (WHATWG, HTML, server-sent events), until nobody listens."""
        self._head(200, "text/event-stream", {})
        self.wfile.write(b"retry: 1000\n\n")
        seen, is_over, told = "", False, time.monotonic()
        self.server.listen(self.connection, str(self.client_address[0]))
        try:
            while not is_over and self.connection in self.server.listening:
                state = self.server.turns.after(seen, LOOKED)
                if state is None and time.monotonic() - told < QUIET:
                    continue
                self.wfile.write(b"data: " + state.data + b"\n\n" if state else b":\n\n")
                seen, is_over = (state.seen, state.is_over) if state else (seen, False)
                told = time.monotonic()
        finally:
            self.server.listening.pop(self.connection, None)

    def _refuse(self, status: int, why: str) -> None:
        more = {"Allow": METHODS.get(self.path.partition("?")[0], "GET")} if status == 405 else {}
        self._send(status, "text/plain; charset=utf-8", f"{why}\n".encode(), **more)
        if self.command not in ("GET", "HEAD"):
            self._hear_out()

    def _hear_out(self) -> None:
        """Take what else is sent, within bounds: who is cut off in mid-sentence does not hear the answer."""
        self.wfile.flush()
        with suppress(OSError):
            self.connection.shutdown(socket.SHUT_WR)
            self.connection.settimeout(0.5)
            for _ in range(64):
                if not self.connection.recv(1 << 16):
                    break

    def _send(self, status: int, kind: str, body: bytes, **more: str) -> None:
        self._head(status, kind, {"Content-Length": str(len(body)), **more})
        self.wfile.write(body)

    def _head(self, status: int, kind: str, more: dict[str, str]) -> None:
        self.request_version = self.protocol_version  # to those who ask without one, too, an answer has its head
        self.send_response(status)
        for name, value in ({"Content-Type": kind, "Content-Security-Policy": POLICY} | SAFE | more).items():
            self.send_header(name, value)
        self.end_headers()

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """What the standard library refuses by itself: no request, too long a line, too many, an unknown method."""
        status = 405 if code == 501 else int(code)
        self.path = getattr(self, "path", "/")
        self._refuse(status, "That is not done here." if status == 405 else "That is no request.")

    def version_string(self) -> str:
        """Who answers; not by which version of what."""
        return "Rowside"

    def log_message(self, format: str, *args: object) -> None:
        """Nobody reads it."""


def is_taken(error: OSError) -> bool:
    """Whether somebody else is served at that port."""
    return error.errno in (errno.EADDRINUSE, errno.EACCES)

