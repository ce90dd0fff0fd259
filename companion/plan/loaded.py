"""What reading a plan gives, and a plan read by a process of its own while this one does something else."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import field
from pathlib import Path
from typing import TYPE_CHECKING

from companion.knitting.piece import Piece
from companion.knitting.value import Value
from companion.problems import Problem

if TYPE_CHECKING:
    from companion.knitting.cloth.fabric import Stitch
    from companion.plan.drawing import Drawing, Fixed
    from companion.plan.shaped import LineTold


class Loaded(Value, has_defaults=True):
    """A plan read: the piece, the text it was read from, and the text of every file drawn in, by its name there.
    ``symbols``: each with its yarn, ``stitches``: each with its stitch; ``drawings``: where stitches stand one by one
    in the text, ``fixed``: where they do not. ``is_as_drawn``: a sign changed there changes that one stitch alone.
    ``shapes``: lines of words that shape sections, and what lies behind each. ``size``: the one in which it was read,
    of the ``sizes`` that the plan has; "" and () where it is of one."""

    piece: Piece
    text: str
    files: Mapping[str, str]
    warnings: tuple[Problem, ...] = ()
    symbols: Mapping[str, str] = field(default_factory=dict)
    drawings: tuple[Drawing, ...] = ()
    stitches: Mapping[str, Stitch] = field(default_factory=dict)
    fixed: tuple[Fixed, ...] = ()
    is_as_drawn: bool = False
    shapes: tuple[LineTold, ...] = ()
    size: str = ""
    sizes: tuple[str, ...] = ()


def load_beside(path: Path, meanwhile: Callable[[], object]) -> Loaded:
    """The plan in this file: its piece, its text and its files alone.

    What reads plans takes as long to load as half a screen. A process of its own loads it, and reads the plan, while
    ``meanwhile`` is done in this one. Where the system makes none of that kind, or the plan has something to mend, it
    is read here afterwards.

    Raises:
        Problems: everything that is wrong with it, by line.
    """
    begun = _begin(path) if hasattr(os, "fork") else None
    meanwhile()
    if begun is not None and (loaded := _end(*begun)) is not None:
        return loaded
    from companion.plan.read import load

    return load(path)


def _begin(path: Path) -> tuple[int, int] | None:
    """The process that reads the plan, and where its answer comes from."""
    reading, writing = os.pipe()
    try:
        process = os.fork()
    except OSError:
        os.close(reading)
        os.close(writing)
        return None
    if process:
        os.close(writing)
        return process, reading
    try:
        os.close(reading)
        _answer(path, writing)
    finally:
        os._exit(0)  # nothing of what this process is a copy of is ended twice


def _answer(path: Path, to: int) -> None:
    from companion.plan.packed import pack_read
    from companion.plan.read import load

    loaded = load(path)
    with os.fdopen(to, "wb") as stream:
        stream.write(pack_read(loaded.piece, loaded.text, loaded.files))


def _end(process: int, answer: int) -> Loaded | None:
    """What the process read; None: it could not, and whoever reads the plan again is told why."""
    from companion.plan.packed import unpack_read

    with os.fdopen(answer, "rb") as stream:
        told = stream.read()
    os.waitpid(process, 0)
    try:
        return Loaded(*unpack_read(told))
    except ValueError:
        return None
