"""What each voice is for each sound and form, by measuring some words for every sound and place.

    python -m tests.benchmarks.voices            what is found, and how the table differs from it
    python -m tests.benchmarks.voices --write    write what is found as the table
    python -m tests.benchmarks.voices --survey   the words that the natural voice says badly

A voice is a model where its figures lie where those of speakers do, and never where its finished
clips are judged to teach another sound (builder.audio.judge). Only recordings and the natural
voices, a woman's and a man's, may be one: the embedded voice is heard to be a machine.
"""

from __future__ import annotations

import csv
import io
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from builder.audio.assess.quality import Quality, assess_quality
from builder.audio.sustain.isolated import isolated_sound
from builder.audio.voices import natural, suitability
from builder.audio.voices.suitability import SoundForm
from builder.model.clinic import Speaker
from builder.phonetics.inventory import Sound, is_vowel, sounds
from builder.phonetics.position import POSITIONS
from tests.benchmarks import finished, held_words
from tests.benchmarks.held_words import HOLD_S, Said, beside_vowel, lengthened, said
from tests.benchmarks.likeness import GLIDES, Likeness, likeness, told
from tests.benchmarks.voice_survey import Asked

TABLE = Path(suitability.__file__).parent / "data" / "suitability.csv"
VOICES: tuple[Speaker, ...] = ("natural", "man", "embedded")
MODELS: tuple[Speaker, ...] = ("natural", "man")  # that may be models
MODEL_MIN_SHARE, OFFERED_MIN_SHARE = (
    0.66,
    0.5,
)  # of the words: enough for a model; fewer are not offered
MEAN_SHIFT = 0.05  # of the spectral mean, from the natural form to the held one
VOICED_SHIFT = 0.25  # the same of a voiced sound (common practice, no source)
LOOP_CORRELATION = 0.15  # autocorrelation from which a loop is heard
# dB beside the word's vowel, between 300 and 900 Hz, where vowels have their energy (A. Howitt:
# Automatic syllable detection for vowel landmarks, MIT 2000). What is louder is a syllable: of a
# ɹ held before a vowel, which is ɝ then; of a release, a vowel after it.
SYLLABLE_DB = -12.0
CANNOT = {
    "stop": "a stop cannot be held: its closure is silent",
    "affricate": "held it would turn into a fricative",
}
NO_TH = "no machine’s /θ/ is told from its /s/"  # not surely: a child would learn a lisp
NO_FIGURE = "no published figure to hold it against"
Grading = tuple[str, str]
Row = tuple[str, str, str, str, str, str]


def rows(voices: tuple[Speaker, ...] = VOICES) -> Iterator[Row]:
    """The proposed table: voice, sound, form, position, kind, why; of these voices alone the rows
    that are measured."""
    for form in ("natural", "long", "alone"):
        yield "recorded", "*", form, "", "model", "recorded for this and checked"
    yield "online", "*", "natural", "", "stand-in", "the voice of a service, which may change"
    yield "online", "*", "long", "", "stand-in", "made longer where it is found in what was said"
    yield "online", "TH", "long", "", "not offered", NO_TH
    yield "online", "*", "alone", "", "not offered", "it speaks words only"
    for sound in sounds().values():
        if sound.hold == "no":
            yield "*", sound.symbol, "long", "", "not offered", CANNOT[sound.manner]
        for voice in voices:
            yield from _place_rows(voice, sound, "natural")
            yield voice, sound.symbol, "alone", "", *judged(voice, sound, "alone")
            if sound.hold != "no":
                yield from _place_rows(voice, sound, "long")


def _place_rows(voice: Speaker, sound: Sound, form: SoundForm) -> Iterator[Row]:
    """One row when all positions have the same kind; else one for each."""
    found: dict[str, Grading] = {
        p: judged(voice, sound, form, p) for p in POSITIONS if _words(voice, sound, p)
    }
    if len({kind for kind, _ in found.values()}) == 1:
        found = (
            {"": judged(voice, sound, form)}
            if form == "natural"
            else {"": next(iter(found.values()))}
        )
    for position, verdict in found.items():
        yield voice, sound.symbol, form, position, *verdict


