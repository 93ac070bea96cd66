from __future__ import annotations

from collections.abc import Iterator

import pytest

from builder.phonetics.lexicon import dictionary, tagged_dictionary
from builder.phonetics.lexicon.build_index import known_words

# By CMUdict 0.7b and the tagged dictionary: cat is in both, aachener in CMUdict alone, aardwolf in
# the part of the tagged dictionary that was gone over by hand, abactor in its other part.
BOUND = 2.0  # Zipf; the `common` of data/en_facts.csv


@pytest.fixture(autouse=True)
def _unloaded() -> Iterator[None]:
    yield
    tagged_dictionary.unload()
    dictionary.unload()


@pytest.mark.slow
def test_a_word_of_one_lexicon_is_known_when_it_is_in_use() -> None:
    rare = known_words({"aachener": BOUND - 0.01, "aardwolf": BOUND - 0.01, "abactor": 5.0})
    used = known_words({"aachener": BOUND, "aardwolf": BOUND + 1, "abactor": 5.0})
    assert "cat" in rare & used
    assert {"aachener", "aardwolf"} <= used - rare
    assert "abactor" not in used
