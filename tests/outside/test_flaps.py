"""Flaps and glottal t against a textbook, and against a dictionary that writes them.

The words: Broeders & Gussenhoven, An Introduction to American English Phonetics (Groningen open
textbook), 9.3.1 (no glottalization of a t between two syllables; always a glottal t before syllabic
n) and 9.4 (pairs that are homophones; t after n and l, which is no flap).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from wordfreq import zipf_frequency

from builder.phonetics.contrast import one_sound_apart
from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon import tagged_dictionary
from builder.phonetics.lexicon.allophones import phones_of, signs
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.phonetics.position import FLAP, GLOTTAL, flap_or_glottal, occurrences, variant

HOMOPHONES = (
    ("liter", "leader"),
    ("metal", "medal"),
    ("hurtle", "hurdle"),
    ("atom", "Adam"),
    ("parity", "parody"),
    ("writer", "rider"),
)


def variants(word: str, symbol: str) -> list[str]:
    phones, sound = pronunciations(word)[0], sounds()[symbol]
    return [variant(phones, o, sound) for o in occurrences(phones, sound)]


@pytest.mark.parametrize(("with_t", "with_d"), HOMOPHONES)
def test_pairs_that_the_textbook_calls_homophones_are_no_pairs(with_t: str, with_d: str) -> None:
    assert variants(with_t, "T") == [FLAP]
    assert variants(with_d, "D") == [FLAP]
    assert one_sound_apart(pronunciations(with_t)[0], pronunciations(with_d)[0]) is None


@pytest.mark.parametrize("word", ["cotton", "buttoned"])
def test_t_before_a_syllabic_n_is_glottal(word: str) -> None:
    assert variants(word, "T") == [GLOTTAL]


@pytest.mark.parametrize("word", ["winter", "center", "penalty", "mattress", "atlas", "cat"])
def test_other_t_is_neither(word: str) -> None:
    assert variants(word, "T") == [""]


WRITTEN = {"ɾ": FLAP, "ʔn": GLOTTAL, "ʔ": GLOTTAL, "t": ""}


def written() -> Iterator[tuple[str, str]]:
    """Of every t of a common word: what the dictionary writes, and what the rule says."""
    table = sorted(signs("tagged dictionary"), key=len, reverse=True)
    for word, raw in tagged_dictionary.load()[0].items():
        if not (word.isascii() and word.islower()) or zipf_frequency(word, "en") < RARE_ZIPF:
            continue
        ipa = tagged_dictionary._forms(raw)[0][1]
        phones = phones_of("tagged dictionary", word, ipa)
        said = [sign for sign in cut(ipa, table) if sign in WRITTEN or sign == "d"]
        mine = [at for at, phone in enumerate(phones) if phone in ("T", "D")]
        if len(said) == len(mine):
            pairs = zip(said, mine, strict=True)
            yield from (
                (WRITTEN[sign], flap_or_glottal(phones, at))
                for sign, at in pairs
                if sign != "d" and phones[at] == "T"
            )


def cut(ipa: str, table: list[str]) -> Iterator[str]:
    while ipa:
        sign = next((one for one in table if ipa.startswith(one)), ipa[0])
        yield sign
        ipa = ipa[len(sign) :]


@pytest.mark.slow
def test_the_tagged_dictionary_writes_the_same_flaps() -> None:
    """It leaves d as it is, and before a syllabic n it wavers between ʔ and t, so that t counts as
    glottal there, too. Measured: 99.5 % of 7,279 t."""
    found = Counter(written())
    tagged_dictionary.unload()
    unlike = sum(n for (said, rule), n in found.items() if said != rule)
    wavering = found["", GLOTTAL]
    assert found[FLAP, FLAP] > 1000
    assert (unlike - wavering) / found.total() < 0.01
