"""Plans of every kind that a sheet must hold, by name. Words and codes are our own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from builder.make import drawings
from builder.model.clinic import DAYS, TIMES, Clinic, Contact
from builder.model.fill_sitting import filled
from builder.model.plan import Code, Plan, PlannedItem, PlannedStep
from builder.planning.make_plan import SiteContext, make
from tests.support import plans
from tests.support.alone import DRAWN, egret
from tests.support.past_sentences import HERON, heron

ADDRESS = f"https://practice.example.org/{plans.SLUG}/"
CODE = Code("c" * 32, "codes/site", ADDRESS, "site")
LIST = """
key cow cup comb cave cage coin car cake can corn cat kite kiwi koala kangaroo candle camel castle
coat cookie carrot king kitchen curtain cabin canoe cactus candy kitten"""
WORDS = tuple(LIST.split())
PAIRS = (("key", "tea"), ("coat", "goat"), ("car", "jar"), ("corn", "horn"), ("cane", "chain"))
LONG = ("Wolfeschlegelstein", "W" * 40, "the hippopotamus's caravan", "@" * 23)
SENTENCES = tuple(f"I can see {n} cows and one camel by the castle." for n in range(1, 31))
WEEKS = {1: "2026-12-14", 2: "2026-12-21", 5: "2027-01-11"}  # from Monday, December 7, 2026


def clinic(paper: str = "letter", contact: Contact | None = None, counts: bool = False) -> Clinic:
    """A clinic file with this paper and these wishes."""
    chosen = contact or Contact(clinic="Riverside Speech Clinic", phone="555 0134")
    sheet = {"counts": counts}
    return Clinic.model_validate({"clinic": 1, "contact": chosen, "paper": paper, "sheet": sheet})


def items(words: Iterable[str]) -> tuple[PlannedItem, ...]:
    """Items with the drawings that there are."""
    found = [(word, drawings.find(word)) for word in words]
    return tuple(
        plans.item(f"i{n}", ((word, False),), plans.drawing(d.code, word) if d else None)
        for n, (word, d) in enumerate(found)
    )


def with_steps(plan: Plan, steps: Iterable[PlannedStep]) -> Plan:
    """The plan with these current steps after its easier one, and the pictures they show."""
    first = plan.programs[0]
    program = replace(first, steps=(first.steps[0], *steps))
    shown = {i.picture.key: i.picture for s in program.steps for i in s.said if i.picture}
    pictures = (*shown.values(), *((plan.emblem,) if plan.emblem else ()))
    return replace(plan, programs=(program, *plan.programs[1:]), pictures=pictures)


def plan_of(words: Iterable[str], **changes: Any) -> Plan:
    """A plan whose current step has these words, with a code."""
    plan = plans.plan()
    step = plan.programs[0].steps[1]
    given = items(words)
    tries = len(given) * sum(one.times for one in step.rounds)
    made = with_steps(plan, [replace(step, items=given, tries=tries)])
    return replace(made, **{"code": CODE, **changes})


def contrast(pairs: Iterable[tuple[str, str]] = PAIRS, **changes: Any) -> Plan:
    """A step of pairs: its words after a model, then the game."""
    given = tuple(pairs)
    said = items([word for pair in given for word in pair])
    both = tuple(zip(said[::2], said[1::2], strict=True))
    plan = plan_of([], **changes)
    rounds = (
        plans.round_(1, "natural", "imitation"),
        replace(plans.round_(2, "natural", "spontaneous", times=2), contrast=True),
    )
    step = replace(
        plan.programs[0].steps[1],
        items=said[::2],
        others=said[1::2],
        pairs=tuple((one.id, other.id) for one, other in both),
        rounds=rounds,
        tries=len(both) * 3,
    )
    return with_steps(plan, [step])


def three_sounds() -> Plan:
    """Three programs of one client."""
    plan = plan_of(WORDS[:8])
    k, sh = plan.programs[0], plans.program_sh()
    third = replace(k, sound="g", symbol="G", ipa="ɡ", example="goat", cues=(), reminder="")
    third = replace(
        third, steps=(replace(k.steps[1], sound="g", easier="", items=items(["goat"])),)
    )
    programs = (k, sh, third)
    pictures = {
        i.picture.key: i.picture for p in programs for s in p.steps for i in s.items if i.picture
    }
    return replace(plan, programs=programs, pictures=(*plan.pictures, *pictures.values()))


def twelve_steps() -> Plan:
    """Twelve current steps of six words each."""
    step = plan_of(WORDS[:6]).programs[0].steps[1]
    steps = (
        replace(step, id=f"step-{n}", name=f"words {n}", items=items(WORDS[n : n + 6]), tries=18)
        for n in range(12)
    )
    return with_steps(plan_of([]), steps)


def alone() -> Plan:
    """An adult who practices alone."""
    client = filled(egret())
    return replace(make(client, DRAWN, SiteContext(plans.SLUG, {"embedded": "1"})), code=CODE)


CUES = """cues:
  tongue: The tip is up behind the top teeth and stays inside. Its sides touch the upper teeth.
  lips: Smile a little.
  air: A thin stream of air goes out over the middle of the tongue.
  voice: "Off. Put a hand on the throat and feel nothing."
"""


def all_tasks() -> Plan:
    """Words, a text, a story and a talk of ours, all of them now, and every cue."""
    text = HERON.replace("current: [", "current: [words, ")
    plan = heron(text.replace("At dinner, with: Grandpa", "at dinner, with: the family") + CUES)
    return replace(plan, code=CODE, dates=("2026-12-07", "2026-12-21"))


def weeks(number: int, **changes: Any) -> Plan:
    """A plan of eight words until a visit in so many weeks."""
    return plan_of(WORDS[:8], **{"dates": ("2026-12-07", WEEKS[number]), **changes})


CASES: dict[str, Callable[[], Plan]] = {
    "one-week": lambda: weeks(1),
    "two-weeks": lambda: weeks(2),
    "five-weeks": lambda: weeks(5, times=TIMES[:3], days=DAYS),
    "weeks-in-pairs": lambda: weeks(5),
    "counts": lambda: weeks(2, times=TIMES[:3], days=DAYS, clinic=clinic(counts=True)),
    "three-sounds": three_sounds,
    "thirty-words": lambda: plan_of(WORDS),
    "thirty-sentences": lambda: plan_of(SENTENCES),
    "twelve-steps": twelve_steps,
    "contrast": contrast,
    "alone": alone,
    "no-pictures": lambda: replace(plan_of(WORDS[:12]), pictures=(), emblem=None, code=None),
    "long-words": lambda: plan_of(LONG, dates=("", "")),
    "past-sentences": lambda: replace(heron(), code=CODE, dates=("2026-12-07", "2026-12-21")),
    "all-tasks": all_tasks,
    "all-at-once": lambda: plan_of(WORDS, times=TIMES, days=DAYS, clinic=clinic(counts=True)),
}


def on_paper(plan: Plan, paper: str) -> Plan:
    """The plan for this paper."""
    clinic = plan.clinic.model_copy(update={"paper": paper})
    return replace(plan, clinic=clinic)
