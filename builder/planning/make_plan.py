"""Client -> Plan. Pure: what lies on the disk comes in by the survey, the voices' versions and
the site's name by `SiteContext`."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, replace
from typing import Literal, TypeVar

from builder.model.clinic import DAYS
from builder.model.dose import (
    family_minutes,
    is_young,
    likes_a_path,
    planned_days,
    planned_minutes,
    sitting_minutes,
    sitting_tries,
)
from builder.model.pause import Pause, first_practice_day, merged
from builder.model.plan import Clip, Picture, Plan, PlannedProgram, PlannedStep
from builder.model.program import Client, Role
from builder.planning.one_voice import Said, speaker_of
from builder.planning.plan_clips import ClipPlanner, clips_of, heard, with_clips
from builder.planning.plan_pictures import emblem_of, with_drawings
from builder.planning.plan_programs import code_of, planned_program
from builder.survey.survey import Survey

# Their friction lies above 3 kHz, where small loudspeakers and bad connections fall off: Jongman,
# Wayland & Wong 2000, JASA 108(3):1252-1263, cited from memory.
HIGH_SOUNDS = frozenset({"S", "Z", "SH", "ZH", "CH", "JH", "F", "TH"})

T = TypeVar("T")


@dataclass(frozen=True)
class SiteContext:
    """What the plan takes from outside, so that it stays pure.

    slug:     the site's name.
    versions: of each voice that can speak here, part of the content keys.
    """

    slug: str
    versions: Mapping[str, str]


def make(client: Client, survey: Survey, context: SiteContext, said: Said | None = None) -> Plan:
    """Everything the client's site needs. said: who speaks in the clips that were made before."""
    base = client.clinic.base_url.rstrip("/")
    address = f"{base}/{context.slug}/" if base else ""
    planners = [
        ClipPlanner(client, p, survey, context.versions, said or {}) for p in client.programs
    ]
    programs = tuple(planned_program(p.program, survey, p, address) for p in planners)
    hissing = (p.hiss() for p in planners if p.program.sound.symbol in HIGH_SOUNDS)
    hiss = next(filter(None, hissing), None)
    steps = [step for program in programs for step in program.steps]
    path = _has_path(client)
    praise = planners[0].praise() if path and not client.practises_alone else None
    emblem = emblem_of(client.code, with_drawings(survey, client))
    first = client.programs[0]
    return Plan(
        client=client.code,
        slug=context.slug,
        address=address,
        clinic=client.clinic,
        language=client.clinic.language,
        emblem=emblem,
        programs=programs,
        times=client.times_of(),
        days=client.days_of(),
        by_role=_by_role(client, client.days_of),
        times_by_role=_by_role(client, client.times_of),
        tries=sitting_tries(client.programs),
        minutes=family_minutes(client.programs),
        whole_minutes=sitting_minutes(client.programs),
        planned_minutes=planned_minutes(client.programs),
        planned_days=planned_days(client.programs),
        paced=first.written.age is not None and not is_young(first.written.age),
        helper=client.helpers[0],
        other_helpers=client.helpers[1:],
        interface=client.interface,
        reads=first.written.reads,
        clips=_clips(programs, praise, *(hiss or ())),
        pictures=_pictures(steps, emblem),
        code=code_of(address, "", "site", "site", client.interface) if address else None,
        gone=_gone(survey, steps),
        dates=_dates(client),
        pauses=_pauses(client),
        hiss=hiss,
        path=path,
        praise=praise,
    )


def as_planned(plan: Plan, before: Said, said: Said) -> bool:
    """Whether its clips are spoken as it was taken for granted when it was made.

    before: who spoke in those that were made by then; said: in all that are made now.
    """
    return all(speaker_of(clip, before) == speaker_of(clip, said) for clip in plan.clips)


def without_missing(plan: Plan, made: Container[str]) -> Plan:
    """The plan as it is heard: without the clips that no voice could make, and with others for
    those whose service does not speak now (`made`: keys of what there is)."""
    if all(clip.key in made for clip in plan.clips):
        return plan
    clips = tuple(dict.fromkeys(filter(None, (heard(clip, made) for clip in plan.clips))))
    programs = tuple(with_clips(program, made) for program in plan.programs)
    hiss = plan.hiss if plan.hiss and all(clip.key in made for clip in plan.hiss) else None
    praise = heard(plan.praise, made) if plan.praise else None
    return replace(plan, clips=clips, programs=programs, hiss=hiss, praise=praise)


def _clips(programs: tuple[PlannedProgram, ...], *others: Clip | None) -> tuple[Clip, ...]:
    """Every clip once."""
    said = (clip for program in programs for clip in clips_of(program))
    return tuple(dict.fromkeys((*said, *filter(None, others))))


def _has_path(client: Client) -> bool:
    """Whether sittings lay stones: as a program says, the first that does, else as the clinic
    does, where it suits the age and somebody helps."""
    for program in client.programs:
        if program.written.path is not None:
            return program.written.path
    suits = likes_a_path(client.programs[0].written.age) and not client.practises_alone
    return client.clinic.path and suits


def _by_role(client: Client, of: Callable[[Role], T]) -> tuple[tuple[Role, T], ...]:
    """The days or the times of each who listens; () where they are the same for all."""
    each = tuple((role, of(role)) for role in client.helpers)
    return each if len({own for _, own in each}) > 1 else ()


def _pauses(client: Client) -> tuple[Pause, ...]:
    return merged(client.clinic.pause, *(p.written.pause for p in client.programs))


def _dates(client: Client) -> tuple[str, str]:
    """The first day of practice from the start on, and the visit: the earlier ones of all programs
    in ISO form, "" where none gives it."""
    start, visit = _earliest("start", client), _earliest("visit", client)
    if start:
        weekdays = {DAYS.index(day) for day in client.days_of()}
        start = first_practice_day(start, visit, weekdays, _pauses(client))
    return str(start or ""), str(visit or "")


def _earliest(date: Literal["start", "visit"], client: Client) -> datetime.date | None:
    dates = (getattr(program.written.practice, date) for program in client.programs)
    return min((d for d in dates if d), default=None)


def _pictures(steps: list[PlannedStep], emblem: Picture | None) -> tuple[Picture, ...]:
    shown = [item.picture for step in steps for item in step.said]
    return tuple(dict.fromkeys(picture for picture in (*shown, emblem) if picture))


def _gone(survey: Survey, steps: list[PlannedStep]) -> tuple[str, ...]:
    ids = {step.id for step in steps}
    return tuple(name for name in survey.gone if name not in ids)
