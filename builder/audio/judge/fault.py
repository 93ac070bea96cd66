"""What is wrong with a finished clip: one fault, its sentence and its figure."""

from __future__ import annotations

from typing import NamedTuple


class Fault(NamedTuple):
    """One fault. rule: its name; sentence: for a therapist; figure: what was measured."""

    rule: str
    sentence: str
    figure: str

    def __str__(self) -> str:
        return f"{self.sentence.rstrip('.')} ({self.figure})."
