"""All lines as one local page with a search box; never published. It loads nothing: style and
script stand in it, and its own policy allows that one script, by its digest, and no other."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from pathlib import Path

from builder.caseload.lines import HEADINGS, cells, moves
from builder.caseload.rows import LOOKED_BACK, Row
from builder.text.templates import environment, policy_digest

PAGE = "caseload.html"  # in the hidden folder
LONGER = {"last": "last visit", "next": "next visit"}  # headings, where there is room


def caseload_page(found: Iterable[Row], today: datetime.date) -> str:
    """The HTML, a line for each row in their order."""
    from markupsafe import Markup

    shown = environment("proof")
    assert shown.loader is not None
    script, _, _ = shown.loader.get_source(shown, "caseload.js")
    return shown.get_template("caseload.html").render(
        day=f"{today:%A, %B} {today.day}, {today.year}",
        back=LOOKED_BACK,
        headings=[one.capitalize() for one in _headings()],
        lines=[_line(row, today) for row in found],
        script=Markup(script),  # our own file
        digest=policy_digest(script),
    )


def _headings() -> list[str]:
    """In the page's order: what waits and the proposal stand beside the client."""
    client, *rest, proposal, waits = (LONGER.get(one, one) for one in HEADINGS)
    return [client, waits, proposal, *rest, "open"]


def _line(row: Row, today: datetime.date) -> dict[str, object]:
    code, sounds, step, since, last, next_, practiced, *_ = cells(row, today)
    return {
        "code": code,
        "sounds": sounds,
        "step": step,
        "since": since,
        "last": last,
        "next": next_,
        "practiced": practiced,
        "proposal": moves(row, "too little to say"),
        "sentences": [one.sentence for one in row.facts.proposals],
        "waits": row.waits,
        "trouble": row.facts.written.trouble,
        "links": _links(row),
    }


def _links(row: Row) -> list[tuple[str, str]]:
    """What there is of proof, progress, sheet and site, on this computer; the site on the web,
    where the clinic file says where that is."""
    facts = row.facts
    site = facts.address or _uri(facts.site)
    every = (
        ("proof", _uri(facts.proof)),
        ("progress", _uri(facts.progress)),
        ("sheet", _uri(facts.sheet_file)),
        ("site", site),
    )
    return [(name, where) for name, where in every if where]


def _uri(path: str) -> str:
    return Path(path).resolve().as_uri() if path else ""
