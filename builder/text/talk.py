"""Where and with whom a talk is, as a family reads it.

The tool's own talks stand in the wording of each language; a program holds them in English. What a
therapist wrote keeps its words, and no word of another language is put between them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.text.wording import ENGLISH, spoken, wording


@dataclass(frozen=True)
class Situation:
    """key: of the sentence in the words; where, company: what it is filled in with; is_ours: both
    are in the language of the words, else as the program has them."""

    key: str
    where: str
    company: str
    is_ours: bool

    def in_words(self, words: Mapping[str, str]) -> str:
        """The sentence; what is in the program's own language stands between isolates."""
        keep = str if self.is_ours else spoken
        return words[self.key].format(where=keep(self.where), company=keep(self.company))


def situation(where: str, company: str, words: Mapping[str, str]) -> Situation:
    """A talk in these words, of pages or sheets, that hold `talk.` and what is under it."""
    place, people = _key("talk.where.", where), _key("talk.company.", company)
    if place and people:
        begins = words[place][:1].upper() + words[place][1:]
        return Situation("talk.situation", begins, words[people], is_ours=True)
    return Situation("talk.situation_written", where, company, is_ours=False)


def _key(head: str, text: str) -> str:
    """The key of one of our own places or people; "" for what somebody else wrote."""
    ours = wording(ENGLISH)
    return next((key for key in ours if key.startswith(head) and ours[key] == text), "")
