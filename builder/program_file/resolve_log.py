"""What is noticed while one program is resolved: faults, advice, and defaults that were used."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from builder.model.clinic import DAYS, TIMES, Clinic, Day, Time
from builder.model.program import ProgramFile, Role
from builder.phonetics.inventory import Sound, UnknownSoundError, parse_sound
from builder.problems import Finding, KeyPath, Place, not_yet, place_at


class Log:
    """Gathers findings and the defaults that were used while one program is resolved.

    faults: end the way; noted: travel with the program. last: the index of the last step that is
    published; None while that is not known, when everything counts.
    """

    def __init__(self, file: str, places: Mapping[KeyPath, Place]) -> None:
        self.file, self.places = file, places
        self.faults: list[Finding] = []
        self.noted: list[Finding] = []
        self.defaults: list[str] = []
        self.last: int | None = None

    def fault(self, path: KeyPath, rule: str, sentence: str, remedy: str) -> None:
        """What must be put right before anything else."""
        place = place_at(self.places, path, self.file)
        self.faults.append(Finding(place, rule, "fault", sentence, remedy))

    def item_fault(self, at: int, path: KeyPath, rule: str, sentence: str, remedy: str) -> None:
        """A fault in what step `at` practises: advice while the step is not published."""
        self.fault(path, rule, sentence, remedy)
        if self.last is not None and at > self.last:
            self.noted.append(not_yet(self.faults.pop()))


def own_sound(typed: str, sound: Sound, path: KeyPath, log: Log) -> Sound:
    """The sound of a step: the program's, or another one of its family, the vowels with r."""
    try:
        own = parse_sound(typed) if typed else sound
    except UnknownSoundError as question:
        log.fault(path, "sound", f"{question}.", "Write one of these after `sound:`.")
        return sound
    if own == sound or own.kind == sound.kind == "rhotic":
        return own
    log.fault(
        path,
        "sound",
        f"`{typed}` cannot be practiced in a program for /{sound.ipa}/: only vowels with r share "
        "one.",
        "Write a file of its own for each sound.",
    )
    return sound


def usual_days(written: ProgramFile, clinic: Clinic) -> tuple[Day, ...]:
    """The days of all who have none of their own."""
    usual = written.practice.days or clinic.days
    return tuple(day for day in DAYS if day in usual)


def usual_times(written: ProgramFile, clinic: Clinic) -> tuple[Time, ...]:
    """The sittings of a day of all who have none of their own."""
    usual = written.practice.times or clinic.times
    return tuple(time for time in TIMES if time in usual)


def days_by_role(written: ProgramFile, clinic: Clinic) -> Mapping[Role, tuple[Day, ...]]:
    """The days of each who listens, in the order of `helper:`; {} where they are the same for
    all."""
    own, usual = written.practice.own_days, usual_days(written, clinic)
    each = {role: tuple(d for d in DAYS if d in own.get(role, usual)) for role in written.helper}
    return each if own else {}


def times_by_role(written: ProgramFile, clinic: Clinic) -> Mapping[Role, tuple[Time, ...]]:
    """The same of the times of each."""
    own, usual = written.practice.own_times, usual_times(written, clinic)
    each = {role: tuple(t for t in TIMES if t in own.get(role, usual)) for role in written.helper}
    return each if own else {}


def own_practice(written: ProgramFile, log: Log) -> None:
    """Days and times of one who listens hold for somebody, and so do those for all."""
    practice, helpers = written.practice, tuple(dict.fromkeys(written.helper))
    for role, own in practice.own.items():
        has = " and ".join(key for key in ("days", "times") if getattr(own, key))
        if not has:
            log.fault(
                ("practice", role),
                "value",
                f"`{role}` says neither days nor times.",
                f"Write one of them, as in `{role}: {{times: [midday]}}`, or delete `{role}:`.",
            )
        elif role not in helpers:
            log.fault(
                ("practice", role),
                "value",
                f"`{role}` has {has} of its own and is not among those who listen.",
                f"Name it, as in `helper: [{', '.join((*helpers, role))}]`, or delete its {has}.",
            )
    for key, each in (("days", practice.own_days), ("times", practice.own_times)):
        if getattr(practice, key) and each.keys() >= {*helpers}:
            log.fault(
                ("practice", key),
                "value",
                f"These {key} hold for nobody: each of those who listen has {key} of its own.",
                f"Delete `{key}:`, or the {key} of one of them.",
            )


def uses_the_clinics(written: ProgramFile, key: Literal["days", "times"]) -> bool:
    """Whether the clinic's days, or times, hold for anybody."""
    practice = written.practice
    own = {role for role, one in practice.own.items() if getattr(one, key)}
    return not getattr(practice, key) and not own >= {*written.helper}
