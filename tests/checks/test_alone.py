from __future__ import annotations

from dataclasses import replace

import pytest

from builder import checks
from builder.recordings.prompts import client_prompts
from builder.survey.survey import Survey
from tests.checks.test_recordings import take
from tests.support.alone import EGRET, egret
from tests.support.clients import NOTHING, client_of

PAIRS = "  - {name: pairs, level: word, contrast: [[rake, wake], [red, wed]]}\n"
WITH_PAIRS = EGRET.replace("  - {name: short", f"{PAIRS}  - {{name: short")
SILENT = EGRET.replace("helper: self", "helper: self\nvoice: helper")
LONG = EGRET.replace("[natural imitation,", "[long imitation, natural imitation,")


def told(text: str, survey: Survey = NOTHING) -> list[tuple[str, str]]:
    """The rule and the degree of every finding about practicing alone that stands."""
    found = checks.run(egret(text), survey)
    return [(f.rule, f.degree) for f in found if f.rule.startswith("alone-") and not f.accepted]


@pytest.mark.parametrize(
    ("text", "findings"),
    [
        pytest.param(EGRET, [], id="an adult who reads"),
        pytest.param(EGRET.replace("34", "13"), [], id="a teenager"),
        pytest.param(EGRET.replace("age: 34\n", ""), [], id="of an age that is not told"),
        pytest.param(EGRET.replace("34", "12"), [("alone-age", "advice")], id="a child"),
        pytest.param(
            EGRET.replace("reads: yes\n", ""), [("alone-reads", "fault")], id="who does not read"
        ),
        pytest.param(WITH_PAIRS, [("alone-contrast", "fault")], id="pairs"),
        pytest.param(
            WITH_PAIRS.replace("[words, short phrases]", "words"),
            [("alone-contrast", "advice")],
            id="pairs that are not published yet",
        ),
        pytest.param(
            WITH_PAIRS + "because: {alone-contrast: her sister taps}\n", [], id="with a reason"
        ),
        pytest.param(SILENT, [("alone-voice", "fault")], id="a helper is to say the words"),
        pytest.param(
            SILENT.replace("natural imitation, natural delayed, ", "").replace(
                "vowels: [ee, ah, oo]", "vowels: [ee, ah, oo], rounds: [natural spontaneous]"
            ),
            [],
            id="nobody is to say the words",
        ),
        # /r/ held before a vowel: offered by no voice, see audio/voices/data/suitability.csv.
        pytest.param(LONG, [("alone-model", "advice")], id="no voice can hold it there"),
        pytest.param(
            LONG.replace("long imitation", "long spontaneous"), [], id="held without a model"
        ),
    ],
)
def test_what_asks_for_a_listener(text: str, findings: list[tuple[str, str]]) -> None:
    assert told(text) == findings
    assert told(text.replace("helper: self", "helper: school")) == []


def recorded(text: str) -> Survey:
    """A survey in which everything that the client says is recorded."""
    asked = [prompt.utterance for prompt in client_prompts(egret(text))]
    return replace(NOTHING, takes={one: (take(f"{one.stem}.wav"),) for one in asked})


@pytest.mark.parametrize("text", [SILENT, LONG], ids=["a helper is to say it", "no voice can"])
def test_a_recording_is_a_model(text: str) -> None:
    assert told(text, recorded(text)) == []


@pytest.mark.parametrize(
    ("helper", "roles"),
    [
        pytest.param("school", ("school",), id="one"),
        pytest.param("[home, school]", ("home", "school"), id="two"),
        pytest.param("[home, school, home]", ("home", "school"), id="each once"),
        pytest.param("[self]", ("self",), id="alone, as a list"),
    ],
)
def test_who_listens_is_one_or_several(helper: str, roles: tuple[str, ...]) -> None:
    client = client_of(EGRET.replace("helper: self", f"helper: {helper}"))
    assert client.helpers == roles
    assert client.practises_alone == (roles == ("self",))
