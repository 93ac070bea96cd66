from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.text.slugs import distinct, numbered, slug_of


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


def test_many_doubles_are_numbered_in_one_pass_over_the_numbers(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """However many there are: the work must not grow with their square."""
    tried: list[str] = []

    def watched(name: str) -> Iterator[str]:
        for one in numbered(name):
            tried.append(one)
            yield one

    monkeypatch.setattr("builder.text.slugs.numbered", watched)
    assert distinct(["a"] * 300)[-1] == "a-300"
    assert len(tried) <= 600
