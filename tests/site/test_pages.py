from __future__ import annotations

import dataclasses
import json
import re
from html.parser import HTMLParser
from itertools import pairwise

import pytest
from pydantic import BaseModel

from builder.checks.lists import RESERVED
from builder.model.plan import Plan, PlannedItem, PlannedProgram
from builder.site.blocks.ear import EarData, EarWord
from builder.site.blocks.hiss import HissData
from builder.site.blocks.items import ClipData, ItemData, PictureData
from builder.site.blocks.practice import PageData, PathData, RolePractice
from builder.site.blocks.reminder import ReminderData
from builder.site.blocks.steps import PassageData, RoundData, StepData
from builder.site.blocks.visit import VisitData, VisitStep
from builder.site.editions import edition
from builder.site.pages import Page, pages, theme_settings
from builder.text.templates import folder
from builder.text.wording import wording
from tests.support import plans
from tests.support.past_sentences import heron
from tests.support.typescript import Types, mirrored

BOTH = plans.plan(plans.program_k(), plans.program_sh())
MODELS = (
    PageData,
    RolePractice,
    PathData,
    StepData,
    PassageData,
    RoundData,
    ItemData,
    PictureData,
    ClipData,
    HissData,
    ReminderData,
    EarData,
    EarWord,
    VisitData,
    VisitStep,
)
NASTY = (
    "<script>alert(1)</script>",
    '</script><b id="x">',
    "<!-- <script>",
    "`tick` & \"quote\" 'single'",
    "{{ 7 * 7 }} {% raw %}",
    "# head\n\n* list",
    "שָׁלוֹם",
    "🦆 duck",
    "\x02wzxhzdk:0\x03 \u2028",
)


def made(plan: Plan = BOTH) -> dict[str, Page]:
    return {page.path: page for page in pages(plan, plans.facts(plan))}


def block(page: Page) -> dict[str, object]:
    found = re.search(r'"application/json"[^>]*>(.*?)</script>', page.html, re.DOTALL)
    assert found
    value: dict[str, object] = json.loads(found[1])
    return value


