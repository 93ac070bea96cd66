"""Three hundred frequent words, some for every sound and place in the word: what a voice is asked
to say when it is judged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.phonetics.inventory import Sound, sounds
from builder.phonetics.lexicon.readings import entry
from builder.phonetics.position import POSITIONS, Position, stands

# Initial, medial, final.
WORDS = """
P   pan pig point purse | open happy apple puppy | cup soap sheep map
B   bag big bed boat | baby table rabbit robin | web club tub crab
T   tie team table tooth | hotel water city party | coat net night boot
D   dog day door duck | body lady ladder radio | bed head side food
K   key cow comb car | bacon pocket monkey market | book back lake week
G   game girl gate goose | tiger wagon sugar dragon | dog bag leg flag
CH  chair chief cheese chin | teacher kitchen nature matches | match beach coach watch
JH  jam juice jump joke | magic pajamas agent region | page cage stage large
F   fish find feather fork | coffee office elephant muffin | leaf half wife knife
V   van voice vase visit | oven seven river over | five cave glove wave
TH  thumb thin thing thick | author python toothy birthday | tooth bath path earth
DH  they then these there | father mother brother feather | smooth bathe breathe
S   sun soap city seal | lesson messy person listen | bus house face goose
Z   zoo zip zebra zipper | music easy lazy visit | nose eyes size cheese
SH  shoe ship shell sheep | ocean station machine washing | fish dish bush wash
ZH  genre | treasure measure vision | garage beige rouge
HH  hat home hand high | ahead behind forehead |
M   moon man mouse more | summer woman lemon hammer | home team room game
N   nose net night name | money funny honey dinner | moon man sun one
NG  | singer hanger singing | ring long king wing
L   leg lake lion light | yellow police jelly feeling | bell ball school feel
R   run red road rain | carrot story parrot married | car more bear deer
W   wet web well woman | away highway award |
Y   yes you young yellow | canyon lawyer beyond |
ER  earth early | person turtle | her fur
AAR artist art | party market | car star
EHR airport air | parent hairy | bear chair
IHR ear | mirror hero | deer hear
AYR iron | pirate firewood | fire tire
AOR orange order | story morning | door four
IY  eat eagle | people season | key tree
IH  in itch | little city pin fish |
EY  ape acorn | baby making | day play
EH  egg end | seven level bed net |
AE  apple ant | happy rabbit map back |
AA  olive otter | body pocket top sock |
AO  author office | water daughter | paw saw
OW  open ocean | hotel pony boat | snow
UH  | woman cookie book foot |
UW  ooze | music movie moon | shoe
AH  under onion | money number cup sun |
AY  ice island | tiger spider five | pie
AW  owl out | mountain flower house | cow
OY  oil oyster | noisy joyful coin | boy
"""
# A held sound before a glide or liquid, where a vowel might slip in.
CLUSTERS = """
S  sleep slide slow swim sweep swing
F  flag fly flower frog fruit front
TH three throw thread
SH shrimp shred shrink
M  music mule
"""
# How words end, and begin with what is hard for a voice.
FINAL = """
P   lamp sleep ship tape jeep rope lip top soup stop grape
T   hat foot boat cat kite bat goat light right nut eight
K   duck sock cake milk bike rock fork snake neck walk lock
CH  peach touch teach couch bench lunch catch witch much reach church
SH  brush trash push leash mash flash rash crash wish splash fresh
V   love give stove hive drive move
Z   rose bees keys toys shoes pigs hose fuzz boys
TH  mouth teeth
L   pool hill tall wheel
R   door four
"""
INITIAL = """
V   vet
DH  this that
TH  think
SH  she
"""
SYLLABLES = "Z AA1, TH AA1, SH AA1"


@dataclass(frozen=True)
class Asked:
    """One word with its target: phones [first, past) of it."""

    word: str
    phones: tuple[str, ...]
    first: int
    past: int
    sound: Sound
    position: Position

    @property
    def focus(self) -> tuple[int, int, int]:
        """As voices and alignment take it."""
        return (0, self.first, self.past)


def asked() -> tuple[Asked, ...]:
    """Every word of the table in the reading that has its sound there."""
    return tuple(_asked(WORDS))


def clusters() -> tuple[Asked, ...]:
    """The words in which a held sound stands before a glide or liquid."""
    return tuple(_asked(CLUSTERS))


def finals() -> tuple[Asked, ...]:
    """More words by their ends, some by their beginnings, and syllables."""
    ends = (f"{line[:4]}| | {line[4:]}" for line in FINAL.strip().splitlines())
    spoken = (tuple(phones.split()) for phones in SYLLABLES.split(", "))
    return (
        *_asked("\n".join(ends)),
        *_asked(INITIAL),
        *(Asked(f"{p[0].lower()}ah", p, 0, 1, sounds()[p[0]], "initial") for p in spoken),
    )


def _asked(table: str) -> Iterator[Asked]:
    for line in table.strip().splitlines():
        symbol, _, rest = line.partition(" ")
        sound = sounds()[symbol]
        for position, words in zip(POSITIONS, rest.split("|"), strict=False):
            yield from (one_of(word, sound, position) for word in words.split())


def one_of(word: str, sound: Sound, position: Position) -> Asked:
    """The word in the reading that has the sound there."""
    for reading in entry(word).readings:
        for place in stands(reading.phones, sound, position):
            return Asked(word, reading.phones, place.start, place.stop, sound, position)
    raise ValueError(f"{word} has no {sound.symbol} in {position} position")
