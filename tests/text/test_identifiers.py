from __future__ import annotations

import pytest

from builder.text.given_names import is_given_name, is_name_and_word
from builder.text.identifiers import identifiers
from builder.wordbank.norms import everyday


def kinds(text: str, *, prose: bool = False) -> list[str]:
    return [kind for kind, _ in identifiers(text, prose=prose)]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        # One of each category of 45 CFR 164.514(b)(2)(i) that a text can hold; invented.
        ("Ask Emma", "name"),  # A
        ("Mrs. Bellweather waits", "name"),
        ("emma-07", "name"),
        ("at Oak Hill School", "place"),  # B
        ("St. Brigid Preschool", "place"),
        ("12 Maple Tree Road", "place"),
        ("on March 14", "date"),  # C
        ("14 March 2019", "date"),
        ("in March 2019", "date"),
        ("3/14/19", "date"),
        ("2019-03-14", "date"),
        ("born in 2019", "date"),
        ("born March 14, 2019", "date"),
        ("4;11", "date"),  # years;months, as reports write an age
        ("4 years and 11 months", "date"),
        # Numbers that may be printed in fiction: 555-0100 to 555-0199 (North American Numbering
        # Plan), 020 7946 0000 to 0999 (Ofcom, telephone numbers for use in drama).
        ("(212) 555-0134", "telephone"),  # D, E
        ("212.555.0134", "telephone"),
        ("2125550134", "telephone"),
        ("555-0134", "telephone"),
        ("+44 20 7946 0958", "telephone"),
        ("kim.lee@mail.example.org", "email"),  # F
        ("078-05-1120", "number"),  # G: voided by its office, since a leaflet had printed it
        ("MRN 47-112", "number"),  # H
        ("record no. 112", "number"),
        ("policy number: X112", "number"),  # I, J
        ("00471120", "number"),
        ("www.example.org/a", "web"),  # N
        ("see example.org", "web"),
        ("192.0.2.17", "web"),  # O; of RFC 5737
        ("R48.2", "diagnosis"),  # ICD-10-CM: apraxia
        ("childhood apraxia of speech", "diagnosis"),
        ("He is dysarthric", "diagnosis"),
        ("Cleft lip", "diagnosis"),
        ("Down syndrome", "diagnosis"),
    ],
)
def test_each_kind_is_found_once(text: str, kind: str) -> None:
    assert kinds(text) == [kind]


@pytest.mark.parametrize(
    "text",
    [
        *("rose", "jack", "mark", "will", "grace", "may", "Jack has a jack."),
        *("I go to school.", "The school bus is here.", "My birthday is in May."),
        *("We march 5 miles.", "Count to 100.", "1, 2, 3, 4, 5, 6, 7", "a 5-minute walk"),
        *("Mom", "Grandpa", "teddy", "joey", "Monday", "down", "a cracked cup", "read the record"),
        *("It is 10:30.", "2 and 3/4 cups", "10-20", "A.M.", "We fly to Paris."),
    ],
)
def test_what_is_practised_every_day_is_nothing(text: str) -> None:
    assert kinds(text) == []


def test_a_word_is_a_name_where_only_a_name_has_a_capital() -> None:
    assert kinds("Remind Grace to wait.", prose=True) == ["name"]
    assert kinds("Remind Grace to wait.") == []  # a sentence to practice
    for text in (
        "Grace waits.",
        "Say: May I?",
        "Off. Will it do?",
        "In May or June, or on Sunday.",
    ):
        assert kinds(text, prose=True) == []


def test_the_very_words_are_given() -> None:
    found = list(identifiers("Emma's book is at Hill Park Elementary. Call 555-0134.", prose=True))
    assert found == [
        ("telephone", "555-0134"),
        ("place", "Hill Park Elementary"),
        ("name", "Emma"),
    ]


def test_names_most_given_are_known() -> None:
    # The ten most given to girls and to boys in 2023, Social Security Administration; from memory.
    girls = "Olivia Emma Charlotte Amelia Sophia Mia Isabella Ava Evelyn Luna"
    boys = "Liam Noah Oliver James Elijah Mateo Theodore Henry Lucas William"
    assert all(map(is_given_name, f"{girls} {boys}".split()))
    assert all(map(is_name_and_word, ["rose", "jack", "mark", "will", "grace", "may"]))


@pytest.mark.slow
def test_no_word_that_drafts_choose_from_is_asked_about() -> None:
    found = {word for word in everyday() if kinds(word)}
    # Rated as things, but diagnoses all the same.
    assert found == {"epilepsy", "paralyse", "paralysis"}
