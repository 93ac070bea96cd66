from __future__ import annotations

from dataclasses import replace

import pytest

from builder.audio.voices import LOCAL_VOICES
from builder.audio.voices.suitability import suitability_of
from builder.model.clinic import Speaker
from builder.model.plan import Plan
from builder.model.practice_view import view_of
from builder.pipeline import codes_of
from builder.planning.make_plan import SiteContext, make, without_missing
from builder.recordings.prompts import client_prompts
from builder.recordings.takes import Take
from builder.survey.survey import Found, Survey
from tests.support.alone import DRAWN, EGRET, egret
from tests.support.clients import NOTHING, client_of

TEXT = """\
sound: s
position: [medial, final]
mastered: {isolation: 2026-10-14, syllable: 2026-11-18}
current: words
words: {medial: [messy], final: [bus, house]}
steps:
  - {name: words, level: word, rounds: [long imitation, natural imitation, natural spontaneous]}
  - {name: two words, level: phrase, position: final, items: [a big bus]}
"""
VERSIONS = {"recorded": "1", "natural": "1", "embedded": "1", "online": "1"}


def plan_of(text: str = TEXT, survey: Survey = NOTHING, **versions: str) -> Plan:
    """`natural=""`: that voice is not there."""
    known = {name: version for name, version in {**VERSIONS, **versions}.items() if version}
    return make(client_of(text), survey, SiteContext("abcdefghjkmnp", known))


def take(path: str, word: str = "good", state: str = "accepted") -> Take:
    return Take(
        path=path,
        digest=path,
        target=(0.1, 0.3),
        verdict=word,  # type: ignore[arg-type]
        issues=(),
        rank=0.0,
        loudness=-20.0,
        state=state,  # type: ignore[arg-type]
    )


def takes_of(**by_stem: Take) -> Survey:
    """A survey with a recording for each named file ("bus", "bus_long")."""
    asked = {p.utterance.stem: p.utterance for p in client_prompts(client_of(TEXT))}
    return replace(NOTHING, takes={asked[s.replace("_", "-")]: (t,) for s, t in by_stem.items()})


def test_dates_begin_on_a_day_with_a_box() -> None:
    # By a printed calendar: 5 December 2026 is a Saturday, 9 December a Wednesday.
    def dated(dates: str, more: str = "") -> Plan:
        return plan_of(f"practice: {{days: [mon, wed, fri], {dates}}}\n{more}{TEXT}")

    whole = "from: 2026-12-05, visit: 2026-12-21"
    assert dated(whole).dates == ("2026-12-07", "2026-12-21")
    assert dated(whole, "pause: [2026-12-07]\n").dates == ("2026-12-09", "2026-12-21")
    assert dated(whole).first_day("2026-12-08") == "2026-12-07"
    printed = dated("visit: 2026-12-21")
    assert printed.dates == ("", "2026-12-21")
    assert [printed.first_day(f"2026-12-{day}") for day in ("05", "08", "09")] == [
        "2026-12-07",
        "2026-12-09",
        "2026-12-09",
    ]
    assert dated("from: 2026-12-05").first_day("2026-12-08") == "2026-12-07"
    assert plan_of().first_day("2026-12-08") == ""


def test_each_who_listens_has_days_and_a_first_box() -> None:
    # By a printed calendar: 5 December 2026 is a Saturday.
    days = "days: [mon, fri], school: {days: [tue, wed]}, from: 2026-12-05, visit: 2026-12-21"
    plan = plan_of(f"helper: [home, school]\npractice: {{{days}}}\n{TEXT}")
    assert plan.days == ("mon", "tue", "wed", "fri")
    assert [plan.days_of(role) for role in ("home", "school")] == [("mon", "fri"), ("tue", "wed")]
    assert [plan.first_day("", role) for role in ("", "home", "school")] == [
        "2026-12-07",
        "2026-12-07",
        "2026-12-08",
    ]
    assert plan_of(f"helper: [home, school]\n{TEXT}").apart == ()


