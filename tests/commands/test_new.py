"""A program that is drafted, as a therapist asks for it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.model.dose import planned_minutes, sitting_minutes, sitting_tries
from builder.phonetics.lexicon.index import Index
from builder.program_file import load
from tests.support.drafting_index import Few
from tests.support.wordbank_index import Few as Rows
from tests.support.wordbank_index import few

ASKED = ["new", "wren-11", "--sound", "k", "--position", "initial", "--age", "4"]
BASELINE = "baseline: {date: 2026-12-03, correct: 18, of: 20}"


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A clinic's folder as the current folder, and an index of a few words."""
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n")
    folder = tmp_path / "programs"
    folder.mkdir()
    (folder / "clinic.yaml").write_text(
        "clinic: 1\ncontact: {clinic: Test Clinic, phone: 555-0100}\n"
        "base_url: https://practice.example.org\n"
    )
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(Index, "open", lambda *_: Few())
    return folder


def fill(file: Path) -> None:
    text = re.sub(r"(?m)^baseline: fill-in.*$", BASELINE, file.read_text())
    file.write_text(re.sub(r"(?m)^\w+: fill-in.*\n", "", text))


def test_a_draft_asks_for_its_blanks_and_then_passes(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*ASKED, "--error", "t"]) == 0
    assert main(["check", "programs/wren-11.yaml"]) == 1
    assert "`baseline` is still to be filled in" in capsys.readouterr().out
    fill(programs / "wren-11.yaml")
    assert main(["check", "programs/wren-11.yaml"]) == 0
    assert "0 faults" in capsys.readouterr().out


