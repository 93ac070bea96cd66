from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.phonetics.inventory import (
    Sound,
    UnknownSoundError,
    ipa_of,
    parse_sound,
    phones_of_ipa,
    sounds,
)
from builder.phonetics.lexicon.dictionary import pronunciations


@pytest.mark.parametrize(
    ("typed", "symbol"),
    [
        pytest.param("sh", "SH", id="two letters"),
        pytest.param(" Ch ", "CH", id="capitals and spaces do not matter"),
        pytest.param("ng", "NG", id="ng"),
        pytest.param("er", "ER", id="vocalic r"),
        pytest.param("air", "EHR", id="vowel + r by its name"),
        pytest.param("k", "K", id="one letter"),
        pytest.param("oo", "UW", id="a vowel by its letters"),
        pytest.param("ʃ", "SH", id="plain IPA"),
        pytest.param("/j/", "Y", id="between slashes it is IPA"),
        pytest.param("/r/", "R", id="the plain r of IPA as Americans write it"),
        pytest.param("/g/", "G", id="the letter g for the sign ɡ"),
        pytest.param("/t͡ʃ/", "CH", id="a tie"),
        pytest.param("/ʧ/", "CH", id="the old ligature"),
        pytest.param("/ɑr/", "AAR", id="vowel + r with a plain r"),
        pytest.param("/ɚ/", "ER", id="unstressed er"),
        pytest.param("/ɜr/", "ER", id="er as two signs"),
        pytest.param("/o/", "OW", id="o is the diphthong of American English"),
    ],
)
def test_parse_sound(typed: str, symbol: str) -> None:
    assert parse_sound(typed).symbol == symbol


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("j", "`j` could be two sounds: write `/dʒ/` as in 'jam' or `/j/` as in 'yarn'"),
        ("y", "`y` could be two sounds: write `/j/` as in 'yarn' or `/i/` as in 'feet'"),
        ("th", "`th` could be two sounds: write `/θ/` as in 'thin' or `/ð/` as in 'then'"),
        ("TH", "`th` could be two sounds: write `/θ/` as in 'thin' or `/ð/` as in 'then'"),
        ("c", "`c` could be two sounds: write `/k/` as in 'kite' or `/s/` as in 'soup'"),
        ("u", "`u` could be two sounds: write `/ʌ/` as in 'mud' or `/u/` as in 'moon'"),
    ],
)
def test_what_could_be_two_sounds_is_asked_back(typed: str, message: str) -> None:
    with pytest.raises(UnknownSoundError) as raised:
        parse_sound(typed)
    assert str(raised.value) == message


@pytest.mark.parametrize("typed", ["", "  ", "//", "q", "xyz", "/ʘ/", "🐍"])
def test_what_is_no_sound_is_refused_with_a_way_out(typed: str) -> None:
    with pytest.raises(UnknownSoundError, match="is not a sound this tool knows; write it as in"):
        parse_sound(typed)


@pytest.mark.parametrize("symbol", sounds())
def test_the_example_of_a_sound_holds_it(symbol: str) -> None:
    forms = [[p.rstrip("012") for p in form] for form in pronunciations(sounds()[symbol].example)]
    ways = [list(way) for way in sounds()[symbol].phones]
    found = [w for w in ways for f in forms for i in range(len(f)) if f[i : i + len(w)] == w]
    assert found


@pytest.mark.parametrize("sound", sounds().values(), ids=lambda s: s.symbol)
def test_every_name_that_may_be_typed_means_one_sound(sound: Sound) -> None:
    assert parse_sound(sound.typed or f"/{sound.ipa}/") == sound