def test_each_who_listens_has_times_and_the_plan_its_name() -> None:
    usual = plan_of(f"helper: [home, school]\n{TEXT}")
    own = "practice: {times: [morning, evening], school: {days: [mon, wed], times: [midday]}}"
    plan = plan_of(f"helper: [home, school]\n{own}\n{TEXT}")
    assert plan.times == ("morning", "midday", "evening")
    assert (plan.times_of("home"), plan.times_of("school")) == (("morning", "evening"), ("midday",))
    assert [plan.is_planned(day, "midday") for day in ("mon", "tue")] == [True, False]
    assert view_of(plan).digest == view_of(usual).digest
    alone = plan_of(f"helper: [home, school]\npractice: {{school: {{times: midday}}}}\n{TEXT}")
    assert (alone.by_role, alone.apart) == ((), ("home", "school"))


def test_a_side_view_is_wanted_unless_program_or_clinic_say_no() -> None:
    shaped = f"shape: tip down\n{TEXT}"
    (program,) = plan_of(shaped).programs
    assert (program.shape, program.drawing) == ("tip down", True)
    (program,) = plan_of(f"drawing: no\n{shaped}").programs
    assert not program.drawing
    client = client_of(shaped)
    client = replace(client, clinic=client.clinic.model_copy(update={"drawing": False}))
    (program,) = make(client, NOTHING, SiteContext("abcdefghjkmnp", VERSIONS)).programs
    assert not program.drawing


def test_later_steps_are_not_published() -> None:
    (program,) = plan_of().programs
    assert [step.id for step in program.steps] == ["s-words"]
    assert "big" not in repr(plan_of())


def test_earlier_steps_stay_as_refreshers() -> None:
    (program,) = plan_of(TEXT.replace("current: words", "current: two words")).programs
    assert [(s.id, s.current, s.easier) for s in program.steps] == [
        ("s-words", False, ""),
        ("s-two-words", True, "s-words"),
    ]


def test_the_letters_of_the_target_are_set_off() -> None:
    (program,) = plan_of(TEXT.replace("current: words", "current: two words")).programs
    shown = {item.text: item.letters for step in program.steps for item in step.items}
    assert shown["messy"] == (("me", False), ("ss", True), ("y", False))
    assert shown["a big bus"] == (("a big bu", False), ("s", True))


@pytest.mark.parametrize(
    ("rounds", "off"),
    [("natural imitation", ["s", "s"]), ("long imitation, natural imitation", ["s"])],
)
def test_every_target_is_set_off_where_none_is_held(rounds: str, off: list[str]) -> None:
    """The line that runs along a held sound lasts as long as that one sound."""
    text = TEXT.replace("items: [a big bus]", f"items: [my house bus], rounds: [{rounds}]")
    (program,) = plan_of(text.replace("current: words", "current: two words")).programs
    (item,) = program.steps[-1].items
    assert [part for part, target in item.letters if target] == off


def test_a_long_form_is_planned_only_where_a_round_asks_for_it() -> None:
    plan = plan_of()
    assert {(c.text, c.form) for c in plan.clips if not c.alone and c != plan.praise} == {
        (text, form) for text in ("messy", "bus", "house") for form in ("natural", "long")
    }
    natural = TEXT.replace("long imitation, ", "")
    assert {c.form for c in plan_of(natural).clips if not c.alone} == {"natural"}


def test_the_key_is_all_that_decides_the_sound() -> None:
    first, again = plan_of().clips, plan_of().clips
    assert first == again
    assert len({clip.key for clip in first}) == len(first)
    newer = plan_of(embedded="2").clips
    assert not {c.key for c in first} & {c.key for c in newer}
    slower = plan_of(TEXT.replace("level: word,", "level: word, hold: 2,")).clips
    changed = {c.form for c in slower if c.key not in {d.key for d in first}}
    assert changed == {"long"}


def test_a_take_comes_before_every_voice_and_its_long_form_is_made_of_it() -> None:
    clips = {(c.text, c.form): c for c in plan_of(survey=takes_of(bus=take("bus.wav"))).clips}
    assert clips["bus", "natural"].voice == "recorded"
    long = clips["bus", "long"]
    assert (long.voice, long.take, long.span, long.held) == (
        "recorded",
        "bus.wav",
        (0.1, 0.3),
        False,
    )
    assert clips["house", "natural"].voice == "natural"


