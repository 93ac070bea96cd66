"""The lock: what is installed on every machine, on each Python and system that the README names."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from itertools import product
from pathlib import Path
from typing import NamedTuple

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.support.once import made_once

ROOT = Path(__file__).parent.parent
RUN, TEST = ROOT / "requirements.txt", ROOT / "requirements-test.txt"
PYTHONS = ("3.11", "3.12", "3.13", "3.14", "3.15")
HASH = "--hash=sha256:"
UNREACHED = ("Failed to fetch", "network was disabled")  # what uv says where no registry answers


class System(NamedTuple):
    """name: uv's name of the platform; macos: the oldest macOS that the wheels are for."""

    name: str
    sys_platform: str
    machine: str
    macos: str = ""


SYSTEMS = (
    System("x86_64-manylinux_2_28", "linux", "x86_64"),
    System("aarch64-manylinux_2_28", "linux", "aarch64"),
    System("aarch64-apple-darwin", "darwin", "arm64", "14.0"),
    System("x86_64-apple-darwin", "darwin", "x86_64", "13.0"),
    System("x86_64-pc-windows-msvc", "win32", "AMD64"),
)
PLACES = list(product(PYTHONS, SYSTEMS))
NAMES = [f"{python} {system.name}" for python, system in PLACES]


class Locked(NamedTuple):
    """One entry of the lock."""

    requirement: Requirement
    hashes: list[str]


def locked(file: Path) -> list[Locked]:
    """All entries of a lock file."""
    text = file.read_text("utf-8").replace("\\\n", " ")
    lines = (line.strip() for line in text.splitlines())
    entries = (line.partition(HASH) for line in lines if line and not line.startswith("#"))
    return [
        Locked(Requirement(name.strip()), [HASH + h.strip() for h in rest.split(HASH)])
        for name, _, rest in entries
    ]


