"""Plan -> what is printed on request, as PDF: the helper's guide, picture cards, the therapist's
score sheet, a sheet for a school or a second home.

Like the sheet for home (`sheets.py`): tagged (PDF/UA-1), no day but the first one of practice, the
same plan and day give the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from builder.make import drawings, sheets
from builder.make.further.cards import cards
from builder.make.further.guide import guide
from builder.make.further.school import school
from builder.make.further.score import score
from builder.make.sheet.text import Data, Shelf, Words, long_date
from builder.model.plan import Plan
from builder.text.templates import folder
from builder.text.wording import ENGLISH
from builder.workspace.desk import Further
from builder.workspace.store import Store

PARTS = ("base.typ", "further.typ", "words.typ")  # that a template may ask for, beside it


def further(
    kind: Further,
    plan: Plan,
    pictures: Mapping[str, Path],
    store: Store,
    first_day: str = "",
    probes: Sequence[Sequence[str]] = (),
    language: str = "",
) -> bytes:
    """One sheet on request.

    pictures:  made files by key; an item whose picture is missing there is printed as a word.
    first_day: of practice, in ISO form, "" for none.
    probes:    for the score sheet the words kept apart, for each program of the plan; () for none.
    language:  one of those of the plan's pages; "": the first.
    """
    own = language or languages_of(kind, plan)[0]
    words, shelf = _words(kind, plan, own), Shelf(pictures)
    body = _body(kind, plan, shelf, store, words, probes, own)
    data = {**_frame(kind, plan, words, first_day), **body, **sheets.lang(plan, own)}
    drawn = {pictures.get(p.key) for p in plan.pictures if p.kind == "drawing"}
    data["credit"] = drawings.credit(words) if drawn & {*shelf.files.values()} else ""
    template = folder() / "sheets" / f"{kind}.typ"
    files = shelf.files | {name: template.with_name(name) for name in PARTS}
    return sheets.typeset_once(template, data, files, store)


def languages_of(kind: Further, plan: Plan) -> tuple[str, ...]:
    """The languages that a sheet is made in: the therapist's in English; that for a school also in
    the clinic's. Cards are made once, with what is told about them in every language."""
    if kind == "score":
        return (ENGLISH,)
    if kind == "school":
        return tuple(dict.fromkeys((*plan.interface, *plan.clinic.interface[:1])))
    return plan.interface[:1] if kind == "cards" else plan.interface


def _words(kind: Further, plan: Plan, language: str) -> Words:
    words = sheets.sheet_words(language, plan.helper)
    own = sheets.sheet_words(language, part="school") if kind == "school" else {}
    return {**words, **own}


def why_not(kind: Further, plan: Plan) -> str:
    """Why there is no such sheet for a client; "" where there is one."""
    if kind == "school" and plan.helper == "self":
        return "the client practices alone, so nobody else listens"
    steps = [step for program in plan.programs for step in program.steps if step.current]
    if kind == "cards" and not any(step.said for step in steps):
        return "the steps of now are texts or talks, which have no words for cards"
    return ""


def _body(
    kind: Further,
    plan: Plan,
    shelf: Shelf,
    store: Store,
    words: Words,
    probes: Sequence[Sequence[str]],
    language: str,
) -> Data:
    if kind == "guide":
        page = sheets.cautious(language, plan.helper, "", sheets.PAGE_CAUTIONS)
        return guide(plan, shelf, store, words, page, language)
    if kind == "cards":
        return cards(plan, shelf, {one: _words(kind, plan, one) for one in plan.interface})
    if kind == "score":
        return score(plan, probes or [()] * len(plan.programs), words)
    return school(plan, shelf, words)


def _frame(kind: Further, plan: Plan, words: Words, first_day: str) -> Data:
    """Paper, title and foot."""
    begun = words["from_day"].format(date=long_date(first_day, words)) if first_day else ""
    return {
        "title": words[f"{kind}.title"],
        "paper": "us-letter" if plan.clinic.paper == "letter" else "a4",
        "client": plan.client,
        "whom": "" if kind == "score" else words[f"{kind}.whom"],
        "from": begun,
        "renewed": words["renewed"] if kind in ("guide", "school") else "",
        "page_of": words["page_of"],
        "pair": words["pair"],
        "reminder": words["reminder"],
    }
