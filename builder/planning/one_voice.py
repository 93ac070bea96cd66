"""Who is heard in a round: one voice where that costs little, and in a pair always where it can be.

A voice that changes from word to word draws the ear away from the sound. But where the better voice
says all but a few words of a round, the round would lose more by the other one. So a round is in
the voice that says half of it or more, if it can say the rest; else each word is in the voice that
says it best, and the page tells that another one is heard. Of two words that are compared the ear
should find the sound to differ, and nothing else. (Common practice, no source.)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

from builder.audio.voices import VOICES
from builder.model.clinic import Speaker
from builder.model.plan import Clip

LEAD_SHARE = 0.5  # of what voices say in a round; who says so much may say all of it

Said = Mapping[str, Speaker | None]
"""By the key of a clip that was made: who speaks in it; None: no voice could say it."""


def speaker_of(clip: Clip, said: Said) -> Speaker | None:
    """Who speaks, or before the clip was made: who is asked to."""
    return said.get(clip.key, clip.voice)


def leading_voices(clips: Iterable[Clip | None], said: Said) -> tuple[Speaker, ...]:
    """Who says half or more of a round that several voices share, the most first; () where one
    says all of it. Recordings are heard whoever says the rest."""
    found = Counter(voice for clip in clips if clip and (voice := speaker_of(clip, said)))
    spoken = {voice: number for voice, number in found.most_common() if VOICES[voice].synthetic}
    least = LEAD_SHARE * sum(spoken.values())
    return tuple(v for v, number in spoken.items() if number >= least) if len(spoken) > 1 else ()


def alike(
    clips: Sequence[Clip | None], by: Callable[[int, Speaker], Clip | None], said: Said, to: Speaker
) -> tuple[Clip | None, ...] | None:
    """The clips, those by other voices made by `to` instead; None where it cannot say one of them.

    by: the clip at a place by that voice; None where it is not fit for it.
    """
    found: list[Clip | None] = []
    for at, clip in enumerate(clips):
        changed = clip is not None and speaker_of(clip, said) not in (to, None)
        found.append(by(at, to) if changed else clip)
        if changed and not found[-1]:
            return None
    return tuple(found)
