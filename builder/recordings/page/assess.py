"""What the page says of a recording, at once: one word, and the reasons with their figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from builder.audio.assess.issue import Word
from builder.recordings.prompts import Prompt

if TYPE_CHECKING:
    from builder.audio.speech import Samples


@dataclass(frozen=True)
class Verdict:
    """word: good, doubtful or again (never used). reasons: sentence and figure ("" without one)."""

    word: Word
    reasons: tuple[tuple[str, str], ...]
    seconds: float


def verdict(prompt: Prompt, samples: Samples, rate: int) -> Verdict:
    """The verdict on samples, shape (n,), full scale ±1, at `rate` Hz, as a model of a prompt."""
    from builder.audio.assess.assess import heard  # the aligner only when something was recorded

    asked = prompt.asked
    quality, _ = heard(
        samples, rate, asked.words, asked.focus, prompt.sound, form=asked.form, alone=asked.alone
    )
    reasons = tuple((remark.sentence, remark.figure) for remark in quality.remarks)
    return Verdict(quality.word, reasons, len(samples) / rate)