def judged(voice: Speaker, sound: Sound, form: SoundForm, position: str = "") -> Grading:
    """By what the voice says, and no better than its finished clips are."""
    if form == "alone":
        kind, why = by_itself(voice, sound)
    elif form == "natural":
        kind, why = word_form(voice, sound)
    else:
        kind, why = long_form(voice, sound, position)
    every = [
        one
        for one in finished.clips(voice, form, sound.symbol)
        if form == "alone" or position in ("", one.asked.position)
    ]
    right = sum(one.right for one in every)
    if kind != "not offered" and sound.symbol == "TH" and form != "natural":
        return "not offered", NO_TH
    if kind == "not offered" or right == len(every):
        return kind, why
    faults = Counter(str(fault.sentence) for one in every for fault in one.faults)
    worst = faults.most_common(1)[0][0] if faults else "it is not made"
    told_of = f"{worst} in {len(every) - right} of {len(every)} clips"
    if right < OFFERED_MIN_SHARE * len(every):
        return "not offered", told_of
    if kind == "model" and right < MODEL_MIN_SHARE * len(every):
        return "stand-in", told_of
    return kind, f"{why}; {right} of {len(every)} clips right"


def _words(voice: Speaker, sound: Sound, position: str = "") -> list[Said]:
    return [
        one
        for one in said(voice)
        if one.asked.sound == sound and position in ("", one.asked.position)
    ]


def word_form(voice: Speaker, sound: Sound, position: str = "") -> Grading:
    """In words as they are said, of one position or of all."""
    words = _words(voice, sound, position)
    sure = [one for one in words if one.sure]
    if len(sure) < OFFERED_MIN_SHARE * len(words):
        return "not offered", f"heard as the word in {len(sure)} of {len(words)} only"
    found = _measured(voice, sound, sure)
    if not found:
        return "stand-in", NO_FIGURE
    like = sum(one.like for one in found)
    model = (
        voice in MODELS
        and like >= MODEL_MIN_SHARE * len(found)
        and len(sure) >= MODEL_MIN_SHARE * len(words)
    )
    why = f"{told(found)}; as speakers say it in {like} of {len(found)} words"
    return "model" if model else "stand-in", why


def _measured(voice: Speaker, sound: Sound, words: list[Said]) -> list[Likeness]:
    """Of a stop only initial ones: there the time to the voice is published."""
    stop = sound.manner == "stop"
    chosen = [one for one in words if not stop or one.asked.position == "initial"]
    found = (likeness(sound, one.led, one.speech.rate, voice) for one in chosen)
    return [one for one in found if one]


def long_form(voice: Speaker, sound: Sound, position: str) -> Grading:
    """With the sound held in words of one position."""
    if sound.symbol in GLIDES:
        return "not offered", f"held it is the vowel {sounds()[GLIDES[sound.symbol]].ipa}"
    kind, why = word_form(voice, sound)
    if kind == "model" and sound.kind == "consonant":
        kind, why = word_form(voice, sound, position)
    words = [one for one in _words(voice, sound, position) if one.sure]
    if sound.kind != "consonant" or kind == "not offered" or not words:
        return kind, why
    pairs = [(one, long) for one in words if (long := lengthened(one))]
    if len(pairs) < OFFERED_MIN_SHARE * len(words):
        return "not offered", f"it stands still in {len(pairs)} of {len(words)} words only"
    words, longs = [one for one, _ in pairs], [long for _, long in pairs]
    if sound.manner == "fricative" and not sound.voiced:
        return _held_noise(kind, words, longs)
    if sound.manner == "fricative" and (moved := held_words.shift(words, longs)) > VOICED_SHIFT:
        return "not offered", f"spectral mean moves by {100 * moved:.0f} %: its friction is lost"
    lost = sum(not held_words.is_voiced(one) for one in longs) if sound.voiced else 0
    if lost > (1 - MODEL_MIN_SHARE) * len(longs):
        return "not offered", f"held it loses its voice in {lost} of {len(longs)} words"
    level = median(map(beside_vowel, longs))
    if sound.symbol == "R" and level > SYLLABLE_DB and _before_vowel(words):
        return "not offered", f"another syllable is heard: {level:.0f} dB beside the vowel"
    return kind, f"{level:.0f} dB beside the vowel"


def _before_vowel(words: list[Said]) -> bool:
    """Whether a vowel follows the target in most words."""
    after = [one.asked.phones[one.asked.past : one.asked.past + 1] for one in words]
    return sum(bool(phones) and is_vowel(phones[0]) for phones in after) > OFFERED_MIN_SHARE * len(
        words
    )


def _held_noise(kind: str, words: list[Said], longs: list[Said]) -> Grading:
    moved, loop = held_words.shift(words, longs), median(map(held_words.loop, longs))
    why = f"spectral mean moves by {100 * moved:.0f} %, autocorrelation {loop:.2f}"
    return kind if moved <= MEAN_SHIFT and loop < LOOP_CORRELATION else "not offered", why


