"""Filling in the templates in `templates/`: LilyPond source, in which every text of a player stands in quotes."""

from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from generators.press.texts import one_line, quoted, spaced_words

_HERE = Path(__file__).parent.parent
# In an installed package the templates lie inside it, in a checkout beside it.
TEMPLATES = next(path for path in (_HERE / "templates", _HERE.parent / "templates") if path.is_dir())


def filled_in(template: str, **values: Any) -> str:
    """Return the text of a template with the values filled in."""
    return _environment().get_template(template).render(**values)


@cache
def _environment() -> Environment:
    environment = Environment(loader=FileSystemLoader(TEMPLATES), undefined=StrictUndefined, trim_blocks=True, autoescape=False)  # noqa: S701 - LilyPond source, not HTML; every text goes through `quoted`
    environment.filters |= {"quoted": quoted, "line": one_line, "words": spaced_words}
    return environment
