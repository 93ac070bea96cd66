"""Subsets of the two faces: small, renamed, with their notices, the same every time."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont

from builder.make import fonts
from builder.workspace.store import Store

SOUNDS = "ʃʒθðŋɹɝɚæʌʊɪɔɑˈˌː" + "t\u0361ʃ" + "n\u0325"


def opened(data: bytes) -> Any:
    return TTFont(io.BytesIO(data))


def names(font: Any, *numbers: int) -> set[str]:
    return {str(n) for n in font["name"].names if n.nameID in numbers}


def axes(font: Any) -> list[tuple[str, float, float]]:
    return [(a.axisTag, a.minValue, a.maxValue) for a in font["fvar"].axes]


def test_letters(store: Store) -> None:
    data = fonts.letters(["cow", "niño"], store)
    font = opened(data)
    assert font.flavor == "woff2"
    assert len(data) < 20_000
    assert set(map(ord, "cowAZ09ñ’")) <= set(font.getBestCmap())


def test_no_reserved_name_is_presented_and_the_notices_stay(store: Store) -> None:
    font = opened(fonts.letters([], store))
    assert names(font, 1) == {"Practice Letters"}
    assert not any("abeezee" in n.lower() for n in names(font, 1, 3, 4, 6, 16, 17, 25))
    assert any("ABeeZee Project Authors" in n for n in names(font, 0))
    assert any("SIL Open Font License" in n for n in names(font, 13))


@pytest.mark.slow
def test_text_has_its_weights_and_what_is_written_but_no_sounds(store: Store) -> None:
    data = fonts.text_face(["façade", "fish /fɪʃ/"], store)
    font = opened(data)
    assert set(map(ord, "fishAZ09ç’/")) <= set(font.getBestCmap())
    assert not set(map(ord, "ɪʃʒθɹɝˈː")) & set(font.getBestCmap())
    assert names(font, 1) == {"Practice Text"}
    assert axes(font) == [("wght", 400, 700)]
    assert len(data) < 16_000


@pytest.mark.slow
def test_the_phonetic_face_has_all_sounds_with_the_letters_below_their_marks(store: Store) -> None:
    font = opened(fonts.phonetic_face([], store))
    assert set(map(ord, SOUNDS)) <= set(font.getBestCmap())
    assert names(font, 1) == {"Practice Phonetic"}
    assert axes(font) == [("wght", 400, 700)]


def test_the_same_characters_give_the_same_bytes(store: Store, tmp_path: Path) -> None:
    assert fonts.letters(["ab", "cñ"], store) == fonts.letters(["ñcab"], Store(tmp_path))


def test_ordinary_words_share_one_file(tmp_path: Path) -> None:
    store = Store(tmp_path)
    fonts.letters(["cow"], store)
    fonts.letters(["a fish, a dish!"], store)
    fonts.letters(["a page\n\tof lines\r\n"], store)
    assert len(list(tmp_path.rglob("*.woff2"))) == 1


def test_a_stored_subset_needs_no_fonttools(tmp_path: Path) -> None:
    fonts.letters(["cow"], Store(tmp_path))
    code = (
        "import sys; from pathlib import Path; from builder.make import fonts;"
        "from builder.workspace.store import Store;"
        "fonts.letters(['cow'], Store(Path(sys.argv[1])));"
        "print('fontTools' in sys.modules)"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    run = subprocess.run(command, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"


def test_without_sign() -> None:
    assert fonts.without_sign("cow ʃ 😀ש😀") == "ש😀"


def test_the_whole_faces_and_their_licences_are_there() -> None:
    assert all(any(folder.glob("*.ttf")) for folder in fonts.folder_of_faces())
    assert all("SIL OPEN FONT LICENSE" in fonts.licence(face) for face in fonts.FACES)
