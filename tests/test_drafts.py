from __future__ import annotations

from builder.drafts import like, plain_name

OLD = """\
# our first
program: 1
client: finch-10   # the code
age: 5
error: t
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
    facts = [line for line in new.splitlines() if not line.startswith("#")]
    assert not any("2026" in line or "ready" in line or "error" in line for line in facts)
    assert all(f"# {key}:" in new for key in ("age", "error", "baseline", "mastered", "because"))


def test_names_that_yaml_would_read_otherwise_are_quoted() -> None:
    assert plain_name("two words") == "two words"
    assert plain_name("k: hard") == '"k: hard"'
