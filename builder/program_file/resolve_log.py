"""What is noticed while one program is resolved: faults, advice, and defaults that were used."""

from __future__ import annotations

from collections.abc import Mapping

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
