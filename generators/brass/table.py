"""The tables that lie beside this module, read as plain values."""

import tomllib
from importlib.resources import files
from typing import Any


def read_table(name: str) -> dict[str, Any]:
    """Return the table of a name such as "horns.toml"."""
    return tomllib.loads(files("generators.brass").joinpath(name).read_text(encoding="utf-8"))
