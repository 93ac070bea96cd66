from __future__ import annotations

import pytest

from builder.checks.context import check_seams
from builder.drafting.line_difficulty import difficulty, limits
from builder.drafting.word_kinds import PractisedWord, word
from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.position import Position
from builder.program_file.pronounce import Target
from builder.wordbank.probes import is_probe
from tests.support.clients import NOTHING, client_of

S = Target(sounds()["S"], ("initial",), ())


def known(text: str) -> PractisedWord:
    found = word(text)
    assert found
    return found


@pytest.mark.parametrize(
    ("text", "may_be_said"),
    [
        pytest.param("I saw my seal.", True, id="a second word with the target, no probe"),
        pytest.param("Sip to my seal.", False, id="a probe word of the target"),
        pytest.param("My seal is his.", True, id="small words"),
        pytest.param("My seal likes me.", False, id="the target where it is not taught"),
    ],
)
def test_what_may_stand_around_a_word(text: str, may_be_said: bool) -> None:
    assert is_probe("sip", S.sound)
    assert (difficulty(text, known("seal"), limits(S)) is not None) is may_be_said


def test_a_trained_word_may_stand_in_a_line() -> None:
    trained = limits(S, trained=frozenset({"sip"}))
    assert difficulty("Sip to my seal.", known("seal"), trained) is not None


def test_the_plural_of_the_practised_word_is_its_own() -> None:
    k = Target(sounds()["K"], ("initial",), ())
    assert is_probe("caps", k.sound)
    assert difficulty("two caps", known("cap"), limits(k)) is not None
    assert difficulty("two caps", known("key"), limits(k)) is None


CONSONANTS = [s for s in sounds().values() if s.kind == "consonant"]
PROGRAM = """\
sound: /{sound}/
position: {position}
current: a
steps: [{{name: a, level: phrase, items: [{{word: one two, say: ʌ{left} {right}ʌ}}]}}]
"""


def seam_found(target: Sound, position: Position, left: Sound, right: Sound) -> bool:
    """Whether the check advises against a phrase in which the two sounds meet."""
    text = PROGRAM.format(sound=target.ipa, position=position, left=left.ipa, right=right.ipa)
    return bool(list(check_seams(client_of(text), NOTHING)))


def is_drafted(target: Sound, position: Position, left: Sound, right: Sound) -> bool:
    """Whether drafting would take the same phrase."""
    said = {"one": ("AH1", left.symbol), "two": (right.symbol, "AH1")}
    phrase = PractisedWord("one two", said, frozenset())
    return difficulty("one two", phrase, limits(Target(target, (position,), ()))) is not None


@pytest.mark.parametrize("target", CONSONANTS, ids=lambda sound: sound.symbol)
def test_no_line_is_drafted_that_the_check_advises_against(target: Sound) -> None:
    pairs: list[tuple[Position, Sound, Sound]] = []
    for other in CONSONANTS:
        pairs += [("final", target, other), ("initial", other, target)]
    drafted = {p: is_drafted(target, *p) for p in pairs}
    assert [p for p in pairs if drafted[p] is seam_found(target, *p)] == []
    assert any(drafted.values())
