from __future__ import annotations

from dataclasses import replace

import pytest

from builder.survey.survey import Survey
from tests.support.clients import NOTHING, findings_of

PROGRAM = """\
sound: k
error: t
reads: {reads}
mastered: {{syllable: 2026-10-01}}
current: pairs
position: {position}
steps:
  - {{name: pairs, level: word, {more}contrast: [{pairs}]}}
"""
DRAWN = replace(NOTHING, drawings={"key": "1F511", "tea": "1F375"})


def told(
    pairs: str,
    position: str = "initial",
    reads: str = "yes",
    more: str = "",
    survey: Survey = NOTHING,
) -> list[str]:
    """The rules of contrast, pronunciation and target that stand."""
    text = PROGRAM.format(pairs=pairs, position=position, reads=reads, more=more)
    rules = (f.rule for f in findings_of(text, survey))
    wanted = ("pronunciation", "no-target", "position", "cluster", "not-cluster")
    return [rule for rule in rules if rule in wanted or rule.startswith("contrast")]


@pytest.mark.parametrize(
    ("pairs", "position", "rules"),
    [
        pytest.param("[key, tea]", "initial", [], id="one sound, the error instead"),
        pytest.param("[tea, key]", "initial", [], id="in either order"),
        pytest.param("[back, bat]", "final", [], id="at the end"),
        pytest.param("[bacon, baton]", "medial", ["contrast-pair"], id="other vowels"),
        pytest.param("[cake, take]", "initial", [], id="target elsewhere too"),
        pytest.param("[cow, towel]", "initial", ["contrast-pair"], id="two sounds"),
        pytest.param("[key, quay]", "initial", ["contrast-pair"], id="no difference at all"),
        pytest.param("[cap, cat]", "initial", ["contrast-target"], id="differ elsewhere"),
        pytest.param("[cap, gap]", "initial", ["contrast-error"], id="not what the client says"),
        pytest.param("[bow, boat]", "initial", ["no-target"], id="no target at all"),
        pytest.param("[back, bat]", "initial", ["position"], id="target at another position"),
        pytest.param("[sky, sty]", "initial", ["cluster"], id="target in a cluster"),
        pytest.param("[xqz, tea]", "initial", ["pronunciation"], id="first unknown"),
        pytest.param("[key, xqz]", "initial", ["pronunciation"], id="counterpart unknown"),
    ],
)
def test_pairs(pairs: str, position: str, rules: list[str]) -> None:
    assert told(pairs, position) == rules


def test_two_flaps_sound_the_same() -> None:
    text = PROGRAM.format(pairs="[latter, ladder]", position="medial", reads="yes", more="")
    findings = findings_of(text.replace("sound: k", "sound: t").replace("error: t", "error: d"))
    (found,) = [f for f in findings if f.rule == "contrast-pair"]
    assert "sound the same" in found.sentence


def test_a_cluster_against_a_part_of_it() -> None:
    more = "cluster: sk, "
    assert told("[sky, sigh]", more=more) == []
    assert told("[ski, key]", more=more) == []
    assert told("[key, tea]", more=more) == ["not-cluster"]


def test_words_without_a_picture_are_named_unless_the_client_reads() -> None:
    assert told("[key, tea]", reads="no", survey=DRAWN) == []
    assert told("[key, tea], [cape, tape]", reads="no", survey=DRAWN) == ["contrast-picture"]
    assert told("[key, tea], [cape, tape]", reads="yes", survey=DRAWN) == []
    text = PROGRAM.format(pairs="[cape, tape]", position="initial", reads="no", more="")
    (found,) = [f for f in findings_of(text, DRAWN) if f.rule == "contrast-picture"]
    assert found.degree == "advice", "they are heard and said"


def test_pairs_are_for_words() -> None:
    text = PROGRAM.format(pairs="[key, tea]", position="initial", reads="yes", more="")
    text = text.replace("level: word", "level: phrase")
    assert "contrast-level" in [f.rule for f in findings_of(text)]


def test_an_omission_is_contrasted_with_nothing() -> None:
    text = PROGRAM.format(pairs="[cart, art], [cap, tap]", position="initial", reads="yes", more="")
    findings = findings_of(text.replace("error: t", "error: omitted"))
    (found,) = [f for f in findings if f.rule == "contrast-error"]
    assert "'cap' and 'tap'" in found.sentence
    assert "leaves the sound out" in found.sentence
