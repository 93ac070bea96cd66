"""One local page with the pictures of all programs, and the words that have none; not published."""

from __future__ import annotations

from collections.abc import Sequence

from builder.model.picture_need import PictureNeed
from builder.text.templates import environment


def picture_page(rows: Sequence[PictureNeed]) -> str:
    """The HTML; rows in the order in which they are shown."""
    shown = sorted((row for row in rows if row.picture), key=lambda row: row.word)
    return (
        environment("proof")
        .get_template("pictures.html")
        .render(
            bare=[row for row in rows if not row.picture],
            shown=shown,
            drawn=any(row.picture and row.picture.kind == "drawing" for row in rows),
        )
    )
