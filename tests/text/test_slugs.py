from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.text.slugs import distinct, slug_of


@pytest.mark.parametrize(
    ("text", "name"),
    [("Two words!", "two-words"), ("café", "cafe"), ("don't", "dont"), ("a  -  b", "a-b")],
)
def test_names_for_addresses(text: str, name: str) -> None:
    assert slug_of(text) == name


@given(st.text())
def test_any_text_has_a_name(text: str) -> None:
    name = slug_of(text)
    assert name
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert not name.startswith("-")
    assert not name.endswith("-")


@given(st.lists(st.sampled_from(["a", "b", "a-2", "a-3"])))
def test_doubles_are_numbered(names: list[str]) -> None:
    assert len(set(distinct(names))) == len(names)
