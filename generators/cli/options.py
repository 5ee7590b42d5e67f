"""Command-line options made from the fields of request records, so that a new study needs no code here."""

import inspect
from collections.abc import Callable, Iterator
from dataclasses import Field, fields
from typing import Any, get_type_hints

import typer

from generators.errors import BadRequest


def parameters(record: type[Any]) -> Iterator[inspect.Parameter]:
    """Yield one keyword parameter, with its typer option, for every field of a record."""
    hints = get_type_hints(record)
    for entry in fields(record):
        yield parameter(entry.name, *_option(entry, hints[entry.name]))


def parameter(name: str, hint: Any, default: Any) -> inspect.Parameter:
    """Return a keyword parameter as typer reads it."""
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=hint)


def _option(entry: Field[Any], hint: Any) -> tuple[Any, Any]:
    name = entry.name.replace("_", "-")
    text = _help(entry)
    if hint is bool or hint == bool | None:
        return hint, typer.Option(entry.default, f"--{name}/--no-{name}", help=text, show_default=False)
    if hint is int or hint == int | None:
        number = "" if entry.default is None else str(entry.default)
        return str, typer.Option(number, f"--{name}", help=text, metavar="N", show_default=bool(number))
    default: Any = entry.default
    shown = ",".join(map(str, default)) if isinstance(default, tuple) else str(default)
    return str, typer.Option(shown, f"--{name}", help=text, metavar=_metavar(entry), show_default=bool(shown))


def _help(entry: Field[Any]) -> str:
    allowed = entry.metadata["allowed"]
    return f"{entry.metadata['help']} One of: {', '.join(allowed)}." if allowed else entry.metadata["help"]


def _metavar(entry: Field[Any]) -> str:
    return "LIST" if isinstance(entry.default, tuple) else "TEXT"


def filled(record: type[Any], given: dict[str, Any]) -> Any:
    """Return the record with the values from the command line; comma lists become tuples."""
    hints = get_type_hints(record)
    return record(**{entry.name: _value(entry, hints[entry.name], given[entry.name]) for entry in fields(record)})


def _value(entry: Field[Any], hint: Any, text: Any) -> Any:
    if hint is int or hint == int | None:
        return whole(entry.name, text) if text else entry.default
    if not isinstance(entry.default, tuple):
        return text
    parts = tuple(part.strip() for part in text.split(",") if part.strip())
    return tuple(whole(entry.name, part) for part in parts) if hint == tuple[int, ...] else parts


def whole(name: str, text: str) -> int:
    """Read a whole number; anything else is refused under the name of its option."""
    try:
        return int(text)
    except ValueError:
        raise BadRequest(f'{name.replace("_", "-")} "{text}" is not a whole number; write digits alone, as in 72.') from None


def with_signature(
    function: Callable[..., None], name: str, text: str, *groups: list[inspect.Parameter]
) -> Callable[..., None]:
    """Return the function with a name, help and parameters put together from groups, as typer reads them."""
    merged = {item.name: item for group in groups for item in group}
    function.__name__ = name
    function.__doc__ = text
    function.__signature__ = inspect.Signature(list(merged.values()))  # type: ignore[attr-defined]  # how inspect is told
    function.__annotations__ = {item.name: item.annotation for item in merged.values()}
    return function
