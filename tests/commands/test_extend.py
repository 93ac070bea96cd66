"""Steps added to a program, as a therapist asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.__main__ import main
from builder.drafting.choose_lines import MAX_CARRIERS
from builder.model.program import Program
from builder.phonetics.inventory import sounds
from builder.program_file.load import program_of
from builder.wordbank.probes import is_probe

WORDS = ("key", "cow", "cup", "coin", "corn", "camel")
PROGRAM = """\
# ours
program: 1
client: finch-10   # the code
age: 6
reads: yes
sound: k
error: t
mastered: {syllable: 2026-11-02}
baseline: {date: 2026-12-03, correct: 18, of: 20}
current: words
words: [key, cow, cup, coin, corn, camel]   # picturable

steps:
  # the ladder
  - {name: words, level: word, rounds: [{support: imitation, times: 6}]}  # now
# more to come
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "clinic.yaml").write_text(
        "clinic: 1\ncontact: {clinic: Test Clinic, phone: 555-0100}\n"
        "base_url: https://practice.example.org\n"
    )
    file = tmp_path / "finch-10.yaml"
    file.write_text(PROGRAM)
    return file


def extend(file: Path, level: str, text: str = "") -> Program:
    """The program after `extend`, whose old lines all stand as they stood."""
    if text:
        file.write_bytes(text.encode())
    old = file.read_bytes().decode().splitlines(keepends=True)
    assert main(["extend", str(file), "--to", level]) == 0
    new = iter(file.read_bytes().decode().splitlines(keepends=True))
    assert all(line in new for line in old)
    return program_of(file, None)


