"""An issue of a recording, the verdict on it, and what is said of a whole set; loads no samples."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Severity = Literal["refused", "warning"]
Verdict = Literal["good", "doubtful", "again"]
SPREAD_MAX_DB = 10.0  # dB between the softest and the loudest of a set (common practice, no source)


@dataclass(frozen=True)
class Issue:
    """What was found: the rule, a sentence for the therapist, the figure behind it."""

    rule: str
    severity: Severity
    sentence: str
    figure: str


def severity(refused: bool) -> Severity:
    """By whether the recording must not be used."""
    return "refused" if refused else "warning"


def refusal(rule: str, sentence: str, figure: str) -> Issue:
    """An issue for which a recording must not be used."""
    return Issue(rule, "refused", sentence, figure)


def reasons(issues: Sequence[Issue]) -> tuple[tuple[str, str], ...]:
    """What is said of a recording: (sentence, figure). Nobody needs to listen to a refused one."""
    refused = any(issue.severity == "refused" for issue in issues)
    return tuple(
        (_without_listening(i.sentence) if refused else i.sentence, i.figure) for i in issues
    )


def _without_listening(sentence: str) -> str:
    return sentence.replace(": listen to it.", ".")


def loudness_spread(levels: Sequence[float]) -> tuple[Issue, ...]:
    """A warning when recordings of one set differ much in loudness (LUFS)."""
    known = [level for level in levels if level > -70.0]
    if not known or max(known) - min(known) <= SPREAD_MAX_DB:
        return ()
    apart = max(known) - min(known)
    text = (
        "The recordings differ a lot in loudness. They are brought to one level, but the softer "
        "ones get more noise: keep the same distance from the microphone."
    )
    return (Issue("spread", "warning", text, f"{apart:.0f} dB"),)
