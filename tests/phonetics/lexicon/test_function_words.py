from __future__ import annotations

import pytest

from builder.phonetics.lexicon.function_words import is_function_word


@pytest.mark.parametrize("word", ["the", "The", "I", "isn't", "isn’t", "with"])
def test_small_words(word: str) -> None:
    assert is_function_word(word)


@pytest.mark.parametrize("word", ["cow", "give", "red", "# the", ""])
def test_words_with_a_meaning_of_their_own(word: str) -> None:
    assert not is_function_word(word)
