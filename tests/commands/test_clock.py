from __future__ import annotations

import datetime

import pytest

from builder.commands.clock import today
from builder.problems import UsageError
from tests.support.day import TODAY


def test_the_day_of_tests_is_the_one_that_is_told() -> None:
    assert today() == TODAY


def test_without_a_word_it_is_the_day_of_this_computer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    before = datetime.date.today()
    assert before <= today() <= datetime.date.today()


@pytest.mark.parametrize("told", ["tomorrow", "9" * 30, "1.5"])
def test_what_is_no_number_of_seconds(told: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", told)
    with pytest.raises(UsageError, match="SOURCE_DATE_EPOCH"):
        today()
