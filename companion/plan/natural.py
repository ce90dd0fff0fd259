"""What a plan may say in other words than the format's own: other spellings, and what goes without saying.

Nothing else of a plan is changed here. The tree that knows the places stays as it was typed; ``SPELT`` says under
which key a thing may stand there.
"""

from __future__ import annotations

from companion.plan.amount import AmissError, symbol

SPELT = {"colour": "color", "colours": "colors", "gauge": "tension", "metres": "meters", "bind_off": "cast_off",
         "seed": "moss"}
"""Keys of the format, and how they are spelt otherwise."""


def in_the_formats_words(data: object) -> object:
    """The same plan in the words of the format. UK moss stitch is the US seed stitch: knit and purl changed over in
    every row (common practice, no source)."""
    if not isinstance(data, dict):
        return data
    plan = _spelt(data, "gauge", "bind_off")
    for edge in ("cast_on", "bind_off"):
        if isinstance(plan.get(edge), dict):
            plan[edge] = _spelt(plan[edge], "colours")
    if isinstance(yarns := plan.get("yarns"), dict):
        plan["yarns"] = {name: _yarn(yarn) for name, yarn in yarns.items()}
        if "symbols" not in plan and (letters := first_letters(list(yarns))):
            plan["symbols"] = letters
    if isinstance(rows := plan.get("rows"), list):
        plan["rows"] = [_with_edges(section) for section in rows]
    if str(plan.get("terms")).lower() == "uk":
        if isinstance(plan.get("gauge"), dict):
            plan["gauge"] = _spelt(plan["gauge"], "seed")
        return _with_seed(plan)
    return plan


def class_in_our_words(data: object) -> object:
    """The same of a class: its students' gauges and yarns."""
    if not isinstance(data, dict) or not isinstance(students := data.get("students"), list):
        return data
    return data | {"students": [_student(one) if isinstance(one, dict) else one for one in students]}


def _student(student: dict[str, object]) -> dict[str, object]:
    student = _spelt(student, "gauge")
    if isinstance(yarns := student.get("yarns"), dict):
        student["yarns"] = {name: _yarn(yarn) for name, yarn in yarns.items()}
    return student


def first_letters(yarns: list[str]) -> dict[str, str]:
    """Each yarn under the first letter of its name; nothing where one stands for two, or cannot be a symbol."""
    letters = {yarn[:1].lower(): yarn for yarn in yarns}
    try:
        for letter in letters:
            symbol(letter)
    except AmissError:
        return {}
    return letters if len(letters) == len(yarns) and not any(letter.isdigit() for letter in letters) else {}


def _spelt(data: object, *keys: str) -> dict[str, object]:
    """Keys, of which these may be spelt otherwise; one that stands there in both spellings stays as it is."""
    data = dict(data) if isinstance(data, dict) else {}
    ours = {SPELT[key]: key for key in keys if key not in data}
    return {ours.get(key, key): value for key, value in data.items()}


def _yarn(yarn: object) -> object:
    if not isinstance(yarn, dict):
        return yarn
    made = _spelt(yarn, "colour")
    return {**made, "ball": _spelt(made["ball"], "metres")} if isinstance(made.get("ball"), dict) else made


def _with_edges(section: object) -> object:
    """A section whose edges are in the yarn of what lies between them, where they have none of their own."""
    if not isinstance(section, dict):
        return section
    ground, edges = section.get("plain", section.get("field")), section.get("edges")
    if not isinstance(ground, dict) or not isinstance(edges, dict) or "yarn" not in ground:
        return section
    own = {"yarn": ground["yarn"]}
    if "left" in edges or "right" in edges:
        sides = {side: own | edge if isinstance(edge, dict) else edge for side, edge in edges.items()}
        return {**section, "edges": sides}
    return {**section, "edges": own | edges}


def _with_seed(data: object) -> object:
    """What a UK plan says, moss in the format's words. No deeper than the tree may be, so recursion is safe."""
    if isinstance(data, list):
        return [_with_seed(one) for one in data]
    if not isinstance(data, dict):
        return data
    return {key: "seed" if (key, value) == ("stitch", "moss") else _with_seed(value) for key, value in data.items()}
