"""What a browser asks for, and every reason to refuse it. Text of a request is data: none of it is sent back."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from email.message import Message
from urllib.parse import parse_qs, urlsplit

from companion.knitting.value import Record
from companion.page.address import Role, Tokens
from companion.page.turns import Press

METHODS: Mapping[str, str] = {"/": "GET", "/news": "GET", "/chart": "GET", "/press": "POST"}
"""What there is, and how it is asked for."""

MOST_BYTES = 8_192
"""Of a press; an answer has 500 characters at most."""


class Refused(Exception):
    """Nothing is done and nothing shown. ``status``: RFC 9110; ``why`` in a sentence."""

    def __init__(self, status: int, why: str) -> None:
        super().__init__(why)
        self.status, self.why = status, why


class House(Record):
    """Where the page is at home: the names by which it may be called, each with its port, and the tokens."""

    hosts: Collection[str]
    tokens: Tokens
    cookie: str

    def cookie_of(self, role: Role) -> str:
        """The name of the cookie that holds a role's token."""
        return f"{self.cookie}-{role}"


class Asked(Record):
    """One request that is let in: ``path``, its ``query``, what its sender may do, and the token where it stood in
    the address."""

    path: str
    query: Mapping[str, str]
    role: Role
    token: str


def let_in(method: str, target: str, headers: Message, house: House) -> Asked:
    """What is asked for.

    Raises:
        Refused: it is asked under another name, of what is not there, in another way, from another site, or by one
            who has no token.
    """
    if headers.get_all("Host", []) not in [[host] for host in house.hosts]:
        # A name that leads here and belongs to somebody else: DNS rebinding. 421 is RFC 9110, 15.5.20.
        raise Refused(421, "This page is not served under that name. Open the address that the program prints.")
    try:
        parts = urlsplit(target)
        found = parse_qs(parts.query, keep_blank_values=True, max_num_fields=4)
    except ValueError:
        raise Refused(400, "That is no address.") from None
    query = {key: values[0] for key, values in found.items()}
    if parts.netloc or parts.path not in METHODS:
        raise Refused(404, "There is nothing here.")
    if method != METHODS[parts.path]:
        raise Refused(405, "That is not done here.")
    _check_site(method, headers, house)
    token = query.get("token", "") if parts.path == "/" else ""
    role = house.tokens.role(token) if token else _role_of_cookies(headers, house)
    if role is None:
        raise Refused(401, "Open the whole address that the program prints, with its token.")
    if method == "POST" and role != "press":
        raise Refused(403, "This page is to look at.")
    return Asked(parts.path, query, role, token)


def _check_site(method: str, headers: Message, house: House) -> None:
    """Presses come from this page; and no other site's script gets at anything (W3C, Fetch Metadata)."""
    origins = headers.get_all("Origin", [])
    own = [[f"http://{host}"] for host in house.hosts]
    is_foreign = origins not in own if method == "POST" or origins else False
    site, mode = headers.get("Sec-Fetch-Site", "same-origin"), headers.get("Sec-Fetch-Mode", "navigate")
    if is_foreign or (site not in ("same-origin", "none") and mode != "navigate"):
        raise Refused(403, "Another site may not do that.")


def _role_of_cookies(headers: Message, house: House) -> Role | None:
    """What the tokens in the cookies let one do; the most of it."""
    found = dict[str, str]()
    for line in headers.get_all("Cookie", []):
        for pair in line.split(";"):
            name, _, value = pair.strip().partition("=")
            found[name] = value
    roles: tuple[Role, ...] = ("press", "look")
    return next((role for role in roles if house.tokens.role(found.get(house.cookie_of(role), "")) == role), None)


def length_of(headers: Message) -> int:
    """How many bytes a press has.

    Raises:
        Refused: that is not said, too much, or it is no JSON.
    """
    lengths, kind = headers.get_all("Content-Length", []), headers.get_content_type()
    if headers.get("Transfer-Encoding") or len(lengths) != 1 or not (lengths[0].isascii() and lengths[0].isdigit()):
        raise Refused(400, "A press says how long it is.")
    if len(lengths[0]) > 9 or int(lengths[0]) > MOST_BYTES:
        raise Refused(413, "That is too long for a press.")
    if kind != "application/json":
        raise Refused(400, "A press is JSON.")
    return int(lengths[0])


def press_in(body: bytes) -> Press:
    """The press that a body holds.

    Raises:
        Refused: it holds none.
    """
    try:
        data = json.loads(body.decode("utf-8"))
    except (ValueError, RecursionError):
        raise Refused(400, "A press is JSON.") from None
    if not isinstance(data, dict) or not data.keys() <= {"seen", "deed", "at", "answer"}:
        raise Refused(400, "That is no press.")
    seen, deed, at, answer = (data.get(key) for key in ("seen", "deed", "at", "answer"))
    is_answer, is_deed = "answer" in data, deed is not None or at is not None
    is_sound = isinstance(deed, str | None) and type(at) in (int, type(None)) and isinstance(answer, str | int | None)
    if not isinstance(seen, str) or not is_sound or is_answer == is_deed or deed == "":
        raise Refused(400, "That is no press.")
    return Press(seen, deed or "", at, answer, is_answer)
