from __future__ import annotations

import pytest

from builder.commands.clips_command import Row, _table
from tests.support import plans


@pytest.mark.parametrize(
    ("alone", "end"), [(False, "well enough: the helper does"), (True, "well enough")]
)
def test_the_table_says_who_says_what_no_voice_says(alone: bool, end: str) -> None:
    row = Row("egret-21", plans.clip("ring"), None, error=False, alone=alone)
    assert _table([row]).splitlines()[1].endswith(f"no voice says it {end}")
