"""Clients and files as they are typed, from anywhere in the practice folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from builder.commands.paths import file_of, files_of
from builder.problems import UsageError

PROGRAMS = {
    "programs/wren-01.yaml": "wren-01",
    "programs/wren-01-s.yaml": "wren-01",
    "programs/lark-02.yml": "lark-02",
    "programs/examples/heron-07.yaml": "heron-07",
    "programs/examples/lark-02.yaml": "lark-02",
}


@pytest.fixture(params=[".", "programs", "public/deep"])
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Path:
    """A practice folder, seen from several of its folders."""
    (tmp_path / "mkdocs.yml").write_text("")
    for name, code in PROGRAMS.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(f"client: {code}\n")
    (tmp_path / "programs" / "clinic.yaml").write_text("clinic: 1\n")
    (tmp_path / "programs" / "wren-01").mkdir()  # the pictures of a client
    (tmp_path / request.param).mkdir(parents=True, exist_ok=True)
    monkeypatch.chdir(tmp_path / request.param)
    return tmp_path


def found(root: Path, *names: str) -> list[str]:
    files = files_of(list(names))
    assert not any(file.is_absolute() for file in files)
    return [file.resolve().relative_to(root).as_posix() for file in files]


def test_no_name_means_all_clients_and_no_example(root: Path) -> None:
    assert found(root) == [
        "programs/lark-02.yml",
        "programs/wren-01.yaml",
        "programs/wren-01-s.yaml",
    ]


def test_a_code_means_all_programs_of_the_client(root: Path) -> None:
    assert found(root, "wren-01") == ["programs/wren-01.yaml", "programs/wren-01-s.yaml"]


def test_an_example_is_found_when_it_is_named(root: Path) -> None:
    assert found(root, "heron-07") == ["programs/examples/heron-07.yaml"]


def test_a_clinics_own_client_goes_before_an_example(root: Path) -> None:
    assert found(root, "lark-02") == ["programs/lark-02.yml"]


def test_codes_and_files_may_be_mixed(root: Path) -> None:
    file = os.path.relpath(root / "programs" / "wren-01.yaml")
    clinic = os.path.relpath(root / "programs" / "clinic.yaml")
    assert found(root, file, "lark-02", clinic) == ["programs/wren-01.yaml", "programs/lark-02.yml"]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("wren-02", "wren-02: no client has this code. Did you mean `wren-01`?"),
        ("Wren-01", "Wren-01: no client has this code. Did you mean `wren-01`?"),
        ("giraffe", "giraffe: no client has this code."),
        ("wren-1.yaml", "Did you mean `{programs}wren-01.yaml`?"),
        ("nowhere/wren-01.yaml", "there is no such file."),
    ],
)
def test_what_is_not_there_is_said_with_what_could_be_meant(
    root: Path, name: str, said: str
) -> None:
    folder = Path(os.path.relpath(root / "programs"))
    programs = "" if folder == Path() else f"{folder}{os.sep}"
    with pytest.raises(UsageError) as problem:
        files_of([name])
    assert str(problem.value).endswith(said.format(programs=programs))


def test_one_program_is_asked_for_where_a_client_has_several(root: Path) -> None:
    assert file_of("lark-02").resolve() == root / "programs" / "lark-02.yml"
    with pytest.raises(UsageError, match=r"several programs. Name one: `.*wren-01.yaml` or `"):
        file_of("wren-01")


def test_without_programs_it_says_how_to_begin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(UsageError, match="`practice-site start"):
        files_of([])
    (tmp_path / "mkdocs.yml").write_text("")
    with pytest.raises(UsageError, match="`practice-site new wren-01 --sound k`"):
        files_of([])


GROUPS = "clinic: 1\ngroups: {tuesday: [wren-01, lark-02, wren-01], lost: [wren-01, owl-99]}\n"


def test_a_group_means_each_of_its_clients_once_in_its_order(root: Path) -> None:
    (root / "programs" / "clinic.yaml").write_text(GROUPS)
    tuesday = ["programs/wren-01.yaml", "programs/wren-01-s.yaml", "programs/lark-02.yml"]
    assert found(root, "tuesday") == tuesday
    assert found(root, "lark-02", "tuesday") == [tuesday[2], *tuesday[:2]]
    with pytest.raises(
        UsageError, match=r"this is a group\. Name one client of it: wren-01, lark-"
    ):
        file_of("tuesday")


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("lost", "lost: this group of .*clinic.yaml names owl-99, but no client has that code"),
        ("tusday", "tusday: no client has this code. Did you mean `tuesday`?"),
        ("friday", "friday: no client has this code."),
    ],
)
def test_a_group_that_cannot_be_meant_is_told(root: Path, name: str, message: str) -> None:
    (root / "programs" / "clinic.yaml").write_text(GROUPS)
    with pytest.raises(UsageError, match=message):
        found(root, name)


def test_the_examples_have_groups_of_their_own(root: Path) -> None:
    (root / "programs" / "examples" / "clinic.yaml").write_text(
        "clinic: 1\ngroups:\n  pair: [lark-02, heron-07]\n"
    )
    assert found(root, "pair")[-1] == "programs/examples/heron-07.yaml"
