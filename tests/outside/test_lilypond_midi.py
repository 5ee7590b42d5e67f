"""Another reader of the page: LilyPond's own MIDI, read by mido, has the notes of the study as the horn sounds them.

LilyPond 2.24 makes the MIDI from the very text that it engraves, each score asked for MIDI instead of lines on a page.
Half-steps from written to sounding pitch are those of the usual handbooks (Piston, Orchestration, from memory).
"""

import re
import subprocess
from fractions import Fraction
from pathlib import Path

import mido
import pytest

from generators.phrase.note import Note, Rest
from generators.phrase.study import Strain, Study
from generators.press.lilypond import engraver
from generators.studies.arpeggios import ArpeggiosRequest
from generators.studies.catalogue import make
from generators.studies.entrances import EntrancesRequest
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.low import LowRequest
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from tests.press.sheets import composed, text_of

SOUNDS = {
    "trumpet": -2,
    "trumpet-c": 0,
    "trumpet-d": 2,
    "trumpet-eb": 3,
    "piccolo-bb": 10,
    "piccolo-a": 9,
    "cornet": -2,
    "soprano-cornet": 3,
    "flugelhorn": -2,
    "flugelhorn-4": -2,
    "tenor-horn": -9,
    "baritone": -14,
    "euphonium": -14,
    "eb-bass": -21,
    "bb-bass": -26,
}
STUDIES: dict[str, Request] = {
    "flow": FlowRequest(keys=("Eb", "C#", "Cm", "F#m"), close="slurred"),
    "flow in three": FlowRequest(keys=("Gb",), shape="wave", horn="trumpet-eb", concert=True),
    "slurs": SlursRequest(horn="cornet"),
    "slurs in three": SlursRequest(path="3-4-5", values=(2, 4, 8), horn="piccolo-a"),
    "low": LowRequest(horn="flugelhorn"),
    "pedals": LowRequest(pedals=True, depth="F#2"),
    "scales": ScalesRequest(keys=("C#", "Cb", "A#m", "Abm"), articulation="tongued", horn="trumpet-c"),
    "triplets": ScalesRequest(pattern="threes", articulation="triple", keys=("D", "Bbm"), horn="trumpet-d"),
    "dotted": ScalesRequest(rhythm="dotted", articulation="slurred", keys=("G",)),
    "arpeggios": ArpeggiosRequest(kind="diminished-seventh", keys=("B", "F"), horn="euphonium"),
    "entrances": EntrancesRequest(count=14, keys=("Ab", "E"), seed=5, horn="soprano-cornet"),
    **{f"on {horn}": FlowRequest(horn=horn, keys=("Bb",)) for horn in SOUNDS},
}
Sounding = tuple[Fraction, int]


@pytest.fixture(scope="module")
def engraved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the MIDI of every study, all engraved in one run, each under its name."""
    folder = tmp_path_factory.mktemp("midi")
    files = [folder / f"{name}_.ly" for name in STUDIES]
    for file in files:
        file.write_text(_with_midi(text_of(composed(STUDIES[file.stem[:-1]]))), encoding="utf-8")
    command = [engraver(), "--loglevel=ERROR", "-dno-print-pages", "-dmidi-extension=mid", *(file.name for file in files)]
    subprocess.run(command, cwd=folder, env={"HOME": str(folder)}, capture_output=True, check=True)
    return folder


def _with_midi(text: str) -> str:
    """Return a source whose every score asks for MIDI in place of its layout, which takes most of the engraver's time."""
    asked, scores = re.subn(r"^    \\layout \{\n.*?^    \}\n", "    \\\\midi { }\n", text, flags=re.DOTALL | re.MULTILINE)
    assert scores == text.count("\\score {") > 0
    return asked


