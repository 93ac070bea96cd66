from __future__ import annotations

from typing import get_type_hints

import pytest

from builder.audio.assess.issue import Issue
from builder.recordings.page.assess import Assessment
from builder.recordings.page.cards import Card, Letters, by_id, cards
from builder.recordings.prompts import Prompt, prompts
from builder.recordings.takes import Take
from builder.text import templates
from tests.support.clients import client_of
from tests.support.recording_server import HELD, WORDS, asked
from tests.support.typescript import Types, mirrored


def letters(prompt: Prompt) -> Letters:
    """The text of its card, cut up."""
    (card,) = cards(by_id([prompt]), {})
    return card.letters


def take(path: str, word: str = "good", state: str = "accepted", *, heard: bool = False) -> Take:
    remark = Issue("noise", "warning", "The room is noisy.", "35 dB")
    return Take(
        path=path,
        digest="d",
        target=None,
        verdict=word,  # type: ignore[arg-type]
        issues=(remark,),
        rank=1.0,
        loudness=-20.0,
        state=state,  # type: ignore[arg-type]
        heard=heard,
    )


def test_every_prompt_is_a_card_in_its_order() -> None:
    found = cards(asked(), {})
    assert [card.id for card in found] == list(asked())
    assert {card.text: card.alone for card in found} == {"k": True, "key": False, "cow": False}
    assert {card.state for card in found} == {"missing"}


def test_letters_that_spell_the_target_are_set_off() -> None:
    found = {p.text: letters(p) for p in asked().values()}
    assert found["key"] == (("k", True), ("ey", False))
    assert found["k"] == (("k", True),)
    phrase = WORDS.replace("words: [key, cow]\n", "").replace(
        "{name: words, level: word, rounds: [natural imitation]}",
        "{name: words, level: phrase, items: ['Thank you, my cow!']}",
    )
    assert dict(asked(phrase))["thank-you-my-cow"]
    (text,) = [letters(p) for p in asked(phrase).values() if not p.utterance.alone]
    assert "".join(part for part, _ in text) == "Thank you, my cow!"
    assert [part for part, on in text if on] in (["nk"], ["k"], ["c"])


def test_what_is_recorded_is_said_of_the_best() -> None:
    prompt = asked()["cow"]
    found = {"cow": prompt}
    for word, state, says in (
        ("good", "accepted", "good"),
        ("doubtful", "accepted", "doubtful"),
        ("again", "accepted", "again"),
        ("good", "unheard", "unheard"),
        ("again", "unheard", "again"),
    ):
        (card,) = cards(
            found, {prompt.utterance: (take("x/cow-2.wav", word, state), take("x/cow.wav"))}
        )
        assert card.state == says
        assert card.files == ("cow-2.wav", "cow.wav")
        assert card.reasons == (("The room is noisy.", "35 dB"),)
        assert card.digest == "d"


def test_a_doubtful_one_that_somebody_called_right_is_told_apart() -> None:
    prompt = asked()["cow"]
    (card,) = cards({"cow": prompt}, {prompt.utterance: (take("cow.wav", "doubtful", heard=True),)})
    assert card.state == "heard"


def test_prompts_that_share_a_file_have_names_of_their_own() -> None:
    other = HELD.replace("sound: s", "sound: l").replace("medial", "initial").replace("icy", "leaf")
    both = by_id(prompts([client_of(HELD), client_of(other)]))
    found = [card for card in cards(both, {}) if card.text == "lesson" and card.form == "long"]
    assert [card.id for card in found] == ["lesson-long", "lesson-long-2"]
    assert {card.stem for card in found} == {"lesson-long"}
    assert {card.sound for card in found} == {"s", "l"}
    assert not any(card.replaceable for card in found)


@pytest.mark.parametrize("shape", [Card, Assessment], ids=lambda s: s.__name__)
def test_the_page_knows_the_same_shapes(shape: type[Card | Assessment]) -> None:
    types = Types(templates.folder() / "recording_page" / "types.d.ts")
    hints = get_type_hints(shape)
    assert types.shape(shape.__name__) == mirrored(hints)
    assert list(types.interfaces[shape.__name__]) == list(hints)
