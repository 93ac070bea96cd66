"""The therapist's score sheet: practiced words and probe words apart, each with and without a
model; pairs by what was chosen and what was heard; past sentences by counts."""

from __future__ import annotations

from collections.abc import Sequence

from builder.make.sheet.text import Data, Words, breakable, clean, item_text
from builder.make.sheet.words import sound_line
from builder.model.plan import Plan, PlannedProgram, PlannedStep

TRIES = 3  # boxes in each column; common practice, no source
OWN_PROBES = 5  # lines to write probe words on
WORD_LEVELS = ("word",)
NAMES = (
    "only date session with_whom key probe probe_note word item model alone sum percent pairs "
    "pairs_note chosen heard same same_sum past task targets slips fixed minutes clear ratio notes "
    "decide"
)


def score(plan: Plan, probes: Sequence[Sequence[str]], words: Words) -> Data:
    """All of the score sheet. probes: the words kept apart, for each program of the plan; none
    for a program: lines to write them on."""
    return {
        "names": {name: words[f"score.{name}"] for name in NAMES.split()},
        "tries": TRIES,
        "own": OWN_PROBES,
        "programs": [
            _program(program, kept, words)
            for program, kept in zip(plan.programs, probes, strict=True)
        ],
    }


def _program(program: PlannedProgram, probes: Sequence[str], words: Words) -> Data:
    steps = [step for step in program.steps if step.current]
    return {
        "sound": sound_line(program, words),
        "tables": [_table(step, words) for step in steps if not step.passage and _said(step)],
        "pairs": [both for step in steps for both in _pairs(step)],
        "past": [_past(step, words) for step in steps if step.passage],
        "probes": [item_text(clean(word)) for word in probes],
        "probe_note": words["score.probe_note" if probes else "score.probe_own"],
    }


def _said(step: PlannedStep) -> bool:
    """Whether its items are said one by one, and not in pairs only."""
    return not step.pairs or any(not one.contrast for one in step.rounds)


def _table(step: PlannedStep, words: Words) -> Data:
    is_words = step.level in WORD_LEVELS
    kind = words["score.practiced" if is_words else "score.practiced_items"]
    return {
        "title": kind.format(name=breakable(clean(step.name))),
        "head": words["score.word" if is_words else "score.item"],
        "items": [*dict.fromkeys(item_text(clean(item.text)) for item in step.items)],
    }


def _pairs(step: PlannedStep) -> list[list[str]]:
    said = {item.id: breakable(clean(item.text)) for item in step.said}
    return [[said[one], said[other]] for one, other in step.pairs]


def _past(step: PlannedStep, words: Words) -> Data:
    targets = step.passage.targets if step.passage else 0
    told = words[f"score.level.{step.level}"].format(targets=targets)
    return {"name": breakable(clean(step.name)), "told": told}
