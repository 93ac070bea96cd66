from __future__ import annotations

import pytest

from builder.drafts import like, plain_name
from builder.problems import ProgramError
from builder.schema import program_file
from builder.source import parse

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
        "age", "error", "lacks", "baseline", "mastered",
    ]  # fmt: skip


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
