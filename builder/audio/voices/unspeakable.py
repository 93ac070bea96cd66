"""Which clips no voice can make, told before anything heavy is imported."""

from __future__ import annotations

from typing import TYPE_CHECKING

from builder.phonetics.inventory import Sound, bare, sounds

if TYPE_CHECKING:
    from builder.model.plan import Clip


def why_unspeakable(clip: Clip) -> str:
    """Why no voice can make a clip, as a clause; "" when one can."""
    if not clip.words and clip.voice == "recorded" and clip.form == "natural":
        return ""  # of a word as it is said with an error nobody knows the phones
    if not clip.words or not all(clip.words):
        return f"the pronunciation of '{clip.text}' is not known"
    if clip.form != "long":
        return ""
    if clip.focus is None and not clip.alone:
        return f"'{clip.text}' has no target to hold"
    try:
        sound = target_of(clip)
    except ValueError as problem:
        return str(problem)
    if sound.hold == "no":
        return f"/{sound.ipa}/ cannot be held, so '{clip.text}' has no long form"
    return ""


def target_of(clip: Clip) -> Sound:
    """The sound of a clip's target. ValueError when it is not in the table."""
    word, first, past = clip.focus if clip.focus and not clip.alone else (0, 0, None)
    phones = tuple(map(bare, clip.words[word][first:past]))
    for sound in sounds().values():
        if phones in sound.phones:
            return sound
    raise ValueError(f"'{' '.join(phones)}' of '{clip.text}' is not a sound of the table")
