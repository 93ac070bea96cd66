from __future__ import annotations

import re
from dataclasses import replace

import pytest

from builder import checks
from builder.model import dose
from builder.model.fill_sitting import filled
from tests.support.clients import NOTHING, client_of, findings_of, rules_of

BODY = (
    "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\nwords: [key, cow, cup, comb, coin]\n"
)
STEP = "steps:\n  - {name: a, level: word}\n"


@pytest.mark.parametrize(
    ("practice", "rules"),
    [
        ("{}", ["no-visit"]),
        ("{from: 2026-12-07}", ["no-visit"]),
        ("{visit: 2026-12-14}", []),
        ("{from: 2026-12-07, visit: 2026-12-14}", []),
        ("{from: 2026-12-07, visit: 2026-12-07}", ["visit"]),
        ("{from: 2026-12-07, visit: 2027-02-01}", ["far-visit"]),
        ("{visit: 2026-12-14, minutes: 25}", ["long-sitting"]),
        ("{visit: 2026-12-14, days: [mon, tue]}", ["days"]),
        ("{visit: 2026-12-14, days: [mon, tue, wed, thu, fri, sat, sun]}", ["days"]),
        ("{visit: 2026-12-14, minutes: 1}", ["too-much"]),
    ],
)
def test_the_week(practice: str, rules: list[str]) -> None:
    assert sorted(rules_of(f"{BODY}practice: {practice}\n{STEP}")) == sorted(rules)


def test_young_children_sit_half_as_long() -> None:
    # 5-10 minutes, once or twice a day, 4-6 days a week: trade advice, no source.
    young = client_of(f"age: 5\n{BODY}{STEP}").programs[0]
    older = client_of(f"age: 6\n{BODY}{STEP}").programs[0]
    assert (young.minutes, older.minutes) == (6, 10)


def test_it_says_which_round_to_drop() -> None:
    step = "steps:\n  - {name: a, level: word, rounds: [natural imitation, natural spontaneous]}\n"
    (found,) = findings_of(f"{BODY}practice: {{minutes: 1, visit: 2026-12-14}}\n{step}")
    assert found.sentence == "A sitting has 10 tries, about 2 minutes; 1 is planned."
    assert found.remedy.startswith("Drop `natural spontaneous` from `a`")


@pytest.mark.parametrize(
    ("lines", "rules"),
    [
        ("practice: {from: 0001-12-07, visit: 2026-12-14}", ["boxes", "date", "far-visit"]),
        ("practice: {from: 2026-12-01, visit: 2026-12-02}", ["date"]),
        ("practice: {visit: 2026-12-14, days: [mon, mon, mon, mon]}", ["days"]),
    ],
)
def test_slips_of_the_finger(lines: str, rules: list[str]) -> None:
    assert sorted(rules_of(f"{BODY}{lines}\n{STEP}")) == rules


def test_two_programs_of_a_client_are_one_sitting() -> None:
    first = client_of(f"{BODY}practice: {{minutes: 1, days: [mon, tue, wed, thu]}}\n{STEP}")
    second = client_of(
        f"age: 8\n{BODY}practice: {{minutes: 1, days: [tue, wed, thu, fri]}}\n{STEP}"
    )
    step = replace(second.programs[0].steps[0], id="other", name="other")
    other = replace(second.programs[0], steps=(step,), file="finch-10-b.yaml")
    both = replace(first, programs=(first.programs[0], other))
    found = [f for f in checks.run(both, NOTHING) if f.rule in ("differs", "too-much")]
    assert [f.sentence for f in found] == [
        "This program and `finch-10.yaml` differ in `age` and `days`.",
        "A sitting has 20 tries, about 3 minutes; 1 is planned.",
    ]


def test_several_rounds_to_drop_are_all_named() -> None:
    rounds = "[natural imitation, natural delayed, natural spontaneous]"
    text = (
        f"{BODY}practice: {{minutes: 1}}\nsteps:\n  - {{name: a, level: word, rounds: {rounds}}}\n"
    )
    (found,) = [f for f in findings_of(text) if f.rule == "too-much"]
    assert found.remedy == (
        "Drop `natural spontaneous` from `a` and `natural delayed` from `a`, or plan more minutes. "
        "As it is, a sitting ends after 1 minute, and the next one goes on from there."
    )


def test_a_list_that_is_too_long_by_itself() -> None:
    long = "[{form: natural, support: imitation, times: 1}]"
    body = BODY.replace("coin]", "coin, can, card, cave, corn, coat]")
    text = f"{body}practice: {{minutes: 1}}\nsteps:\n  - {{name: a, level: word, rounds: {long}}}\n"
    (found,) = [f for f in findings_of(text) if f.rule == "too-much"]
    assert found.remedy.startswith("Shorten the list, or plan more minutes. As it is,")