def by_itself(voice: Speaker, sound: Sound) -> Grading:
    """The sound alone."""
    if sound.symbol in GLIDES:
        return "not offered", f"by itself it is the vowel {sounds()[GLIDES[sound.symbol]].ipa}"
    try:
        speech = isolated_sound(sound.phones[0], sound, HOLD_S, 5, voice)
    except ValueError:
        return "not offered", "not found in its syllable"
    if sound.hold != "yes":
        return _release(voice, sound, Said(Asked("", (), 0, 0, sound, "initial"), speech, 1.0))
    one = Said(Asked("", (), 0, 0, sound, "initial"), speech, 1.0)
    if sound.voiced and not held_words.is_voiced(one):
        return "not offered", "held it loses its voice"
    loop = held_words.loop(one)
    if not sound.voiced and loop >= LOOP_CORRELATION:
        return "not offered", f"a loop is heard in it (autocorrelation {loop:.2f})"
    found = likeness(sound, speech.samples, speech.rate, voice)
    if found and not found.like and sound.kind != "vowel":
        return "not offered", f"{told([found])}, not as speakers have it"
    model = voice in MODELS and bool(found and found.like)
    kind = word_form(voice, sound)[0] if model else "stand-in"
    return kind, told([found]) if found else NO_FIGURE


def _release(voice: Speaker, sound: Sound, one: Said) -> Grading:
    """A stop, an affricate or h: is there a vowel in it? Nothing is published on it alone."""
    level = held_words.vowel_in(voice, sound, one.speech)
    lasts = f"{1000 * len(one.target) / one.speech.rate:.0f} ms"
    if level > SYLLABLE_DB:
        return "not offered", f"a vowel is heard in its {lasts} ({level:.0f} dB)"
    return "stand-in", f"{lasts} without a vowel ({level:.0f} dB)"


def survey() -> Iterator[str]:
    """The words that alignment or quality would send to another voice."""
    start = time.process_time()
    words = said("natural")
    spent = time.process_time() - start
    found = [(one, assessed(one)) for one in words]
    for one, quality in found:
        if quality.verdict != "good":
            why = "; ".join(f"{r.rule} {r.figure}" for r in quality.issues)
            yield f"{quality.verdict:9} {one.asked.word:10} {one.asked.sound.symbol:4} {why}"
    again = sum(quality.refused for _, quality in found)
    yield f"{len(words)} words, {again} to be said again; {len(words) / spent:.0f} words a second"


def assessed(one: Said) -> Quality:
    """The word judged as a recording is."""
    speech = one.speech
    return assess_quality(
        speech.samples, speech.rate, speech.target, one.asked.sound, score=one.score
    )


def speed() -> str:
    """Words a second of the natural voice itself, on one core."""
    words = [one.asked for one in said("natural")]
    start = time.process_time()
    for one in words:
        natural.speak((one.phones,), one.word)
    return f"natural voice: {len(words) / (time.process_time() - start):.0f} words a second"


def main() -> None:
    """Compare, or do as the option says."""
    if "--survey" in sys.argv:
        print(*survey(), speed(), sep="\n")
        return
    found = list(rows())
    known = differing(found)
    for row in found:
        was = f"  (table: {known[row[:4]]})" if row[:4] in known else ""
        print(f"{row[0]:9} {row[1]:4} {row[2]:8} {row[3]:8} {row[4]:12} {row[5]}{was}")
    if "--write" in sys.argv:
        TABLE.write_text(_text(found), encoding="utf-8")


def differing(found: list[Row]) -> dict[tuple[str, ...], str]:
    """By its first four columns, of each row that the table has otherwise, what the table says."""
    known = _table() if TABLE.exists() else {}
    kinds = {row[:4]: row[4] for row in found}
    return {key: known.get(key, "no row") for key in kinds if known.get(key) != kinds[key]}


def _table() -> dict[tuple[str, ...], str]:
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return {tuple(row[:4]): row[4] for row in csv.reader(lines)}


def _text(found: list[Row]) -> str:
    stream = io.StringIO()
    stream.write(
        "# What each voice is for each sound and form (* stands for any), and why; position where\n"
        "# it differs there. Written by python -m tests.benchmarks.voices --write.\n"
    )
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerows([("voice", "symbol", "form", "position", "kind", "why"), *found])
    return stream.getvalue()


if __name__ == "__main__":
    main()
