"""A sibilant beside the same speaker's others: how dull one take is tells little by itself, for
voices and microphones differ, but much beside the rest of the folder."""

from __future__ import annotations

from collections.abc import Mapping
from statistics import median

from builder.audio.assess.issue import Issue
from builder.phonetics.inventory import sounds

SIBILANTS = ("S", "Z", "SH", "ZH")
OTHERS_MIN = 3  # takes of the same sound, without which there is no telling
# Of the median of the others: below it lies what is nearer to /ʃ/ than to /s/. Adults' means are
# 6133 and 4229 Hz (A. Jongman et al., JASA 108 (2000) 1252-1263), a ratio of 0.69; one speaker's
# /s/ go down to 0.8 (measured on tests/outside/real_speech.py).
DULLER_SHARE = 0.75


def duller(means: Mapping[str, float], symbol: str) -> dict[str, Issue]:
    """An issue for each file whose sound is much duller than that of the others.

    means: spectral means in Hz of one speaker's takes of a sound, by file.
    """
    found = {}
    for file, mean in means.items():
        others = [other for name, other in means.items() if name != file]
        if len(others) >= OTHERS_MIN and mean < DULLER_SHARE * median(others):
            text = (
                f"/{sounds()[symbol].ipa}/ sounds much duller here than in your other recordings: "
                "listen to it."
            )
            figure = f"{mean / 1000:.1f} kHz, the others {median(others) / 1000:.1f} kHz"
            found[file] = Issue("dull", "warning", text, figure)
    return found
