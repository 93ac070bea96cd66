"""The Spanish words: plain to read, nothing left in English, marks on both sides of a question, and
one form of address for one who practices alone."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest

from builder.text.wording import Wording, wording

PARTS = ("", "sheets", "school")
WORDS = {part: wording("es", part=part) for part in PARTS}
ALONE = {part: wording("es", "self", part) for part in ("", "sheets")}

# Words that hold an English sentence together and are no Spanish words. Our own list, no source.
ENGLISH = re.compile(
    r"\b(the|of|and|you|your|is|are|was|this|that|these|it|its|for|with|from|to|in|on|by|or|not|what"
    r"|when|how|who|all|each|every|one|two|first|then|hear|say|tap|word|sound|child|helper|therapist)\b",
    re.IGNORECASE,
)
NAMES = re.compile(r"CC BY-SA 4\.0|SIL Open Font License 1\.1|Material for MkDocs|\{\w+\}")


def english_left(text: str) -> list[str]:
    return ENGLISH.findall(NAMES.sub("", text))


@pytest.mark.parametrize("words", [*WORDS.values(), *ALONE.values()])
def test_nothing_is_left_in_english(words: Wording) -> None:
    assert {key: left for key in words if (left := english_left(words[key]))} == {}


def test_english_that_is_left_is_found() -> None:
    english = wording("en")
    long = [key for key in english if len(english[key].split()) > 7]
    assert len(long) > 150
    assert [key for key in long if not english_left(english[key])] == []


@pytest.mark.parametrize("words", [*WORDS.values(), *ALONE.values()])
def test_questions_and_cries_begin_with_their_mark(words: Wording) -> None:
    """Ortografía de la lengua española (RAE and ASALE, 2010), the chapter on signs; from memory."""
    pairs = (("¿", "?"), ("¡", "!"), ("“", "”"), ("(", ")"))
    found = {
        key: words[key]
        for key in words
        if any(words[key].count(one) != words[key].count(other) for one, other in pairs)
    }
    assert found == {}


# What is said to a child (`tú`), to two at once, or of who helps. Our own list, no source.
NOT_TO_ONE = re.compile(
    r"\b(tú|dilo|dila|elige una|tócala|ponte|léelo|cuéntalo|recuerda:|escucha primero|vuelves"
    r"|miraste|escucha\.|espera\.|espera sin|mira y|quien ayuda|niñ[oa]s?|juntos|cara a cara"
    r"|ustedes|sonrisa|divertido|refrigerador)\b|!",
    re.IGNORECASE,
)
# What is asked of two: a plural verb that heads a sentence or follows "y", or has "lo" or "se".
OF_TWO = re.compile(
    r"(?:^|[.:;?!“”¿¡] *(?:no )?|, (?:y )?|\b(?:y|luego) )(?!(?:quien|bien|buen|también)\b)"
    r"(?!(?:son|están|salen|sirven|suenan)\b)(\w+[ae]n)\b|(\w*[áéíóú]\w*[ae]n(?:se|l[oa]s?))\b",
    re.IGNORECASE,
)
# Never shown to one who is alone.
OF_OTHERS = re.compile(r"\.(daily_school|listener|titles|own_boxes|choose_role)\b|^visit\.")


def test_one_who_practices_alone_is_addressed_as_one_and_formally() -> None:
    found = {
        key: match[0]
        for words in ALONE.values()
        for key in words
        if not OF_OTHERS.search(key)
        and (match := NOT_TO_ONE.search(words[key]) or OF_TWO.search(words[key]))
    }
    assert found == {}


def test_words_for_a_child_or_for_two_are_found() -> None:
    ordinary = WORDS[""]
    found = {key for key in ordinary if NOT_TO_ONE.search(ordinary[key])}
    assert {"rounds.say", "rounds.prompt.long.delayed"} < found
    of_two = {match[1] or match[2] for key in ordinary for match in OF_TWO.finditer(ordinary[key])}
    said = {verb.lower() for verb in of_two}
    assert {"siéntense", "miren", "terminen", "digan", "paren"} <= said
    assert OF_TWO.search("Descanse, y luego guarden el teléfono.")
    assert not OF_TWO.search("Descanse bien. Quien ayuda ya sabe que salen bien.")


VOWELS = "aeiouáéíóúü"
CLOSE = "iuü"  # without an accent these make a diphthong


def syllables(word: str) -> int:
    """Syllables by the letters: two vowels side by side are two, unless one is an i or u without an
    accent (Ortografía de la lengua española, 2010, on diphthongs; from memory)."""
    plain = re.sub(r"gu(?=[eiéí])", "g", word.lower().replace("qu", "q"))
    plain = re.sub(r"y$", "i", plain)
    apart = [
        at
        for at, sign in enumerate(plain)
        if sign in VOWELS
        and not (at and plain[at - 1] in VOWELS and {sign, plain[at - 1]} & {*CLOSE})
    ]
    return max(1, len(apart))


SYLLABLES = (
    ("casa", 2), ("día", 2), ("bueno", 2), ("quien", 1), ("guía", 2), ("aéreo", 4), ("oído", 3),
    ("terapeuta", 4), ("cuidado", 3), ("muy", 1), ("ahora", 3), ("vergüenza", 3), ("y", 1),
)  # fmt: skip


@pytest.mark.parametrize(("word", "number"), SYLLABLES)
def test_syllables(word: str, number: int) -> None:
    assert syllables(word) == number


def ease(texts: Iterable[str]) -> tuple[float, float]:
    """Reading ease by Fernández Huerta, 206.84 - 60 syllables/words - 1.02 words/sentences (1959,
    Consigna 214:29-32, as G. Law corrected it, LINGUIST List 22.2332), and by Szigriszt-Pazos,
    206.835 - 62.3 syllables/words - words/sentences, which the INFLESZ scale grades
    (Barrio-Cantalejo et al. 2008, An Sist Sanit Navar 31(2):135-152)."""
    said = (re.sub(r"\{\w+\}", "sol", text) for text in texts)
    sentences = [one for text in said for one in re.split(r"[.?!:…]+", text) if _words(one)]
    words = [word for one in sentences for word in _words(one)]
    a, b = sum(map(syllables, words)) / len(words), len(words) / len(sentences)
    return 206.84 - 60 * a - 1.02 * b, 206.835 - 62.3 * a - b


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W\d_]+", text)


@pytest.mark.parametrize("words", [*WORDS.values(), *ALONE.values()])
def test_sentences_are_very_easy_to_read(words: Wording) -> None:
    """80 and more are "very easy" on the INFLESZ scale, as in the first years of school, and "easy"
    by Fernández Huerta, as for grade 5 or 6. Bounds from memory."""
    sentences = [words[key] for key in words if len(_words(words[key])) > 4]
    assert min(ease(sentences)) >= 80
    long = [words[key] for key in words if len(_words(words[key])) > 24]
    assert {text: round(at) for text in long if (at := min(ease([text]))) < 65} == {}


def test_a_hard_sentence_is_found() -> None:
    hard = "La articulación incorrecta requiere intervenciones fonoaudiológicas individualizadas."
    assert max(ease([hard])) < 40
