from __future__ import annotations

import re
from dataclasses import replace
from html import escape

import pytest

from builder import checks
from builder.audio.assess.issue import Issue
from builder.audio.voices import missing_modules
from builder.audio.voices.suitability import suitability_of
from builder.planning.make_plan import SiteContext, make, without_missing
from builder.recordings.prompts import client_prompts
from builder.recordings.takes import Take
from builder.site.proof import proof_page, speakable, unused_takes, with_all_steps
from builder.site.unsaid import reasons
from tests.support.clients import NOTHING, client_of
from tests.support.plans import FACTS

TEXT = """\
sound: k
mastered: {syllable: 2026-11-02}
current: words
because: {few-tries: enough to begin with}
words:
  - key
  - kpt
  - word: <b>cow</b>
  - duck
  - cup
steps:
  - {name: words, level: word, rounds: [long imitation]}
  - {name: two words, level: phrase, items: [my key, a shoe]}
"""


def proof_of(text: str) -> str:
    client = client_of(text)
    plan = make(with_all_steps(client), NOTHING, SiteContext("abc", {"embedded": "1"}))
    return proof_page(client, plan, checks.run(client, NOTHING), {}, NOTHING)


def told_at_once(html: str) -> str:
    """The page without what opens on a tap."""
    return re.sub(r"<details.*?</details>", "", html, flags=re.DOTALL)


def test_figures_of_clips_are_said_in_words_and_stand_behind() -> None:
    client = client_of("""\
sound: s
mastered: {isolation: 2026-10-02, syllable: 2026-11-02}
current: words
words: [sun, soap, soup, seal, saw]
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation]}
""")
    plan = make(with_all_steps(client), NOTHING, SiteContext("abc", {"embedded": "1"}))
    facts = {clip.key: replace(FACTS, spectral_mean=6300.0) for clip in plan.clips}
    html = proof_page(client, plan, (), facts, NOTHING)
    held = (FACTS.end or 0) - (FACTS.start or 0)
    assert f"Long, the sound held for about {held:.1f} seconds, " in told_at_once(html)
    assert "kHz" not in told_at_once(html)
    assert "6.3 kHz" in html


def test_every_step_and_item_is_there_published_or_not() -> None:
    html = proof_of(TEXT)
    for text in ("ey</div>", "kpt", "duck", "shoe", "two words", "later, not published"):
        assert text in html


def test_the_proof_plays_what_is_doubtful_and_tells_how_to_use_it() -> None:
    client = client_of(TEXT)
    asked = {p.utterance.stem: p.utterance for p in client_prompts(client)}
    noise = Issue("noise", "warning", "The room is noisy.", "35 dB")
    doubtful = Take(
        path="takes/key.wav",
        digest="0123456789abcdef",
        target=None,
        verdict="doubtful",
        issues=(noise,),
        rank=0.0,
        loudness=None,
    )
    error = replace(doubtful, path="takes/wrong/t/duck.wav", digest="fedcba9876543210")
    survey = replace(NOTHING, takes={asked["key"]: (doubtful,)}, wrong={asked["duck"]: error})
    plan = make(with_all_steps(client), survey, SiteContext("abc", {"embedded": "1"}))
    html = proof_page(client, plan, (), {}, survey)
    assert "The room is noisy." in told_at_once(html)
    assert "35 dB" not in told_at_once(html)
    assert "The room is noisy. Measured: 35 dB." in html
    assert "2 doubtful recordings are not used yet" in html
    typed = re.sub("<[^>]+>", "", html)
    assert "--heard --right key,wrong/t/duck, and record the others" in typed
    assert "key.wav is not used yet: it is doubtful." in html
    played = unused_takes(client, survey)
    assert {take.path for take in played.values()} == {doubtful.path, error.path}
    assert all(f'src="{place}"' in html for place in played)
    used = replace(survey, takes={asked["key"]: (replace(doubtful, heard=True),)}, wrong={})
    html = proof_page(client, plan, (), {}, used)
    assert "doubtful, but you heard it and called it right" in html
    assert "not used yet" not in html


