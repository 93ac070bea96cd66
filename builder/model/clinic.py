"""The clinic file (programs/clinic.yaml): what all programs of a clinic share."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from builder.model.pause import Pause

Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Time = Literal["morning", "midday", "afternoon", "evening"]
DAYS: tuple[Day, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TIMES: tuple[Time, ...] = ("morning", "midday", "afternoon", "evening")
# A web address without a question or a place in a page; a name of letters, digits, dots.
BASE_URL = r"^(https?://[A-Za-z0-9.-]+(:[0-9]+)?(/[A-Za-z0-9._~/-]*)?)?$"
Shape = Literal["tip up", "tip down", "bunched", "retroflex"]  # of the tongue
# Who may be asked, as it is written; natural is the woman's voice by its older name.
Way = Literal["share", "download", "copy", "code"]  # how a record comes home
Voice = Literal["woman", "man", "natural", "embedded", "online", "helper"]
AskedVoice = Literal["natural", "man", "embedded", "online", "helper"]  # the same as it is meant
Speaker = Literal["recorded", "natural", "man", "embedded", "online"]  # who speaks a clip


def asked_voice(written: Voice) -> AskedVoice:
    """The voice that is meant."""
    return "natural" if written == "woman" else written


class Strict(BaseModel):
    """A frozen model that refuses keys it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Contact(Strict):
    """Whom a family asks. Shown on every page; no person's name is needed."""

    clinic: str = Field(description="The clinic's name, as families know it.", max_length=80)
    phone: str = Field("", description="A telephone number that families may call.", max_length=40)
    email: str = Field("", description="The clinic's general address.", max_length=80)
    hours: str = Field(
        "", description="When somebody answers the telephone or email.", max_length=120
    )


class Pace(Strict):
    """How long a sitting at home takes, in seconds, marked by hand.

    A try is hearing the model, saying, and marking. The first four figures hold for words from six
    years on; the others are added for age and level, or once a sitting. All are common practice, no
    source: 6 to 9 s a word from six years on, 8 to 12 s below, 2 s more for a phrase, 4 s more for
    a sentence. Cf. Edeal & Gildersleeve-Neumann 2011, AJSLP 20:95-110: 100 tries in 15 minutes
    (9 s each) in a dense session with a therapist, 30 to 40 (22 to 30 s) in a usual one.
    `isolation` and `syllable` carry the steps of 2 s on downwards; the time that a sound is held
    comes on top.
    """

    imitation: float = Field(9, ge=2, le=60, description="A word after a model.")
    delayed: float = Field(12, ge=2, le=60, description="A word after a model and a pause of 3 s.")
    spontaneous: float = Field(7, ge=2, le=60, description="A word from picture or print.")
    pairs: float = Field(14, ge=2, le=90, description="Choosing, saying, tapping, looking.")
    under_six: float = Field(2, ge=0, le=30, description="Added at four and five years.")
    under_four: float = Field(3, ge=0, le=30, description="Added under four years.")
    isolation: float = Field(-4, ge=-6, le=30, description="Added for a sound alone.")
    syllable: float = Field(-2, ge=-6, le=30, description="Added for a syllable.")
    phrase: float = Field(2, ge=0, le=60, description="Added for a phrase.")
    sentence: float = Field(4, ge=0, le=120, description="Added for a sentence.")
    repeats: float = Field(10, ge=0, le=100, description="Tries said once more, in per cent.")
    warm_up: float = Field(20, ge=0, le=600, description="Before the first try of a sitting.")
    breath: float = Field(10, ge=0, le=60, description="A rest after five held sounds in a row.")


class Cues(Strict):
    """Placement cues: what tongue, lips, air and voice do, a sentence each."""

    tongue: str = Field("", max_length=200, description="What the tongue does.")
    lips: str = Field("", max_length=200, description="What the lips do.")
    air: str = Field("", max_length=200, description="Where the air goes.")
    voice: str = Field("", max_length=200, description="Voice on or off.")


class SoundCues(Cues):
    """What a therapist says of one sound: cues, and at most four words before a try."""

    reminder: str = Field("", max_length=60, description="At most four words before a try.")


class Sheet(Strict):
    """What the printed sheet asks of families."""

    counts: bool = Field(
        False, description="Every box has “right __ of __” to fill in, for your own records."
    )


class Clinic(Strict):
    """Settings that all programs share; a program may overrule days, times and voice."""

    clinic: Literal[1] = Field(description="The version of this file format: 1.")
    contact: Contact
    base_url: str = Field(
        "",
        description="Where the sites will be published, as in https://practice.example.org.",
        pattern=BASE_URL,
    )
    paper: Literal["letter", "a4"] = Field("letter", description="Paper of the printed sheets.")
    sheet: Sheet = Field(Sheet(), description="The printed sheet: counts in the boxes.")
    language: str = Field(
        "en-US",
        description="Language of the practiced words (BCP 47).",
        pattern=r"^en(-[A-Z]{2})?$",
    )
    interface: tuple[str, ...] = Field(
        ("en",),
        min_length=1,
        description="The languages of pages and sheets, as in [en, es]; the first is what a tablet "
        "shows until somebody chooses another. The practiced words stay as they are.",
    )
    voice: Voice = Field(
        "woman",
        description="Who speaks where there is no recording: woman or man (natural voices), or "
        "embedded (a simple one; all three on this computer), online (sends the words, and only "
        "the words, to a speech service), or helper (no clip: the page asks the helper to say it). "
        "natural is woman by its older name.",
    )
    takes: str = Field("takes", description="Folder of the recordings that all programs share.")
    times: tuple[Time, ...] = Field(
        ("morning", "evening"), description="The usual sittings of a day.", min_length=1
    )
    days: tuple[Day, ...] = Field(
        ("mon", "tue", "wed", "thu", "fri"), description="The usual days.", min_length=1
    )
    pace: Pace = Field(
        Pace(),
        description="Seconds that practice takes, where your families are quicker or slower.",
    )
    hear_yourself: bool = Field(
        False,
        description="Whether clients may record a try and hear it after the model, in the memory "
        "of the page alone. Many schools forbid recording.",
    )
    cues: dict[str, SoundCues] = Field(
        {},
        description="Cues and reminder by sound, or by sound and shape of the tongue (s tip down), "
        "for every program that has none of its own.",
    )
    drawing: bool = Field(
        True, description="Whether families see a side view of the mouth, where a sound has one."
    )
    records: tuple[Way, ...] = Field(
        (),
        description="How a family may send you what was practiced: share (by an app of theirs), "
        "download (a file), copy (text to paste), code (QR codes on the screen). Without it the "
        "page for the visit only shows it.",
    )
    groups: dict[str, tuple[str, ...]] = Field(
        {},
        description="Clients who share a sitting time, never a site, as in tuesday: [wren-01, "
        "finch-02]. The name stands for all of them in commands.",
    )
    pause: tuple[Pause, ...] = Field(
        (), description="Days on which nobody practices, as in 2026-12-21..2027-01-03."
    )
    path: bool = Field(
        True,
        description="Each sitting lays stones on a path across a drawing, and a spoken “You did "
        "it”: for clients under ten with a helper. no: for none, unless a program says yes.",
    )
