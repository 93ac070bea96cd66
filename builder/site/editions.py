"""A site in one of the languages of its pages. All of them share clips, pictures, the plan and the
record: the first lies at the top, each of the others in a folder of its name."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup, escape

from builder.model.plan import Plan, PlannedPassage
from builder.site.blocks.embed import relative_address
from builder.text.talk import situation
from builder.text.wording import ENGLISH, Wording, is_read, wording

SHOWN_BY_MODULES = (  # cautions that no template shows
    "rounds.today.new_sheet",
    "rounds.breath_text",
    "rounds.end_easy",
    "rounds.was_hard",
    "rounds.note_hint",
    "ear.private",
    "reminder.says_hint",
)


@dataclass(frozen=True)
class Edition:
    """The pages of a plan in one language.

    language: of the pages, as in "es"; locale: the same with the clinic's region; folder: "" for
    the first, else as in "es/"; w: its words; english: the English ones while no speaker has read
    the others, else None.
    """

    plan: Plan
    language: str
    folder: str
    w: Wording
    english: Wording | None

    @property
    def locale(self) -> str:
        """For dates and numbers, and for whoever reads the page aloud."""
        return self.plan.locale(self.language)

    @property
    def spoken(self) -> Markup:
        """The attribute of what is in the language of the practiced words; none where the pages
        are in it, too."""
        if self.locale == self.plan.language:
            return Markup("")
        return Markup(' lang="{}"').format(self.plan.language)

    def top(self, path: str) -> str:
        """The way from a page of this edition to the top of the site."""
        return "../" * (bool(self.folder) + bool(path)) or "./"

    def told(self, key: str, **values: object) -> Markup:
        """A sentence in which every text that is filled in keeps the language of the practiced
        words; numbers and Markup go in as they are."""
        own = Wording({key: str(escape(self.w[key]))})
        return Markup(own.fill(key, **{name: self._kept(value) for name, value in values.items()}))

    def sitting(self) -> str:
        """How long one sitting is, and of how many tries where that is known."""
        minutes = self.w.count("today.about_minutes", self.plan.minutes)
        if not self.plan.fits:
            return self.w.fill("today.sitting_part", minutes=minutes)
        if not self.plan.counted:
            return self.w.fill("today.sitting_minutes", minutes=minutes)
        tries = self.w.count("today.tries", self.plan.tries)
        return self.w.fill("today.sitting", tries=tries, minutes=minutes)

    def situation(self, passage: PlannedPassage) -> Markup:
        """Where and with whom a talk is."""
        found = situation(passage.where, passage.company, self.w)
        keep = escape if found.is_ours else str
        return self.told(found.key, where=keep(found.where), company=keep(found.company))

    def _kept(self, value: object) -> object:
        if not self.spoken or not isinstance(value, str) or isinstance(value, Markup):
            return escape(value)
        return Markup('<span{} dir="auto">{}</span>').format(self.spoken, value)

    def caution(self, key: str, **values: object) -> Markup:
        """A caution, which stands in English as well while no speaker has read it."""
        own = escape(self.w.fill(key, **values))
        if self.english is None:
            return own
        return Markup('{} <span class="in-english" lang="en">{}</span>').format(
            own, self.english.fill(key, **values)
        )

    def files(self, path: str) -> Callable[[str], str]:
        """Addresses of files of the site, seen from a page."""
        return partial(relative_address, root=self.top(path))


def editions(plan: Plan) -> tuple[Edition, ...]:
    """One for each language of the plan's pages, the first at the top."""
    return tuple(edition(plan, language) for language in plan.interface)


def edition(plan: Plan, language: str) -> Edition:
    """The pages in one of the plan's languages."""
    first = language == plan.interface[0]
    words = wording(language, plan.helper)
    english = None if is_read(language) else wording(ENGLISH, plan.helper)
    return Edition(
        plan=plan,
        language=language,
        folder="" if first else f"{language}/",
        w=words if english is None else _with_cautions(words, english),
        english=english,
    )


def _with_cautions(words: Wording, english: Wording) -> Wording:
    """The words with those cautions in English that modules show (`say.caution`), each under
    "english" in its part."""
    both = (key.partition(".") for key in SHOWN_BY_MODULES)
    more = {f"{part}.english.{name}": english[f"{part}.{name}"] for part, _, name in both}
    return Wording({**words, **more})


def others(one: Edition) -> tuple[Mapping[str, str], ...]:
    """The other languages as links name them: each in its own words."""
    return tuple(
        {"language": other.language, "name": other.w["frame.language"], "folder": other.folder}
        for other in editions(one.plan)
        if other.language != one.language
    )
