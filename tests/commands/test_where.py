"""practice-site where: as a therapist types it, and what is printed."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from builder.__main__ import main

Said = pytest.CaptureFixture[str]


def lines(capsys: Said, *typed: str) -> list[str]:
    main(["where", *typed])
    return capsys.readouterr().out.splitlines()


def told(capsys: Said, *typed: str) -> list[dict[str, Any]]:
    assert main(["where", "--json", *typed]) == 0
    found: list[dict[str, Any]] = json.loads(capsys.readouterr().out)
    return found


@pytest.mark.parametrize(
    ("sound", "word", "line"),
    [
        pytest.param("s", "scissors", "[sc]issors  /[s]ɪzɚz/  initial; 2 syllables", id="sc"),
        pytest.param("s", "City", "[C]ity  /[s]ɪti/  initial; 2 syllables", id="capitals"),
        pytest.param("s", "box", "bo[x]  /bɑk[s]/  final in ks; 1 syllable", id="half of x"),
        pytest.param("s", "sauce", "[s]au[c]e  /[s]ɔ[s]/  initial, final; 1 syllable", id="two"),
        pytest.param("s", "“Bus!”", "Bu[s]  /bʌ[s]/  final; 1 syllable", id="marks around it"),
        pytest.param("ch", "watch", "wa[tch]  /wɑ[tʃ]/  final; 1 syllable", id="tch"),
        pytest.param("k", "knee", "knee  /ni/  no /k/; 1 syllable", id="silent"),
        pytest.param("s", "spider", "[s]pider  /[s]paɪdɚ/  initial in sp; 2 syllables", id="group"),
        pytest.param("r", "giraffe", "gi[r]affe  /dʒə[ɹ]æf/  medial; 2 syllables", id="r"),
        pytest.param("ire", "fire", "f[ire]  /f[aɪɚ]/  final; 1 or 2 syllables", id="ire"),
        pytest.param("t", "water", "wa[t]er  /wɔ[t]ɚ/  medial (flap); 2 syllables", id="flap"),
        pytest.param("d", "spider", "spi[d]er  /spaɪ[d]ɚ/  medial (flap); 2 syllables", id="of d"),
        pytest.param("t", "button", "bu[tt]on  /bʌ[t]ən/  medial (glottal t); 2 syllables", id="ʔ"),
        pytest.param("l", "ball", "ba[ll]  /bɔ[l]/  final (dark l); 1 syllable", id="dark l"),
    ],
)
def test_a_word(capsys: Said, sound: str, word: str, line: str) -> None:
    first, *rest = lines(capsys, sound, word)
    assert first == f"{line}; tagged dictionary, cmudict"
    assert rest == []


def test_a_heteronym_names_its_readings(capsys: Said) -> None:
    assert lines(capsys, "s", "use") == [
        "u[s]e (noun)  /ju[s]/  final; 1 syllable; "
        "tagged dictionary, cmudict, letter-to-sound rules",
        "use  /juz/  no /s/; 1 syllable; tagged dictionary, cmudict",
        "    can be read in several ways: say which one you mean",
    ]


def test_where_sources_disagree(capsys: Said) -> None:
    first, second, note = lines(capsys, "/θ/", "thyme")
    sources = "corrections, tagged dictionary, letter-to-sound rules"
    assert first == f"thyme  /taɪm/  no /θ/; 1 syllable; {sources}"
    assert second == "[th]yme  /[θ]aɪm/  initial; 1 syllable; cmudict"
    assert note.strip() == "the sources disagree: listen first"
    assert lines(capsys, "m", "thyme")[1:] == []


def test_a_guess(capsys: Said) -> None:
    first, note = lines(capsys, "k", "kebbo")
    assert first == "[k]ebbo  /[k]ɛboʊ/  initial; 2 syllables; letter-to-sound rules"
    assert note.strip() == "not in any dictionary: a guess by spelling rules"


def test_no_word(capsys: Said) -> None:
    assert main(["where", "k", "key", "???"]) == 2
    said = capsys.readouterr()
    assert said.out.startswith("[k]ey")
    assert "`???` cannot be read as a word" in said.err


def test_a_sound_that_could_be_two(capsys: Said) -> None:
    assert main(["where", "th", "tooth"]) == 2
    assert "`th` could be two sounds: write `/θ/`" in capsys.readouterr().err


def test_json(capsys: Said) -> None:
    scissors, use, nothing = told(capsys, "z", "scissors", "use", "???")
    assert scissors["pronunciations"] == [
        {
            "ipa": "sɪzɚz",
            "source": "tagged dictionary, cmudict",
            "positions": ["medial", "final"],
            "cluster": "",
            "syllables": 2,
            "use": "",
            "spelled": "sci[ss]or[s]",
            "places": [
                {"positions": ["medial"], "cluster": "", "variant": ""},
                {"positions": ["final"], "cluster": "", "variant": ""},
            ],
        }
    ]
    assert (scissors["agreed"], scissors["heteronym"], scissors["guessed"]) == (True, False, False)
    assert [p["positions"] for p in use["pronunciations"]] == [[], ["final"]]
    assert use["heteronym"]
    assert nothing == {
        "word": "???",
        "pronunciations": [],
        "agreed": False,
        "heteronym": False,
        "guessed": False,
    }


def test_a_cluster_in_json(capsys: Said) -> None:
    (box,) = told(capsys, "s", "box")
    assert box["pronunciations"][0]["cluster"] == "ks"


def test_a_text_of_several_words(capsys: Said) -> None:
    assert [one["word"] for one in told(capsys, "k", "ice cream")] == ["ice", "cream"]


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(text=st.text(max_size=20).filter(lambda text: not text.startswith("-")))
def test_any_text_gives_an_answer(capsys: Said, text: str) -> None:
    assert main(["where", "--json", "k", "key", text]) == 0
    for one in json.loads(capsys.readouterr().out)[1:]:
        for way in one["pronunciations"]:
            assert way["spelled"].replace("[", "").replace("]", "") == one["word"]


def test_only_what_is_needed_is_loaded() -> None:
    code = (
        "import sys; from builder.__main__ import main; main(['where', '--json', 's', 'city']);"
        "print(sorted({'numpy', 'wordfreq', 'hibari', 'msgpack', 'pydantic', 'cmudict'}"
        " & sys.modules.keys()))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
