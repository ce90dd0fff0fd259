"""The page as one HTML file: its style and its script are in it, and nothing of a piece: that comes as data."""

from __future__ import annotations

from functools import cache
from html import escape
from pathlib import Path

from companion.page.address import Role

HERE = Path(__file__).resolve().parent

ICON = (
    "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 8 8'%3E%3Cpath fill='%23b5533c' "
    "d='M0 0h4v8H0z'/%3E%3Cpath fill='%232f5d7c' d='M4 0h4v8H4z'/%3E%3C/svg%3E"
)
"""Two blocks of colour. A page without one has its browser ask for one."""


@cache
def _part(name: str) -> str:
    return (HERE / name).read_text(encoding="utf-8")


def document(nonce: str, role: Role, may: Role) -> str:
    """The page for one who looks or presses. ``nonce``: by which its own style and script are known; ``may``: what
    whoever asked for it has the token for."""
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>Rowside</title>'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f'<link rel="icon" href="{escape(ICON)}"><style nonce="{nonce}">{_part("style.css")}</style></head>'
        f'<body data-role="{role}" data-may="{may}">{_part("body.html")}'
        f'<script nonce="{nonce}">{_part("script.js")}</script></body></html>\n'
    )
