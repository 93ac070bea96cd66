"""Finished clips: what a child hears, after cutting, sustaining and levelling, measured sound by
sound, form by form and place by place.

    python -m tests.benchmarks.finished                      by class of sound
    python -m tests.benchmarks.finished --sounds             by sound
    python -m tests.benchmarks.finished --faults             every fault, with its figure
    python -m tests.benchmarks.finished --speakers           who says each sound in the end
    python -m tests.benchmarks.finished --spectra            write the table of held fricatives
    python -m tests.benchmarks.finished --pictures FOLDER    spectrograms of some clips
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from itertools import product
from pathlib import Path

import numpy as np

from builder.audio.dsp.measures import loudness, spectral_mean
from builder.audio.io.spectrogram import spectrogram_png
from builder.audio.judge.fault import Fault
from builder.audio.judge.pieces import Pieces
from builder.audio.judge.spectra import RIVALS, TABLE, band_levels, fall
from builder.audio.judge.tail import voiced_tail
from builder.audio.render import made_by
from builder.audio.speech import Samples
from builder.audio.voices import in_turn
from builder.audio.voices.suitability import SoundForm, suitability_of
from builder.model.clinic import Speaker
from builder.model.plan import Clip
from builder.phonetics.inventory import Sound, sounds
from tests.benchmarks.voice_survey import Asked, asked, finals

VOICES: tuple[Speaker, ...] = ("natural", "man", "embedded")
FORMS: tuple[SoundForm, ...] = ("natural", "long", "alone")
HOLD_S = 1.5  # seconds
# What is held and what by itself; of the voices that speak alone.
PICTURES = (
    "K::alone P::alone K:duck:natural CH:peach:natural P:ship:natural Z:zah:long TH:bath:long "
    "V:seven:natural V:seven:long L:ball:long L:pool:long SH:shoe:natural"
)
FRICTION = ("F", "V", "TH", "DH", "S", "Z", "SH", "ZH")


@dataclass(frozen=True)
class Finished:
    """One finished clip with what is wrong with it; `why` it could not be made, else ""."""

    voice: Speaker
    form: SoundForm
    asked: Asked
    samples: Samples
    rate: int
    target: tuple[int, int]
    faults: tuple[Fault, ...]
    why: str = ""

    @property
    def sound(self) -> Sound:
        return self.asked.sound

    @property
    def part(self) -> Samples:
        """The samples of the target."""
        return self.samples[slice(*self.target)]

    @property
    def right(self) -> bool:
        """Whether it may be published."""
        return not self.why and not self.faults


@cache
def finished(voice: Speaker, form: SoundForm, one: Asked) -> Finished:
    """The clip of one word, or of a sound alone (a word without phones)."""
    try:
        made, faults = made_by(_clip(voice, form, one), voice)
    except ValueError as why:
        return Finished(voice, form, one, np.zeros(0), 0, (0, 0), (), str(why))
    place = made.target or (0, len(made.levelled.samples))
    return Finished(voice, form, one, made.levelled.samples, made.rate, place, faults)


def _clip(voice: Speaker, form: SoundForm, one: Asked) -> Clip:
    alone = form == "alone"
    held = form == "long" or (alone and one.sound.hold == "yes")
    return Clip(
        key="0123456789abcdef",
        path="",
        text=one.word,
        words=(one.phones,),
        focus=None if alone else one.focus,
        form="long" if held else "natural",
        alone=alone,
        hold=HOLD_S if held else 0.0,
        voice=voice,
    )


def alone(sound: Sound) -> Asked:
    """The sound by itself."""
    return Asked(sound.spelled, sound.phones[0], 0, len(sound.phones[0]), sound, "initial")


def clips(voice: Speaker, form: SoundForm, symbol: str = "") -> Iterator[Finished]:
    """All clips of a voice in one form, of one sound or of every one."""
    wanted = [sounds()[symbol]] if symbol else list(sounds().values())
    if form == "alone":
        yield from (finished(voice, form, alone(sound)) for sound in wanted)
        return
    for one in (*asked(), *finals()):
        if one.sound in wanted and (form == "natural" or one.sound.hold != "no"):
            yield finished(voice, form, one)


def told(found: Iterable[Finished]) -> str:
    """Counts and medians of some clips."""
    every = list(found)
    made = [one for one in every if not one.why]
    rules = Counter(fault.rule for one in every for fault in one.faults)
    parts = [f"{sum(one.right for one in every)} of {len(every)} right"]
    if len(made) < len(every):
        parts.append(f"{len(every) - len(made)} not made")
    parts += [f"{rule} {n}" for rule, n in sorted(rules.items())]
    return ", ".join((*parts, *_medians(made)))


def _medians(made: list[Finished]) -> Iterator[str]:
    kinds = {one.sound.symbol for one in made}
    if made and all(len(one.part) > 2 * 0.02 * one.rate for one in made):
        levels = [loudness(_for_half_a_second(one.part, one.rate), one.rate) for one in made]
        yield f"target {np.median(levels):.0f} LUFS"
    if kinds and kinds <= set(FRICTION):
        means = [m for one in made if (m := spectral_mean(one.part, one.rate))]
        yield f"spectral mean {np.median(means):.0f} Hz" if means else "too short"
    if kinds & {"SH", "ZH"}:
        falls = [fall(one.part, one.rate) for one in made if one.sound.symbol in ("SH", "ZH")]
        yield f"fall {np.median(falls):.0f} dB"
    if kinds and kinds <= {"V", "DH", "Z", "ZH"}:
        pieces = [Pieces(one.part, one.rate) for one in made]
        yield f"voiced {100 * np.median([p.voiced.mean() for p in pieces]):.0f} %"
        over = [float(np.median(p.voice - p.friction)) for p in pieces]
        yield f"voice over friction {np.median(over):.0f} dB"
    ends = [one for one in made if not one.sound.voiced and one.asked.position == "final"]
    if ends:
        tails = [voiced_tail(Pieces(x.samples, x.rate), x.target, alone=False) for x in ends]
        yield f"longest tail {1000 * max(t.seconds if t else 0.0 for t in tails):.0f} ms"


def _for_half_a_second(part: Samples, rate: int) -> Samples:
    """Again and again, as long as the measure of loudness needs."""
    return np.tile(part, 1 + rate // (2 * len(part)))


def grouped(name_of: Callable[[Sound], str]) -> Iterator[str]:
    """A line for each voice, form, group of sounds and place."""
    for voice in VOICES:
        for form in FORMS:
            groups: dict[str, list[Finished]] = {}
            for one in clips(voice, form):
                place = "" if form == "alone" else one.asked.position
                groups.setdefault(f"{name_of(one.sound)} {place}", []).append(one)
            yield from (f"{voice} {form} {name}: {told(each)}" for name, each in groups.items())


def _class(sound: Sound) -> str:
    if sound.kind != "consonant":
        return sound.kind
    return f"{'voiced' if sound.voiced else 'voiceless'} {sound.manner}"


def every_fault() -> Iterator[str]:
    """Each clip that is not right."""
    for voice in VOICES:
        for form in FORMS:
            for one in clips(voice, form):
                name = f"{voice} {form} {one.sound.symbol} {one.asked.position} {one.asked.word}"
                if one.why:
                    yield f"{name}: {one.why}"
                yield from (f"{name}: {fault}" for fault in one.faults)


def speakers() -> Iterator[str]:
    """Who says each sound where, as the plan asks and the judge decides, and of how many clips;
    for each natural voice that is asked."""
    asked_first: tuple[Speaker, ...] = ("natural", "man")
    for first, form in product(asked_first, FORMS):
        for symbol, sound in sounds().items():
            if form == "long" and sound.hold == "no":
                continue
            found: dict[str, Counter[str]] = {}
            for each in zip(*(clips(v, form, symbol) for v in in_turn(first)), strict=True):
                place = "" if form == "alone" else each[0].asked.position
                fit = (x for x in each if suitability_of(x.voice, symbol, form, place).offered)
                who = next((one.voice for one in fit if one.right), "helper")
                found.setdefault(place, Counter())[who] += 1
            for place, said in found.items():
                yield f"{first} asked, {form} {symbol} {place}: {dict(said)}"


def write_spectra() -> None:
    """The held fricatives of each voice, the mean over its words and the sound alone."""
    lines = [
        "# Held fricatives by voice: level in dB beside the mean, in bands of 500 Hz from 0.5 to",
        "# 5 kHz and of 1 kHz to 11 kHz. Written by python -m tests.benchmarks.finished --spectra.",
        "voice,symbol,levels",
    ]
    for voice in VOICES:
        for symbol in sorted(set(RIVALS.values())):
            every = [one for form in ("long", "alone") for one in clips(voice, form, symbol)]
            levels = np.mean([band_levels(x.part, x.rate) for x in every if not x.why], axis=0)
            lines.append(f"{voice},{symbol},{' '.join(f'{level:.1f}' for level in levels)}")
    TABLE.write_text("\n".join(lines) + "\n", encoding="utf-8")


def pictures(folder: Path) -> None:
    """Spectrograms of some clips by both voices."""
    folder.mkdir(parents=True, exist_ok=True)
    for voice in VOICES:
        for name in PICTURES.split():
            symbol, word, form = name.split(":")
            words = [one for one in (*asked(), *finals()) if one.word == word]
            one = next((w for w in words if w.sound.symbol == symbol), alone(sounds()[symbol]))
            made = finished(voice, next(f for f in FORMS if f == form), one)
            if made.why:
                print(f"{voice} {word}: {made.why}")
                continue
            png = spectrogram_png(made.samples, made.rate, made.target)
            (folder / f"{voice}-{word or symbol}-{form}.png").write_bytes(png)


def main() -> None:
    """As the option says."""
    if "--pictures" in sys.argv:
        pictures(Path(sys.argv[sys.argv.index("--pictures") + 1]))
    elif "--spectra" in sys.argv:
        write_spectra()
    else:
        chosen: dict[str, Callable[[], Iterator[str]]] = {
            "--sounds": partial(grouped, lambda sound: sound.symbol),
            "--faults": every_fault,
            "--speakers": speakers,
        }
        by_class = partial(grouped, _class)
        print(*next((f for o, f in chosen.items() if o in sys.argv), by_class)(), sep="\n")


if __name__ == "__main__":
    main()
