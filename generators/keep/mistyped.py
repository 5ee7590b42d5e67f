"""Values of the wrong type in a TOML text, refused as the text has them."""

import json
from dataclasses import dataclass
from typing import Any

from generators.errors import Refusal

# What a field wants by the type of its default, and what would do.
WANTED = {
    str: ("is not a text", 'write it in quotes, as in "C5"'),
    int: ("is not a whole number", "write digits without quotes, as in 22"),
    bool: ("is neither true nor false", "write one of them without quotes"),
}


@dataclass(frozen=True, slots=True)
class _Told:
    """A value as TOML has it, told without quotes of ours."""

    text: str

    def __str__(self) -> str:
        return self.text


def mistyped(name: str, value: Any, why: str, cure: str) -> Refusal:
    """Return the refusal of a value of the wrong type; texts are told in quotes, all else as TOML has it."""
    shown = value if isinstance(value, str) else _Told(json.dumps(value, ensure_ascii=False, default=str))
    return Refusal(name, shown, why, do=cure)
