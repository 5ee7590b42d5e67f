import os
import subprocess
import sys
from errno import EACCES
from pathlib import Path

import pytest

from generators.errors import FailedRun
from generators.keep.files import check_target, is_there, save

# A process that may write files of 1000 bytes at the most, as if the disk were full.
FULL = """
import resource, sys
from pathlib import Path
from generators.errors import FailedRun
from generators.keep.files import save
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
folder = Path(sys.argv[1])
try:
    save({folder / "a.pdf": b"new", folder / "b.pdf": bytes(5000)})
except FailedRun as refusal:
    print(refusal.refusal.where, refusal.refusal.why)
"""


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_files_are_written_whole(tmp_path: Path) -> None:
    """Every file holds its bytes, and nothing else is left in the folder."""
    save({tmp_path / "a.pdf": b"one", tmp_path / "b.ly": b"two"})

    assert {"a.pdf": b"one", "b.ly": b"two"} == {path.name: path.read_bytes() for path in tmp_path.iterdir()}


def test_a_name_as_long_as_the_disk_takes(tmp_path: Path) -> None:
    """A file may have the longest name there is, and be replaced."""
    place = tmp_path / ("x" * 255)
    save({place: b"old"})
    save({place: b"new"})

    assert (b"new", [place.name]) == (place.read_bytes(), _names(tmp_path))


def test_a_file_is_replaced(tmp_path: Path) -> None:
    """A file that was there is replaced; a new one can be read by whom the user's mask allows."""
    (tmp_path / "a.pdf").write_bytes(b"old")
    before = os.umask(0o027)
    try:
        save({tmp_path / "a.pdf": b"new", tmp_path / "b.pdf": b"new"})
    finally:
        os.umask(before)

    assert b"new" == (tmp_path / "a.pdf").read_bytes()
    assert 0o640 == (tmp_path / "b.pdf").stat().st_mode & 0o777


def test_a_full_disk_changes_nothing(tmp_path: Path) -> None:
    """Where one file of several does not fit, the old ones stay, none of the new appears, and the message says why."""
    (tmp_path / "a.pdf").write_bytes(b"old")
    run = subprocess.run([sys.executable, "-c", FULL, str(tmp_path)], capture_output=True, text=True, check=True)

    assert "cannot be written" in run.stdout
    assert str(tmp_path / "b.pdf") in run.stdout
    assert "too large" in run.stdout
    assert ["a.pdf"] == _names(tmp_path)
    assert b"old" == (tmp_path / "a.pdf").read_bytes()


def test_several_files_are_written_or_none(tmp_path: Path) -> None:
    """Where one target cannot be replaced, the others are not replaced either."""
    (tmp_path / "a.pdf").write_bytes(b"old")
    (tmp_path / "b.ly").mkdir()
    with pytest.raises(FailedRun) as refused:
        save({tmp_path / "a.pdf": b"new", tmp_path / "b.ly": b"new"})

    assert str(tmp_path / "b.ly") == refused.value.refusal.where
    assert b"old" == (tmp_path / "a.pdf").read_bytes()
    assert ["a.pdf", "b.ly"] == _names(tmp_path)


def test_a_missing_folder_is_made(tmp_path: Path) -> None:
    """The folder of the target is made, with those above it, and nothing is put into it."""
    check_target(tmp_path / "x" / "y" / "flow")

    assert [] == _names(tmp_path / "x" / "y")


@pytest.mark.parametrize("place", ["/proc/flow", "/dev/null/flow", "{file}/flow", "{file}/deeper/flow"])
def test_a_folder_that_cannot_be_written_is_told(place: str, tmp_path: Path) -> None:
    """The refusal names the folder and the reason, and that another place can be chosen."""
    (tmp_path / "file").write_bytes(b"old")
    stem = Path(place.replace("{file}", str(tmp_path / "file")))
    with pytest.raises(FailedRun) as refused:
        check_target(stem)

    assert str(stem.parent) == refused.value.refusal.where
    assert "cannot be written: " in refused.value.refusal.why
    assert "choose another place" in refused.value.refusal.do
    assert b"old" == (tmp_path / "file").read_bytes()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_leave_is_told(tmp_path: Path) -> None:
    """A folder that the user may not write is refused before any work is done."""
    tmp_path.chmod(0o500)
    with pytest.raises(FailedRun, match="permission denied"):
        check_target(tmp_path / "flow")


def test_a_link_and_a_mode_stay(tmp_path: Path) -> None:
    """Where a link stands, what it leads to is replaced; what only its owner may read stays so."""
    kept, link = tmp_path / "kept.toml", tmp_path / "link.toml"
    kept.write_bytes(b"old")
    kept.chmod(0o600)
    link.symlink_to(kept)
    save({link: b"new"})

    assert link.is_symlink()
    assert (b"new", 0o600) == (kept.read_bytes(), kept.stat().st_mode & 0o777)


@pytest.mark.parametrize("wrong", ["a.pdf", "b.pdf"])
def test_the_place_that_cannot_be_replaced_is_named(tmp_path: Path, wrong: str) -> None:
    """Of several targets the one that is a folder is told, whichever comes first."""
    (tmp_path / wrong).mkdir()
    with pytest.raises(FailedRun) as refused:
        save({tmp_path / "a.pdf": b"new", tmp_path / "b.pdf": b"new"})

    assert str(tmp_path / wrong) == refused.value.refusal.where


def test_an_interrupted_run_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever ends the writing, the file beside the place is taken away."""

    def interrupted(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        save({tmp_path / "a.pdf": b"new"})

    assert [] == _names(tmp_path)


def test_only_absence_is_absence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that is not there, or below a file, is absent; one that may not be seen is refused."""
    (tmp_path / "file").write_bytes(b"")

    assert [True, False, False] == [is_there(tmp_path / name) for name in ("file", "none", "file/below")]
    monkeypatch.setattr(Path, "stat", _forbidden)
    with pytest.raises(FailedRun, match="cannot be read: permission denied"):
        is_there(tmp_path / "file")


def _forbidden(*_: object, **__: object) -> None:
    raise PermissionError(EACCES, os.strerror(EACCES))
