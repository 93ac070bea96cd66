"""Eight invented clients of a month (`month.py`): how each one's program is drafted, what a
therapist fills in, how the client learns. Codes, words and numbers are our own scenario."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from builder.model.program import Role

Program = tuple[str, tuple[str, ...], Mapping[str, str]]
"""The file, what follows `new CODE`, and what is filled in by regular expressions."""


@dataclass(frozen=True)
class Invented:
    """able, gain, helper: see Learner. diligent: share of planned sittings that are done. roles:
    who listens in the morning and in the evening. missing: the week whose record never comes.
    spare: words to come, by sound. notes: by week."""

    code: str
    programs: tuple[Program, ...]
    able: float
    gain: float
    helper: str
    diligent: float = 0.8
    roles: tuple[Role, ...] = ("home",)
    paper: bool = False
    missing: int = -1
    spare: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    notes: Mapping[int, str] = field(default_factory=dict)


def filled(step: str, correct: int, **more: str) -> dict[str, str]:
    """A baseline and the step it is of; more: further keys, put before `current:`."""
    further = "".join(f"{key}: {value}\n" for key, value in more.items())
    return {
        r"^baseline: fill-in.*$": f"baseline: {{date: 2027-01-08, correct: {correct}, of: 20}}",
        r"^current: .*$": f"{further}current: {step}",
    }


NO_ERROR = {r"^error: fill-in.*\n": ""}
TO_WORDS = "{isolation: 2026-09-14, syllable: 2026-10-12}"
TO_SENTENCES = "{isolation: 2026-09-14, syllable: 2026-09-28, word: 2026-10-12, phrase: 2026-11-16}"

CLIENTS = (
    Invented(
        "heron-21",
        (
            (
                "heron-21.yaml",
                ("--sound", "k", "--age", "4", "--error", "t"),
                filled("with a vowel", 17),
            ),
        ),
        able=1.2,
        gain=0.08,
        helper="even",
        spare={"k": ("cave", "cake", "comb", "cage")},
        notes={0: "new chair helped"},
    ),
    Invented(
        "otter-22",
        (
            (
                "otter-22.yaml",
                ("--sound", "s", "--age", "6", "--reads", "--error", "/θ/", "--to", "reading"),
                filled("words", 17, mastered=TO_WORDS),
            ),
        ),
        able=1.3,
        gain=0.10,
        helper="lenient",
        spare={"s": ("soap", "sock", "salad", "sand")},
    ),
    Invented(
        "badger-23",
        (
            (
                "badger-23.yaml",
                ("--sound", "vocalic r", "--age", "8", "--reads"),
                {**filled("ar words", 16, mastered=TO_WORDS), **NO_ERROR},
            ),
        ),
        able=0.9,
        gain=0.02,
        helper="strict",
        notes={1: "bunched works better"},
    ),
    Invented(
        "lynx-24",
        (
            (
                "lynx-24.yaml",
                ("--sound", "/θ/", "--age", "10", "--reads", "--position", "final", "--error", "f"),
                filled("words", 18, mastered=TO_WORDS),
            ),
        ),
        able=1.6,
        gain=0.06,
        helper="even",
        missing=2,
        spare={"/θ/": ("bath", "teeth", "both", "math")},
    ),
    Invented(
        "egret-25",
        (
            (
                "egret-25.yaml",
                (
                    *("--sound", "s", "--shape", "tip down", "--age", "15", "--reads"),
                    *("--error", "/θ/", "--to", "talk"),
                ),
                filled("sentences", 18, helper="self", mastered=TO_SENTENCES),
            ),
        ),
        able=1.5,
        gain=0.08,
        helper="lenient",
        roles=("self",),
        spare={"s": ("summer", "soccer", "salad", "soda")},
    ),
    Invented(
        "stoat-26",
        (
            (
                "stoat-26.yaml",
                ("--sound", "f", "--age", "5"),
                {**filled("words", 17, mastered=TO_WORDS), **NO_ERROR},
            ),
            (
                "stoat-26-k.yaml",
                ("--sound", "k", "--error", "t"),
                filled("with a vowel", 16),
            ),
        ),
        able=0.9,
        gain=0.05,
        helper="even",
        diligent=0.6,
        spare={"f": ("feather", "farm", "fork", "face"), "k": ("cave", "cake", "comb", "cage")},
    ),
    Invented(
        "finch-27",
        (
            (
                "finch-27.yaml",
                ("--sound", "g", "--age", "6", "--error", "d", "--contrast"),
                filled("[pairs, words]", 16, mastered="{syllable: 2026-10-12}"),
            ),
        ),
        able=0.4,
        gain=-0.04,
        helper="even",
        spare={"g": ("gum", "game", "garden", "gold")},
        notes={2: "a cold"},
    ),
    Invented(
        "crow-28",
        (
            (
                "crow-28.yaml",
                ("--sound", "sh", "--age", "5", "--error", "s"),
                filled(
                    "with a vowel",
                    17,
                    helper="[home, other home]",
                    mastered="{isolation: 2026-10-12}",
                ),
            ),
        ),
        able=1.4,
        gain=0.06,
        helper="even",
        diligent=0.7,
        roles=("home", "other home"),
        paper=True,
        spare={"sh": ("shell", "sugar", "shelf", "shadow")},
    ),
)
