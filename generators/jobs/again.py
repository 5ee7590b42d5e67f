"""A sheet read back: the request and the page side that its PDF carries."""

from pathlib import Path

from generators.errors import BadRequest, Refusal
from generators.jobs.codec import decoded, music_code
from generators.jobs.kinds import AnyRequest
from generators.keep.files import read_limited, user_path
from generators.press.pdf import carried_by
from generators.sheets.sheet import Sheet

# A PDF larger than this is not ours: a hundred times a long week, in bytes.
LARGEST_SHEET = 300_000_000


def read_sheet(path: str | Path) -> tuple[AnyRequest, Sheet]:
    """Return the request and the sheet that a PDF of ours carries; anything else is refused in one line."""
    content = read_limited(user_path(path, "sheet"), LARGEST_SHEET)
    try:
        return _carried(content)
    except BadRequest as refused:
        raise BadRequest(refused.refusal.within(str(path))) from None


def _carried(content: bytes) -> tuple[AnyRequest, Sheet]:
    text, code = carried_by(content)
    request, sheet = decoded(text)
    if music_code(request) != code:
        do = "take the sheet as it was printed"
        raise BadRequest(Refusal("sheet", why="carries a request that was changed", do=do))
    return request, sheet
