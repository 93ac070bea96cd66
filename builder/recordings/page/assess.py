"""What the page says of a recording, at once: a verdict, and the reasons with their figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from builder.audio.assess import issue
from builder.recordings.prompts import Prompt

if TYPE_CHECKING:
    from builder.audio.speech import Samples


@dataclass(frozen=True)
class Assessment:
    """A recording as assessed; the same shape stands in site_templates/recording_page/types.d.ts.

    verdict: good, doubtful or again (never used). reasons: sentence and figure ("" without one).
    seconds: its length.
    """

    verdict: issue.Verdict
    reasons: tuple[tuple[str, str], ...]
    seconds: float


def assess(prompt: Prompt, samples: Samples, rate: int) -> Assessment:
    """The assessment of samples, shape (n,), full scale ±1, at `rate` Hz, as a model."""
    # the aligner only when something was recorded
    from builder.audio.assess.assess import assess_samples

    said = prompt.utterance
    quality, _ = assess_samples(
        samples,
        rate,
        said.words,
        said.focus,
        prompt.sound,
        form=said.form,
        alone=said.alone,
    )
    return Assessment(quality.verdict, issue.reasons(quality.issues), len(samples) / rate)
