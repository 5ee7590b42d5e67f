"""How our own time compares with the engraver's: run by hand, `python tests/bench/bench_speed.py`.

Each case is printed in a fresh process, so that imports count. Processor time is taken from the system: our process is ours,
its children are the engraver. What is aimed at is a fifth.
"""

import json
import subprocess
import sys
import tempfile

RUNS = 3
CASES = {
    "one page": ("FlowRequest()",),
    "thirty pages": (
        'FlowRequest(keys=("all",))',
        "SlursRequest()",
        'LowRequest(pedals=True, depth="F#2")',
        'ScalesRequest(keys=("all",))',
        'ScalesRequest(keys=("all",), pattern="thirds", articulation="tongued")',
        'ScalesRequest(keys=("all",), pattern="turns", rhythm="sixteenths")',
        'ArpeggiosRequest(keys=("all",))',
        'ArpeggiosRequest(keys=("all",), kind="dominant-seventh", pattern="broken", articulation="slurred")',
        "EntrancesRequest(count=40)",
    ),
}
SCRIPT = """
import json, resource, sys, time
start = time.perf_counter()
from generators import *
report = print_pages([{requests}], sys.argv[1], ("pdf",), Sheet(date="none"))
wall = time.perf_counter() - start
own, theirs = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
print(json.dumps(dict(pages=report.pages, notes=report.notes, own=own.ru_utime + own.ru_stime,
    engraver=theirs.ru_utime + theirs.ru_stime, wall=wall)))
"""


def measured(requests: tuple[str, ...]) -> dict[str, float]:
    """Print the requests in a fresh process and return its times."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-c", SCRIPT.replace("{requests}", ", ".join(requests)), f"{folder}/bench"]
        run = subprocess.run(command, capture_output=True, text=True, check=True)
    found: dict[str, float] = json.loads(run.stdout)
    return found


def main() -> None:
    """Print, for each case, the best of some runs."""
    for name, requests in CASES.items():
        best = min((measured(requests) for _ in range(RUNS)), key=lambda found: found["own"] + found["engraver"])
        print(
            f"{name}: {best['pages']:.0f} pages, {best['notes']:.0f} notes; processor: ours {best['own']:.2f} s, "
            f"engraver {best['engraver']:.2f} s, ratio {best['own'] / best['engraver']:.2f}; "
            f"clock: {best['wall']:.2f} s, imports and all"
        )


if __name__ == "__main__":
    main()