def test_a_take_that_holds_the_target_is_taken_as_it_is() -> None:
    survey = takes_of(bus=take("bus.wav"), bus_long=take("bus-long.wav"))
    clips = {(c.text, c.form): c for c in plan_of(survey=survey).clips}
    assert (clips["bus", "long"].take, clips["bus", "long"].held) == ("bus-long.wav", True)


def test_nobody_holds_a_th_but_who_recorded_it() -> None:
    """Also where the recording is not a held one: a person's friction is made longer."""
    th = TEXT.replace("sound: s", "sound: /θ/").replace("[messy]", "[author]")
    th = th.replace("[bus, house]", "[bath, path]").replace("a big bus", "a big bath")
    asked = {p.utterance.stem: p.utterance for p in client_prompts(client_of(th))}
    bath = replace(NOTHING, takes={asked["bath"]: (take("bath.wav"),)})
    (step,) = plan_of(th, bath).programs[0].steps
    held = {item.text: item.long.voice if item.long else None for item in step.items}
    assert held == {"author": None, "bath": "recorded", "path": None}
    assert all(item.natural for item in step.items)
    assert plan_of(th).programs[0].alone is None


@pytest.mark.parametrize("bad", [take("bus.wav", word="again"), take("bus.wav", state="unheard")])
def test_what_is_refused_or_not_heard_yet_is_not_used(bad: Take) -> None:
    voices = {(c.text, c.form): c.voice for c in plan_of(survey=takes_of(bus=bad)).clips}
    assert voices["bus", "natural"] == voices["bus", "long"] == "natural"


def test_where_the_natural_voice_is_not_there_the_embedded_one_speaks() -> None:
    assert {c.voice for c in plan_of(natural="").clips} == {"embedded"}


def test_one_voice_speaks_the_whole_program_and_the_nearest_what_it_says_badly() -> None:
    his = plan_of(f"voice: man\n{TEXT}", man="1")
    for clip in his.clips:
        form = "alone" if clip.alone else clip.form
        position = "medial" if clip.text == "messy" else "" if clip.alone else "final"
        fit = suitability_of("man", "S", form, position).offered
        assert clip.voice == ("man" if fit else "natural")
    hers = plan_of(f"voice: woman\n{TEXT}", man="1")
    for plan, voice in ((his, "man"), (hers, "natural")):
        assert {c.voice for c in plan.clips if c.form == "natural"} == {voice}
    again = plan_of(f"voice: man\n{TEXT}", man="1", natural="2")
    keys = [{c.key for c in plan.clips} for plan in (his, again)]
    assert not keys[0] & keys[1]  # she may have to speak for him


def test_an_online_voice_is_never_asked_for_a_sound_alone() -> None:
    plan = plan_of(f"voice: online\n{TEXT.replace('house', 'miss')}")
    voices = {c.alone: c.voice for c in plan.practised}
    assert voices == {True: "natural", False: "online"}


READ_ONE_WAY = """\
sound: s
voice: online
position: final
error: t
mastered: {isolation: 2026-10-14}
current: [syllables, words, two words]
steps:
  - {name: syllables, level: syllable, vowels: [ee]}
  - name: words
    level: word
    items: [bus, yes, dress, grass, cross, house, {word: close, say: kloʊs}, {word: miss, say: mɪs},
      {word: fliss, say: flɪs}]
  - {name: two words, level: phrase, items: [to the bus, a yes, my bus, the wind house, a nice bow]}
"""


