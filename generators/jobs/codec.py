"""Requests as JSON and back, in one versioned form: what every PDF carries, what reports tell, what is made again.

`{"waterkey": 2, "kind": "flow", "request": {...}, "sheet": {...}}`; pitches stand by name, dates as 2026-11-25, a request
inside another as its kind and itself. `decoded(encoded(request, sheet)) == (request, sheet)` for every request there is.
"""

import json
from base64 import b32encode
from dataclasses import is_dataclass
from datetime import date
from hashlib import sha256
from typing import Any

from generators.errors import BadRequest, Refusal
from generators.fields import Slot, check_record, check_value, checked, slots
from generators.jobs.kinds import PAPERS, AnyRequest, paper_of
from generators.routine.calendar import check_day
from generators.sheets.sheet import Sheet
from generators.studies.kit.request import Request
from generators.theory.pitch import Pitch, parse_pitch

VERSION = 2
CODE_LENGTH = 8
_TOP = ("waterkey", "kind", "request", "sheet")


def encoded(request: AnyRequest, sheet: Sheet) -> str:
    """Return a request and its sheet as JSON, always in the same order and spelling."""
    paper_of(request)
    checked(request)
    check_record("sheet", sheet, Sheet)
    whole = {"waterkey": VERSION, **_tagged(request), "sheet": _plain(sheet)}
    text = json.dumps(whole, indent=1, ensure_ascii=False)
    # Half characters, which a command line can hand on, no file can hold: they are written as escapes.
    return text if _whole(text) else json.dumps(whole, indent=1)


def _whole(text: str) -> bool:
    return not any("\ud800" <= char <= "\udfff" for char in text)


def music_code(request: AnyRequest) -> str:
    """Return the short code of the music asked for, such as K3F7-Q2MD: whatever changes no note does not change it."""
    paper_of(request)
    checked(request)
    text = json.dumps(_tagged(request.music), sort_keys=True, ensure_ascii=True)
    digest = b32encode(sha256(text.encode()).digest()).decode()
    return f"{digest[: CODE_LENGTH // 2]}-{digest[CODE_LENGTH // 2 : CODE_LENGTH]}"


def _tagged(request: AnyRequest) -> dict[str, Any]:
    return {"kind": paper_of(request).name, "request": _plain(request)}


def _plain(value: Any) -> Any:
    """Return a value as JSON holds it."""
    if isinstance(value, Pitch):
        return value.name
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_tagged(item) if isinstance(item, Request) else _plain(item) for item in value]
    if is_dataclass(value):
        return {slot.name: _entry(slot.name, getattr(value, slot.name)) for slot in slots(type(value))}
    return value


def _entry(name: str, value: Any) -> Any:
    """Return the value of a field as JSON holds it; a day that could not be read back is refused."""
    if isinstance(value, date):
        check_day(name, value)
    return _plain(value)


def decoded(text: str) -> tuple[AnyRequest, Sheet]:
    """Return the request and the sheet that a JSON text holds; anything but what `encoded` writes is refused in one line."""
    if not isinstance(text, str):
        raise BadRequest(Refusal("request", repr(text), "is no text", do="give the JSON that `encoded` wrote"))
    try:
        return _decoded(_parsed(text))
    except RecursionError:
        raise BadRequest(Refusal("request", None, "is nested without end", do="give one that Waterkey wrote")) from None


def _decoded(parsed: Any) -> tuple[AnyRequest, Sheet]:
    whole = _object("request", parsed)
    version = whole.get("waterkey")
    if type(version) is int and version > VERSION:
        raise BadRequest(
            Refusal("request", version, "is a newer form", allowed=f"1 to {VERSION}", do="install the newer Waterkey")
        )
    if type(version) is not int or version < 1:
        raise BadRequest(Refusal("waterkey", repr(version), "is no version of a request", allowed=f"1 to {VERSION}"))
    _only(whole, _TOP, "request")
    page = _object("sheet", whole.get("sheet", {}))
    sheet: Sheet = _record(Sheet, page if version > 1 else _since_first(page), "sheet")
    return _untagged({"kind": whole.get("kind"), "request": whole.get("request")}), sheet


def _since_first(sheet: dict[str, Any]) -> dict[str, Any]:
    """Return the sheet of a request of version 1, in which fingerings were there or not."""
    words = {None: "", False: "none", True: "all"}
    told = sheet.get("fingerings")
    named = words[told] if told is None or type(told) is bool else told
    return {**sheet, "fingerings": named} if "fingerings" in sheet else sheet


def _parsed(text: str) -> Any:
    try:
        return json.loads(text, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        raise _no_json(text, f"line {error.lineno}, column {error.colno}") from None
    except ValueError:
        raise _no_json(text, "a number without end") from None


def _no_number(text: str) -> Any:
    raise _no_json(text, "no number")


def _no_json(text: str, why: str) -> BadRequest:
    return BadRequest(Refusal("request", text, f"is not JSON ({why})", do="give one that Waterkey wrote"))


def _untagged(item: Any) -> AnyRequest:
    """Return the request that kind and fields describe."""
    table = _object("request", item)
    _only(table, ("kind", "request"), "request")
    name = table.get("kind")
    if not isinstance(name, str) or name not in PAPERS:
        raise BadRequest(Refusal("kind", repr(name), "is not known", allowed=tuple(PAPERS)))
    request: AnyRequest = _record(PAPERS[name].request, table.get("request"), name)
    return request


def _record(record: type[Any], item: Any, where: str) -> Any:
    """Return a record from its fields; a missing one has its default, an unknown one is refused."""
    table = _object(where, item)
    known = {slot.name: slot for slot in slots(record)}
    _only(table, tuple(known), where)
    missing = [name for name, slot in known.items() if slot.needed and name not in table]
    if missing:
        raise BadRequest(Refusal(where, None, f"has no {', '.join(missing)}", do="give every field that has no default"))
    made = record(**{name: _typed(known[name], value) for name, value in table.items()})
    for slot in known.values():
        check_value(slot, getattr(made, slot.name))
    return made


def _typed(slot: Slot, value: Any) -> Any:
    """Return the value of a field from JSON; what is of the wrong type stays as it is, for the check to refuse."""
    if value is None:
        return None
    if not slot.listed:
        return _one(slot, value)
    return tuple(_one(slot, item) for item in value) if isinstance(value, list) else value


def _one(slot: Slot, value: Any) -> Any:
    if slot.kind is Pitch and isinstance(value, str):
        return parse_pitch(value)
    if slot.kind is date and isinstance(value, str):
        return _date(slot.name, value)
    if slot.kind is Request:
        return _untagged(value)
    if is_dataclass(slot.kind):
        return _record(slot.kind, value, slot.name)
    return value


def _date(name: str, text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise BadRequest(Refusal(name, text, "is no date", do="write year, month and day as in 2026-11-25")) from None
    check_day(name, day)
    return day


def _object(what: str, item: Any) -> dict[str, Any]:
    if not isinstance(item, dict):
        raise BadRequest(Refusal(what, repr(item), "is no record", do="give its fields by name"))
    return item


def _only(table: dict[str, Any], names: tuple[str, ...], where: str) -> None:
    strange = [name for name in table if name not in names]
    if strange:
        raise BadRequest(Refusal(where, strange[0], "is a field that is not known", allowed=names))
