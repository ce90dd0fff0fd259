"""What is said of what somebody else did to the piece; of a step that goes on the step itself says enough."""

from __future__ import annotations

from companion.dialogue.telling import plan_says
from companion.knitting.words import watching as words
from companion.progress import events as did
from companion.progress.following import News


def what_happened(news: News, name: str) -> str:
    """The sentences for it. ``name``: what the piece was called."""
    if news.is_gone:
        return words.GONE
    said = [words.READ_ANEW] if news.is_anew else []
    if news.card.name != name:
        said.append(words.called(news.card.name))
    for event in news.step[1] if news.step else ():
        match event:
            case did.WentBack():
                said.append(words.TAKEN_BACK)
            case did.Unpicked():
                said.append(words.UNPICKED)
            case did.RippedBack(row):
                said.append(words.ripped_back(row, news.session.rows))
            case did.Mistook() | did.MissedCross():
                said.append(words.MISTAKE)
            case did.Planned():
                said.append(words.PLANNED)
            case _:
                pass
    return " ".join([*dict.fromkeys(said), *filter(None, [plan_says(news.session) if news.step else ""])])
