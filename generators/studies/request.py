"""What every study can be asked: horn, keys, range, grade, tempo and seed, as one frozen record."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from typing import Any

from generators.errors import BadRequest, unknown

SLOWEST, FASTEST = 30, 240


def option(default: Any, text: str, *, allowed: Sequence[str] = (), span: tuple[int, int] | None = None) -> Any:
    """Return a field of a request: its default, its help for the player, and what it may hold."""
    return field(default=default, metadata={"help": text, "allowed": tuple(allowed), "span": span})


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """The part of a request that all studies share; pitches and keys are as the player writes them."""

    horn: str = option("trumpet", "The horn, as listed by `waterkey horns`.")
    keys: tuple[str, ...] = option(
        (), "Keys in order, such as Eb,D,Db,C or Cm,F#m; `all` for twelve majors by half-steps down."
    )
    concert: bool = option(False, "The keys given are concert keys; the page is written for the horn.")
    low: str = option("", "Lowest written note, such as F#3.")
    high: str = option("", "Highest written note, such as G5.")
    grade: str = option("", "Keep to the limits and habits of a learner's grade, 1 to 6.")
    tempo: int | None = option(None, f"Quarter notes a minute, {SLOWEST} to {FASTEST}; without it the study's own.")
    breath: int | None = option(None, "Seconds one breath lasts; without it the grade's own.", span=(5, 60))
    tongue: int | None = option(
        None, "Quarter notes a minute at which single-tongued sixteenths are easy; without it the grade's own.", span=(40, 160)
    )
    seed: int = option(0, "Another number, another draw, where a study draws anything.")


def checked(request: Any) -> None:
    """Refuse a request or sheet that holds a value its fields do not allow."""
    for entry in fields(request):
        value, meta = getattr(request, entry.name), entry.metadata
        name = entry.name.replace("_", "-")
        for item in value if isinstance(value, tuple) else (value,):
            _check(name, item, entry.default, meta)


def _check(name: str, value: Any, default: Any, meta: Mapping[str, Any]) -> None:
    if meta["allowed"] and str(value) not in meta["allowed"] and value != default:
        raise unknown(name, value, meta["allowed"])
    if meta["span"] and value is not None and not meta["span"][0] <= value <= meta["span"][1]:
        low, high = meta["span"]
        raise BadRequest(f"{name} {value} is out of reach; allowed: {low} to {high}.")
