"""Finished clips, made wrong on purpose and right: what each measure finds."""

from __future__ import annotations

import numpy as np
import pytest

from builder.audio.judge.judge import faults_of_clip
from builder.audio.judge.pieces import Pieces
from builder.audio.judge.tail import voiced_tail, without_tail
from builder.audio.speech import Samples
from builder.phonetics.inventory import sounds
from tests.support.made_sounds import RATE, joined, noise, silence, voice

HIGH, WIDE, LOW = (5000.0, 9000.0), (2000.0, 10000.0), (2500.0, 5000.0)


def rules(samples: Samples, symbol: str, target: tuple[int, int], **more: object) -> set[str]:
    options = {"voice": "natural", **more}
    found = faults_of_clip(samples, RATE, sounds()[symbol], target, **options)  # type: ignore[arg-type]
    return {fault.rule for fault in found}


def duck(tail: float, level: float = -30.0) -> tuple[Samples, tuple[int, int]]:
    """A vowel, a closure, a burst, then a voice for `tail` seconds."""
    parts = voice(0.2, -18), silence(0.08), noise(0.05, WIDE, -30), voice(tail, level, top=1000)
    samples, places = joined(*parts, silence(0.1))
    return samples, (places[2][0], places[3][1])


@pytest.mark.parametrize(
    ("tail", "level", "faulty"),
    [
        pytest.param(0.0, -30, False, id="a clean burst"),
        pytest.param(0.1, -28, True, id="a tenth of a second of voice, 10 dB down"),
        pytest.param(0.1, -50, False, id="the same, too soft to be heard"),
        pytest.param(0.02, -28, False, id="two hundredths: as speakers have"),
    ],
)
def test_a_voice_after_a_voiceless_end(tail: float, level: float, faulty: bool) -> None:
    samples, place = duck(tail, level)
    assert ("tail" in rules(samples, "K", place, final=True)) == faulty
    known = faults_of_clip(samples, RATE, None, None, voice="natural", last=("K", place))
    assert ({fault.rule for fault in known} == {"tail"}) == faulty


@pytest.mark.parametrize(
    ("second", "faulty"),
    [
        pytest.param(-28, True, id="behind the closure a second vowel"),
        pytest.param(-50, False, id="nothing that is heard"),
    ],
)
def test_a_second_vowel_before_an_end_that_was_found_too_late(second: float, faulty: bool) -> None:
    parts = voice(0.2, -18), voice(0.05, -40), voice(0.1, second, top=1000), silence(0.1)
    samples, places = joined(*parts)
    end = ("P", (places[2][1], len(samples)))
    found = faults_of_clip(
        samples, RATE, None, None, voice="natural", last=end, vowel=(places[0][0], places[2][1])
    )
    assert ({fault.rule for fault in found} == {"tail"}) == faulty


def test_its_length_and_level_are_measured() -> None:
    samples, place = duck(0.1, -30)
    tail = voiced_tail(Pieces(samples, RATE), place, alone=False)
    assert tail is not None
    assert tail.seconds == pytest.approx(0.1, abs=0.02)
    assert tail.level == pytest.approx(-12, abs=2)


@pytest.mark.parametrize(
    ("tail", "faulty"), [(0.0, False), (0.08, True)], ids=["a burst", "a burst and a voice"]
)
def test_a_stop_alone(tail: float, faulty: bool) -> None:
    samples, _ = joined(silence(0.05), noise(0.05, WIDE, -18), voice(tail, -22, top=1000))
    assert ("tail" in rules(samples, "K", (1200, len(samples)), alone=True)) == faulty


def test_a_tail_is_cut_off_behind_the_burst() -> None:
    samples, place = duck(0.1)
    cut = without_tail(samples, RATE, "K", place)
    assert len(cut) / RATE == pytest.approx(0.33, abs=0.012)
    assert rules(cut, "K", (place[0], len(cut)), final=True) == set()
    assert without_tail(samples, RATE, "S", place) is samples  # 40 ms are too little of friction
    assert np.array_equal(cut[:6500], samples[:6500])


def test_a_burst_that_is_all_voice_is_not_cut() -> None:
    samples, places = joined(voice(0.2, -18), silence(0.08), voice(0.1, -24), silence(0.1))
    assert without_tail(samples, RATE, "K", places[2]) is samples


def test_what_ends_cleanly_stays_as_it_is() -> None:
    samples, place = duck(0.0)
    assert without_tail(samples, RATE, "K", place) is samples


def test_vowels_and_voiced_ends_have_no_tail() -> None:
    samples, places = joined(voice(0.2, -18), noise(0.05, WIDE, -30), voice(0.1, -28))
    assert rules(samples, "G", places[2], final=True) == set()
    assert rules(samples, "IY", places[2], final=True) == set()


