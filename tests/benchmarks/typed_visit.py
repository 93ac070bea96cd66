"""A visit that is typed (`month.py`): answers to what is asked, and how many keys that took, beside
the same on one line and the same edit by hand."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field
from difflib import SequenceMatcher

MAKE = "practice-site build heron-21\npractice-site print heron-21\n"


@dataclass
class Typed:
    """Answers to what is asked, and what was said until then; keys are counted."""

    out: io.StringIO
    answers: dict[str, str]
    on: str = ""  # to be typed where moving on is proposed
    easier: str = ""  # how the easier step went, where stepping back is
    keys: int = 0
    given: dict[str, str] = field(default_factory=dict)

    def answer(self, question: str) -> str:
        """Type the answer that begins with what the question does. Whether to go on is read off
        the proposal, as a therapist would."""
        print(question, end="")
        asked = next((one for one in self.answers if question.startswith(one)), "")
        twice = "Said without"  # of what was practiced, and of what was tried
        if self.given.get(asked) and asked not in (
            "",
            twice,
        ):  # an answer that cannot be is asked for again
            raise AssertionError(f"{self.said()}\n{asked}: {self.given[asked]!r} is refused")
        text = self.answers.get(asked, "")
        if asked == "Step to practice next":
            told = re.findall(r"(Propose moving on|Propose stepping back|Propose)", self.said())
            text = {"Propose moving on": self.on, "Propose stepping back": "back"}.get(
                told[-1] if told else "", ""
            )
            if text == "back":
                self.answers["How '"] = self.easier
        self.given[asked] = text
        self.keys += len(text) + 1
        print(text)
        return text

    def said(self) -> str:
        """Everything until now."""
        return self.out.getvalue()


OPTIONS = {
    "Score": "--score",
    "Which step": "--step",
    "Step to practice next": "--to",
    "How '": "--tried",
    "Words that go": "--drop",
    "Words that come": "--add",
    "Next visit": "--next",
    "Note": "--note",
}


def one_line(typed: Typed) -> int:
    """Keys of the same visit typed as options."""
    words = ["practice-site visit heron-21 --make"]
    words += [f"{OPTIONS[a]} {text}" for a, text in typed.given.items() if a in OPTIONS and text]
    words += ["--no-model"] if typed.given.get("Said without") else []
    return len(" ".join(words)) + len("\ny\n")


def by_hand(before: str, after: str) -> int:
    """Signs to type and to delete that make one text of the other, then build and print."""
    changes = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    edited = sum(i2 - i1 + j2 - j1 for tag, i1, i2, j1, j2 in changes if tag != "equal")
    return edited + len(MAKE)
