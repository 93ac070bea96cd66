"""What is noticed while one program is resolved: faults, advice, and defaults that were used."""

from __future__ import annotations

from collections.abc import Mapping

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
