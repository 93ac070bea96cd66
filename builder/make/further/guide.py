"""The helper's guide: what a sitting is, with and without the tablet, marks, misses, cues, when to
stop; and the codes of today's page and of each step."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from builder.make import qr
from builder.make.mouth.told import printed_mouth
from builder.make.sheet.text import BETWEEN, Data, Shelf, Words, breakable, clean, whole
from builder.make.sheet.words import sound_line
from builder.model.plan import Code, Plan, PlannedProgram, PlannedStep
from builder.text.wording import Wording, plain, spoken
from builder.workspace.store import Store

SYMBOL_MM = 24  # a code without its quiet zone: three in a row stand 5 cm apart on either paper
PAGE_MARKS = ("clear", "almost", "missed", "not_tried")


def guide(
    plan: Plan, shelf: Shelf, store: Store, words: Words, page: Wording, language: str
) -> Data:
    """All of the guide. page: the wording of the pages, whose marks and rules it repeats; language:
    of both, and of the pages that its codes lead to."""
    return {
        "emblem": shelf.show(plan.emblem),
        "codes": list(_codes(plan, store, words, shelf.files, language)),
        "more": words["guide.more"],
        "sections": [section for section in _sections(plan, words, page) if section],
    }


def _codes(
    plan: Plan, store: Store, words: Words, files: dict[str, Path], language: str
) -> Iterator[Data]:
    """Today's code, then those of the steps that are practiced now, then of the easier ones."""
    if plan.code:
        name, note = words["guide.today"], words["guide.today_note"]
        yield _code(plan.code.for_language(language), name, note, store, words, files)
    steps = [(program, step) for program in plan.programs for step in program.steps]
    for program, step in sorted(steps, key=lambda one: not one[1].current):
        if step.code:
            note = words["guide.now" if step.current else "guide.earlier"]
            code, name = step.code.for_language(language), _named(plan, program, step, words)
            yield _code(code, name, note, store, words, files)


def _named(plan: Plan, program: PlannedProgram, step: PlannedStep, words: Words) -> str:
    told = words["guide.step_of" if len(plan.programs) > 1 else "guide.step"]
    name = spoken(clean(step.name))
    return breakable(told.format(sound=spoken(program.sound), name=name))


def _code(
    code: Code, name: str, note: str, store: Store, words: Words, files: dict[str, Path]
) -> Data:
    file = f"code-{code.key}.svg"
    files[file] = qr.make(code, store)[0]
    alt = words["code_alt"].format(address=code.address)
    mm = qr.printed_mm(files[file], SYMBOL_MM)
    return {"file": file, "alt": f"{plain(name)}. {alt}", "mm": mm, "name": name, "note": note}


def _sections(plan: Plan, words: Words, page: Wording) -> Iterator[Data]:
    steps = [step for program in plan.programs for step in program.steps if step.current]
    with_rounds = any(not step.passage for step in steps)
    passages = [step for step in steps if step.passage]
    scan = "scan" if plan.code else "scan_unpublished"
    yield _section(
        words["guide.tablet"],
        steps=[
            words[f"guide.tablet_steps.{scan}"],
            *(page[f"helper.sitting_steps.{name}"] for name in _on_the_page(with_rounds)),
            words["guide.tablet_steps.end"],
        ],
    )
    how = ("say_or_point", "wait", "mark") if with_rounds else ("sit",)
    yield _section(
        words["guide.paper"],
        steps=[
            words["guide.paper_steps.take"],
            *(words[f"how.{name}"] for name in how),
            words["guide.paper_steps.tick"],
        ],
    )
    if with_rounds:
        yield _section(words["guide.marks"], lines=_marks(page), after=words["guide.honest"])
        yield _section(words["guide.miss"], lines=_miss(plan, page))
    if passages:
        told = {words[f"task.{step.level}"]: spoken(clean(step.name)) for step in passages}
        lines = [{"name": name, "text": text} for text, name in told.items()]
        yield _section(words["passages"], lines=lines, after=words["slip"])
    for program in plan.programs:
        yield _mouth(plan, program, words, page)
    yield _section(
        words["guide.stop"],
        lines=[{"name": "", "text": page[f"helper.stop_text.{name}"]} for name in _STOP],
        after=page["helper.half"] if with_rounds else "",
    )
    yield _section(words["guide.care"], text=_care(plan, words), after=_asked(plan, words))


_STOP = ("tired", "cross", "falling")  # a hoarse voice stands among the cautions


def _on_the_page(with_rounds: bool) -> tuple[str, ...]:
    return ("face", "hear", "say", "mark") if with_rounds else ("face",)


def _marks(page: Wording) -> list[Data]:
    return [
        {"name": page[f"rounds.marks.{mark}"], "text": page[f"helper.marks.{mark}"]}
        for mark in PAGE_MARKS
    ]


def _miss(plan: Plan, page: Wording) -> list[Data]:
    reminder = next((clean(p.reminder) for p in plan.programs if p.reminder), "")
    one = len(plan.programs) == 1 and reminder
    again = "helper.miss_text.reminder" if one else "helper.miss_text.no_reminder"
    lines = (
        page["helper.miss_text.calm"],
        page["helper.miss_text.model"],
        page.fill(again, **({"reminder": spoken(breakable(reminder))} if one else {})),
        page["helper.miss_text.praise"],
    )
    return [{"name": "", "text": line} for line in lines]


def _mouth(plan: Plan, program: PlannedProgram, words: Words, page: Wording) -> Data:
    """Cues and reminder of a sound."""
    named = sound_line(program, words)
    lines = [
        {"name": words[f"cue.{name}"], "text": spoken(breakable(clean(text)))}
        for name, text in program.cues
    ]
    if program.reminder:
        name = words["reminder"].removesuffix(":")
        lines.append({"name": name, "text": spoken(breakable(clean(program.reminder)))})
    title = words["cues"] if len(plan.programs) == 1 else named
    section = _section(title, lines=lines, text="" if lines else words["no_cues"])
    return {**section, "mouth": printed_mouth(program, page)}


def _care(plan: Plan, words: Words) -> str:
    misses = max((program.misses for program in plan.programs), default=3)
    return words["cautions"].format(misses=misses)


def _asked(plan: Plan, words: Words) -> str:
    return " ".join([words["ask"], contact(plan)])


def contact(plan: Plan) -> str:
    """Whom a family asks, on one line."""
    given = plan.clinic.contact
    lines = (given.clinic, given.phone, given.email, given.hours)
    return BETWEEN.join(whole(clean(line)) for line in lines if line)


def _section(
    title: str,
    steps: list[str] | None = None,
    lines: list[Data] | None = None,
    text: str = "",
    after: str = "",
) -> Data:
    return {
        "title": title,
        "steps": steps or [],
        "lines": lines or [],
        "text": text,
        "after": after,
        "mouth": None,
    }
