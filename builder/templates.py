"""Where site_templates/ lies: inside the installed package, or beside it in a checkout."""

from __future__ import annotations

from pathlib import Path


def folder() -> Path:
    """The folder with pages, theme, sheets and wording."""
    inside = Path(__file__).parent / "site_templates"
    return inside if inside.is_dir() else Path(__file__).parent.parent / "site_templates"
