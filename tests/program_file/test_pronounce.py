from __future__ import annotations

import itertools

import pytest

from builder.model.program import Item, ItemFile
from builder.phonetics.inventory import UnknownSoundError, parse_sound
from builder.phonetics.position import Position
from builder.program_file.pronounce import (
    Target,
    item_of,
    pair_of,
    sound_item,
    targets_in,
    vowel_items,
    words_of,
)
from builder.text.letters import letters_of

K = parse_sound("k")
INITIAL = Target(K, ("initial",))


def item(text: str, target: Target = INITIAL, say: str = "") -> Item:
    return item_of(ItemFile(word=text, say=say), (), target, "word")


def letters(text: str, target: Target = INITIAL) -> tuple[tuple[str, bool], ...]:
    """The parts, neighbors of one kind put together."""
    made = item(text, target)
    parts = letters_of(text, made.phones_by_word, targets_in(made, target), alone=False)
    assert all(part for part, _ in parts)
    groups = itertools.groupby(parts, key=lambda part: part[1])
    return tuple(("".join(part for part, _ in group), on) for on, group in groups)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("key", [("k", True), ("ey", False)]),
        ("my key", [("my ", False), ("k", True), ("ey", False)]),
        # The word before the target has the same letters in it.
        (
            "a car, a cow.",
            [("a ", False), ("c", True), ("ar, a ", False), ("c", True), ("ow.", False)],
        ),
        (
            "keen on a big key!",
            [("k", True), ("een on a big ", False), ("k", True), ("ey!", False)],
        ),
        (
            "Is a cat a key?",
            [("Is a ", False), ("c", True), ("at a ", False), ("k", True), ("ey?", False)],
        ),
        ("sick of it, Kim", [("sick of it, ", False), ("K", True), ("im", False)]),
        ("oh", [("oh", False)]),
    ],
)
def test_the_letters_of_the_target_are_set_off(text: str, parts: list[tuple[str, bool]]) -> None:
    assert letters(text) == tuple(parts)


def test_the_right_one_of_equal_words_is_set_off() -> None:
    final = Target(K, ("final",))
    assert letters("as is, a sick duck", final) == (
        ("as is, a si", False),
        ("ck", True),
        (" du", False),
        ("ck", True),
    )


def test_a_target_of_another_place_is_not_set_off() -> None:
    both = Target(K, ("initial", "final"))
    assert letters("cook a cake") == (("c", True), ("ook a ", False), ("c", True), ("ake", False))
    assert letters("cake", both) == (("c", True), ("a", False), ("k", True), ("e", False))


def test_a_sound_by_itself_is_all_target() -> None:
    alone = sound_item(Target(K, ("medial", "final")), ())
    assert (alone.text, alone.position, alone.focus) == ("k", "medial", (0, 0, 1))
    assert letters_of("k", alone.phones_by_word, [(0, 0, 1)], alone=True) == (("k", True),)


@pytest.mark.parametrize(
    ("position", "cluster", "texts", "phones"),
    [
        ("initial", (), ["kee", "kah"], [("K", "IY1"), ("K", "AA1")]),
        ("medial", (), ["eekee", "ahkah"], [("IY0", "K", "IY1"), ("AA0", "K", "AA1")]),
        ("final", (), ["eek", "ahk"], [("IY1", "K"), ("AA1", "K")]),
        ("initial", ("S", "K"), ["skee", "skah"], [("S", "K", "IY1"), ("S", "K", "AA1")]),
    ],
)
def test_a_syllable_for_every_vowel(
    position: Position, cluster: tuple[str, ...], texts: list[str], phones: list[tuple[str, ...]]
) -> None:
    made = vowel_items(Target(K, (position,), cluster), ("ee", "ah"), ())
    assert [one.text for one in made] == texts
    assert [one.phones for one in made] == phones
    assert all(one.phones[one.focus[1]] == "K" for one in made if one.focus)


def test_a_consonant_is_not_a_vowel() -> None:
    with pytest.raises(UnknownSoundError, match="`s` is not a vowel"):
        vowel_items(INITIAL, ("s",), ())


def test_the_reading_that_has_the_target_is_the_one_spoken() -> None:
    # CMUdict holds "use" as a noun, with /s/, and as a verb, with /z/.
    final_s = Target(parse_sound("s"), ("final",))
    final_z = Target(parse_sound("z"), ("final",))
    assert item("use", final_s).phones[-1] == "S"
    assert item("use", final_z).phones[-1] == "Z"


def test_a_given_pronunciation_wins() -> None:
    assert item("calf", say="kæf").phones == ("K", "AE1", "F")


@pytest.mark.parametrize("order", [("key", "tea"), ("tea", "key")])
def test_the_word_with_the_target_comes_first_in_a_pair(order: tuple[str, str]) -> None:
    pair = pair_of((ItemFile(word=order[0]), ItemFile(word=order[1])), (), INITIAL)
    assert (pair.target.text, pair.other.text) == ("key", "tea")
    assert (pair.apart, pair.other.focus) == (((0, 1), (0, 1)), None)


def test_a_pair_takes_the_readings_that_differ_in_one_sound() -> None:
    # "bow" is read /baʊ/ and /boʊ/; only the second differs from "coat" ... "boat" in one sound.
    final_t = Target(parse_sound("t"), ("final",))
    pair = pair_of((ItemFile(word="boat"), ItemFile(word="bow")), (), final_t)
    assert pair.other.phones == ("B", "OW1")
    assert pair.apart == ((2, 3), (2, 2))


def test_a_pair_that_differs_in_more_is_kept_as_it_is() -> None:
    pair = pair_of((ItemFile(word="key"), ItemFile(word="towel")), (), INITIAL)
    assert (pair.target.text, pair.apart) == ("key", None)


def test_words_of() -> None:
    assert words_of("It’s my cup! (No 2)") == ("It’s", "my", "cup", "No", "2")
