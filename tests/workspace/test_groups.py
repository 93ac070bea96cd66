"""Groups as they stand in a clinic file, whatever else it holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.workspace.groups import codes_of_group, expanded, groups_in, members


@pytest.mark.parametrize(
    ("text", "groups"),
    [
        pytest.param(
            "groups: {tuesday: [wren-01, finch-02]}", {"tuesday": ["wren-01", "finch-02"]}
        ),
        pytest.param("groups: {pair: wren-01}", {"pair": ["wren-01"]}, id="one code"),
        pytest.param("groups:\n  no: [wren-01]\n", {"no": ["wren-01"]}, id="no truth values"),
        pytest.param("groups: [wren-01]", {}, id="no table"),
        pytest.param("groups: {tuesday: [[wren-01], {a: b}]}", {"tuesday": []}, id="no texts"),
        pytest.param("groups: {tuesday: [wren-01", {}, id="no YAML"),
        pytest.param("", {}, id="nothing"),
        pytest.param("[" * 5000, {}, id="nested too deep"),
    ],
)
def test_what_is_read(tmp_path: Path, text: str, groups: dict[str, list[str]]) -> None:
    file = tmp_path / "clinic.yaml"
    file.write_text(text)
    assert groups_in(str(file)) == groups


@pytest.mark.parametrize("name", ["wren-01", "programs/wren-01.yaml", "../x", "Tuesday", ""])
def test_what_is_no_name_of_a_group_opens_no_file(name: str) -> None:
    assert members(name, "/nowhere") == []
    assert expanded([name, name], "/nowhere") == [name]


def test_a_group_that_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match=r"there is no such group\. Groups stand in `clinic.yaml`"):
        codes_of_group("tuesday", str(tmp_path))
