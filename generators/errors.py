"""The few ways in which a request can end without a page."""

from collections.abc import Iterable
from difflib import get_close_matches


class WaterkeyError(Exception):
    """Anything that is told to the player in a line, never as a traceback."""

    exit_code = 1


class BadRequest(WaterkeyError):
    """The request itself cannot be met; the message names the value, what is allowed and what to do."""

    exit_code = 2


class FailedRun(WaterkeyError):
    """The request was good, but making or saving the page failed."""


def unknown(what: str, value: object, allowed: Iterable[str]) -> BadRequest:
    """Return the refusal of a value that is not in a list, with the nearest entry of that list."""
    names = [str(name) for name in allowed]
    near = get_close_matches(str(value).lower(), [name.lower() for name in names], n=1, cutoff=0.5)
    hint = f' Did you mean "{next(n for n in names if n.lower() == near[0])}"?' if near else ""
    return BadRequest(f'{what} "{value}" is not known; allowed: {", ".join(names)}.{hint}')
