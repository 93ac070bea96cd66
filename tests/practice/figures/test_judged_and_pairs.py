from __future__ import annotations

import pytest

from builder.model.record import Mark, Sitting, Trial
from builder.practice.figures.intervals import Rate
from builder.practice.figures.own_judgment import Judged, judged
from builder.practice.figures.practiced import Dose, pairs_alone
from builder.progress.texts import judged_told
from tests.support.from_home import sitting


def test_a_sitting_of_pairs_alone_is_told_beside_the_others() -> None:
    made = sitting(1)
    one = next(trial for trial in made.trials if trial.counts)
    pair = one.model_copy(update={"chosen": one.item, "heard": one.item})
    alone, mixed = (
        made.model_copy(update={"trials": trials, "tallies": ()})
        for trials in ((pair,), (pair, one))
    )
    assert pairs_alone([alone, mixed, made]) == 1
    assert str(Dose(168, 3, 3)) == (
        "168 tries in 3 sittings, about 56 in each; pairs alone in 3 sittings"
    )


def heard_and_judged(*pairs: tuple[Mark, Mark | None]) -> Sitting:
    made = sitting(1)
    one = next(trial for trial in made.trials if trial.counts)
    trials: list[Trial] = [
        one.model_copy(update={"mark": mark, "own": own, "repeat": None}) for mark, own in pairs
    ]
    return made.model_copy(update={"trials": tuple(trials)})


@pytest.mark.parametrize(
    ("pairs", "clear", "other", "told"),
    [
        (
            [("clear", "clear"), ("clear", "missed"), ("missed", "clear"), ("missed", "almost")],
            (1, 2),
            (1, 2),
            "Judged right by the client: where the helper heard clear 1 of 2, "
            "where the helper heard not clear 1 of 2.",
        ),
        (
            [("clear", "clear"), ("clear", None), ("not_tried", "clear")],
            (1, 1),
            None,
            "Judged right by the client: where the helper heard clear 1 of 1.",
        ),
        ([("clear", None)], None, None, ""),
    ],
)
def test_only_what_the_client_judged_counts_and_almost_is_not_clear(
    pairs: list[tuple[Mark, Mark | None]],
    clear: tuple[int, int] | None,
    other: tuple[int, int] | None,
    told: str,
) -> None:
    one = heard_and_judged(*pairs)
    found = judged([one], {trial.step for trial in one.trials})
    expected = (Rate(*pair) if pair else None for pair in (clear, other))
    assert (found.clear, found.other) == (*expected,)
    assert judged_told(found) == told
    assert judged([one], {"another step"}) == Judged(None, None)
