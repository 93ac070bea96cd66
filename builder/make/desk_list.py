"""The list for the front desk as PDF: which sheets there are, by code, animal, sound and words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from builder.make import drawings, sheets
from builder.make.sheet.text import BETWEEN, Shelf, long_date
from builder.make.sheet.words import groups
from builder.model.plan import Plan
from builder.text.templates import folder
from builder.text.wording import wording
from builder.workspace.desk import Further
from builder.workspace.store import Store

WORDS = 2  # of the current steps: enough to tell two clients with one sound apart
TITLE = "Sheets to hand over"
ABOUT = (
    "Before you hand a sheet over, hold its animal, code and first words against this line. Then "
    "tick the box. Write no name here, and none on a sheet: the line \u201cFor\u201d is for the "
    "family, at home."
)
HEADS = ("", "Code", "Sound", "First words", "First day", "Visit", "Pages", "Handed over")
EXTRAS: dict[Further, str] = {
    "guide": "guide",
    "cards": "cards",
    "score": "score sheet (for the therapist only)",
    "school": "sheet for a teacher or second home",
}


@dataclass(frozen=True)
class Entry:
    """One line of the list: whose, from which day on (ISO form or ""), how many pages the sheet
    has, 0 for one that was taken before; what else lies in the folder for this client."""

    plan: Plan
    first_day: str
    pages: int
    extras: tuple[Further, ...] = ()


def desk_list(
    entries: Iterable[Entry], pictures: Mapping[str, Path], store: Store, printed: str
) -> bytes:
    """The list in the order given. pictures: made files by key, all that the sheets show; printed:
    the day, in ISO form. Same entries and day, same bytes."""
    listed = list(entries)
    files = {}
    for entry in listed:
        emblem = entry.plan.emblem
        if emblem and emblem.key in pictures:
            file = pictures[emblem.key]
            files[f"{emblem.key}{file.suffix}"] = file
    first = listed[0].plan
    words = sheets.sheet_words(first.language, first.helper)
    drawn = any(e.plan.emblem and e.plan.emblem.kind == "drawing" for e in listed)
    data = {
        "title": TITLE,
        "about": ABOUT,
        "printed": words["printed"].format(date=long_date(printed, words)),
        "heads": HEADS,
        "paper": "us-letter" if listed[0].plan.clinic.paper == "letter" else "a4",
        "rows": [_row(entry, files, pictures) for entry in listed],
        "credit": drawings.credit(words) if drawn else "",
    }
    return sheets.typeset_once(folder() / "sheets" / "desk.typ", data, files, store)


def _row(
    entry: Entry, files: Mapping[str, Path], pictures: Mapping[str, Path]
) -> dict[str, object]:
    plan = entry.plan
    words = sheets.sheet_words(plan.language, plan.helper)
    extras = ", ".join(EXTRAS[kind] for kind in entry.extras)
    where = "Also in the folder" if entry.pages else "New in the folder, to print from there"
    said = (_sheets(plan) if entry.pages else "", f"{where}: {extras}" if extras else "")
    name = next((n for n in files if plan.emblem and n.startswith(plan.emblem.key)), None)
    return {
        "picture": {"file": name, "alt": plan.emblem.alt} if name and plan.emblem else None,
        "code": plan.client,
        "sound": ", ".join(dict.fromkeys(f"/{program.ipa}/" for program in plan.programs)),
        "words": BETWEEN.join(first_words(plan, pictures)),
        "extras": ". ".join(filter(None, said)),
        "from": long_date(entry.first_day, words),
        "visit": long_date(plan.dates[1], words),
        "pages": str(entry.pages or "-"),
    }


def _sheets(plan: Plan) -> str:
    """As in "2 sheets: home, school", where several listen, or "2 sheets: English, Español", where
    pages are in several languages; "3 sheets: home (English), home (Español), school (English)"
    where both is so."""
    each = [(role, wording(language)["frame.language"]) for role, language in plan.sheets]
    if len(each) == 1:
        return ""
    if len(plan.helpers) == 1:
        names = [language for _, language in each]
    elif len({language for _, language in each}) == 1:
        names = [role for role, _ in each]
    else:
        names = [f"{role} ({language})" for role, language in each]
    return f"{len(each)} sheets: {', '.join(names)}"


def first_words(plan: Plan, pictures: Mapping[str, Path]) -> tuple[str, ...]:
    """The first items of the current steps as printed on the sheet, where pictures come first; the
    name of a step that has none (a text, a talk)."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    printed = groups(plan, Shelf(pictures), sheets.sheet_words(plan.language, plan.helper))
    items = [
        text
        for step, group in zip(steps, printed, strict=True)
        if not step.passage
        for item in group["items"]
        for text in item.get("both", [item["text"]])
    ] or [step.name for step in steps]
    return tuple(text.replace("\u200b", "") for text in items[:WORDS])
