"""Each figure from sittings of a plan that a reader can count by hand."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any

import pytest

from builder.model.practice_view import PracticeView, RoundView
from builder.model.record import Sitting, union
from builder.practice.figures.agreement import Agreement
from builder.practice.figures.beside import beside_each
from builder.practice.figures.intervals import Rate
from builder.practice.figures.pairs import Told, pairs_told
from builder.practice.figures.practiced import Days, Dose, days_practiced, dose
from builder.practice.figures.rates import by_day, by_role, by_step, failing, thirds
from builder.practice.figures.score import Score
from builder.practice.figures.tries import Tries, tries_of, tries_on_paper
from builder.practice.log.counts import counted
from builder.practice.log.paper import PaperCount
from tests.support.from_home import EXAMPLE, SITE, VIEW, sitting, step, trials

PAIRS = (("key", "tea"), ("cow", "tea"), ("cow", "pow"), ("cup", "pup"))
WORDS = ("key", "cow", "tea", "pow", "cup", "pup")


def with_pairs() -> PracticeView:
    rounds = (RoundView("natural-contrast", "natural", "spontaneous", 1, True),)
    (program,) = VIEW.programs
    own = replace(step("k-words", WORDS), pairs=PAIRS, rounds=rounds)
    return replace(VIEW, programs=(replace(program, steps=(own,)),))


def known(site: str, plan: str) -> PracticeView | None:
    return VIEW if (site, plan) == (SITE, VIEW.digest) else None


def day(number: int) -> datetime.date:
    return datetime.date(2026, 12, number)


def of(*several: list[dict[str, Any]], number: int = 1, tallies: Any = ()) -> Sitting:
    return sitting(number, trials=[t for some in several for t in some], tallies=tallies)


def marked(marks: str, **changes: Any) -> list[dict[str, Any]]:
    """Tries of a word: + clear, ~ almost, - missed, 0 not tried."""
    named = {"+": "clear", "~": "almost", "-": "missed", "0": "not_tried"}
    return [trials(1, mark=named[mark], **changes)[0] for mark in marks]


def told(*sittings: Sitting) -> tuple[Tries, ...]:
    return tries_of(sittings, known)


def test_what_is_no_try_counts_nowhere() -> None:
    one = of(
        marked("+~-00"),
        marked("+++", repeat=True),
        marked("+-", chosen="key", heard="key"),
        marked("++", round="natural-contrast-imitation"),
    )
    assert by_step(told(one)) == {("k-words", "imitation"): Rate(1, 3)}


def test_the_support_that_was_given_counts_whatever_the_round_planned() -> None:
    planned = "3-natural-spontaneous"
    one = of(
        marked("++-", round=planned, support="spontaneous"),
        marked("+", round=planned, support="imitation"),
    )
    assert by_step(told(one)) == {
        ("k-words", "spontaneous"): Rate(2, 3),
        ("k-words", "imitation"): Rate(1, 1),
    }


def test_targets_of_a_text_are_tries_without_a_model_once_confirmed() -> None:
    unconfirmed = EXAMPLE["tallies"][0] | {"slipped": None}
    found = told(of(tallies=[*EXAMPLE["tallies"], unconfirmed]))
    assert [(one.level, one.item) for one in found] == [("reading", "")]
    assert by_step(found) == {("k-a-text", "spontaneous"): Rate(19, 22)}


def test_a_try_whose_plan_is_lost_has_no_level() -> None:
    (one,) = tries_of([of(marked("+"))], lambda site, plan: None)
    assert (one.level, one.step) == (None, "k-words")


def test_words_that_fail_come_worst_first_and_not_on_three_tries() -> None:
    one = of(
        marked("+---", item="key"),
        marked("++--", item="cow"),
        marked("----", item="cup", support="spontaneous"),
        marked("---", item="cave"),
        marked("-----", item="coin"),
    )
    assert failing(told(one)) == (
        ("k-words", "coin", Rate(0, 5)),
        ("k-words", "cup", Rate(0, 4)),
        ("k-words", "key", Rate(1, 4)),
    )


def test_sittings_of_a_day_are_one_day() -> None:
    later = of(marked("--"), number=2)
    evening = sitting(3, start="2026-12-01T18:00:00-06:00", trials=marked("+"), tallies=[])
    found = by_day(told(later, of(marked("+-")), evening))
    assert list(found.items()) == [(day(1), Rate(2, 3)), (day(2), Rate(0, 2))]


def test_a_tired_client_is_seen_and_a_harder_round_is_not_taken_for_it() -> None:
    tired = thirds(told(of(marked("+" * 20 + "-" * 10))))
    assert tired
    assert (tired.first, tired.last, tired.tired) == (Rate(10, 10), Rate(0, 10), True)
    assert str(tired) == ("first third 10 of 10 (100 %), last 0 of 10 (0 %): lower toward the end")
    warmed_up = thirds(told(of(marked("-" * 10 + "+" * 20))))
    assert str(warmed_up).endswith("last 10 of 10 (100 %): higher toward the end")
    harder = thirds(told(of(marked("+" * 15), marked("-" * 15, support="spontaneous"))))
    assert harder
    assert (harder.first, harder.last, harder.tired) == (Rate(5, 10), Rate(5, 10), False)
    assert thirds(told(of(marked("+-+-+")))) is None


def test_pairs_have_a_figure_of_their_own_and_those_that_share_a_word_one() -> None:
    view = with_pairs()
    made = [("key", "key"), ("key", "tea"), ("tea", "tea"), ("cow", "tea"), ("key", "tea")]
    made += [("cup", "cup"), ("pup", "cup"), ("pup", "pup"), ("cup", "cup")]
    rows = [
        marked("+" if chosen == heard else "-", item=chosen, chosen=chosen, heard=heard)
        for chosen, heard in made
    ]
    again = marked("-", item="cup", chosen="cup", heard="pup", repeat=True)
    one = replace_plan(of(*rows, again), view)
    shared, cup = pairs_told([one], lambda site, plan: view)
    assert shared.words == ("key", "cow", "tea", "pow")
    assert shared.kept == Rate(2, 5)
    assert shared.confused == (("key", "tea", 2), ("cow", "tea", 1))
    assert (cup.words, cup.kept, cup.confused) == (("cup", "pup"), Rate(3, 4), (("pup", "cup", 1),))
    assert not by_step(tries_of([one], lambda site, plan: view))


def replace_plan(one: Sitting, view: PracticeView) -> Sitting:
    return one.model_copy(update={"plan": view.digest})


def test_days_practiced_of_those_planned() -> None:
    ticked = PaperCount(SITE, day(3), "evening", VIEW.digest, "", 0, 0)
    sittings = [
        of(marked("-"), number=1),
        of(marked("+", chosen="key", heard="key"), number=2),
        of(marked("00"), number=4),  # opened, and nothing tried
        of(tallies=[EXAMPLE["tallies"][1]], number=5),  # a talk that nobody counted
    ]
    planned = [day(n) for n in (1, 3, 4, 6)]
    found = days_practiced(sittings, [ticked], planned)
    assert found == Days(2, 4, 2)
    assert str(found) == "practiced on 2 of 4 planned days, and on 2 more"
    assert str(Days(1, 1, 0)) == "practiced on 1 of 1 planned day"
    assert str(Days(0, 0, 1)) == "practiced on 1 day, none of them planned"
    assert "missed" not in str(days_practiced([], [], planned))


def test_tries_a_sitting_and_in_all_with_those_on_paper() -> None:
    paper = PaperCount(SITE, day(2), "evening", VIEW.digest, "k-words", 17, 20)
    both = counted([of(marked("+-0"), tallies=EXAMPLE["tallies"])], [paper])
    assert dose(both) == Dose(44, 2)
    assert str(dose(both)) == "44 tries in 2 sittings, about 22 in each"
    assert (str(dose([])), dose([]).each) == ("no tries", 0)


def test_counts_on_paper_are_tries_of_a_step_that_nobody_saw() -> None:
    paper = PaperCount(SITE, day(2), "evening", VIEW.digest, "k-words", 17, 20)
    several = replace(paper, time="morning", step="")
    lost = replace(paper, day=day(3), plan="0" * 32)
    both = counted([of(marked("+-0"))], [paper, several, lost])
    found = tries_on_paper(both, known)
    assert [(one.day, one.level) for one in found] == [(day(2), "word"), (day(3), None)]
    assert by_step(found) == {("k-words", None): Rate(34, 40)}


@pytest.mark.parametrize(
    ("kept", "apart"), [((5, 10), False), ((8, 10), False), ((9, 10), True), ((15, 20), True)]
)
def test_a_pair_is_told_apart_once_guessing_does_not_explain_it(
    kept: tuple[int, int], apart: bool
) -> None:
    # Wilson's intervals begin at .490 (8 of 10), .596 (9 of 10) and .531 (15 of 20).
    assert Told("k-words", ("key", "tea"), Rate(*kept), ()).apart == apart


def test_two_who_heard_the_same_tries() -> None:
    assert str(Agreement(13, 5, 0, 2)) == (
        "home marked 18 of 20 clear where you heard 13; the same on 15 of 20 (75 %)"
    )


@pytest.mark.parametrize(
    ("home", "hers", "sentence"),
    [
        ((18, 20), (13, 20), "18 of 20 clear where you heard 13: too few tries to call that a di"),
        ((58, 60), (13, 20), "58 of 60 (96.7 %) clear where you heard 13 of 20 (65 %): home is mo"),
        ((10, 40), (26, 40), "10 of 40 clear where you heard 26: home is stricter than you"),
        ((17, 20), (16, 20), "17 of 20 clear where you heard 16: about the same"),
    ],
)
def test_home_beside_her_score(home: tuple[int, int], hers: tuple[int, int], sentence: str) -> None:
    clear, tries = home
    sitting_of_home = of(marked("+" * clear + "~" * (tries - clear)))
    (found,) = beside_each(told(sitting_of_home), Score(day(14), "k-words", "imitation", *hers))
    assert str(found).startswith(f"home marked {sentence}")


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"support": "spontaneous"}, id="another support"),
        pytest.param({"step": "k-phrases"}, id="another step"),
        pytest.param({"date": day(16)}, id="more than two weeks later"),
        pytest.param({"probe": True}, id="words that are not practiced"),
    ],
)
def test_home_stands_beside_nothing_but_the_same(changes: dict[str, Any]) -> None:
    tries = told(of(marked("++++")))
    score = Score(day(15), "k-words", "imitation", 3, 4)
    assert beside_each(tries, score)
    assert beside_each(tries, replace(score, **changes)) == ()


def test_what_cannot_be_is_no_figure() -> None:
    for clear, tries in ((0, 0), (3, 2), (-1, 2)):
        with pytest.raises(ValueError, match="no rate"):
            Rate(clear, tries)
        with pytest.raises(ValueError, match="no rate"):
            Score(day(1), "k-words", "imitation", clear, tries)
    with pytest.raises(ValueError, match="no tries"):
        Agreement(0, 0, 0, 0)


def test_two_tablets_and_paper_of_a_client_are_one_record() -> None:
    """The same evening in two homes is two sittings of one day; a sitting sent twice is one."""

    def marks(helper: str, text: str, number: int, id_: str) -> Sitting:
        one = of(marked(text), number=number)
        return one.model_copy(update={"helper": helper, "id": id_ * 32, "time": "evening"})

    home = marks("home", "++++++++--", 2, "a")
    other = marks("other home", "+++++-----", 2, "b")
    early = marks("other home", "+++++", 2, "b")
    sittings = union([home, early, other, home])
    papers = [
        PaperCount(SITE, day(2), "evening", VIEW.digest, "k-words", 7, 10, "school"),
        PaperCount(SITE, day(2), "evening", VIEW.digest, "k-words", 1, 10, "home"),
        PaperCount(SITE, day(3), "morning", VIEW.digest, "k-words", 4, 10),
    ]
    counts = counted(sittings, papers)
    assert dose(counts) == Dose(40, 4)
    assert days_practiced(sittings, papers, [day(1), day(2), day(3)]) == Days(2, 3, 0)
    tries = (*tries_of(sittings, known), *tries_on_paper(counts, known))
    assert by_role(tries) == {
        ("home", "tablet"): Rate(8, 10),
        ("other home", "tablet"): Rate(5, 10),
        ("school", "paper"): Rate(7, 10),
        ("", "paper"): Rate(4, 10),
    }


def test_each_who_listens_stands_beside_her_score_alone() -> None:
    kind = of(marked("+" * 58 + "--"))
    strict = of(marked("+" * 12 + "-" * 8), number=2).model_copy(update={"helper": "school"})
    score = Score(day(14), "k-words", "imitation", 13, 20)
    home, school = beside_each(told(kind, strict), score)
    assert str(home) == (
        "home marked 58 of 60 (96.7 %) clear where you heard 13 of 20 (65 %): home is more lenient "
        "than you"
    )
    assert str(school) == "school marked 12 of 20 clear where you heard 13: about the same"
    assert beside_each(told(kind), replace(score, probe=True)) == ()
    assert str(Agreement(13, 5, 0, 2, ("other home",))).startswith("the other home marked 18 of 20")
