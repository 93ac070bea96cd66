from __future__ import annotations

from collections.abc import Iterator

import pytest

from builder.phonetics.lexicon import tagged_dictionary
from builder.phonetics.lexicon.tagged_dictionary import MANY, readings


@pytest.fixture(autouse=True)
def _nothing_loaded() -> Iterator[None]:
    tagged_dictionary.unload()
    yield
    tagged_dictionary.unload()


def test_many_words_are_not_looked_up_in_the_text_one_by_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    first = readings("cow")
    assert first
    for n in range(MANY):
        readings(f"zqx{n}")
    monkeypatch.setattr(tagged_dictionary, "_text", None)  # not asked any more
    assert readings("cow") == first
    assert readings("zqx") == ()
