"""The etude: a plan of sentences, a motive that comes back, cadences where they are planned, one climax, laws of the line."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise

import pytest
from hypothesis import given

from generators.errors import BadRequest
from generators.phrase.algebra import breaths, length, notes, on, onsets
from generators.phrase.articulation import articulation
from generators.phrase.bars import WALTZ
from generators.phrase.label import Label
from generators.phrase.note import Note
from generators.phrase.remark import LeftOut
from generators.phrase.study import Strain, Study
from generators.proof.prove import prove
from generators.studies.catalogue import make
from generators.studies.etude.bars import TURN, WrittenSentence
from generators.studies.etude.ground import widest_steps
from generators.studies.etude.motive import FILLERS, MOTIVES, OPENERS, RUNS, TAILS, Motive, fragment, read_rhythm
from generators.studies.etude.plan import CLOSINGS, ETUDE_FORMS, HEIGHTS, MIDDLES, NUMERALS, ROLES, SENTENCE_NAMES, middle_key
from generators.studies.etude.study import ETUDE_METERS, EtudeDraft, EtudeRequest, drafted, etude
from generators.studies.etude.style import STYLES, barwise, tempo_word
from generators.theory.key import all_keys, parse_key
from generators.theory.pitch import parse_pitch
from tests.studies.phrasing import LAWS
from tests.studies.requests import studies

# Many seeds, every second key, every grade, both meters, all lengths.
ASKED = (
    *(EtudeRequest(seed=i, keys=(key.name,), bars=list(ETUDE_FORMS)[i % 3]) for i, key in enumerate(all_keys()) if i % 3 == 1),
    *(EtudeRequest(seed=i, grade=grade, meter=meter) for i, grade in enumerate("135") for meter in ETUDE_METERS),
    *(EtudeRequest(seed=seed) for seed in range(10)),
    *(EtudeRequest(seed=seed, keys=("Dm", "Bb"), leap=7, articulation="slurred-pairs") for seed in range(2)),
)
draft_of, study_of = cache(drafted), cache(etude)


@pytest.fixture(params=ASKED, ids=[str(i) for i in range(len(ASKED))])
def asked(request: pytest.FixtureRequest) -> EtudeRequest:
    """Return one request after another; its etude is composed when a test runs, once."""
    chosen: EtudeRequest = request.param
    return chosen


@pytest.fixture
def piece(asked: EtudeRequest) -> EtudeDraft:
    """Return an etude as composed."""
    return draft_of(asked)


@pytest.fixture
def study(asked: EtudeRequest) -> Study:
    """Return an etude as it is printed."""
    return study_of(asked)


def placed(piece: EtudeDraft, part: WrittenSentence) -> Iterator[tuple[Fraction, int, str]]:
    """Yield each note of a sentence as its onset, its degree and the chord that the plan has there."""
    onset = Fraction(0)
    for heard, value in zip(part.line, part.values, strict=True):
        chords = part.plan.chords[int(onset // piece.meter.bar)]
        yield onset, heard.step % 7, chords[-1 if onset % piece.meter.bar >= TURN else 0]
        onset += value


def moves(study: Study) -> list[int]:
    """Return the melodic moves in half-steps, none over a breath or a rest."""
    stretches = [stretch for strain in study.strains for stretch in breaths(strain.music)]
    return [b.pitch.midi - a.pitch.midi for stretch in stretches for a, b in pairwise(stretch)]


def rhythms(part: WrittenSentence) -> list[tuple[Fraction, ...]]:
    """Return the values of each bar."""
    return [part.cell(number).values for number in range(8)]


def last_bar(strain: Strain) -> tuple[Fraction, Note]:  # type: ignore[type-arg]
    """Return where in its bar the last note stands, and the note."""
    place = max(i for i, event in enumerate(strain.music) if isinstance(event, Note))
    return onsets(strain.music)[place] % strain.meter.bar, strain.notes[-1]


def test_proved(piece: EtudeDraft, study: Study) -> None:
    """Every etude passes the whole proof, the breath and the full bars with it."""
    assert () == prove(study)
    assert [8] * len(piece.parts) == [len(strain.bars) for strain in study.strains]


def test_one_climax_late(study: Study) -> None:
    """The highest note sounds once, between 55 and 85 percent of the way."""
    top = max(note.pitch.midi for note in study.notes)
    whole, now, found = sum(length(strain.music) for strain in study.strains), Fraction(0), []
    for event in (event for strain in study.strains for event in strain.music):
        found += [now / whole] if isinstance(event, Note) and event.pitch.midi == top else []
        now += event.length

    assert 1 == len(found)
    assert Fraction(55, 100) <= found[0] <= Fraction(85, 100)


def test_cadences(piece: EtudeDraft, study: Study) -> None:
    """Each sentence closes on a long note on a strong beat: a note of its last chord, and the tonic where that chord is."""
    for part, strain in zip(piece.parts, study.strains, strict=True):
        place, last = last_bar(strain)
        chord = part.plan.chords[-1][-1]

        assert part.line[-1].step % 7 in ((0,) if chord == "I" else NUMERALS[chord][:3])
        assert 0 == place % strain.meter.strong
        assert last.length >= Fraction(1, 2)


def test_the_first_cadence_is_half_and_the_last_full(piece: EtudeDraft, study: Study) -> None:
    """The question ends on the dominant; the etude ends on its tonic."""
    assert "V" == piece.parts[0].plan.chords[-1][-1]
    assert study.strains[-1].key.tonic == study.notes[-1].pitch.name[:-1]


def test_strong_beats_sound_the_chords(piece: EtudeDraft) -> None:
    """At least three of four strong beats have a note of the chord that is planned there."""
    notes = [entry for part in piece.parts for entry in placed(piece, part)]
    strong = [degree in NUMERALS[chord] for onset, degree, chord in notes if onset % piece.meter.strong == 0]

    assert 0.75 <= sum(strong) / len(strong)


def test_steps_and_answered_leaps(piece: EtudeDraft, study: Study) -> None:
    """Most moves are steps or rests on a note; a leap past a fifth turns back; none passes the limit; no odd interval."""
    line = moves(study)
    stretches = [[n.pitch for n in s] for strain in study.strains for s in breaths(strain.music)]
    odd = [(a, b) for s in stretches for a, b in pairwise(s) if abs(a.place - b.place) == 1 and abs(a.midi - b.midi) > 2]
    wide = [(b.midi - a.midi, c.midi - b.midi) for s in stretches for a, b, c in zip(s, s[1:], s[2:], strict=False)]

    assert 0.55 <= sum(abs(move) <= 2 for move in line) / len(line)
    assert max(map(abs, line)) <= piece.parts[0].ground.leap
    assert [] == odd
    assert [] == [pair for pair in wide if abs(pair[0]) > 7 and pair[0] * pair[1] >= 0]
    assert not {6, 10, 11} & set(map(abs, line))


def test_no_pile_of_repeated_notes(study: Study) -> None:
    """No pitch is struck more than three times in a row."""
    line = [note.pitch.midi for note in study.notes]

    assert [] == [four for four in zip(line, line[1:], line[2:], line[3:], strict=False) if len(set(four)) == 1]


def test_one_rhythm_to_remember(piece: EtudeDraft) -> None:
    """The motive's rhythm comes at least four times, in more than one sentence, and is not the only one."""
    motive = piece.parts[0].cell(0).values
    heard = [[bar == motive for bar in rhythms(part)] for part in piece.parts]

    assert 4 <= sum(map(sum, heard))
    assert 2 <= sum(map(any, heard))
    assert 4 <= len({bar for part in piece.parts for bar in rhythms(part)})