def _scores(folder: Path, name: str) -> list[mido.MidiFile]:
    """Return the MIDI of each score of a study, in the order of the page."""
    found = {path: re.fullmatch(rf"{name}_(?:-(\d+))?", path.stem) for path in folder.glob("*.mid")}
    number = {path: int(match[1] or 0) for path, match in found.items() if match}
    return [mido.MidiFile(path) for path in sorted(number, key=number.__getitem__)]


def _heard(file: mido.MidiFile) -> list[tuple[Fraction, Fraction, int]]:
    """Return onset and length in whole notes and pitch of every note of a file."""
    found: list[tuple[Fraction, Fraction, int]] = []
    for track in file.tracks:
        now, begun = 0, dict[int, int]()
        for message in track:
            now += message.time
            if message.type == "note_on" and message.velocity:
                begun[message.note] = now
            elif message.type in ("note_on", "note_off"):
                start = begun.pop(message.note)
                whole = file.ticks_per_beat * 4
                found.append((Fraction(start, whole), Fraction(now - start, whole), message.note))
    return sorted(found)


def _written(strain: Strain, start: Fraction, sounds: int) -> list[tuple[Fraction, Fraction, int, bool]]:
    """Return what a strain should sound: onset, length, pitch, and whether a mark may shorten it; ties are one note."""
    found: list[tuple[Fraction, Fraction, int, bool]] = []
    held = False
    for event in strain.music:
        if isinstance(event, Note):
            short = bool(event.articulations) or event.breath
            if held:
                onset, length, pitch, before = found.pop()
                found.append((onset, length + event.length, pitch, before or short))
            else:
                found.append((start, event.length, event.pitch.midi + sounds, short))
            held = event.tie
        start += event.length
    assert all(isinstance(event, Note | Rest) for event in strain.music)
    return found


def _expected(study: Study, counts: list[int]) -> list[list[tuple[Fraction, Fraction, int, bool]]]:
    """Return the notes of the study in scores of so many notes, each counted from its own beginning."""
    scores: list[list[tuple[Fraction, Fraction, int, bool]]] = []
    strains = list(study.strains)
    for count in counts:
        score: list[tuple[Fraction, Fraction, int, bool]] = []
        start = Fraction(0)
        while len(score) < count:
            strain = strains.pop(0)
            score += _written(strain, start, SOUNDS[study.horn])
            start += sum((event.length for event in strain.music), Fraction(0))
        scores.append(score)
    assert not strains
    return scores


@pytest.mark.parametrize("name", STUDIES)
def test_the_page_sounds_as_the_study(name: str, engraved: Path) -> None:
    """Every note begins when it should at its concert pitch, and lasts its length; a mark that shortens may shorten it."""
    study = make(STUDIES[name])
    found = [_heard(file) for file in _scores(engraved, name)]
    expected = _expected(study, [len(score) for score in found])

    for score, notes in zip(expected, found, strict=True):
        assert [(onset, pitch) for onset, _, pitch, _ in score] == [(onset, pitch) for onset, _, pitch in notes]
        lengths = [(wanted, heard, short) for (_, wanted, _, short), (_, heard, _) in zip(score, notes, strict=True)]
        assert [] == [(wanted, heard) for wanted, heard, short in lengths if not short and heard != wanted]
        assert [] == [(wanted, heard) for wanted, heard, short in lengths if short and not wanted / 4 <= heard <= wanted]


def test_what_is_read_covers_the_hard_cases() -> None:
    """Among the studies are pedals, triplets, long rests, ties or dots, and every horn."""
    studies = {name: make(request) for name, request in STUDIES.items()}
    notes = [note for study in studies.values() for note in study.notes]

    assert set(SOUNDS) == {study.horn for study in studies.values()}
    assert any(note.pitch.midi < 54 for note in studies["pedals"].notes)
    assert any(note.length.denominator % 3 == 0 for note in studies["triplets"].notes)
    assert any(note.length.numerator == 3 for note in notes)
    assert any(
        isinstance(event, Rest) and event.length > 3 for strain in studies["entrances"].strains for event in strain.music
    )
