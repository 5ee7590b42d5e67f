"""Tonguing: single, k alone, double and triple in every order, on one note and moving, low to high, up a ladder of tempi."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import product
from typing import Any

from generators.brass.grade import first_with
from generators.brass.speed import MULTIPLE_SHARE, tongue_speed
from generators.errors import BadRequest, Refusal
from generators.fields import checked, option
from generators.phrase.algebra import length, mapped, notes, on, shifted, then
from generators.phrase.bars import COMMON
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees, value
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.remark import Fewer
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import NoFit, inside, leap, with_air
from generators.studies.kit.kind import WORKING_DAYS, DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.registers import REGISTERS, band
from generators.studies.kit.request import FASTEST, SLOWEST, Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.tonguing.speech import LATE, RUNNING_ON, spoken
from generators.studies.tonguing.tongues import EVEN, TONGUE_GROUPS, TONGUE_STYLES, TONGUES, TONGUING_LINES, UNEVEN, Tongue
from generators.theory.key import Key
from generators.theory.pitch import Pitch

_OWN_KEYS = ("C", "Ab")
_STILL = "one-note"
# What a day has beside single tonguing, in turn.
_DAY_TONGUES = ("double", "triple-ttk", "k", "double-reversed", "triple-tkt", "triple-ktt")
_RHYTHMS = {"quarters": 1, "eighths": 2, "sixteenths": 4}
# Boxes on a ladder at the most, and the part of his speed at which a player begins: our choice.
_MOST_BOXES, _BEGINNING = 16, 0.7
# How many ways of going a study has by itself: our choice.
_OWN_GROUPS = 3
_TWO, _THREE = 2, 3
# The registers in the order in which they are played.
_EASIEST_FIRST = ("middle", "low", "high")
# The degrees of the tonic chord, 0 the tonic.
CHORD = (0, 2, 4)
# How far off its place a line may begin on another degree than the tonic: half-steps that the fifth and the third cost, and so
# many times as much where the line goes on from there, and would end without its tonic: our choice.
_ROOTS, _GOING = {0: 0, 4: 2, 2: 4}, 5


@dataclass(frozen=True, slots=True, kw_only=True)
class TonguingRequest(Request):
    """A tonguing study: its syllables, its lines and registers, and its ladder of tempi."""

    kind: str = option("single", "The syllables.", allowed=tuple(TONGUES))
    patterns: tuple[str, ...] = option(
        (), "What is played; without it one note and five notes, where the grade allows.", allowed=tuple(TONGUING_LINES)
    )
    registers: tuple[str, ...] = option(REGISTERS, "Registers, thirds of the range.", allowed=REGISTERS)
    rhythm: str = option("", "Quarters, eighths or sixteenths; threes are triplets.", allowed=tuple(_RHYTHMS))
    groups: tuple[str, ...] = option(
        (),
        "How the groups go, in turn from line to line; without it three ways, of multiple tongues even where a line is new.",
        allowed=tuple(TONGUE_GROUPS),
    )
    style: str = option("", "How the notes are shaped; without it plain.", allowed=tuple(TONGUE_STYLES))
    goal: int | None = option(None, "The last tempo of the ladder; without it the usual one, as far as the tongue goes.")
    rise: int = option(4, "Beats a minute from box to box.", span=(1, 40))


def tonguing(request: TonguingRequest) -> Study:
    """Return the tonguing study of a request: every line of a key and pattern once, and the tempi to tick off."""
    checked(request)
    tongue = TONGUES[request.kind]
    setting = resolve(request, _OWN_KEYS, tongue.tempo, learner_keys=1)
    patterns, size = _patterns(request, tongue, setting), _size(request, tongue, setting)
    groups = _groups(request, tongue, size, setting)
    setting = _begun(setting.capped(_cap(tongue, groups, size, setting), f'"{tongue.name}" in these values'))
    places = list(_places(request, patterns, size, groups, setting))
    said = [spoken(place.line, tongue, size, place.way, request.style) for place in places]
    music, pace = with_air(said, setting)
    ladder = _ladder(request, pace, setting)
    return Study(
        "tonguing",
        "Tonguing",
        ", ".join(filter(None, (tongue.title, request.style))),
        tongue.aim,
        setting.horn.id,
        pace,
        tuple(_strains(places, music, setting)),
        setting.limits,
        goal=max(ladder, default=0),
        remarks=tuple(_remarks(request, patterns, places, setting)),
        ladder=ladder,
    )


def _patterns(request: TonguingRequest, tongue: Tongue, setting: Setting) -> tuple[str, ...]:
    """Return the patterns asked for or the usual ones; what the grade is too young for is refused."""
    grade = setting.grade
    if not grade.tongues_with(tongue.name):
        why = f"is not for grade {grade.id} but from grade {first_with(lambda each: each.tongues_with(tongue.name))}"
        raise BadRequest(Refusal("kind", tongue.name, why, would_do=(("kind", grade.tongues),)))
    alone = not grade.moves_with(tongue.name)
    own = (_STILL,) if alone else (_STILL, "five-notes", "arpeggio")
    asked = tuple(dict.fromkeys(request.patterns)) or own
    if alone and asked != own:
        why = f"of {tongue.name} tonguing are not for grade {grade.id}"
        raise BadRequest(Refusal("patterns", ", ".join(asked), why, would_do=(("patterns", own),)))
    return asked


def _size(request: TonguingRequest, tongue: Tongue, setting: Setting) -> int:
    """Return how many notes a beat holds; sixteenths where the grade knows them, threes where the tongue goes in threes."""
    if tongue.three:
        return 3
    known = [name for name, size in _RHYTHMS.items() if Fraction(1, 4 * size) >= setting.limits.shortest]
    if request.rhythm and request.rhythm not in known:
        raise BadRequest(Refusal("rhythm", request.rhythm, "is too quick for the grade", allowed=tuple(known)))
    return _RHYTHMS[request.rhythm or known[-1]]


def _groups(request: TonguingRequest, tongue: Tongue, size: int, setting: Setting) -> tuple[str, ...]:
    """Return how the groups go: as asked, or the first few that the grade's note values allow, of threes no uneven ones."""
    known = [
        name for name, sizes in TONGUE_GROUPS.items() if size in sizes and _quickest(name, size) >= setting.limits.shortest
    ]
    for name in request.groups:
        if name not in known:
            why = f"is not for {tongue.name} tonguing in groups of {size}, or too quick for the grade"
            raise BadRequest(Refusal("groups", name, why, allowed=tuple(known)))
    if request.groups:
        return request.groups
    plain = [name for name in known if setting.grade.off_the_beat or name != LATE]
    own = [name for name in plain if _lasts(name, tongue, size, setting) and (size != _THREE or name not in UNEVEN)] or plain
    return tuple(own[:_OWN_GROUPS] if setting.grade.moves_with(tongue.name) else own[:1])


