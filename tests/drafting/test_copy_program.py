from __future__ import annotations

import re
from pathlib import Path

import pytest

from builder.drafting.copy_program import begun, like, plain_name, shared
from builder.problems import ProgramError, UsageError
from builder.program_file.validate import program_file
from builder.program_file.yaml_tree import parse
from tests.support.clients import CLINIC

OLD = """\
# our first
program: 1
client: finch-10   # the code
age: 5
error: t
lacks: [r, sh]
sound: k
baseline:
  date: 2026-12-03
  correct: 17
  of: 20
mastered: {syllable: 2026-11-02}
current: words
practice: {times: [evening], from: 2026-12-07, visit: 2026-12-14}
pause: [2026-12-21..2027-01-03]
because:
  gap: this child is ready
words: [key, cow]   # picturable
steps:
  - {name: with a vowel, level: syllable}
"""


def test_comments_stay_and_one_clients_facts_go() -> None:
    new = like(OLD, "wren-11", "with a vowel")
    assert new.startswith("# our first\nprogram: 1\nclient: wren-11\n")
    assert "words: [key, cow]   # picturable\n" in new
    assert "practice: {times: [evening]}\n" in new
    assert "current: with a vowel\n" in new
    assert not any(fact in new for fact in ("2026-12", "ready", "error: t", "age: 5", "[r, sh]\n"))
    assert [line.split(":")[0] for line in new.splitlines() if ": fill-in " in line] == [
        "age",
        "error",
        "lacks",
        "baseline",
        "mastered",
    ]


@pytest.mark.parametrize(
    ("practice", "kept"),
    [
        pytest.param(
            "practice:\n  times: [evening]\n  from: 2026-12-07   # Monday\n  visit: 2026-12-14\n",
            "practice:\n  times: [evening]\n",
            id="in block style",
        ),
        pytest.param(
            "practice: {times: [evening], from: 2026-12-07,\n  visit:\n    2026-12-14}  # tea\n",
            "practice: {times: [evening]}  # tea\n",
            id="wrapped",
        ),
        pytest.param(
            "practice:\n  from: 2026-12-07\n  visit: 2026-12-14\n", "", id="nothing but dates"
        ),
    ],
)
def test_dates_of_practice_go_however_they_are_written(practice: str, kept: str) -> None:
    line = "practice: {times: [evening], from: 2026-12-07, visit: 2026-12-14}\n"
    new = like(OLD.replace(line, practice), "wren-11", "with a vowel")
    assert "2026-12" not in new
    assert f"current: with a vowel\n{kept}words:" in new
    parse(new.encode(), "wren-11.yaml")


@pytest.mark.parametrize(
    "current",
    [
        "current:\n  - words\n  # and soon\n  - with a vowel\n",
        "current:\n- words\n- with a vowel\n",
        "current: [words,\n  with a vowel]\n",
        "current:\n  words\n",
    ],
)
def test_the_current_step_is_the_first_however_it_was_written(current: str) -> None:
    new = like(OLD.replace("current: words\n", current), "wren-11", "with a vowel")
    assert (
        parse(new.encode(), "wren-11.yaml").value
        == parse(like(OLD, "wren-11", "with a vowel").encode(), "wren-11.yaml").value
    )


def test_comments_on_one_clients_reasons_go_with_them() -> None:
    told = "  gap: this child is ready\n  # since her tonsils are out\n"
    new = like(OLD.replace("  gap: this child is ready\n", told), "wren-11", "with a vowel")
    assert "tonsils" not in new


def test_a_program_in_braces_is_not_copied() -> None:
    with pytest.raises(UsageError, match="in braces"):
        like("{program: 1, client: finch-10, sound: k}", "wren-11", "words")


def test_a_blank_does_not_pass_unfilled() -> None:
    tree = parse(like(OLD, "wren-11", "with a vowel").encode(), "wren-11.yaml")
    with pytest.raises(ProgramError) as problem:
        program_file(tree)
    told = [f.sentence for f in problem.value.findings]
    assert told == [
        f"`{key}` is still to be filled in."
        for key in ("age", "error", "lacks", "baseline", "mastered")
    ]


def test_names_that_yaml_would_read_otherwise_are_quoted() -> None:
    assert plain_name("two words") == "two words"
    assert plain_name("k: hard") == '"k: hard"'


WHOLE = (
    OLD.replace("current: words", "current: with a vowel")
    .replace("sound: k\n", "sound: k\nhelper: school\nvoice: online\n")
    .replace("age: 5", "age: fill-in   # whole years")
)


def test_a_program_with_blanks_can_be_looked_at(tmp_path: Path) -> None:
    file = tmp_path / "finch-10.yaml"
    file.write_bytes(WHOLE.replace("\n", "\r\n").encode())
    program = begun(file, CLINIC)
    assert program.written.age is None
    assert program.place(("steps",)).line == WHOLE.splitlines().index("steps:") + 1
    with pytest.raises(UsageError):
        begun(tmp_path / "none.yaml", CLINIC)


def test_what_two_programs_of_a_client_share(tmp_path: Path) -> None:
    file = tmp_path / "finch-10.yaml"
    file.write_text(WHOLE)
    assert shared(begun(file, CLINIC)) == (
        "practice: {times: [evening], visit: 2026-12-14}",
        "pause: [2026-12-21..2027-01-03]",
        "helper: school",
        "voice: online",
    )


def test_several_who_listen_are_shared(tmp_path: Path) -> None:
    file = tmp_path / "finch-10.yaml"
    file.write_text(WHOLE.replace("helper: school", "helper: [home, school]"))
    assert "helper: [home, school]" in shared(begun(file, CLINIC))


@pytest.mark.parametrize("of_school", ["days: [mon, wed]", "days: [mon], times: [midday]"])
def test_days_and_times_of_one_who_listens_are_shared_and_copied(
    of_school: str, tmp_path: Path
) -> None:
    own = f"practice: {{from: 2026-12-07, school: {{{of_school}}}}}"
    helpers = WHOLE.replace("helper: school", "helper: [home, school]")
    text = re.sub(r"practice: .*", own, helpers)
    file = tmp_path / "finch-10.yaml"
    file.write_text(text)
    assert f"practice: {{school: {{{of_school}}}}}" in shared(begun(file, CLINIC))
    copied = like(text, "wren-11", "with a vowel")
    assert f"practice: {{school: {{{of_school}}}}}" in copied


def test_another_client_has_a_tongue_and_days_of_its_own() -> None:
    new = like(f"{OLD}shape: tip down\n", "wren-11", "with a vowel")
    assert "shape: fill-in " in new
    assert "pause" not in new
