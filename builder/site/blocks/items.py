"""What is said, with its picture and its clips."""

from __future__ import annotations

from collections.abc import Mapping

from builder.make.clips import Facts
from builder.model.clinic import Speaker, Strict
from builder.model.plan import Clip, Picture, PlannedItem
from builder.site.blocks.embed import relative_address


class ClipData(Strict):
    """One clip: its address relative to the page; the rest as clips.Facts has it."""

    src: str
    duration: float
    start: float | None
    end: float | None
    spectral_mean: float | None
    peak: float
    loudness: float
    voice: Speaker


class PictureData(Strict):
    """One picture, drawn into a square."""

    src: str
    alt: str


class ItemData(Strict):
    """One item. `letters`: the text cut up, true where letters spell the target.

    natural: null where no voice is fit; then the helper says it. long: null where none is asked,
    or no voice is fit.
    """

    id: str
    text: str
    letters: tuple[tuple[str, bool], ...]
    picture: PictureData | None
    natural: ClipData | None
    long: ClipData | None


def item_data(item: PlannedItem, facts: Mapping[str, Facts], root: str) -> ItemData:
    """An item as a page at `root` needs it. Raises KeyError when a clip has no facts."""
    return ItemData(
        id=item.id,
        text=item.text,
        letters=item.letters,
        picture=picture_data(item.picture, root),
        natural=clip_data(item.natural, facts, root) if item.natural else None,
        long=clip_data(item.long, facts, root) if item.long else None,
    )


def picture_data(picture: Picture | None, root: str) -> PictureData | None:
    """A picture as a page at `root` needs it."""
    if not picture:
        return None
    return PictureData(src=relative_address(picture.path, root), alt=picture.alt)


def clip_data(clip: Clip, facts: Mapping[str, Facts], root: str) -> ClipData:
    """A clip as a page at `root` needs it. Raises KeyError when it has no facts."""
    known = facts[clip.key]
    return ClipData(
        src=relative_address(clip.path, root),
        duration=known.duration,
        start=known.start,
        end=known.end,
        spectral_mean=known.spectral_mean,
        peak=known.peak,
        loudness=known.loudness,
        voice=known.voice,
    )
