from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.phonetics.contrast import (
    ContrastError,
    check_sides,
    feature_names,
    one_apart,
    one_sound_apart,
    parse_side,
)
from builder.phonetics.inventory import UnknownSoundError, bare
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.lexicon.index import Index
from builder.phonetics.minimal_pairs.find import Pair, pairs
from builder.phonetics.minimal_pairs.words import RARE_ZIPF
from builder.phonetics.position import Position


@dataclass(frozen=True)
class Row:
    """A word of a tiny index."""

    word: str
    phones: tuple[str, ...]
    zipf: float = 4.0
    heteronym: bool = False
    lemma_of: str = ""


def rows(*lines: str) -> tuple[Row, ...]:
    """`sink S IH1 NG K`, commonest first."""
    return tuple(Row(word, tuple(phones)) for word, *phones in map(str.split, lines))


TINY = rows(
    "sink S IH1 NG K",
    "think TH IH1 NG K",
    "mouse M AW1 S",
    "mouth M AW1 TH",
    "boat B OW1 T",
    "bow B OW1",
    "spy S P AY1",
    "pie P AY1",
    "sky S K AY1",
    "sigh S AY1",
    "past P AE1 S T",
    "pass P AE1 S",
    "path P AE1 TH",
    "messy M EH1 S IY0",
    "slow S L OW1",
    "flow F L OW1",
    "some S AH1 M",
    "thumb TH AH1 M",
    "thumper TH AH1 M P ER0",
    "bird B ER1 D",
    "bard B AA1 R D",
    "balled B AA1 L D",
    "cut K AH1 T",
    "cat K AE1 T",
    "stew S T UW1",
    "too T UW1",
)


def found(
    one: str,
    other: str,
    words: Iterable[Row] = TINY,
    position: Position | None = None,
    least: int = 0,
    **judges: object,
) -> list[str]:
    made = pairs(parse_side(one), parse_side(other), words, position, least=least, **judges)  # type: ignore[arg-type]
    return [" / ".join(word.word for word in pair.words) for pair in made]


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param(
            "s",
            "/θ/",
            {"sink / think", "mouse / mouth", "some / thumb", "pass / path"},
            id="two sounds at any position",
        ),
        pytest.param(
            "/θ/",
            "s",
            {"think / sink", "mouth / mouse", "thumb / some", "path / pass"},
            id="in the order asked for",
        ),
        pytest.param("t", "-", {"boat / bow"}, id="a sound against nothing, not out of a cluster"),
        pytest.param("-", "t", {"bow / boat"}, id="nothing against a sound"),
        pytest.param("sp", "p", {"spy / pie"}, id="a cluster against its second part"),
        pytest.param("sk", "s", {"sky / sigh"}, id="a cluster against its first part"),
        pytest.param("sp", "sk", {"spy / sky"}, id="two clusters"),
        pytest.param("st", "s", {"past / pass"}, id="a cluster at the end"),
        pytest.param("st", "t", {"stew / too"}, id="a cluster at the beginning"),
        pytest.param("er", "ar", {"bird / bard"}, id="vowel and r, which is two phones"),
        pytest.param("uh", "ae", {"cut / cat"}, id="vowels keep their stress"),
        pytest.param("r", "l", set(), id="the r of bard belongs to its vowel"),
        pytest.param("m", "k", set(), id="none"),
    ],
)
def test_pairs_by_sounds(one: str, other: str, expected: set[str]) -> None:
    assert set(found(one, other)) == expected


def test_a_contrast_inside_clusters_is_offered_last_and_named() -> None:
    words = rows("slow S L OW1", "flow F L OW1", "sit S IH1 T", "fit F IH1 T")
    made = pairs(parse_side("s"), parse_side("f"), words)
    assert [(p.words[0].word, p.cluster) for p in made] == [("sit", False), ("slow", True)]


def test_flaps_are_no_pair_beside_each_other_and_the_last_beside_another_sound() -> None:
    """Which t and d are flaps: tests/outside/test_flaps.py."""
    words = rows(
        "latter L AE1 T ER0",
        "ladder L AE1 D ER0",
        "madder M AE1 D ER0",
        "lacquer L AE1 K ER0",
        "beacon B IY1 K AH0 N",
        "beaten B IY1 T AH0 N",
        "key K IY1",
        "tea T IY1",
    )
    assert found("t", "d", words, least=9) == []
    assert found("k", "t", words) == ["key / tea", "lacquer / latter", "beacon / beaten"]


def test_position_is_a_filter() -> None:
    assert found("s", "/θ/", position="final") == ["mouse / mouth", "pass / path"]
    assert found("s", "/θ/", position="medial") == []


def test_pictured_and_known_words_come_first() -> None:
    two = {"mouse", "mouth"}
    assert found("s", "/θ/", pictured=two.__contains__)[0] == "mouse / mouth"
    assert found("s", "/θ/", known={"some", "thumb"}.__contains__)[0] == "some / thumb"


