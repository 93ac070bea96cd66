"""The data block of the check of a loudspeaker."""

from __future__ import annotations

from builder.model.clinic import Strict
from builder.model.plan import Plan
from builder.site.blocks.embed import relative_address
from builder.text.wording import Wording

SOFT_SOUNDS = ("F", "TH")  # softer than /s/ by 10 dB and more; common knowledge, no source


class HissData(Strict):
    """The check of a loudspeaker. s, sh: addresses of the two clips; soft: a sound is practiced
    of which the check tells less."""

    s: str
    sh: str
    soft: bool
    wording: dict[str, str]


def hiss_data(plan: Plan, root: str, words: Wording) -> HissData | None:
    """What the two pages need that tell whether a loudspeaker hides a sound; None where the plan
    has nothing for it. root: the way from the page to the top."""
    if not plan.hiss:
        return None
    s, sh = (relative_address(clip.path, root) for clip in plan.hiss)
    soft = any(program.symbol in SOFT_SOUNDS for program in plan.programs)
    return HissData(s=s, sh=sh, soft=soft, wording=words.part("hiss"))
