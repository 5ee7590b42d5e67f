"""Command-line options made from the fields of records, so that a new study needs no code here."""

import inspect
from collections.abc import Callable, Iterable, Iterator
from dataclasses import MISSING, replace
from shlex import quote
from typing import Any

import typer
from typer.models import OptionInfo

from generators.errors import BadRequest, Refusal, plain
from generators.fields import Slot, check_value, slots
from generators.routine.profile_check import TABLES

# What an option is called where its field's name alone would mean two things: a concert is a kind of day.
_CALLED = {"concert": "concert-keys"}


def parameters(record: type[Any]) -> Iterator[inspect.Parameter]:
    """Yield one keyword parameter, with its typer option, for every field of a record."""
    for slot in slots(record):
        yield parameter(slot.name, hint_of(slot), option_of(slot))


def parameter(name: str, hint: Any, default: Any) -> inspect.Parameter:
    """Return a keyword parameter as typer reads it."""
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=hint)


def panelled(panel: str, items: Iterable[inspect.Parameter]) -> list[inspect.Parameter]:
    """Return parameters whose options stand under a heading of their own in the help."""
    found = list(items)
    for item in found:
        if isinstance(item.default, OptionInfo):
            item.default.rich_help_panel = panel
    return found


def slot_of(record: type[Any], name: str, **changes: Any) -> Slot:
    """Return a field of a record, changed where a command asks for it in its own way: `slot_of(Entry, "felt", help="...")`."""
    return replace(next(slot for slot in slots(record) if slot.name == name), **changes)


def unset(slot: Slot) -> Slot:
    """Return a field that is None where the player gave nothing."""
    return replace(slot, empty=True, default=None)


def number_slot(name: str, words: str, span: tuple[int, int] | None = None) -> Slot:
    """Return a field that holds a whole number and belongs to a command alone."""
    return Slot(name, int, listed=False, empty=True, default=None, help=words, allowed=(), span=span)


def hint_of(slot: Slot) -> Any:
    """Return the type of one value as typer is told it; a list is typed as one text."""
    kind = str if slot.listed else slot.kind
    return kind | None if slot.empty else kind


def option_of(slot: Slot, name: str = "") -> Any:
    """Return the option of a field, under another name where one is given; what it reads is typed and checked."""
    flag, default = name or _flag(slot), None if slot.default is MISSING else slot.default
    if slot.kind is bool:
        return typer.Option(default, f"--{flag}/--no-{flag}", help=_help(slot), show_default=False)
    shown = ", ".join(map(str, default)) if slot.listed and default is not None else default
    return typer.Option(shown, f"--{flag}", show_default=shown not in ("", None), **_reading(slot))


def _flag(slot: Slot) -> str:
    return _CALLED.get(slot.name, plain(slot.name))


def annotated(slot: Slot, name: str = "", panel: str | None = None) -> Any:
    """Return the option of a field for an `Annotated` parameter, which holds its default itself."""
    return typer.Option(f"--{name or _flag(slot)}", show_default=False, rich_help_panel=panel, **_reading(slot))


def _reading(slot: Slot) -> dict[str, Any]:
    """Return how typer reads, completes and describes a field."""

    def read_one(text: Any) -> Any:
        return read(slot, text) if isinstance(text, str) else text

    def complete(incomplete: str) -> list[str]:
        return completed(slot, incomplete)

    return {"parser": read_one, "autocompletion": complete, "help": _help(slot), "metavar": _metavar(slot)}


def choices(slot: Slot) -> tuple[str, ...]:
    """Return the names that a field may hold; nothing where it takes any text."""
    return slot.allowed or TABLES.get(slot.name, ())


def completed(slot: Slot, incomplete: str) -> list[str]:
    """Return what may be meant by the beginning of a value; of a list its last item is completed."""
    done, comma, last = incomplete.rpartition(",") if slot.listed else ("", "", incomplete)
    return [f"{done}{comma}{name}" for name in choices(slot) if name.startswith(last)]


def _help(slot: Slot) -> str:
    return f"{slot.help} One of: {', '.join(slot.allowed)}." if slot.allowed else slot.help


def _metavar(slot: Slot) -> str:
    if slot.listed:
        return "LIST"
    if slot.kind is int:
        return f"{slot.span[0]}..{slot.span[1]}" if slot.span else "N"
    return "NAME" if choices(slot) else "TEXT"


def read(slot: Slot, text: str) -> Any:
    """Return what a text means for a field: an empty one its default; what the field does not allow is refused."""
    if slot.listed:
        value: Any = tuple(_item(slot, item) for item in comma_list(slot.name, text))
    else:
        value = slot.default if not text and slot.kind is not str else _item(slot, text)
    check_value(slot, value)
    return value


def _item(slot: Slot, text: str) -> Any:
    if slot.kind is bool:
        return _truth(slot, text)
    return whole(slot, text) if slot.kind is int else text


def _truth(slot: Slot, text: str) -> bool:
    words = {"yes": True, "true": True, "no": False, "false": False}
    if text.lower() not in words:
        raise BadRequest(Refusal(slot.name, text, "is neither yes nor no", allowed=("yes", "no")))
    return words[text.lower()]


def whole(slot: Slot, text: str) -> int:
    """Read a whole number; anything else is refused under the name of its option, with what is allowed."""
    try:
        return int(text)
    except ValueError:
        cure = "write digits alone, as in 72"
        raise BadRequest(
            Refusal(slot.name, text, "is not a whole number", allowed=slot.reach or slot.allowed, do=cure)
        ) from None


def comma_list(what: str, text: str) -> tuple[str, ...]:
    """Return the items of a comma list, none of an empty text; an empty place between commas is refused."""
    items = tuple(item.strip() for item in text.split(",")) if text.strip() else ()
    if "" in items:
        raise BadRequest(Refusal(what, text, "has an empty place", do="write an item on either side of every comma"))
    return items


def filled(record: type[Any], given: dict[str, Any]) -> Any:
    """Return the record with the values from the command line."""
    return record(**{slot.name: given[slot.name] for slot in slots(record)})


def typed(request: Any) -> str:
    """Return the options that ask for a record, as they are typed; what has its default is left out."""
    pairs = ((slot, getattr(request, slot.name)) for slot in slots(type(request)))
    return " ".join(_typed(slot, value) for slot, value in pairs if value != slot.default)


def _typed(slot: Slot, value: Any) -> str:
    flag = _flag(slot)
    if slot.kind is bool:
        return f"--{flag}" if value else f"--no-{flag}"
    return f"--{flag} {quote(','.join(map(str, value)) if slot.listed else str(value))}"


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