def zed(voiced: float, whole: float, over: float) -> tuple[Samples, tuple[int, int]]:
    """Friction of `whole` seconds with a voice for the first `voiced`, `over` dB above it."""
    friction = noise(whole, HIGH, -25)
    friction[: round(voiced * RATE)] += voice(voiced, -25 + over, top=400)
    samples, places = joined(voice(0.15, -18), friction, voice(0.15, -18))
    return samples, places[1]


@pytest.mark.parametrize(
    ("voiced", "whole", "over", "faulty"),
    [
        pytest.param(0.12, 0.12, 0, False, id="a voice all through"),
        pytest.param(0.09, 0.12, 0, False, id="a voice for most of it"),
        pytest.param(0.02, 0.15, 0, True, id="a voice at its start alone"),
        pytest.param(0.12, 0.12, -27, True, id="a voice 27 dB below the friction"),
    ],
)
def test_a_z_without_a_voice(voiced: float, whole: float, over: float, faulty: bool) -> None:
    samples, place = zed(voiced, whole, over)
    assert ("devoiced" in rules(samples, "Z", place)) == faulty
    assert "devoiced" not in rules(samples, "S", place)


@pytest.mark.parametrize(("voiced", "faulty"), [(1.4, False), (0.9, True)])
def test_a_held_z_that_loses_its_voice(voiced: float, faulty: bool) -> None:
    samples, place = zed(voiced, 1.5, 0)
    assert ("devoiced" in rules(samples, "Z", place, form="long")) == faulty


def test_a_speaker_may_let_the_voice_of_a_final_z_go() -> None:
    samples, place = zed(0.02, 0.15, 0)
    assert rules(samples, "Z", place, voice="recorded", final=True) == set()
    assert rules(samples, "Z", place, voice="recorded") == {"devoiced"}
    begun, place = zed(0.06, 0.15, 0)
    assert rules(begun, "Z", place, voice="recorded") == set()
    assert rules(begun, "Z", place) == {"devoiced"}


@pytest.mark.parametrize(("friction", "faulty"), [(-32.0, False), (-55.0, True)])
def test_a_v_without_friction_is_a_hum(friction: float, faulty: bool) -> None:
    rubbed = voice(0.1, -18, top=400) + noise(0.1, WIDE, friction)
    samples, places = joined(rubbed, voice(0.2, -15))
    assert ("friction" in rules(samples, "V", places[0])) == faulty
    assert rules(samples, "V", places[0], voice="recorded") == set()


@pytest.mark.parametrize(
    ("above", "faulty"), [(-45.0, False), (-24.0, True)], ids=["it falls off", "as sharp as s"]
)
def test_a_sharp_sh(above: float, faulty: bool) -> None:
    friction = noise(0.15, LOW, -24) + noise(0.15, (7000.0, 9500.0), above, seed=2)
    samples, places = joined(friction, voice(0.2, -18))
    assert ("sharp" in rules(samples, "SH", places[0])) == faulty
    assert "sharp" not in rules(samples, "S", places[0])


@pytest.mark.parametrize(("level", "faulty"), [(-24.0, False), (-33.0, True)])
def test_an_l_held_where_the_word_dies_away(level: float, faulty: bool) -> None:
    samples, places = joined(voice(0.3, -18), voice(1.5, level, top=1000))
    assert ("weak" in rules(samples, "L", places[1], form="long", final=True)) == faulty


def test_noise_has_no_voice_and_a_voice_is_one() -> None:
    assert Pieces(noise(0.5, (60.0, 9000.0), -20), RATE).voiced.mean() < 0.02
    for pitch in (90.0, 200.0, 320.0):
        assert Pieces(voice(0.5, -20, pitch), RATE).voiced[5:-5].all()


def test_levels_are_those_of_full_scale() -> None:
    found = Pieces(voice(0.5, -20, top=250.0), RATE)
    assert float(np.median(found.voice)) == pytest.approx(-20, abs=0.5)
    assert float(np.median(found.friction)) < -60
    hiss = Pieces(noise(0.5, (2200.0, 9000.0), -30), RATE)
    assert float(np.median(hiss.friction)) == pytest.approx(-30, abs=1)


def test_a_fault_is_a_sentence_with_its_figure() -> None:
    samples, place = duck(0.1)
    found = faults_of_clip(samples, RATE, sounds()["K"], place, voice="natural", final=True)
    assert str(found[0]).startswith("A voice sounds after /k/")
    assert str(found[0]).endswith("dB beside the vowel).")
