"""Programs as different therapists lay them out, changed as at a visit."""

from __future__ import annotations

import datetime
import random
import re
from collections.abc import Iterator
from typing import Any

import pytest

from builder.drafting.visit.edit_program import Edited
from builder.drafting.visit.edit_yaml import find
from builder.model.clinic import Clinic
from builder.problems import UsageError
from builder.program_file.resolve import program_in
from builder.program_file.yaml_tree import parse

WORDS = ["key", "cow", "cup", "comb", "coin", "corn", "candle", "camel"]
MORE = ["cape", "couch", "cage"]
DAY, VISIT = datetime.date(2026, 12, 7), datetime.date(2026, 12, 14)
CLINIC = Clinic.model_validate({"clinic": 1, "contact": {"clinic": "-"}})


class Hand:
    """Lays out one program at random: brackets or lines, comments, blanks, quotation marks."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.notes = 0

    def maybe(self) -> bool:
        return self.chance.random() < 0.4

    def note(self) -> str:
        self.notes += 1
        odd = self.chance.choice(["it's hers", "a, b", 'so-called "k"', "[x]", "later: all"])
        return f"   # {self.notes} {odd}" if self.maybe() else ""

    def word(self, text: str) -> str:
        ways = [text, text, text, f'"{text}"', f"'{text}'", f"{{word: {text}}}"]
        return self.chance.choice(ways)

    def listed(self, texts: list[str], margin: int, plain: bool = False) -> str:
        """What comes after the colon."""
        words = [text if plain else self.word(text) for text in texts]
        pad = " " * margin
        if self.maybe():  # a line each
            dash = self.chance.choice(["- ", "-   "])
            return "".join(f"{self.note()}\n{pad}{dash}{word}" for word in words) + self.note()
        text = ""
        for at, word in enumerate(words):
            comma = "," if at + 1 < len(words) else self.chance.choice(["", "", ",", " "])
            broken = f"{self.note()}\n{pad}  " if self.chance.random() < 0.3 else " "
            text += word + comma + broken
        return f" [{text.rstrip(' ')}]{self.note()}"

    def mapping(self, values: dict[str, str]) -> str:
        if self.maybe():
            return "".join(f"{self.note()}\n  {key}: {text}" for key, text in values.items())
        inside = ", ".join(f"{key}: {text}" for key, text in values.items())
        return f" {{{inside}}}{self.note()}"

    def program(self) -> str:
        chance = self.chance
        baseline = {"date": "2026-12-03", "correct": "17", "of": "20"}
        if self.maybe():
            baseline["step"] = "words"
        practice = chance.choice([{"from": "2026-11-30", "visit": "2026-12-07"}, {"minutes": "6"}])
        current = chance.choice([" words", ' "words"', self.listed(["words"], 2, plain=True)])
        parts = [
            *(["baseline:" + self.mapping(baseline)] if not self.maybe() else []),
            "current:" + current + self.note() * (current == " words"),
            *(["practice:" + self.mapping(practice)] if not self.maybe() else []),
            "reads: yes",
            "words:" + self.listed(WORDS, 2),
        ]
        chance.shuffle(parts)
        steps = [
            "steps:",
            f"  - {{name: words, level: word}}{self.note()}",
            f"  - name: two words{self.note()}\n    level: phrase\n    items: [my key, my cow]",
        ]
        lines = ["# é 🐄", "program: 1", "client: finch-10", "age: 6", "sound: k", "error: t"]
        text = lines[0]
        for part in (*lines[1:], *parts, *steps):
            text += "\n" + ("\n" if self.maybe() else "") + part
        text += chance.choice(["\n", "", "\n# the end\n"])
        text = text.replace("\n", chance.choice(["\n", "\n", "\r\n"]))
        return chance.choice(["", "", "\ufeff"]) + text


def tree(text: str) -> dict[str, Any]:
    found = parse(text.encode(), "finch-10.yaml").value
    assert isinstance(found, dict)
    return found


def comments(text: str) -> list[str]:
    return re.findall(r"# \d+ [^\r\n]*", text)


def in_order(some: list[str], lines: Iterator[str]) -> bool:
    return all(line in lines for line in some)


def word(entry: Any) -> str:
    return str(entry["word"] if isinstance(entry, dict) else entry)


def listed(value: Any) -> list[str]:
    return [word(one) for one in (value if isinstance(value, list) else [value])]


@pytest.mark.parametrize(
    "practice",
    [
        "practice: {school: {days: [mon, wed]}, from: 2026-11-30, days: [mon, fri]}\n",
        "practice:\n  school: {days: [mon, wed]}  # not on Fridays\n  days: [mon, fri]\n",
        "practice:\n  days: [mon, fri]\n  school:\n    days: [mon, wed]\n",
    ],
)
def test_dates_are_changed_beside_days_of_one_who_listens(practice: str) -> None:
    old = f"client: finch-10\ncurrent: words\n{practice}words: [key]\n"
    edited = Edited(old)
    edited.set_dates({"from": DAY, "visit": VISIT})
    found = tree(edited.text)["practice"]
    dates = {"from": "2026-12-07", "visit": "2026-12-14"}
    assert found == {"days": ["mon", "fri"], "school": {"days": ["mon", "wed"]}} | dates
    assert edited.text.count("#") == old.count("#")


@pytest.mark.parametrize("tens", range(10))
def test_of_200_programs_only_what_is_meant_changes(tens: int) -> None:
    for seed in range(tens * 20, tens * 20 + 20):
        old = Hand(seed).program()
        before = tree(old)
        chance = random.Random(seed)
        out = chance.sample(WORDS, chance.randint(0, 8))
        put = MORE[: chance.randint(1, 3)]
        edited = Edited(old)
        keys = edited.list_for("initial")
        assert keys == ("words",)
        edited.change_words([one.upper() for one in out], {keys: put})
        edited.set_current("two words")
        edited.set_dates({"from": DAY, "visit": VISIT})
        if tried := seed % 2:
            edited.set_baseline(DAY, 8, 10, "two words")
        else:
            edited.remove_baseline()
        new = edited.text
        after = tree(new)
        left = [one for one in before["words"] if word(one) not in out]
        assert after.pop("words") == [*left, *put]
        assert listed(after.pop("current")) == ["two words"]
        dates = {"from": "2026-12-07", "visit": "2026-12-14"}
        assert after.pop("practice") == before.pop("practice", {}) | dates
        said = {"date": "2026-12-07", "correct": "8", "of": "10", "step": "two words"}
        assert after.pop("baseline", None) == (said if tried else None)
        for key in ("words", "current", "baseline"):
            before.pop(key, None)
        assert list(after) == list(before), old  # and in their order
        assert after == before
        # Comments and line ends: outside YAML's data, so by the text itself.
        assert sorted(comments(new)) == sorted(comments(old)), old
        assert ("\r\n" in new) == ("\r\n" in old)
        assert new.count("\r\n") in (0, new.count("\n"))
        assert new.startswith("\ufeff") == old.startswith("\ufeff")
        if seed % 8 == 0:
            program = program_in(parse(new.encode(), "finch-10.yaml"), CLINIC)
            assert [step.name for step in program.current_steps] == ["two words"]


@pytest.mark.parametrize("tens", range(10))
def test_of_200_programs_every_other_line_stays_byte_for_byte(tens: int) -> None:
    for seed in range(tens * 20, tens * 20 + 20):
        old = Hand(seed).program()
        edited = Edited(old)
        edited.change_words(["comb"], {})
        new = edited.text
        had = [line for line in old.splitlines(keepends=True) if "comb" not in line]
        now = new.splitlines(keepends=True)
        assert len(old.splitlines()) - len(now) in (0, 1)
        changed = [line for line in had if line not in now]
        # In brackets, what goes with the last word of a line may be a comma alone.
        assert not changed, (old, new)
        assert in_order(had, iter(now))


LISTS = {
    "[key, cow, cup]": "[key, cup, cape]",
    "[key, cow]   # c": "[key, cape]   # c",
    "[cow,   # c\n  key]": "[   # c\n  key, cape]",
    "[key,   # c\n  cow]": "[key,   # c\n  cape]",
    "[key, cow,   # c\n  cup]": "[key,   # c\n  cup, cape]",
    "\n  - key\n  - cow   # c\n": "\n  - key\n  # c\n  - cape\n",
    "\n- key\n- {word: cow, say: kaʊ}": "\n- key\n- cape\n",
}
HEAD, TAIL = "words: ", "\nsteps:\n  - {name: words, level: word}\n"


@pytest.mark.parametrize("old", LISTS)
def test_a_list_keeps_its_layout(old: str) -> None:
    edited = Edited(HEAD + old.rstrip("\n") + TAIL)
    edited.change_words(["cow"], {("words",): ["cape"]})
    assert edited.text == HEAD + LISTS[old].rstrip("\n") + TAIL


def test_no_list_is_left_empty_and_braces_are_refused() -> None:
    with pytest.raises(UsageError, match="no word would be left of key, cow"):
        Edited(HEAD + "[key, cow]" + TAIL).change_words(["key", "cow"], {})
    with pytest.raises(UsageError, match="braces"):
        Edited("{program: 1, words: [key]}")


def test_a_list_for_each_position_and_words_of_a_step() -> None:
    edited = Edited(
        "words: {initial: [key], final: [book]}\n"
        "steps:\n  - {name: a, level: word}\n  - {name: b, level: word, items: [book, duck]}\n"
    )
    final = edited.list_for("final")
    assert final == ("words", "final")
    edited.change_words(["book"], {final: ["sock"]})
    assert tree(edited.text)["words"] == {"initial": ["key"], "final": ["sock"]}
    assert tree(edited.text)["steps"][1]["items"] == ["duck"]


LINES_OF_ITS_OWN = """\
current: {}
  words
# after
words:
  - key
  - >-
    cow
  - |-
    cup
steps: [{{name: words, level: word}}, {{name: two words, level: phrase}}]
"""


@pytest.mark.parametrize("sign", ["|", "|-", ">-"])
def test_a_text_on_lines_of_its_own_is_changed_whole(sign: str) -> None:
    edited = Edited(LINES_OF_ITS_OWN.format(sign))
    edited.set_current("two words")
    edited.change_words(["cow"], {("words",): ["comb"]})
    assert edited.text.startswith("current: two words\n# after\nwords:\n  - key\n  - |-\n")
    assert tree(edited.text)["words"] == ["key", "cup", "comb"]


def test_what_cannot_be_changed_is_said() -> None:
    with pytest.raises(UsageError, match=r"^a\.yaml: .*lone carriage return"):
        Edited("current: words\rwords: [key]\r", "a.yaml")
    with pytest.raises(UsageError, match="in your editor"):
        find("current: [", ())