@pytest.mark.parametrize("level", ["phrase", "sentence"])
def test_the_steps_are_added_and_pass_the_check(
    level: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answered = "age: 6\nbecause: {no-visit: not agreed yet}\n"
    program = extend(file, level, PROGRAM.replace("age: 6\n", answered))
    levels = ["word", "phrase", "sentence"]
    assert [s.level for s in program.steps] == levels[: levels.index(level) + 1]
    assert all(5 <= len(step.items) <= 10 for step in program.steps)
    assert main(["check", str(file)]) == 0
    said = capsys.readouterr().out
    assert "0 faults, 0 pieces of advice" in said, said


def test_windows_line_ends_stay(file: Path) -> None:
    extend(file, "sentence", PROGRAM.replace("\n", "\r\n"))
    assert file.read_bytes().count(b"\n") == file.read_bytes().count(b"\r\n")


def test_run_again_it_refreshes_the_step_that_it_wrote(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = extend(file, "sentence")
    words = "[cat, cake, comb, candle, car, cow]"
    changed = file.read_text().replace("[key, cow, cup, coin, corn, camel]", words)
    file.write_text(changed)
    capsys.readouterr()
    assert main(["extend", str(file), "--to", "sentence"]) == 0
    after = program_of(file, None)
    assert [s.name for s in after.steps] == [s.name for s in before.steps]
    assert after.steps[1] == before.steps[1]
    said = {w.text for i in after.steps[-1].items for w in i.words}
    assert not said & {"key", "cup", "coin", "corn", "camel"}
    assert said & {"cake", "comb", "candle", "car"}
    head = changed[: changed.index("items: [", changed.index("name: sentences"))]
    assert file.read_text().startswith(head)
    assert file.read_text().endswith("]}\n# more to come\n")
    assert "gone: " in capsys.readouterr().out
    assert main(["extend", str(file), "--to", "sentence"]) == 0
    assert "as they would be drafted" in capsys.readouterr().out


def test_what_the_therapist_wrote_goes_only_when_she_says_so(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    program = extend(file, "phrase")
    first = program.steps[-1].items[0].text
    file.write_text(file.read_text().replace(first, "the cow from Grandpa", 1))
    before = file.read_bytes()
    assert main(["extend", str(file), "--to", "phrase"]) == 2
    assert "the cow from Grandpa" in capsys.readouterr().err
    assert file.read_bytes() == before
    assert main(["extend", str(file), "--to", "phrase", "--replace"]) == 0
    assert "the cow from Grandpa" not in file.read_text()


def test_beside_a_step_of_her_own_name_one_is_added(file: Path) -> None:
    extend(file, "sentence")
    program = extend(file, "sentence", file.read_text().replace("name: sentences", "name: mine"))
    first, second = program.steps[-2:]
    assert (first.name, second.name) == ("mine", "sentences")
    assert not {i.text for i in first.items} & {i.text for i in second.items}


def test_a_client_who_does_not_read_keeps_few_carriers(file: Path) -> None:
    program = extend(file, "sentence", PROGRAM.replace("reads: yes", "reads: no"))
    for step in program.steps[1:]:
        around = {tuple(w.text for w in i.words if w.text not in WORDS) for i in step.items}
        assert len(around) <= MAX_CARRIERS
        assert step.rounds[-1].support == "spontaneous"


def test_words_without_pictures_are_only_imitated(file: Path) -> None:
    text = PROGRAM.replace("reads: yes", "reads: no").replace(
        "[key, cow, cup, coin, corn, camel]", "[curb, cave, cape, coat, cove, calf]"
    )
    program = extend(file, "phrase", text)
    assert [r.support for r in program.steps[-1].rounds] == ["imitation"]


def test_what_the_client_lacks_is_spared(file: Path) -> None:
    text = PROGRAM.replace("error: t", "error: t\nlacks: [v, z, ð]")
    program = extend(file, "sentence", text)
    said = {w.text.lower() for s in program.steps for i in s.items for w in i.words}
    assert not said & {"have", "give", "is", "the", "has", "love"}


def test_each_position_and_cluster_goes_on_by_itself(file: Path) -> None:
    text = (
        PROGRAM.replace("sound: k", "sound: k\nposition: [initial, final]")
        .replace(
            "words: [key, cow, cup, coin, corn, camel]   # picturable",
            "words:\n  initial: [key, cow, cup, coin, corn]\n"
            "  final: [book, duck, sock, lake, bike]",
        )
        .replace(
            "# more to come",
            "  - {name: two, level: phrase, position: initial, items: [my key]}\n# more to come",
        )
    )
    program = extend(file, "sentence", text)
    steps = {(s.level, s.positions) for s in program.steps}
    assert ("phrase", ("final",)) in steps
    assert ("sentence", ("initial", "final")) in steps
    assert main(["check", str(file)]) == 0


def lines_of(program: Program) -> list[list[str]]:
    return [[w.text.lower() for w in i.words] for s in program.steps[1:] for i in s.items]


def test_a_practised_word_is_trained_and_used(file: Path) -> None:
    assert is_probe("coffee", sounds()["K"])
    text = PROGRAM.replace("[key, cow, cup, coin, corn, camel]", "[key, cow, cup, coin, coffee]")
    assert any("coffee" in line for line in lines_of(extend(file, "sentence", text)))


def test_nothing_to_build_on(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.write_text(
        PROGRAM.replace("mastered: {syllable: 2026-11-02}\n", "").replace(
            "{name: words, level: word, rounds: [{support: imitation, times: 6}]}",
            "{name: words, level: syllable}",
        )
    )
    before = file.read_bytes()
    assert main(["extend", str(file), "--to", "phrase"]) == 2
    assert "no word step" in capsys.readouterr().err
    assert main(["extend", str(file.with_name("owl-01.yaml")), "--to", "phrase"]) == 2
    assert file.read_bytes() == before


def test_a_program_with_a_fault_is_left_alone(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(PROGRAM.replace("current: words", "current: wrods"))
    assert main(["extend", str(file), "--to", "phrase"]) == 1
    assert "No step is called `wrods`" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("argv", "code", "told"),
    [
        (["k"], 0, "the usual four: kee /ki/"),
        (["k", "--position", "final", "--yaml"], 0, "vowels: [ee, ay, ah, oo]"),
        (["er", "--yaml", "--position", "final"], 0, "items: [her, fur, sir, purr]"),
        (["r", "--cluster", "kr", "--yaml"], 0, "cluster: kr"),
        (["ng"], 2, "no English syllable begins with /ŋ/"),
        (["th"], 2, "could be two sounds"),
    ],
)
def test_syllables(
    argv: list[str], code: int, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["syllables", *argv]) == code
    out, err = capsys.readouterr()
    assert told in (err if code else out)
