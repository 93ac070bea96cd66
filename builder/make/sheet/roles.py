"""What a sheet says otherwise where it is made for one of those who listen, known by role alone."""

from __future__ import annotations

from builder.make.sheet.text import Data, Words
from builder.model.plan import Plan
from builder.text.wording import Wording

ELSEWHERE = ("other home", "school")  # where practice is not "at home"


def headed(plan: Plan, role: str, data: Data, words: Words, page: Wording) -> Data:
    """The changed parts of a sheet for a role; none for "". Where several listen, nobody is asked
    who it was, since each has a sheet of its own. page: what the pages say that its code opens."""
    if not role:
        return {}
    title = words[f"titles.{_key(role)}"] if role in ELSEWHERE else words["title"]
    changed: Data = {"title": title, "back": data["back"]}
    if role == "school":
        changed |= _at_school(data, words)
    if not plan.other_helpers:
        return changed
    return changed | {
        "open": " ".join([data["open"], *_first_choice(plan, role, words, page)]),
        "each": " ".join([data["each"], words["own_boxes"]]),
        "back": changed["back"] | {"listened": {}},
    }


def _at_school(data: Data, words: Words) -> Data:
    """Where others see it, no line asks for a name; talk is that of a day at school."""
    daily = data["back"]["daily"] | {"text": words["daily_school"]}
    return {"for": "", "back": data["back"] | {"daily": daily}}


def _first_choice(plan: Plan, role: str, words: Words, page: Wording) -> list[str]:
    """A tablet takes it for granted that the first one listens. What is to be tapped has the name
    that the pages give it, whatever the sheet's language."""
    if role == plan.helper or not plan.code:
        return []
    tapped = {"title": page["visit.title"], "role": page[f"visit.role.{role}"]}
    return [words["choose_role"].format(**tapped)]


def _key(role: str) -> str:
    return role.replace(" ", "_")
