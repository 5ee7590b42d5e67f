"""The command line run inside the test: its exit code, what it prints and what it complains of."""

import sys
from collections.abc import Callable
from typing import NamedTuple

import pytest

from generators.cli import main


class Ran(NamedTuple):
    """How a command ended."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


def runner(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs `waterkey` with some arguments."""

    def run(*arguments: str) -> Ran:
        monkeypatch.setattr(sys, "argv", ["waterkey", *arguments])
        with pytest.raises(SystemExit) as end:
            main()
        code = end.value.code
        return Ran(code if isinstance(code, int) else 0, *capfd.readouterr())

    return run
