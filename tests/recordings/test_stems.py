from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from builder.model.program import Form
from builder.recordings.file_names import matching_stem
from builder.recordings.prompts import Utterance
from builder.text.slugs import stem_of

FORMS: tuple[Form, ...] = ("natural", "long")
ALIKE = (
    "the big brown cow in the old barn can now see a coin",
    "the big brown cow in the old barn can now kick",
)
PARTS = st.lists(st.sampled_from(["so", "long", "natural"]), min_size=1, max_size=5)


def stem(text: str, form: Form = "natural") -> str:
    return Utterance(stem_of(text), form, (), None, "S", False).stem


@given(st.lists(PARTS.map(" ".join), unique=True, min_size=2, max_size=6))
def test_no_two_recordings_claim_one_name(texts: list[str]) -> None:
    stems = [stem(text, form) for text, form in product(texts, FORMS)]
    assert len(set(stems)) == len(stems)


def test_a_held_word_and_a_phrase_that_ends_in_long() -> None:
    assert (stem("so", "long"), stem("so long")) == ("so-long", "so-long-natural")


def test_what_is_clear_keeps_its_name() -> None:
    assert [stem("cow"), stem("cow", "long"), stem("long"), stem("a big bus")] == [
        "cow",
        "cow-long",
        "long",
        "a-big-bus",
    ]


def test_sentences_that_begin_alike_have_names_of_their_own() -> None:
    first, second = map(stem, ALIKE)
    assert first != second
    assert matching_stem(f"{first}-2", {first, second}) == first


def test_very_long_sentences_too() -> None:
    first, second = (stem(f"{'a cow and ' * 20}{end}") for end in ("a key", "a coin"))
    assert first != second
    assert len(first) < 60


def test_the_short_name_of_a_long_sentence_counts_while_it_is_clear() -> None:
    first, second, held = stem(ALIKE[0]), stem(ALIKE[1]), stem(ALIKE[0], "long")
    short = first[:40].strip("-")
    assert matching_stem(f"{short}-2", {first, held}) == first
    assert matching_stem(f"{short}-long", {first, held}) == held
    assert matching_stem(short, {first, second}) == ""
