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
    if not plan.other_helpers:
        return {"title": title}
    return {
        "title": title,
        "open": " ".join([data["open"], *_first_choice(plan, role, words)]),
        "each": " ".join([data["each"], words["own_boxes"]]),
        "back": data["back"] | {"listened": {}},
    }


def _first_choice(plan: Plan, role: str, words: Words) -> list[str]:
    """A tablet takes it for granted that the first one listens."""
    if role == plan.helper or not plan.code:
        return []
    return [words["choose_role"].format(role=words[f"chosen_role.{_key(role)}"])]


def _key(role: str) -> str:
    return role.replace(" ", "_")
