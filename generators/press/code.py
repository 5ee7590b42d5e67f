"""The request that made a page: as JSON with a fixed order, and as a short code for the footer."""

import json
from base64 import b32encode
from dataclasses import asdict
from hashlib import sha256
from typing import Any

from generators.sheets.sheet import Sheet
from generators.studies.catalogue import kind_of
from generators.studies.kit.request import Request

CODE_LENGTH = 8


def as_json(requests: list[Request], sheet: Sheet) -> str:
    """Return requests and sheet as one JSON object: {"studies": [{"study": name, "request": {...}}], "sheet": {...}}."""
    studies: list[dict[str, Any]] = [{"study": kind_of(request).name, "request": asdict(request)} for request in requests]
    return json.dumps({"studies": studies, "sheet": asdict(sheet)}, indent=1, ensure_ascii=False, sort_keys=True)


def code(requests: list[Request], sheet: Sheet) -> str:
    """Return the short code of a request: the same for the same request, on any machine."""
    return short(as_json(requests, sheet))


def short(text: str) -> str:
    """Return the short code of a request's JSON, such as K3F7-Q2MD."""
    digest = b32encode(sha256(text.encode("utf-8", "replace")).digest()).decode()
    return f"{digest[: CODE_LENGTH // 2]}-{digest[CODE_LENGTH // 2 : CODE_LENGTH]}"
