"""The one table of what a knitter can do, wherever she is: name, keys, words, when, and what it does.

Bindings, the key line and every foot line, help, README's table and a knitter's own key
map all derive from it; so will whatever else is to be pressed, typed or tapped.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from companion.dialogue import elsewhere, working
from companion.dialogue.deed import LISTS, Deed, Where
from companion.dialogue.painting_deeds import PAINTING_DEEDS
from companion.dialogue.working import doing, looking, scrolling
from companion.knitting.latest import latest
from companion.progress.actions import AtRow, Back, Note, On, Replan, RipBack, Unpick, WholeRow
from companion.settings import UsualKeys, own_keys

DEEDS: tuple[Deed, ...] = (
    Deed("on", ("space", "enter", "pagedown"), "On", "What is told now is done: a run, in row mode a row.",
         working.on, "on", On),
    Deed("back", ("backspace", "pageup"), "Back", "Take back the last action, whatever it was.",
         doing(Back()), "back", Back),
    Deed("row", ("w",), "Whole row", "Everything to the end of the row is done.",
         doing(WholeRow()), "whole row", WholeRow),
    Deed("mode", ("m",), "Runs or rows", "Change between one press a run and one press a row.",
         looking("is_row_mode", "is_alone"), "runs/rows"),
    Deed("alone", ("f",), "Far view", "The run in work alone on the screen, as large as it goes.",
         looking("is_alone", "is_chart_large", "is_row_mode")),
    Deed("say", ("b",), "Brief or full", "How much is said at a change of strands.", elsewhere.say),
    Deed("why", ("y",), "Why", "The reason for what the hands do now; and what the plan says of it.", working.why),
    Deed("unpick", ("u",), "Unpick", "The last run is undone on the needles.", doing(Unpick()), "unpick", Unpick),
    Deed("rip", ("r",), "Rip back", "Rows are undone on the needles, down to one you name.",
         working.rip, "rip", RipBack),
    Deed("at", ("g",), "I am at row ...", "Go forward to a row: all before it worked as planned.",
         working.at, "", AtRow),
    Deed("where", ("i",), "Where am I?", "Find the row by the runs that lie on the needle.", working.where),
    Deed("happened", ("x",), "Something happened", "A length ended, a strand joined after all, a mistake.",
         working.happened),
    Deed("note", ("n",), "Note", "Write a note on this row.", working.note, "note", Note),
    Deed("ends", ("e",), "Ends", "Every end, where it is and how it is woven in; the map of the back.",
         working.ends, "ends"),
    Deed("sew", ("d",), "Sewn on", "What is sewn on afterwards, each area with its chart; ticked off.", working.sew),
    Deed("strands", ("s",), "Strands", "Every strand, by place; will what is left of one last?",
         working.strands, "strands"),
    Deed("techniques", ("t",), "Techniques", "What each would cost from here on; work on with another.",
         working.techniques, "", Replan),
    Deed("chart", ("c",), "Chart", "The chart large, or the working screen again.",
         looking("is_chart_large", "is_alone"), "chart"),
    Deed("zoom", ("z",), "Near or far", "Draw the chart's stitches larger or smaller.", looking("is_far")),
    Deed("held", ("h",), "As held", "Show wrong-side rows as they are held, or as the right side looks.",
         looking("is_held")),
    Deed("scroll_up", ("up",), "Chart up", "Look further up the chart.", scrolling(0, 1)),
    Deed("scroll_down", ("down",), "Chart down", "Look further down the chart.", scrolling(0, -1)),
    Deed("scroll_left", ("left",), "Chart left", "Look further left on the chart.", scrolling(8, 0)),
    Deed("scroll_right", ("right",), "Chart right", "Look further right on the chart.", scrolling(-8, 0)),
    Deed("follow", ("home",), "Chart to the needles", "Bring the chart back to the row in work.", working.follow),
    Deed("choose", ("enter",), "Choose", "The line under the highlight.",
         elsewhere.choose, "choose", where=(*LISTS, "finding")),
    Deed("tick", ("space",), "Done, or not", "What is under the highlight is done, or is not after all.",
         elsewhere.choose, "done, or not", where=("ends", "sewing")),
    Deed("filter", ("f",), "Filter", "Other ends: on the fabric, ready, done, all.",
         elsewhere.next_filter, "filter", where=("ends",)),
    Deed("map", ("m",), "Map of the back", "The map in the list's place, where it has no room beside it.",
         elsewhere.change_map, "map of the back", where=("ends",)),
    Deed("every", ("g",), "Every combination", "Compare every combination of the usual limits, or those with names.",
         elsewhere.every, "every combination", where=("techniques",)),
    Deed("sort", ("o",), "Other order", "The lines by another column; after the last one as they lie.",
         elsewhere.sort, "other order", where=("ends", "sewing", "strands", "techniques")),
    Deed("new", ("n",), "New piece", "A new piece of the plan under the highlight.",
         elsewhere.new_piece, "begin anew", where=("basket",)),
    Deed("make", ("N",), "New plan", "A plan of your own: blank, or from a demo, a picture, a sheet, written rows.",
         elsewhere.make, "plan of your own", where=("basket",)),
    Deed("look", ("c",), "Look", "The chart of the plan or piece under the highlight; nothing is begun.",
         elsewhere.look, "look", where=("basket",)),
    Deed("draw", ("d",), "Draw", "The plan under the highlight on the drawing board, to be painted stitch by stitch.",
         elsewhere.draw, "draw", where=("basket",)),
    Deed("rename", ("r",), "Rename", "Another name for the piece under the highlight.",
         elsewhere.rename, "rename", where=("basket",)),
    Deed("remove", ("x", "delete"), "Out of the basket", "The piece is put away; its file is kept and can come back.",
         elsewhere.remove, "put away", where=("basket",)),
    Deed("bring_back", ("u",), "Back in the basket", "A piece that was put away comes back.",
         elsewhere.bring_back, "bring back", where=("basket",)),
    Deed("add_key", ("plus", "a"), "One more key", "A key beside those that it has.",
         elsewhere.add_key, "one more key", where=("keys",)),
    Deed("usual_keys", ("backspace", "delete"), "The usual keys", "Those that it has when nobody says otherwise.",
         elsewhere.usual_keys, "the usual ones", where=("keys",)),
    Deed("picture", ("p",), "Picture", "The fabric as it will look: either side, whole or round the needles.",
         elsewhere.picture, where=("work", "basket")),
    Deed("settings", ("comma",), "Settings", "Terms, hands, units and light, kept for every piece.",
         elsewhere.settings, where=("work", "basket")),
    Deed("light", ("l",), "Light or dark", "A dark screen, a light one, one of high contrast.",
         elsewhere.light, "light or dark", where=("work", "basket"), unlisted=True),
    Deed("help", ("question_mark", "f1"), "Help", "Everything that can be done here, with its key; type to find it.",
         elsewhere.find, "keys", where=("work", *LISTS, "drawing")),
    Deed("quit", ("q",), "Quit", "Stop here. Everything is saved already.", working.stop, "quit"),
    Deed("leave", ("escape", "q"), "Back", "Put the list away.", working.leave, "back", where=LISTS),
    Deed("page_up", ("pageup",), "A page up", "A page up in the list.",
         elsewhere.pages(-1), where=(*LISTS, "finding")),
    Deed("page_down", ("pagedown",), "A page down", "A page down in the list.",
         elsewhere.pages(1), where=(*LISTS, "finding")),
    Deed("mark_left", ("left",), "A stitch left", "To the stitch on the left.",
         elsewhere.moving(0, 1), "move", where=("marking",)),
    Deed("mark_right", ("right",), "A stitch right", "To the stitch on the right.",
         elsewhere.moving(0, -1), "move", where=("marking",)),
    Deed("mark_up", ("up",), "A row up", "To the row above.", elsewhere.moving(1, 0), "move", where=("marking",)),
    Deed("mark_down", ("down",), "A row down", "To the row below.",
         elsewhere.moving(-1, 0), "move", where=("marking",)),
    Deed("mark_far_up", ("pageup",), "Eight rows up", "To the row eight above.",
         elsewhere.moving(8, 0), where=("marking",)),
    Deed("mark_far_down", ("pagedown",), "Eight rows down", "To the row eight below.",
         elsewhere.moving(-8, 0), where=("marking",)),
    Deed("mark", ("space",), "Wrong, or not", "This stitch is wrong, or is not.",
         elsewhere.mark, "wrong, or not", where=("marking",)),
    Deed("marked", ("enter",), "That is all", "Those marked are wrong, or this one where none is.",
         elsewhere.marked, "that is all", where=("marking",)),
    Deed("answer", ("enter",), "Answer", "What stands there is the answer.",
         elsewhere.answer, "answer", where=("question",)),
    Deed("before", ("f2",), "The question before", "Of several questions the one before; its answer is kept.",
         elsewhere.before, "the question before", where=("question",)),
    Deed("keep_rest", ("f3",), "Keep the rest", "Of several questions this one and all after it are answered with "
         "what stands there.", elsewhere.keep_rest, "keep the rest", where=("question",)),
    Deed("leave_it", ("escape",), "Leave it", "No answer: all stays as it is.",
         working.leave, "leave it", where=("marking", "question", "finding")),
    Deed("yes", ("y",), "Yes", "Do it.", elsewhere.saying(True), "yes", where=("yes or no",)),
    Deed("no", ("n", "escape"), "No", "All stays as it is.", elsewhere.saying(False), "no", where=("yes or no",)),
    Deed("put_away", ("escape", "q", "question_mark", "f1", "enter", "space"), "Put away", "It is read.",
         working.leave, "put away", where=("reading",)),
    Deed("palette", ("ctrl+p",), "Find an action", "The same as help, also where letters are typed.",
         elsewhere.find, where=("anywhere",)),
    *PAINTING_DEEDS,
)

USUAL = {deed.name: UsualKeys(deed.title, deed.keys, deed.where) for deed in DEEDS}
"""What each is called, its usual keys, and where they do it."""


def with_keys(keys: Mapping[str, Sequence[str]]) -> tuple[tuple[Deed, ...], tuple[str, ...]]:
    """The table with a knitter's own keys, and what is wrong with them in words.

    A name that is no deed, a key that is no key, and a key that would then do two things in one place are left
    as they were.
    """
    own, wrong = own_keys(USUAL, keys)
    deeds = tuple(deed._replace(keys=own.get(deed.name, deed.keys)) for deed in DEEDS)
    return deeds, tuple(" ".join(parts).strip() for parts in wrong.values())


def deeds_of(where: Where, deeds: Iterable[Deed] = DEEDS) -> list[Deed]:
    """What can be done in a place."""
    return [deed for deed in deeds if where in deed.where]


@latest
def by_name(deeds: tuple[Deed, ...]) -> Mapping[str, Deed]:
    """What can be done, by its name."""
    return {deed.name: deed for deed in deeds}


@latest
def by_key(where: Where, deeds: tuple[Deed, ...]) -> Mapping[str, str]:
    """The names of what can be done in a place, by key."""
    return {key: deed.name for deed in deeds_of(where, deeds) for key in deed.keys}
