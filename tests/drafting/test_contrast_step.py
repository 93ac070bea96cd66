from __future__ import annotations

from builder.drafting import write_yaml
from builder.drafting.contrast_step import Asked, chosen, step
from builder.phonetics.position import Position
from builder.wordbank.needs import Needs
from tests.support.wordbank_index import Few, Row, few

T_FOR_K = Needs("K", ("T",))
ROWS = few(
    "key K IY1",
    "tea T IY1",
    "cool K UW1 L",
    "tool T UW1 L",
    "call K AO1 L",
    "tall T AO1 L",
    "kite K AY1 T",
    "tight T AY1 T",
    "coup K UW1",
    "two T UW1",
    "bike B AY1 K",
    "bite B AY1 T",
)


def found(
    rows: Few = ROWS,
    needs: Needs = T_FOR_K,
    places: tuple[Position, ...] = ("initial",),
    group: tuple[str, ...] = (),
) -> list[str]:
    asked = Asked(needs, places, group, 4, lambda word: word in ("call", "tall"))
    return [f"{one.word} / {other.word}" for one, other in chosen(rows, asked)]


def test_known_pairs_with_pictures_come_first_and_others_fill_up_to_four() -> None:
    assert found() == ["call / tall", "key / tea", "cool / tool", "coup / two"]


def test_the_positions_take_turns() -> None:
    assert found(places=("initial", "final"))[:2] == ["call / tall", "bike / bite"]


def test_where_known_pairs_are_few_others_fill_up() -> None:
    assert found(few("key K IY1", "tea T IY1", "coup K UW1", "two T UW1")) == [
        "key / tea",
        "coup / two",
    ]


def test_a_sound_that_is_left_out_and_a_cluster_that_loses_it() -> None:
    """Final consonants left out, clusters reduced: common practice, no source."""
    rows = few("car K AA1 R", "cart K AA1 R T", "star S T AA1 R", "tar T AA1 R")
    assert found(rows, Needs("T", ()), ("final",)) == ["cart / car"]
    assert found(rows, Needs("S", ()), ("initial",), ("S", "T")) == ["star / tar"]


def test_no_flap_and_nothing_without_a_sound_said_instead() -> None:
    rows = few("lacquer L AE1 K ER0", "latter L AE1 T ER0")
    assert found(rows, places=("medial",)) == []
    assert found(needs=Needs("K")) == []


def test_the_step_names_the_reading_of_a_word_that_has_two() -> None:
    boat, bow = Row("boat", ("B", "OW1", "T")), Row("bow", ("B", "OW1"), heteronym=True)
    text = write_yaml.step(step([(boat, bow)], (), "pairs"), 0)
    assert text == "{name: pairs, level: word,\ncontrast: [[boat, {word: bow, say: boʊ}]]}"
