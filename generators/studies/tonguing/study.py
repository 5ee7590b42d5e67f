"""Tonguing: single, k alone, double and triple in every order, on one note and moving, low to high, up a ladder of tempi."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from generators.brass.grade import first_with
from generators.brass.speed import tongue_speed
from generators.errors import BadRequest
from generators.fields import option
from generators.phrase.algebra import notes, on, shifted, spread, then
from generators.phrase.bars import COMMON
from generators.phrase.in_key import in_key
from generators.phrase.notation import degrees
from generators.phrase.note import Degree, Phrase, Rest
from generators.phrase.study import Limits, Strain, Study
from generators.studies.entrances import REGISTERS, band
from generators.studies.kit.fit import NoFit, inside, leap, span_words, with_air
from generators.studies.kit.request import FASTEST, SLOWEST, Request
from generators.studies.kit.setting import Setting, resolve
from generators.studies.tonguing.tongues import LINES, TONGUES, Tongue
from generators.theory.key import Key
from generators.theory.pitch import Pitch

BEAT = Fraction(1, 4)
RHYTHMS = {"eighths": 2, "sixteenths": 4}
# Boxes on a ladder, at the most and by itself, and the part of his speed at which a player begins: our choice.
MOST_BOXES, OWN_BOXES, BEGINNING = 16, 8, 0.7
# How far off its place a line may begin on another degree than the tonic: half-steps that the dominant, and others, cost.
ROOTS = {0: 0, 4: 2, 3: 3}
OTHER_ROOT = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class TonguingRequest(Request):
    """A tonguing study: its syllables, its lines and registers, and its ladder of tempi."""

    kind: str = option("single", "The syllables.", allowed=tuple(TONGUES))
    patterns: tuple[str, ...] = option(
        (), "What is played; without it one note and five notes, where the grade allows.", allowed=tuple(LINES)
    )
    registers: tuple[str, ...] = option(REGISTERS, "Registers, thirds of the range.", allowed=REGISTERS)
    rhythm: str = option("", "Eighths or sixteenths; threes are triplets.", allowed=tuple(RHYTHMS))
    goal: int | None = option(None, "The last tempo of the ladder; without it some boxes on, as far as the tongue goes.")
    rise: int = option(4, "Beats a minute from box to box.", span=(1, 40))


def tonguing(request: TonguingRequest) -> Study:
    """Return the tonguing study of a request: one line a key, pattern and register, and the tempi to tick off."""
    tongue = TONGUES[request.kind] if request.kind in TONGUES else TONGUES["single"]
    setting = resolve(request, ("C",), tongue.tempo, learner_keys=1)
    patterns = _patterns(request, tongue, setting)
    size = _size(request, tongue, setting)
    setting = _begun(setting.capped(_cap(tongue, size, setting), f'"{tongue.name}" in these values'))
    places = list(_places(request, patterns, size, setting))
    music, pace = with_air([_spoken(line, tongue, size) for place in places for line in place.lines], setting)
    spoken = iter(music)
    strains = tuple(_strain(place, [next(spoken) for _ in place.lines], setting) for place in places)
    ladder = _ladder(request, pace, setting)
    return Study(
        "tonguing",
        f"Tonguing: {tongue.title}",
        tongue.aim,
        setting.horn.id,
        pace,
        strains,
        setting.limits,
        goal=ladder[-1] if len(ladder) > 1 else 0,
        remarks=tuple(_remarks(request, patterns, places, setting)),
        ladder=ladder if len(ladder) > 1 else (),
    )


def _patterns(request: TonguingRequest, tongue: Tongue, setting: Setting) -> tuple[str, ...]:
    """Return the patterns asked for or the usual ones; what the grade is too young for is refused."""
    grade = setting.grade
    if not grade.tongues_with(tongue.name):
        least = first_with(lambda each: each.tongues_with(tongue.name))
        raise BadRequest(f"{tongue.name} tonguing is not for grade {grade.id}; allowed from grade {least}; choose single.")
    alone = not grade.moves_with(tongue.name)
    own = ("one-note",) if alone else ("one-note", "five-notes")
    asked = tuple(dict.fromkeys(request.patterns)) or own
    if alone and asked != own:
        raise BadRequest(f"moving {tongue.name} tonguing is not for grade {grade.id}; choose --patterns one-note.")
    return asked


def _size(request: TonguingRequest, tongue: Tongue, setting: Setting) -> int:
    """Return how many notes a beat holds; sixteenths where the grade knows them, threes where the tongue goes in threes."""
    if tongue.three:
        return 3
    known = [name for name, size in RHYTHMS.items() if Fraction(1, 4 * size) >= setting.limits.shortest]
    if request.rhythm and request.rhythm not in known:
        raise BadRequest(f'rhythm "{request.rhythm}" is too quick for the grade; allowed: {", ".join(known)}.')
    return RHYTHMS[request.rhythm or known[-1]]


def _cap(tongue: Tongue, size: int, setting: Setting) -> float:
    """Return the quickest tempo at which the tongue goes."""
    return tongue_speed(tongue.syllables, setting.limits.speed) * 60 / size


def _begun(setting: Setting) -> Setting:
    """Return the setting at a tempo that leaves room to grow, where none was asked for."""
    if setting.tempo_asked:
        return setting
    return replace(setting, tempo=max(SLOWEST, min(setting.tempo, int(BEGINNING * setting.limits.tempo) // 4 * 4)))


def _ladder(request: TonguingRequest, start: int, setting: Setting) -> tuple[int, ...]:
    """Return the tempi of the ladder from the start to the goal."""
    most = min(setting.limits.tempo, FASTEST)
    boxes = min(OWN_BOXES - 1, (most - start) // request.rise)
    goal = start + boxes * request.rise if request.goal is None else request.goal
    if not start <= goal <= most:
        raise BadRequest(f"goal {goal} is out of reach from tempo {start}; allowed: {start} to {most}.")
    if (goal - start) // request.rise >= MOST_BOXES:
        rise = (goal - start) // MOST_BOXES + 1
        raise BadRequest(
            f"rise {request.rise} makes more than {MOST_BOXES} boxes from {start} to {goal}; choose --rise {rise}."
        )
    return tuple(dict.fromkeys((*range(start, goal, request.rise), goal)))


@dataclass(frozen=True, slots=True)
class Place:
    """A register of a key, the patterns that it has to itself, and their lines."""

    key: Key
    register: str
    patterns: tuple[str, ...]
    lines: tuple[Phrase[Pitch], ...]


def _places(request: TonguingRequest, patterns: Sequence[str], size: int, setting: Setting) -> Iterator[Place]:
    """Yield every key and register that has lines of its own."""
    for key in setting.keys:
        taken: list[Phrase[Pitch]] = []
        for register in dict.fromkeys(request.registers or REGISTERS):
            found = {pattern: _seated(pattern, size, key, register, setting.limits) for pattern in patterns}
            new = {pattern: line for pattern, line in found.items() if line not in taken}
            taken += new.values()
            if new:
                yield Place(key, register, tuple(new), tuple(new.values()))


def _strain(place: Place, lines: Sequence[Phrase[Pitch]], setting: Setting) -> Strain:
    names = ", ".join(pattern.replace("-", " ") for pattern in place.patterns)
    music = on(then(*lines), 0, dynamic="mf")
    return Strain(f"{setting.label(place.key)}, {place.register}: {names}", place.key, music, COMMON, (3,) * len(lines))


def _seated(pattern: str, size: int, key: Key, register: str, limits: Limits) -> Phrase[Pitch]:
    """Return the widest line of a pattern that fits, where it lies nearest the register."""
    low, high = band(limits, register)
    for sketch in LINES[pattern][size]:
        bare = degrees(sketch.replace("|", " "))
        seats = {index: in_key(shifted(bare, index), key, 4) for index in _near(bare, key, limits)}
        fitting = {
            i: line for i, line in seats.items() if _comes_home(line) and inside(line, limits) and leap(line) <= limits.leap
        }
        if fitting:
            near = {i: abs(_middle(line) - (low + high) / 2) + ROOTS.get(i % 7, OTHER_ROOT) for i, line in fitting.items()}
            return fitting[min(near, key=lambda i: near[i])]
    raise NoFit(f"tonguing: no {pattern.replace('-', ' ')} fits between {limits.low} and {limits.high} in {key.pretty}")


def _near(bare: Phrase[Degree], key: Key, limits: Limits) -> Iterator[int]:
    """Yield the steps by which a line may be moved and lie in the range, a half-step on either side for minor."""
    lowest, highest = min(note.pitch.index for note in notes(bare)), max(note.pitch.index for note in notes(bare))
    for index in range(-21, 21):
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


def _spoken(line: Phrase[Pitch], tongue: Tongue, size: int) -> Phrase[Pitch]:
    """Return the line in its rhythm with a syllable to every note: groups from the beat, the last note a longer t."""
    beat, quarter = [BEAT / size] * size, [BEAT]
    lengths = [*beat, *quarter, *beat, *quarter, *(beat * 4), 3 * BEAT]
    group = [tongue.syllables[i % len(tongue.syllables)] for i in range(size)]
    syllables = [*group, group[0], *group, group[0], *(group * 4), "t"]
    said = tuple(replace(note, syllable=said) for note, said in zip(notes(spread(line, lengths)), syllables, strict=True))
    landed = on(on(on(said, size, role="landing"), 2 * size + 1, role="landing"), -1, role="landing")
    marked = on(on(landed, size, may_breathe=True), 2 * size + 1, may_breathe=True)
    return then(on(marked, -1, breath=True), (Rest(BEAT),))


def _remarks(request: TonguingRequest, patterns: Sequence[str], places: Sequence[Place], setting: Setting) -> Iterator[str]:
    wanted = len(setting.keys) * len(patterns) * len(dict.fromkeys(request.registers or REGISTERS))
    count = sum(len(place.lines) for place in places)
    if count < wanted:
        yield f"{count} lines instead of {wanted}: within {span_words(setting.limits)} registers share some of them."
