"""A visit, as a therapist types it: on Thursday, 2026-12-03."""

from __future__ import annotations

import argparse
import datetime
import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from builder.__main__ import main
from builder.commands import visit_checked
from builder.practice.log.rows import Apart, opened
from builder.practice.log.scores import VisitScore
from builder.program_file.load import program_of
from builder.workspace.addresses import secret, slug
from builder.workspace.folder import Workspace
from tests.support.clinics import PROGRAM, clinic
from tests.support.from_home import sitting

HERS = PROGRAM.replace("age: 7", "age: 7   # in May").replace(
    "items: [my key]", "items: [my key, Grandpa's comb]"
)


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = clinic(tmp_path, HERS)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796256000")  # 2026-12-03
    return folder / "finch-10.yaml"


def visit(*options: str) -> int:
    return main(["visit", "finch-10", *options])


def scores(file: Path) -> tuple[VisitScore, ...]:
    with opened(Workspace(file.parent.parent).hidden) as log:
        return log.scores()


def answers(monkeypatch: pytest.MonkeyPatch, *given: str) -> list[str]:
    """What is typed, in turn; the questions that were asked."""
    asked: list[str] = []
    rest = iter(given)

    def answer(question: str) -> str:
        asked.append(question)
        try:
            return next(rest)
        except StopIteration:
            raise EOFError from None

    monkeypatch.setattr("builtins.input", answer)
    return asked


WHOLE = (
    *("--score", "17/20", "--to", "phrase", "--drop", "comb,coin", "--add", "cape,couch,cage"),
    *("--next", "2026-12-14", "--note", "tired"),
)


