"""One planned clip -> one MP3 and its facts in the store. What is there already is only read:
without a clip to make, nothing heavy is imported."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from builder.make.cores import cores, overlapped, with_helpers
from builder.workspace.store import Store

if TYPE_CHECKING:
    from builder.audio.render import RenderedClip
    from builder.model.clinic import Speaker
    from builder.model.plan import Clip

FAILED = ".none"  # ending of what tells why a clip cannot be made
# Seconds of a clip that count for the need of a helper: few where a voice tells positions, since
# half of its time is coding, which overlaps anyhow; more where positions have to be found. And from
# how many a helper pays, which has Python, numpy and a voice to load: 0.4 to 0.8 s of processor
# time, more where a virus scanner looks on. So 40 aligned clips are worth one, or 400 others.
QUICK_S, ALIGNED_S = 0.004, 0.04
# The same of a slow voice: half a second a clip, but a helper loads it for 2.5 s, so 20 clips are
# worth one. It holds 0.9 GB: no more of them, however many cores there are.
SLOW_S, SLOW_HELPERS_MAX = 0.08, 3
HELPER_WORTH_S = 1.6


@dataclass(frozen=True, kw_only=True)
class Facts:
    """What was measured on a clip, before coding.

    duration:      seconds of the file.
    start, end:    of the target in the file, in seconds; None when the voice does not tell.
    spectral_mean: of the target, Hz, between 0.5 and 11 kHz; None without a target.
    peak:          true peak, dBTP.
    loudness:      in LUFS, or gated RMS on the same scale for what lasts under 400 ms;
                   loudness_kind names it.
    voice:         who speaks it; another than was asked where that one said it badly, and
                   `instead` tells why, in a sentence.
    verdict:       good or doubtful; `issues` say why: (rule, sentence, figure).
    bandwidth:     of the target, Hz; None without one.
    score:         how surely the words were said, 0 to 1; None for a voice that tells positions.
    pace:          how fast the voice was told to speak, in its own measure; "" for a recording.
    rate, size:    of the file, samples a second and bytes.
    away:          it is heard because a service did not speak, which is asked again; never kept.
    """

    duration: float
    start: float | None
    end: float | None
    spectral_mean: float | None
    peak: float
    loudness: float
    loudness_kind: Literal["LUFS", "gated RMS"]
    voice: Speaker
    instead: str
    verdict: Literal["good", "doubtful"]
    issues: tuple[tuple[str, str, str], ...]
    bandwidth: float | None
    score: float | None
    pace: str
    rate: int
    size: int
    away: bool = False


def make(
    clips: Sequence[Clip], store: Store, progress: Callable[[int], None] | None = None
) -> dict[str, Facts]:
    """The facts of every clip by key; what the store lacks is made, on all cores if it is much.

    A clip that no voice can make is left out; the store keeps why. One whose service does not
    speak now is left out too, and nothing kept of it: the facts of its `instead` are there, and
    tell why. `progress` is told how many clips are ready. Raises ValueError for a form that the
    sound cannot have, UsageError for a recording that cannot be read.
    """
    facts = {clip.key: _stored(clip.key, store) for clip in clips}
    absent = [clip for clip in clips if facts[clip.key] is None and not store.has(clip.key, FAILED)]
    missing = list({clip.key: clip for clip in absent}.values())
    ready = len(facts) - len(missing)
    tell = progress or (lambda count: None)
    tell(ready)
    for key, made in _made(missing, store.folder):
        facts[key] = made
        ready += 1
        tell(ready)
    return {key: known for key, known in facts.items() if known is not None}


def why_not(key: str, store: Store) -> str:
    """Why no voice could make the clip of that key, a sentence; "" where nothing is known."""
    path = store.path(key, FAILED)
    return path.read_text("utf-8") if store.has(key, FAILED) else ""


def _stored(key: str, store: Store) -> Facts | None:
    """The facts in the store; None when clip or facts are missing or from another version."""
    if not store.has(key, ".mp3", ".json"):
        return None
    try:
        known = json.loads(store.path(key, ".json").read_text(encoding="utf-8"))
        return Facts(**known | {"issues": tuple(map(tuple, known["issues"]))})
    except (ValueError, TypeError, KeyError):
        return None


def _made(clips: list[Clip], folder: Path) -> Iterator[tuple[str, Facts | None]]:
    if not clips:
        return
    from builder.audio.voices import VOICES

    shared = [clip for clip in clips if not VOICES[clip.voice].sends]
    done: set[str] = set()
    for key, facts in with_helpers(shared, partial(_make, folder=folder), _helpers(shared)):
        done.add(key)
        yield key, facts
    # Coding takes a third of the time of a clip and holds no lock.
    rest = (clip for clip in clips if clip.key not in done)
    yield from overlapped(rest, partial(_render, folder=folder))


def _helpers(clips: list[Clip]) -> int:
    """How many more processes are worth their start."""
    from builder.audio.voices import VOICES, VoiceInfo

    def seconds_of(voice: VoiceInfo) -> float:
        if voice.tells_positions or not voice.synthetic:
            return QUICK_S
        return SLOW_S if voice.slow else ALIGNED_S

    voices = [VOICES[clip.voice] for clip in clips]
    most = SLOW_HELPERS_MAX if any(voice.slow for voice in voices) else cores()
    return min(cores() - 1, most, int(sum(map(seconds_of, voices)) / HELPER_WORTH_S))


def _make(clip: Clip, *, folder: Path) -> tuple[str, Facts | None]:
    return _render(clip, folder=folder)()


def _render(clip: Clip, *, folder: Path) -> Callable[[], tuple[str, Facts | None]]:
    """A clip up to its samples; to code and keep them is left to do."""
    from builder.audio.render import render, require_speakable
    from builder.audio.voices import ServiceError

    store = Store(folder)
    require_speakable(clip)
    try:
        return partial(_keep, clip.key, render(clip), store)
    except ServiceError as why:
        heard = _instead(clip, str(why), store)
        return lambda: heard
    except ValueError as why:
        store.put(clip.key, FAILED, str(why).encode())
        return lambda: (clip.key, None)


def _keep(key: str, recording: RenderedClip, store: Store) -> tuple[str, Facts | None]:
    from builder.audio.io.encode import mp3

    data = mp3(recording.levelled.samples, recording.rate)
    facts = _facts(recording, len(data))
    store.put(key, ".mp3", data)
    store.put(key, ".json", json.dumps(vars(facts), sort_keys=True).encode())
    return key, facts


def _instead(clip: Clip, why: str, store: Store) -> tuple[str, Facts | None]:
    """What is heard for a clip until its service speaks; the store keeps no word of why."""
    other = clip.instead
    if other is None or store.has(other.key, FAILED):
        return clip.key, None
    facts = _stored(other.key, store) or _make(other, folder=store.folder)[1]
    return other.key, replace(facts, instead=why, away=True) if facts else None


def _facts(recording: RenderedClip, size: int) -> Facts:
    levelled, rate, quality = recording.levelled, recording.rate, recording.quality
    start, stop = recording.target or (0, 0)
    mean, reach = quality.spectral_mean, quality.bandwidth
    return Facts(
        duration=round(len(levelled.samples) / rate, 4),
        start=round(start / rate, 4) if recording.target else None,
        end=round(stop / rate, 4) if recording.target else None,
        spectral_mean=None if mean is None else round(mean, 1),
        peak=round(levelled.peak, 2),
        loudness=round(levelled.loudness, 2),
        loudness_kind=levelled.kind,
        voice=recording.voice,
        instead=recording.instead,
        verdict="good" if quality.verdict == "good" else "doubtful",
        issues=tuple((r.rule, r.sentence, r.figure) for r in quality.issues),
        bandwidth=None if reach is None else round(reach, 1),
        score=None if quality.score is None else round(quality.score, 3),
        pace=recording.pace,
        rate=rate,
        size=size,
    )
