from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from importlib.metadata import version

import pytest

from builder.phonetics.lexicon import sources as module
from builder.phonetics.lexicon.sources import file, folder, sources


@pytest.mark.parametrize("role", sources())
def test_every_source_is_installed(role: str) -> None:
    assert version(sources()[role].package)
    assert folder(role).is_dir()


@pytest.mark.parametrize("role", ["dictionary", "tagged dictionary", "frequencies"])
def test_every_file_is_where_the_table_says(role: str) -> None:
    for part in range(len(sources()[role].files)):
        assert file(role, part).is_file()


def test_only_an_engine_has_a_voice() -> None:
    assert [role for role, source in sources().items() if source.voice] == ["letter-to-sound rules"]


def test_what_is_not_installed_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    absent = replace(
        sources()["tagged dictionary"], package="no-such-thing", module="no_such_thing"
    )
    monkeypatch.setattr(module, "sources", lambda: {"tagged dictionary": absent})
    with pytest.raises(FileNotFoundError, match=r"tagged dictionary.*not installed.*no-such-thing"):
        file("tagged dictionary")


def test_finding_them_imports_none() -> None:
    code = (
        "import sys; from builder.phonetics.lexicon.sources import folder, sources;"
        "[folder(role) for role in sources()];"
        "print(sorted({s.module for s in sources().values()} & sys.modules.keys()))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
