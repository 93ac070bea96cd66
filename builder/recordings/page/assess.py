"""What the page says of a recording, at once: a verdict, and the reasons with their figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from builder.audio.assess.issue import Word
from builder.recordings.prompts import Prompt

if TYPE_CHECKING:
    from builder.audio.speech import Samples


@dataclass(frozen=True)
class Assessment:
    """A recording as assessed; the same shape stands in site_templates/recording_page/types.d.ts.

    verdict: good, doubtful or again (never used). reasons: sentence and figure ("" without one).
    seconds: its length.
    """

    verdict: Word
    reasons: tuple[tuple[str, str], ...]
    seconds: float


def assess(prompt: Prompt, samples: Samples, rate: int) -> Assessment:
    """The assessment of samples, shape (n,), full scale ±1, at `rate` Hz, as a model."""
    from builder.audio.assess.assess import heard  # the aligner only when something was recorded

    said = prompt.utterance
    quality, _ = heard(
        samples,
        rate,
        said.words,
        said.focus,
        prompt.sound,
        form=said.form,
        alone=said.alone,
    )
    reasons = tuple((remark.sentence, remark.figure) for remark in quality.remarks)
    return Assessment(quality.word, reasons, len(samples) / rate)
