from __future__ import annotations

from builder.checks.shown_texts import shown_texts
from builder.model.program import ProgramFile
from builder.problems import counted
from tests.support.clients import client_of, findings_of, rules_of

STEPS = (
    "sound: k\nmastered: {syllable: 2026-11-02}\ncurrent: a\n"
    "words: [key, cow, cup, comb, coin]\n"
    "steps:\n  - {name: a, level: word}\n  - {name: b, level: phrase, items: [my key]}\n"
)
CUE = "cues: {tongue: Emma and Liam raise the back.}\n"


def test_what_a_family_reads_is_looked_at_and_nothing_else() -> None:
    body = (
        "reminder: R\ncues: {tongue: T, lips: L, air: A, voice: V}\nerror: t\nlacks: [r]\n"
        "because: {gap: G}\n"
        + STEPS.replace("comb", "{word: calf, say: kæf, picture: p.png, id: c-1}")
    )
    (program,) = client_of(body).programs
    texts = [shown.text for shown in shown_texts(program)]
    words = ["key", "cow", "cup", "calf", "c-1", "coin", "a", "b", "my key"]
    assert texts == ["finch-10", "R", "T", "L", "A", "V", *words]
    assert all(shown.path[0] in ProgramFile.model_fields for shown in shown_texts(program))


def test_places_are_by_the_keys_of_the_file() -> None:
    talk = "  - {name: c, level: talk, where: at dinner, with: Anna, minutes: 5}\n"
    (found,) = [f for f in findings_of(STEPS + talk) if f.rule == "name"]
    assert (found.degree, found.place.column) == ("advice", talk.index("Anna") + 1)


def test_an_answer_holds_for_the_words_that_it_names() -> None:
    answered = "because: {name: Emma is the doll of this clinic}\n"
    found = [f for f in findings_of(answered + CUE + STEPS) if f.rule == "name"]
    assert [(f.sentence.split()[0], bool(f.accepted)) for f in found] == [
        ("'Emma'", True),
        ("'Liam'", False),
    ]
    assert rules_of("because: {name: Emma and Liam are dolls}\n" + CUE + STEPS) == []
    part_of_another = "because: {name: Emmaline and Williams are dolls}\n"
    assert rules_of(part_of_another + CUE + STEPS) == ["name"]


def test_what_is_answered_is_shown_as_accepted_and_counted_as_nothing_else() -> None:
    found = findings_of("because: {name: Emma is the doll of this clinic}\n" + CUE + STEPS)
    first, second = (str(one) for one in found if one.rule == "name")
    assert ": accepted: 'Emma' looks like" in first
    assert first.endswith("[name]\n    because: Emma is the doll of this clinic")
    assert ": fault: 'Liam'" in second
    alone = findings_of("because: {name: Emma and Liam are dolls}\n" + CUE + STEPS)
    assert counted(tuple(alone)) == "0 faults, 0 pieces of advice, 1 accepted"


def test_a_name_may_hide_in_the_code() -> None:
    (found,) = findings_of("client: emma-10\n" + STEPS)
    assert (found.rule, found.degree, found.place.line) == ("name", "fault", 5)


def test_syllables_are_no_names() -> None:
    steps = "sound: k\ncurrent: a\nsteps:\n  - {name: a, level: syllable, items: [kay, kai, key]}\n"
    assert "name" not in rules_of(steps)


def test_what_is_not_published_yet_stops_nothing() -> None:
    (found,) = findings_of(STEPS.replace("[my key]", "[my key, Kyle's key]"))
    assert (found.rule, found.degree) == ("name", "advice")


def test_how_to_reach_the_clinic_may_be_said() -> None:
    told = "Call 555.0100. See practice.example.org."  # those of the clinic file
    assert rules_of(f"cues: {{air: {told}}}\n{STEPS}") == []
    assert rules_of(f"cues: {{air: Call 555-0101.}}\n{STEPS}") == ["telephone"]