def test_one_command_changes_what_was_said_and_nothing_else(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit(*WHOLE, "--yes")
    said = capsys.readouterr().out
    assert "2 words out, 3 in; now 'two words'; the old baseline is out" in said
    assert "still with a word that is out, yours to change: Grandpa's comb" in said
    assert "[baseline]" in said  # the check's finding stands
    old, new = HERS.splitlines(), file.read_text().splitlines()
    assert [line for line in old if line not in new] == [
        "baseline: {date: 2026-12-03, correct: 18, of: 20}",
        "current: words",
        "practice: {from: 2026-12-07, visit: 2026-12-14}",
        "words: [key, cow, cup, comb, coin]",
        "  - {name: two words, level: phrase, items: [my key, Grandpa's comb]}",
    ]
    program = program_of(file, None)
    assert [item.word for item in program.written.words["initial"]] == [
        *("key", "cow", "cup", "cape", "couch", "cage")
    ]
    lines = [item.text for item in program.steps[1].items]
    assert lines[:2] == ["my key", "Grandpa's comb"]
    assert any(word in line for line in lines[2:] for word in ("cape", "couch", "cage"))
    assert str(program.written.practice.start) == "2026-12-04"
    (score,) = scores(file)
    assert (str(score.date), score.sound, score.step) == ("2026-12-03", "K", "k-words")
    assert (score.support, score.correct, score.of, score.probe, score.note) == (
        *("imitation", 17, 20, False, "tired"),
    )


def test_undo_brings_the_file_back_and_takes_the_score_out(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit(*WHOLE, "--yes")
    visit("--drop", "cow", "--yes")
    for _ in range(2):
        assert visit("--undo", "--yes") == 0
    assert file.read_text() == HERS
    assert scores(file) == ()
    assert visit("--undo", "--yes") == 2
    assert "no visit to take back" in capsys.readouterr().err


def test_undo_of_a_score_in_the_place_of_another_brings_the_first_back(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--score", "15/20", "--note", "tired", "--yes")
    first = scores(file)
    visit("--score", "17/20", "--yes")
    assert visit("--undo", "--yes") == 0
    assert scores(file) == first
    assert "in it again: 2026-12-03 k-words: 15 of 20" in capsys.readouterr().out
    assert visit("--undo", "--yes") == 0
    assert scores(file) == ()


def test_what_is_no_text_is_told_and_nothing_is_written(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = file.read_bytes()
    for option in ("--note", "--add"):  # as Python reads a byte that is no UTF-8
        assert visit(option, "t\udcfcr", "--yes") == 2
        assert "no UTF-8" in capsys.readouterr().err
    assert file.read_bytes() == before
    assert scores(file) == ()


def test_what_is_changed_by_hand_between_question_and_answer_stays(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def answer(question: str) -> str:
        file.write_text("by hand: [")
        return ""

    monkeypatch.setattr("builtins.input", answer)
    assert main(["visit", "finch-10"]) == 2
    assert "changed meanwhile; nothing was written" in capsys.readouterr().err
    assert file.read_text() == "by hand: ["


def test_a_former_version_that_is_damaged_is_told(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--score", "15/20", "--yes")
    (kept,) = (file.parent.parent / ".practice").rglob("* 000001.json")
    kept.write_text(json.dumps(json.loads(kept.read_text()) | {"told": [[1]]}))
    assert visit("--undo", "--yes") == 2
    assert "it is damaged, so this visit stays" in capsys.readouterr().err


def test_a_new_word_without_a_line_is_told(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`conceive` is in no list of ours."""
    visit("--add", "couch,conceive", "--yes")
    said = capsys.readouterr().out
    assert "no line was drafted with 'conceive': write your own" in said
    lines = [item.text for item in program_of(file, None).steps[1].items]
    assert any("couch" in line for line in lines)
    assert not any("conceive" in line for line in lines)


def test_what_she_changed_since_is_not_undone(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--drop", "cow", "--yes")
    file.write_text(changed := file.read_text() + "# since then\n")
    assert visit("--undo", "--yes") == 2
    assert "changed since" in capsys.readouterr().err
    assert file.read_text() == changed


def test_it_asks_before_it_writes(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for given in (["n"], []):
        (question,) = (answers(monkeypatch, *given), visit("--score", "17/20", "--drop", "cow"))[0]
        assert "finch-10.yaml" in question
        assert file.read_text() == HERS
        assert scores(file) == ()
    answers(monkeypatch, "y")
    visit("--score", "17/20", "--drop", "cow")
    assert "cow" not in file.read_text()
    assert len(scores(file)) == 1


def test_without_options_it_asks_in_turn(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = answers(monkeypatch, "", "phrases", "8/10", "y", "", "", "", "", "y")
    visit()
    assert len(asked) == 9
    assert asked[2].startswith("How 'two words' went in the room")
    baseline = program_of(file, None).written.baseline
    assert baseline
    assert (baseline.correct, baseline.of, baseline.step) == (8, 10, "two words")
    (score,) = scores(file)
    assert (score.step, score.correct, score.of) == ("k-two-words", 8, 10)
    assert score.support == "spontaneous"


def test_without_options_enter_keeps_all(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    answers(monkeypatch)
    assert visit() == 0
    assert file.read_text() == HERS


def test_a_proposal_is_never_taken_by_enter_and_what_cannot_be_read_is_asked_again(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    space = Workspace(file.parent.parent)
    site = slug(secret(space), "finch-10")
    with opened(space.hidden) as log, log.writing():
        log.add_client(site, "finch-10")
        for day in (20, 27):
            date = datetime.date(2026, 11, day)
            one = VisitScore(site, date, "K", "k-words", "spontaneous", 18, 20)
            log.put_score(one, "2026-11-27")
    asked = answers(monkeypatch, "21/20", "17/20", "y", "", "", "", "", "tired", "y")
    visit()
    said = capsys.readouterr()
    assert "21 correct of 20 cannot be" in said.err
    assert "'words': Propose staying" in said.out
    assert "'words', with this score: Propose moving on" in said.out
    assert asked[3] == "Step to practice next (Enter: 'words' as now; on: 'two words'): "
    assert file.read_text() == HERS
    score = scores(file)[-1]
    assert (score.support, score.correct, score.note) == ("spontaneous", 17, "tired")


def test_no_answer_is_lost_to_one_that_cannot_be(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = (["cop"], ["dog", "Cup"], ["soon", "2026-12-03"])
    asked = answers(
        monkeypatch,
        *("17/20", "", "", *wrong[0], "cow", *wrong[1], "cape", *wrong[2], "2026-12-14", "tired"),
        "y",
    )
    assert visit() == 0
    assert len(asked) == 8 + sum(map(len, wrong))
    said = capsys.readouterr().err
    for told in ("Did you mean `cup`", "without /k/", "already", "no day", "must be after today"):
        assert told in said
    assert "cup, comb, coin, cape]" in file.read_text()
    assert len(scores(file)) == 1


def test_an_answer_to_yes_or_no_that_is_neither_is_asked_again(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answers(monkeypatch, "17/20", "phrases", "y", "", "", "", "", "", "y")
    visit()
    assert "`phrases` is neither yes nor no" in capsys.readouterr().err
    (score,) = scores(file)
    assert score.support == "spontaneous"


AT_SYLLABLES = HERS.replace("current: words", "current: ko").replace(
    "steps:\n", "steps:\n  - {name: ko, level: syllable, vowels: [oh, ah, ee]}\n"
)


def test_a_word_without_the_sound_is_refused_where_the_step_that_comes_has_it(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(AT_SYLLABLES)
    assert visit("--to", "words", "--add", "dog", "--yes") == 2
    assert "'dog' is pronounced /dɔɡ/, without /k/" in capsys.readouterr().err
    assert file.read_text() == AT_SYLLABLES
    answers(monkeypatch, "", "words", "", "", "dog", "cape", "", "", "y")
    visit()
    assert "'dog' is pronounced /dɔɡ/, without /k/" in capsys.readouterr().err
    words = program_of(file, None).written.words["initial"]
    assert [item.word for item in words][-1] == "cape"


def test_all_words_may_go_where_others_come(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    every = "key,cow,cup,comb,coin"
    answers(monkeypatch, "", "", every, "", every, "cape,couch", "", "", "y")
    visit()
    assert "no word would be left" in capsys.readouterr().err
    assert "words: [cape, couch]" in file.read_text()


def test_stopped_while_it_asks_it_says_that_nothing_was_written(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(_: str) -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr("builtins.input", stopped)
    for options in ((), ("--drop", "cow")):
        assert visit(*options) == 130
        assert "finch-10: nothing was written" in capsys.readouterr().err
    assert file.read_text() == HERS


def test_undo_asks_and_says_what_goes(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--score", "17/20", "--drop", "cow", "--to", "on", "--yes")
    written = file.read_text()
    capsys.readouterr()
    answers(monkeypatch, "")
    assert visit("--undo") == 0
    said = capsys.readouterr().out
    assert "1 word in; now 'words'" in said
    assert "out of the log: 2026-12-03 k-words: 17 of 20" in said
    assert (file.read_text(), len(scores(file))) == (written, 1)


def test_a_new_fault_is_told_in_the_question(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file.write_text(HERS.replace("current: words", "current: two words"))
    asked = answers(monkeypatch, "n", "n")
    visit("--drop", "comb")
    visit("--drop", "cow")
    assert [question.startswith("A new fault") for question in asked] == [True, False]


def test_fewer_tries_than_are_usual_are_told_with_the_minutes_that_hold_them(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """30 to 60 tries: common practice, no source."""
    file.write_text(HERS.replace("age: 7", "age: 4"))
    visit("--add", "cape,couch,cage,cake", "--yes")
    told = re.search(
        r"(\d+) tries: 30 to 60 .* `minutes: (\d)` .* hold (\d+)\.", capsys.readouterr().out
    )
    assert told
    tries, minutes, more = map(int, told.groups())
    assert tries < 30 <= more
    assert minutes > 6


def test_on_and_back_are_the_steps_beside(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert visit("--to", "back", "--yes") == 2
    assert "`words` is the first step" in capsys.readouterr().err
    visit("--to", "on", "--yes")
    assert "This moves on to 'two words', though the figures" in capsys.readouterr().out
    assert program_of(file, None).current == (1,)
    visit("--to", "back", "--yes")
    assert program_of(file, None).current == (0,)


def test_a_note_without_a_score_is_in_the_log_and_comes_out_again(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert visit("--note", " tired ", "--yes") == 0
    with opened(Workspace(file.parent.parent).hidden) as log:
        (note,) = log.visit_notes()
    assert (str(note.date), note.note) == ("2026-12-03", "tired")
    assert file.read_text() == HERS
    assert visit("--undo", "--yes") == 0
    assert "out of the log: 2026-12-03: tired" in capsys.readouterr().out
    with opened(Workspace(file.parent.parent).hidden) as log:
        assert log.visit_notes() == ()


def test_what_was_kept_apart_is_told(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    space = Workspace(file.parent.parent)
    site = slug(secret(space), "finch-10")
    with opened(space.hidden) as log, log.writing():
        log.put_apart(Apart(sitting(1, site=site), "its plan is unknown"), "2026-12-03")
    visit("--drop", "cow", "--yes")
    assert "kept apart by `receive`, counted nowhere: 1 sitting" in capsys.readouterr().out


@pytest.fixture
def group(file: Path) -> tuple[Path, Path, Path]:
    """Three clients, of whom the second cannot be read."""
    files = [file, *(file.with_name(f"{code}.yaml") for code in ("otter-11", "robin-12"))]
    for one in files[1:]:
        one.write_text(HERS.replace("finch-10", one.stem))
    files[1].write_text(HERS.replace("finch-10", "otter-11").replace("sound: k", "sound: qqq"))
    return (files[0], files[1], files[2])


GROUP = ("visit", "finch-10", "otter-11", "robin-12")


def test_a_group_takes_what_holds_for_all_and_a_fault_stops_one_alone(
    group: tuple[Path, Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    before = [file.read_text() for file in group]
    assert main([*GROUP, "--next", "2026-12-21", "--note", "in a group", "--yes"]) == 1
    assert "otter-11: left as it was" in capsys.readouterr().err
    visits = [program_of(file, None).written.practice.visit for file in (group[0], group[2])]
    assert [str(day) for day in visits] == ["2026-12-21"] * 2
    with opened(Workspace(group[0].parent.parent).hidden) as log:
        assert [note.note for note in log.visit_notes()] == ["in a group"] * 2
    assert main([*GROUP, "--undo", "--yes"]) == 1
    assert [file.read_text() for file in group] == before


def test_a_group_of_the_clinic_file_stands_for_its_clients(
    group: tuple[Path, Path, Path],
) -> None:
    clinic = group[0].with_name("clinic.yaml")
    clinic.write_text(clinic.read_text() + "groups: {tuesday: [robin-12, finch-10]}\n")
    assert main(["visit", "tuesday", "--note", "in a group", "--yes"]) == 0
    with opened(Workspace(group[0].parent.parent).hidden) as log:
        assert len(log.visit_notes()) == 2
    assert main(["visit", "tuesday", "--score", "17/20", "--yes"]) == 2


def test_each_of_a_group_is_asked_in_turn(
    group: tuple[Path, Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = answers(monkeypatch, *[""] * 5, "n", "17/20", *[""] * 5, "y")
    main([*GROUP, "--next", "2026-12-21"])
    assert len(asked) == 2 * 6 + 1
    assert not any("Next visit" in question for question in asked)
    assert group[0].read_text() == HERS
    assert "2026-12-21" in group[2].read_text()
    assert len(scores(group[2])) == 1
    asked = answers(monkeypatch, *["19/20", "y", "", "", "", "", "", "y"] * 2)
    main(["visit", "finch-10", "robin-12"])
    assert len(asked) == 16
    assert len(scores(group[0])) == 3


def test_what_is_of_one_client_is_refused_for_a_group(
    group: tuple[Path, Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*GROUP, "--score", "17/20", "--no-model", "--yes"]) == 2
    said = capsys.readouterr().err
    assert "`--score` and `--no-model` can hold for one client only" in said
    assert scores(group[0]) == ()


def test_a_visit_on_a_holiday_is_a_week_later(file: Path) -> None:
    file.write_text(HERS + "pause: [2026-12-04..2026-12-06, 2026-12-14..2026-12-18]\n")
    visit("--next", "2026-12-14", "--yes")
    practice = program_of(file, None).written.practice
    assert (str(practice.start), str(practice.visit)) == ("2026-12-07", "2026-12-21")


def test_a_score_of_probe_words_is_one_without_a_model(file: Path) -> None:
    visit("--score", "6/10", "--yes")
    visit("--score", "7 of 10", "--probe", "--yes")
    visit("--score", "8/10", "--yes")  # typed anew: it stands once
    found = {(one.support, one.probe, one.correct) for one in scores(file)}
    assert found == {("imitation", False, 8), ("spontaneous", True, 7)}
    assert file.read_text() == HERS


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--score", "21/20"], "21 correct of 20 cannot be"),
        (["--score", "well"], "Type it as in `17/20`"),
        (["--to", "tale"], "no step is called `tale`. There are `words`, `two words`"),
        (["--to", "sentence"], "practice-site extend finch-10 --to sentence"),
        (["--drop", "cop"], "Did you mean `cup`?"),
        (["--drop", "key,cow,cup,comb,coin"], "no word would be left"),
        (["--add", "Cow"], "practiced already"),
        (["--add", "dog"], "'dog' is pronounced /dɔɡ/, without /k/"),
        (["--add", "cape,clam"], "'clam' has /k/ in the cluster kl"),
        (["--next", "2026-12-03"], "must be after today"),
        (["--next", "soon"], "is no day"),
        (["--tried", "8/10"], "name it with `--to`"),
        (["--to", "on", "--tried-no-model"], "`--tried-no-model` goes with `--tried`: add it"),
        (["--next", "2026-12-14", "--probe"], "`--probe` goes with `--score`: add it"),
        (["--sound", "s"], "no program practices /s/"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_written(
    file: Path, options: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert visit(*options, "--yes") == 2
    assert told in capsys.readouterr().err
    assert file.read_text() == HERS
    assert scores(file) == ()


def test_stopped_before_the_file_is_written_the_next_command_writes_it(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--drop", "cup", "--yes")
    before = file.read_text()

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("builder.practice.visit.written.rewrite", stopped)
        assert visit("--score", "17/20", "--drop", "cow", "--yes") == 130
    assert file.read_text() == before
    capsys.readouterr()
    assert main(["rules"]) == 0
    assert "finch-10: a visit was stopped" in capsys.readouterr().err
    assert file.read_text() == before.replace("key, cow, comb", "key, comb")
    assert len(scores(file)) == 1
    for _ in range(2):
        assert visit("--undo", "--yes") == 0
    assert (file.read_text(), scores(file)) == (HERS, ())


def test_the_visit_that_was_stopped_typed_again_moves_no_second_step(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    back = HERS.replace("current: words", "current: two words")
    file.write_text(back)
    with monkeypatch.context() as patch:
        patch.setattr("builder.practice.visit.written.rewrite", stopped)
        assert visit("--to", "back", "--note", "tired", "--yes") == 130
    assert file.read_text() == back
    assert visit("--to", "on", "--yes") == 2
    assert "nothing else was done" in capsys.readouterr().err
    assert program_of(file, None).current_steps[0].name == "words"
    assert visit("--to", "on", "--yes") == 0


def test_times_are_fitted_where_a_sitting_would_be_too_short(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    step = "- {name: two words, level: phrase, items: [my key]}"
    long = step.replace(
        "items: [my key]", "rounds: [{times: 1}],\n     items: [my key, my cow, my cup, a key]"
    )
    file.write_text(
        HERS.replace("items: [my key, Grandpa's comb]", "items: [my key]").replace(step, long)
    )
    visit("--to", "two words", "--tried", "9/10", "--yes")
    said = capsys.readouterr().out
    assert "times instead of once" in said
    assert "[few-tries]" not in said
    assert "rounds: [{times: 1}]" not in file.read_text()


def test_each_new_word_gets_a_line_and_stands_at_its_own_position(file: Path) -> None:
    text = HERS.replace("sound: k", "sound: k\nposition: [initial, final]")
    text = text.replace(
        "words: [key, cow, cup, comb, coin]", "words: {initial: [key], final: [book]}"
    )
    file.write_text(text)
    visit("--add", "cow,duck", "--yes")
    words = program_of(file, None).written.words
    assert [item.word for item in words["initial"]] == ["key", "cow"]
    assert [item.word for item in words["final"]] == ["book", "duck"]


def test_a_word_that_stands_in_a_pair_already_comes_all_the_same(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pairs = "  - {name: pairs, level: word, contrast: [[cape, tape]]}\n  - {name: two words"
    file.write_text(HERS.replace("  - {name: two words", pairs))
    visit("--drop", "cow", "--add", "cape", "--yes")
    assert "1 word out, 1 in" in capsys.readouterr().out


def test_the_way_back_names_the_sound_of_a_client_with_two(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = HERS.replace("sound: k", "sound: s").replace(
        "[key, cow, cup, comb, coin]", "[sun, sea]"
    )
    file.with_name("finch-10-s.yaml").write_text(other)
    assert visit("--sound", "k", "--drop", "cow", "--yes") in (0, 1)
    (way,) = re.findall(r"`practice-site (visit .*?)` brings it back", capsys.readouterr().out)
    assert main([*way.split(), "--yes"]) == 0
    assert file.read_text() == HERS


def test_the_other_program_of_a_client_is_visited_next_and_does_not_differ(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = HERS.replace("sound: k", "sound: s").replace(
        "[key, cow, cup, comb, coin]", "[sun, sea]"
    )
    beside = file.with_name("finch-10-s.yaml")
    beside.write_text(other)
    visit("--sound", "k", "--next", "2026-12-21", "--yes")
    said = capsys.readouterr().out
    assert "[differs]" not in said
    assert "`practice-site visit finch-10 --sound s --next 2026-12-21` moves it too" in said
    beside.write_text(other.replace("visit: 2026-12-14", "visit: 2027-03-01"))
    capsys.readouterr()
    visit("--sound", "k", "--next", "2026-12-22", "--yes")
    assert "finch-10-s.yaml still has the visit on 2027-03-01" in capsys.readouterr().out
    main(["check", "finch-10"])
    assert "differ in `visit`" in capsys.readouterr().out


TWO = HERS.replace("sound: k", "sound: s").replace("[key, cow, cup, comb, coin]", "[sun, sea]")


def test_of_a_client_with_two_sounds_each_is_visited_in_turn_and_the_visit_typed_once(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    beside = file.with_name("finch-10-s.yaml")
    beside.write_text(TWO)
    asked = answers(monkeypatch, *[""] * 4, "12-21", "tired", "y", *[""] * 4, "y")
    visit()
    assert "moves it too" not in capsys.readouterr().out
    assert sum("Next visit" in question for question in asked) == 1
    for one in (file, beside):
        assert str(program_of(one, None).written.practice.visit) == "2026-12-21"
    with opened(Workspace(file.parent.parent).hidden) as log:
        assert len(log.visit_notes()) == 1
    assert main(["visit", "finch-10", "--to", "on", "--yes"]) == 2
    assert "Add `--sound" in capsys.readouterr().err


def test_a_day_without_a_year_is_the_next_one() -> None:
    today = datetime.date(2026, 12, 3)
    days = [visit_checked.day_of(text, today) for text in ("12-14", "01-04", "12-03", "2027-02-01")]
    assert list(map(str, days)) == ["2026-12-14", "2027-01-04", "2027-12-03", "2027-02-01"]


def test_a_visit_that_is_moved_and_one_that_is_today_are_told(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(HERS + "pause: [2026-12-14..2026-12-18]\n")
    visit("--next", "12-14", "--yes")
    assert "2026-12-14 falls into a pause: the visit is written for 2026-12-21" in (
        capsys.readouterr().out
    )
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1797811200")  # 2026-12-21
    answers(monkeypatch)
    visit()
    assert "No visit is to come: 2026-12-21 is written" in capsys.readouterr().out
    asked = answers(monkeypatch, "", "", "", "", "", "")
    visit()
    assert "(the one written is 2026-12-21)" in asked[4]
    assert main(["print", "finch-10"]) == 1
    assert "the visit is today" in capsys.readouterr().err
    assert main(["week"]) == 0
    assert "Visit today, so left out: finch-10." in capsys.readouterr().out


def test_a_visit_that_is_entered_late_keeps_its_day(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = ("--score", "17/20", "--to", "on", "--tried", "8/10", "--next", "12-21", "--yes")
    assert visit("--day", "12-01", *told) == 0
    assert {score.date for score in scores(file)} == {datetime.date(2026, 12, 1)}
    assert "'words', with this score: " in capsys.readouterr().out
    program = program_of(file, None)
    assert str(program.written.baseline and program.written.baseline.date) == "2026-12-01"
    assert str(program.written.practice.start) == "2026-12-04", "the sheet is printed today"


@pytest.mark.parametrize(
    ("day", "wrong"),
    [
        pytest.param(
            "2026-12-04", "(2026-12-04) must be today or one of the 60 days before", id="to come"
        ),
        pytest.param("12-04", "(2025-12-04) must be today", id="a year ago"),
        ("soon", "`soon` is no day"),
    ],
)
def test_the_day_of_a_visit_is_today_or_past(
    file: Path, day: str, wrong: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert visit("--day", day, "--score", "17/20", "--yes") == 2
    assert wrong in capsys.readouterr().err
    assert not scores(file)


def test_a_score_in_the_place_of_another_is_told(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    visit("--score", "15/20", "--yes")
    visit("--score", "17/20", "--yes")
    assert "It takes the place of 15 of 20, typed before for 2026-12-03." in capsys.readouterr().out


def test_extend_takes_a_step_by_name(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["extend", "finch-10", "--to", "sentences"]) == 0
    assert "'sentences' added" in capsys.readouterr().out
    assert main(["extend", "finch-10", "--to", "words"]) == 2
    assert "is a word step" in capsys.readouterr().err


def test_make_builds_and_prints_once_no_fault_stands(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    made: list[tuple[str, list[str]]] = []

    def making(name: str) -> Callable[[argparse.Namespace], int]:
        def run(args: argparse.Namespace) -> int:
            made.append((name, args.files))
            return 0

        return run

    for name in ("build", "print"):
        monkeypatch.setattr(f"builder.commands.{name}_command.run", making(name))
    assert visit("--drop", "cow", "--yes", "--make") == 0
    assert made == [("build", ["finch-10"]), ("print", ["finch-10"])]
    assert "Still to do: publish" in capsys.readouterr().out
    answers(monkeypatch, "n")
    assert visit("--add", "couch", "--make") == 0
    file.write_text(HERS.replace("current: words", "current: two words"))
    assert visit("--drop", "comb", "--yes", "--make") == 1
    assert "Still to do: 1 fault to mend" in capsys.readouterr().out
    assert len(made) == 2


def test_sentences_with_two_words_follow_the_words_too(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ours, hers = "My key is by the cup.", "The cup is for Grandpa's comb."
    step = f"  - {{name: two in a sentence, level: sentence, items: [{ours}, {hers}]}}\n"
    file.write_text(HERS + step)
    visit("--drop", "cup", "--add", "couch", "--yes")
    assert f"two in a sentence: still with a word that is out, yours to change: {hers}" in (
        capsys.readouterr().out
    )
    program = program_of(file, None)
    words = {item.text for item in program.steps[0].items}
    lines = [item.text for item in program.steps[2].items]
    assert ours not in lines
    assert hers in lines
    said = [{w for w in re.findall("[a-z]+", line.lower()) if w in words} for line in lines[1:]]
    assert any("couch" in both for both in said)
    assert all(len(both) == 2 for both in said)
