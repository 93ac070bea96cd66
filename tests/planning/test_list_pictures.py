"""Which words lack a picture, over all clients."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.picture_need import Need, PictureNeed
from builder.model.program import Client
from builder.planning.list_pictures import picture_needs
from builder.survey.survey import Found, Survey
from tests.support.clients import NOTHING, client_of

TEXT = """\
program: 1
client: finch-10
reads: {reads}
sound: k
position: initial
current: words
words: [key, cow]
steps:
  - {{name: ah, level: syllable, vowels: [ah]}}
  - {{name: words, level: word}}
  - {{name: two words, level: phrase, items: [my key, a kiln]}}
"""
DRAWN = replace(NOTHING, drawings={"key": "1F511"})


def client(code: str, reads: str = "no") -> Client:
    return replace(client_of(TEXT.format(reads=reads)), code=code)


def bare(*everyone: tuple[Client, Survey]) -> dict[str, tuple[Need, ...]]:
    return {row.word: row.needs for row in picture_needs(everyone) if row.picture is None}


def test_a_word_is_told_once_with_all_who_need_it() -> None:
    found = bare((client("finch-10"), DRAWN), (client("wren-11", "yes"), DRAWN))
    assert found == {
        "cow": (Need("finch-10", True, False), Need("wren-11", True, True)),
        "kiln": (Need("finch-10", False, False), Need("wren-11", False, True)),
    }


def test_the_picture_of_a_word_is_that_of_its_phrases() -> None:
    rows = picture_needs([(client("finch-10"), DRAWN)])
    (key,) = [row for row in rows if row.word == "key"]
    assert key.picture
    assert (key.picture.kind, key.picture.alt) == ("drawing", "key")


def test_the_most_needed_come_first() -> None:
    def row(word: str, *needs: tuple[bool, bool]) -> PictureNeed:
        return PictureNeed(word, None, tuple(Need("finch-10", now, r) for now, r in needs))

    rows = [
        row("d", (True, True), (True, True)),
        row("c", (False, False)),
        row("b", (True, False)),
        row("a", (True, True)),
    ]
    assert [one.word for one in sorted(rows, key=lambda one: one.rank)] == ["b", "c", "d", "a"]


def test_a_file_that_cannot_be_used_is_no_picture() -> None:
    damaged = replace(NOTHING, own={"cow.png": Found("cow.png", "", "It is no picture.")})
    assert "cow" in bare((client("finch-10"), damaged))


@pytest.mark.parametrize(("reads", "shown"), [("yes", False), ("no", True)])
def test_who_practises_alone_and_reads_is_shown_no_drawing(reads: str, shown: bool) -> None:
    alone = client_of(TEXT.format(reads=reads) + "helper: self\n")
    assert ("key" not in bare((alone, DRAWN))) == shown
