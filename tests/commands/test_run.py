"""What is said of an error of the system."""

from __future__ import annotations

import argparse
import errno
import os
from pathlib import Path

import pytest

from builder.commands.run import nothing_written, run
from builder.problems import Finding, Place, ProgramError


def test_a_full_disk_names_the_copy_and_not_what_was_copied(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    theirs, ours = str(tmp_path / "theme.css"), str(tmp_path / "public.css")

    def copies(args: argparse.Namespace) -> int:  # as shutil.copyfile says it
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), theirs, None, ours)

    assert run(copies, argparse.Namespace()) == 2
    said = capsys.readouterr().err
    assert said == f"practice-site: {ours}: the disk is full; free some space and try again.\n"


def test_another_error_of_the_system_names_its_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def reads(args: argparse.Namespace) -> int:
        (tmp_path / "none").read_text()
        return 0

    assert run(reads, argparse.Namespace()) == 2
    assert capsys.readouterr().err.startswith(f"practice-site: {tmp_path / 'none'}: No such file")


def test_a_command_that_writes_says_that_it_did_not(capsys: pytest.CaptureFixture[str]) -> None:
    @nothing_written()
    def writes(args: argparse.Namespace) -> int:
        raise ProgramError([Finding(Place("wren-01.yaml", 3, 1), "sound", "fault", "Which one?")])

    assert run(writes, argparse.Namespace()) == 1
    said = capsys.readouterr().err.splitlines()
    assert said == ["wren-01.yaml:3:1: fault: Which one? [sound]", "Nothing was written."]
