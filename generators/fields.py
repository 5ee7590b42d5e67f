"""The fields of records: what each may hold, in one place for the check at the door, the codec and every front end."""

from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

from generators.errors import BadRequest, Refusal, unknown

# What any whole number, and any number, may be whatever its field says: what 64 bits hold. NaN and infinity lie outside.
LOWEST_NUMBER, HIGHEST_NUMBER = -(2**63), 2**63 - 1
# Whole numbers of more bits are told by their size: Python writes no more than some thousand digits.
MOST_BITS = 2000


def option(default: Any, text: str, *, allowed: Sequence[str] = (), span: tuple[int, int] | None = None) -> Any:
    """Return a field of a record: its default, its help for the player, what it may hold."""
    return field(default=default, metadata={"help": text, "allowed": tuple(allowed), "span": span})


@dataclass(frozen=True, slots=True)
class Slot:
    """One field of a record, its type taken apart."""

    name: str
    kind: type
    """The type of the value, or of each item of a tuple."""
    listed: bool
    """Whether it holds a tuple of values."""
    empty: bool
    """Whether it may hold None."""
    default: Any
    """Its default; MISSING where it has none."""
    help: str
    allowed: tuple[str, ...]
    span: tuple[int, int] | None

    @property
    def needed(self) -> bool:
        """Whether a record cannot be made without it."""
        return self.default is MISSING

    @property
    def reach(self) -> str:
        """Its span in words, and its default where that lies outside; nothing without a span."""
        if not self.span:
            return ""
        lowest, highest = self.span
        apart = type(self.default) is int and not lowest <= self.default <= highest
        return f"{lowest} to {highest}" + (f", or {self.default}" if apart else "")


def slots(record: type[Any]) -> tuple[Slot, ...]:
    """Return the fields of a record in order."""
    return _slots(record)  # type: ignore[arg-type]  # a class can be hashed


@cache
def _slots(record: type[Any]) -> tuple[Slot, ...]:
    hints = get_type_hints(record)
    return tuple(_slot(entry.name, hints[entry.name], entry.default, entry.metadata) for entry in fields(record))


def _slot(name: str, hint: Any, default: Any, meta: Mapping[str, Any]) -> Slot:
    union = get_args(hint) if get_origin(hint) is UnionType else (hint,)
    some = next(part for part in union if part is not type(None))
    listed = get_origin(some) is tuple
    kind = get_args(some)[0] if listed else some
    words, allowed = meta.get("help", ""), meta.get("allowed", ())
    return Slot(name, kind, listed, type(None) in union, default, words, allowed, meta.get("span"))


WORDS: Mapping[type, str] = {
    str: "a text",
    int: "a whole number",
    float: "a number",
    bool: "true or false",
}


def checked(record: Any) -> None:
    """Refuse a record that holds a value, or a type of value, that its fields do not allow; records inside it too."""
    if not is_dataclass(record) or isinstance(record, type):
        raise BadRequest(Refusal("request", repr(record), "is none", do="give a request record, such as FlowRequest()"))
    for slot in slots(type(record)):
        check_value(slot, getattr(record, slot.name))


def check_record(what: str, record: Any, kind: type[Any]) -> None:
    """Refuse what is no record of a kind, or one that its fields do not allow."""
    if type(record) is not kind:
        raise BadRequest(Refusal(what, _shown(record), "is none", do=f"give a {kind.__name__} record"))
    checked(record)


def check_value(slot: Slot, value: Any) -> None:
    """Refuse a value that a field does not allow."""
    if slot.empty and value is None:
        return
    if slot.listed and type(value) is not tuple:
        raise _wrong_type(slot, value)
    for item in value if slot.listed else (value,):
        _check_item(slot, item)


def _check_item(slot: Slot, item: Any) -> None:
    if not _fits(slot.kind, item):
        raise _wrong_type(slot, item)
    _check_size(slot, item)
    if slot.allowed and str(item) not in slot.allowed and item != slot.default:
        raise unknown(slot.name, item, slot.allowed)
    if slot.span and not slot.span[0] <= item <= slot.span[1] and item != slot.default:
        raise BadRequest(Refusal(slot.name, item, "is out of reach", allowed=slot.reach))
    if is_dataclass(item):
        checked(item)


def _fits(kind: type, item: Any) -> bool:
    """Whether a value is of a type; a whole number is a number too, true and false are none; a date has no time of day."""
    if kind is float:
        return type(item) in (int, float)
    return isinstance(item, kind) if is_dataclass(kind) else type(item) is kind


def _check_size(slot: Slot, item: Any) -> None:
    """Refuse a number that is too large to reckon with, whatever the field."""
    if isinstance(item, int | float) and not LOWEST_NUMBER <= item <= HIGHEST_NUMBER:
        allowed = slot.reach or f"{LOWEST_NUMBER} to {HIGHEST_NUMBER}"
        raise BadRequest(Refusal(slot.name, _number_shown(item), "is out of reach", allowed=allowed))


def _number_shown(item: float) -> object:
    """Return a number, or in words one that has too many digits to be written."""
    return item if isinstance(item, float) or item.bit_length() < MOST_BITS else f"a number of {item.bit_length()} bits"


def _shown(value: Any) -> str:
    """Return any value as it is told; in words one that Python cannot write, for its size or its depth."""
    try:
        return value if isinstance(value, str) else repr(value)
    except (ValueError, RecursionError):
        return f"{type(value).__name__} too large to be shown"


def _wrong_type(slot: Slot, value: Any) -> BadRequest:
    one = WORDS.get(slot.kind, f"a {slot.kind.__name__}")
    wanted = (f"a tuple, each item {one}" if slot.listed else one) + (" or None" if slot.empty else "")
    return BadRequest(Refusal(slot.name, _shown(value), "is of the wrong type", allowed=wanted))