def test_who_reads_spellings_is_asked_only_for_what_is_read_in_one_way() -> None:
    """`house`, `close`, `wind` and `bow` are homographs; small words vary and do no harm. It says
    most of each round: else the round would be in the next voice."""
    plan = plan_of(READ_ONE_WAY)
    errors = {wrong for program in plan.programs for _, _, wrong in program.wrong}
    assert {clip.text for clip in errors} >= {"bus"}
    assert {clip.voice for clip in errors} == {"natural"}  # a reader would say it right
    online = {clip.text for clip in plan.clips if clip.voice == "online"}
    words = {"bus", "yes", "dress", "grass", "cross"}
    assert online == {*words, "to the bus", "a yes", "my bus", "You did it!"}
    assert {c.text for c in plan.clips} - online >= {"ee-s", "house", "close", "miss", "fliss"}


def test_for_a_voice_that_sends_there_is_the_clip_that_the_next_one_would_speak() -> None:
    online, natural = (plan_of(f"voice: {v}\n{TEXT}") for v in ("online", "natural"))
    own = {(clip.text, clip.form): clip for clip in natural.clips}
    sent = [clip for clip in online.clips if clip.voice == "online"]
    assert sent
    assert all(clip.instead == own[clip.text, clip.form] for clip in sent)
    assert all(clip.instead is None for clip in natural.clips)
    away = without_missing(online, {clip.key for clip in natural.clips})
    assert away.clips == natural.clips
    assert away.programs == natural.programs


def test_a_loudspeaker_is_checked_with_s_and_sh_by_one_voice() -> None:
    """By the first that the table of what voices are for has fit for both."""
    fit = [v for v in LOCAL_VOICES if all(_says_alone(v, symbol) for symbol in ("S", "SH"))]
    plan = plan_of()
    assert plan.hiss
    assert [(c.text, c.alone, c.form, c.voice) for c in plan.hiss] == [
        ("s", True, "long", fit[0]),
        ("sh", True, "long", fit[0]),
    ]
    assert set(plan.hiss) <= set(plan.clips)
    for other in (plan_of(natural=""), plan_of(f"voice: embedded\n{TEXT}")):
        assert other.hiss
        assert [clip.voice for clip in other.hiss] == ["embedded", "embedded"]
        assert set(other.clips) - set(other.practised) == set(other.hiss)
    assert [c.voice for c in plan_of(f"voice: online\n{TEXT}").hiss or ()] == fit[:1] * 2
    assert without_missing(plan, {clip.key for clip in plan.clips[:-1]}).hiss is None


def _says_alone(voice: Speaker, symbol: str) -> bool:
    return suitability_of(voice, symbol, "alone").offered


@pytest.mark.parametrize(
    ("sound", "words", "checked"),
    [
        ("z", "zoo", True),
        ("sh", "shoe", True),
        ("ch", "chew", True),
        ("/dʒ/", "jam", True),
        ("f", "fan", True),
        ("/θ/", "thumb", True),
        ("v", "van", False),
        ("/ð/", "this", False),
        ("h", "hat", False),
        ("k", "key", False),
        ("l", "lip", False),
    ],
)
def test_only_sounds_of_high_friction_need_the_check(sound: str, words: str, checked: bool) -> None:
    steps = "steps: [{name: words, level: word}]"
    plan = plan_of(f"sound: {sound}\ncurrent: words\nwords: [{words}]\n{steps}\n")
    assert (plan.hiss is not None) == checked


def test_where_the_helper_speaks_there_are_no_clips_but_recordings() -> None:
    helper = f"voice: helper\n{TEXT}"
    assert plan_of(helper).clips == ()
    spoken = plan_of(helper, takes_of(bus=take("bus.wav"))).clips
    assert {(c.text, c.voice) for c in spoken} == {("bus", "recorded")}


@pytest.mark.parametrize(
    ("lines", "has_path"),
    [
        ("age: 9", True),
        ("age: 10", False),
        ("age: 34", False),
        ("age: 9\npath: no", False),
        ("age: 10\npath: yes", True),
        ("age: 9\nhelper: [home, self]", True),
        ("age: 9\nhelper: self", False),
        ("age: 34\nhelper: self\npath: yes", True),
    ],
)
def test_stones_are_laid_under_ten_with_a_helper_or_as_the_program_says(
    lines: str, has_path: bool
) -> None:
    plan = plan_of(f"{lines}\n{TEXT}")
    assert plan.path == has_path
    alone = "helper: self" in lines
    assert (plan.praise is not None) == (has_path and not alone)