def test_a_pair_that_holds_one_of_its_sounds_again_waits() -> None:
    words = rows("cake K EY1 K", "take T EY1 K", "cow K AW1", "tau T AW1")
    assert found("k", "t", words, pictured={"cake", "take"}.__contains__)[0] == "cow / tau"


def test_rare_words_forms_and_unsuitable_words_are_never_offered() -> None:
    sink, think, mouse, mouth = TINY[:4]
    words = [sink, think, mouse, Row("mouth", mouth.phones, zipf=2.9)]
    assert found("s", "/θ/", words) == ["sink / think"]
    words = [sink, think, mouse, Row("mouth", mouth.phones, lemma_of="mow")]
    assert found("s", "/θ/", words) == ["sink / think"]
    assert found("s", "/θ/", TINY, fit=lambda row: row.word not in ("sink", "thumb")) == [
        "mouse / mouth",
        "pass / path",
    ]


def test_of_words_that_sound_alike_one_is_offered() -> None:
    words = rows("key K IY1", "quay K IY1", "tea T IY1", "tee T IY1")
    assert found("k", "t", words) == ["key / tea"]
    assert found("k", "t", words, pictured={"tee"}.__contains__) == ["key / tee"]
    assert found("k", "t", words, learnt={"key": 3, "quay": 9, "tea": 4, "tee": 3}.__getitem__) == [
        "key / tee"
    ]


def test_every_reading_of_a_word_with_two_may_make_a_pair() -> None:
    words = [Row("bow", ("B", "AW1"), heteronym=True), *rows("boat B OW1 T")]
    assert found("t", "-", words) == []
    readings = {"bow": (("B", "AW1"), ("B", "OW1"))}.get
    assert found("t", "-", words, readings=partial(readings)) == ["boat / bow"]


def test_near_pairs_join_when_there_are_few_and_say_so() -> None:
    words = rows("treasure T R EH1 ZH ER0", "pressure P R EH1 SH ER0", "mesh M EH1 SH")
    assert found("zh", "sh", words) == []
    (pair,) = pairs(parse_side("zh"), parse_side("sh"), words)
    assert pair.near
    assert [word.word for word in pair.words] == ["treasure", "pressure"]


def test_a_near_pair_differs_once_more_but_not_beside_the_contrast() -> None:
    words = rows("sun S AH1 N", "thumb TH AH1 M", "sat S AE1 T", "thin TH IH1 N", "thick TH IH1 K")
    assert found("s", "/θ/", words, least=3) == ["sun / thumb"]


@pytest.mark.parametrize(
    ("one", "other", "message"),
    [
        pytest.param("s", "s", "against itself", id="the same"),
        pytest.param("-", "-", "against itself", id="nothing twice"),
        pytest.param("str", "t", "more than one sound", id="two sounds taken away"),
        pytest.param("sp", "-", "more than one sound", id="a cluster against nothing"),
        pytest.param("sp", "tr", "more than one sound", id="two unlike clusters"),
        pytest.param("k", "ee", "place of a vowel", id="a consonant and a vowel"),
    ],
)
def test_what_is_no_contrast(one: str, other: str, message: str) -> None:
    with pytest.raises(ContrastError, match=message):
        check_sides(parse_side(one), parse_side(other))


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        pytest.param("th", "write `/θ/` as in 'thin' or `/ð/`", id="th could be two"),
        pytest.param("thr", "write the cluster with `θ`", id="th in a cluster"),
        pytest.param("j", "could be two sounds", id="j could be two"),
        pytest.param("qq", "not a sound", id="no sound"),
    ],
)
def test_a_side_that_cannot_be_read_is_asked_back(typed: str, message: str) -> None:
    with pytest.raises(UnknownSoundError, match=message):
        parse_side(typed)


@pytest.mark.parametrize(
    ("typed", "ipa"),
    [
        ("s", "s"),
        ("-", "∅"),
        ("sp", "sp"),
        ("str", "stɹ"),
        ("/θɹ/", "θɹ"),
        ("shr", "ʃɹ"),
        ("ngk", "ŋk"),
    ],
)
def test_sides(typed: str, ipa: str) -> None:
    assert parse_side(typed).ipa == ipa


