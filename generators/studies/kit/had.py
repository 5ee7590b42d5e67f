"""A study tried for a day: made once, and nothing where it is not to be had."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from generators.errors import BadRequest
from generators.phrase.study import Study
from generators.studies.kit.request import Request

# How many of the last ones are kept: a day tries some hundreds of lines, many of them again.
_KEPT = 512


@lru_cache(maxsize=_KEPT)
def study_had(make: Callable[[Any], Study], asked: Request) -> Study | None:
    """Return the study of a request; None where it is not to be had."""
    try:
        return make(asked)
    except BadRequest:
        return None
