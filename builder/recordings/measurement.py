"""What a recording was measured to be for one item: kept by the digest of the file, so that each
file is decoded once for all time."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from builder.audio.voices import voice_version
from builder.phonetics.inventory import sounds
from builder.recordings.prompts import Utterance
from builder.workspace.store import Store, key_of

ENDING = ".take.json"
VERSION = 6  # raise it when recordings are judged otherwise
KEYS = {"target", "verdict", "issues", "rank", "loudness", "mean"}  # of what is kept


def measurement(
    file: Path, digest: str, utterance: Utterance, store: Store | None
) -> dict[str, Any]:
    """The values of KEYS, as they are kept."""
    versions = (voice_version("recorded"), VERSION)
    key = key_of(assessed=digest, asked=utterance, version=versions)
    known = _stored(store, key)
    if known is None:
        known = _measure(file, utterance)
        if store:
            store.put(key, ENDING, json.dumps(known, ensure_ascii=False).encode())
    return known


def _stored(store: Store | None, key: str) -> dict[str, Any] | None:
    """What was measured before; None when it was not, or cannot be read."""
    if not store or not store.has(key, ENDING):
        return None
    try:
        known = json.loads(store.path(key, ENDING).read_text("utf-8"))
    except ValueError:
        return None
    return known if isinstance(known, dict) and known.keys() == KEYS else None


def _measure(file: Path, utterance: Utterance) -> dict[str, Any]:
    # numpy and the aligner only for what is new
    from builder.audio.assess.assess import assess_file

    _, form, words, focus, symbol, alone = utterance
    found = assess_file(str(file), words, focus, sounds()[symbol], form=form, alone=alone)
    return {
        "target": found.target,
        "verdict": found.verdict,
        "issues": [asdict(issue) for issue in found.issues],
        "rank": found.rank,
        "loudness": found.loudness,
        "mean": found.mean,
    }
