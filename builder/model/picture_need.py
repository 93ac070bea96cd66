"""A word that practice shows: its picture, and which clients need one how much."""

from __future__ import annotations

from dataclasses import dataclass

from builder.model.plan import Picture


@dataclass(frozen=True)
class Need:
    """A client who practices a word. now: in a step that is published; reads: shown in print where
    there is no picture."""

    client: str
    now: bool
    reads: bool


@dataclass(frozen=True)
class PictureNeed:
    """A word, what it shows (None: nothing), and who needs it; each client once."""

    word: str
    picture: Picture | None
    needs: tuple[Need, ...]

    @property
    def rank(self) -> tuple[int, int, int, str]:
        """The most needed first: by clients who do not read and practice it now, then those who do
        not read, then all."""
        pressing = sum(need.now and not need.reads for need in self.needs)
        unread = sum(not need.reads for need in self.needs)
        return -pressing, -unread, -len(self.needs), self.word