def test_a_voice_that_says_the_sound_better_is_named(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The woman's /ʃ/ is nearly as sharp as an /s/ (suitability.csv)."""
    assert main([*ASKED, "--error", "t"]) == 0
    assert "voice:" not in capsys.readouterr().out
    given = "shoe,ship,shell,sheep,shark,shirt,shop,shower"
    sh = ["new", "wren-12", "--sound", "sh", "--position", "initial", "--age", "4"]
    assert main([*sh, "--words", given]) == 0
    assert "take the `#` away before `voice: man`" in capsys.readouterr().out


def test_cues_are_neutral_unless_the_clinic_has_its_own(programs: Path) -> None:
    assert main([*ASKED, "--error", "t"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    head = "# Neutral, made from place, manner and voice: read all of it"
    assert text.index(head) < text.index("reminder: Back of the tongue") < text.index("cues:")
    clinic = programs / "clinic.yaml"
    clinic.write_text(f"{clinic.read_text()}cues: {{k: {{tongue: The back goes up.}}}}\n")
    assert main(["new", "wren-12", *ASKED[2:]]) == 0
    text = (programs / "wren-12.yaml").read_text()
    assert "Reminder and cues are those of the clinic file" in text
    assert "cues:" not in text
    fill(programs / "wren-12.yaml")
    (client,) = load.clients([programs / "wren-12.yaml"])
    assert client.programs[0].written.cues.tongue == "The back goes up."


def test_a_shape_of_the_tongue_has_cues_of_its_own(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["new", "wren-11", "--sound", "r", "--words", "rain, rope, ring, red, rug"]
    assert main([*asked, "--shape", "Bunched"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "shape: bunched\n" in text
    assert "reminder: Middle high, tip down\n" in text
    assert main([*asked, "--shape", "tip up"]) == 2
    assert "its shapes are `bunched` or `retroflex`" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("more", "line"),
    [
        (["--age", "6"], "no   # supposed; write yes if this client reads the words alone"),
        (["--age", "7"], "yes   # supposed by age; write no if this client does not read"),
        (["--age", "9", "--no-reads"], "no\n"),
        (["--age", "5", "--reads"], "yes\n"),
    ],
)
def test_who_reads_goes_by_age_unless_it_is_said(
    programs: Path, more: list[str], line: str
) -> None:
    assert main([*ASKED[:-2], *more, "--error", "t"]) == 0
    file = programs / "wren-11.yaml"
    assert f"\nreads: {line}" in file.read_text()
    fill(file)
    assert main(["check", "wren-11"]) == 0
    assert main(["new", "wren-12", "--like", "wren-11"]) == 0
    assert "\nreads: fill-in   # yes if this" in (programs / "wren-12.yaml").read_text()


def test_own_words_and_lacking_sounds(programs: Path) -> None:
    words = "key, cow, cup, comb, coin, book"
    assert main([*ASKED, "--words", words, "--lacks", "v,/θ/", "--reads"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "lacks: [v, /θ/]\n" in text
    assert "words: [key, cow, cup, comb, coin]\n" in text
    assert "reads: yes\n" in text
    assert not any(word in text for word in ("have", "give"))
    fill(programs / "wren-11.yaml")
    assert main(["check", "programs/wren-11.yaml"]) == 0


def test_a_program_of_contrast_has_a_step_of_pairs_before_the_words(
    programs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    words = few("key K IY1", "tea T IY1", "cool K UW1 L", "tool T UW1 L", "call K AO1 L")
    more = few("tall T AO1 L", "cap K AE1 P", "tap T AE1 P", "cow K AW1", "coin K OY1 N")
    rows = [*words.all(), *more.all()]
    monkeypatch.setattr(Index, "open", lambda *_: Rows(rows))
    assert main([*ASKED, "--error", "t", "--contrast"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "contrast: [[key, tea], " in text
    assert text.index("name: pairs") < text.index("name: words")
    fill(programs / "wren-11.yaml")
    assert main(["check", "programs/wren-11.yaml"]) == 0


def test_contrast_needs_a_sound_said_instead_and_enough_pairs(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(Index, "open", lambda *_: few("key K IY1", "tea T IY1"))
    for error, told in (
        ([], "add `--error`"),
        (["--error", "lateral"], "add `--error`"),
        (["--error", "t"], "only 1 pair of known words for /k/ and /t/ initial"),
        (["--error", "k"], "against itself is no contrast"),
    ):
        assert main([*ASKED, *error, "--contrast"]) == 2
        assert told in capsys.readouterr().err
    assert not (programs / "wren-11.yaml").exists()


def test_a_vowel_with_r_begins_where_it_ends_words(programs: Path) -> None:
    words = "door, four, store, corn, fork, farmer, orange"
    asked = ["new", "wren-12", "--sound", "or", "--age", "7", "--words", words, "--has", "er"]
    assert main(asked) == 0
    text = (programs / "wren-12.yaml").read_text()
    assert "position: final\n" in text, "two words are no list for medial"
    assert "has: [er]\n" in text
    assert "words: [door, four, store]\n" in text
    assert "name: short words" in text
    fill(programs / "wren-12.yaml")
    assert main(["check", "programs/wren-12.yaml"]) == 0


def test_the_error_may_be_a_vowel(programs: Path) -> None:
    assert main(["new", "wren-11", "--sound", "er", "--error", "uh", "--age", "8", "--reads"]) == 0
    assert "error: uh\n" in (programs / "wren-11.yaml").read_text()


def test_vowels_with_r_share_one_ladder_in_one_file(
    programs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    er = few("paper P EY1 P ER0", "butter B AH1 T ER0", "pepper P EH1 P ER0", "tiger T AY1 G ER0")
    ar = few("car K AA1 R", "star S T AA1 R", "jar JH AA1 R", "guitar G AH0 T AA1 R")
    both = few("farmer F AA1 R M ER0", "radar R EY1 D AA2 R")
    rows = [*er.all(), *ar.all(), *both.all()]
    monkeypatch.setattr(Index, "open", lambda *_: Rows(rows))
    assert main(["new", "wren-12", "--sound", "vocalic r", "--age", "8", "--reads"]) == 0
    assert "No words were found for air, ear, ire, or." in capsys.readouterr().out
    assert [file.name for file in programs.glob("wren*")] == ["wren-12.yaml"]
    file = programs / "wren-12.yaml"
    assert "farmer" not in file.read_text(), "with er and ar both"
    fill(file)
    program = load.program_of(file, None)
    steps = [(step.level, step.sound.typed) for step in program.steps if step.sound]
    levels = ("isolation", "syllable", "word", "phrase", "sentence")
    assert steps == [(level, sound) for level in levels for sound in ("er", "ar")]
    assert main(["check", str(file)]) == 0
    assert main(["extend", str(file), "--to", "phrase"]) == 2


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["--sound", "er,s"], "only if all are vowels with r"),
        (["--sound", "er,ar", "--words", "car, star"], "leave out"),
    ],
)
def test_what_cannot_share_a_ladder(
    asked: list[str], told: str, programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "wren-12", *asked, "--age", "8"]) == 2
    assert told in capsys.readouterr().err
    assert not (programs / "wren-12.yaml").exists()


def test_clusters_have_steps_of_their_own(programs: Path) -> None:
    assert main(["new", "wren-11", "--sound", "r", "--age", "7", "--cluster", "kr,gr"]) == 0
    text = (programs / "wren-11.yaml").read_text()
    assert "{name: kr words, level: word, cluster: kr," in text
    assert "{name: gr sentences, level: sentence, cluster: gr," in text


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--sound", "th"], "could be two sounds"),
        (["--sound", "ee"], "is a vowel"),
        (["--sound", "k", "--position", "front"], "is not a position"),
        (["--sound", "k", "--cluster", "st"], "is a cluster without /k/"),
        (["--sound", "k", "--cluster", "th"], "could be two sounds"),
        (["--sound", "k", "--error", "j"], "could be two sounds"),
        (["--sound", "k", "--lacks", "r,x9"], "is not a sound this tool knows"),
        (["--sound", "k", "--words", "sun, moon"], "no word of your words holds /k/ initial"),
        (["--sound", "zh"], "no word that is known and picturable holds /ʒ/ initial"),
        (["--sound", "k", "--like", "finch-10"], "either `--like"),
        ([], "either `--like"),
    ],
)
def test_what_cannot_be_drafted_is_said_and_nothing_is_written(
    more: list[str], told: str, programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "wren-11", *more]) == 2
    assert told in capsys.readouterr().err
    assert not (programs / "wren-11.yaml").exists()


def test_a_program_is_never_overwritten(programs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(ASKED) == 0
    before = (programs / "wren-11.yaml").read_bytes()
    assert main(ASKED) == 2
    assert "already has a program for /k/ initial" in capsys.readouterr().err
    assert main(["new", "wren-11", "--like", "wren-11"]) == 2
    assert "For another sound: `practice-site new" in capsys.readouterr().err
    assert (programs / "wren-11.yaml").read_bytes() == before
    assert len(list(programs.iterdir())) == 2


SHARED = """\
reads: yes
lacks: [s, r]
practice: {times: [evening], days: [mon, tue, thu, sat], from: 2026-12-07, visit: 2026-12-20}
helper: school
misses: 4
"""


@pytest.fixture
def first(programs: Path) -> Path:
    """The first program of a client, filled in, with what the family agreed on."""
    assert main([*ASKED, "--error", "t"]) == 0
    file = programs / "wren-11.yaml"
    fill(file)
    file.write_text(re.sub(r"reads: no.*\n", SHARED, file.read_text()))
    return file


def test_a_further_sound_is_a_file_beside_the_first(
    first: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = first.read_text()
    assert main(["new", "wren-11", "--sound", "s", "--error", "frontal"]) == 0
    further = first.with_name("wren-11-s.yaml")
    fill(further)
    times = r"times: \d+"  # of rounds that stood as drafted
    assert re.sub(times, "", first.read_text()) == re.sub(times, "", before)
    one, other = load.clients([first])[0].programs
    assert {Path(one.file), Path(other.file)} == {first, further}
    capsys.readouterr()
    assert main(["check", str(first)]) == 0
    told = capsys.readouterr().out
    assert "0 faults" in told
    assert "[differs]" not in told
    assert (one.written.helper, one.written.misses) == (other.written.helper, other.written.misses)
    text = further.read_text()
    assert "age: 4\n" in text
    assert "lacks: [r]\n" in text
    assert "from:" not in text, "each program begins on its own day"


def test_a_clinic_whose_name_is_still_to_be_filled_in_keeps_nobody_from_drafting(
    first: Path,
) -> None:
    clinic = first.with_name("clinic.yaml")
    blank = "{clinic: fill-in, phone: fill-in}  # soon"
    text = re.sub(r"\{clinic: .*", blank, clinic.read_text())
    clinic.write_text(text + "cues: {s: {reminder: Teeth close}}\n")
    assert main(["new", "wren-11", "--sound", "s", "--error", "frontal"]) == 0
    text = first.with_name("wren-11-s.yaml").read_text()
    assert "Reminder and cues are those of the clinic file" in text
    assert main(["new", "wren-12", "--like", "wren-11"]) == 0
    assert "fill-in" in clinic.read_text()


def test_words_of_the_first_program_are_not_drafted_again(first: Path) -> None:
    first.write_text(re.sub(r"words: \[.*?\]", "words: [key, cow, cup, sock]", first.read_text()))
    assert main(["new", "wren-11", "--sound", "s"]) == 0
    assert "sock" not in first.with_name("wren-11-s.yaml").read_text()


@pytest.mark.parametrize(
    ("more", "name"),
    [
        (["--sound", "k", "--position", "final", "--words", "book, duck, sock, lake"], "k"),
        (["--sound", "k", "--cluster", "kr", "--lacks", "s"], "k"),
        (["--sound", "/θ/"], "th"),
    ],
)
def test_step_names_of_one_client_differ(
    more: list[str], name: str, first: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "wren-11", *more]) == 0
    fill(first.with_name(f"wren-11-{name}.yaml"))
    main(["check", str(first)])
    assert "[same-name]" not in capsys.readouterr().out


def test_a_file_name_that_is_taken_gets_the_position(first: Path) -> None:
    other = first.with_name("wren-11-s.yaml")
    other.write_text(first.read_text())  # named after another sound than it teaches
    assert main(["new", "wren-11", "--sound", "s"]) == 0
    assert "sound: k" in other.read_text()
    assert "sound: s" in first.with_name("wren-11-s-initial.yaml").read_text()


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--sound", "k"], "wren-11.yaml: wren-11 already has a program for /k/ initial"),
        (["--sound", "k", "--position", "final,initial"], "already has a program for /k/ initial"),
        (["--sound", "k", "--cluster", "kr"], "holds the cluster kr initial and no s and no r."),
        (["--sound", "s", "--age", "6"], "wren-11.yaml: it says that the client is 4, not 6"),
        (["--sound", "s", "--no-reads"], "the client reads. Leave out `--no-reads`"),
    ],
)
def test_what_a_first_program_speaks_against(
    more: list[str], told: str, first: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "wren-11", *more]) == 2
    assert told in capsys.readouterr().err
    assert len(list(first.parent.iterdir())) == 2


def test_a_first_program_that_cannot_be_read_stops_a_further_one(
    first: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first.write_text(first.read_text().replace("sound: k", "sound: th"))
    assert main(["new", "wren-11", "--sound", "s"]) == 1
    said = capsys.readouterr().err
    assert "could be two sounds" in said
    assert said.endswith("\nNothing was written.\n")
    assert not first.with_name("wren-11-s.yaml").exists()


@pytest.mark.parametrize(("age", "least", "most"), [("3", 15, 25), ("5", 26, 60), ("8", 30, 60)])
def test_two_sounds_share_one_sitting(programs: Path, age: str, least: int, most: int) -> None:
    # 30 to 60 tries, under four years 15 to 25, within the minutes: common practice, no source.
    first, further = programs / "wren-11.yaml", programs / "wren-11-s.yaml"
    assert main(["new", "wren-11", "--sound", "k", "--position", "initial", "--age", age]) == 0
    assert main(["new", "wren-11", "--sound", "s", "--position", "initial"]) == 0
    for file in (first, further):
        fill(file)
    levels = ("with a vowel", "words", "phrases", "sentences")
    for level in levels[: 3 if age == "3" else 4]:  # at three, sentences of two sounds are too much
        for file in (first, further):
            file.write_text(re.sub(r"(?m)^current: .*$", f"current: {level}", file.read_text()))
        (client,) = load.clients([first])
        assert least <= sitting_tries(client.programs) <= most, level
        assert sitting_minutes(client.programs) <= planned_minutes(client.programs), level


def test_what_the_therapist_changed_is_not_made_to_fit(
    programs: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(ASKED) == 0
    first = programs / "wren-11.yaml"
    changed = re.sub(r"times: \d+", "times: 11", first.read_text())
    first.write_text(changed)
    assert main(["new", "wren-11", "--sound", "s", "--position", "initial"]) == 0
    assert first.read_text() == changed
    assert "one sitting" not in capsys.readouterr().out
