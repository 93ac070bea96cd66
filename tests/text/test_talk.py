"""Where and with whom a talk is, in the family's language."""

from __future__ import annotations

import pytest

from builder.drafting.past_sentences.bank import TALKS, talks
from builder.text.talk import situation
from builder.text.wording import languages, spoken, wording


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("age", TALKS)
def test_our_own_talks_are_told_in_every_language(language: str, age: str) -> None:
    words = wording(language)
    there = {*words.part("talk.where").values()}
    for _, where, company in talks(age):  # type: ignore[arg-type]
        found = situation(where, company, words)
        assert found.is_ours
        assert found.where[:1].lower() + found.where[1:] in there
        assert spoken("")[0] not in found.in_words(words)


def test_what_a_therapist_wrote_has_no_word_of_another_language_in_it() -> None:
    told = {
        language: situation("at dinner", "Grandpa", wording(language)).in_words(wording(language))
        for language in ("en", "es")
    }
    at, who = spoken("at dinner"), spoken("Grandpa")
    assert told == {"en": f"{at}, with {who}", "es": f"{at} · {who}"}
