"""A study that is tried: made once, and what came of it remembered."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from generators.errors import BadRequest
from generators.phrase.study import Study
from generators.studies.kit.request import Request

# How many of the last ones are kept: a day tries some hundreds of lines, many of them again.
_KEPT = 512


def study_made(make: Callable[[Any], Study], asked: Request) -> Study:
    """Return the study of a request; what refused it once refuses it again."""
    had = _outcome(make, asked)
    if isinstance(had, BadRequest):
        raise had.with_traceback(None)
    return had


def study_had(make: Callable[[Any], Study], asked: Request) -> Study | None:
    """Return the study of a request; None where it is not to be had."""
    had = _outcome(make, asked)
    return had if isinstance(had, Study) else None


@lru_cache(maxsize=_KEPT)
def _outcome(make: Callable[[Any], Study], asked: Request) -> Study | BadRequest:
    try:
        return make(asked)
    except BadRequest as refused:
        return refused
