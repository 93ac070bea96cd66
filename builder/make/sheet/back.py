"""The back of a sheet: how to practice without the pages, and what the family writes down."""

from __future__ import annotations

from collections.abc import Iterator

from builder.make.mouth.told import printed_mouth
from builder.make.sheet.text import Data, Words, breakable, clean, item_text, long_date, whole
from builder.make.sheet.words import round_name, sound_line
from builder.model.plan import Plan, PlannedProgram, PlannedRound, PlannedStep
from builder.text.wording import Wording, spoken

MOST_EASIER = 12  # items of an easier step; a few of them are said, so these are plenty
MOST_EASIER_CHARS = 400  # of an easier text that is printed
SAID_ALONE = ("isolation", "syllable")  # levels at which there is no word for everyday talk


def back(plan: Plan, words: Words, page: Wording, visit: str) -> Data:
    """All of the back. visit: in ISO form, "" on an undated sheet."""
    steps = [step for program in plan.programs for step in program.steps if step.current]
    with_rounds = [step for step in steps if not step.passage]
    rounds = [one for step in with_rounds for one in step.rounds]
    return {
        "title": words["back"],
        "how": list(_how(plan, rounds, words)) if with_rounds else [],
        "names": words["names"],
        "meanings": _meanings(plan, rounds, words),
        "game": _game(words)
        if any(r.contrast and r.support != "imitation" for r in rounds)
        else {},
        "tasks": _tasks(steps, words),
        "hard": _hard(plan, bool(with_rounds), words),
        "cues": {"title": words["cues"], "sounds": [_cues(p, words, page) for p in plan.programs]},
        "daily": {"title": words["daily"], "text": _daily(steps, words)},
        "stop": _stop(plan, words),
        "own": words["own"],
        "listened": _listened(plan, words),
        "notes": words["notes"],
        "bring": words["bring"].format(visit=long_date(visit, words)) if visit else "",
        "bring_by": words["bring_by"],
    }


def _how(plan: Plan, rounds: list[PlannedRound], words: Words) -> Iterator[str]:
    """One try after another, word for word."""
    alone = {one.support == "spontaneous" for one in rounds if not one.contrast}
    say = "point" if alone == {True} else "say_or_point" if True in alone else "say"
    mark = "mark_counts" if plan.clinic.sheet.counts else "mark"
    for name in ("sit", say, "wait", mark, "praise", "miss", "next"):
        yield words[f"how.{name}"]


def _meanings(plan: Plan, rounds: list[PlannedRound], words: Words) -> Data:
    """What the names of rounds on the front mean, each once, and what long means."""
    found: dict[str, str] = {}
    for one in rounds:
        if not one.contrast:
            is_read = one.support == "spontaneous" and plan.reads
            meaning = words[f"meaning.{one.support}{'_reads' if is_read else ''}"]
        elif one.support == "imitation":
            meaning = words["meaning.contrast_imitation"]
        else:
            continue  # the game has rules of its own
        found[round_name(one, words)] = meaning
    held = any(one.form == "long" for one in rounds)
    return {
        "lines": [{"name": name, "text": text} for name, text in found.items()],
        "long": words["long"] if held else "",
    }


def _game(words: Words) -> Data:
    steps = ("name", "pick", "point", "tell", "model")
    return {
        "title": words["game"],
        "steps": [words[f"game_steps.{name}"] for name in steps],
        "care": words["game_care"],
    }


def _tasks(steps: list[PlannedStep], words: Words) -> Data:
    """What is done past sentences, a line for each such step."""
    lines = [
        {"name": spoken(breakable(clean(step.name))), "text": words[f"task.{step.level}"]}
        for step in steps
        if step.passage
    ]
    return {"title": words["passages"], "lines": lines, "slip": words["slip"]} if lines else {}


def _hard(plan: Plan, has_tries: bool, words: Words) -> Data:
    """What is easier. Where all that is practiced is past sentences, no tries are counted."""
    lists = [one for program in plan.programs for one in _easier(program, words)]
    misses = max((program.misses for program in plan.programs), default=3)
    said = "hard_none" if not lists else "hard_text" if has_tries else "hard_slips"
    return {
        "title": words["hard"],
        "text": words[said].format(misses=misses),
        "lists": lists,
        "half": words["half"] if has_tries else "",
    }


def _easier(program: PlannedProgram, words: Words) -> Iterator[Data]:
    """The steps to go back to with their items, each once; none that is practiced anyway."""
    wanted = {step.easier for step in program.steps if step.current}
    for step in program.steps:
        if step.id not in wanted or step.current:
            continue
        named = words["easier"].format(sound=spoken(step.sound), name=spoken(clean(step.name)))
        items = [item_text(clean(item.text)) for item in step.items[:MOST_EASIER]]
        yield {"name": breakable(named), "items": items or _easier_text(step)}


def _easier_text(step: PlannedStep) -> list[str]:
    """Of a step past sentences its text, where that is short."""
    if not step.passage:
        return []
    lines = ["".join(part for part, _ in line) for line in step.passage.paragraphs]
    text = clean(" ".join(lines))
    return [item_text(text)] if text and len(text) <= MOST_EASIER_CHARS else []


def _cues(program: PlannedProgram, words: Words, page: Wording) -> Data:
    lines = [
        {"name": words[f"cue.{name}"], "text": breakable(clean(text))}
        for name, text in program.cues
    ]
    return {
        "sound": sound_line(program, words),
        "lines": lines,
        "none": "" if lines else words["no_cues"],
        "mouth": printed_mouth(program, page),
    }


def _daily(steps: list[PlannedStep], words: Words) -> str:
    has_words = any(not step.passage and step.level not in SAID_ALONE for step in steps)
    return words["daily_words" if has_words else "daily_sound"]


def _stop(plan: Plan, words: Words) -> Data:
    contact = plan.clinic.contact
    lines = (contact.clinic, contact.phone, contact.email, contact.hours)
    misses = max((program.misses for program in plan.programs), default=3)
    return {
        "title": words["stop"],
        "text": words["stop_text"],
        "cautions": words["cautions"].format(misses=misses),
        "ask": words["ask"],
        "contact": [whole(clean(line)) for line in lines if line],
    }


def _listened(plan: Plan, words: Words) -> Data:
    """Who may have listened; nobody is asked where the client practices alone."""
    if plan.helper == "self":
        return {}
    roles = ("home", "other_home", "school")
    return {"label": words["listened"], "roles": [words[f"listener.{role}"] for role in roles]}
