from __future__ import annotations

from collections.abc import Callable

import pytest

from builder.commands.sounds import cluster_of
from builder.commands.words_command import _cluster as cluster_of_words
from builder.phonetics.clusters import NotAClusterError, parse_cluster
from builder.phonetics.contrast import parse_side
from builder.phonetics.inventory import Sound, UnknownSoundError, parse_sound
from builder.problems import ProgramError, UsageError
from tests.support.clients import client_of

Reader = Callable[[str, Sound], tuple[str, ...]]
PROGRAM = "sound: {}\ncurrent: a\nsteps: [{{name: a, level: word, cluster: {}, items: [{}]}}]\n"
WORDS = {"K": "sink", "S": "star", "R": "shrimp", "W": "queen", "Y": "cute", "TH": "three"}


def of_a_program(typed: str, sound: Sound) -> tuple[str, ...]:
    text = PROGRAM.format(f"/{sound.ipa}/", typed, WORDS[sound.symbol])
    return client_of(text).programs[0].steps[0].cluster


def of_pairs(typed: str, _sound: Sound) -> tuple[str, ...]:
    return parse_side(typed).choices[0]


READERS = [
    pytest.param(parse_cluster, id="parse_cluster"),
    pytest.param(of_a_program, id="a program's step"),
    pytest.param(cluster_of, id="new and syllables"),
    pytest.param(cluster_of_words, id="words"),
    pytest.param(of_pairs, id="pairs"),
]


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    ("typed", "sound", "phones"),
    [
        # CMUdict 0.7b: pink P IH1 NG K, cute K Y UW1 T, queen K W IY1 N, three TH R IY1
        pytest.param("nk", "k", "NG K", id="nk as in pink"),
        pytest.param("ngk", "k", "NG K", id="the same as its sounds are typed"),
        pytest.param("ŋk", "k", "NG K", id="the same in IPA"),
        pytest.param("/ŋk/", "k", "NG K", id="the same between slashes"),
        pytest.param("kr", "k", "K R", id="kr"),
        pytest.param("str", "s", "S T R", id="three consonants"),
        pytest.param("shr", "r", "SH R", id="sh in it"),
        pytest.param("SHR", "r", "SH R", id="capitals"),
        pytest.param("qu", "/w/", "K W", id="qu as in queen"),
        pytest.param("ky", "/j/", "K Y", id="the glide of cute"),
        pytest.param("kj", "/j/", "K Y", id="the same in IPA"),
        pytest.param("θr", "/θ/", "TH R", id="the th of three"),
    ],
)
def test_every_reader_of_clusters_reads_the_same(
    read: Reader, typed: str, sound: str, phones: str
) -> None:
    assert read(typed, parse_sound(sound)) == tuple(phones.split())


def test_ipa_between_slashes_is_taken_at_its_word() -> None:
    assert parse_cluster("/nk/") == ("N", "K")


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    ("typed", "question"),
    [
        ("thr", "`th` could be two sounds: write the cluster with `θ` as in 'thin' or `ð`"),
        ("sc", "`c` could be two sounds: write the cluster with `k` as in 'kite' or `s`"),
    ],
)
def test_what_could_be_two_sounds_is_asked_back(read: Reader, typed: str, question: str) -> None:
    with pytest.raises((UnknownSoundError, UsageError, ProgramError)) as caught:
        read(typed, parse_sound("s"))
    assert question in str(caught.value)


@pytest.mark.parametrize("typed", ["k", "sh", "ee", "kree", "k1", "", "/", "//"])
def test_what_is_not_two_consonants_is_no_cluster(typed: str) -> None:
    with pytest.raises(NotAClusterError, match=f"`{typed}` is not a cluster of consonants"):
        parse_cluster(typed)


@pytest.mark.parametrize("read", READERS[:-1])  # a side of a contrast need not hold a given sound
def test_a_cluster_holds_the_sound_that_is_practised(read: Reader) -> None:
    with pytest.raises((UnknownSoundError, UsageError, ProgramError)) as caught:
        read("st", parse_sound("k"))
    assert "`st` is a cluster without /k/" in str(caught.value)
