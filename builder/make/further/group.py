"""The list of a group, for the adult who runs its sitting: each client in turn, with the code that
leads to the client's own pages. It is for that adult alone, since it leads to every site of the
group; no site and no sheet for a family names two clients."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from builder.make import drawings, qr, sheets
from builder.make.desk_list import first_words
from builder.make.further.guide import SYMBOL_MM
from builder.make.sheet.text import BETWEEN, Data, Shelf, item_text, long_date
from builder.model.plan import Plan
from builder.text.several import several
from builder.text.templates import folder
from builder.workspace.store import Store

TITLE = "Practice in turn: {name}"
ABOUT = (
    "One at a time: scan the code beside the animal, practice, close the page. Then the next one. "
    "Each code opens the pages of one client alone.",
    "On a tablet that is new here, first open “Show at the visit” on each one’s page and say who "
    "listens. Stop with anyone who is tired or hoarse or in pain, and tell the therapist.",
    "Write no name here, and keep this list with you. It is not for families.",
)
ALIKE = "Same animal as {other}: see that the page says {client}."
ALL_ALIKE = "Others here have the same animal: see that the page says {client}."
LONG_WORDS = 40  # characters: two short words, one phrase
NO_CODE = "The clinic file gives no `base_url`, so there is no code."


def group_list(
    name: str, plans: Sequence[Plan], pictures: Mapping[str, Path], store: Store, printed: str
) -> bytes:
    """The list in the order of the group, at least one. pictures: made files by key, the animals
    among them; printed: the day, in ISO form. Same plans and day, same bytes."""
    first, shelf = plans[0], Shelf(pictures)
    words = sheets.sheet_words(first.language)
    data = {
        "title": TITLE.format(name=name),
        "about": ABOUT,
        "printed": words["printed"].format(date=long_date(printed, words)),
        "all": f"About {sum(plan.minutes for plan in plans)} minutes for all.",
        "paper": "us-letter" if first.clinic.paper == "letter" else "a4",
        "rows": [_row(plan, plans, shelf, store) for plan in plans],
    }
    drawn = any(plan.emblem and plan.emblem.kind == "drawing" for plan in plans)
    data["credit"] = drawings.credit(words) if drawn else ""
    return sheets.typeset_once(folder() / "sheets" / "group.typ", data, shelf.files, store)


def _row(plan: Plan, plans: Sequence[Plan], shelf: Shelf, store: Store) -> Data:
    alike = (one for one in plans if one is not plan and one.emblem == plan.emblem)
    others = [one.client for one in alike if plan.emblem]
    minutes = several(plan.minutes, "minute")
    sounds = ", ".join(dict.fromkeys(f"/{program.ipa}/" for program in plan.programs))
    return {
        "picture": shelf.show(plan.emblem),
        "client": plan.client,
        "what": f"{sounds}, about {minutes}",
        "words": _words(plan, shelf),
        "alike": _alike(plan.client, others),
        "code": _code(plan, shelf, store),
        "no_code": "" if plan.code else NO_CODE,
    }


def _alike(client: str, others: Sequence[str]) -> str:
    if not others:
        return ""
    told = ALIKE if len(others) == 1 else ALL_ALIKE
    return told.format(other=others[0], client=client)


def _words(plan: Plan, shelf: Shelf) -> str:
    """Its first words, or the first one alone where they are long."""
    first = first_words(plan, shelf.pictures)
    both = BETWEEN.join(first)
    return item_text(both if len(both) <= LONG_WORDS else first[0])


def _code(plan: Plan, shelf: Shelf, store: Store) -> Data | None:
    if plan.code is None:
        return None
    file = f"code-{plan.slug}.svg"
    shelf.files[file] = qr.make(plan.code, store)[0]
    return {
        "file": file,
        "alt": f"{plan.client}: QR code of {plan.code.address}",
        "mm": qr.printed_mm(shelf.files[file], SYMBOL_MM),
    }
