"""A long random search: `python tests/search.py --runs 20000 [--seed N] [--kind NAME ...]`.

Whatever can be asked, of every kind of study and of packets, days and weeks, must keep the laws of `tests/laws.py`. What is
found is printed as a line of Python that shows it again; each find becomes a test. The same seed walks the same way.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from multiprocessing import get_context
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from hypothesis import Phase, given, seed, settings
from hypothesis import strategies as st

from generators.errors import BadRequest, Refusal
from generators.routine.context import KINDS as DAYS
from generators.routine.profile import Profile
from generators.studies.catalogue import KINDS
from tests import laws, settled
from tests.studies.requests import ANY, records, requests

try:
    from generators.jobs.codec import decode, encode
except ImportError:
    decode = encode = None

# How many runs a process is given at once, and how many of the dearer kinds stand for one of a study.
CHUNK = 100
SHARE = {"packet": 0.5, "day": 0.5, "week": 0.05}
SPAN = (730000, 750000)
PLANNER = "from generators.routine.{0} import {1}"


@dataclass(slots=True)
class Tally:
    """What came of the runs of one kind."""

    runs: int = 0
    made: int = 0
    refused: int = 0
    prose: int = 0
    """Refusals that tell no values."""
    finds: int = 0


@dataclass(frozen=True, slots=True)
class Find:
    """What breaks a law, as small as it was got, and how."""

    kind: str
    asked: Any
    fault: str


def strategy(kind: str) -> st.SearchStrategy[Any]:
    """Return what is asked for of a kind."""
    profile, day = records(Profile), st.integers(*SPAN)
    own: dict[str, st.SearchStrategy[Any]] = {
        "packet": st.builds(laws.AskedPacket, st.lists(ANY, min_size=1, max_size=4).map(tuple)),
        "day": st.builds(laws.AskedDay, profile, day, st.sampled_from(DAYS), st.none() | st.integers(8, 60)),
        "week": st.builds(laws.AskedWeek, profile, day),
    }
    return own[kind] if kind in own else requests(kind)


def faults(asked: Any) -> Iterator[str]:
    """Yield what is wrong with an answer; a crash is wrong too, and so is a request that its JSON does not give back."""
    try:
        yield from laws.faults(asked)
        if encode and decode and type(asked) in {kind.request for kind in KINDS.values()} and decode(encode(asked)) != asked:
            yield "another request comes back from its JSON"
    except Exception as crash:
        yield f"{type(crash).__name__}: {crash}"


def walked(job: tuple[str, int, int]) -> tuple[str, Tally, list[Find]]:
    """Walk so many requests of a kind from a seed of its own."""
    kind, start, runs = job
    settled.settle()
    tally, finds = Tally(), list[Find]()

    @seed(start)
    @settings(max_examples=runs, phases=[Phase.generate], derandomize=False)
    @given(strategy(kind))
    def law(asked: Any) -> None:
        tally.runs += 1
        found = list(faults(asked))
        if found:
            tally.finds += 1
            finds.append(Find(kind, *smaller(asked, found[0])))
        else:
            counted(tally, laws.answer(asked))

    law()
    return kind, tally, finds


def counted(tally: Tally, answer: Any) -> None:
    """Count what an answer is."""
    refused = isinstance(answer, BadRequest)
    tally.refused += refused
    tally.made += not refused
    tally.prose += refused and answer.refusal == Refusal(answer.refusal.what)


def smaller(asked: Any, fault: str) -> tuple[Any, str]:
    """Return a request with as many fields as may be left alone that is still wrong in the same way, and how."""
    for entry in fields(asked) if is_dataclass(asked) else ():
        value = getattr(asked, entry.name)
        inner = _defaults(value) if is_dataclass(value) else [entry.default] if value != entry.default else []
        for plain in inner:
            try:
                less = replace(asked, **{entry.name: plain})
            except TypeError:
                continue
            found = [other for other in faults(less) if _way(other) == _way(fault)]
            if found:
                return smaller(less, found[0])
    return asked, fault


def _defaults(value: Any) -> Iterator[Any]:
    """Yield a record with one more field at its default."""
    for entry in fields(value):
        if getattr(value, entry.name) != entry.default:
            yield replace(value, **{entry.name: entry.default})


def _way(fault: str) -> str:
    return " ".join(fault.split()[:3])


def line(find: Find) -> str:
    """Return a line of Python that shows a find again."""
    asked = find.asked
    if isinstance(asked, laws.AskedDay):
        given = f"plan({_short(asked.profile)}, {asked.day}, {asked.kind!r}, {asked.minutes})"
        return f"from generators import *; {PLANNER.format('day', 'plan')}; {given}"
    if isinstance(asked, laws.AskedWeek):
        return (
            f"from generators import *; {PLANNER.format('week', 'plan_week')}; plan_week({_short(asked.profile)}, {asked.day})"
        )
    if isinstance(asked, laws.AskedPacket):
        return f"from generators import *; [make(r) for r in [{', '.join(map(_short, asked.requests))}]]"
    return f"from generators import *; make({_short(asked)})"


def _short(record: Any) -> str:
    """Return a record as it is made, fields left alone left out."""
    said = [f"{e.name}={getattr(record, e.name)!r}" for e in fields(record) if getattr(record, e.name) != e.default]
    return f"{type(record).__name__}({', '.join(said)})"


def jobs(kinds: list[str], runs: int, start: int) -> list[tuple[str, int, int]]:
    """Return the runs of all kinds in chunks, each with a seed of its own; dear chunks first, so that no process waits."""
    whole = sum(SHARE.get(kind, 1) for kind in kinds)
    chunks: list[tuple[str, int, int]] = []
    for place, kind in enumerate(kinds):
        left = max(1, round(runs * SHARE.get(kind, 1) / whole))
        size = max(1, round(CHUNK * SHARE.get(kind, 1)))
        for number, done in enumerate(range(0, left, size)):
            chunks.append((kind, start * 1_000_003 + place * 10_007 + number, min(size, left - done)))
    return sorted(chunks, key=lambda chunk: SHARE.get(chunk[0], 1))


def told(tallies: dict[str, Tally], finds: list[Find]) -> None:
    """Print the table, and every find once."""
    print(f"{'kind':12}{'runs':>8}{'made':>8}{'refused':>9}{'no values':>11}{'finds':>7}")
    total = Tally()
    for kind, tally in tallies.items():
        print(f"{kind:12}{tally.runs:8}{tally.made:8}{tally.refused:9}{tally.prose:11}{tally.finds:7}")
        for entry in fields(Tally):
            setattr(total, entry.name, getattr(total, entry.name) + getattr(tally, entry.name))
    print(f"{'all':12}{total.runs:8}{total.made:8}{total.refused:9}{total.prose:11}{total.finds:7}")
    for text, many in Counter(f"{line(find)}  # {find.fault}" for find in finds).items():
        print(text + (f" ({many} times)" if many > 1 else ""))


def main() -> int:
    """Walk, tell, and say by the exit code whether anything was found."""
    every = [*KINDS, *SHARE]
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--runs", type=int, default=20000, help="how many requests in all")
    parser.add_argument("--seed", type=int, default=0, help="another number, another walk")
    parser.add_argument("--kind", nargs="+", choices=every, default=every, metavar="NAME", help=", ".join(every))
    parser.add_argument("--processes", type=int, default=2)
    asked = parser.parse_args()
    tallies = {kind: Tally() for kind in asked.kind}
    finds: list[Find] = []
    with get_context("spawn").Pool(asked.processes, maxtasksperchild=20) as pool:
        for kind, tally, found in pool.imap(walked, jobs(asked.kind, asked.runs, asked.seed)):
            for entry in fields(Tally):
                setattr(tallies[kind], entry.name, getattr(tallies[kind], entry.name) + getattr(tally, entry.name))
            finds += found
    told(tallies, finds)
    return 1 if finds else 0


if __name__ == "__main__":
    sys.exit(main())