def _lasts(name: str, tongue: Tongue, size: int, setting: Setting) -> bool:
    """Tell whether a breath lasts for the groups from a landing on, and the end, at the quickest tempo there is."""
    beats = sum(4 * value(text) for text in TONGUE_GROUPS[name][size].split())
    tempo = min(setting.limits.tempo, _cap(tongue, (name,), size, setting))
    return ((8 if name == RUNNING_ON else 4) * beats + 3) * 60 <= setting.limits.breath * tempo


def _quickest(name: str, size: int) -> Fraction:
    """Return the shortest value of a group as it is written; of triplets the plain one."""
    values = [value(text.rstrip("t")) for text in TONGUE_GROUPS[name][size].split()]
    return min(values)


def _cap(tongue: Tongue, groups: Sequence[str], size: int, setting: Setting) -> float:
    """Return the quickest tempo at which the tongue goes."""
    shortest = min(value(text) for name in groups for text in TONGUE_GROUPS[name][size].split())
    return tongue_speed(tongue.syllables, setting.limits.speed) * 240 * shortest


def _begun(setting: Setting) -> Setting:
    """Return the setting at a tempo that leaves room to grow, where none was asked for."""
    if setting.tempo_asked:
        return setting
    return replace(setting, tempo=max(SLOWEST, min(setting.tempo, int(_BEGINNING * setting.limits.tempo) // 4 * 4)))


def _ladder(request: TonguingRequest, start: int, setting: Setting) -> tuple[int, ...]:
    """Return the tempi of the ladder from the start to the goal; none where they are the same."""
    most = min(setting.limits.tempo, FASTEST)
    boxes = min(_MOST_BOXES - 1, max(0, min(TONGUES[request.kind].goal, most) - start) // request.rise)
    goal = start + boxes * request.rise if request.goal is None else request.goal
    if not start <= goal <= most:
        raise BadRequest(Refusal("goal", goal, f"is out of reach from tempo {start}", allowed=f"{start} to {most}"))
    if (goal - start) // request.rise >= _MOST_BOXES:
        rise = str((goal - start) // _MOST_BOXES + 1)
        why = f"makes more than {_MOST_BOXES} boxes from {start} to {goal}"
        raise BadRequest(Refusal("rise", request.rise, why, would_do=(("rise", (rise,)),)))
    return (*range(start, goal, request.rise), goal) if start < goal else ()


@dataclass(frozen=True, slots=True)
class _Place:
    """A line in a register of a key, and how its groups go."""

    key: Key
    register: str
    pattern: str
    line: Phrase[Pitch]
    way: str
    again: bool = False
    """Whether it stands there once more, to go in another way."""


def _places(
    request: TonguingRequest, patterns: Sequence[str], size: int, groups: Sequence[str], setting: Setting
) -> Iterator[_Place]:
    """Yield every line of every key once, under the register in which it lies, and in every way that was asked for.

    By itself each goes evenly, and one of every key in the other ways too; a second key that nobody asked for has what moves,
    in the registers that the first one left.
    """
    ways, others = (groups, ()) if request.groups else (groups[:1], groups[1:])
    once_more = [(_suited(patterns, way), way) for way in dict.fromkeys(others)]
    heard: set[tuple[str, str]] = set()
    for key, pattern in product(setting.keys, patterns):
        lines = _lines(request, pattern, size, key, setting.limits)
        if not request.keys and key != setting.keys[0]:
            left = [line for line in lines if (pattern, line[0]) not in heard] or lines[:1]
            yield from (_Place(key, register, pattern, line, ways[0]) for register, line in left if pattern != _STILL)
            continue
        heard.update((pattern, register) for register, _ in lines)
        yield from (_Place(key, register, pattern, line, way) for register, line in lines for way in dict.fromkeys(ways))
        register, line = lines[0]
        yield from (_Place(key, register, pattern, line, way, again=True) for name, way in once_more if name == pattern)


def _suited(patterns: Sequence[str], way: str) -> str:
    """Return the first pattern that may go in another way too; none where there is but one note, which does not run on."""
    return next((name for name in patterns if name != _STILL or way != RUNNING_ON), "")


def _lines(request: TonguingRequest, pattern: str, size: int, key: Key, limits: Limits) -> list[tuple[str, Phrase[Pitch]]]:
    """Return the lines of a pattern in the registers that were asked for, the easiest register first, none twice."""
    wanted = dict.fromkeys(request.registers or REGISTERS)
    found = dict.fromkeys(_seated(pattern, size, key, register, limits) for register in wanted)
    return sorted(((_lies(line, limits), line) for line in found), key=lambda pair: _EASIEST_FIRST.index(pair[0]))


def _lies(line: Phrase[Pitch], limits: Limits) -> str:
    """Return the register in whose middle a line lies most nearly."""
    return min(REGISTERS, key=lambda register: abs(_middle(line) - sum(band(limits, register)) / 2))


def _strains(places: Sequence[_Place], music: Sequence[Phrase[Pitch]], setting: Setting) -> Iterator[Strain]:
    """Yield one strain a line, with a bar of rest; its label tells register, pattern and how uneven groups go."""
    for place, line in zip(places, music, strict=True):
        pattern = place.pattern.replace("-", " ")
        uneven = "" if place.way == EVEN else _word(place.way, line)
        detail = uneven if place.again else ", ".join(filter(None, (pattern, uneven)))
        rested = then(on(line, 0, dynamic="mf"), (Rest(COMMON.bar),))
        label = setting.label(place.key, part=pattern if place.again else place.register, detail=detail)
        yield Strain(label, place.key, rested, COMMON, (int(length(rested) / COMMON.bar),))


def _word(way: str, line: Phrase[Pitch]) -> str:
    """Return what a player calls uneven groups: dotted and reversed where they are, else as they are asked for."""
    dotted = any(note.length == Fraction(3, 16) for note in notes(line)[:-1])
    return {"long-first": "dotted", "short-first": "reversed"}.get(way, way) if dotted else way.replace("-", " ")


@lru_cache(maxsize=512)
def _seated(pattern: str, size: int, key: Key, register: str, limits: Limits) -> Phrase[Pitch]:
    """Return the widest line of a pattern that fits, where it lies nearest the register."""
    low, high = band(limits, register)
    for sketch in TONGUING_LINES[pattern][size]:
        bare = degrees(sketch.replace("|", " "))
        moved = {index: _moved(bare, index) for index in _near(bare, key, limits)}
        seats = {index: in_key(line, key, 4) for index, line in moved.items() if _rests_on_its_chord(line)}
        fitting = {i: line for i, line in seats.items() if _comes_home(line) and _playable(line, limits)}
        if fitting:
            weight = 1 if len({note.pitch for note in notes(bare)}) == 1 else _GOING
            near = {i: abs(_middle(line) - (low + high) / 2) + weight * _ROOTS[i % 7] for i, line in fitting.items()}
            return fitting[min(near, key=lambda i: near[i])]
    where = f"between {limits.low} and {limits.high} in {key.pretty}"
    raise NoFit(Refusal("tonguing", None, f"finds no room for the pattern {pattern} {where}"))


def _moved(bare: Phrase[Degree], index: int) -> Phrase[Degree]:
    """Return a line begun on another note of the tonic chord: moved along the scale, or along the chord if all of it is."""
    if not all(note.pitch.index % 7 in CHORD for note in notes(bare)):
        return shifted(bare, index)
    first = _on_chord(index)
    return mapped(bare, lambda degree: _of_chord(_on_chord(degree.index) + first))


def _on_chord(index: int) -> int:
    """Return which note of the tonic chord a degree is, counted from the root."""
    return CHORD.index(index % 7) + len(CHORD) * (index // 7)


def _of_chord(place: int) -> Degree:
    octave, which = divmod(place, len(CHORD))
    return Degree(CHORD[which] + 7 * octave)


def _rests_on_its_chord(line: Phrase[Degree]) -> bool:
    """Tell whether what will be held of a line, its landings, belongs to the tonic chord."""
    size = max(_TWO, (len(line) - 3) // 6)
    return all(line[place].pitch.index % 7 in CHORD for place in (0, size, 2 * size + 1, -1))  # type: ignore[union-attr]


def _playable(line: Phrase[Pitch], limits: Limits) -> bool:
    return inside(line, limits) and leap(line) <= limits.leap


def _near(bare: Phrase[Degree], key: Key, limits: Limits) -> Iterator[int]:
    """Yield the notes of the tonic chord where a line may begin and lie in the range, a half-step on either side for minor."""
    lowest, highest = min(note.pitch.index for note in notes(bare)), max(note.pitch.index for note in notes(bare))
    for index in (7 * octave + degree for octave in range(-3, 3) for degree in CHORD):
        low, high = key.degree(lowest + index).midi, key.degree(highest + index).midi
        if low >= limits.low.midi - 1 and high <= limits.high.midi + 1:
            yield index


def _comes_home(line: Phrase[Pitch]) -> bool:
    """Tell whether a line ends on the note it began with; on a raised leading note of minor it would not."""
    first, *_, last = notes(line)
    return first.pitch == last.pitch


def _middle(line: Phrase[Pitch]) -> float:
    pitches = [note.pitch.midi for note in notes(line)]
    return (min(pitches) + max(pitches)) / 2


def _remarks(request: TonguingRequest, patterns: Sequence[str], places: Sequence[_Place], setting: Setting) -> Iterator[Fewer]:
    wanted = len(setting.keys if request.keys else setting.keys[:1]) * len(patterns) * len(dict.fromkeys(request.registers))
    found = len({(place.key, place.pattern, place.line) for place in places if request.keys or place.key == setting.keys[0]})
    # All three registers are the usual ones: that some of them share a line is news only to who chose them.
    if found < wanted and set(request.registers) != set(REGISTERS):
        yield Fewer("lines", found, wanted, within=setting.range, shared=True)


def _single_part(where: Occasion) -> Iterator[Request]:
    """Yield single tonguing."""
    for registers in (("middle",), ("low", "middle"), REGISTERS):
        yield _on_a_pattern(where, where.common, keys=where.keys.majors[-1:], kind="single", registers=registers)


def _multiple_part(where: Occasion) -> Iterator[Request]:
    """Yield double and triple tonguing in their orders and k alone, another each time."""
    kind = where.turn(_DAY_TONGUES, "multiple", 2)
    for registers in (("middle",), ("low", "middle"), ("middle", "high")):
        yield _on_a_pattern(where, _doubling(where), keys=where.keys.majors[:1], kind=kind, registers=registers)


def _on_a_pattern(where: Occasion, common: dict[str, Any], **asked: Any) -> TonguingRequest:
    """Return tonguing on five notes, a chord, one note, a scale or a call by turns where the grade leaves one note with it."""
    pattern = where.turn(("five-notes", "arpeggio", _STILL, "scale", "call"), "moving", 2)
    moving = pattern if where.grade.moves_with(asked["kind"]) else "one-note"
    return TonguingRequest(**common, patterns=(moving,), groups=(EVEN,), **asked)


def _doubling(where: Occasion) -> dict[str, Any]:
    """Return the common fields, the tongue the one that goes with the player's own speed of double tonguing."""
    own = where.multiple
    return where.common | ({"tongue": max(40, min(160, round(own / MULTIPLE_SHARE)))} if own else {})


KIND = Kind(
    name="tonguing",
    place=140,
    request=TonguingRequest,
    make=tonguing,
    summary="Single, k alone, double and triple in every order, up a ladder of tempi.",
    example=TonguingRequest(kind="triple-tkt", patterns=("one-note", "arpeggio"), tempo=72, goal=100),
    aim=TONGUES["single"].aim,
    child_aim=("Listen: you say too, too, too. Does every note begin in the same way?", ""),
    areas=("tonguing", "multiple tonguing"),
    parts=(
        DayPart("tonguing", 110, _single_part, weight=4, rank=8, most_lines=4, areas=("tonguing",), group="tongue"),
        DayPart(
            name="multiple",
            place=115,
            requests=_multiple_part,
            weight=4,
            rank=8,
            most_lines=4,
            areas=("tonguing", "multiple tonguing"),
            days=WORKING_DAYS,
            group="tongue",
        ),
    ),
)
