"""What is asked of a class: who plays, in which concert key, which studies, for how long; plain values."""

from dataclasses import dataclass, replace

from generators.brass.grade import GRADES, Grade, grade_on, span_on
from generators.brass.horn import Horn, horn
from generators.errors import BadRequest, Refusal, unknown
from generators.fields import checked, option
from generators.phrase.study import Limits
from generators.studies.kit.setting import limits
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch

# The shortest and the longest class in minutes, and how many may play: our choice.
SHORTEST_CLASS, LONGEST_CLASS, MOST_PLAYERS = 2, 60, 60
# Studies that a whole class can play at once: those that need no horn of one's own.
CLASS_STUDIES = (
    *("air", "flow", "slurs", "scales", "arpeggios", "intervals"),
    *("dynamics", "entrances", "tonguing", "etude"),
)
# What a class has by itself, the first four always, then one more for so many minutes: our choice.
_OWN = ("air", "slurs", "scales", "etude", "flow", "arpeggios", "dynamics", "tonguing", "intervals")
_FEWEST, _MINUTES_A_STUDY = 4, 3
# The grade whose notes all play easily who have them: our choice.
_EASY_NOTES = "2"
# The part that is the teacher's: the score; the players' are counted from 1.
SCORE = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassPlayer:
    """One player of a class; pitches are as written for the horn, empty values are the grade's own."""

    name: str = option("", "The chair, such as second cornet.")
    horn: str = option("trumpet", "The horn, as listed by `waterkey horns`.")
    grade: str = option("", "A learner's grade; empty for none.")
    low: str = option("", "Lowest written note, such as C4.")
    high: str = option("", "Highest written note, such as G4.")
    breath: int = option(0, "Seconds one breath lasts; 0 for the grade's own.", span=(5, 60))
    tongue: int = option(
        0, "Quarter notes a minute at which single-tongued sixteenths are easy; 0 for the grade's own.", span=(40, 160)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassRequest:
    """A class, and which of its papers: the score, or the part of a player."""

    players: tuple[ClassPlayer, ...] = option((), "The players, in the order of the file.")
    name: str = option("", "The name of the group.")
    concert_key: str = option("", "The key as it sounds, such as Bb or Eb; without it one that all can read.")
    studies: tuple[str, ...] = option(
        (), "Which studies, in order; without it air, slurs, scales and an etude.", allowed=CLASS_STUDIES
    )
    minutes: int = option(10, "Minutes of the class, rests included.", span=(SHORTEST_CLASS, LONGEST_CLASS))
    seed: int = option(0, "Another number, other tunes.")
    part: int = option(SCORE, "Whose paper: 0 for the score, else a player, counted from 1.", span=(SCORE, MOST_PLAYERS))

    @property
    def music(self) -> "ClassRequest":
        """The request without what changes no note: the names of the players and of the group."""
        return replace(self, name="", players=tuple(replace(player, name="") for player in self.players))

    @property
    def programme(self) -> tuple[str, ...]:
        """The studies asked for, each once; else those of so long a class, in warming order."""
        own = _OWN[: max(_FEWEST, self.minutes // _MINUTES_A_STUDY + 1)]
        return tuple(dict.fromkeys(self.studies)) or tuple(name for name in CLASS_STUDIES if name in own)

    @property
    def whole(self) -> "ClassRequest":
        """The same class without saying whose paper."""
        return replace(self, part=SCORE)

    @property
    def reader(self) -> ClassPlayer | None:
        """The player whose part it is; nothing for the score."""
        return self.players[self.part - 1] if self.part else None


@dataclass(frozen=True, slots=True)
class Member:
    """A player with his horn and what he can be asked."""

    place: int
    """Where he stands in the file, from 0."""
    name: str
    horn: Horn
    grade: Grade
    limits: Limits

    @property
    def span(self) -> tuple[int, int]:
        """The lowest and highest note as MIDI numbers that sound."""
        away = self.horn.sounding_half_steps
        return self.limits.low.midi + away, self.limits.high.midi + away

    @property
    def centre(self) -> float:
        """Where he plays most easily, as it sounds: in the middle of what he has of a learner's notes."""
        first, away = grade_on(_EASY_NOTES, self.horn), self.horn.sounding_half_steps
        low, high = self.span
        lowest, highest = max(low, first.low.midi + away), min(high, first.high.midi + away)
        return (lowest + highest) / 2 if lowest < highest else 0.55 * low + 0.45 * high

    @property
    def tube(self) -> int:
        """What the first partial of the open tube sounds."""
        return self.horn.fundamental.midi + self.horn.sounding_half_steps


def members_of(request: ClassRequest) -> tuple[Member, ...]:
    """Return the players of a class with what each can be asked; refuses a class that cannot be meant."""
    checked(request)
    count = len(request.players)
    if not 0 < count <= MOST_PLAYERS:
        raise BadRequest(Refusal("players", count, "make no class", allowed=f"1 to {MOST_PLAYERS}"))
    if request.part > count:
        raise BadRequest(Refusal("part", request.part, "is nobody's", allowed=f"0 to {count}"))
    if request.concert_key:
        parse_key(request.concert_key)
    return tuple(_member(place, player) for place, player in enumerate(request.players))


def _member(place: int, player: ClassPlayer) -> Member:
    the_horn = horn(player.horn)
    if player.grade and player.grade not in GRADES:
        raise unknown("grade", player.grade, GRADES)
    the_grade = grade_on(player.grade, the_horn)
    low, high = _range(player, the_horn, the_grade)
    if low.midi >= high.midi:
        why = f"is not below high {high}"
        raise BadRequest(Refusal("low", low, why, do="give a lower low note or a higher high note", where=player.name))
    usual = limits(the_grade, low, high)
    own = replace(
        usual,
        breath=float(player.breath) or usual.breath,
        speed=player.tongue * 4 / 60 or usual.speed,
    )
    return Member(place, player.name, the_horn, the_grade, own)


def _range(player: ClassPlayer, the_horn: Horn, the_grade: Grade) -> tuple[Pitch, Pitch]:
    """Return the player's own range, or the grade's; pedals are no notes for a class."""
    low, high = span_on(the_grade, the_horn)
    low = max(parse_pitch(player.low), the_horn.low) if player.low else low
    high = parse_pitch(player.high) if player.high else high
    if high.midi > the_horn.ceiling.midi:
        allowed = f"up to {the_horn.ceiling} as written"
        raise BadRequest(Refusal("high", high, f"is off the {the_horn.id}", allowed=allowed, where=player.name))
    return low, high
