from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest

from builder.problems import UsageError
from builder.recordings.accept import PLAYED_LIST, accept, played_list
from builder.recordings.heard import heard
from builder.recordings.takes import Take, TakeState
from builder.workspace.store import digest_of


def cut(takes: Path, name: str, data: bytes, state: TakeState = "unheard") -> Take:
    file = takes / state / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
    return Take(
        path=str(file),
        digest=digest_of(file),
        target=None,
        verdict="good",
        issues=(),
        rank=0.0,
        loudness=None,
        state=state,
    )


def test_only_what_the_proof_plays_is_accepted(tmp_path: Path) -> None:
    takes, proof = tmp_path / "takes", tmp_path / "proof"
    heard = cut(takes, "cow.wav", b"cow")
    cut(takes, "key.wav", b"came later")
    proof.mkdir()
    (proof / PLAYED_LIST).write_text(played_list([heard]))
    assert accept(proof, [takes]) == (takes / "cow.wav",)
    assert (takes / "unheard" / "key.wav").exists()
    assert accept(proof, [takes]) == ()


def test_an_older_recording_stays(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    heard = cut(takes, "cow.wav", b"new")
    (takes / "cow.wav").write_bytes(b"old")
    (tmp_path / PLAYED_LIST).write_text(played_list([heard]))
    assert accept(tmp_path, [takes]) == (takes / "cow-2.wav",)
    assert (takes / "cow.wav").read_bytes() == b"old"


def test_a_file_that_is_put_there_meanwhile_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It appears between the look for a free name and the move."""
    takes = tmp_path / "takes"
    heard = cut(takes, "cow.wav", b"new")
    (tmp_path / PLAYED_LIST).write_text(played_list([heard]))
    link = os.link

    def late(source: Path, target: Path) -> None:
        if target.name == "cow.wav":
            target.write_bytes(b"theirs")
        link(source, target)

    monkeypatch.setattr(os, "link", late)
    assert accept(tmp_path, [takes]) == (takes / "cow-2.wav",)
    assert (takes / "cow.wav").read_bytes() == b"theirs"
    assert (takes / "cow-2.wav").read_bytes() == b"new"


def test_cuts_stay_with_whom_they_belong_to(tmp_path: Path) -> None:
    own, shared = tmp_path / "heron-07" / "takes", tmp_path / "takes"
    heard = [cut(own, "cow.wav", b"for one client"), cut(shared, "key.wav", b"for all")]
    (tmp_path / PLAYED_LIST).write_text(played_list(heard))
    assert accept(tmp_path, [own, shared]) == (own / "cow.wav", shared / "key.wav")


def test_a_doubtful_cut_is_used_when_it_is_named(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    doubted = [cut(takes, f"{name}.wav", name.encode(), "doubtful") for name in ("my-cow", "key")]
    (tmp_path / PLAYED_LIST).write_text(played_list(doubted))
    assert accept(tmp_path, [takes]) == ()
    with pytest.raises(UsageError, match=r"named comb\. It plays: key, my-cow"):
        accept(tmp_path, [takes], ["my cow", "comb"])
    assert accept(tmp_path, [takes], ["my cow"]) == (takes / "my-cow.wav",)
    assert (takes / "doubtful" / "key.wav").exists()


def test_a_doubtful_cut_that_no_proof_played_is_not_used(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    cut(takes, "key.wav", b"came later", "doubtful")
    (tmp_path / PLAYED_LIST).write_text(played_list([]))
    with pytest.raises(UsageError, match="plays no doubtful recording named key"):
        accept(tmp_path, [takes], ["key"])


def test_without_a_proof_nobody_has_heard_anything(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="there is no proof here"):
        accept(tmp_path, [tmp_path / "takes"])


def doubtful(takes: Path, name: str, data: bytes) -> Take:
    """A recording that lies in the folder itself."""
    takes.mkdir(parents=True, exist_ok=True)
    made = cut(takes, name, data, "unheard")
    (takes / name).parent.mkdir(parents=True, exist_ok=True)
    Path(made.path).rename(takes / name)
    return replace(made, path=str(takes / name), verdict="doubtful", state="accepted")


def test_a_doubtful_recording_is_used_when_it_is_named(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    cow, key = (doubtful(takes, f"{name}.wav", name.encode()) for name in ("cow", "key"))
    (tmp_path / PLAYED_LIST).write_text(played_list([cow, key]))
    assert accept(tmp_path, [takes]) == ()
    assert heard(takes) == frozenset()
    assert accept(tmp_path, [takes], ["cow"]) == (takes / "cow.wav",)
    assert heard(takes) == {cow.digest}


def test_a_doubtful_recording_of_an_error_is_named_by_its_folder(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    cow = doubtful(takes / "wrong" / "t", "cow.wav", b"tow")
    (tmp_path / PLAYED_LIST).write_text(played_list([cow]))
    with pytest.raises(UsageError, match="It plays: wrong/t/cow"):
        accept(tmp_path, [takes], ["cow"])
    assert accept(tmp_path, [takes], ["wrong/t/cow"]) == (Path(cow.path),)
    assert heard(takes) == {cow.digest}


def test_what_is_refused_cannot_be_called_right(tmp_path: Path) -> None:
    takes = tmp_path / "takes"
    cow = replace(doubtful(takes, "cow.wav", b"cow"), verdict="again")
    (tmp_path / PLAYED_LIST).write_text(played_list([cow]))
    with pytest.raises(UsageError, match=r"named cow\. It plays: none"):
        accept(tmp_path, [takes], ["cow"])


def test_a_doubtful_cut_that_is_named_is_used_though_it_is_doubtful_by_its_sound(
    tmp_path: Path,
) -> None:
    takes = tmp_path / "takes"
    one = replace(cut(takes, "cow.wav", b"cow"), verdict="doubtful")
    (tmp_path / PLAYED_LIST).write_text(played_list([one]))
    assert accept(tmp_path, [takes], ["cow"]) == (takes / "cow.wav",)
    assert heard(takes) == {one.digest}
