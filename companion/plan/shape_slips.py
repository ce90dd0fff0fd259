"""Words that shape nothing: what is told of them at the first one that is not understood, or of what is missing."""

from __future__ import annotations

import re

from companion.plan.edge_words import EVEN_TO_ROW, VERB, verb_of
from companion.plan.phrases import NUMBERS, ORDINALS, Amiss, Phrases
from companion.problems import nearest, quoted

_VERBS = ("bind off", "cast off", "cast on", "decrease", "increase", "work")
_KNOWN = frozenset(re.findall(
    r"\w+",
    "bo co dec decrease inc increase bind cast off on work continue cont even straight plain without shaping any all "
    "st sts stitch stitches at the beg beginning start end ends each both edge edges side sides right left hand "
    "of in next following foll this these every other alt alternate row rows round rounds rnd rnds rs ws wrong "
    "for over times time once twice thrice more until to there are you have only rem remain remaining and then "
    "needle needles neck inner inside front outer outside armhole part parts join joined joining casting between "
    "them middle centre center central half halves holder leave hold keep put place slip a onto their two",
)).union(NUMBERS, ORDINALS)  # fmt: skip
_WORD = re.compile(r"[^\W\d_]\w*")
_SUCH = 'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'


def why_not(words: Phrases) -> Amiss:
    """Why nothing can be read here: a word that is not known, or what is missing."""
    at = words.here
    if words.look(rf"{VERB}[^.;]*\b(?:evenly|spaced|across)\b"):
        what = "Stitches come and go at the edges of rows, and are not spread over one."
        return Amiss(at, what, 'Such as "dec 1 at each end of every RS row 3 times".')
    if odd := strange(words):
        return odd
    if (verb := words.may(VERB)) is None:
        near = nearest(" ".join(words.text[at:words.end].split()[:2]), _VERBS)
        mend = f'Did you mean "{near}"?' if near else _SUCH
        return Amiss(at, f"{quoted(words.rest())} is not understood here.", mend)
    which = verb_of(verb[0])
    done = {"bind off": "bound off", "cast on": "cast on", "dec": "decreased", "inc": "increased"}[which]
    if which in ("bind off", "cast on") and not words.look(r"\d|" + r"\b|".join(NUMBERS)):
        return Amiss(at, f"It is not said how many stitches are {done}.", f"Such as: {verb[0].lower()} 3 sts ...")
    what = f"It is not said at which edge stitches are {done}."
    return Amiss(at, what, 'Such as "at the beginning", "at each end", "at the left edge".')


def even_to_row(words: Phrases, done: int) -> Amiss | None:
    """Why "work even to row 20" is not taken, and what is, if that stands here; so many rows are ``done``."""
    found = words.look(EVEN_TO_ROW)
    if found is None:
        return None
    row = words.number(found[1])
    if row <= done:
        return Amiss(words.here, f"Row {row:,} of the section is worked already.", "Mend the number.")
    what = f"Even rows are told by how many they are, not by the row to which they go: {quoted(found[0])}."
    rows = f"{row - done:,} row{'s' * (row - done > 1)}"
    return Amiss(words.here, what, f'Write "work {rows} even", and row {row:,} of the section is the last of them.')


def strange(words: Phrases) -> Amiss | None:
    """The first word from here on that is none of the trade's words for shaping."""
    for found in _WORD.finditer(words.text, words.here, words.end):
        word = found[0]
        is_digits = words.text[found.start() - 1:found.start()].isdigit()  # "4th", "3x"
        if word.casefold() not in _KNOWN and not is_digits:
            near = nearest(word, _KNOWN)
            mend = f'Did you mean "{near}"?' if near else _SUCH
            return Amiss(found.start(), f"{quoted(word)} is not understood here.", mend)
    return None
