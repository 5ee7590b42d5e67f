"""Tonguing: syllables, groups from the pulse, ladders of tempi."""

from dataclasses import replace
from fractions import Fraction
from itertools import accumulate, groupby, pairwise
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from music21 import harmony

from generators.brass.grade import grade as grade_of
from generators.brass.speed import MULTIPLE_SPEED, tongue_speed
from generators.errors import BadRequest
from generators.phrase.note import Note
from generators.phrase.remark import Fewer
from generators.phrase.study import Study
from generators.phrase.wording import remark_words
from generators.studies.catalogue import make
from generators.studies.kit.registers import REGISTERS
from generators.studies.tonguing.study import TonguingRequest
from generators.studies.tonguing.tongues import TONGUES, TONGUING_LINES
from generators.theory.key import Key
from generators.theory.pitch import Pitch
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

Asked = tuple[TonguingRequest, Study]
QUARTER = Fraction(1, 4)
# By hand: what is said on the notes of a beat of two, three or four.
SAID = {
    "single": {2: "tt", 4: "tttt"},
    "k": {2: "kk", 4: "kkkk"},
    "double": {2: "tk", 4: "tktk"},
    "double-reversed": {2: "kt", 4: "ktkt"},
    "triple-ttk": {3: "ttk"},
    "triple-tkt": {3: "tkt"},
    "triple-ktt": {3: "ktt"},
    "triple-kkt": {3: "kkt"},
    "triple-ktk": {3: "ktk"},
    "triple-tkk": {3: "tkk"},
}


# The values of four notes by how the groups go.
VALUES = {name: {Fraction(1, 16)} for name in ("even", "late", "running")} | {
    name: {Fraction(1, 16), Fraction(3, 16)} for name in ("long-first", "short-first")
}


def lines(study: Study) -> list[list[tuple[Fraction, Note[Pitch]]]]:
    """Return the printed lines, each note with its onset in the line."""
    found: list[list[tuple[Fraction, Note[Pitch]]]] = []
    for strain in study.strains:
        starts = [Fraction(bars) for bars in accumulate(strain.lines[:-1], initial=0)]
        found += [[] for _ in starts]
        now = Fraction(0)
        for event in strain.music:
            place = max(i for i, start in enumerate(starts) if start <= now)
            if isinstance(event, Note):
                found[place - len(starts)].append((now - starts[place], event))
            now += event.length
    return found


