"""What holds a tune together: sections come home, leading notes lead, one height, a middle of its own, marks by rule."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise

import pytest

from generators.brass.grade import grade
from generators.phrase.dynamics import LOUDNESS
from generators.phrase.note import Note, Phrase, Rest
from generators.phrase.study import Strain, Study
from generators.studies.etude.forms import TUNE_FORMS
from generators.studies.etude.harmony import PROGRESSIONS, RETURNS, ChordSound, neighbours
from generators.studies.etude.kinds import TUNE_KINDS
from generators.studies.etude.marks import touched
from generators.studies.etude.rhythm import leans, rhythm
from generators.studies.etude.sketch import OPEN
from generators.studies.etude.study import EtudeRequest, etude
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch
from tests.studies.test_etude import bars_of, phrases

# Sections that come home; the middles do not.
COMING_HOME = ("A", "A′", "A″", "Var.", "Coda")
KEYS = ("Eb", "G", "Am", "F", "Cm", "D", "Bb", "Dm", "A")
study_of = cache(etude)
ASKED = tuple(
    EtudeRequest(kind=kind, keys=(KEYS[(i + j) % len(KEYS)],), bars=("16", "24", "32")[(i + j) % 3], seed=100 * j + i)
    for i, kind in enumerate(TUNE_KINDS)
    for j in range(2)
)


@pytest.fixture(params=ASKED, ids=[f"{one.kind}-{one.keys[0]}-{one.seed}" for one in ASKED])
def study(request: pytest.FixtureRequest) -> Study:
    """Return one etude after another."""
    return study_of(request.param)


def degree(note: Note[Pitch], strain: Strain) -> int:
    """Return the degree of a note in the key of its strain, 0 the tonic."""
    return (note.pitch.place - strain.key.degree(0).place) % 7


def kind_of(study: Study) -> str:
    """Return the name of the kind of a tune."""
    return study.name.split()[0].lower()


def at_home(study: Study) -> Iterator[Strain]:
    """Yield the sections that come home."""
    yield from (strain for strain in study.strains if strain.label.name in COMING_HOME)


def test_sections_come_home(study: Study) -> None:
    """The last section ends on the tonic, after its leading note or the second, in a fanfare after the fifth too."""
    for strain in study.strains[-1:]:
        before, last = strain.notes[-2:]
        assert 0 == degree(last, strain)
        assert degree(before, strain) in ((1, 6, 4) if kind_of(study) == "fanfare" else (1, 6))


def test_the_answer_answers(study: Study) -> None:
    """The fourth bar stops on the second or the fifth, the eighth on the tonic."""
    question, answer, *_ = (phrase[-1] for phrase in phrases(study))
    assert degree(question, study.strains[0]) in (1, 4)
    assert 0 == degree(answer, study.strains[0])


@pytest.mark.parametrize("kind", TUNE_KINDS)
@pytest.mark.parametrize("key", ["G", "Cm"])
@pytest.mark.parametrize("bars", ["8", "16", "24"])
def test_questions_ask_long(kind: str, key: str, bars: str) -> None:
    """A question stops on a note of half a bar, in a bar of three quarters of a half, on a degree of the dominant."""
    study = study_of(EtudeRequest(kind=kind, keys=(key,), bars=bars, seed=len(kind)))
    asked = next(phrases(study))[-1]
    meter = study.strains[0].meter
    assert asked.length >= (Fraction(1, 2) if str(meter) == "3/4" else meter.bar / 2)
    assert degree(asked, study.strains[0]) in (1, 4)


def test_what_asks_stands_on_the_dominant() -> None:
    """Every progression of a question, and of a middle at home, ends on the dominant; every form asks first."""
    for cadence in OPEN:
        assert {"V"} == {text.split(" | ")[-1].rstrip("^") for text in (*PROGRESSIONS.get(cadence, ()), *RETURNS)}
    assert {"half"} == {form.phrases[0].cadence for forms in TUNE_FORMS.values() for form in forms}


def test_leading_notes_lead(study: Study) -> None:
    """A note at home that the signature does not have goes up by step, or is struck again first."""
    for strain in at_home(study):
        for a, b in pairwise(strain.music):
            if (
                isinstance(a, Note)
                and isinstance(b, Note)
                and not a.breath
                and a.pitch.alter != strain.key.alteration(a.pitch.step)
            ):
                assert b.pitch.place - a.pitch.place in (0, 1)


def test_the_dominant_leads_home(study: Study) -> None:
    """Of the two notes before the last one is the leading note or the fifth."""
    *led, _ = study.notes[-3:]
    home = study.strains[-1].key
    own = {home.degree(4).midi % 12, (home.degree(0).midi - 1) % 12}
    assert own & {note.pitch.midi % 12 for note in led}


@pytest.mark.parametrize("key", ["Cm", "Dm", "Em"])
def test_minor_closes_with_its_leading_note(key: str) -> None:
    """In minor the raised seventh stands in the last two bars of every kind."""
    raised = parse_key(key).degree(6).midi % 12 + 1
    for kind in TUNE_KINDS:
        last = study_of(EtudeRequest(kind=kind, keys=(key,), bars="8", seed=7)).strains[-1]
        ends = [event for bar in last.bars[-2:] for event in bar if isinstance(event, Note)]
        assert raised % 12 in {note.pitch.midi % 12 for note in ends}


def test_one_phrase_has_the_height(study: Study) -> None:
    """The highest note of a tune stands in one phrase alone, and there it is marked as loud as the tune becomes."""
    top = max(note.pitch.place for note in study.notes)
    tops = [[note for note in phrase if note.pitch.place == top] for phrase in phrases(study)]
    loudest = max((note.dynamic for note in study.notes if note.dynamic), key=LOUDNESS.index)

    assert 1 == sum(bool(found) for found in tops)
    assert loudest in {note.dynamic for found in tops for note in found}


def test_a_middle_has_its_own_rhythm(study: Study) -> None:
    """A middle begins with a rhythm that neither bar of the first idea has."""
    first, *rest = study.strains
    idea = [_values(bar) for bar in first.bars[bool(first.upbeat) :][:2]]
    for strain in rest:
        if strain.label.name in ("B", "C"):
            assert _values(strain.bars[bool(strain.upbeat)]) not in idea


def _values(bar: Phrase[Pitch]) -> list[Fraction]:
    return [event.length for event in bar]


def test_a_return_begins_with_the_first_bar(study: Study) -> None:
    """What comes home in a section of its own has the theme's own first bar."""
    told = [(event.length, getattr(event, "pitch", None)) for event in study.strains[0].bars[bool(study.strains[0].upbeat)]]
    for strain in study.strains:
        if strain.label.name == "A′":
            assert told == [(event.length, getattr(event, "pitch", None)) for event in strain.bars[bool(strain.upbeat)]]


