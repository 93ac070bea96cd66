"""The aligner beside borders and figures that are not its own.

- The borders that the embedded voice (eSpeak NG) reports of what it speaks.
- The features, likelihoods and alignment of the library whose model is read: PocketSphinx 5
  (D. Huggins-Daines et al.: PocketSphinx: a free, real-time continuous speech recognition system
  for hand-held devices. ICASSP 2006), without its cancelling of noise.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from builder.audio.align import acoustic_model, mfcc
from builder.audio.align.forced import align
from builder.audio.speech import Samples
from builder.packages import needed
from tests.benchmarks.alignment import MEDIAN_MS, PERCENTILE_95_MS, REPORTED, SPEAKERS, miss, words
from tests.support.audio import place, say

LIBRARY = pytest.mark.skipif(sys.version_info >= (3, 12), reason="pocketsphinx has no wheel here")
READ = ("mdef", "means", "variances", "sendump", "transition_matrices")
UNIT = 1024 * np.log(1.0001)  # nepers of the library's scores
ALIGNED = [("seal", "S"), ("missing", "S"), ("sunflower", "F"), ("basket", "K"), ("machine", "SH")]


def heard() -> Samples:
    """A word at 16 kHz with some silence and hiss, as 16-bit numbers hold it."""
    import soxr

    speech = say("seal", "S")
    low = np.pad(soxr.resample(speech.samples, speech.rate, mfcc.RATE_HZ), 3200)
    low += 3e-4 * np.random.default_rng(0).standard_normal(len(low))
    return np.asarray(np.round(low * 20000) / mfcc.FULL_SCALE)


def library_model() -> Path:
    """The library's own copy of the model."""
    return Path(import_module("pocketsphinx").get_model_path()) / "en-us/en-us"


def decoder(folder: Path, **options: object) -> Any:
    """The library with our features."""
    model = library_model()
    params = (model / "feat.params").read_text()
    (folder / "params").write_text(params.replace("-remove_noise yes", "-remove_noise no"))
    library: Any = import_module("pocketsphinx")  # it carries no types
    return library.Decoder(
        hmm=str(model),
        lm=None,
        dict=None,
        loglevel="FATAL",
        featparams=str(folder / "params"),
        bestpath=False,
        **options,
    )


def listen(library: Any, samples: Samples) -> None:
    library.start_utt()
    library.process_raw((samples * mfcc.FULL_SCALE).astype(np.int16).tobytes(), full_utt=True)
    library.end_utt()


@pytest.fixture(scope="module")
def theirs(tmp_path_factory: pytest.TempPathFactory) -> tuple[Samples, NDArray[np.float64]]:
    """Cepstra, and what each plain state costs more than the best one, of every frame."""
    folder = tmp_path_factory.mktemp("library")
    logs = {"mfclogdir": str(folder), "senlogdir": str(folder)}
    library = decoder(folder, compallsen=True, pl_window=0, topn=128, **logs)
    library.add_word("a", "AH", True)
    library.add_jsgf_string("a", "#JSGF V1.0;\ngrammar a;\npublic <a> = a;\n")
    library.activate_search("a")
    listen(library, heard())
    (made,), (scored,) = folder.glob("*.mfc"), folder.glob("*.sen")
    rows = np.frombuffer(made.read_bytes(), ">f4", offset=4).reshape(-1, mfcc.CEPSTRA)
    data = scored.read_bytes()
    all_states = int(data.split(b"n_sen ")[1].split()[0])
    start = data.index(acoustic_model.HEADER_END) + len(acoustic_model.HEADER_END) + 4
    costs = np.frombuffer(data[start:], "<i2").reshape(-1, 1 + all_states)
    plain = costs[:, 1 : 1 + len(acoustic_model.load().phones) * acoustic_model.STATES] * UNIT
    return rows.astype(np.float64), plain - plain.min(axis=1, keepdims=True)


@LIBRARY
@pytest.mark.parametrize("name", READ)
def test_the_model_is_the_one_of_the_library(name: str) -> None:
    ours = needed(acoustic_model.PACKAGE) / acoustic_model.FOLDER / name
    assert ours.read_bytes() == (library_model() / name).read_bytes()


@LIBRARY
def test_cepstra_are_those_of_the_library(
    theirs: tuple[Samples, NDArray[np.float64]],
) -> None:
    mine = mfcc.mfcc_features(heard())[0][:, : mfcc.CEPSTRA]
    rows = theirs[0][: len(mine)]
    assert np.ptp(rows - mine, axis=0) == pytest.approx(0, abs=1e-3)  # but for one mean


@LIBRARY
def test_likelihoods_are_those_of_the_library(
    theirs: tuple[Samples, NDArray[np.float64]],
) -> None:
    rows, costs = theirs
    cep = rows - rows.mean(axis=0)
    ends = np.pad(cep, ((3, 3), (0, 0)), mode="edge")
    first = ends[4:] - ends[:-4]
    moves = [cep, first[1:-1], first[2:] - first[:-2]]
    likely = acoustic_model.likelihoods(np.concatenate(moves, axis=1).astype(np.float32))
    mine = likely.reshape(len(likely), -1)
    mine = mine.max(axis=1, keepdims=True) - mine
    near = mine < 4  # nepers; the library cuts off what is far
    assert near.sum() > 500
    assert np.median(np.abs(mine - costs)[near]) < 0.3  # three of its units


@LIBRARY
@pytest.mark.parametrize(("word", "symbol"), ALIGNED)
def test_phones_lie_where_the_library_puts_them(word: str, symbol: str, tmp_path: Path) -> None:
    import soxr

    speech = say(word, symbol)
    phones = place(word, symbol)[0]
    low = np.pad(soxr.resample(speech.samples, speech.rate, mfcc.RATE_HZ), 3200)
    low += 3e-4 * np.random.default_rng(0).standard_normal(len(low))
    library = decoder(tmp_path)
    library.add_word("word", " ".join(p.rstrip("012") for p in phones), True)
    library.set_align_text("word")
    listen(library, low * 0.6)
    library.set_alignment()
    listen(library, low * 0.6)
    entries = [phone for part in library.get_alignment() for phone in part]
    other = [p.start / 100 - 0.2 for p in entries if p.name != "SIL"]
    found = align(speech.samples, speech.rate, (phones,))
    assert found is not None
    mine = [start / speech.rate for start, _ in found.spans]
    assert np.median(np.abs(np.array(mine) - other)) < 0.03


def test_targets_lie_where_the_embedded_voice_says() -> None:
    chosen = [word for word in words() if word.sound in REPORTED and not word.seen]
    speakers = list(SPEAKERS)
    misses = [miss(word, speakers[at % len(speakers)]) for at, word in enumerate(chosen)]
    off = np.abs([(m.start, m.stop) for m in misses])
    assert len(off) == 48
    assert not np.isnan(off).any()
    assert np.all(np.median(off, axis=0) <= MEDIAN_MS)
    assert np.all(np.percentile(off, 95, axis=0) <= PERCENTILE_95_MS)


def test_in_nasals_and_liquids_too() -> None:
    # There the voice's own border is looked for on the spectrum, and for l and r a convention.
    chosen = [word for word in words() if word.sound not in REPORTED and not word.seen]
    misses = [miss(word, "plain 120") for word in chosen]
    off = np.abs([(m.start, m.stop) for m in misses])
    assert not np.isnan(off).any()
    assert np.all(np.median(off, axis=0) <= MEDIAN_MS)
    assert np.all(np.percentile(off, 95, axis=0) <= PERCENTILE_95_MS)
