"""The streams that are told to: whatever a terminal cannot show, hold or take, nothing ends in a traceback."""

import json
import os
import sys
from io import TextIOWrapper
from pathlib import Path


def prepare_output() -> None:
    """Have what the terminal's encoding lacks shown as question marks; what is closed refuses to be written to."""
    if sys.stdout is None:
        sys.stdout = Path(os.devnull).open(encoding="utf-8")  # noqa: SIM115 - open as long as we run
    if sys.stderr is None:
        sys.stderr = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - the same
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def drop_output() -> None:
    """Let what is still to be written to standard output go nowhere, for it would fail again at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def write_json(text: str) -> None:
    """Write a JSON object on a line of standard output; what its encoding lacks is escaped."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        text = json.dumps(json.loads(text))
    sys.stdout.write(f"{text}\n")
