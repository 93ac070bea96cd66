"""The list for the front desk as PDF: which sheets there are, by code, animal, sound and words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from builder.make import drawings, sheets
from builder.model.plan import Plan
from builder.text.templates import folder
from builder.workspace.store import Store, digest_of, key_of

WORDS = 2  # of the current steps: enough to tell two clients with one sound apart
TITLE = "Sheets to hand over"
ABOUT = (
    "Before you hand a sheet over, hold its animal, code and first words against this line. Then "
    "tick the box. Write no name here."
)
HEADS = ("", "Code", "Sound", "First words", "First day", "Visit", "Pages", "Handed over")


@dataclass(frozen=True)
class Entry:
    """One sheet of the list: whose, from which day on (ISO form or ""), how many pages."""

    plan: Plan
    first_day: str
    pages: int


def desk_list(entries: Iterable[Entry], pictures: Mapping[str, Path], store: Store) -> bytes:
    """The list in the order given. pictures: made files by key. Same entries, same bytes."""
    listed = list(entries)
    files = {}
    for entry in listed:
        emblem = entry.plan.emblem
        if emblem and emblem.key in pictures:
            file = pictures[emblem.key]
            files[f"{emblem.key}{file.suffix}"] = file
    drawn = any(e.plan.emblem and e.plan.emblem.kind == "drawing" for e in listed)
    data = {
        "title": TITLE,
        "about": ABOUT,
        "heads": HEADS,
        "paper": "us-letter" if listed[0].plan.clinic.paper == "letter" else "a4",
        "rows": [_row(entry, files) for entry in listed],
        "credit": drawings.CREDIT if drawn else "",
    }
    template = folder() / "sheets" / "desk.typ"
    key = key_of(
        list=template.read_text(encoding="utf-8"),
        data=data,
        files={name: digest_of(file) for name, file in files.items()},
        versions=[version(package) for package in sheets.PACKAGES],
    )
    return store.bytes_of(key, sheets.PDF, lambda: sheets.typeset(template, data, files))


def _row(entry: Entry, files: Mapping[str, Path]) -> dict[str, object]:
    plan = entry.plan
    name = next((n for n in files if plan.emblem and n.startswith(plan.emblem.key)), None)
    return {
        "picture": {"file": name, "alt": plan.emblem.alt} if name and plan.emblem else None,
        "code": plan.client,
        "sound": ", ".join(dict.fromkeys(f"/{program.ipa}/" for program in plan.programs)),
        "words": ", ".join(first_words(plan)),
        "from": entry.first_day,
        "visit": plan.dates[1],
        "pages": str(entry.pages),
    }


def first_words(plan: Plan) -> tuple[str, ...]:
    """The first items of the current steps; the name of a step that has none (a text, a talk)."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    items = [item.text for step in steps for item in step.said] or [step.name for step in steps]
    return tuple(items[:WORDS])