def groups(line: list[tuple[Fraction, Note[Pitch]]]) -> list[str]:
    """Return what is said on every beat of a line but its last note."""
    beats: dict[int, str] = {}
    for now, note in line[:-1]:
        beats[int(now // QUARTER)] = beats.get(int(now // QUARTER), "") + note.syllable
    return list(beats.values())


@LAWS
@given(studies("tonguing", groups=("even",)))
def test_groups_are_right_at_the_pulse(asked: Asked) -> None:
    """Every beat begins its group anew; a quarter, a landing, has the syllable that would come next; the end is a longer t."""
    request, study = asked
    assume(min(note.length for note in study.notes) < QUARTER)
    for line in lines(study):
        size = next(i for i, (now, _) in enumerate(line) if now == QUARTER)
        group = SAID[request.kind][size]

        assert [group, group[0], group, group[0], *[group] * 4] == groups(line)
        assert ("t", 3 * QUARTER) == (line[-1][1].syllable, line[-1][1].length)
        assert ["landing" if place in (size, 2 * size + 1, len(line) - 1) else "" for place in range(len(line))] == [
            note.role for _, note in line
        ]
        assert 2 == line[-1][0]


@LAWS
@given(
    studies("tonguing", kind="double", rhythm="sixteenths", grade="")
    | studies("tonguing", kind="single", rhythm="sixteenths", grade="")
)
def test_every_note_is_tongued(asked: Asked) -> None:
    """Every note has a syllable, none a slur; groups have the values of their way of going, and no others."""
    request, study = asked

    assert {"t", "k"} >= {note.syllable for note in study.notes}
    assert not any(note.slur_open or note.slur_close for note in study.notes)
    spoken = [line for strain, line in zip(study.strains, lines(study), strict=True) if strain.label.part != "k first"]
    for i, line in enumerate(spoken):
        values = {note.length for _, note in line if not note.role}
        assert values in (
            [VALUES[list(dict.fromkeys(request.groups))[i % len(dict.fromkeys(request.groups))]]]
            if request.groups
            else VALUES.values()
        )


def melody(line: list[tuple[Fraction, Note[Pitch]]]) -> tuple[Pitch, ...]:
    """Return the pitches of a line, each once however often it is struck in a row."""
    return tuple(pitch for pitch, _ in groupby(note.pitch for _, note in line))


# What a label calls a line that stands there in another way too.
WAYS = ("dotted", "reversed", "long first", "short first", "late", "running")


@pytest.mark.parametrize("kind", ["single", "double", "triple-ttk"])
@pytest.mark.parametrize("pattern", TONGUING_LINES)
def test_every_line_goes_evenly_and_one_in_other_ways(kind: str, pattern: str) -> None:
    """By itself every line is even, and the first is there again uneven, or running; of these no way changes a note.

    Dotted and reversed ones leave out the first half of the run.
    """
    study = make(TonguingRequest(kind=kind, keys=("C",), patterns=(pattern,)))
    even = make(TonguingRequest(kind=kind, keys=("C",), patterns=(pattern,), groups=("even",)))
    told = [strain.label.part for strain in study.strains]
    again = {part: line for part, line in zip(told, lines(study), strict=True) if part in WAYS}
    first = next(line for line in lines(study) if line in lines(even))
    halved = [*first[:10], *first[18:]] if kind != "triple-ttk" else first
    ways = {"single": ["dotted", "reversed"], "double": ["dotted", "reversed"]}.get(kind, ["running"])

    assert lines(even) == [line for part, line in zip(told, lines(study), strict=True) if part not in (*WAYS, "k first")]
    assert {melody(halved)} == {*map(melody, again.values()), melody(halved)}
    assert list(again) == ([] if (kind, pattern) == ("triple-ttk", "one-note") else ways)


@pytest.mark.parametrize("kind", [kind for kind in SAID if kind not in ("single", "k")])
@pytest.mark.parametrize("grade", ["4", "5", "6", ""])
def test_k_is_heard_alone_first(kind: str, grade: str) -> None:
    """A study of t and k begins on one note with k alone, the groups half as quick and a t, the groups and a longer t."""
    request = TonguingRequest(kind=kind, grade=grade)
    first, *others = make(request).strains
    group = max(SAID[kind].items())[1]
    ends = list(accumulate(note.length for note in first.notes))
    alone = [note for note, end in zip(first.notes, ends, strict=True) if end <= 1]
    slower = [note for note, end in zip(first.notes, ends, strict=True) if 1 < end < 2]
    rest = first.notes[len(alone) + len(slower) + 1 :]

    assert {"k first"} == {first.label.part} != {strain.label.part for strain in others}
    assert 1 == len({note.pitch for note in first.notes}) == len({note.syllable for note in alone})
    assert ("k", Fraction(1)) == (alone[0].syllable, sum(note.length for note in alone))
    assert group * (len(rest) // len(group)) + "t" == "".join(note.syllable for note in rest)
    assert [1, 1] == [sum(note.length for note in part) for part in (first.notes[len(alone) : -len(rest)], rest)]
    assert group * (len(slower) // len(group)) == "".join(note.syllable for note in slower)
    assert {2 * rest[0].length} == {note.length for note in slower}
    assert "k first" not in {strain.label.part for strain in make(replace(request, groups=("even",))).strains}


@pytest.mark.parametrize("kind", [kind for kind in SAID if kind not in ("single", "k")])
@pytest.mark.parametrize("asked", [{}, {"tempo": 72, "goal": 100}])
def test_multiple_tongues_rest_as_long_as_they_sound(kind: str, asked: dict[str, Any]) -> None:
    """Each line of t and k in turn is followed by a rest as long as its notes, or longer by less than a bar."""
    for strain in make(TonguingRequest(kind=kind, **asked)).strains:
        sound = sum(note.length for note in strain.notes)
        rest = sum(event.length for event in strain.music) - sound

        assert 0 <= rest - sound < 1


@pytest.mark.parametrize("kind", [kind for kind in SAID if kind not in ("single", "k")])
def test_a_ladder_goes_where_the_tongue_is_needed(kind: str) -> None:
    """A ladder of t and k begins where a single tongue is no longer easy, reversed ones a little below, and goes on."""
    study = make(TonguingRequest(kind=kind))
    rate = max(len(group) for group in SAID[kind].values()) / 60
    reversed_order = SAID[kind][max(SAID[kind])].startswith("k") or "kk" in 2 * SAID[kind][max(SAID[kind])]

    assert (5 if reversed_order else 6.4) <= study.tempo * rate < 7.2 <= study.ladder[-1] * rate


@pytest.mark.parametrize(
    ("tempo", "goal", "beats"), [(72, 100, 6), (60, 108, 6), (72, None, 6), (96, 120, 3), (132, 160, 3), (100, None, 3)]
)
def test_threes_go_twice_to_a_beat_where_triplets_need_no_k(tempo: int, goal: int | None, beats: int) -> None:
    """Where a single tongue would do for triplets all the way up, and the tongue lasts, a beat has two groups of three."""
    study = make(TonguingRequest(kind="triple-tkt", tempo=tempo, goal=goal))
    line = lines(study)[1]

    assert {Fraction(1, 4 * beats)} == {note.length for _, note in line if not note.role}
    assert ("sixteenth triplets" in study.title) == (beats == 6)
    assert study.ladder[-1] * beats / 60 <= 0.9 * MULTIPLE_SPEED


@pytest.mark.parametrize(("tempo", "goal", "told"), [(60, 80, True), (88, 132, False)])
def test_what_needs_no_k_is_told(tempo: int, goal: int, told: bool) -> None:
    """Where a single tongue would do all the way up and nothing quicker can be written, the page says so."""
    remarks = make(TonguingRequest(kind="double", tempo=tempo, goal=goal)).remarks

    assert told == any("single tongue would still do" in remark_words(remark) for remark in remarks)


@LAWS
@given(studies("tonguing"))
def test_a_ladder_says_what_a_box_means(asked: Asked) -> None:
    """Where there are boxes to tick the first remark says when, and where there are none nothing does."""
    _, study = asked
    told = [remark_words(remark)[:4] for remark in study.remarks]

    assert told[:1] == ["Tick"] if study.ladder else "Tick" not in told


@pytest.mark.parametrize("kind", ["double", "triple-ttk"])
def test_the_high_note_comes_last(kind: str) -> None:
    """On one note the middle comes first, then low; what is high after all else of its key, one high note last."""
    parts = [strain.label.part for strain in make(TonguingRequest(kind=kind, keys=("C",))).strains]

    assert ["k first", "middle", "low", "high"] == [part for part in parts if part in ("k first", *REGISTERS)]
    assert "high" == parts[-1]
    assert sorted(part.endswith("high") for part in parts) == [part.endswith("high") for part in parts]


def test_every_key_has_the_same_lines() -> None:
    """Two keys have the same patterns in the same ways, each in its registers."""
    study = make(TonguingRequest(kind="double", keys=("G", "Eb"), patterns=("five-notes", "arpeggio")))
    parts = [[s.label.part for s in study.strains if s.key.name == name and s.label.part != "k first"] for name in ("G", "Eb")]
    told = [[" ".join(word for word in part.split() if word not in REGISTERS) for part in found] for found in parts]

    assert ["five notes", "dotted", "reversed", "arpeggio"] == list(dict.fromkeys(told[0])) == list(dict.fromkeys(told[1]))


@pytest.mark.parametrize("size", ["eighths", "sixteenths"])
def test_late_groups_begin_off_the_beat(size: str) -> None:
    """Every line of late groups, and every group after a landing, begins half a beat after a beat."""
    study = make(TonguingRequest(kind="double", rhythm=size, groups=("late",)))
    for line in lines(study):
        begins = [now for (_, before), (now, _) in pairwise(line) if before.role == "landing"]

        assert {QUARTER / 2} == {now % QUARTER for now in (line[0][0], *begins)}


def test_running_groups_never_land() -> None:
    """Where groups run, eight beats pass without a longer note before the end."""
    study = make(TonguingRequest(kind="double", groups=("running",)))

    assert all(32 == len([note for now, note in line if note.length < QUARTER and now < 2]) for line in lines(study))


def test_no_late_triplets() -> None:
    """Groups of three do not begin off the beat; what does is named."""
    with pytest.raises(BadRequest) as told:
        make(TonguingRequest(kind="triple-ttk", groups=("late",)))

    assert ("even", "long-first", "short-first", "running") == told.value.refusal.allowed


@LAWS
@given(studies("tonguing"))
def test_ladders_rise_as_far_as_the_tongue_goes(asked: Asked) -> None:
    """The boxes rise from the study's tempo by the rise asked for, and the last one is still within tongue and grade."""
    request, study = asked
    ladder = study.ladder or (study.tempo,)
    quickest = min(note.length for note in study.notes)
    rate = float(ladder[-1] / (240 * quickest))

    assert study.tempo == ladder[0]
    assert len(ladder) <= 17
    assert all(b - a == request.rise for a, b in list(pairwise(ladder))[:-1])
    assert ladder[-1] <= study.limits.tempo
    assert rate <= tongue_speed(TONGUES[request.kind].syllables, study.limits.speed) + 0.01
    assert request.goal in (None, ladder[-1])


@LAWS
@given(studies("tonguing", patterns=("one-note",)))
def test_one_note(asked: Asked) -> None:
    """On one note every line stays on its pitch."""
    _, study = asked

    assert all(1 == len({note.pitch for _, note in line}) for line in lines(study))


@LAWS
@given(studies("tonguing"))
def test_ends_where_it_began(asked: Asked) -> None:
    """A line ends on the note it began with, its lowest."""
    _, study = asked
    for line in lines(study):
        pitches = [note.pitch for _, note in line]

        assert pitches[0] == pitches[-1] == min(pitches)


@LAWS
@given(studies("tonguing"))
def test_a_block_rests_on_its_own_chord(asked: Asked) -> None:
    """What is longer than its neighbours in a block is a note of the tonic chord of the key that stands before it."""
    _, study = asked
    for strain in study.strains:
        mode = "m" if strain.key.mode == "minor" else ""
        chord = {pitch.pitchClass for pitch in harmony.ChordSymbol(strain.key.tonic.replace("b", "-") + mode).pitches}

        long = max(QUARTER, 2 * min(note.length for note in strain.notes))

        assert {note.pitch.midi % 12 for note in strain.notes if note.length >= long} <= chord


@LAWS
@given(studies("tonguing", registers=("low", "high"), patterns=("one-note",)))
def test_registers(asked: Asked) -> None:
    """Low lies below high; where the range is too small for both, they share a register and its line."""
    _, study = asked
    for key in dict.fromkeys(strain.key for strain in study.strains):
        low, high = (
            [s.notes[0].pitch.midi for s in study.strains if s.key == key and s.label.part == register]
            for register in ("low", "high")
        )

        assert not low or not high or max(low) < min(high)
        assert len(lines(study)) > 1 or study.remarks


@LAWS
@given(studies("tonguing"))
def test_a_register_is_where_its_lines_lie(asked: Asked) -> None:
    """A line on one note lies nearer the middle of the register that its label names than that of any other."""
    _, study = asked
    third = (study.limits.high.midi - study.limits.low.midi + 1) / 3
    middles = {name: study.limits.low.midi + (place + 0.5) * third - 0.5 for place, name in enumerate(REGISTERS)}
    for strain in study.strains:
        away = {name: abs(strain.notes[0].pitch.midi - height) for name, height in middles.items()}

        assert strain.label.part not in REGISTERS or away[strain.label.part] <= min(away.values()) + 1


def played(request: TonguingRequest, study: Study, key: Key) -> int:
    """Return how many lines of different notes a key has as they were asked for."""
    own = [strain for strain in study.strains if strain.key == key and strain.label.part != "k first"]
    plain = [strain for strain in own if request.groups or strain.label.part not in WAYS]
    return len({(strain.label.part, tuple(note.pitch for note in strain.notes)) for strain in plain})


@LAWS
@given(studies("tonguing"))
def test_shared_lines_are_told(asked: Asked) -> None:
    """Where registers that were chosen share lines the page says how many of how many there are; else nothing."""
    request, study = asked
    patterns = len(dict.fromkeys(request.patterns)) or (3 if grade_of(request.grade).moves_with(request.kind) else 1)
    keys = list(dict.fromkeys(strain.key for strain in study.strains))[: None if request.keys else 1]
    count, within = sum(played(request, study, key) for key in keys), (study.limits.low, study.limits.high)
    wanted = len(keys) * patterns * len(dict.fromkeys(request.registers))
    chosen = set(request.registers) not in (set(), set(REGISTERS))
    told = [("lines", count, wanted, within, True)] if chosen and count < wanted else []

    assert told == [
        (fewer.what, fewer.count, fewer.wanted, fewer.within, fewer.shared)
        for fewer in study.remarks
        if isinstance(fewer, Fewer)
    ]


@LAWS
@given(studies("tonguing"))
def test_no_two_lines_are_called_alike(asked: Asked) -> None:
    """Of every key no two lines have one label, of those that go in one way."""
    _, study = asked
    labels = [strain.label for strain in study.strains]

    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(("groups", "expected"), [((), "lines 2 to "), (("even",), "every line")])
def test_k_alone_is_no_part_of_the_ladder(groups: tuple[str, ...], expected: str) -> None:
    """The tempi are ticked without the line of k alone, where there is one."""
    study = make(TonguingRequest(kind="double", groups=groups))

    assert expected in remark_words(study.remarks[0])


def test_a_second_key_is_entered_by_one_note() -> None:
    """A key that nobody asked for begins on one note in the middle."""
    parts = [strain.label.part for strain in make(TonguingRequest(kind="double")).strains if strain.key.name == "Ab"]

    assert ("middle", 1) == (parts[0], parts.count("middle"))


@LAWS
@given(studies("tonguing", patterns=("one-note", "arpeggio")))
def test_labels(asked: Asked) -> None:
    """A strain is told by its key and by register, pattern, or how uneven groups go; a line each."""
    _, study = asked
    for strain in study.strains:
        known = (*REGISTERS, "arpeggio", *(f"arpeggio {register}" for register in REGISTERS), "k first", *WAYS)
        assert (strain.key, True) == (strain.label.key, strain.label.part in known)
        assert strain.label.detail in ("", *WAYS)
        assert 1 == len(strain.lines)


@LAWS
@given(studies("tonguing"))
def test_a_style_is_on_every_note_but_the_last(asked: Asked) -> None:
    """Legato notes have a line, marked ones an accent, dry ones a dot, plain ones nothing; the last of a line is plain."""
    request, study = asked
    mark = {"legato": ("tenuto",), "marked": ("accent",), "dry": ("staccato",)}.get(request.style, ())
    for line in lines(study):
        assert {mark} == {note.articulations for _, note in line[:-1]}
        assert () == line[-1][1].articulations


@pytest.mark.parametrize("kind", SAID)
def test_tables_are_whole(kind: str) -> None:
    """The table's syllables are those written here, and each kind has an aim of its own."""
    assert set(SAID) == set(TONGUES)
    assert all((TONGUES[kind].syllables * 4)[:size] == said for size, said in SAID[kind].items())
    assert 1 == [tongue.aim for tongue in TONGUES.values()].count(TONGUES[kind].aim)


@pytest.mark.parametrize(("pattern", "size"), [(pattern, size) for pattern in TONGUING_LINES for size in (2, 3, 4)])
def test_sketches_fill_their_lines(pattern: str, size: int) -> None:
    """A sketch has a group and a quarter twice, four groups and a landing on its first note; no leap is past an octave."""
    for sketch in TONGUING_LINES[pattern][size]:
        opening, run, landing = (part.split("|") for part in sketch.split("||"))
        line = [int(note) for note in sketch.replace("|", " ").split()]

        assert [size, 1, size, 1] == [len(part.split()) for part in opening]
        assert [4 * size] == [len(part.split()) for part in run]
        assert line[0] == int(landing[0]) == min(line)
        assert 7 >= max(abs(b - a) for a, b in pairwise(line))


@given(st.floats(1, 9))
def test_reversed_orders_are_slower(single: float) -> None:
    """What begins with k goes slower than what begins with t; k alone is the slowest; nothing passes the published limit."""
    rates = {kind: tongue_speed(tongue.syllables, single) for kind, tongue in TONGUES.items()}

    assert rates["k"] < rates["single"] < rates["double"] <= MULTIPLE_SPEED
    assert rates["double-reversed"] < rates["double"]
    assert rates["triple-ktt"] == rates["triple-kkt"] < rates["triple-ttk"] == rates["triple-tkt"]


@pytest.mark.parametrize("kind", [kind for kind in TONGUES if kind != "single"])
def test_grades(kind: str) -> None:
    """K comes with grade 4, on one note; with grade 5 it moves."""
    for grade in ("1", "2", "3"):
        with pytest.raises(BadRequest, match=f'"{kind}" is not for grade {grade} but from grade 4; kind single would do'):
            make(TonguingRequest(kind=kind, grade=grade))
    with pytest.raises(BadRequest, match="not for grade 4; patterns one-note would do"):
        make(TonguingRequest(kind=kind, grade="4", patterns=("arpeggio",)))

    told = {strain.label.part for strain in make(TonguingRequest(kind=kind, grade="4")).strains}
    assert {"middle", "low", "high"} <= told <= {*REGISTERS, "k first", *WAYS}
    assert any(strain.label.part.startswith("five notes") for strain in make(TonguingRequest(kind=kind, grade="5")).strains)


@pytest.mark.parametrize(
    ("asked", "ladder"),
    [
        ({}, (76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116, 120)),
        ({"tempo": 100, "goal": 130, "rise": 10}, (100, 110, 120, 130)),
        ({"tempo": 100, "goal": 115, "rise": 10}, (100, 110, 115)),
        ({"tempo": 100, "goal": 100}, ()),
        ({"tongue": 80}, (56, 60, 64, 68, 72, 76, 80)),
        ({"grade": "1"}, (72, 76, 80, 84, 88)),
    ],
)
def test_ladders(asked: dict[str, Any], ladder: tuple[int, ...]) -> None:
    """The ladder goes on to the goal, or by itself some boxes as far as the tongue allows."""
    assert ladder == make(TonguingRequest(**asked)).ladder


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({"tempo": 140}, "tempo 140 is too quick for .*; tempo 132 would do"),
        ({"goal": 200}, "goal 200 is out of reach from tempo 76; allowed: 76 to 132"),
        ({"goal": 132, "rise": 1}, "rise 1 makes more than 16 boxes .*; rise 4 would do"),
        ({"tongue": 200}, "tongue 200 is out of reach; allowed: 40 to 160"),
        ({"kind": "tripel"}, 'kind "tripel" is not known; allowed: single'),
        ({"rhythm": "sixteenths", "grade": "2"}, 'rhythm "sixteenths" is too quick for the grade; allowed: quarters, eighths'),
    ],
)
def test_refused(asked: dict[str, Any], message: str) -> None:
    """What cannot be had is refused with what can."""
    with pytest.raises(BadRequest, match=message):
        make(TonguingRequest(**asked))


def test_written_out() -> None:
    """A triple arpeggio stands here note by note."""
    study = make(TonguingRequest(kind="triple-tkt", patterns=("arpeggio",), registers=("middle",), groups=("even",)))

    assert ["C4", "E4", "G4", "C5", "C5", "G4", "E4", "C4"] == [note.pitch.name for note in study.notes[:8]]
    assert ["t", "k", "t", "t", "t", "k", "t", "t"] == [note.syllable for note in study.notes[:8]]


@pytest.mark.parametrize(("grade", "key"), [("0", "C"), ("0", "F"), ("1", "C"), ("1", "F")])
def test_a_beginner_tongues_what_leaps_last_and_in_quarters(grade: str, key: str) -> None:
    """A beginner has one note, five notes, then the chord in quarters, each that moves from its tonic and home to it."""
    found = {s.label.part: s for s in make(TonguingRequest(grade=grade, keys=(key,), registers=("middle",))).strains}
    *_, steps, chord = found.values()

    assert ["five notes", "arpeggio"] == list(found)[-2:]
    assert Fraction(1, 4) == min(note.length for note in chord.notes)
    assert {key} == {one.notes[place].pitch.step for one in (steps, chord) for place in (0, -1)}
