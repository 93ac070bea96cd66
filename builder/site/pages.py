"""Plan -> the text of every page, by the templates in site_templates/pages/. Pure but for reading
the templates. A page is one HTML element without Markdown in it, safe to lie in a Markdown file.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from builder.audio.voices import VOICES
from builder.audio.voices.suitability import GRADES, SoundForm, suitability_of
from builder.make.clips import Facts
from builder.make.mouth.told import mouth_drawing
from builder.model.clinic import Speaker
from builder.model.plan import Clip, Picture, Plan, PlannedProgram, PlannedStep
from builder.model.program import ERROR_KINDS
from builder.phonetics.inventory import sounds
from builder.site.blocks.ear import ear_data
from builder.site.blocks.embed import relative_address, script_json
from builder.site.blocks.hiss import hiss_data
from builder.site.blocks.practice import easier_step, step_page_data, today_data
from builder.site.blocks.reminder import reminder_data
from builder.site.blocks.visit import visit_data
from builder.site.editions import Edition, editions, others
from builder.site.voice_changes import voice_changes
from builder.text.templates import environment
from builder.text.wording import Wording

# Menu: key of the wording and address, seen from the top of the site.
MENU = (
    ("today", "."),
    ("sound", "sound/"),
    ("helper", "helper/"),
    ("print", "print/"),
    ("about", "about/"),
)
SHEET_FILE = "practice-sheet.pdf"  # the undated sheet, beside today's page
HISS_PAGES = ("sound", "helper")  # on which a loudspeaker can be checked: never in a sitting
SPOKEN_FORMS: tuple[SoundForm, ...] = ("alone", "long", "natural")

# Characters that no HTML may hold; Python-Markdown also keeps its own marks among them.
CONTROL_CHARACTERS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


@dataclass(frozen=True)
class Page:
    """One page. path: "" for today's, else a folder, as in "helper", "es/" and "es/helper"; html:
    one <div>; relative links set; language: one of the plan's `interface`."""

    path: str
    title: str
    description: str
    html: str
    language: str


def pages(plan: Plan, facts: Mapping[str, Facts]) -> tuple[Page, ...]:
    """Every page of the site in each of its languages; `facts` by the key of the clip. Raises
    KeyError without facts."""
    return tuple(page for one in editions(plan) for page in _pages(one, facts))


def _pages(one: Edition, facts: Mapping[str, Facts]) -> Iterator[Page]:
    plan, words = one.plan, one.w
    voices_of = partial(_voice_names, facts=facts)
    yield _today_page(one, facts)
    yield _page(
        one,
        "sound",
        "sound",
        (),
        table=sounds(),
        voices=voices_of(_sound_clips(plan)),
        mouths=[mouth_drawing(program, words) for program in plan.programs],
    )
    for program in plan.programs:
        for step in program.steps:
            yield _step_page(one, program, step, facts)
    yield _helper_page(one, facts)
    data = visit_data(plan, words, one.locale)
    yield _page(one, "visit", "visit", (), data=script_json(data))
    yield _page(one, "reminder", "reminder", (), data=script_json(reminder_data(plan, words)))
    yield _page(one, "print", "print", _pictures(_current(plan)), sheet_file=SHEET_FILE)
    yield _page(
        one,
        "about",
        "about",
        (),
        voices=voices_of(plan.practised),
        drawn=plan.drawn,
        speakers=_voice_summaries(plan, facts),
    )
    for name in plan.gone:
        yield _page(one, "gone", name, ())


def theme_settings(one: Edition) -> dict[str, Any]:
    """What the theme shows around every page of a language. Not escaped yet, but for `doubt`."""
    plan, w = one.plan, one.w
    words = {
        key: w.fill(f"frame.{key}", code=plan.client)
        for key in (
            "app",
            "skip",
            "home",
            "nav",
            "ask",
            "phone",
            "email",
            "missing",
            "missing_text",
        )
    }
    return {
        "code": plan.client,
        "slug": plan.slug,
        "site": w.fill("frame.site", code=plan.client),
        "locale": one.locale,
        "folder": one.folder,
        "others": [dict(other) for other in others(one)],
        "emblem": plan.emblem.path if plan.emblem else "",
        "icon": plan.emblem.path if plan.emblem else "assets/favicon.svg",
        "contact": plan.clinic.contact.model_dump(),
        "nav": [{"title": w[f"nav.{name}"], "path": path} for name, path in MENU],
        "words": words,
        "doubt": str(one.caution("frame.doubt")),
    }


def _today_page(one: Edition, facts: Mapping[str, Facts]) -> Page:
    now = _current(one.plan)
    data = today_data(one.plan, facts, one.w, one.top(""))
    changes = any(voice_changes(step, facts) for step in now)
    return _page(one, "today", "", _pictures(now), data=script_json(data), changes=changes)


def _step_page(
    one: Edition, program: PlannedProgram, step: PlannedStep, facts: Mapping[str, Facts]
) -> Page:
    if step.passage:
        return _passage_page(one, program, step)
    data = step_page_data(one.plan, program, step, facts, one.w, one.top(step.id))
    return _page(
        one,
        "step",
        step.id,
        _pictures([step]),
        names={"sound": step.sound, "step": step.name},
        program=program,
        step=step,
        easier=easier_step(program, step),
        voices=_voice_names(_step_clips(step), facts),
        changes=bool(voice_changes(step, facts)),
        data=script_json(data),
    )


def _passage_page(one: Edition, program: PlannedProgram, step: PlannedStep) -> Page:
    """The page of a step past sentences: nothing is played there."""
    return _page(
        one,
        "passage",
        step.id,
        (),
        names={"sound": step.sound, "step": step.name},
        program=program,
        step=step,
        easier=easier_step(program, step),
    )


