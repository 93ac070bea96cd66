from __future__ import annotations

import pytest
import yaml

from builder.drafting.insert_step import with_items, with_step, with_times
from builder.drafting.ladder import Draft
from builder.drafting.write_yaml import scalar
from builder.program_file.yaml_tree import parse

DRAFT = Draft(
    name="new",
    level="phrase",
    rounds=("natural imitation",),
    items=("my cow", "bye, cow", 'say "cow"'),
)
TOP = "program: 1   # ours\nwords: [cow]\n"
LINES = (
    TOP
    + """\
steps:   # the ladder
  - {name: one, level: syllable}   # first
  # between
  - name: two
    level: word   # the words

    # to come
  - {name: three,
     level: sentence, items: [A cow.]}  # last
# the end
"""
)
BRACKETS = (
    TOP
    + """\
steps: [{name: one, level: syllable},   # first
        {name: two, level: word},  # second
        # last of all
        {name: three, level: sentence, items: [A cow.]}   # third
       ]
because: {gap: mine}
"""
)
ONE_LINE = TOP + "steps: [{name: one, level: syllable}, {name: two, level: word}]\n"
TEXTS = {
    "a step on each line": LINES,
    "Windows line ends": LINES.replace("\n", "\r\n"),
    "a mark before the first sign": "\ufeff" + LINES,
    "steps at the left edge": LINES.replace("\n  ", "\n"),
    "wide hyphens": LINES.replace("- name: two\n    level", "-   name: two\n      level"),
    "in brackets": BRACKETS,
    "in brackets, a comma at the end": BRACKETS.replace("[A cow.]}", "[A cow.]},"),
    "in brackets on one line": ONE_LINE,
    "no line end at the end": LINES.removesuffix("  # last\n# the end\n"),
    "signs of two units before": "# 🐄 café\n" + LINES,
    "a key after the steps": LINES + "helper: school\n",
}


@pytest.mark.parametrize("after", [0, 1, 2])
@pytest.mark.parametrize("name", TEXTS)
def test_the_step_is_added_and_nothing_else_changes(name: str, after: int) -> None:
    old = TEXTS[name]
    before = parse(old.encode(), "a.yaml").value
    assert isinstance(before, dict)
    steps = before["steps"]
    assert isinstance(steps, list)
    if after >= len(steps):
        after = len(steps) - 1
    new = with_step(old, DRAFT, after)
    tree = parse(new.encode(), "a.yaml").value
    assert isinstance(tree, dict)
    step = {
        "name": "new",
        "level": "phrase",
        "rounds": ["natural imitation"],
        "items": ["my cow", "bye, cow", 'say "cow"'],
    }
    assert tree == {**before, "steps": [*steps[: after + 1], step, *steps[after + 1 :]]}
    assert _in_order(old, new)
    assert ("\r\n" in old) is ("\r\n" in new)
    assert new.count("\n") - new.count("\r\n") == (0 if "\r\n" in old else new.count("\n"))


def _in_order(old: str, new: str) -> bool:
    """Whether every sign of `old` stands in `new`, in its order, every comment whole."""
    rest = iter(new)
    comments = [line[line.index("#") :].strip() for line in old.splitlines() if "#" in line]
    return all(sign in rest for sign in old) and all(c in new for c in comments)


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("my cow", "my cow"),
        ("I see a cow.", "I see a cow."),
        ("hi, cow", '"hi, cow"'),
        ('Say "cow".', "'Say \"cow\".'"),
        ("don't go", "don't go"),
        ("no: one", '"no: one"'),
    ],
)
def test_texts_are_quoted_only_where_they_must_be(text: str, written: str) -> None:
    assert scalar(text) == written
    assert parse(f"a: [{written}]".encode(), "a.yaml").value == {"a": [text]}


ITEMS = ("I see a cow.", 'The "cow" ran, too.')
WITH_ITEMS = {
    "in brackets": TOP
    + "steps:\n  - {name: one, level: sentence, items: [A cow.]}  # last\n# end\n",
    "on lines": TOP
    + "steps:\n  - name: one\n    items:\n      - A cow.\n      - Cow.  # two\n    level: word\n",
    "Windows": TOP.replace("\n", "\r\n")
    + "steps:\r\n  - {name: one,\r\n     items: [A cow., B.]}\r\n",
}


@pytest.mark.parametrize("name", WITH_ITEMS)
def test_other_items_leave_all_else_as_it_stands(name: str) -> None:
    text = WITH_ITEMS[name]
    made = with_items(text, 0, ITEMS)
    before, after = text.partition("items:")[0], made.partition("items:")[0]
    assert before == after
    assert yaml.safe_load(made)["steps"][0] == yaml.safe_load(text)["steps"][0] | {
        "items": [*ITEMS]
    }
    assert made.count("\r\n") == made.count("\n") or "\r" not in made


def test_other_times_of_rounds_leave_all_else_as_it_stands() -> None:
    text = (
        "steps:\n  - name: a  # now\n    rounds: [{support: imitation, times: 3}, {times: 12}]\n"
        "  - {name: b, rounds: [natural imitation, {support: delayed, times: 2}]}\n"
    )
    changed = with_times(text, {(0, 1): 1, (1, 1): 10, (0, 0): 2})
    assert changed == text.replace("times: 3", "times: 2").replace("times: 12", "times: 1").replace(
        "delayed, times: 2", "delayed, times: 10"
    )
    assert with_times(text, {(1, 0): 2}) is None
