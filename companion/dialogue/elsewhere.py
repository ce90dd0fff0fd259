"""What each deed does away from the needles, in lists and before questions: the functions that the table names."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from companion.dialogue.questions import BEFORE, Asking, Choice, Find, Leave, Page, Submit, Words, show
from companion.dialogue.saying import SAYINGS

if TYPE_CHECKING:
    from companion.dialogue.basket import BasketList
    from companion.dialogue.ends import EndsList
    from companion.dialogue.keys_list import KeysList
    from companion.dialogue.listing import Listing
    from companion.dialogue.marking import Marking
    from companion.dialogue.painting import Painting
    from companion.dialogue.sitting import Sitting
    from companion.dialogue.techniques import TechniquesList


def settings(here: Sitting | BasketList) -> Asking[None]:
    """The list of settings; taken up when it is left."""
    from companion.dialogue.settings_list import SettingsList

    yield SettingsList(here.knitter)
    here.take_up_settings()


def light(here: Sitting | BasketList | Painting) -> None:
    """A dark screen, a light one, one of high contrast."""
    here.knitter.change_light()


def say(here: Sitting) -> None:
    """More or less is said at a change; it is told which."""
    here.knitter.change_say()
    here.notice = f"Said at a change: {SAYINGS[here.knitter.say]}."


def choose(listing: Listing) -> Asking[None] | None:
    """The line that is meant, where there is one that can be chosen."""
    return None if listing.meant is None else listing.choose()


def sort(listing: Listing) -> None:
    """Another order."""
    listing.sort()


def pages(step: int) -> Callable[[Listing], Asking[None]]:
    """Up or down a list."""
    return lambda _: show(Page(step))


def next_filter(ends: EndsList) -> None:
    """Other ends."""
    ends.next_filter()


def change_map(ends: EndsList) -> None:
    """The map in the list's place, or the list again."""
    ends.is_map = not ends.is_map


def every(techniques: TechniquesList) -> None:
    """Every combination, or those with names."""
    techniques.change_grid()


def new_piece(basket: BasketList) -> Asking[None] | None:
    """A new piece of the plan that is meant."""
    return basket.new_piece()


def make(basket: BasketList) -> Asking[None]:
    """A plan of her own, by questions."""
    return basket.make()


def look(basket: BasketList) -> Asking[None] | None:
    """The chart of what is meant."""
    return basket.look()


def draw(basket: BasketList) -> Asking[None] | None:
    """The plan that is meant on the drawing board."""
    return basket.draw()


def picture(here: Sitting | BasketList) -> Asking[None] | None:
    """The fabric of the piece as it will look, or of the plan or piece that is meant."""
    return here.picture()


def rename(basket: BasketList) -> Asking[None]:
    """The piece that is meant is called otherwise."""
    return basket.rename()


def remove(basket: BasketList) -> Asking[None]:
    """The piece that is meant is put away."""
    return basket.remove()


def bring_back(basket: BasketList) -> Asking[None]:
    """A piece that was put away comes back."""
    return basket.bring_back()


def add_key(keys: KeysList) -> Asking[None] | None:
    """One more key for what is meant."""
    return keys.add()


def usual_keys(keys: KeysList) -> None:
    """The usual keys for what is meant."""
    keys.usual()


def moving(up: int, left: int) -> Callable[[Marking], None]:
    """To another stitch."""
    return lambda marking: marking.move(up, left)


def mark(marking: Marking) -> None:
    """This stitch, or not."""
    marking.mark()


def marked(marking: Marking) -> Asking[None]:
    """That is all."""
    return show(Leave(marking.answer))


def answer(_: object) -> Asking[None]:
    """What stands there."""
    return show(Submit())


def before(here: object) -> Asking[None] | None:
    """The question before, where there is one."""
    return show(Leave(BEFORE)) if isinstance(here, Words | Choice) and here.goes_back else None


def keep_rest(here: object) -> Asking[None] | None:
    """What stands there and at all questions after it, where there are several."""
    return show(Submit(keeps_rest=True)) if isinstance(here, Words | Choice) and here.goes_back else None


def saying(said: bool) -> Callable[[object], Asking[None]]:
    """Yes, or no."""
    return lambda _: show(Leave(said))


def find(_: object) -> Asking[None]:
    """Whoever shows this place asks for one of its deeds, and does it."""
    return show(Find())
