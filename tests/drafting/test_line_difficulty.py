from __future__ import annotations

import pytest

from builder.drafting.line_difficulty import burden, limits
from builder.drafting.word_kinds import Word, word
from builder.phonetics.inventory import sounds
from builder.program_file.pronounce import Target
from builder.wordbank.probes import is_probe

S = Target(sounds()["S"], ("initial",), ())


def known(text: str) -> Word:
    found = word(text)
    assert found
    return found


@pytest.mark.parametrize(
    ("text", "sayable"),
    [
        pytest.param("I saw my seal.", True, id="a second word with the target, no probe"),
        pytest.param("Sing to my seal.", False, id="a probe word of the target"),
        pytest.param("My seal is his.", True, id="small words"),
        pytest.param("My seal likes me.", False, id="the target where it is not taught"),
    ],
)
def test_what_may_stand_around_a_word(text: str, sayable: bool) -> None:
    assert is_probe("sing", S.sound)
    assert (burden(text, known("seal"), limits(S)) is not None) is sayable


def test_a_trained_word_may_stand_in_a_line() -> None:
    trained = limits(S, trained=frozenset({"sing"}))
    assert burden("Sing to my seal.", known("seal"), trained) is not None


def test_the_plural_of_the_practised_word_is_its_own() -> None:
    k = Target(sounds()["K"], ("initial",), ())
    assert is_probe("caps", k.sound)
    assert burden("two caps", known("cap"), limits(k)) is not None
    assert burden("two caps", known("key"), limits(k)) is None
