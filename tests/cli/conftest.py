"""What tests of the command line share."""

from pathlib import Path

import pytest

from tests.cli.running import Run, runner


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Return a runner of the command in folders of its own."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    return runner(monkeypatch, capfd)
