"""A kind of study is one file: written into the folder of studies, everything else finds it."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
KIND = '''
"""Hum: one long note in every key."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from generators.errors import Refusal
from generators.fields import option
from generators.phrase.bars import COMMON
from generators.phrase.note import Note, Rest
from generators.phrase.study import Limits, Strain, Study
from generators.studies.kit.fit import NoFit, with_air
from generators.studies.kit.kind import DayPart, Kind
from generators.studies.kit.occasion import Occasion
from generators.studies.kit.request import Request
from generators.studies.kit.setting import resolve
from generators.theory.key import Key
from generators.theory.pitch import Pitch


@dataclass(frozen=True, slots=True, kw_only=True)
class HumRequest(Request):
    """A humming study."""

    beats: int = option(4, "Beats of every note.", span=(1, 4))


def hum(request: HumRequest) -> Study:
    """Return the study of a request."""
    setting = resolve(request, ("C",), 60)
    length = Fraction(request.beats, 4)
    rest = (Rest(COMMON.bar - length),) if length < COMMON.bar else ()
    lines = [(Note(_pitch(key, setting.limits), length, breath=True), *rest) for key in setting.keys]
    music, pace = with_air(lines, setting)
    strains = (Strain(setting.label(key), key, line, COMMON, (1,)) for key, line in zip(setting.keys, music, strict=True))
    return Study("hum", "Hum", "", "Listen for the hum.", setting.horn.id, pace, tuple(strains), setting.limits)


def _pitch(key: Key, limits: Limits) -> Pitch:
    for octave in range(1, 7):
        if limits.low <= key.degree(0, octave) <= limits.high:
            return key.degree(0, octave)
    raise NoFit(Refusal("hum", None, f"finds no {key.tonic}"))


def _part(where: Occasion) -> Iterator[Request]:
    yield HumRequest(**where.common, keys=where.keys.majors)


KIND = Kind(
    name="hum",
    place=1,
    request=HumRequest,
    make=hum,
    summary="One long note.",
    example=HumRequest(beats=3, keys=("C", "F")),
    aim="Listen for the hum.",
    child_aim=("Listen: can you hum?", ""),
    areas=("air",),
    parts=(DayPart("hum", 5, _part, weight=1, rank=1, most_lines=1, areas=("air",)),),
    packet=True,
)
'''
# What a session of its own does first: one more folder of studies, beside those of the house.
BEGUN = """
import sys
from pathlib import Path

import generators.studies

generators.studies.__path__.append(str(Path.cwd() / "more"))
"""
FOUND = {
    "its public request": """
import generators

assert "HumRequest" in generators.__all__
assert generators.HumRequest(beats=2).beats == 2
assert generators.make(generators.HumRequest(keys=("C", "F"))).notes[0].pitch.name == "C4"
""",
    "its command and its example": """
import typer.main
from generators.cli.app import app, main

command = typer.main.get_command(app).commands["hum"]
assert "Example: waterkey hum --keys C,F --beats 3" in command.help
assert {"keys", "horn", "beats"} <= {param.name for param in command.params}
sys.argv = ["waterkey", *"hum --keys C,F --beats 3 --format musicxml --out x".split()]
try:
    main()
except SystemExit as end:
    assert end.code == 0
assert Path("x.musicxml").is_file()
""",
    "its way to JSON and back, and its paper": """
from generators import HumRequest, Sheet, compose, decoded, encoded

request = HumRequest(keys=("Eb",), beats=2)
assert decoded(encoded(request, Sheet())) == (request, Sheet())
assert compose(request).name.startswith("hum-trumpet-Eb-")
""",
    "its part of a day, its place in lists and in a first packet": """
from datetime import date

from generators import DayRequest, Profile
from generators.routine.day import plan
from generators.studies.catalogue import DAY_PARTS, KINDS, PACKET

assert (next(iter(KINDS)), next(iter(DAY_PARTS)), PACKET[0]) == ("hum", "hum", "hum")
assert "hum" in [part.name for part in plan(DayRequest(profile=Profile(), on=date(2026, 11, 30))).parts]
""",
    "the strategies and the laws of the tests": """
from hypothesis import given, settings

from tests import laws
from tests.studies.requests import requests

drawn = set()

@settings(max_examples=40, deadline=None, database=None, derandomize=True)
@given(requests("hum"))
def law(request):
    drawn.add(request.beats)
    assert [] == list(laws.faults(request))

law()
assert len(drawn) > 2
""",
}


@pytest.mark.parametrize("what", FOUND)
def test_a_new_kind_is_one_file(what: str, tmp_path: Path) -> None:
    """A kind of which the house has never heard is found by all that speak of kinds, and no other file was touched."""
    (tmp_path / "more").mkdir()
    (tmp_path / "more" / "hum.py").write_text(KIND, encoding="utf-8")
    command, places = [sys.executable, "-c", BEGUN + FOUND[what]], {"PYTHONPATH": str(ROOT), "HOME": str(tmp_path)}
    run = subprocess.run(command, cwd=tmp_path, env=os.environ | places, capture_output=True, text=True, check=False)

    assert (0, "") == (run.returncode, run.stderr)
