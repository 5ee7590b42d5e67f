"""A long random search: `python tests/search.py --runs 20000 [--seed N] [--kind NAME ...]`.

Whatever can be asked, of every kind of study and of packets, days and weeks, must keep the laws of `tests/laws.py`. What is
found is printed as a line of Python that shows it again; each find becomes a test. The same seed walks the same way.
"""

import argparse
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import astuple, dataclass, fields, is_dataclass, replace
from itertools import chain, product
from multiprocessing import get_context
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from hypothesis import Phase, given, seed, settings
from hypothesis import strategies as st

from generators.errors import BadRequest
from generators.jobs.kinds import AnyRequest
from generators.routine.profile import Profile
from generators.routine.requests import DayRequest, RoutineRequest, WeekRequest
from generators.sheets.packet import PacketRequest
from generators.sheets.sheet import Sheet
from generators.studies.catalogue import KINDS
from generators.studies.kit.kind import DAY_KINDS
from generators.theory.pitch import Pitch
from tests import laws, settled
from tests.jobs.asked import DATES, growths, sheets, wishes
from tests.studies.requests import ANY, records, requests

# How many runs a process is given at once, and how many of the dearer kinds stand for one of a study.
CHUNK = 100
SHARE = {"packet": 0.5, "day": 0.5, "week": 0.05}
# What stands before a find said in Python.
HEAD = "import datetime; from generators import *; from generators.routine.growth import Growth; "
# Fields that a request cannot be made without.
NEEDED = ("profile", "on", "studies")


@dataclass(slots=True)
class Tally:
    """What came of the runs of one kind."""

    runs: int = 0
    made: int = 0
    refused: int = 0
    finds: int = 0


@dataclass(frozen=True, slots=True)
class Find:
    """What breaks a law, as small as it was got, and how."""

    kind: str
    asked: AnyRequest
    sheet: Sheet
    fault: str


def strategy(kind: str) -> st.SearchStrategy[Any]:
    """Return what is asked for of a kind."""
    if kind == "packet":
        return st.builds(PacketRequest, studies=st.lists(ANY, min_size=1, max_size=4).map(tuple))
    if kind == "day":
        return _routines(DayRequest, kind=st.sampled_from(DAY_KINDS))
    return _routines(WeekRequest) if kind == "week" else requests(kind)


def _routines(record: type[RoutineRequest], **more: Any) -> st.SearchStrategy[Any]:
    """Return days or weeks of any player, with whatever log and wishes."""
    fields = {
        "minutes": st.integers(8, 60),
        "growth": growths,
        "concert": st.booleans(),
        "wishes": wishes,
    }
    return st.builds(
        lambda profile, on, chosen: record(profile=profile, on=on, **chosen),
        records(Profile),
        DATES,
        st.fixed_dictionaries(more, optional=fields),
    )


def faults(asked: AnyRequest, sheet: Sheet) -> Iterator[str]:
    """Yield what is wrong with an answer; a crash is wrong too, and so is a request that its JSON does not give back."""
    try:
        yield from laws.faults(asked)
        yield from laws.lost(asked, sheet)
    except Exception as crash:
        yield f"{type(crash).__name__}: {crash}"


def walked(job: tuple[str, int, int]) -> tuple[str, Tally, list[Find]]:
    """Walk so many requests of a kind from a seed of its own."""
    kind, start, runs = job
    settled.settle()
    tally, finds = Tally(), list[Find]()

    @seed(start)
    @settings(max_examples=runs, phases=[Phase.generate], derandomize=False)
    @given(strategy(kind), sheets)
    def law(asked: AnyRequest, sheet: Sheet) -> None:
        tally.runs += 1
        found = list(faults(asked, sheet))
        if found:
            tally.finds += 1
            finds.append(smallest(Find(kind, asked, sheet, found[0])))
        else:
            counted(tally, laws.answer(asked))

    law()
    return kind, tally, finds


def counted(tally: Tally, answer: Any) -> None:
    """Count what an answer is."""
    refused = isinstance(answer, BadRequest)
    tally.refused += refused
    tally.made += not refused


def smallest(find: Find) -> Find:
    """Return a find with as many fields as may be left alone that is still wrong in the same way."""
    for asked, sheet in chain(product(plainer(find.asked), [find.sheet]), product([find.asked], plainer(find.sheet))):
        found = [fault for fault in faults(asked, sheet) if _way(fault) == _way(find.fault)]
        if found:
            return smallest(Find(find.kind, asked, sheet, found[0]))
    return find


def plainer(record: Any) -> Iterator[Any]:
    """Yield a record with one more field at its default, its own or one of a record inside it, or one study fewer."""
    for entry in fields(record):
        value = getattr(record, entry.name)
        if value != entry.default and entry.name not in NEEDED:
            yield replace(record, **{entry.name: entry.default})
        if is_dataclass(value):
            yield from (replace(record, **{entry.name: inner}) for inner in plainer(value))
        if entry.name == "studies":
            rest = [value[:place] + value[place + 1 :] for place in range(len(value))]
            yield from (replace(record, studies=fewer) for fewer in rest if fewer)


def _way(fault: str) -> str:
    return " ".join(fault.split()[:3])


def line(find: Find) -> str:
    """Return a line of Python that shows a find again."""
    made = f"make({_short(find.asked)})" if find.kind in KINDS else f"compose({_short(find.asked)})"
    sheet = f"; encoded({_short(find.asked)}, {_short(find.sheet)})" if find.sheet != Sheet() else ""
    return f"{HEAD}{made}{sheet}"


def _short(value: Any) -> str:
    """Return a value as it is made, fields of records that were left alone left out."""
    if isinstance(value, tuple):
        return f"({' '.join(f'{_short(item)},' for item in value)})"
    if isinstance(value, Pitch):
        return f"parse_pitch({value.name!r})"
    if not is_dataclass(value):
        return repr(value)
    said = [f"{e.name}={_short(getattr(value, e.name))}" for e in fields(value) if getattr(value, e.name) != e.default]
    return f"{type(value).__name__}({', '.join(said)})"


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
    print(f"{'kind':12}{'runs':>8}{'made':>8}{'refused':>9}{'finds':>7}")
    for kind, tally in [*tallies.items(), ("all", added(tallies.values()))]:
        print(f"{kind:12}{tally.runs:8}{tally.made:8}{tally.refused:9}{tally.finds:7}")
    for text, many in Counter(f"{line(find)}  # {find.fault}" for find in finds).items():
        print(text + (f" ({many} times)" if many > 1 else ""))


def added(tallies: Iterable[Tally]) -> Tally:
    """Return the sum of tallies."""
    return Tally(*map(sum, zip(*(astuple(tally) for tally in tallies), strict=True)))


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
            tallies[kind] = added([tallies[kind], tally])
            finds += found
    told(tallies, finds)
    return 1 if finds else 0


if __name__ == "__main__":
    sys.exit(main())
