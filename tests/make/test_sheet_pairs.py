"""The handout of a step with contrast pairs: both words of each, with two pictures or with none."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from builder.model.plan import Picture, Plan, PlannedItem
from builder.workspace.store import Store
from tests.make.test_sheets import clinic, items, on_one_page, opened, pdf, plan_of, read
from tests.support import plans

PAIRS = (
    ("cat", "bat"),
    ("coat", "goat"),
    ("key", "tea"),
    ("candle", "handle"),
    ("corn", "horn"),
    ("cow", "how"),
    ("kitchen", "chicken"),
    ("cake", "shake"),
    ("car", "jar"),
    ("cane", "chain"),
)


def with_pairs(
    single: tuple[PlannedItem, ...],
    pairs: tuple[tuple[PlannedItem, PlannedItem], ...],
    **changes: Any,
) -> Plan:
    """A plan whose one step has items, pairs, and the first words of the pairs as items too."""
    plan = plan_of([])
    step = replace(
        plan.programs[0].steps[1],
        items=(*single, *(one for one, _ in pairs)),
        others=tuple(other for _, other in pairs),
        pairs=tuple((one.id, other.id) for one, other in pairs),
    )
    shown = {item.picture.key: item.picture for item in step.said if item.picture}
    program = replace(plan.programs[0], steps=(step,))
    return replace(plan, programs=(program,), **{"pictures": (*shown.values(),), **changes})


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("number", [1, 3, 6, 10])
def test_both_words_of_a_pair_are_printed(paper: str, number: int, store: Store) -> None:
    words = items([word for pair in PAIRS[:number] for word in pair])
    single = tuple(replace(item, id=item.text) for item in items(["kite", "cup"]))
    pairs = tuple(zip(words[::2], words[1::2], strict=True))
    data = pdf(with_pairs(single, pairs, clinic=clinic(paper)), store)
    text = read(data)
    assert on_one_page(data, paper)
    for one, other in PAIRS[:number]:
        assert f"{one} · {other}" in text
        assert len(re.findall(rf"\b{one}\b", text)) == 1, "not once more by itself"
    assert "cup" in text


def test_a_pair_is_known_by_both_its_words(store: Store) -> None:
    key, tea, bee = items(["key", "tea", "bee"])
    text = read(pdf(with_pairs((), ((key, tea), (replace(key, id="again"), bee))), store))
    assert "key · tea" in text
    assert "key · bee" in text


@pytest.mark.parametrize(
    ("pictured", "printed"),
    [
        pytest.param(("one", "other"), 2, id="both"),
        pytest.param(("one",), 0, id="one would not tell whose it is"),
    ],
)
def test_pictures_of_a_pair(
    pictured: tuple[str, ...], printed: int, store: Store, tmp_path: Path
) -> None:
    one, other = (plans.item(name, ((name, False),)) for name in ("one", "other"))
    shown = {name: own(tmp_path, name) for name in pictured}
    pair = (replace(one, picture=shown["one"]), replace(other, picture=shown.get("other")))
    data = pdf(with_pairs((), (pair,), emblem=None, code=None), store)
    with opened(data) as document:
        assert len(list(document[0].get_objects(filter=[3]))) == printed  # 3: images


def own(folder: Path, name: str) -> Picture:
    """A picture of the client's own, another color for each name."""
    file = folder / f"{name}.png"
    Image.new("RGB", (300, 200), (200, 40 * len(name), 40)).save(file)
    return Picture(name.ljust(32, "0"), f"pictures/{name}.webp", "own", str(file), name)
