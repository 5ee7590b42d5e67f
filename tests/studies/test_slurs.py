"""Lip slurs: every note on its tube, as the harmonic series alone says."""

from itertools import pairwise
from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generators.brass.horn import horn
from generators.errors import BadRequest
from generators.phrase.study import Strain, Study
from generators.studies.catalogue import make
from generators.studies.slurs.paths import PATHS, WIDTHS
from generators.studies.slurs.study import SlursRequest
from tests.studies.phrasing import LAWS, slurs, stretches, whole
from tests.studies.requests import studies

Asked = tuple[SlursRequest, Study]
SEVEN = ("0", "2", "1", "1-2", "2-3", "1-3", "1-2-3")
VALVES = {"0": 0, "2": 1, "1": 2, "3": 3, "4": 5}
POSITIONS = tuple("1234567")
SLIDES = ("trombone",)
RARE = {7, 11, 13, 14}
OPEN = {"treble": 48, "bass": 34}
every_path = pytest.mark.parametrize("path", PATHS)


def series(tube: str, on: str) -> dict[int, int]:
    """Return the notes of a horn's tube and their partials, by the harmonic series: 1200 log2(n) cents above the first."""
    lowered = POSITIONS.index(tube) if on in SLIDES else sum(VALVES[valve] for valve in tube.split("-"))
    fundamental = OPEN[horn(on).clef.name] - lowered
    return {fundamental + round(1200 * log2(n) / 100): n for n in range(1, 17)}


def named(strain: Strain) -> str:
    """Return the tube that a label names."""
    return strain.label.removeprefix("position ").split()[0]


def partials(strain: Strain, on: str) -> list[int]:
    """Return the partials that a strain plays; a note that is off the tube fails."""
    on_tube = series(named(strain), on)
    return [on_tube[note.pitch.midi] for note in strain.notes]


@LAWS
@given(studies("slurs"))
def test_on_one_tube(asked: Asked) -> None:
    """Every note of a strain is a partial of the tube its label names; the rare ones only when asked for."""
    request, study = asked
    for strain in study.strains:
        assert strain.tube == named(strain)
        assert request.rare_partials or not RARE & set(partials(strain, study.horn))


@LAWS
@given(studies("slurs"))
def test_spelled_as_a_chord(asked: Asked) -> None:
    """The open tube reads C E G B flat, or in bass clef B flat D F A flat; no strain needs a double accidental."""
    _, study = asked
    bass = horn(study.horn).clef.name == "bass"
    first = "1" if study.horn in SLIDES else "0"
    names = {note.pitch.name[:-1] for strain in study.strains if strain.tube == first for note in strain.notes}

    assert names <= ({"Bb", "F", "D", "Ab", "C", "E", "Gb", "A"} if bass else {"C", "G", "E", "Bb", "D", "F#", "Ab", "B"})
    assert all(abs(note.pitch.alter) < 2 for note in study.notes)


@LAWS
@given(studies("slurs"))
def test_one_slur_a_phrase(asked: Asked) -> None:
    """From breath to breath all is under one slur, no note is struck again, and every strain ends with a bar of rest."""
    _, study = asked
    for strain in study.strains:
        for stretch in stretches(strain):
            assert whole(stretch) == slurs(stretch)
            assert all(a.pitch != b.pitch for a, b in pairwise(stretch))
        assert strain.meter.bar == strain.music[-1].length


@LAWS
@given(studies("slurs"))
def test_comes_to_rest(asked: Asked) -> None:
    """No strain ends on a fifth, seventh, eleventh, thirteenth or fourteenth partial; the last note fills a bar."""
    _, study = asked
    for strain in study.strains:
        assert partials(strain, study.horn)[-1] not in RARE | {5}
        assert strain.meter.bar == strain.notes[-1].length


@LAWS
@given(studies("slurs"))
def test_tubes_in_order(asked: Asked) -> None:
    """The tubes come in the order asked for; those out of reach are left out, and the page says so."""
    request, study = asked
    tubes = [strain.tube for strain in study.strains]
    seven = POSITIONS if study.horn in SLIDES else SEVEN
    wanted = list(request.tubes or (seven[:3] if request.grade == "1" else seven))

    assert [tube for tube in wanted if tube in tubes] == tubes
    assert (tubes != wanted) == any(remark.startswith("Only the ") for remark in study.remarks)


