"""Where the client's animal looks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.make.drawings import emblem, svg
from builder.model.plan import Picture
from builder.site.blocks.facing import RIGHT, facing

FOX = Picture("key", "pictures/a.svg", "drawing", "1F98A", "fox")


# Seen on the drawings themselves.
@pytest.mark.parametrize(
    ("code", "side"), [("otter-12", "left"), ("badger-03", "left"), ("raccoon-01", "right")]
)
def test_a_drawing_of_the_set_looks_as_it_is_drawn(code: str, side: str) -> None:
    drawing = emblem(code)
    assert drawing
    assert facing(replace(FOX, source=drawing.code)) == side


def test_our_own_look_to_the_right_and_a_clients_own_to_the_left() -> None:
    assert facing(replace(FOX, kind="ours")) == "right"
    assert facing(replace(FOX, kind="own")) == "left"


def test_every_drawing_that_is_named_is_there() -> None:
    assert [code for code in RIGHT if not svg(code).is_file()] == []