class Reader(HTMLParser):
    """Text and tags of a page; void elements close themselves."""

    VOID = frozenset({"img", "br", "link", "meta", "circle", "path"})

    def __init__(self, html: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.roots = 0
        self.text = ""
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.roots += not self.open
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        assert self.open or not data.strip()
        if "script" not in self.open:
            self.text += data


def test_every_template_is_a_page_and_so_is_every_step() -> None:
    every = (*made().values(), *made(heron()).values())
    kinds = {re.findall(r'class="content content-(\w+)"', page.html)[0] for page in every}
    templates = {file.stem for file in (folder() / "pages").glob("[!_]*.html")}
    assert kinds == templates
    steps = [step.id for program in BOTH.programs for step in program.steps]
    assert {"", *steps, *BOTH.gone} < set(made())
    assert len(pages(BOTH, plans.facts(BOTH))) == len(made()), "no address twice"


def test_a_page_is_one_whole_element_that_markdown_leaves_alone() -> None:
    for path, page in made().items():
        reader = Reader(page.html)
        assert reader.roots == 1, path
        assert reader.open == [], path
        assert "\n\n" not in page.html, path
        assert "`" not in page.html, path


def test_headings_are_in_order_and_one_is_the_first() -> None:
    for path, page in made().items():
        levels = [int(tag[1]) for tag, _ in Reader(page.html).tags if re.match(r"h\d$", tag)]
        assert levels.count(1) == 1, path
        assert levels[0] == 1, path
        assert all(b - a <= 1 for a, b in pairwise(levels)), path


def test_relative_addresses_know_where_their_page_lies() -> None:
    addresses = {
        path: [v for _, a in Reader(page.html).tags for k in ("href", "src") if (v := a.get(k))]
        for path, page in made().items()
    }
    for path, found in addresses.items():
        inside = [a for a in found if not re.match(r"(https|tel|mailto):", a)]
        assert all(a.startswith("../" if path else "./") for a in inside), path
    assert "./k-words/" in addresses[""]
    assert "../clips/key-natural.mp3" in addresses["k-words"]
    assert "../k-with-a-vowel/" in addresses["k-words"]


def test_no_date_stands_on_an_open_page() -> None:
    for page in made().values():
        assert not re.search(r"20\d\d-\d\d|\b20[2-3]\d\b", page.html), page.path


def test_a_page_that_shows_a_drawing_carries_the_credit() -> None:
    without = {path for path, page in made().items() if "CC BY-SA 4.0" not in page.html}
    assert without <= {"k-old-step"}


def test_without_drawings_nobody_is_credited_for_them() -> None:
    program = plans.program_k()
    bare = tuple(
        dataclasses.replace(s, items=tuple(dataclasses.replace(i, picture=None) for i in s.items))
        for s in program.steps
    )
    plan = plans.plan(dataclasses.replace(program, steps=bare))
    plan = dataclasses.replace(plan, emblem=None, pictures=())
    assert not any("OpenMoji" in page.html for page in made(plan).values())


@pytest.mark.parametrize(
    ("voice", "said"),
    [
        ("embedded", "stand-in for your therapist’s own voice"),
        ("man", "A computer voice speaks here"),
        ("online", "A speech service made these clips"),
        ("recorded", "real voices"),
    ],
)
def test_the_page_says_whose_voice_it_is(voice: str, said: str) -> None:
    facts = {k: dataclasses.replace(f, voice=voice) for k, f in plans.facts(BOTH).items()}  # type: ignore[arg-type]
    found = {page.path: page.html for page in pages(BOTH, facts)}
    for path in ("k-words", "about", "sound"):
        assert said in found[path]


def test_two_voices_of_this_computer_are_told_in_one_sentence() -> None:
    facts = {
        key: dataclasses.replace(fact, voice="man" if at else "natural")
        for at, (key, fact) in enumerate(plans.facts(BOTH).items())
    }
    found = {page.path: page.html for page in pages(BOTH, facts)}
    assert found["about"].count("A computer voice speaks here") == 1
    assert "Computer voice, a woman’s" in found["about"]
    assert "Computer voice, a man’s" in found["about"]


def test_about_tells_of_each_voice_its_licence_what_it_sends_and_what_it_is_for() -> None:
    facts = plans.facts(BOTH)
    text = Reader(next(p.html for p in pages(BOTH, facts) if p.path == "about")).text
    assert "eSpeak NG, GPL-3.0-or-later." in text
    assert "Nothing was sent anywhere to make it." in text
    assert "sh held long in a word: a stand-in" in text
    online = {k: dataclasses.replace(f, voice="online") for k, f in facts.items()}
    text = Reader(next(p.html for p in pages(BOTH, online) if p.path == "about")).text
    assert "were sent to that service" in text
    assert "for the service’s own terms to say" in text


def test_a_loudspeaker_is_checked_beside_the_practice_and_only_for_high_sounds() -> None:
    with_check = {path for path, page in made().items() if "<practice-hiss" in page.html}
    assert with_check == {"sound", "helper"}
    data = block(made()["sound"])
    assert (data["s"], data["sh"]) == ("../clips/s-long.mp3", "../clips/sh-long.mp3")
    assert data["wording"] == wording("en").part("hiss")
    assert not data["soft"]
    only_k = plans.plan(plans.program_k())
    assert not any("<practice-hiss" in page.html for page in made(only_k).values())
    program = dataclasses.replace(plans.program_sh(), symbol="TH")
    plan = dataclasses.replace(plans.plan(plans.program_sh()), programs=(program,))
    assert block(made(plan)["helper"])["soft"]


def with_errors(program: PlannedProgram, error: str, *words: str) -> Plan:
    """The plan of a program whose error can be heard in some words."""
    wrong = tuple((word, plans.clip(word), plans.clip(f"{word}-amiss")) for word in words)
    plan = plans.plan(dataclasses.replace(program, error=error, wrong=wrong))
    return dataclasses.replace(plan, clips=(*plan.clips, *(c for _, *both in wrong for c in both)))


def test_an_ear_is_trained_on_words_that_are_heard_both_ways() -> None:
    page = made(with_errors(plans.program_k(), "t", "key", "cow"))["helper"]
    data = EarData.model_validate(block(page))
    assert [word.word for word in data.words] == ["key", "cow"]
    assert data.words[0].right == "../clips/key-natural.mp3"
    assert data.words[0].wrong == "../clips/key-amiss-natural.mp3"
    assert data.words[0].told == "This was said with /t/ in place of \u2068k\u2069: missed."
    assert not data.words[0].between
    assert data.wording["marks.almost"] == wording("en")["rounds.marks.almost"]
    assert "<practice-ear hidden>" in page.html
    lateral = made(with_errors(plans.program_sh(), "lateral", "fish"))["helper"]
    assert EarData.model_validate(block(lateral)).words[0].between
    assert not any("<practice-ear" in page.html for page in made().values())


def test_no_ear_is_trained_where_the_voice_alone_tells_which_is_which() -> None:
    plan = with_errors(plans.program_k(), "t", "key", "cow")
    facts = plans.facts(plan)
    facts["key-amiss-natural"] = dataclasses.replace(plans.FACTS, voice="recorded")
    page = next(p for p in pages(plan, facts) if p.path == "helper")
    assert [word["word"] for word in block(page)["words"]] == ["cow"]  # type: ignore[attr-defined]


def test_what_checks_a_loudspeaker_is_no_voice_of_the_practice() -> None:
    facts = {
        key: dataclasses.replace(fact, voice="natural" if key == "s-long" else "recorded")
        for key, fact in plans.facts(BOTH).items()
    }
    found = {page.path: Reader(page.html).text for page in pages(BOTH, facts)}
    assert wording("en")["voices.recorded"] in found["about"]
    assert "Hibari" in found["about"]  # who made it is named all the same


def test_where_no_voice_is_fit_the_page_asks_the_helper() -> None:
    program = plans.program_k()
    silent = tuple(
        dataclasses.replace(s, items=tuple(dataclasses.replace(i, natural=None) for i in s.items))
        for s in program.steps
    )
    plan = dataclasses.replace(plans.plan(dataclasses.replace(program, steps=silent)), clips=())
    found = {page.path: page.html for page in pages(plan, {})}
    assert "<audio" not in found["k-words"] + found["sound"]
    assert "The helper says it first." in found["k-words"]
    assert "No clip is good enough here." in found["sound"]
    assert "Nothing is spoken on this site." in found["about"]


@pytest.mark.parametrize(
    ("program", "told"),
    [
        (plans.program_k(), "too short to say by itself"),
        (plans.program_sh(), "There is no clip of this sound"),
    ],
)
def test_why_a_sound_is_not_heard_by_itself(program: PlannedProgram, told: str) -> None:
    plan = plans.plan(dataclasses.replace(program, alone=None))
    found = {page.path: page.html for page in pages(plan, plans.facts(plan))}
    assert told in found["sound"]
    assert ('<strong dir="auto">“' in found["sound"]) == bool(program.reminder)


def test_wrong_examples_stand_on_the_page_for_the_helper_alone() -> None:
    wrong = plans.clip("tea-for-key")
    program = dataclasses.replace(plans.program_k(), wrong=(("key", plans.clip("key"), wrong),))
    plan = plans.plan(program)
    plan = dataclasses.replace(plan, clips=(*plan.clips, wrong))
    found = {page.path: page.html for page in pages(plan, plans.facts(plan))}
    assert [path for path, html in found.items() if wrong.path in html] == ["helper"]
    assert "Do not play it to the child" in found["helper"]


@pytest.mark.parametrize("helper", ["home", "self"])
def test_what_happens_in_a_sitting_comes_first_in_five_short_steps(helper: str) -> None:
    w = wording("en", helper)
    steps = [w[f"helper.sitting_steps.{k}"] for k in ("face", "hear", "say", "mark", "miss")]
    assert max(len(step.split()) for step in steps) <= 12
    html = made()["helper"].html
    assert html.index("sitting-steps") < html.index("h-rounds")
    assert html.count("step-drawing") == 5


def test_the_way_back_and_its_number_are_told() -> None:
    text = Reader(made()["helper"].html).text
    assert "After 3 misses in a row the child hears each word first again" in text
    assert "From “words” go back to “with a vowel”." in text
    assert "wet" in text  # what a lateral error sounds like


def test_a_step_that_is_gone_leads_to_today() -> None:
    page = made()["k-old-step"]
    links = [
        a for tag, a in Reader(page.html).tags if tag == "a" and a.get("id") == "gone-to-today"
    ]
    assert [a["href"] for a in links] == ["../"]


@pytest.mark.parametrize("model", MODELS, ids=lambda m: m.__name__)
def test_types_of_the_modules_are_the_same(model: type[BaseModel]) -> None:
    fields = {name: field.rebuild_annotation() for name, field in model.model_fields.items()}
    types = Types(folder() / "types.d.ts")
    assert types.shape(model.__name__) == mirrored(fields)
    assert list(types.interfaces[model.__name__]) == list(fields)


def test_a_page_holds_the_words_of_rounds_that_it_has() -> None:
    page = PageData.model_validate(block(made()["k-words"]))
    left_out = wording("en").part("rounds").keys() - page.wording.keys()
    assert {key.partition(".")[0] for key in left_out} == {"passage", "contrast", "yourself"}


def test_the_data_block_tells_the_clips_facts() -> None:
    page = PageData.model_validate(block(made()["sh-final-words"]))
    (step,) = page.steps
    clip = step.items[0].long
    assert clip is not None
    assert (clip.src, clip.voice, clip.spectral_mean) == (
        "../clips/fish-long.mp3",
        "embedded",
        2410.0,
    )
    assert page.wording.items() <= wording("en").part("rounds").items()
    assert step.easier == "sh-the-sound"
    assert [(easier.id, easier.name) for easier in page.easier] == [("sh-the-sound", "the sound")]


def test_a_clip_without_facts_is_our_own_fault() -> None:
    with pytest.raises(KeyError, match="cow-natural"):
        pages(BOTH, {k: f for k, f in plans.facts(BOTH).items() if k != "cow-natural"})


def nasty_plan(text: str) -> Plan:
    program = plans.program_k()
    item = plans.item("odd", ((text, True),))
    step = dataclasses.replace(program.steps[1], name=text, items=(item, *program.steps[1].items))
    program = dataclasses.replace(
        program,
        steps=(program.steps[0], step),
        reminder=text,
        cues=(("tongue", text),),
        example=text,
        error=text,
    )
    plan = plans.plan(program)
    contact = plan.clinic.contact.model_copy(update={"clinic": text, "hours": text})
    return dataclasses.replace(plan, clinic=plan.clinic.model_copy(update={"contact": contact}))


@pytest.mark.parametrize("text", NASTY, ids=range(len(NASTY)))
def test_any_text_is_shown_as_text(text: str) -> None:
    plan = nasty_plan(text)
    calm = {path: [t for t, _ in Reader(p.html).tags] for path, p in made(nasty_plan("x")).items()}
    for path, page in made(plan).items():
        reader = Reader(page.html)
        assert [tag for tag, _ in reader.tags] == calm[path]
        assert "`" not in page.html
        assert not re.search("[\x00-\x08\x0b-\x1f]", page.html)
    step = made(plan)["k-words"]
    (shown,) = PageData.model_validate(block(step)).steps
    assert shown.items[0].text == text
    visible = re.sub("[\x02\x03]", "", " ".join(text.split()))
    assert visible in " ".join(Reader(step.html).text.split())


def test_frame_holds_what_the_theme_needs() -> None:
    shown = theme_settings(edition(BOTH, "en"))
    assert shown["code"] == "otter-07"
    assert shown["emblem"] == shown["icon"] == "pictures/1F9A6.svg"
    steps = {step.id for program in BOTH.programs for step in program.steps}
    linked = [link["path"].strip("./") for link in shown["nav"]]
    # These two are linked from today's page: a sixth entry would take two lines on a phone.
    assert sorted([*linked, "reminder", "visit"]) == sorted(set(made()) - steps - {*BOTH.gone})
    assert shown["contact"]["phone"] == "+1 (555) 010 7788"
    assert (
        theme_settings(edition(dataclasses.replace(BOTH, emblem=None), "en"))["icon"]
        == "assets/favicon.svg"
    )


def test_letters_that_spell_the_target_are_set_off() -> None:
    html = made()["k-words"].html
    assert '<span class="target">c</span>ow' in html


def test_items_of_every_step_have_a_clip_to_hear_without_scripts() -> None:
    for program in BOTH.programs:
        for step in program.steps:
            html = made()[step.id].html
            assert all(_heard(item, html) for item in step.items)


def _heard(item: PlannedItem, html: str) -> bool:
    clips = [c for c in (item.natural, item.long) if c]
    return all(f'<audio controls preload="none" src="../{c.path}"' in html for c in clips)


# WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (borders and signs, 3:1).
PAIRS = [
    ("ink", "ground", 4.5),
    ("ink", "card", 4.5),
    ("ink", "tint", 4.5),
    ("ink", "alarm", 4.5),
    ("soft", "ground", 4.5),
    ("soft", "card", 4.5),
    ("river", "ground", 4.5),
    ("river", "card", 4.5),
    ("river", "alarm", 4.5),
    ("river-deep", "ground", 4.5),
    ("river-deep", "card", 4.5),
    ("river-deep", "tint", 4.5),
    ("on-river", "river", 4.5),
    ("on-river", "river-deep", 4.5),
    ("kingfisher", "card", 4.5),
    ("kingfisher", "ground", 4.5),
    ("on-paper", "paper", 4.5),
    ("edge", "card", 3.0),
    ("edge", "ground", 3.0),
    ("kingfisher", "alarm", 3.0),
    ("edge", "paper", 3.0),
]


def palettes() -> dict[str, dict[str, str]]:
    text = (folder() / "theme" / "assets" / "tokens.css").read_text("utf-8")
    light, dark = text.split("prefers-color-scheme: dark")
    found = [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", part)) for part in (light, dark)]
    return {"light": found[0], "dark": found[0] | found[1]}


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, from #rrggbb."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(("colour", "ratio"), [("#767676", 4.54), ("#777777", 4.48)])
def test_contrast_is_computed_as_published(colour: str, ratio: float) -> None:
    """Known values of WCAG's formula against white: #767676 just passes, #777777 just fails."""
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.01)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("front", "back", "least"), PAIRS)
def test_every_pair_of_colours_can_be_read(
    scheme: str, front: str, back: str, least: float
) -> None:
    palette = palettes()[scheme]
    assert contrast(palette[front], palette[back]) >= least


def test_no_colour_stands_outside_the_palette() -> None:
    for name in ("practice.css", "rounds.css", "stones.css"):
        text = (folder() / "theme" / "assets" / name).read_text("utf-8")
        screen = text.split("@media print")[0]
        assert re.findall(r"#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(", screen) == [], name


def test_no_step_can_take_the_place_of_a_page() -> None:
    steps = {step.id for program in BOTH.programs for step in program.steps}
    own = {page.path for page in pages(BOTH, plans.facts(BOTH))} - {"", *steps, *BOTH.gone}
    paths = (*(clip.path for clip in BOTH.clips), *(one.path for one in BOTH.pictures))
    folders = {path.partition("/")[0] for path in paths}
    assert own | folders <= set(RESERVED)
