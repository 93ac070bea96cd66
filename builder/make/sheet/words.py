"""What is practiced, as the front of a sheet shows it: step by step, each under its sound."""

from __future__ import annotations

from collections.abc import Iterator

from builder.make.sheet.text import Data, Shelf, Words, breakable, clean, item_text
from builder.model.plan import (
    Plan,
    PlannedItem,
    PlannedPassage,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.text.talk import situation
from builder.text.wording import spoken

MAX_TILE_TOKEN_CHARS = 13  # characters in 12 pt under a picture: a sixth of a Letter page
MAX_TILE_CHARS = 14  # under a picture; longer texts are lines
MAX_WORD_CHARS = 14  # characters; longer texts stand on lines of their own
MAX_HALF_CHARS = 24  # characters of 15 pt in half a page's width, a picture beside them


def groups(plan: Plan, shelf: Shelf, words: Words) -> list[Data]:
    """The current steps of all programs. `first`: of its program, with which the sound is named."""
    return [
        {**_head(program, words, at == 0), **_step(step, shelf, words, plan.fits)}
        for program in plan.programs
        for at, step in enumerate(step for step in program.steps if step.current)
    ]


def sound_line(program: PlannedProgram, words: Words) -> str:
    """The sound as families know it, its sign and a word with it."""
    line = words["sound" if program.example else "sound_plain"]
    sound, example = spoken(clean(program.sound)), spoken(clean(program.example))
    return breakable(line.format(sound=sound, ipa=program.ipa, example=example))


def round_name(planned: PlannedRound, words: Words) -> str:
    """What a round is called on the sheet."""
    if planned.contrast:
        is_said = planned.support == "imitation"
        return words["rounds.contrast_imitation" if is_said else "rounds.contrast"]
    return words[f"rounds.{planned.form}_{planned.support}"]


def _head(program: PlannedProgram, words: Words, is_first: bool) -> Data:
    return {
        "sound": sound_line(program, words),
        "reminder": breakable(clean(program.reminder)),
        "first": is_first,
    }


def _step(step: PlannedStep, shelf: Shelf, words: Words, fits: bool) -> Data:
    shown = _passage(step.passage, words) if step.passage else [*_items(step, shelf, words)]
    longest = max((len(i["text"]) for i in shown if i["kind"] in ("line", "word")), default=0)
    if longest > MAX_WORD_CHARS:
        shown = [{**i, "kind": "line"} if i["kind"] == "word" else i for i in shown]
    return {
        "name": breakable(clean(step.name)),
        "doing": _task(step, words, fits) if step.passage else _rounds(step, words, fits),
        "game": words["game_front"].format(name=words["rounds.contrast"]),
        "told": words["told_front"].format(name=words["rounds.contrast_imitation"]),
        "halves": longest <= MAX_HALF_CHARS,
        "items": [{**item, "text": item_text(item["text"])} for item in shown],
    }


def _rounds(step: PlannedStep, words: Words, fits: bool) -> Data:
    """The rounds in their order, and the tries they are together. fits: one sitting holds all that
    is practiced; else each step has its turn."""
    tries = words["box_try" if step.tries == 1 else "box_tries"].format(tries=step.tries)
    rounds = [_round(planned, words) for planned in step.rounds]
    return {"lead": words["box_list" if fits else "turn_list"], "rounds": rounds, "tail": tries}


def _round(planned: PlannedRound, words: Words) -> Data:
    times = words["once" if planned.times == 1 else "times"].format(times=planned.times)
    return {"name": round_name(planned, words), "times": times}


def _task(step: PlannedStep, words: Words, fits: bool) -> Data:
    minutes = step.passage.minutes if step.passage else 0
    about = words["minutes_one" if minutes == 1 else "minutes"].format(minutes=minutes)
    return {
        "lead": words["box" if fits else "turn"],
        "rounds": [],
        "tail": words[f"task_front.{step.level}"].format(minutes=about),
    }


def _passage(passage: PlannedPassage, words: Words) -> list[Data]:
    """The text, paragraph by paragraph, its targets set off; of a talk where and with whom."""
    found: list[Data] = []
    if passage.where or passage.company:
        told = situation(clean(passage.where), clean(passage.company), words)
        found.append({"kind": "line", "text": told.in_words(words), "pictures": [], "told": True})
    for paragraph in passage.paragraphs:
        parts = [{"text": clean_part(text), "target": target} for text, target in paragraph]
        found.append({"kind": "text", "text": "", "pictures": [], "parts": parts})
    return found


def clean_part(text: str) -> str:
    """A part of a paragraph: its blanks at either end are those between words."""
    before, after = text[:1].isspace(), text[1:][-1:].isspace()
    return (" " if before else "") + breakable(clean(text)) + (" " if after else "")


def _items(step: PlannedStep, shelf: Shelf, words: Words) -> Iterator[Data]:
    """Pictures first, then the rest as text; pairs last, since their round is: of the
    game ("pair"), and of which one word is said after a model ("told")."""
    said = {item.id: item for item in step.said}
    if any(not one.contrast for one in step.rounds) or not step.pairs:
        single = {item.text: _single(item, shelf) for item in step.items}
        yield from sorted(single.values(), key=lambda item: item["kind"] != "tile")
    for one, other in step.pairs:
        kind = "told" if (one, other) in step.imitated else "pair"
        yield {"kind": kind, **_pair(said[one], said[other], shelf, words)}


def _single(item: PlannedItem, shelf: Shelf) -> Data:
    picture, text = shelf.show(item.picture), clean(item.text)
    kind = "tile" if picture and _fits_tile(text) else "word"
    if len(text) > MAX_WORD_CHARS or (picture and kind == "word"):
        kind = "line" if kind == "word" else kind
    return {"kind": kind, "text": text, "pictures": [picture] if picture else []}


def _pair(one: PlannedItem, other: PlannedItem, shelf: Shelf, words: Words) -> Data:
    """Two words in one frame. Pictures only where both have one: a single one would not tell
    whose it is."""
    shown = [shelf.show(one.picture), shelf.show(other.picture)] if one.picture else []
    texts = [clean(one.text), clean(other.text)]
    pictures = shown if all(shown) else []
    text = words["pair_alt"].format(one=texts[0], other=texts[1])
    both = [breakable(text) for text in texts]
    return {"text": text, "both": both, "pictures": pictures}


def _fits_tile(text: str) -> bool:
    longest = max(map(len, text.split()), default=0)
    return longest <= MAX_TILE_TOKEN_CHARS and len(text) <= MAX_TILE_CHARS