def test_the_end_remembers_the_beginning(piece: EtudeDraft, study: Study) -> None:
    """The first two bars come back in the last sentence, note for note; in minor a seam may raise its leading note."""
    first, last = (
        [(note.pitch.place, note.length) for note in strain.notes] for strain in study.strains[:: len(study.strains) - 1]
    )
    idea = first[: sum(piece.parts[0].counts[:2])]

    assert any(idea == last[i : i + len(idea)] for i in range(len(last)))


@LAWS
@given(studies("etude"))
def test_whatever_is_asked(drawn: tuple[EtudeRequest, Study]) -> None:
    """Whatever horn, range, grade, key and articulation is asked for, each sentence is eight bars on two lines, proved."""
    _, study = drawn

    assert () == tuple(finding for finding in prove(study) if finding.rule != "ledger lines")
    assert {(4, 4)} == {strain.lines for strain in study.strains}
    assert list(ETUDE_FORMS[str(8 * len(study.strains))]) == [
        part
        for strain in study.strains
        for part in ETUDE_FORMS[str(8 * len(study.strains))]
        if (strain.label.name, strain.label.part) == SENTENCE_NAMES[part]
    ]


def test_same_seed_same_etude() -> None:
    """An etude is a pure function of its request."""
    assert etude(EtudeRequest(seed=4)) == etude(EtudeRequest(seed=4))