@pytest.mark.parametrize("seed", range(4))
def test_a_hymn_leaps_no_further_than_a_fourth(seed: int) -> None:
    """In one breath a hymn goes by a fourth at the most."""
    for strain in study_of(EtudeRequest(kind="hymn", keys=("F",), bars="16", seed=seed)).strains:
        assert 3 >= max(abs(b.pitch.place - a.pitch.place) for a, b in pairwise(strain.notes) if not a.breath)


@pytest.mark.parametrize("bars", ["8", "16", "24", "32"])
def test_a_call_ends_tongued(bars: str) -> None:
    """The last two bars of a fanfare have no slur."""
    last = study_of(EtudeRequest(kind="fanfare", keys=("Bb",), bars=bars, seed=2)).strains[-1]
    assert not any(_slurred(tuple(event for bar in last.bars[-2:] for event in bar)))


def test_songs_end_no_louder_than_they_begin(study: Study) -> None:
    """The last loudness of a tune that is not bold is not past its first one."""
    marks = [note.dynamic for note in study.notes if note.dynamic]
    if not TUNE_KINDS[kind_of(study)].bold:
        assert LOUDNESS.index(marks[-1]) <= LOUDNESS.index(marks[0])


@pytest.mark.parametrize("kind", ["march", "fanfare"])
@pytest.mark.parametrize("name", ["1", "2", "4", ""])
@pytest.mark.parametrize("seed", range(3))
def test_marches_end_loud(kind: str, name: str, seed: int) -> None:
    """The last loudness of a march or a fanfare is f or more, and nothing falls in its last two bars."""
    study = study_of(EtudeRequest(kind=kind, grade=name, seed=seed, bars=("8", "16", "")[seed]))
    marks = [note.dynamic for note in study.notes if note.dynamic]
    assert LOUDNESS.index("f") <= LOUDNESS.index(marks[-1])
    assert not any(">" in event.hairpin for bar in study.strains[-1].bars[-2:] for event in bar if isinstance(event, Note))


