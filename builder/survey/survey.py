"""What the disk holds for one client, as frozen data: collect.py makes it, checks and the plan read
it."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import PurePath

from builder.model.program import Item
from builder.recordings.prompts import Utterance
from builder.recordings.takes import Take, Takes
from builder.text.slugs import slug_of

PICTURE_ENDINGS = (".png", ".jpg", ".jpeg", ".webp", ".gif", ".svg")


@dataclass(frozen=True)
class Found:
    """A file beside the program: its path and the first half of its SHA-256.

    trouble: why it cannot be used, as a sentence; "" when it can.
    """

    path: str
    digest: str
    trouble: str = ""


@dataclass(frozen=True, kw_only=True)
class Survey:
    """What the disk holds for one client.

    own:      pictures of the client's folder and those that all clients share, by file name;
              case does not tell them apart.
    drawings: code points of a drawing, by an item's text.
    takes:    the recordings of all that is to be said, the one that is heard first.
    wrong:    by the word that should be said, its recording with the client's error; not used
              while it waits to be heard.
    doubtful: recordings that were cut with doubt, of all that is to be said; none is used.
    strange_takes: recordings that are named like nothing of this client: of the clinic's by
              name, of the client's own with their folders.
    gone:     step ids in the site as published last.
    zipf:     how common the items' words are (Zipf scale), lower case; {} without an index.
    emblem:   code points and name of the drawing of the client's code; ("", "") without one.
    animal:   our own drawing of it, where the set has none.
    undrawn:  whether there is no picture of it at all.
    alike:    codes of other clients in the folder who have the same animal, or the same drawing.
    today:    the day on which it was looked at; None where no day matters.
    """

    own: Mapping[str, Found]
    drawings: Mapping[str, str]
    takes: Takes
    emblem: tuple[str, str] = ("", "")
    wrong: Mapping[Utterance, Take] = field(default_factory=dict)
    doubtful: Takes = field(default_factory=dict)
    strange_takes: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    zipf: Mapping[str, float] = field(default_factory=dict)
    animal: Found | None = None
    undrawn: bool = False
    alike: tuple[str, ...] = ()
    today: datetime.date | None = None

    def own_picture(self, item: Item) -> Found | None:
        """The client's own picture of an item: the one it names, else one named by its text or,
        in a phrase or sentence, by its target word."""
        if item.picture:
            return self.own.get(item.picture) or self._by_name.get(item.picture.lower())
        return next(filter(None, map(self.own_named, texts_of(item))), None)

    def own_named(self, text: str) -> Found | None:
        """The client's own picture whose file is named by a text; `Ice cream.JPG` is, as
        ice-cream.jpg, by 'ice cream'."""
        if not self.own:
            return None
        slug = slug_of(text)
        names = (slug + ending for ending in PICTURE_ENDINGS)
        return next((self._by_slug[name] for name in names if name in self._by_slug), None)

    @cached_property
    def _by_name(self) -> Mapping[str, Found]:
        return {name.lower(): found for name, found in self._listed()}

    @cached_property
    def _by_slug(self) -> Mapping[str, Found]:
        parts = ((PurePath(name), found) for name, found in self._listed())
        return {slug_of(file.stem) + file.suffix.lower(): found for file, found in parts}

    def _listed(self) -> list[tuple[str, Found]]:
        """The own pictures; of two whose names differ in case alone the one in lower case last."""
        return sorted(self.own.items(), key=lambda one: (one[0] == one[0].lower(), one[0]))

    def drawing(self, item: Item) -> str:
        """The code points of the drawing of an item or of its target word, "" without one."""
        return next((self.drawings[t] for t in texts_of(item) if t in self.drawings), "")

    def take(self, asked: Utterance) -> Take | None:
        """The recording by which this is said; None when there is none that may be heard."""
        return next((take for take in self.takes.get(asked, ())[:1] if take.usable), None)

    def has_picture(self, item: Item) -> bool:
        """Whether an item can be shown without reading it."""
        return self.own_picture(item) is not None or bool(self.drawing(item))


def texts_of(item: Item) -> tuple[str, ...]:
    """By what an item is looked up: its own text first, then the word that holds its target."""
    return (item.text, item.words[item.focus[0]].text) if item.focus else (item.text,)
