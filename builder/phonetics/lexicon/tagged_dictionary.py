"""The tagged dictionary: pronunciations in IPA, by part of speech where a word is read in two ways.

Its parts (data/*_sources.csv) go from the surest to the least sure. One word is looked up in the
text of the file; `load` reads all of it for those who ask for many, and after MANY words it is done
unasked. Where its package is not
installed there are no parts, and it knows no word.
"""

from __future__ import annotations

import gzip
import json
from functools import cache

from builder.phonetics.lexicon.sources import Source, file, installed, sources

ROLE = "tagged dictionary"
DEFAULT = "DEFAULT"
MANY = 100  # look-ups in the text take longer than reading all of it

Raw = str | dict[str, str | None]

_loaded: list[dict[str, Raw]] = []
_looked_up: list[str] = []


def readings(word: str) -> tuple[tuple[str, str], ...]:
    """Every (part of speech, IPA) of a word, the usual one first with the part of speech ""."""
    for key in dict.fromkeys((word.lower(), word.lower().capitalize(), word)):
        for part in _parts():
            if (raw := _raw(key, part)) is not None:
                return _forms(raw)
    return ()


def load() -> tuple[dict[str, Raw], ...]:
    """All parts whole; from now on words are looked up in them."""
    if not _loaded:
        _loaded.extend(json.loads(_text(part)) for part in _parts())
    return tuple(_loaded)


def unload() -> None:
    """Give the memory back."""
    _loaded.clear()
    _looked_up.clear()
    _text.cache_clear()


def _forms(raw: Raw) -> tuple[tuple[str, str], ...]:
    if isinstance(raw, str):
        return (("", raw),)
    usual = raw.get(DEFAULT) or next(ipa for ipa in raw.values() if ipa)
    others = {
        ipa: pos.lower()
        for pos, ipa in raw.items()
        if ipa and pos not in (DEFAULT, *_source().stress) and ipa != usual
    }
    return (("", usual), *((pos, ipa) for ipa, pos in others.items()))


def _raw(key: str, part: int) -> Raw | None:
    if _loaded:
        return _loaded[part].get(key)
    _looked_up.append(key)
    if len(_looked_up) > MANY:
        return load()[part].get(key)
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
    return gzip.decompress(file(ROLE, part).read_bytes())


def _parts() -> range:
    return range(len(_source().files) if installed(ROLE) else 0)


def _source() -> Source:
    return sources()[ROLE]