def test_features_are_told_for_a_sound_in_the_place_of_another() -> None:
    assert feature_names(parse_side("k"), parse_side("t")) == ("place",)
    assert feature_names(parse_side("sp"), parse_side("st")) == ("place",)
    assert feature_names(parse_side("t"), parse_side("-")) is None
    assert feature_names(parse_side("sp"), parse_side("p")) is None


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param("K IY1", "T IY1", ((0, 1), (0, 1)), id="changed"),
        pytest.param("B OW1 T", "B OW1", ((2, 3), (2, 2)), id="taken away at the end"),
        pytest.param("AY1", "T AY1", ((0, 0), (0, 1)), id="added at the beginning"),
        pytest.param("F ER1 M", "F AA1 R M", ((1, 2), (1, 3)), id="vowel and r is one sound"),
        pytest.param("M AO1 R T AH0 L", "M AO1 R AH0 L", ((3, 4), (3, 3)), id="mortal, moral"),
        pytest.param("B ER1 OW0", "B AA1 R OW0", None, id="an r that begins a syllable"),
        pytest.param("R EH2 D", "R EH1 D", None, id="stress is no difference"),
        pytest.param("B EH1 R IY0", "B EH1 L IY0", ((2, 3), (2, 3)), id="r of the next syllable"),
        pytest.param("K AW1", "T AW1 AH0 L", None, id="too far apart"),
        pytest.param("", "K", None, id="not known"),
    ],
)
def test_where_two_words_differ_in_one_sound(one: str, other: str, expected: object) -> None:
    assert one_sound_apart(tuple(one.split()), tuple(other.split())) == expected


ROW = st.lists(st.sampled_from("abc"), max_size=5).map(tuple)


@given(ROW, ROW)
def test_one_apart_is_an_edit_distance_of_one(one: tuple[str, ...], other: tuple[str, ...]) -> None:
    assert one_apart(one, other) == (distance(one, other) == 1)


def distance(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Edit distance, by the definition."""
    if not one or not other:
        return len(one) + len(other)
    same = one[0] == other[0]
    return min(
        distance(one[1:], other) + 1,
        distance(one, other[1:]) + 1,
        distance(one[1:], other[1:]) + (not same),
    )


SYLLABLE = st.tuples(
    st.lists(st.sampled_from(("S", "T", "P", "TH")), max_size=2),
    st.sampled_from(("IY1", "AE1")),
    st.lists(st.sampled_from(("S", "T", "P", "TH")), max_size=2),
).map(lambda parts: (*parts[0], parts[1], *parts[2]))
SIDE = st.sampled_from(("s", "/θ/", "t", "p", "-", "sp", "st"))


@settings(max_examples=300, deadline=None)
@given(st.lists(SYLLABLE, unique=True, max_size=40), SIDE, SIDE)
def test_pairs_differ_in_exactly_one_sound(
    spoken: list[tuple[str, ...]], one: str, other: str
) -> None:
    words = [Row(f"w{'x' * at}", phones) for at, phones in enumerate(spoken)]
    first, second = parse_side(one), parse_side(other)
    try:
        made = pairs(first, second, words, least=5)
    except ContrastError:
        return
    for pair in made:
        differ_once(pair)
        assert [w.word for w in pair.words] != [w.word for w in reversed(pair.words)]


def differ_once(pair: Pair) -> None:
    plain = [tuple(map(bare, word.phones)) for word in pair.words]
    assert one_apart(*plain) is not pair.near
    assert distance(*plain) == (2 if pair.near else 1)


REAL = ("s /θ/", "t -", "sp p", "k t", "zh sh", "er ar", "r w", "st s", "n ng", "ih ee")


@pytest.mark.parametrize("asked", REAL)
def test_pairs_of_the_whole_index_differ_in_exactly_one_sound(index: Index, asked: str) -> None:
    one, other = map(parse_side, asked.split())
    made = pairs(one, other, index.all(), readings=pronunciations, least=30)
    assert made
    for pair in made:
        plain = [tuple(map(bare, word.phones)) for word in pair.words]
        assert (one_sound_apart(*plain) is None) is pair.near
        assert all(word.zipf >= RARE_ZIPF and not word.lemma_of for word in pair.words)
        assert any(plain[0][pair.at :][: len(c)] == c for c in one.choices)


def test_the_pairs_that_everyone_names_are_among_them(index: Index) -> None:
    for asked, words in (("s /θ/", "sink think"), ("t -", "boat bow"), ("sp p", "spy pie")):
        one, other = map(parse_side, asked.split())
        made = pairs(one, other, index.all(), readings=pronunciations, known={"bow"}.__contains__)
        assert tuple(words.split()) in [tuple(w.word for w in p.words) for p in made]


def test_among_equals_the_shorter_pair_comes_first() -> None:
    words = rows("baker B EY1 K ER0", "maker M EY1 K ER0", "bow B OW1", "mow M OW1")
    made = pairs(parse_side("b"), parse_side("m"), words)
    assert [pair.words[0].word for pair in made] == ["bow", "baker"]


def test_another_cluster_of_the_sound_in_the_word_does_not_count() -> None:
    """Made-up words: the second sound is the contrast, and it stands alone."""
    words = rows("shrissy SH R IH1 S IY0", "shrishy SH R IH1 SH IY0")
    (pair,) = pairs(parse_side("s"), parse_side("sh"), words)
    assert (pair.at, pair.cluster) == (3, False)
