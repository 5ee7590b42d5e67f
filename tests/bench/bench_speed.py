"""What our own work costs beside the engraver's, told and never asserted: `python tests/bench/bench_speed.py`, by hand.

Each case is one command in a fresh process and an empty home, imports and all. The text that it engraved is then engraved once
more by one bare LilyPond with its collector off. Processor time is the system's own count: of the whole command (`wait4`), of
its engravers (told by the shell that starts each), of the bare run. Ours is the command without its engravers. The clock is
read of runs without that shell. Of several runs the best counts: everything else is other work of the machine.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CASES = {
    "a week of seven days": ("week", "--from", "2026-11-30"),
    "one page": ("flow", "--keys", "Eb"),
    "thirty pages": (
        "packet",
        "--studies",
        "flow,slurs,low,scales,arpeggios,intervals,etude",
        "--keys",
        "all",
    ),
}
# Stands for LilyPond, and writes down what it cost: `times` tells user and system time of the shell, then of its children. The
# version is told at once, since it is asked for only where an engraver of one's own is named.
RECORDING = """#!/bin/sh
[ "$1" = --version ] && echo "GNU LilyPond 2.24.3" && exit
"{engraver}" "$@"
code=$?
times > "{folder}/times.$$"
exit $code
"""


@dataclass(frozen=True, slots=True)
class Cost:
    """Seconds of processor and of the clock."""

    processor: float
    clock: float


def spent(command: Sequence[str], folder: Path, environment: Mapping[str, str]) -> Cost:
    """Run a command and return what it and all that it waited for cost."""
    start = time.perf_counter()
    with (folder / "told").open("wb") as told:
        process = subprocess.Popen(command, cwd=folder, env=environment, stdout=told)
        _, status, usage = os.wait4(process.pid, 0)
    clock = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} ended with code {process.returncode}")
    return Cost(usage.ru_utime + usage.ru_stime, clock)


def engraver() -> str:
    """Return the packaged LilyPond."""
    import lilypond

    return str(lilypond.executable())


def ours(case: Sequence[str], *, recorded: bool) -> tuple[Cost, float, str, int]:
    """Run a command of ours in an empty home; return its cost, its engravers' processor time, its text and its pages."""
    with tempfile.TemporaryDirectory(prefix="bench-") as name:
        folder = Path(name)
        homes = dict.fromkeys(("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"), name)
        environment = os.environ | homes | {"PYTHONPATH": str(ROOT)}
        if recorded:
            script = folder / "lilypond"
            script.write_text(RECORDING.format(engraver=engraver(), folder=name), encoding="utf-8")
            script.chmod(0o755)
            environment["WATERKEY_LILYPOND"] = str(script)
        command = [sys.executable, "-m", "generators", *case, "--json", "--format", "pdf,ly", "--out", f"{name}/page"]
        cost = spent(command, folder, environment)
        theirs = sum(map(_seconds, folder.glob("times.*")))
        report = json.loads((folder / "told").read_text(encoding="utf-8"))
        return cost, theirs, (folder / "page.ly").read_text(encoding="utf-8"), report["pages"]


def _seconds(file: Path) -> float:
    """Return the seconds of a shell and its children: four times such as 0m1.23s."""
    words = file.read_text(encoding="utf-8").split()
    return sum(60 * float(minutes) + float(rest.rstrip("s")) for minutes, rest in (word.split("m") for word in words))


def bare(text: str) -> Cost:
    """Engrave a text by one LilyPond with its collector off."""
    with tempfile.TemporaryDirectory(prefix="bench-") as name:
        Path(name, "page.ly").write_text(text, encoding="utf-8")
        command = [engraver(), "-lWARNING", "-dno-point-and-click", "-dbackend=cairo", "--pdf", "page.ly"]
        return spent(command, Path(name), {"HOME": name, "GC_DONT_GC": "1", "PATH": os.environ["PATH"]})


def measured(case: Sequence[str], runs: int) -> str:
    """Return a case in words: ours beside the bare run, as processor time and by the clock."""
    whole, clock, alone, own, pages, text = [], [], [], [], 0, ""
    for _ in range(runs):
        cost, theirs, text, pages = ours(case, recorded=True)
        whole.append(cost.processor)
        own.append(cost.processor - theirs)
        clock.append(ours(case, recorded=False)[0].clock)
        alone.append(bare(text))
    processor, seconds = min(cost.processor for cost in alone), min(cost.clock for cost in alone)
    return (
        f"{pages} pages; processor: ours {min(own):.2f} s, with its engravers {min(whole):.2f} s, bare engraver "
        f"{processor:.2f} s, ours/bare {min(own) / processor:.2f}, whole/bare {min(whole) / processor:.2f}; "
        f"clock: {min(clock):.2f} s, bare {seconds:.2f} s, ratio {min(clock) / seconds:.2f}"
    )


def main() -> None:
    """Print each case."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--case", nargs="+", choices=list(CASES), default=list(CASES), metavar="NAME")
    asked = parser.parse_args()
    for name in asked.case:
        print(f"{name}: {measured(CASES[name], asked.runs)}", flush=True)


if __name__ == "__main__":
    main()