def test_ten_seeds_ten_tunes() -> None:
    """Ten seeds give ten openings, no two with the same notes, and no two whole etudes alike in rhythm."""
    tunes = [study_of(request) for request in ASKED if request == EtudeRequest(seed=request.seed)][:10]
    openings = [tuple(note.pitch for note in study.notes[:8]) for study in tunes]
    values = [tuple(event.length for strain in study.strains for event in strain.music) for study in tunes]

    assert [] == [pair for pair in combinations(openings, 2) if pair[0] == pair[1]]
    assert [] == [pair for pair in combinations(values, 2) if pair[0] == pair[1]]


def test_a_known_opening() -> None:
    """The question of one seed, reviewed by ear: it asks on the tonic, climbs by sequence, and waits on the dominant."""
    study = make(EtudeRequest(seed=16))
    bars = [" ".join(f"{e.pitch.name}/{e.length}" for e in bar if isinstance(e, Note)) for bar in study.strains[0].bars]

    assert ("Etude in E♭ major", "Andante semplice") == (study.name, study.what)
    assert [
        "Bb4/3/8 Ab4/1/8 G4/1/4 Ab4/1/4",
        "Bb4/3/8 Ab4/1/8 F4/1/2",
        "Bb4/3/8 Ab4/1/8 G4/1/4 Ab4/1/4",
        "Bb4/3/8 C5/1/8 D5/1/2",
        "Eb5/3/8 D5/1/8 C5/1/4 D5/1/4",
        "C5/3/8 Bb4/1/8 Ab4/1/2",
        "C5/1/8 Bb4/1/8 Ab4/1/8 Bb4/1/8 A4/1/8 G4/1/8 A4/1/4",
        "Bb4/3/4",
    ] == bars


def test_the_middle_takes_the_second_key() -> None:
    """The contrast stands in the second key where one is given, in its own signature where that is far."""
    study = etude(EtudeRequest(keys=("Ab", "E"), seed=3))

    assert ["Ab", "Ab", "E", "Ab"] == [strain.key.name for strain in study.strains]
    assert Label(name="B", part="contrast", key=parse_key("E")) == study.strains[2].label
    assert (LeftOut((parse_key("E"),)),) == etude(EtudeRequest(keys=("Ab", "E"), bars="16")).remarks


def test_the_middle_goes_near() -> None:
    """Left to itself the middle goes to the relative or the dominant; a beginner stays in the keys he knows."""
    assert {"Cm", "Bb"} == {middle_key(parse_key("Eb"), (), (), seed)[1].name for seed in range(10)}
    assert {"Eb"} == {middle_key(parse_key("Cm"), (), (), seed)[1].name for seed in range(10)}
    assert {"F"} == {middle_key(parse_key("C"), (), ("C", "F"), seed)[1].name for seed in range(10)}