@LAWS
@given(studies("slurs"))
def test_strains_are_one_path(asked: Asked) -> None:
    """Every tube plays the same partials in the same rhythm."""
    _, study = asked

    assert 1 == len({tuple(partials(strain, study.horn)) for strain in study.strains})
    assert 1 == len({tuple(note.length for note in strain.notes) for strain in study.strains})


@pytest.mark.parametrize("horn", ["trumpet", "flugelhorn-4", "eb-bass"])
@every_path
def test_seven_tubes(horn: str, path: str) -> None:
    """Every path goes down all seven tubes on every horn as it comes."""
    study = make(SlursRequest(horn=horn, path=path))

    assert list(SEVEN) == [strain.tube for strain in study.strains]


@every_path
def test_the_top_chooses_lower_partials(path: str) -> None:
    """As the top sinks the highest partial never rises, and the top is never passed."""
    highest = []
    for top in ("G5", "E5", "C5"):
        study = make(SlursRequest(path=path, low="F#3", high=top))
        highest.append(max(partials(study.strains[0], study.horn)))
        assert max(note.pitch.midi for note in study.notes) <= {"G5": 79, "E5": 76, "C5": 72}[top]

    assert sorted(highest, reverse=True) == highest


def test_narrowed_path() -> None:
    """A path with no room gives way to its narrower neighbour, and the page says so."""
    study = make(SlursRequest(path="there-and-back", low="F#3", high="C5"))

    assert "Narrowed from there-and-back to rocking to stay within F♯3 to C5." == study.remarks[0]


@pytest.mark.parametrize("width", WIDTHS)
def test_widths(width: str) -> None:
    """A two-note slur spans the width that was asked for, and nothing else."""
    study = make(SlursRequest(width=width))
    sizes = {abs(b.pitch.midi - a.pitch.midi) for s in study.strains for t in stretches(s) for a, b in pairwise(t)}

    assert sizes <= {"third": {3, 4}, "fourth": {5}, "fifth": {7}, "sixth": {8, 9}, "octave": {12}}[width]


@LAWS
@given(st.lists(st.sampled_from([2, 4, 8, 16]), min_size=1, max_size=4, unique=True), st.booleans())
def test_values(values: list[int], ladder: bool) -> None:
    """The strain quickens through the values asked for, slow to quick, then holds; without the ladder the quickest alone."""
    study = make(SlursRequest(path="neighbours", values=tuple(values), ladder=ladder))
    lengths = [1 / note.length for note in study.strains[0].notes][:-1]
    wanted = sorted(values) if ladder else [max(values)]

    assert wanted == sorted(set(lengths))
    assert sorted(lengths) == lengths


@pytest.mark.parametrize(
    ("path", "answer"),
    [("4-5-6-5", "4 5 6 5"), ("5-6-5-4", "4 5 6 5"), ("5-6", "6 5"), ("3-4-3", "3 4"), ("2-4-6", "2 4 6")],
)
def test_own_paths(path: str, answer: str) -> None:
    """A path of the player's own is played as written, begun elsewhere where it would come to rest on a fifth partial."""
    study = make(SlursRequest(path=path, low="F#3", high="C6", tubes=("0",)))

    assert [int(n) for n in answer.split()] == partials(study.strains[0], study.horn)[: len(answer.split())]


@pytest.mark.parametrize("path", ["4-4-5", "3-5-5", "3", "a-b", "4-4"])
def test_no_path(path: str) -> None:
    """A path that does not move is refused with a word of what to write."""
    with pytest.raises(BadRequest, match=r"write|allowed"):
        make(SlursRequest(path=path))


def test_written_out() -> None:
    """One strain stands here note by note."""
    study = make(SlursRequest(path="quicken-and-widen", tubes=("1-2",)))

    assert "A4 E4 A4 E4 A4 E4 A4 E4 A4 C#5 A4 E4 A4 C#5 A4 E4 A4" == " ".join(note.pitch.name for note in study.notes)


@every_path
@pytest.mark.parametrize("low", ["G4", "C5", "E5", "F#5"])
def test_high_paths_never_strike_a_note_again(path: str, low: str) -> None:
    """However high a path is pushed, one level leads into the next without a repeated note."""
    study = make(SlursRequest(path=path, low=low, high="D6", tubes=("1-2-3",)))

    assert all(a.pitch != b.pitch for strain in study.strains for t in stretches(strain) for a, b in pairwise(t))
