"""Recordings of people before the judge of finished clips: what they say must pass, or nobody's
recording would. Bounds that were measured for it are held against what they were measured on.

The recordings: tests/outside/real_speech.py; more words of the same packages, and of other
languages where it is the sound alone that counts (a German or Low German ʃ, an Italian v).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from builder.audio.align.forced import Alignment, align
from builder.audio.assess.assess import assess_samples
from builder.audio.io.decode import decode
from builder.audio.judge.judge import faults_of_clip
from builder.audio.judge.pieces import Pieces
from builder.audio.judge.spectra import FALL_MIN_DB, fall
from builder.audio.judge.tail import voiced_tail
from builder.audio.speech import Samples
from builder.phonetics.inventory import sounds
from tests.outside.real_speech import HOW, LETTERS, TELEPHONE
from tests.support.made_sounds import RATE, voice
from tests.support.missing import missing

# Final p t k tʃ ʃ s f, by eight speakers.
VOICELESS_ENDS = """
en/syllab/hot.ogg: HH AA1 [T]
en/syllab/fix.ogg: F IH1 K [S]
en/syllab/gas.ogg: G AE1 [S]
en_GB/syllab/hot.ogg: HH AA1 [T]
de/syllab/fisch.ogg: F IH1 [SH]
de/syllab/gut.ogg: G UW1 [T]
de/syllab/kind.ogg: K IH1 N [T]
hu/syllab/26-pek.ogg: P EY1 [K]
hu/syllab/31-tyuk.ogg: T UW1 [K]
digits/8.wav: EY1 [T]
letters/h.wav: EY1 [CH]
letters/dot.wav: D AA1 [T]
letters/slash.wav: S L AE1 [SH]
digits/oclock.wav: AH0 K L AA1 [K]
letters/f.wav: EH1 [F]
"""
SHARP = """
de/syllab/fisch.ogg: F IH1 [SH]
nds/syllab/veegtoorsch.ogg: F EY1 K T OW1 [SH]
nds/syllab/schiet.ogg: [SH] IY1 T
hu/syllab/28-so.ogg: [SH] OW1
hu/syllab/38-zsak.ogg: [ZH] AA1 K
hu/syllab/05-csik.ogg: [CH] IH1 K
it/syllab/ci.ogg: [CH] IY1
"""
VOICED = """
is.wav: IH1 [Z]
hours.wav: AW1 ER0 [Z]
digits/dollars.wav: D AA1 L ER0 [Z]
digits/5.wav: F AY1 [V]
digits/12.wav: T W EH1 L [V]
digits/7.wav: S EH1 [V] AH0 N
letters/v.wav: [V] IY1
letters/z.wav: [Z] IY1
letters/zed.wav: [Z] EH1 D
it/syllab/va.ogg: [V] AA1
it/syllab/vi.ogg: [V] IY1
hu/syllab/37-zab.ogg: [Z] AA1 B
hu/syllab/01-az.ogg: AA1 [Z]
"""
Case = tuple[str, tuple[str, ...], int]


def cases(table: str) -> list[Case]:
    found = []
    for line in table.strip().splitlines():
        name, _, rest = line.partition(": ")
        phones = rest.split()
        at = next(i for i, phone in enumerate(phones) if "[" in phone)
        found.append((name, tuple(phone.strip("[]") for phone in phones), at))
    return found


def said(table: str) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("case", cases(table), ids=lambda case: case[0])


def path(name: str) -> Path:
    file = (LETTERS if name.endswith(".ogg") else TELEPHONE) / name
    if not file.is_file():
        missing(HOW)
    return file


@cache
def read(case: Case) -> tuple[Samples, int, Alignment]:
    samples, rate = decode(str(path(case[0])))
    found = align(samples, rate, (case[1],))
    assert found is not None
    return samples, rate, found


def rules(case: Case) -> set[str]:
    samples, rate, found = read(case)
    _, phones, at = case
    faults = faults_of_clip(
        samples,
        rate,
        sounds()[phones[at]],
        found.spans[at],
        voice="recorded",
        final=at == len(phones) - 1,
    )
    return {fault.rule for fault in faults}


@said(VOICELESS_ENDS)
def test_people_end_a_voiceless_sound_without_a_voice(case: Case) -> None:
    samples, rate, found = read(case)
    tail = voiced_tail(Pieces(samples, rate), found.spans[case[2]], alone=False)
    assert tail is None or tail.seconds <= 0.020
    assert "tail" not in rules(case)


@said(SHARP)
def test_their_sh_falls_off_above_its_peak(case: Case) -> None:
    samples, rate, found = read(case)
    assert fall(samples[slice(*found.spans[case[2]])], rate) > FALL_MIN_DB + 5
    assert rules(case) == set()


def test_their_s_does_not() -> None:
    falls = []
    for case in cases("en_GB/syllab/sit.ogg: [S] IH1 T\nde/syllab/bus.ogg: B UH1 [S]"):
        samples, rate, found = read(case)
        falls.append(fall(samples[slice(*found.spans[case[2]])], rate))
    assert max(falls) < FALL_MIN_DB


@said(VOICED)
def test_their_z_and_v_pass(case: Case) -> None:
    """Also final ones, of which three in five hold a voice for less than half (the /z/ of `is`)."""
    assert rules(case) == set()


def test_a_final_z_of_theirs_is_partly_voiced() -> None:
    """So a bound on it would refuse people: C. Smith, Journal of Phonetics 25 (1997) 471-500."""
    shares = []
    for case in cases(VOICED)[:5]:
        samples, rate, found = read(case)
        shares.append(Pieces(samples[slice(*found.spans[case[2]])], rate).voiced.mean())
    assert 0.1 < np.median(shares) < 0.8


@pytest.mark.parametrize("name", ["letters/dot.wav", "digits/8.wav", "de/syllab/gut.ogg"])
def test_a_vowel_put_behind_their_word_sets_it_aside(name: str) -> None:
    """120 ms of a voice behind the burst, some 10 dB below the vowel: `dot-uh`."""
    case = next(case for case in cases(VOICELESS_ENDS) if case[0] == name)
    samples, rate, found = read(case)
    loudest = np.sqrt(np.max(np.convolve(samples**2, np.ones(rate // 50) / (rate // 50), "same")))
    start, _ = found.spans[-1]
    uh = voice(0.12, 20 * np.log10(loudest) - 9, top=900)
    samples = np.pad(samples, (0, rate // 2))
    longer = samples.copy()
    begin, size = start + round(0.07 * rate), len(uh) * rate // RATE
    longer[begin : begin + size] += np.interp(np.arange(size) * RATE / rate, np.arange(len(uh)), uh)
    for heard, tail in ((samples, False), (longer, True)):
        quality, _ = assess_samples(
            heard, rate, (case[1],), None, None, form="natural", alone=False
        )
        assert ("tail" in {issue.rule for issue in quality.issues}) == tail
        assert quality.verdict != "good" or not tail
