"""What a room, a cable or a computer did to a recording, in plain words. The bounds were measured:
python -m tests.benchmarks.spoiled.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.audio.assess.disturbances import FALL_S, Disturbances
from builder.audio.assess.issue import Issue, refusal, severity
from builder.text.several import several

# dB that the level falls within FALL_S. Speech near the microphone in a furnished room: 27 and
# more in each of 348 words, 32 in all but five, which are voiced throughout; two steps off in a
# room that rings for 0.8 s: 27 at most, under 24 in eight of ten.
FALL_WARNED_DB, FALL_REFUSED_DB = 28.0, 24.0
# Clicks: a clean take has 4 at most, one with sixty a second 12 and more.
CLICKS_WARNED, CLICKS_REFUSED = 8, 25
# Share of samples near the peak: of clean takes 0.04 at most, of overdriven ones 0.10 and more.
TOP_WARNED_SHARE, TOP_REFUSED_SHARE = 0.06, 0.15
# A held hum stays near its peak all the time: a pure tone 0.51, hums of two voices 0.29 at most,
# overdriven ones 0.42 to 0.79.
TOP_ALONE_SHARE = 0.55
# dB that a word falls at once where it ends: of clean takes 25 at most.
BROKEN_OFF_DB = 30.0


def disturbance_issues(found: Disturbances, *, alone: bool) -> Iterator[Issue]:
    """alone: a sound by itself; it may be steady, die away or be cut off, as one likes."""
    yield from _echo(found, alone=alone)
    yield from _crackle(found)
    yield from _gaps(found)
    yield from _overdrive(found, alone=alone)
    yield from _broken_off(found) if not alone else ()


def _echo(found: Disturbances, *, alone: bool) -> Iterator[Issue]:
    fall = found.fall
    if fall is not None and not alone and fall < FALL_WARNED_DB:
        text = (
            f"The room echoes: within {FALL_S:g} s the sound falls by {fall:.0f} dB at most, "
            f"not by {FALL_WARNED_DB:.0f} or more. Record among carpets, curtains or clothes, "
            "nearer to the microphone."
        )
        yield Issue("echo", severity(fall < FALL_REFUSED_DB), text, f"{fall:.0f} dB")


def _crackle(found: Disturbances) -> Iterator[Issue]:
    if found.clicks >= CLICKS_WARNED:
        text = (
            "The recording crackles: push the plug in, try another cable, and touch neither the "
            "microphone nor the table."
        )
        yield Issue(
            "crackle", severity(found.clicks >= CLICKS_REFUSED), text, f"{found.clicks} clicks"
        )


def _gaps(found: Disturbances) -> Iterator[Issue]:
    if found.gaps:
        text = (
            "There are gaps in the sound, in which nothing was recorded: close other programs, use "
            "a cable instead of a wireless microphone, and record it again."
        )
        figure = several(found.gaps, "gap")
        yield refusal("gaps", text, figure)


def _overdrive(found: Disturbances, *, alone: bool) -> Iterator[Issue]:
    if found.top > (TOP_ALONE_SHARE if alone else TOP_WARNED_SHARE):
        text = (
            "The recording is overdriven: its loud parts are squashed. Turn the microphone's level "
            "down on the computer, or move further away from it."
        )
        degree = severity(found.top > TOP_REFUSED_SHARE)
        yield Issue("overdrive", degree, text, f"{100 * found.top:.0f} % near the peak")


def _broken_off(found: Disturbances) -> Iterator[Issue]:
    if found.broken_off > BROKEN_OFF_DB:
        text = "The word breaks off: record it to its end, and half a second of silence after it."
        yield Issue("broken", "warning", text, f"{found.broken_off:.0f} dB at once")