def test_a_clinic_may_do_without_and_a_program_says_otherwise() -> None:
    for text, has_path in ((TEXT, False), (f"path: yes\n{TEXT}", True)):
        client = client_of(text)
        clinic = client.clinic.model_copy(update={"path": False})
        plan = make(replace(client, clinic=clinic), NOTHING, SiteContext("abc", VERSIONS))
        assert plan.path == has_path


def test_no_age_is_no_reason_against_a_path() -> None:
    (program,) = client_of(TEXT).programs
    written = program.written.model_copy(update={"age": None})
    client = replace(client_of(TEXT), programs=(replace(program, written=written),))
    assert make(client, NOTHING, SiteContext("abc", VERSIONS)).path


def test_a_sitting_ends_with_words_in_the_voice_of_the_site() -> None:
    for named, voice in (("woman", "natural"), ("embedded", "embedded"), ("online", "online")):
        praise = plan_of(f"voice: {named}\n{TEXT}").praise
        assert praise
        assert (praise.text, praise.voice) == ("You did it!", voice)
        assert (praise.instead is not None) == (voice == "online")
    praise = plan_of(natural="").praise
    assert praise
    assert praise.voice == "embedded"
    helper = plan_of(f"voice: helper\n{TEXT}")
    assert (helper.path, helper.praise) == (True, None)


def test_words_that_no_voice_could_say_are_left_to_the_helper() -> None:
    plan = plan_of()
    left = without_missing(plan, {c.key for c in plan.clips if c != plan.praise})
    assert (left.path, left.praise) == (True, None)


def test_a_clip_that_cannot_be_made_leaves_its_place_to_the_helper() -> None:
    plan = plan_of()
    lost = next(c for c in plan.clips if (c.text, c.form) == ("bus", "long"))
    left = without_missing(plan, {c.key for c in plan.clips if c is not lost})
    (bus,) = (i for i in left.programs[0].steps[0].items if i.text == "bus")
    assert bus.long is None
    assert bus.natural
    assert lost not in left.clips


@pytest.mark.parametrize(
    ("words", "example"),
    [("city, sun, soap", "sun"), ("soap, city, sun", "soap"), ("city, cent", "city")],
)
def test_the_example_is_spelled_as_the_sound_usually_is(words: str, example: str) -> None:
    step = f"steps: [{{name: words, level: word, items: [{words}]}}]\n"
    (program,) = plan_of(f"sound: s\ncurrent: words\n{step}").programs
    assert program.example == example


@pytest.mark.parametrize(
    ("lines", "example"),
    [
        ("items: [dollar, girl, fern]", "fern"),
        ("items: [dollar, letter]", "bird"),
        ("sound: ar, items: [car, barn]", "bird"),
    ],
)
def test_er_is_told_by_a_word_that_has_it_stressed(lines: str, example: str) -> None:
    # International Phonetic Alphabet as used for General American (Wells 1982, Accents of
    # English): NURSE is ɝ, the weak ending of LETTER ɚ.
    step = f"steps: [{{name: words, level: word, {lines}}}]\n"
    (program,) = plan_of(f"sound: er\ncurrent: words\n{step}").programs
    assert program.example == example


def test_wrong_examples_only_of_a_plain_sound_or_recorded() -> None:
    def heard(text: str, survey: Survey = NOTHING) -> list[tuple[str, tuple[str, ...], str]]:
        (program,) = plan_of(text, survey).programs
        return [
            (word, wrong.words[0] if wrong.words else (), wrong.voice)
            for word, _, wrong in program.wrong
        ]

    theta = TEXT.replace("sound: s\n", "sound: s\nerror: /θ/\n")
    assert ("bus", ("B", "AH1", "TH"), "natural") in heard(theta)
    lateral = TEXT.replace("sound: s\n", "sound: s\nerror: lateral\n")
    assert heard(lateral) == []
    (bus,) = (p.utterance for p in client_prompts(client_of(lateral)) if p.utterance.stem == "bus")
    recorded = replace(NOTHING, wrong={bus: take("wrong/lateral/bus.wav")})
    assert heard(lateral, recorded) == [("bus", (), "recorded")]


