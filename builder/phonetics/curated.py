"""The curated lexicon of American English: pronunciations in IPA, by part of speech where a word is
read in two ways. Its files lie inside another package, which is never imported.

Two parts: what was gone over by hand, and further forms. One word is looked up in the text of the
file; `load` reads all of it for those who ask for many.
"""

from __future__ import annotations

import gzip
import json
from functools import cache
from importlib.util import find_spec
from pathlib import Path

PACKAGE = "hibari"
PARTS = ("assets/lexicon_us_gold.json.gz", "assets/lexicon_us_silver.json.gz")
DEFAULT = "DEFAULT"
UNSTRESSED = ("None", "DT", "TO", "IN")  # these say how a small word is stressed, not what it means

Raw = str | dict[str, str | None]

_loaded: list[dict[str, Raw]] = []


def readings(word: str) -> tuple[tuple[str, str], ...]:
    """Every (part of speech, IPA) of a word, the usual one first with the part of speech ""."""
    for key in dict.fromkeys((word.lower(), word.lower().capitalize(), word)):
        for part in range(len(PARTS)):
            if (raw := _raw(key, part)) is not None:
                return _forms(raw)
    return ()


def load() -> tuple[dict[str, Raw], ...]:
    """Both parts whole; from now on words are looked up in them."""
    if not _loaded:
        _loaded.extend(json.loads(_text(part)) for part in range(len(PARTS)))
    return tuple(_loaded)


def unload() -> None:
    """Give the memory back."""
    _loaded.clear()
    _text.cache_clear()


def _forms(raw: Raw) -> tuple[tuple[str, str], ...]:
    if isinstance(raw, str):
        return (("", raw),)
    usual = raw.get(DEFAULT) or next(ipa for ipa in raw.values() if ipa)
    others = {
        ipa: pos.lower()
        for pos, ipa in raw.items()
        if ipa and pos not in (DEFAULT, *UNSTRESSED) and ipa != usual
    }
    return (("", usual), *((pos, ipa) for ipa, pos in others.items()))


def _raw(key: str, part: int) -> Raw | None:
    if _loaded:
        return _loaded[part].get(key)
    text = _text(part)
    name = json.dumps(key, ensure_ascii=False).encode() + b":"
    at = text.find(name)
    if at < 0:
        return None
    rest = text[at + len(name) : at + len(name) + 1000].decode(errors="ignore").lstrip()
    raw: Raw = json.JSONDecoder().raw_decode(rest)[0]
    return raw


@cache
def _text(part: int) -> bytes:
    return gzip.decompress((folder() / PARTS[part]).read_bytes())


def folder() -> Path:
    """Where the package lies. Raises FileNotFoundError when it is not installed."""
    spec = find_spec(PACKAGE)
    for place in (spec and spec.submodule_search_locations) or ():
        return Path(place)
    raise FileNotFoundError(2, "the curated lexicon is not installed", PACKAGE)
