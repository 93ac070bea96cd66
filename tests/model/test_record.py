from __future__ import annotations

import datetime
import json
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel, ValidationError

from builder.model.record import SLUG, Count, Sitting, Tally, Trial, counts_by_step, union
from builder.workspace import addresses
from tests.support.node import node
from tests.support.places import TESTS
from tests.support.typescript import Types, mirrored

HERE = TESTS
COPIES: list[dict[str, Any]] = json.loads((HERE / "js" / "copies.json").read_text("utf-8"))
EXAMPLE: dict[str, Any] = json.loads((HERE / "js" / "sitting.json").read_text("utf-8"))


def changed(**parts: Any) -> dict[str, Any]:
    return EXAMPLE | parts


def test_the_example_that_the_modules_write_is_read() -> None:
    sitting = Sitting.model_validate(EXAMPLE)
    zone = datetime.timezone(datetime.timedelta(hours=-6))
    assert sitting.started == datetime.datetime(2026, 12, 7, 8, 15, 4, tzinfo=zone)
    assert [t.mark for t in sitting.trials] == ["clear", "not_tried"]
    assert sitting.model_dump(mode="json") == EXAMPLE


@pytest.mark.parametrize(
    "parts",
    [
        pytest.param({"start": 1764806400}, id="a number is no date"),
        pytest.param({"start": "1764806400"}, id="a number as text is no date either"),
        pytest.param({"start": "2026-12-07T08:15:04"}, id="a start without its zone"),
        pytest.param({"start": "2026-02-31T08:15:04-06:00"}, id="a day that does not exist"),
        pytest.param({"site": "heron-07"}, id="a code in place of the slug"),
        pytest.param({"id": "1"}, id="an id that is not random"),
        pytest.param({"record": 2}, id="a version of the future"),
        pytest.param({"name": "Kim"}, id="a key that nobody agreed on"),
        pytest.param({"helper": "grandma Jo"}, id="a helper by name"),
        pytest.param({"note": "x" * 281}, id="a note that is too long"),
        pytest.param(
            {"trials": [EXAMPLE["trials"][0] | {"mark": "good"}]}, id="a mark of another kind"
        ),
        pytest.param({"trials": [EXAMPLE["trials"][0] | {"ms": -1}]}, id="before the start"),
        pytest.param(
            {"tallies": [EXAMPLE["tallies"][0] | {"slipped": 23}]}, id="more slips than targets"
        ),
    ],
)
def test_what_is_no_record_is_refused(parts: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        Sitting.model_validate(changed(**parts))


def test_slugs_of_the_workspace_are_slugs_of_records() -> None:
    assert len(addresses.SLUG_ALPHABET) == 32
    for letter in addresses.SLUG_ALPHABET:
        assert re.fullmatch(SLUG, letter * addresses.SLUG_LENGTH)
    assert not any(re.fullmatch(SLUG, letter * 13) for letter in "ilou")


@pytest.mark.parametrize("model", [Sitting, Trial, Tally], ids=lambda m: m.__name__)
def test_types_of_the_modules_are_the_same(model: type[BaseModel]) -> None:
    fields = {name: field.rebuild_annotation() for name, field in model.model_fields.items()}
    types = Types(HERE.parent / "site_templates" / "types.d.ts")
    assert types.shape(model.__name__) == mirrored(fields)
    assert list(types.interfaces[model.__name__]) == list(fields)


@pytest.mark.slow
def test_the_example_has_the_type_that_the_modules_use(tmp_path: Path) -> None:
    """tsc reads the literal itself, so that "clear" is a mark and not just any text."""
    compiler = str(HERE / "js" / "node_modules" / "typescript" / "bin" / "tsc")
    types = (HERE.parent / "site_templates" / "types").as_posix()
    for name, value in (("right", EXAMPLE), ("wrong", changed(time="noon"))):
        head = f'import type {{ Sitting }} from "{types}";\n'
        (tmp_path / f"{name}.ts").write_text(
            f"{head}export const s: Sitting = {json.dumps(value)};"
        )
    command = [node(), compiler, "--noEmit", "--strict", "--skipDefaultLibCheck"]
    done = subprocess.run(
        [*command, "right.ts", "wrong.ts"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    (error,) = (line for line in done.stdout.splitlines() if "error TS" in line)
    assert error.startswith("wrong.ts(2,")


def test_union_keeps_each_sitting_once_and_the_fuller_copy() -> None:
    full = Sitting.model_validate(EXAMPLE)
    early = Sitting.model_validate(changed(trials=EXAMPLE["trials"][:1]))
    before = Sitting.model_validate(changed(id="0" * 32, start="2026-12-06T18:00:00-06:00"))
    assert union([full, early, before, full]) == (before, full)


@pytest.mark.parametrize("case", COPIES, ids=lambda case: case["name"])
def test_of_copies_of_a_sitting_the_same_is_kept_as_on_the_tablet(case: dict[str, Any]) -> None:
    given = [
        Sitting.model_validate(
            changed(
                trials=EXAMPLE["trials"][: copy["trials"]],
                tallies=[
                    EXAMPLE["tallies"][0] | {"targets": targets, "slipped": slipped}
                    for targets, slipped in copy.get("tallies", ())
                ],
                note=copy["note"],
                done=copy.get("done", 0),
                end=copy.get("end", ""),
            )
        )
        for copy in case["copies"]
    ]
    assert union(given) == (given[case["kept"]],)


def test_an_item_said_once_more_after_a_miss_is_no_second_try() -> None:
    trial = EXAMPLE["trials"][0]
    trials = [trial | {"mark": "missed"}, trial | {"repeat": True}]
    sitting = Sitting.model_validate(changed(trials=trials, tallies=[]))
    assert counts_by_step(sitting) == {"k-words": Count(0, 1)}


def test_a_word_chosen_of_two_is_no_try_of_its_step() -> None:
    # A listener who guesses is right half of the time, and one word of the two has no target.
    trial = EXAMPLE["trials"][0]
    trials = [trial, trial | {"chosen": "key", "heard": "key"}]
    trials += [trial | {"item": "tea", "mark": "missed", "chosen": "tea", "heard": "key"}]
    trials += [trial | {"item": "tea", "round": "natural-contrast-imitation"}]
    sitting = Sitting.model_validate(changed(trials=trials, tallies=[]))
    assert counts_by_step(sitting) == {"k-words": Count(1, 1)}


def test_a_record_of_before_tallies_is_read() -> None:
    old = {key: value for key, value in EXAMPLE.items() if key != "tallies"}
    assert Sitting.model_validate(old).tallies == ()


def counted(*tallies: tuple[int | None, int | None]) -> dict[str, Count]:
    """Of a sitting with these tallies (targets, slipped) and no trials."""
    base = EXAMPLE["tallies"][0]
    made = [base | {"targets": targets, "slipped": slipped} for targets, slipped in tallies]
    return counts_by_step(Sitting.model_validate(changed(trials=[], tallies=made)))


@pytest.mark.parametrize(
    ("tallies", "count"),
    [
        pytest.param([(22, 3)], Count(19, 22), id="each target is a try"),
        pytest.param([(22, 0)], Count(22, 22), id="none slipped, as the helper said"),
        pytest.param([(22, None)], None, id="nobody confirmed: no figure, and no 100 %"),
        pytest.param([(None, 2)], None, id="slips of nobody knows how many"),
        pytest.param([(0, 0)], None, id="nothing was said"),
        pytest.param([(20, 2), (10, 1), (9, None)], Count(27, 30), id="once unconfirmed"),
    ],
)
def test_targets_of_a_text_count_as_tries(
    tallies: list[tuple[int | None, int | None]], count: Count | None
) -> None:
    assert counted(*tallies).get("k-a-text") == count


def test_trials_and_tallies_make_figures_alike() -> None:
    found = counts_by_step(Sitting.model_validate(EXAMPLE))
    assert found == {"k-words": Count(1, 1), "k-a-text": Count(19, 22)}