def test_the_proof_tells_why_no_voice_says_an_item() -> None:
    """No machine holds a θ; and one clip was judged to teach an error when it was finished."""
    client = client_of("""\
sound: /θ/
position: [final]
mastered: {syllable: 2026-11-02}
current: words
words: {final: [bath, tooth, mouth]}
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation]}
""")
    plan = make(with_all_steps(client), NOTHING, SiteContext("abc", {"embedded": "1"}))
    facts = {c.key: FACTS for c in plan.clips if c.text != "tooth"}
    why = reasons(plan, facts, lambda key: "A <voice> sounds after it (90 ms).")
    html = proof_page(client, without_missing(plan, facts), (), facts, NOTHING, why)
    assert html.count("long: the helper says it. No voice does: ") == 3
    assert html.count(escape(suitability_of("embedded", "TH", "long", "final").reason)) == 3
    assert "natural: the helper says it. No voice does: A &lt;voice&gt; sounds after it" in html
    assert html.count("No voice does") == 4


@pytest.mark.skipif(bool(missing_modules("natural")), reason="no natural voice here")
def test_the_proof_tells_why_the_voice_that_was_asked_is_not_heard() -> None:
    """The natural voice says no last /z/ with a voice in it."""
    client = client_of("""\
sound: z
voice: natural
position: [final]
mastered: {syllable: 2026-11-02}
current: words
words: {final: [nose, cheese, eyes]}
steps:
  - {name: words, level: word, rounds: [natural imitation]}
""")
    plan = make(
        with_all_steps(client), NOTHING, SiteContext("abc", {"natural": "1", "embedded": "1"})
    )
    facts = {clip.key: FACTS for clip in plan.clips}
    html = proof_page(client, plan, (), facts, NOTHING)
    told = suitability_of("natural", "Z", "natural", "final").reason
    assert html.count(f"Not the voice that was asked for: {escape(told)}.") == 3
    natural = {key: replace(fact, voice="natural") for key, fact in facts.items()}
    assert "Not the voice that was asked" not in proof_page(client, plan, (), natural, NOTHING)


def test_each_finding_stands_once_and_beside_its_item() -> None:
    html = proof_of(TEXT)
    for rule in ("pronunciation", "position", "no-hold"):
        assert html.count(f", {rule})") == 1, rule
    card = html[html.index(">kpt<") : html.index("&lt;")]
    assert "The pronunciation of &#39;kpt&#39; is not known" in card
    card = html[html.index("uck") :][:600]
    assert "its /k/ is final, not initial" in card


def test_words_are_shown_as_text() -> None:
    html = proof_of(TEXT)
    assert "<b>cow" not in html
    assert "&lt;b&gt;" in html


def test_only_what_can_be_said_is_made() -> None:
    client = with_all_steps(client_of(TEXT))
    plan = make(client, NOTHING, SiteContext("abc", {"embedded": "1"}))
    forms = {(clip.text, clip.form) for clip in speakable(plan) if not clip.alone}
    assert ("key", "natural") in forms
    assert ("key", "long") not in forms
    assert ("kpt", "natural") not in forms


def test_the_proof_tells_which_words_are_said_by_another_voice_and_why() -> None:
    client = client_of("""\
sound: s
position: [final]
mastered: {syllable: 2026-11-02}
current: words
words: {final: [bus, house, mouse]}
steps:
  - {name: words, level: word, rounds: natural imitation}
""")
    plan = make(with_all_steps(client), NOTHING, SiteContext("abc", {"embedded": "1"}))
    facts = {clip.key: FACTS for clip in plan.clips}
    assert "The voice changes" not in proof_page(client, plan, (), facts, NOTHING)
    (house,) = (clip.key for clip in plan.clips if clip.text == "house")
    facts[house] = replace(FACTS, voice="natural", instead="It says <s> badly.")
    html = proof_page(client, plan, (), facts, NOTHING)
    told = (
        "The voice changes in the natural form. Most words: the embedded voice."
        " The woman&#39;s voice: “house” (It says &lt;s&gt; badly)."
    )
    assert told in html


def test_how_a_sitting_ends_is_shown_and_heard() -> None:
    html = proof_of(TEXT)
    assert 'aria-label="You did it!"' in html
    helper = proof_of(f"voice: helper\n{TEXT}")
    assert "asks the helper to say" in helper
    assert "<audio" not in helper
    assert "The end of a sitting" not in proof_of(f"path: no\n{TEXT}")
    alone = proof_of(f"helper: self\npath: yes\n{TEXT}")
    assert "The end of a sitting" in alone
    assert "You did it" not in alone