@pytest.mark.parametrize(
    ("ipa", "phones"),
    [
        pytest.param("kæf", "K AE1 F", id="one syllable is stressed by itself"),
        pytest.param("/kʌp/", "K AH1 P", id="slashes are left out"),
        pytest.param("[kʌp]", "K AH1 P", id="brackets are left out"),
        pytest.param("ˈkæfəˌteɪ", "K AE1 F AH0 T EY2", id="stress marks are read"),
        pytest.param("ɔˈθɛntɪk", "AO0 TH EH1 N T IH0 K", id="the mark stands before the onset"),
        pytest.param("əɡoʊ", "AH0 G OW1", id="without a mark the first full vowel is stressed"),
        pytest.param("əbet", "AH0 B EY1 T", id="the e of other transcriptions is a full vowel"),
        pytest.param("ðə", "DH AH1", id="a schwa alone is stressed for want of another"),
        pytest.param("tʃɪn", "CH IH1 N", id="an affricate is one sound"),
        pytest.param("t͡ʃɪn", "CH IH1 N", id="with its tie too"),
        pytest.param("nʌt.ʃɛl", "N AH1 T SH EH0 L", id="a dot keeps two sounds apart"),
        pytest.param("aɪs kriːm", "AY1 S K R IY0 M", id="spaces and length are left out"),
        pytest.param("haɪ", "HH AY1", id="a diphthong is one vowel"),
        pytest.param("hwɛl", "HH W EH1 L", id="h and w are two sounds"),
        pytest.param("ʍɛl", "W EH1 L", id="the turned w is the dictionary's W"),
        pytest.param("dɪɹ", "D IH1 R", id="vowel + r is two phones"),
        pytest.param("dɪr", "D IH1 R", id="a plain r is the sound of red"),
        pytest.param("bɝd", "B ER1 D", id="er"),
        pytest.param("bɜːrd", "B ER1 D", id="er with length and r is one phone"),
        pytest.param("sɪstər", "S IH1 S T ER0", id="schwa + r at the end of a syllable is one"),
        pytest.param("əˈraʊnd", "AH0 R AW1 N D", id="schwa and the r of the next syllable are two"),
        pytest.param("bɑtl̩", "B AA1 T AH0 L", id="a syllabic l is written as the dictionary does"),
        pytest.param("ˈbʌtn̩", "B AH1 T AH0 N", id="a syllabic n"),
        pytest.param("pʰæt", "P AE1 T", id="fine detail is left out"),
        pytest.param("skw", "S K W", id="a cluster without a vowel"),
    ],
)
def test_phones_of_ipa(ipa: str, phones: str) -> None:
    assert phones_of_ipa(ipa) == tuple(phones.split())


@pytest.mark.parametrize(
    ("ipa", "message"),
    [
        ("kqf", "`q` in the pronunciation `kqf` is not a sign of IPA; write IPA as in `kæf`"),
        ("kæ9", "`9` in the pronunciation `kæ9` is not a sign of IPA; write IPA as in `kæf`"),
        ("", "the pronunciation `` holds no sound; write IPA as in `kæf`"),
        ("/ˈ/", "the pronunciation `/ˈ/` holds no sound; write IPA as in `kæf`"),
    ],
)
def test_bad_ipa_has_one_clear_message(ipa: str, message: str) -> None:
    with pytest.raises(UnknownSoundError) as raised:
        phones_of_ipa(ipa)
    assert str(raised.value) == message


@given(st.lists(st.sampled_from([s for s in sounds() if len(sounds()[s].phones[0]) == 1])))
def test_ipa_with_dots_is_read_back(symbols: list[str]) -> None:
    ipa = ".".join(sounds()[symbol].ipa for symbol in symbols)
    if symbols:
        assert [p.rstrip("012") for p in phones_of_ipa(ipa)] == symbols


@given(st.text(max_size=12))
def test_any_text_gives_phones_or_a_message(text: str) -> None:
    for read in (phones_of_ipa, parse_sound):
        with suppress(UnknownSoundError):
            assert read(text)


def test_ipa_of_a_word() -> None:
    assert ipa_of(("S", "IH1", "Z", "ER0", "Z")) == "sɪzɚz"