def test_nothing_is_lower_on_the_way_up(study: Study) -> None:
    """Where a tune grows no note up to the next dynamic is lower than the first."""
    notes = study.notes
    for start in (i for i, note in enumerate(notes) if note.hairpin == "<"):
        end = next(i for i in range(start + 1, len(notes)) if notes[i].dynamic)
        assert notes[start].pitch.place == min(note.pitch.place for note in notes[start : end + 1])


def test_eighths_of_a_march_are_alike() -> None:
    """In a march an eighth without a slur is struck short, but for the short one of a dotted pair and the last in a breath."""
    for seed in range(3):
        for strain in study_of(EtudeRequest(kind="march", seed=seed)).strains:
            slurred = _slurred(strain.music)
            for i, event in enumerate(strain.music):
                if not isinstance(event, Note) or event.length != Fraction(1, 8) or slurred[i]:
                    continue
                before = strain.music[i - 1] if i else None
                paired = isinstance(before, Note) and before.length == Fraction(3, 8) and not before.breath
                ends = event.breath or i + 1 == len(strain.music) or isinstance(strain.music[i + 1], Rest)
                assert (event.articulations == ("staccato",)) == (not paired and not ends)


def _slurred(music: Phrase[Pitch]) -> list[bool]:
    found, under = [], False
    for event in music:
        under = isinstance(event, Note) and (under or event.slur_open)
        found.append(under)
        under = under and isinstance(event, Note) and not event.slur_close
    return found


def test_a_waltz_swings_on_one() -> None:
    """A quarter on the bar line of a waltz is never struck short, those after it are."""
    three = tuple(Note(parse_pitch(name), Fraction(1, 4)) for name in ("C5", "D5", "E5", "C5"))
    marked = touched(three, TUNE_KINDS["waltz"], Fraction(0))

    assert [(), ("staccato",), ("staccato",), ()] == [event.articulations for event in marked if isinstance(event, Note)]


@pytest.mark.parametrize(("name", "bars"), [("0", "8"), ("1", "16"), ("2", "16"), ("3", "24"), ("4", "24"), ("6", "32")])
def test_learners_have_shorter_tunes(name: str, bars: str) -> None:
    """A tune is as long as its grade says."""
    assert bars == grade(name).tune
    assert int(bars) == sum(map(bars_of, study_of(EtudeRequest(grade=name, seed=1)).strains))


@pytest.mark.parametrize("seed", range(6))
def test_first_grades_lean_over_no_beat(seed: int) -> None:
    """In the grades without syncopes no bar begins with an eighth before a quarter."""
    for strain in study_of(EtudeRequest(grade="1", seed=seed)).strains:
        for bar in strain.bars[bool(strain.upbeat) :]:
            assert [Fraction(1, 8), Fraction(1, 4)] != _values(bar)[:2]
    assert leans(rhythm("8 4 8"))
    assert not leans(rhythm("8 8 4"))


def test_neighbours_are_under_notes_of_their_chord() -> None:
    """Over a tonic of C the neighbours outside the key are D sharp and F sharp."""
    assert {"D#", "F#"} == {tone.pitch.name[:-1] for tone in neighbours(ChordSound(parse_key("C"), "I"))}
