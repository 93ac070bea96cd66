from __future__ import annotations

from pathlib import Path

import pytest

from builder.site.root import write_root
from builder.text.wording import wording
from builder.workspace import published
from builder.workspace.folder import SITE_MARK

NAMES = {".nojekyll", "404.html", "index.html", "robots.txt"}


def test_every_file_at_the_root_says_who_writes_it(tmp_path: Path) -> None:
    write_root(tmp_path)
    assert {file.name for file in tmp_path.iterdir()} == NAMES
    assert all(map(published.written_by_us, tmp_path.iterdir()))
    published.require_own(tmp_path)


@pytest.mark.parametrize("name", sorted(NAMES))
def test_what_is_old_is_replaced_and_what_is_the_clinics_stays(tmp_path: Path, name: str) -> None:
    write_root(tmp_path)
    published.mark(tmp_path, b"k" * 32)
    file = tmp_path / name
    now = file.read_bytes()
    file.write_bytes(b"practice-site writes this file, an earlier form")
    write_root(tmp_path)
    assert file.read_bytes() == now
    file.write_bytes(b"the clinic's own")
    write_root(tmp_path)
    assert file.read_bytes() == b"the clinic's own"


def test_who_mistyped_an_address_is_told_in_all_languages_of_the_sites(tmp_path: Path) -> None:
    for site, tongues in (("a", '["es", "en"]'), ("b", '["xx"]'), ("c", "7")):
        (tmp_path / site).mkdir()
        (tmp_path / site / SITE_MARK).write_text(f'{{"languages": {tongues}}}')
    (tmp_path / "d").mkdir()
    (tmp_path / "d" / SITE_MARK).write_text("{}")
    write_root(tmp_path, ["es"])
    for name, title, key in (
        ("index.html", "root.title", "root.text"),
        ("404.html", "root.gone", "root.gone_text"),
    ):
        page = (tmp_path / name).read_text("utf-8")
        assert '<html lang="es">' in page
        titles = [wording(one)[title] for one in ("es", "en")]
        assert f"<title>{' · '.join(titles)}</title>" in page
        lines = [f'<p lang="{one}">{wording(one)[key]}</p>' for one in ("es", "en")]
        assert page.index(lines[0]) < page.index(lines[1]), "the clinic's first"


def test_in_a_folder_without_a_mark_the_root_is_ours(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("of an earlier version")
    write_root(tmp_path)
    assert published.written_by_us(tmp_path / "index.html")
