"""Studies moved from horn to horn: exact, spelled in the key that each reads, and back the same."""

from hypothesis import given
from hypothesis import strategies as st

from generators.band.moving import moved_study
from generators.band.request import members_of
from generators.band.silence import silent_study
from generators.brass.horn import HORNS, horn
from generators.phrase.algebra import length
from generators.phrase.label import Label
from generators.phrase.note import Rest
from generators.studies.catalogue import make
from generators.studies.entrances import EntrancesRequest
from generators.studies.etude.study import EtudeRequest
from generators.studies.scales import ScalesRequest
from generators.theory.key import parse_key
from tests.band.bands import band, player

BB = parse_key("Bb")
SCALE = make(ScalesRequest(horn="cornet", grade="1", keys=("C",), low="C4", high="C5"))


def test_a_scale_as_a_tenor_horn_reads_it() -> None:
    """Concert B flat is C on a cornet, G on a tenor horn, B flat in bass clef on a trombone, spelled so."""
    members = members_of(band(player("tenor-horn", ""), player("trombone", "")))
    moved = [moved_study(SCALE, member, BB, octaves) for member, octaves in zip(members, (0, -1), strict=True)]

    assert ["G4 A4 B4 C5 D5 E5 F#5 G5", "Bb2 C3 D3 Eb3 F3 G3 A3 Bb3"] == [
        " ".join(note.pitch.name for note in study.notes[:8]) for study in moved
    ]
    assert ["G", "Bb"] == [study.strains[0].key.name for study in moved]


@given(st.sampled_from(sorted(HORNS)), st.sampled_from(["C", "F", "G", "Bb", "Eb", "D"]), st.integers(-2, 2))
def test_there_and_back_is_the_same(there: str, key: str, octaves: int) -> None:
    """Moved to any horn and back, a study has the notes and keys that it had."""
    study = make(ScalesRequest(horn="cornet", keys=(key,), octaves="1"))
    far, home = members_of(band(player(there, ""), player("cornet", "")))
    back = moved_study(moved_study(study, far, BB, octaves), home, BB, -octaves)

    assert [(strain.key, strain.music) for strain in study.strains] == [(strain.key, strain.music) for strain in back.strains]


def test_no_words_name_a_note_of_another_horn() -> None:
    """What is to be heard is said in general, for a child as for a child, and nothing is said of how it was fitted."""
    child, grown = members_of(band(player("cornet", "1"), player("trombone", "")))
    moved = [moved_study(SCALE, member, BB, 0) for member in (child, grown)]

    assert "stairs" in moved[0].aim
    assert "stairs" not in moved[1].aim
    assert [(), ()] == [study.remarks for study in moved]
    assert Label(key=parse_key("C"), scale="major", detail="halves") == moved[0].strains[0].label


def test_silence_lasts_as_long() -> None:
    """A study in silence has the bars of the study, each one rest, upbeats and last bars too."""
    for study in (SCALE, make(EtudeRequest(kind="gigue", keys=("F",))), make(EntrancesRequest(count=2))):
        [member] = members_of(band(player(study.horn, "")))
        silent = silent_study(study, member, BB)

        assert [len(strain.bars) for strain in study.strains] == [len(strain.bars) for strain in silent.strains]
        assert all(isinstance(event, Rest) for strain in silent.strains for event in strain.music)
        assert [length(one.music) for one in study.strains] == [length(one.music) for one in silent.strains]
        assert horn(silent.horn) == horn(study.horn)
