"""Printing and exporting leave nothing in the user's home or among the temporary files, and say nothing on the side."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

EXPORT = """
from generators.brass.horn import horn
from generators.exchange.midi import midi
from generators.exchange.musicxml import musicxml
from generators.studies.catalogue import KINDS, make
study = make(KINDS["flow"].request())
midi(study, horn(study.horn)), musicxml(study, horn(study.horn))
"""
SPELL = """
import os
from generators.brass.horn import horn
from generators.press.marks import Extras
from generators.press.score import printed
from generators.studies.catalogue import KINDS, make
home = os.environ.get("HOME")
study = make(KINDS["flow"].request())
assert "c'" in printed(study.strains[0], Extras(horn(study.horn)), 34).text
assert home == os.environ.get("HOME")
"""
PRINT = """
import sys
from generators.cli.app import main
sys.argv = ["waterkey", "flow", "--out", sys.argv[1], "--format", "pdf,ly"]
main()
"""


@pytest.mark.parametrize("script", [EXPORT, SPELL, PRINT], ids=["export", "spell", "print"])
def test_the_home_stays_empty(script: str, tmp_path: Path) -> None:
    """A fresh process with a fresh home leaves both it and the folder for temporary files as empty as they were."""
    home, temporary = tmp_path / "home", tmp_path / "temporary"
    home.mkdir()
    temporary.mkdir()
    environment = os.environ | {"HOME": str(home), "TMPDIR": str(temporary)}
    command = [sys.executable, "-c", script, str(tmp_path / "out" / "flow")]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)

    assert (0, "") == (run.returncode, run.stderr)
    assert [] == list(home.rglob("*"))
    assert [] == list(temporary.rglob("*"))


def test_without_a_home_it_is_written_all_the_same(tmp_path: Path) -> None:
    """Where no home is named none is named afterwards, and none is made."""
    environment = {name: value for name, value in os.environ.items() if name != "HOME"} | {"TMPDIR": str(tmp_path)}
    subprocess.run([sys.executable, "-c", SPELL], env=environment, check=True)

    assert [] == list(tmp_path.rglob("*"))


def test_measuring_does_not_import_abjad() -> None:
    """Laying out pages needs no notation library: it is imported when the first note is written."""
    script = 'import sys, generators.press.laying, generators.press.score; assert "abjad" not in sys.modules'
    subprocess.run([sys.executable, "-c", script], check=True)
