"""The few ways in which a request can end without a page: refusals as values, worded where they are told."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches

# A value longer than this is cut where it is told, a place keeps this much of its end, in characters; our choice.
LONGEST_SHOWN, LONGEST_PLACE = 60, 160


@dataclass(frozen=True, slots=True)
class Refusal:
    """What was refused and why, what is allowed, and what would do instead.

    `Refusal("tempo", 20, "is out of reach", allowed="30 to 240")` is told as "tempo 20 is out of reach; allowed: 30 to 240."
    """

    what: str
    """The field that holds the value, or the thing that was asked for."""
    value: object = None
    """What was given, shown in quotes if it is a text; nothing is shown for None."""
    why: str = ""
    allowed: str | tuple[str, ...] = ()
    """What may be given instead: names, or a span in words."""
    do: str = ""
    """What to do, in words that hold for every front end."""
    would_do: tuple[tuple[str, tuple[str, ...]], ...] = ()
    """Fields and the values of each that would do, all of them together: `(("low", ("F#3",)), ("high", ("C5", "D5")))`."""
    near: str = ""
    """The allowed value that lies nearest."""
    where: str = ""
    """The file and line, or the field around, in which it stands; told first."""

    def within(self, where: str) -> "Refusal":
        """Return the refusal with a place around the one that it has."""
        return replace(self, where=": ".join(filter(None, (where, self.where))))


def plain(field: str) -> str:
    """Return the name of a field as it is told where no front end has another for it: `plain("weak_keys") == "weak-keys"`.

    What may not be a name in Python has a stroke after it, which is not told: `plain("from_") == "from"`.
    """
    return field.rstrip("_").replace("_", "-")


def worded(refusal: Refusal, name: Callable[[str], str] = plain) -> str:
    """Return a refusal in one line; `name` says what the front end calls a field."""
    head = " ".join(part for part in (plain(refusal.what), _shown(refusal.value), refusal.why) if part)
    allowed = refusal.allowed if isinstance(refusal.allowed, str) else ", ".join(refusal.allowed)
    told = f"allowed: {allowed}" if allowed else ""
    chosen = [" ".join(filter(None, (name(field), " or ".join(values)))) for field, values in refusal.would_do]
    cure = f"{' with '.join(chosen)} would do" if chosen else ""
    near = f' Did you mean "{refusal.near}"?' if refusal.near else ""
    place = f"{_placed(refusal.where)}: " if refusal.where else ""
    return place + "; ".join(filter(None, (head, told, refusal.do, cure))) + "." + near


def _placed(where: str) -> str:
    """Return a place on one line; of a long one the end."""
    text = _plain(where[-LONGEST_PLACE:])
    return f"…{text}" if len(where) > LONGEST_PLACE else text


def _plain(text: str) -> str:
    return "".join(char if char.isprintable() else "�" for char in text)


def _shown(value: object) -> str:
    """Return a value on one line, cut where it is long."""
    if value is None:
        return ""
    text = _plain(str(value)[: LONGEST_SHOWN + 1])
    cut = f"{text[:LONGEST_SHOWN]}…" if len(text) > LONGEST_SHOWN else text
    return f'"{cut}"' if isinstance(value, str) else cut


class WaterkeyError(Exception):
    """Anything that is told to the player in a line, never as a traceback."""

    exit_code = 1

    def __init__(self, refusal: Refusal) -> None:
        """Keep the refusal."""
        super().__init__(refusal)
        self.refusal = refusal

    def __str__(self) -> str:
        return worded(self.refusal)


class BadRequest(WaterkeyError):
    """The request itself cannot be met; the refusal names the value, what is allowed and what to do."""

    exit_code = 2


class FailedRun(WaterkeyError):
    """The request was good, but making or saving the page failed."""


def unknown(what: str, value: object, allowed: Iterable[str]) -> BadRequest:
    """Return the refusal of a value that is not in a list, with the nearest entry of that list."""
    names = tuple(str(name) for name in allowed)
    near = get_close_matches(str(value)[:LONGEST_SHOWN].lower(), [name.lower() for name in names], n=1, cutoff=0.5)
    nearest = next(name for name in names if name.lower() == near[0]) if near else ""
    return BadRequest(Refusal(what, str(value), "is not known", allowed=names, near=nearest))
