"""The online voice against a stand-in on this machine; the service itself was never reached."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from pathlib import Path

import gtts
import numpy as np
import pytest

from builder.audio.voices import ServiceError, service
from builder.audio.voices.online import requests_for, speak
from builder.audio.voices.service import MOST_USELESS, PAUSE_S, REST_S, Service
from tests.support.certificates import context, self_signed
from tests.support.speech_service import Clock, StandIn, stand_in, way_to


@pytest.fixture(scope="module")
def certificate(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    return self_signed(tmp_path_factory.mktemp("tls"), "service")


@pytest.fixture
def there(certificate: tuple[Path, Path]) -> Iterator[StandIn]:
    with stand_in(context(*certificate)) as running:
        yield running


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def trusted(there: StandIn, clock: Clock, certificate: tuple[Path, Path]) -> Service:
    return way_to(there.port, clock, certificate[0])


def test_the_words_are_sent_and_sound_comes_back(there: StandIn, trusted: Service) -> None:
    speech = speak("my key", trusted)
    assert there.asked == ["my key"]
    assert (speech.rate, speech.voice, speech.target) == (24000, "online", None)
    spectrum = np.abs(np.fft.rfft(speech.samples))
    assert np.argmax(spectrum) * 24000 / len(speech.samples) == pytest.approx(440, abs=10)


def test_nothing_but_the_words_is_sent(there: StandIn, trusted: Service) -> None:
    speak("cow", trusted)
    assert not {"Cookie", "Authorization", "From"} & there.sent[0].keys()


def test_a_certificate_that_nobody_vouches_for_is_refused(there: StandIn, clock: Clock) -> None:
    with pytest.raises(ServiceError, match="certificate cannot be verified"):
        speak("cow", way_to(there.port, clock))
    assert there.asked == []
    assert clock.naps == []  # it is not tried again: it would not be another one


def test_a_trusted_certificate_of_another_host_is_refused(tmp_path: Path, clock: Clock) -> None:
    other = self_signed(tmp_path, "other", "DNS:example.org")
    with stand_in(context(*other)) as there:
        with pytest.raises(ServiceError, match="certificate cannot be verified"):
            speak("cow", way_to(there.port, clock, other[0]))
        assert there.asked == []


def test_nothing_is_sent_without_verifying(there: StandIn, trusted: Service) -> None:
    trusted.session.verify = False
    with pytest.raises(ServiceError, match="without a verified connection"):
        speak("cow", trusted)
    (plain,) = requests_for("cow")
    plain.url = "http://127.0.0.1/"
    with pytest.raises(ServiceError, match="without a verified connection"):
        Service(clock=Clock()).answer(plain)
    assert there.asked == []


def test_it_is_not_followed_to_another_address(there: StandIn, trusted: Service) -> None:
    there.statuses.append(302)
    there.headers["Location"] = "http://127.0.0.1/"
    with pytest.raises(ServiceError, match="answered 302"):
        speak("cow", trusted)
    assert len(there.asked) == 1


def test_a_busy_service_is_asked_again_ever_later(
    there: StandIn, trusted: Service, clock: Clock
) -> None:
    there.statuses += [429, 503]
    assert len(speak("cow", trusted).samples)
    first, second = clock.naps
    assert 0 < first < second


def test_it_waits_as_long_as_it_is_told_but_not_for_ever(
    there: StandIn, trusted: Service, clock: Clock
) -> None:
    there.statuses.append(429)
    there.headers["Retry-After"] = "7"  # RFC 9110, 10.2.3: seconds
    assert len(speak("cow", trusted).samples)
    assert clock.naps == [7]
    there.statuses.append(429)
    there.headers["Retry-After"] = "3600"
    with pytest.raises(ServiceError, match="answered 429"):
        speak("key", trusted)
    assert len(there.asked) == 3


def test_after_a_failure_it_is_left_alone_for_a_while(
    there: StandIn, trusted: Service, clock: Clock
) -> None:
    there.statuses += [500] * 3
    for _ in range(3):
        with pytest.raises(ServiceError, match="answered 500"):
            speak("cow", trusted)
    assert len(there.asked) == 3
    clock.now += REST_S
    assert len(speak("cow", trusted).samples)


def test_between_two_requests_there_is_a_pause(
    there: StandIn, trusted: Service, clock: Clock
) -> None:
    for word in ("cow", "key", "cup"):
        speak(word, trusted)
    assert clock.naps == [PAUSE_S, PAUSE_S]


def test_requests_of_one_run_are_bounded(
    there: StandIn, trusted: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "MOST_REQUESTS", 2)
    speak("cow", trusted)
    speak("key", trusted)
    with pytest.raises(ServiceError, match="2 times in one run"):
        speak("cup", trusted)
    assert there.asked == ["cow", "key"]


def test_without_a_network_it_is_one_clear_sentence(clock: Clock) -> None:
    with socket.socket() as closed:
        closed.bind(("127.0.0.1", 0))
        port = closed.getsockname()[1]
    with pytest.raises(ServiceError) as raised:
        speak("cow", way_to(port, clock))
    assert str(raised.value) == "The online voice did not speak: there is no connection to it."


def test_a_service_that_never_answers_is_given_up(
    clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "TIMEOUT_S", 0.02)
    with (
        socket.create_server(("127.0.0.1", 0)) as silent,
        pytest.raises(ServiceError, match=r"no answer within 0\.02 s"),
    ):
        speak("cow", way_to(silent.getsockname()[1], clock))


def test_an_answer_without_end_is_cut_off(
    there: StandIn, trusted: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "MOST_BYTES", 1000)
    with pytest.raises(ServiceError, match="has no end"):
        speak("cow", trusted)


@pytest.mark.parametrize(
    ("audio", "answer", "why"),
    [
        pytest.param(b"not a sound", None, "no audio", id="garbage in place of MP3"),
        pytest.param(b"", None, "no audio", id="no sound at all"),
        pytest.param(b"", b"<html>Sign in</html>", "no audio", id="a page of somebody else"),
        pytest.param(b"", b'"jQ1olc","[\\"%%%%\\"]"', "no audio", id="no base64"),
        pytest.param(b"", b"", "no audio", id="an empty answer"),
    ],
)
def test_what_is_no_speech_is_refused(
    there: StandIn, trusted: Service, audio: bytes, answer: bytes | None, why: str
) -> None:
    there.audio, there.answer = audio, answer
    for _ in range(MOST_USELESS + 1):  # of one word it may be the word's fault; not of several
        with pytest.raises(ServiceError, match=why):
            speak("cow", trusted)
    assert len(there.asked) == MOST_USELESS


def test_a_package_that_has_changed_is_said_plainly(
    there: StandIn, trusted: Service, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr(gtts.gTTS, "_prepare_requests")
    with pytest.raises(ServiceError, match=r"gTTS .* writes no requests that this program knows"):
        speak("cow", trusted)
    assert there.asked == []
