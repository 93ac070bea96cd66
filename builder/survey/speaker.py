"""Who says an utterance: a recording, a voice, or nobody. The plan and the check ask the same."""

from __future__ import annotations

from collections.abc import Container, Iterable

from builder.audio.voices import LOCAL_VOICES, NATURAL_VOICES, VOICES
from builder.audio.voices.suitability import SoundForm, suitability_of
from builder.model.clinic import AskedVoice, Speaker
from builder.phonetics.inventory import sounds
from builder.recordings.prompts import Utterance
from builder.recordings.takes import Take
from builder.survey.survey import Survey


def recorded(asked: Utterance, position: str, survey: Survey) -> tuple[Take, bool] | None:
    """The take, and whether the target is held in it: a long form is made of a natural one, but
    where every voice, made longer, is heard with another syllable (red)."""
    if take := survey.take(asked):
        return take, asked.form == "long"
    if asked.form == "long" and not asked.alone and _lengthens(asked.sound, position):
        natural = survey.take(asked._replace(form="natural"))
        return (natural, False) if natural and natural.target else None
    return None


def _lengthens(symbol: str, position: str) -> bool:
    """Whether a sound can be made longer there; friction always can, though no voice's θ is good
    enough to be held."""
    friction = sounds()[symbol].manner == "fricative"
    return friction or any(
        suitability_of(v, symbol, "long", position).offered for v in LOCAL_VOICES
    )


def fit_voice(
    asked: Utterance,
    position: str,
    named: AskedVoice,
    here: Container[str] = VOICES,
    *,
    one_reading: bool = True,
) -> Speaker | None:
    """The first voice that is fit: the one that is named, else those on this computer.

    here: the voices that can speak on this computer. one_reading: its spelling is read as these
    phones and in no other way; else no voice is asked that reads spellings.
    """
    if named == "helper":
        return None
    form: SoundForm = "alone" if asked.alone else asked.form
    order: tuple[Speaker, ...] = (named, *LOCAL_VOICES)
    there = (v for v in dict.fromkeys(order) if v in here and (one_reading or not VOICES[v].reads))
    fit = (v for v in there if suitability_of(v, asked.sound, form, position).offered)
    return next(fit, None)


def clearer_voice(symbol: str, positions: Iterable[str], named: AskedVoice) -> Speaker | None:
    """The natural voice that is a model of a sound in words, where the one that is named is not
    even asked for it; None where none is needed, or there is none."""
    places = tuple(positions)

    def grades(voice: Speaker) -> set[str]:
        return {suitability_of(voice, symbol, "natural", place).grade for place in places}

    if named == "helper" or named not in NATURAL_VOICES or "not offered" not in grades(named):
        return None
    return next((v for v in NATURAL_VOICES if grades(v) == {"model"}), None)
