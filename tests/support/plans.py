"""Plans made by hand, for tests of what comes after the plan. Words and codes are our own."""

from __future__ import annotations

from builder.make.clips import Facts
from builder.model.clinic import Clinic, Contact
from builder.model.criteria import Criteria
from builder.model.plan import (
    Clip,
    Picture,
    Plan,
    PlannedItem,
    PlannedProgram,
    PlannedRound,
    PlannedStep,
)
from builder.model.program import Form, Level, Show, Support
from builder.phonetics.position import Position

SLUG = "7k2mz9qd4wthc"


FACTS = Facts(
    duration=0.62,
    start=0.08,
    end=0.17,
    spectral_mean=2410.0,
    peak=-1.0,
    loudness=-20.0,
    loudness_kind="LUFS",
    voice="embedded",
    instead="",
    verdict="good",
    issues=(),
    bandwidth=9800.0,
    score=None,
    pace="120 words a minute",
    rate=22050,
    size=3120,
)


def clip(name: str, form: Form = "natural", alone: bool = False) -> Clip:
    """A clip by name; its key is made of it."""
    key = f"{name}-{form}"
    return Clip(
        key=key,
        path=f"clips/{key}.mp3",
        text=name,
        words=(("K", "IY1"),),
        focus=(0, 0, 1),
        form=form,
        alone=alone,
        hold=1.5,
        voice="embedded",
    )


def drawing(code: str, alt: str) -> Picture:
    """An OpenMoji drawing by its code points."""
    return Picture(f"d{code}", f"pictures/{code}.svg", "drawing", code, alt)


def item(
    name: str,
    letters: tuple[tuple[str, bool], ...],
    picture: Picture | None = None,
    long: bool = False,
    position: Position = "initial",
) -> PlannedItem:
    """An item; its text is what its letters spell."""
    text = "".join(part for part, _ in letters)
    held = clip(name, "long") if long else None
    return PlannedItem(
        id=name,
        text=text,
        letters=letters,
        ipa="ki",
        position=position,
        picture=picture,
        natural=clip(name),
        long=held,
    )


def round_(
    number: int, form: Form, support: Support, show: Show = "both", times: int = 1
) -> PlannedRound:
    """A round with the id that the planner would give."""
    return PlannedRound(f"{number}-{form}-{support}", form, support, show, times)


def step(
    name: str,
    level: Level,
    sound: str,
    rounds: tuple[PlannedRound, ...],
    items: tuple[PlannedItem, ...],
    current: bool = True,
    easier: str = "",
) -> PlannedStep:
    """A published step; its tries are counted from its rounds."""
    tries = len(items) * sum(r.times for r in rounds)
    return PlannedStep(
        id=f"{sound}-{name.replace(' ', '-')}",
        name=name,
        level=level,
        sound=sound,
        positions=("initial",),
        current=current,
        easier=easier,
        rounds=rounds,
        items=items,
        tries=tries,
        code=None,
    )


def program_k() -> PlannedProgram:
    """/k/ at the start: syllables done before, words now."""
    syllables = tuple(
        item(name, (("k", True), (rest, False)))
        for name, rest in (("kee", "ee"), ("kah", "ah"), ("koo", "oo"))
    )
    words = (
        item("key", (("k", True), ("ey", False)), drawing("1F511", "key")),
        item("cow", (("c", True), ("ow", False)), drawing("1F404", "cow")),
        item("cup", (("c", True), ("up", False)), drawing("1F964", "cup")),
        item("coin", (("c", True), ("oin", False)), drawing("1FA99", "coin")),
        item("cave", (("c", True), ("ave", False))),
    )
    rounds = (
        round_(1, "natural", "imitation"),
        round_(2, "natural", "delayed"),
        round_(3, "natural", "spontaneous", "picture"),
    )
    vowel = step("with a vowel", "syllable", "k", rounds[:1], syllables, current=False)
    return PlannedProgram(
        sound="k",
        symbol="K",
        ipa="k",
        example="kite",
        alone=None,
        error="t",
        reminder="Back of the tongue",
        cues=(
            ("tongue", "The back of the tongue goes up and touches far back."),
            ("voice", "Off. A short puff of air."),
        ),
        steps=(vowel, step("words", "word", "k", rounds, words, easier=vowel.id)),
        misses=3,
        criteria=Criteria(),
    )


def program_sh() -> PlannedProgram:
    """/ʃ/ alone and in words, long and natural."""
    alone = item("sh", (("sh", True),), long=True)
    words = tuple(
        item(name, ((name[:-2], False), ("sh", True)), picture, long=True, position="final")
        for name, picture in (
            ("fish", drawing("1F41F", "fish")),
            ("brush", drawing("1FAA5", "brush")),
            ("wish", None),
            ("push", None),
            ("dish", drawing("1F37D", "dish")),
            ("rush", None),
            ("wash", None),
        )
    )
    holding = round_(1, "long", "imitation", times=5)
    sound = step("the sound", "isolation", "sh", (holding,), (alone,), current=False)
    rounds = (round_(1, "long", "imitation"), round_(2, "natural", "spontaneous"))
    return PlannedProgram(
        sound="sh",
        symbol="SH",
        ipa="ʃ",
        example="ship",
        alone=clip("sh", "long", alone=True),
        error="lateral",
        reminder="",
        cues=(),
        steps=(sound, step("final words", "word", "sh", rounds, words, easier=sound.id)),
        misses=2,
        criteria=Criteria(),
    )


def plan(*programs: PlannedProgram, gone: tuple[str, ...] = ("k-old-step",)) -> Plan:
    """A whole plan; without programs the one for /k/."""
    chosen = programs or (program_k(),)
    emblem = drawing("1F9A6", "otter")
    items = [i for p in chosen for s in p.steps for i in s.items]
    clips = {c.key: c for i in items for c in (i.natural, i.long) if c}
    clips |= {p.alone.key: p.alone for p in chosen if p.alone}
    hiss = (clip("s", "long", alone=True), clip("sh", "long", alone=True))
    hissing = any(program.symbol == "SH" for program in chosen)
    clips |= {c.key: c for c in hiss if hissing and c.key not in clips}
    pictures = {p.key: p for p in (emblem, *(i.picture for i in items)) if p}
    contact = Contact(
        clinic="Riverside Speech Clinic",
        phone="+1 (555) 010 7788",
        email="hello@riverside.example",
        hours="Monday to Thursday, 9 to 4",
    )
    clinic = Clinic(clinic=1, contact=contact)
    return Plan(
        client="otter-07",
        slug=SLUG,
        address=f"https://practice.example.org/{SLUG}/",
        clinic=clinic,
        language="en-US",
        emblem=emblem,
        programs=chosen,
        times=("morning", "evening"),
        days=("mon", "tue", "wed", "thu", "fri"),
        tries=sum(s.tries for p in chosen for s in p.steps if s.current),
        minutes=5,
        whole_minutes=5,
        helper="home",
        reads=False,
        clips=tuple(clips.values()),
        pictures=tuple(pictures.values()),
        code=None,
        gone=gone,
        dates=("2026-12-07", "2026-12-14"),
        hiss=hiss if hissing else None,
    )


def facts(of: Plan) -> dict[str, Facts]:
    """Facts for every clip of a plan."""
    return {each.key: FACTS for each in of.clips}
