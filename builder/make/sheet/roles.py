"""What a sheet says otherwise where it is made for one of those who listen, known by role alone."""

from __future__ import annotations

from builder.make.sheet.text import Data, Words
from builder.model.plan import Plan

ELSEWHERE = ("other home", "school")  # where practice is not "at home"


def headed(plan: Plan, role: str, data: Data, words: Words) -> Data:
    """The changed parts of a sheet for a role; none for "". Where several listen, nobody is asked
    who it was, since each has a sheet of its own."""
    if not role:
        return {}
    title = words[f"titles.{_key(role)}"] if role in ELSEWHERE else words["title"]
    changed: Data = {"title": title, "back": data["back"]}
    if role == "school":
        changed |= _at_school(data, words)
    if not plan.other_helpers:
        return changed
    return changed | {
        "open": " ".join([data["open"], *_first_choice(plan, role, words)]),
        "each": " ".join([data["each"], words["own_boxes"]]),
        "back": changed["back"] | {"listened": {}},
    }


def _at_school(data: Data, words: Words) -> Data:
    """Where others see it, no line asks for a name; talk is that of a day at school."""
    daily = data["back"]["daily"] | {"text": words["daily_school"]}
    return {"for": "", "back": data["back"] | {"daily": daily}}


def _first_choice(plan: Plan, role: str, words: Words) -> list[str]:
    """A tablet takes it for granted that the first one listens."""
    if role == plan.helper or not plan.code:
        return []
    return [words["choose_role"].format(role=words[f"chosen_role.{_key(role)}"])]


def _key(role: str) -> str:
    return role.replace(" ", "_")
