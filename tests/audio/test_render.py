"""One planned clip by the voice that says it right: judged when it is finished."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from builder.audio import render
from builder.audio.dsp.measures import loudness
from builder.audio.judge.fault import Fault
from builder.audio.speech import Samples, Speech
from builder.audio.sustain.liquid import with_liquid_place
from builder.audio.voices import natural
from builder.model.plan import Clip
from tests.support.audio import alone, clip
from tests.support.made_sounds import RATE, joined, noise, silence, voice

UH = Fault("tail", "A voice sounds after /k/", "90 ms")


def part(made: render.RenderedClip) -> Samples:
    start, stop = made.target or (0, 0)
    quarter = (stop - start) // 4
    return made.levelled.samples[start + quarter : stop - quarter]


def test_what_is_judged_wrong_goes_to_the_next_voice(monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(clip: Clip, made: render.RenderedClip, said: object) -> tuple[Fault, ...]:
        return (UH,) if made.voice == "natural" else ()

    monkeypatch.setattr(render, "_faults", faulty)
    made = render.render(clip("duck", "D", voice="natural"))
    assert (made.voice, made.instead) == ("embedded", "A voice sounds after /k/ (90 ms).")


def test_what_a_service_says_wrong_goes_to_who_speaks_in_its_place(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[str] = []

    def faulty(clip: Clip, name: str) -> None:
        asked.append(name)
        raise ValueError("The word was not to be found in what it said.")

    monkeypatch.setattr(render, "made_by", faulty)
    instead = clip("duck", "D", voice="natural")
    with pytest.raises(ValueError, match="not to be found"):
        render.render(replace(clip("duck", "D", voice="online"), instead=instead))
    assert asked == ["online", "natural", "embedded"]


def test_what_no_voice_says_right_is_left_to_the_helper(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(render, "_faults", lambda *_: (UH,))
    with pytest.raises(ValueError, match="A voice sounds after"):
        render.render(clip("duck", "D", voice="natural"))


def test_the_next_voice_is_not_asked_for_what_it_is_not_fit_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """`natural` fails, and the embedded voice holds no θ."""
    monkeypatch.setattr(render, "_faults", lambda *_: (UH,))
    asked = []

    def fails(clip: Clip, name: str) -> None:
        asked.append(name)
        raise ValueError("not this")

    monkeypatch.setattr(render, "_spoken", fails)
    with pytest.raises(ValueError, match="not this"):
        render.render(clip("bath", "TH", "long", voice="natural"))
    assert asked == ["natural"]


def test_a_voice_after_a_burst_is_cut_off(monkeypatch: pytest.MonkeyPatch) -> None:
    """The natural voice's `duck`, with 100 ms of voice put behind it."""
    said = natural.speak((("D", "AH1", "K"),))
    spoken = said.samples[: np.flatnonzero(np.abs(said.samples) > 0.02)[-1] + 1]
    longer, _ = joined(spoken, voice(0.1, -26, top=1000), silence(0.1))
    monkeypatch.setattr(natural, "say", lambda clip: Speech(longer, RATE, None, "natural"))
    made, faults = render.made_by(clip("duck", "K", voice="natural"), "natural")
    assert faults == ()
    assert len(made.levelled.samples) < len(spoken) + 0.15 * RATE


@pytest.mark.parametrize("symbol", ["F", "TH"])
def test_a_weak_sound_by_itself_stays_well_below_s(symbol: str) -> None:
    """As people say them, 10 to 15 dB (JASA 84 (1988) 861-867, as recalled)."""
    weak, strong = (render.made_by(alone(s), "embedded")[0].levelled for s in (symbol, "S"))
    found = [loudness(one.samples, 22050) for one in (weak, strong)]
    assert 10 <= found[1] - found[0] <= 15
    assert weak.loudness == pytest.approx(found[0], abs=0.2)


def test_a_weak_sound_held_in_a_word_stays_well_below_s() -> None:
    levels = {}
    for word, symbol in (("fish", "F"), ("sun", "S")):
        made, _ = render.made_by(clip(word, symbol, "long"), "embedded")
        levels[symbol] = loudness(part(made), made.rate)
    assert 10 <= levels["S"] - levels["F"] <= 15


def test_what_lies_beside_it_is_as_loud_as_ever() -> None:
    both = [render.made_by(clip("fish", "F", form), "embedded")[0] for form in ("natural", "long")]
    rest = [one.levelled.samples[(one.target or (0, 0))[1] :] for one in both]
    apart = 20 * np.log10(np.sqrt((rest[1] ** 2).sum() / (rest[0] ** 2).sum()))
    assert abs(apart) < 1.5


def test_a_final_l_is_held_where_it_is_loud() -> None:
    word, places = joined(voice(0.4, -18), voice(0.1, -34, top=800), noise(0.1, (60, 3000), -60))
    found = Speech(word, RATE, (places[1][0], places[2][1]), "natural")
    start, stop = with_liquid_place(found).target or (0, 0)
    assert start / RATE == pytest.approx(0.29, abs=0.015)
    assert stop == places[2][1]
    placed = replace(found, target=(int(0.2 * RATE), stop))
    assert with_liquid_place(placed).target == placed.target
