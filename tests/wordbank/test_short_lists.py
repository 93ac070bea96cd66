from __future__ import annotations

import pytest

from builder.phonetics.inventory import parse_sound, sounds
from builder.phonetics.position import Position
from builder.wordbank.filters import Query
from builder.wordbank.ranking import LESS_KNOWN
from builder.wordbank.short_lists import why_short
from builder.wordbank.suggest import MIN_WORDS, offer
from tests.support.wordbank_index import Few, Row, few, many


def why(words: Few, query: Query) -> str:
    return why_short(words, query, offer(words, query))


@pytest.mark.slow
def test_a_long_list_needs_no_word() -> None:
    query = Query(sound=sounds()["K"], position="initial")
    assert len(offer(many(), query)) > MIN_WORDS
    assert why(many(), query) == ""


@pytest.mark.slow
@pytest.mark.parametrize(
    ("typed", "position", "told"),
    [
        pytest.param("ng", "initial", "No English word in use begins with /ŋ/.", id="never there"),
        pytest.param("h", "final", "No English word in use ends in /h/.", id="never at the end"),
        pytest.param(
            "/ð/",
            "initial",
            "Most are small words (they, them, that): practice them in phrases.",
            id="small words",
        ),
        pytest.param("z", "initial", "9 words that children know begin with /z/.", id="few"),
    ],
)
def test_why_few(typed: str, position: Position, told: str) -> None:
    assert told in why(many(), Query(sound=parse_sound(typed), position=position))


def test_what_gives_more_is_counted() -> None:
    words = few("sky S K AY1", "sun S AH1 N", "soap S OW1 P", "salad S AE1 L AH0 D")
    narrow = Query(sound=sounds()["S"], position="initial", syllables=(2, 2))
    told = why(words, narrow)
    assert told.startswith("Only 1 word that children know begins with /s/ and is as asked for.")
    assert "without the other options (3)" in told
    assert "--cluster any" not in told, "sky has one syllable"
    assert "--cluster any (4)" in why(words, Query(sound=sounds()["S"], position="initial"))


def test_a_short_list_is_filled_up_with_common_words_ranked_down() -> None:
    words = Few(
        [
            Row("zoo", ("Z", "UW1"), 4.1),
            Row("zone", ("Z", "OW1", "N"), 4.7),
            Row("zeal", ("Z", "IY1", "L"), 2.9),
        ]
    )
    found = offer(words, Query(sound=sounds()["Z"], position="initial"))
    assert [(o.word, o.known) for o in found] == [("zoo", True), ("zone", False)]
    assert LESS_KNOWN in found[1].notes


def test_no_small_word_fills_a_list() -> None:
    words = Few([Row("of", ("AH1", "V"), 7.4), Row("five", ("F", "AY1", "V"), 5)])
    assert [o.word for o in offer(words, Query(sound=sounds()["V"], position="final"))] == ["five"]
