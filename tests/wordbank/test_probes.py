from __future__ import annotations

import pytest

from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.function_words import function_words
from builder.wordbank.norms import everyday
from builder.wordbank.probes import ONE_IN, is_probe


@pytest.mark.parametrize("symbol", ["S", "K", "R"])
def test_about_one_word_in_six(symbol: str) -> None:
    kept = sum(is_probe(word, sounds()[symbol]) for word in everyday())
    assert kept / len(everyday()) == pytest.approx(1 / ONE_IN, abs=0.02)


def test_by_sound_and_whatever_the_capitals() -> None:
    kept = {s: {w for w in everyday() if is_probe(w, sounds()[s])} for s in ("S", "K")}
    assert kept["S"] != kept["K"]
    assert all(is_probe(word.upper(), sounds()["K"]) for word in kept["K"])


def test_the_same_on_every_machine() -> None:
    assert is_probe("coffee", sounds()["K"])  # a change of the rule would move practiced words
    assert not is_probe("key", sounds()["K"])


def test_what_is_trained_is_no_probe_for_that_client() -> None:
    k = sounds()["K"]
    assert not is_probe("Coffee", k, {"coffee", "key"})
    assert is_probe("coffee", k, {"key"})


def test_small_words_are_never_kept_apart() -> None:
    assert not any(
        is_probe(word, sound) for word in function_words() for sound in sounds().values()
    )


def test_a_form_goes_with_its_word() -> None:
    k = sounds()["K"]
    assert is_probe("coffees", k, lemma="coffee")
    assert not is_probe("coffees", k, {"coffee"}, "coffee")
    assert not is_probe("keys", k, lemma="key")