def _helper_page(one: Edition, facts: Mapping[str, Facts]) -> Page:
    ear = ear_data(one.plan, facts, one.top("helper"), one.w)
    return _page(
        one,
        "helper",
        "helper",
        (),
        errors=ERROR_KINDS,
        voices=_voice_names(_wrong_clips(one.plan), facts),
        ear=script_json(ear) if ear else "",
    )


def _page(
    one: Edition,
    kind: str,
    path: str,
    shown: Iterable[Picture],
    names: Mapping[str, str] | None = None,
    **values: Any,
) -> Page:
    plan, w, names = one.plan, one.w, names or {}
    title = w.fill(f"{kind}.title", **names)
    pictures = (*shown, *([plan.emblem] if plan.emblem else []))
    root = "../" if path else "./"
    hiss = hiss_data(plan, one.top(path), w) if kind in HISS_PAGES else None
    html = (
        environment("pages")
        .get_template(f"{kind}.html")
        .render(
            plan=plan,
            kind=kind,
            root=root,
            title=title,
            hiss=script_json(hiss) if hiss else "",
            drawings=any(p.kind == "drawing" for p in pictures),
            w=w,
            fill=w.fill,
            told=one.told,
            situation=one.situation,
            sitting=one.sitting,
            count=w.count,
            caution=one.caution,
            drafted=one.english is not None,
            locale=one.locale,
            language=one.language,
            spoken=one.spoken,
            href=partial(relative_address, root=root),
            file=one.files(path),
            where=_positions_phrase(w),
            **values,
        )
    )
    description = w.fill(f"{kind}.description", **names)
    return Page(one.folder + path, title, description, _markdown_safe(html), one.language)


def _positions_phrase(w: Wording) -> Callable[[Iterable[str]], str]:
    joint = f" {w['positions.joint']} "
    return lambda positions: joint.join(w[f"positions.{p}"] for p in positions)


def _markdown_safe(html: str) -> str:
    """One element that Markdown leaves as it is: no empty line, no character it may change."""
    lines = (line.strip() for line in CONTROL_CHARACTERS.sub("", html).split("\n"))
    return "\n".join(line for line in lines if line).replace("`", "&#96;")


def _current(plan: Plan) -> list[PlannedStep]:
    """What is practiced now."""
    return [step for program in plan.programs for step in program.steps if step.current]


def _pictures(steps: Iterable[PlannedStep]) -> tuple[Picture, ...]:
    return tuple(i.picture for step in steps for i in step.said if i.picture)


def _step_clips(step: PlannedStep) -> tuple[Clip, ...]:
    both = (*((item.natural, item.long) for item in step.said), *step.paired)
    return tuple(clip for pair in both for clip in pair if clip)


def _wrong_clips(plan: Plan) -> tuple[Clip, ...]:
    return tuple(clip for p in plan.programs for _, *both in p.wrong for clip in both)


def _sound_clips(plan: Plan) -> tuple[Clip, ...]:
    return tuple(clip for p in plan.programs for clip in [p.alone or _sample(p)] if clip)


def _sample(program: PlannedProgram) -> Clip | None:
    words = (i.natural for s in program.steps if s.level == "word" for i in s.items)
    return next(filter(None, words), None)


def _voice_names(clips: Iterable[Clip], facts: Mapping[str, Facts]) -> tuple[str, ...]:
    """Which voices speak: their names, of those of this computer one, since the same is said of
    them; or what is said of recordings and a machine together."""
    voices = {facts[clip.key].voice for clip in clips}
    machine = {voice for voice in voices if VOICES[voice].synthetic}
    if machine and machine < voices:
        return ("mixed",)
    named = [v for v in VOICES if v in voices]
    local = [v for v in named if VOICES[v].synthetic and not VOICES[v].sends]
    return tuple(v for v in named if v not in local[1:])


@dataclass(frozen=True)
class VoiceSummary:
    """A voice of the site, for the page that tells about it.

    sounds: (sound, what it is said in, what the voice is for it): model or stand-in.
    """

    name: str
    licence: str
    sends: str
    sounds: tuple[tuple[str, str, str], ...]


def _voice_summaries(plan: Plan, facts: Mapping[str, Facts]) -> tuple[VoiceSummary, ...]:
    used = {facts[clip.key].voice for clip in plan.clips}
    return tuple(
        VoiceSummary(
            name,
            VOICES[name].licence,
            VOICES[name].sends,
            tuple(_sound_kinds(plan, name, facts)),
        )
        for name in VOICES
        if name in used
    )


def _sound_kinds(
    plan: Plan, name: Speaker, facts: Mapping[str, Facts]
) -> Iterator[tuple[str, str, str]]:
    """What a voice is for the sounds and forms that it speaks on this site."""
    for program in plan.programs:
        spoken = [(c, at) for c, at in _clip_positions(program) if facts[c.key].voice == name]
        for form in SPOKEN_FORMS:
            kinds = {
                suitability_of(name, program.symbol, form, position).grade
                for clip, position in spoken
                if form == ("alone" if clip.alone else clip.form)
            }
            if kinds:  # the least of them
                yield program.sound, form, max(kinds, key=GRADES.index)


def _clip_positions(program: PlannedProgram) -> Iterator[tuple[Clip, str]]:
    """Every clip with the position of its target, "" for the sound by itself."""
    for step in program.steps:
        for item in step.said:
            yield from ((clip, item.position) for clip in (item.natural, item.long) if clip)
    if program.alone:
        yield program.alone, ""