def asked(*, tests: bool) -> list[Requirement]:
    """What pyproject.toml asks for, to build the project, to run it and to test it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    named = [
        *project["build-system"]["requires"],
        *project["dependency-groups"]["build"],
        *project["project"]["dependencies"],
        *(project["project"]["optional-dependencies"]["test"] if tests else ()),
    ]
    return [Requirement(text) for text in named]


def applies(requirement: Requirement, python: str, system: System) -> bool:
    """Whether its marker holds there."""
    return requirement.marker is None or requirement.marker.evaluate(
        {
            "python_version": python,
            "python_full_version": f"{python}.9",
            "sys_platform": system.sys_platform,
            "platform_machine": system.machine,
            "implementation_name": "cpython",
            "platform_python_implementation": "CPython",
        }
    )


@pytest.mark.parametrize("file", [RUN, TEST], ids=lambda f: f.name)
def test_every_entry_is_one_version_with_hashes(file: Path) -> None:
    entries = locked(file)
    assert len(entries) > 50
    for requirement, hashes in entries:
        (only,) = requirement.specifier
        assert only.operator == "=="
        assert all(len(h) == len(HASH) + 64 for h in hashes), requirement.name


@pytest.mark.parametrize("file", [RUN, TEST], ids=lambda f: f.name)
def test_no_address_is_named(file: Path) -> None:
    text = file.read_text("utf-8")
    for sign in ("://", " @ ", "--index", "--extra-index", "--find-links", "--trusted-host"):
        assert sign not in text


@pytest.mark.parametrize("file", [RUN, TEST], ids=lambda f: f.name)
@pytest.mark.parametrize(("python", "system"), PLACES, ids=NAMES)
def test_what_is_asked_for_is_locked_once(file: Path, python: str, system: System) -> None:
    here: dict[str, list[Requirement]] = {}
    for requirement, _ in locked(file):
        if applies(requirement, python, system):
            here.setdefault(canonicalize_name(requirement.name), []).append(requirement)
    assert [name for name, found in here.items() if len(found) > 1] == []
    for wanted in asked(tests=file == TEST):
        if applies(wanted, python, system):
            (one,) = here[canonicalize_name(wanted.name)]
            (only,) = one.specifier
            assert wanted.specifier.contains(only.version), wanted


def test_tests_run_with_what_is_published() -> None:
    tested = {str(requirement) for requirement, _ in locked(TEST)}
    assert {str(requirement) for requirement, _ in locked(RUN)} <= tested


def test_the_natural_voice_is_where_its_engine_has_wheels() -> None:
    (lexicon,) = (r for r, _ in locked(RUN) if r.name == "hibari-tts")
    assert lexicon.marker is None  # its lexicon is read everywhere
    engines = [r for r, _ in locked(RUN) if r.name == "onnxruntime"]
    without = {
        (python, system.sys_platform, system.machine)
        for python, system in PLACES
        if not any(applies(engine, python, system) for engine in engines)
    }
    assert without == {
        ("3.14", "darwin", "x86_64"),
        *(("3.15", system.sys_platform, system.machine) for system in SYSTEMS),
    }


@pytest.fixture(scope="module")
def registry(tmp_path_factory: pytest.TempPathFactory, run_folder: Path) -> None:
    """Skips where no package registry can be reached: nothing is known of wheels then. What it says
    of the packages of each system is asked for once a run, and kept by uv."""
    folder = tmp_path_factory.mktemp("registry")
    (folder / "asked.txt").write_text("packaging\n")
    tried = resolved(folder / "asked.txt", "3.11", SYSTEMS[0], folder, "--no-cache")
    if any(sign in " ".join(tried.stderr.split()) for sign in UNREACHED):
        pytest.skip("no package registry was reached: wheels of the lock were not looked for")
    assert tried.returncode == 0, tried.stderr
    made_once(run_folder / "registry", _ask)


def _ask(folder: Path) -> None:
    for system in SYSTEMS:
        resolved(TEST, PYTHONS[0], system, folder, "--require-hashes")


@pytest.mark.outside
@pytest.mark.usefixtures("registry")
@pytest.mark.parametrize(("python", "system"), PLACES, ids=NAMES)
def test_every_package_has_a_wheel(python: str, system: System, tmp_path: Path) -> None:
    """By the registry's own word; nothing is downloaded but metadata."""
    found = resolved(TEST, python, system, tmp_path, "--require-hashes", "--offline")
    if found.returncode:  # a package of this Python alone was not asked for yet
        found = resolved(TEST, python, system, tmp_path, "--require-hashes")
    assert found.returncode == 0, found.stderr
    count = sum(applies(requirement, python, system) for requirement, _ in locked(TEST))
    assert f"Would install {count} packages" in found.stderr


@pytest.mark.outside
@pytest.mark.usefixtures("registry")
def test_a_package_without_a_wheel_is_found(tmp_path: Path) -> None:
    (engine,) = (e for e in locked(RUN) if "1.23" in str(e.requirement.specifier))
    lone = tmp_path / "requirements.txt"
    lone.write_text(f"onnxruntime{engine.requirement.specifier} {' '.join(engine.hashes)}\n")
    assert resolved(lone, "3.13", SYSTEMS[0], tmp_path, "--require-hashes").returncode == 0
    refused = resolved(lone, "3.15", SYSTEMS[0], tmp_path, "--require-hashes")
    assert refused.returncode == 1
    assert "no wheels" in refused.stderr


def resolved(
    file: Path, python: str, system: System, folder: Path, *options: str
) -> subprocess.CompletedProcess[str]:
    """What uv would install from a lock there. The project's own settings are for renewing it."""
    command = [
        sys.executable, "-m", "uv", "--no-config", "pip", "install", "--dry-run", "--no-deps",
        "--only-binary", ":all:", "--python", sys.executable, *options,
        "--python-version", python, "--python-platform", system.name,
        "--target", str(folder / "there"), "--requirements", str(file),
    ]  # fmt: skip
    extra = {"MACOSX_DEPLOYMENT_TARGET": system.macos} if system.macos else {}
    return subprocess.run(
        command, env=os.environ | extra, capture_output=True, text=True, check=False
    )
