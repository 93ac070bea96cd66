"""The log for other programs: trials and counts as tables (CSV, RFC 4180), all of it as JSON. Pure.

Notes, a family's and the therapist's, stand in the JSON alone: in a table a text that begins with =
may be run. In tables sounds are named as in programs, in the JSON by the symbols of log and plans.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from builder.model.practice_view import PracticeView, ProgramView, StepView
from builder.model.record import Sitting
from builder.phonetics.inventory import sounds
from builder.practice.log.counts import Counted, counted
from builder.practice.log.paper import PaperCount
from builder.practice.log.rows import Apart
from builder.practice.log.scores import VisitNote, VisitScore

VERSION = 1
WHO = ("client", "sitting", "plan", "day", "start", "time", "helper")
SAID = ("sound", "level", "step")
TRIALS = (
    *WHO,
    "trial",
    *SAID,
    "item",
    "text",
    "round",
    "form",
    "support",
    "repeat",
    "chosen",
    "heard",
    "own",
    "mark",
    "ms",
)
SCORES = ("client", "date", "sound", "step", "support", "probe", "correct", "of")
COUNTS = ("client", "day", "time", "source", "helper", "sitting", "plan", *SAID, "clear", "tries")
View = Callable[[str, str], PracticeView | None]


@dataclass(frozen=True)
class Holdings:
    """What the log holds of some clients. codes: of the clients by site; view: of a site's plan."""

    codes: Mapping[str, str]
    sittings: tuple[Sitting, ...]
    papers: tuple[PaperCount, ...]
    apart: tuple[Apart, ...]
    view: View
    scores: tuple[VisitScore, ...] = ()
    notes: tuple[VisitNote, ...] = ()


def trials_csv(held: Holdings) -> str:
    """A trial a row, in the order made; what its plan says of it beside it."""
    return _table(TRIALS, (row for sitting in held.sittings for row in _trials(sitting, held)))


def counts_csv(held: Holdings) -> str:
    """The tries of a step in a sitting a row, those of texts and talks and on paper among them;
    client by client, each in the order of time."""
    found = sorted(counted(held.sittings, held.papers), key=lambda one: held.codes[one.site])
    return _table(COUNTS, (_count(one, held) for one in found))


def scores_csv(held: Holdings) -> str:
    """A score of the therapist's own a row, client by client, each in the order of time; notes
    beside them stand in the JSON."""
    found = sorted(held.scores, key=lambda one: (held.codes[one.site], one.date))
    return _table(SCORES, (_score(one, held) for one in found))


def as_json(held: Holdings) -> str:
    """All of it: each client's sittings as the tablets wrote them and counts on paper, the plans
    that they name, and what was kept apart."""
    named = {(one.site, one.plan) for one in held.sittings}
    named |= {(one.site, one.plan) for one in held.papers}
    views = {digest: held.view(site, digest) for site, digest in sorted(named)}
    whole = {
        "log": VERSION,
        "clients": [_client(site, code, held) for site, code in held.codes.items()],
        "plans": {digest: asdict(view) for digest, view in views.items() if view},
        "apart": [
            {"why": one.why, "sitting": one.sitting.model_dump(mode="json")} for one in held.apart
        ],
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def _client(site: str, code: str, held: Holdings) -> dict[str, Any]:
    return {
        "client": code,
        "site": site,
        "sittings": [s.model_dump(mode="json") for s in held.sittings if s.site == site],
        "paper": [
            {key: value for key, value in asdict(p).items() if key != "site"}
            | {"day": p.day.isoformat()}
            for p in held.papers
            if p.site == site
        ],
        "scores": [
            {key: value for key, value in asdict(s).items() if key != "site"}
            | {"date": s.date.isoformat()}
            for s in held.scores
            if s.site == site
        ],
        "visit_notes": [
            {"date": n.date.isoformat(), "note": n.note} for n in held.notes if n.site == site
        ],
    }


def _table(columns: tuple[str, ...], rows: Iterable[Mapping[str, object]]) -> str:
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, columns)
    writer.writeheader()
    writer.writerows({name: _cell(value) for name, value in row.items()} for row in rows)
    return stream.getvalue()


def _cell(value: object) -> object:
    """Nothing where there is nothing, and truth values as JSON writes them."""
    return str(value).lower() if isinstance(value, bool) else value


def _trials(sitting: Sitting, held: Holdings) -> Iterator[dict[str, object]]:
    view = held.view(sitting.site, sitting.plan)
    who = {
        "client": held.codes[sitting.site],
        "sitting": sitting.id,
        "plan": sitting.plan,
        "day": sitting.start[:10],
        "start": sitting.start,
        "time": sitting.time,
        "helper": sitting.helper,
    }
    for number, trial in enumerate(sitting.trials, 1):
        said = _said(view, trial.step)
        own = {name: getattr(trial, name) for name in type(trial).model_fields}
        yield who | {"trial": number, "text": _text(view, trial.step, trial.item)} | said | own


def _count(one: Counted, held: Holdings) -> dict[str, object]:
    said = _said(held.view(one.site, one.plan), one.step)
    row = {name: getattr(one, name) for name in COUNTS if hasattr(one, name)}
    return row | said | {"client": held.codes[one.site]}


def _score(one: VisitScore, held: Holdings) -> dict[str, object]:
    row = {name: getattr(one, name) for name in SCORES if hasattr(one, name)}
    return row | {"client": held.codes[one.site], "sound": _sound(one.sound)}


def _said(view: PracticeView | None, id_: str) -> dict[str, object]:
    """Sound, level and id of a step."""
    program, step = _step(view, id_)
    return {
        "sound": _sound(program.sound) if program else "",
        "level": step.level if step else "",
        "step": id_,
    }


def _sound(symbol: str) -> str:
    """A symbol that is not known here stays as it is."""
    known = sounds().get(symbol)
    return known.as_typed if known else symbol


def _text(view: PracticeView | None, step: str, item: str) -> str:
    _, found = _step(view, step)
    return next((i.text for i in found.items if i.id == item), "") if found else ""


def _step(view: PracticeView | None, id_: str) -> tuple[ProgramView | None, StepView | None]:
    for program in view.programs if view else ():
        for step in program.steps:
            if step.id == id_:
                return program, step
    return None, None
