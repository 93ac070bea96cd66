from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Mapping

import pytest

from builder.text.templates import folder
from builder.text.wording import (
    ALONE,
    ENGLISH,
    PARTS,
    READ,
    MissingWordingError,
    Wording,
    languages,
    parse,
    told_in,
    wording,
)
from tests.support.alone import not_for_adults
from tests.support.places import ROOT

WORDS = wording("en-US")


def test_words_are_read_by_dotted_name() -> None:
    words = parse("a:\n  b: Hello  there\n  no: yes\n", "x.yaml")
    assert words["a.b"] == "Hello there"
    assert words["a.no"] == "yes"
    assert words.part("a") == {"b": "Hello there", "no": "yes"}


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        pytest.param(lambda w: w["a.c"], "no wording for 'a.c' in x.yaml", id="a missing word"),
        pytest.param(lambda w: w.part("z"), "no wording under 'z' in x.yaml", id="a missing part"),
        pytest.param(
            lambda w: w.fill("a.b"), "wording 'a.b' needs a value for 'n'", id="a missing value"
        ),
    ],
)
def test_what_is_missing_is_a_loud_fault(ask, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(MissingWordingError) as raised:
        ask(parse("a: {b: '{n} of them'}", "x.yaml"))
    assert str(raised.value) == message


@pytest.mark.parametrize("text", ["a:\n", "a: ''", "a: [b]"], ids=["nothing", "empty", "a list"])
def test_a_word_without_text_is_refused(text: str) -> None:
    with pytest.raises(MissingWordingError, match=r"wording 'a' in x\.yaml is empty or no text"):
        parse(text, "x.yaml")


def test_an_unknown_language_is_a_loud_fault() -> None:
    with pytest.raises(MissingWordingError, match="no wording for the language 'tlh'"):
        wording("tlh")


def test_counting_and_filling() -> None:
    words = Wording({"t.one": "one try", "t.many": "{number} tries"})
    assert [words.count("t", n) for n in (1, 2, 0)] == ["one try", "2 tries", "0 tries"]


def test_what_is_filled_in_is_not_filled_again() -> None:
    assert Wording({"a": "<{x}>"}).fill("a", x="{y}") == "<{y}>"


def test_words_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        WORDS._words["a"] = "b"  # type: ignore[index]


def sources() -> str:
    site = ROOT / "builder" / "site"
    files = [
        *folder().glob("pages/*.html"),
        *folder().glob("root/*.html"),
        *folder().glob("theme/**/*.html"),
        *folder().glob("theme/**/*.js"),
        site / "pages.py",
        ROOT / "builder" / "make" / "mouth" / "told.py",
        ROOT / "builder" / "text" / "talk.py",
        *(site / "blocks").glob("*.py"),
    ]
    return "\n".join(file.read_text("utf-8") for file in files)


def test_no_word_is_there_in_vain() -> None:
    """Every word is named in some source, at least by the head that a choice is added to."""
    text = sources()
    unused = [key for key in WORDS if not _named(key, text)]
    assert unused == []


def _named(key: str, text: str) -> bool:
    """Whether a source names `key` whole, or a head of it to which a choice is added."""
    part, _, rest = key.partition(".")
    short = rest if part in ("rounds", "hiss", "ear", "visit", "reminder") else key
    counted = re.sub(r"\.(one|many)$", "", short)
    title = re.sub(r"^\w+\.(title|description)$", r"{kind}.\1", short)
    whole = (f'"{name}"' in text for name in (key, short, counted, title))
    parts = short.split(".")
    heads = (".".join(parts[:n]) for n in range(1, len(parts)))
    return any(whole) or any(
        re.search(rf'["`]{re.escape(h)}(\."|\.\$?{{|" ~)', text) for h in heads
    )


def test_every_word_that_the_modules_ask_for_is_there() -> None:
    scripts = "\n".join(f.read_text("utf-8") for f in folder().glob("theme/**/*.js"))
    told = ["hiss", "ear", "visit", "reminder"]
    for name, parts, many in (("say", ["rounds"], 20), ("tell", told, 30)):
        asked = set(re.findall(rf"\b{name}\(\"([\w.-]+)\"", scripts))
        assert len(asked) > many
        assert asked - {word for part in parts for word in WORDS.part(part)} == set()


NAMED = (  # a sentence, and the button or the page that it names
    ("today.hints", "helper.title"),
    ("helper.sitting_steps.hear", "rounds.hear"),
    ("helper.yourself", "rounds.yourself.record"),
    ("about.privacy_text.yourself", "rounds.yourself.record"),
    ("hiss.silent", "hiss.hear"),
    ("ear.silent", "ear.hear"),
    ("rounds.passage.help.telling", "rounds.passage.slip"),
    ("rounds.passage.help.talk", "rounds.passage.slip"),
)


@pytest.mark.parametrize("helper", ["home", "self"])
@pytest.mark.parametrize("language", languages())
def test_what_a_sentence_quotes_is_what_stands_on_the_button(language: str, helper: str) -> None:
    words = wording(language, helper)
    parted = [key for key, label in NAMED if f"“{words[label]}”" not in words[key]]
    assert parted == []


def test_no_interface_word_stands_in_the_templates() -> None:
    """Between the tags of a template there are only places, never words."""
    for file in folder().glob("pages/*.html"):
        text = re.sub(r"{#.*?#}|{%.*?%}|{{.*?}}|<[^>]*>", " ", file.read_text("utf-8"), flags=re.S)
        assert re.findall(r"[A-Za-z]{2,}", text) == [], file.name


def placeholders(text: str) -> list[str]:
    return sorted(re.findall(r"\{([a-z_]+)\}", text))


FURTHER = tuple(language for language in languages() if language != ENGLISH)


def differences(
    words: Wording, english: Wording, more: Mapping[str, str] | None = None
) -> list[str]:
    """The keys that one of two files lacks, or whose places to fill in differ. more: English words
    that may be said as well, though the English file has none of them."""
    asked = {**(more or {}), **english}
    return sorted(
        key
        for key in {*words, *english}
        if key not in words
        or key not in asked
        or placeholders(words[key]) != placeholders(asked[key])
    )


@pytest.mark.parametrize("language", FURTHER)
def test_every_language_says_everything(language: str) -> None:
    words, english = (split(told_in(f"{one}.yaml")) for one in (language, ENGLISH))
    assert differences(words[0], english[0]) == []
    # To one who is alone a language may say more things otherwise: English has one word for "you".
    assert differences(words[1], english[1], english[0]) == []


@pytest.mark.parametrize("language", FURTHER)
def test_two_languages_lie_side_by_side(language: str) -> None:
    """In the order of the English file, so that both are read line by line."""
    words, english = told_in(f"{language}.yaml"), told_in(f"{ENGLISH}.yaml")
    assert [key for key in words if key in english] == [key for key in english if key in words]


def split(words: Wording) -> tuple[Wording, Wording]:
    """What a file says to a family, and what it says otherwise to one who is alone."""
    alone = {key.removeprefix(ALONE): words[key] for key in words if key.startswith(ALONE)}
    rest = {key: words[key] for key in words if not key.startswith(ALONE) and key != READ}
    return Wording(rest), Wording(alone)


def test_what_a_language_lacks_is_found() -> None:
    english = parse("a: {b: '{n} of them', c: yes, d: no}", "en.yaml")
    other = parse("a: {b: '{m} of them', c: si, e: no}", "xx.yaml")
    assert differences(other, english) == ["a.b", "a.d", "a.e"]
    assert differences(other, english, parse("a: {e: no, f: '{n}'}", "more")) == ["a.b", "a.d"]


QUOTED = re.compile("“([^”{}]+)”")


def labels_lost(words: Wording, english: Wording, at: Mapping[str, str]) -> list[str]:
    """The keys under which English names something that stands on a button or a heading in these
    words, and the other language does not name it as it stands there. at: English labels' keys."""
    return [
        f"{key}: {words[at[name]]}"
        for key in english
        for name in QUOTED.findall(english[key])
        if name in at and f"“{words[at[name]]}”" not in words[key]
    ]


@pytest.mark.parametrize("helper", ["home", "self"])
@pytest.mark.parametrize("language", languages())
def test_what_is_quoted_stands_so_on_the_button(language: str, helper: str) -> None:
    words, english = (all_of(one, helper) for one in (language, "en"))
    at = {english[key]: key for key in english if key in words and "{" not in english[key]}
    assert labels_lost(words, english, at) == []


def all_of(language: str, helper: str) -> Wording:
    """Every word of a language to whom helps or practices alone."""
    parts = [wording(language, helper, part) for part in PARTS]
    return Wording({key: words[key] for words in parts for key in words})


def test_a_label_that_is_quoted_otherwise_is_found() -> None:
    english = Wording({"hear": "Hear it", "how": "Tap “Hear it” for a “rabbit”."})
    at = {"Hear it": "hear"}
    lost = Wording({"hear": "Escuchar", "how": "Toque “Oír”."})
    assert labels_lost(lost, english, at) == ["how: Escuchar"]
    assert labels_lost(Wording({**lost, "how": "Toque “Escuchar”."}), english, at) == []


VARIANTS = pytest.mark.parametrize("part", ["", "sheets"], ids=["pages", "sheets"])


def own(part: str) -> Wording:
    """What is said otherwise to who practices alone, in a part."""
    _, alone = split(told_in("en.yaml"))
    return Wording({key: alone[key] for key in alone if key in wording("en", part=part)})


def test_nothing_is_said_otherwise_that_is_not_said() -> None:
    ordinary, alone = split(told_in("en.yaml"))
    assert {*alone} <= {*ordinary}


@VARIANTS
def test_nothing_that_is_said_to_a_client_alone_speaks_of_a_child_or_a_helper(part: str) -> None:
    words = wording("en", "self", part)
    by_age = {key for key in words if key.startswith("talk.company.")}  # the bank chooses by it
    found = {key: said for key in {*words} - by_age if (said := not_for_adults(words[key]))}
    assert found == {}


@VARIANTS
def test_a_variant_says_otherwise_what_is_said_and_fills_in_no_more(part: str) -> None:
    ordinary, variant = wording("en", "home", part), own(part)
    assert [key for key in variant if variant[key] == ordinary[key]] == []
    assert all(set(placeholders(variant[k])) <= set(placeholders(ordinary[k])) for k in variant)


@VARIANTS
def test_with_a_helper_the_ordinary_words_are_said(part: str) -> None:
    for helper in ("home", "other home", "school"):
        assert dict(wording("en", helper, part)) == dict(wording("en", part=part))
    assert {**wording("en", part=part), **own(part)} == dict(wording("en", "self", part))


# What Merriam-Webster calls chiefly British, of words that such texts may have; cited from memory.
BRITISH = re.compile(
    r"\b(practis(e|ed|es|ing)(?!-word)|licences?|learnt|spelt|colours?|favourites?"
    r"|judgements?|grey|behaviours?|neighbours?|centres?|metres?|programmes?|whilst|mum|maths|pyjamas"
    r"|\w*(labell|levell|travell|cancell)(ed|ing)|(anal|paral)ys(e|ed|ing)"
    r"|(organ|recogn|real|apolog|emphas|memor)is(e|ed|es|ing))\b",
    re.IGNORECASE,
)


def test_no_british_spelling_stands_in_what_american_families_and_therapists_read() -> None:
    files = [*(folder() / "wording").glob("en*.yaml"), ROOT / "README.md"]
    assert len(files) == 3
    found = {file.name: BRITISH.findall(file.read_text("utf-8")) for file in files}
    assert {name: words for name, words in found.items() if words} == {}


def test_no_british_spelling_stands_in_what_the_commands_say() -> None:
    """In the strings of the modules that have more than one word."""
    files = sorted((ROOT / "builder").rglob("*.py"))
    said = [
        (file.name, text) for file in files for text in _strings(ast.parse(file.read_text("utf-8")))
    ]
    assert len(said) > 1000
    assert [one for one in said if BRITISH.search(one[1])] == []


def _strings(module: ast.Module) -> Iterator[str]:
    """The strings of a module that have more than one word, but docstrings."""
    alone = {id(node.value) for node in ast.walk(module) if isinstance(node, ast.Expr)}
    for node in ast.walk(module):
        text = node.value if isinstance(node, ast.Constant) and id(node) not in alone else ""
        if isinstance(text, str) and " " in text.strip():
            yield text


def test_british_spellings_are_found() -> None:
    for word in ("practises", "Licence", "learnt", "colour", "organised", "relabelled"):
        assert BRITISH.search(word), word
    for word in ("practices", "license", "learned", "color", "organized", "todo_practise"):
        assert not BRITISH.search(word), word


def test_words_for_a_child_are_found() -> None:
    """The ordinary wording is what the search must stumble over."""
    found = [key for key in WORDS if not_for_adults(WORDS[key])]
    assert {"helper.lead", "rounds.done_tries.many", "today.each_time"} < {*found}