def test_a_step_that_is_gone_keeps_its_address() -> None:
    plan = plan_of(survey=replace(NOTHING, gone=("s-old", "s-words")))
    assert plan.gone == ("s-old",)
    assert view_of(plan) == view_of(plan_of())


def test_pictures_own_first_then_drawings_then_none() -> None:
    own = {"bus.png": Found("finch-10/bus.png", "digest")}
    survey = replace(NOTHING, own=own, drawings={"bus": "1F68C", "house": "1F3E0"})
    (program,) = plan_of(survey=survey).programs
    kinds = {i.text: i.picture and i.picture.kind for i in program.steps[0].items}
    assert kinds == {"messy": None, "bus": "own", "house": "drawing"}
    assert "bus.png" not in [p.path for p in plan_of(survey=survey).pictures]


def test_nothing_private_is_in_what_pages_are_made_of() -> None:
    plan = plan_of()
    assert "2026-10-14" not in repr(plan.programs)
    assert "2026-12-03" not in repr(plan)
    assert "18" not in repr(plan.programs[0].cues)


def test_addresses() -> None:
    plan = plan_of()
    assert plan.address == "https://practice.example.org/abcdefghjkmnp/"
    codes = [step.code for program in plan.programs for step in program.steps]
    assert [c and c.address for c in codes] == [plan.address + "s-words/"]
    assert plan.code
    assert plan.code.for_language("en") == plan.code


def test_each_language_has_codes_of_its_own() -> None:
    plan = make(
        egret(f"{EGRET}interface: [es, en]\n"), DRAWN, SiteContext("abcdefghjkmnp", VERSIONS)
    )
    first, *rest = [plan.code, *(step.code for step in plan.programs[0].steps)]
    for code in (first, *rest):
        assert code
        page, name = code.address.removeprefix(plan.address), code.path.removeprefix("codes/")
        other = code.for_language("en")
        assert (other.address, other.path) == (f"{plan.address}en/{page}", f"codes/en/{name}")
        assert code.for_language("es") == code
    paths = [code.path for code in codes_of(plan)]
    assert len(paths) == len({*paths}) == 2 * (1 + len(rest))


ASKED = EGRET.replace("natural spontaneous]}", "{support: spontaneous, show: picture}]}", 1)


def pictures_of(text: str, survey: Survey = DRAWN) -> set[tuple[str, str]]:
    """The step and the source of every picture, the emblem's step being ""."""
    plan = make(egret(text), survey, SiteContext("abcdefghjkmnp", VERSIONS))
    items = ((s.id, i.picture) for p in plan.programs for s in p.steps for i in s.said)
    return {(step, one.source) for step, one in (*items, ("", plan.emblem)) if one}


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        pytest.param(EGRET, set(), id="who practices alone"),
        pytest.param(ASKED, {("r-words", "1F48D"), ("r-words", "1F339")}, id="where a round asks"),
        pytest.param(
            EGRET.replace("helper: self\n", ""),
            {("r-words", "1F48D"), ("r-words", "1F339"), ("", "1F426")},
            id="with a helper",
        ),
        pytest.param(
            EGRET.replace("reads: yes", "reads: no"),
            {("r-words", "1F48D"), ("r-words", "1F339"), ("", "1F426")},
            id="who practices alone and does not read",
        ),
        pytest.param(
            EGRET.replace("natural spontaneous]}", "{support: spontaneous, show: print}]}", 1),
            set(),
            id="where a round asks for print",
        ),
    ],
)
def test_drawings_are_shown_unasked_to_children_alone(
    text: str, shown: set[tuple[str, str]]
) -> None:
    assert pictures_of(text) == shown


def test_who_practises_alone_sees_pictures_of_the_own_folder() -> None:
    own = replace(DRAWN, own={name: Found(name, name) for name in ("rose.png", "egret.jpg")})
    assert pictures_of(EGRET, own) == {("r-words", "rose.png"), ("", "egret.jpg")}
