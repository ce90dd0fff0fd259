"""Where a piece is served, and the two tokens that open its page: kept for each plan, so that a page that is open
goes on after a new start. Whoever has the first one may press; whoever has the second one may look.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Literal

from companion.knitting.value import Record

Role = Literal["press", "look"]

HERE = "127.0.0.1"
"""This computer alone."""

_LENGTH = 32
"""Characters of a token, of 128 bits (more than the 64 that OWASP's Session Management Cheat Sheet asks for)."""


class Tokens(Record):
    """Those of a page, and the port at which it was served; 0: at none yet."""

    press: str
    look: str
    port: int = 0

    def role(self, token: str) -> Role | None:
        """What may be done by one who has this token."""
        from hmac import compare_digest

        given = token.encode("utf-8", "replace")
        if compare_digest(given, self.press.encode()):
            return "press"
        return "look" if compare_digest(given, self.look.encode()) else None


def new_tokens() -> Tokens:
    """Two that nobody can guess."""
    return Tokens(os.urandom(_LENGTH // 2).hex(), os.urandom(_LENGTH // 2).hex())


def file_for(folder: Path, plan: Path, name: str | None, host: str) -> Path:
    """The file in which those of a plan's piece are kept."""
    named = "\0".join((os.path.realpath(plan), name or "", host))
    return folder / f"{sha256(named.encode('utf-8', 'surrogateescape')).hexdigest()[:24]}.json"


def kept(file: Path) -> Tokens:
    """Those of the file; new ones where it has none or is no regular one, or where others could have read or written
    it."""
    with suppress(OSError, ValueError, TypeError, KeyError):
        if not file.is_file():  # to open a pipe is to wait for somebody who writes into it
            return new_tokens()
        with open(file, encoding="ascii") as opened:
            state = os.fstat(opened.fileno())
            is_private = os.name != "posix" or (state.st_mode & 0o077 == 0 and state.st_uid == os.getuid())
            found = json.loads(opened.read(1000))
        tokens = Tokens(found["press"], found["look"], found["port"])
        if is_private and _are_sound(tokens):
            return tokens
    return new_tokens()


def _are_sound(tokens: Tokens) -> bool:
    texts = tokens.press, tokens.look
    return (
        all(isinstance(text, str) and len(text) == _LENGTH for text in texts) and tokens.press != tokens.look
        and type(tokens.port) is int and 0 < tokens.port < 65536
    )


def keep(file: Path, tokens: Tokens) -> None:
    """Write them to the file, for its owner alone; where that cannot be done, a new start has new ones."""
    beside = file.with_suffix(f".{os.getpid()}")
    with suppress(OSError):
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with suppress(FileNotFoundError):
            beside.unlink()
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as opened:
            json.dump(tokens._asdict(), opened)
        os.replace(beside, file)


def in_address(host: str) -> str:
    """A host as it stands in an address: one of IPv6 in brackets (RFC 3986, 3.2.2)."""
    return f"[{host}]" if ":" in host else host