def test_texts_and_talks_that_do_not_fit_are_told_in_minutes() -> None:
    steps = (
        "steps:\n"
        "  - {name: a, level: talk, where: at dinner, with: Grandpa}\n"
        "  - {name: b, level: talk, where: at lunch, with: Grandpa}\n"
    )
    body = BODY.replace("current: a", "current: [a, b]")
    text = f"{body}practice: {{minutes: 5}}\n{steps}"
    (found,) = [f for f in findings_of(text) if f.rule == "too-much"]
    assert "A sitting takes about 10 minutes; 5 are planned." in found.sentence
    assert "fewer `minutes`" in found.remedy
    assert "ends after 5 minutes" in found.remedy


def test_two_programs_of_a_client_have_one_helper() -> None:
    first, second = (client_of(f"{BODY}helper: {role}\n{STEP}") for role in ("home", "school"))
    other = replace(second.programs[0], file="finch-10-b.yaml")
    both = replace(first, programs=(first.programs[0], other))
    (found,) = (f for f in checks.run(both, NOTHING) if f.rule == "differs")
    assert found.sentence == "This program and `finch-10.yaml` differ in `helper`."


@pytest.mark.parametrize(
    ("age", "times", "rules"),
    [
        (8, 4, ["few-tries"]),  # 20 tries
        (8, 5, ["few-tries"]),  # 25, but less than half of ten minutes
        (8, 7, []),
        (5, 5, []),
        (3, 2, ["few-tries"]),
        (3, 4, []),
        (8, 13, ["too-much"]),
        (8, 30, ["too-much"]),  # 150 tries in 25 minutes
    ],
)
def test_tries_and_minutes_of_a_sitting(age: int, times: int, rules: list[str]) -> None:
    # Under about 25 tries (under four years 15) or half of the minutes: common practice, no source.
    step = f"{{name: a, level: word, rounds: [{{support: imitation, times: {times}}}]}}"
    found = rules_of(f"age: {age}\n{BODY}steps:\n  - {step}\n")
    assert [r for r in found if not r.startswith("age")] == rules


def test_a_sitting_of_pairs_holds_fewer_tries() -> None:
    """At least 50 in 30 minutes: Williams 2012, IJSLP 14(5):456-461; so 8.3 in five."""
    pairs = "steps:\n  - {name: a, level: word, contrast: [[key, tea], [cap, tap], [call, tall]]}\n"
    (program,) = filled(client_of(f"age: 5\n{BODY}{pairs}")).programs
    assert 50 / 30 * 5 <= program.current_steps[0].tries < 25
    assert "few-tries" not in rules_of(f"age: 5\n{BODY}{pairs}")


def test_what_is_far_from_any_reason_stops_until_it_is_answered() -> None:
    rounds = "[{support: imitation, times: 30}, {support: spontaneous, times: 30}]"
    text = f"{BODY}steps:\n  - {{name: a, level: word, rounds: {rounds}}}\n"
    (found,) = findings_of(text)
    assert (found.rule, found.degree) == ("far-too-much", "fault")
    assert found.sentence == "A sitting has 300 tries, about 44 minutes; 10 are planned."
    assert rules_of(f"because: {{far-too-much: a week of holidays}}\n{text}") == []


def test_the_remedy_of_few_tries_mends_it() -> None:
    text = f"{BODY}{STEP}".replace(
        "word}", "word, rounds: [natural imitation, {support: delayed}]}"
    )
    (found,) = findings_of(text)
    assert found.remedy.startswith("Write `times: 4` for `natural imitation` and `times: 4` for")
    mended = text.replace(
        "[natural imitation, {support: delayed}]",
        "[{support: imitation, times: 4}, {support: delayed, times: 4}]",
    )
    assert rules_of(mended) == []


def test_what_the_remedy_says_comes_true_beside_pairs() -> None:
    """The rounds of pairs are fitted anew once the other rounds are written as advised."""
    body = (
        "sound: g\nerror: d\nage: 6\ncurrent: [pairs, words]\n"
        "words: [goose, girl, gorilla, goat, guitar, gift, ghost, gum]\n"
        "practice: {visit: 2026-12-14}\nsteps:\n"
        "  - {name: pairs, level: word, contrast: [[go, dough], [gear, deer], [game, dame], "
        "[goal, dole]]}\n  - {name: words, level: word, rounds: [%s]}\n"
    )
    asked = body % "{support: imitation, times: 3}, {support: spontaneous, times: 4}"
    (found,) = (f for f in findings_of(asked) if f.rule == "too-much")
    times = re.findall(r"`times: (\d+)`", found.remedy)
    then = client_of(
        body % "{support: imitation, times: %s}, {support: spontaneous, times: %s}" % (*times,)
    )
    tries, minutes = dose.sitting_tries(then.programs), dose.sitting_minutes(then.programs)
    assert f"That makes {tries} tries in about {minutes} minutes" in found.remedy