def test_the_tables_are_whole() -> None:
    """Plans have eight bars, chords of the table and roles for every part; rhythms fill their bar; shapes begin on 0."""
    sequences = [text for texts in (*CLOSINGS.values(), *MIDDLES.values()) for text in texts]
    chords = {chord for text in sequences for bar in text.split(" | ") for chord in bar.split()}
    shapes = [shape for table in (OPENERS, FILLERS) for row in table.values() for shape in row]

    assert {8} == {len(plan) for plans in (*ROLES.values(), HEIGHTS.values()) for plan in plans}
    assert {4} == {len(text.split(" | ")) for text in sequences}
    assert chords <= set(NUMERALS)
    assert {0} == {shape[0] for shape in shapes}
    for beats, table in ((beats, [*MOTIVES[beats].values(), *RUNS[beats].values(), TAILS[beats]]) for beats in (3, 4)):
        assert {Fraction(beats, 4)} == {sum(sum(read_rhythm(text), ())) for texts in table for text in texts}
        assert {3, 4, 5} >= {len(sum(read_rhythm(text), ())) for texts in MOTIVES[beats].values() for text in texts}


def test_a_fragment_is_the_head_twice() -> None:
    """A fragment of a bar of four is the motive's head, and the head again on another step."""
    eighth, quarter = Fraction(1, 8), Fraction(1, 4)
    cell = fragment(Motive((eighth, eighth, quarter, quarter, quarter), (0, 1, 2, 1, 0), 3))[0]

    assert (eighth, eighth, quarter, eighth, eighth, quarter) == cell.values
    assert (0, 1, 2, 1, 2, 3) in cell.shapes


def test_slurs_stop_at_bars_breaths_and_octaves() -> None:
    """A slur never crosses a bar line, a breath or an octave; the marks of a set lie on short notes alone."""
    lengths = {note.length for request in ASKED for note in study_of(request).notes if note.articulations}
    bare = tuple(Note(parse_pitch(name), Fraction(1, 4)) for name in ("C4", "D4", "D5", "D5", "E5", "F5"))
    music = barwise(on(bare, 4, breath=True), articulation("slurred"), ETUDE_METERS["4/4"])

    assert {Fraction(1, 16), Fraction(1, 8)} >= lengths
    assert [True, False, False, False, False, False] == [note.slur_open for note in notes(music)]
    assert [False, True, False, False, False, False] == [note.slur_close for note in notes(music)]


def test_words_and_reach() -> None:
    """Tempo words stand where players expect them; a leap in half-steps gives the widest leap in steps."""
    assert ["Adagio", "Andante", "Moderato", "Allegro"] == [tempo_word(tempo) for tempo in (70, 90, 110, 124)]
    assert [1, 3, 4, 4, 7] == [widest_steps(leap) for leap in (2, 5, 7, 8, 12)]
    assert len(STYLES) == len({style.word for style in STYLES})


def test_meter_as_asked() -> None:
    """The meter asked for is the meter written."""
    assert {WALTZ} == {strain.meter for strain in etude(EtudeRequest(meter="3/4", bars="16")).strains}


@pytest.mark.parametrize(
    ("wrong", "what", "allowed"),
    [
        ({"leap": 3}, "leap", "5 to 24 half-steps, or 0"),
        ({"bars": "20"}, "bars", ("16", "24", "32")),
        ({"meter": "5/4"}, "meter", ("4/4", "3/4")),
    ],
)
def test_refusals(wrong: dict[str, str], what: str, allowed: str | tuple[str, ...]) -> None:
    """What cannot be had is refused with what is allowed."""
    with pytest.raises(BadRequest) as told:
        make(EtudeRequest(**wrong))  # type: ignore[arg-type]

    assert (what, allowed) == (told.value.refusal.what, told.value.refusal.allowed)


def test_a_range_too_narrow() -> None:
    """A range of a fourth is refused with a limit that would do, and it does."""
    request = EtudeRequest(low="G4", high="C5")
    with pytest.raises(BadRequest) as told:
        make(request)
    cure = {field: values[0] for field, values in told.value.refusal.would_do}

    assert {"low", "high"} & set(cure)
    assert make(replace(request, **cure)).strains  # type: ignore[arg-type]


def test_the_last_sentence_slows() -> None:
    """The word for slowing stands over one note, in the last sentence."""
    slowing = [[note.role for note in strain.notes].count("slowing") for strain in make(EtudeRequest(seed=2)).strains]

    assert [0, 0, 0, 1] == slowing
