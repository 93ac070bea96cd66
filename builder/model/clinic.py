"""The clinic file (programs/clinic.yaml): what all programs of a clinic share."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Day = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
Time = Literal["morning", "midday", "afternoon", "evening"]
DAYS: tuple[Day, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TIMES: tuple[Time, ...] = ("morning", "midday", "afternoon", "evening")
# A web address without a question or a place in a page; a name of letters, digits, dots.
BASE_URL = r"^(https?://[A-Za-z0-9.-]+(:[0-9]+)?(/[A-Za-z0-9._~/-]*)?)?$"
Voice = Literal["natural", "embedded", "online", "helper"]  # who may be asked
Speaker = Literal["recorded", "natural", "embedded", "online"]  # who speaks a clip


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
    language: str = Field(
        "en-US", description="Language of words and pages (BCP 47).", pattern=r"^en(-[A-Z]{2})?$"
    )
    voice: Voice = Field(
        "natural",
        description="Who speaks where there is no recording: natural or embedded (both on this "
        "computer), online (sends the words, and only the words, to a speech service), or helper "
        "(no clip: the page asks the helper to say it).",
    )
    takes: str = Field("takes", description="Folder of the recordings that all programs share.")
    times: tuple[Time, ...] = Field(
        ("morning", "evening"), description="The usual sittings of a day.", min_length=1
    )
    days: tuple[Day, ...] = Field(
        ("mon", "tue", "wed", "thu", "fri"), description="The usual days.", min_length=1
    )
