"""Paper and print as published: ISO 216 (A4), ANSI/ASME Y14.1 (size A, US Letter), and guidelines for printed parts.

Staff height: MOLA, Guidelines for Music Preparation (2017), recommends 7.5 mm for parts and none under 7.0; the Metropole
Orkest library asks for 8.0 mm and margins of 15 mm left and right. One point of PDF and SVG is 1/72 inch.
"""

import io
import re
from itertools import pairwise
from statistics import mean

import pytest
from pypdf import PdfReader

from generators.sheets.sheet import Sheet
from generators.studies.flow.study import FlowRequest
from generators.studies.kit.request import Request
from generators.studies.scales import ScalesRequest
from generators.studies.slurs.study import SlursRequest
from tests.press.sheets import composed, made, music, printed, text_of

MM = 25.4 / 72
# Width and height in millimetres.
A4 = (210.0, 297.0)
SIZE_A = (8.5 * 25.4, 11 * 25.4)
SIZES = {"a4": A4, "letter": SIZE_A}
STAFF = (7.5, 8.0)
MARGIN = 15.0
# The engraver writes whole points.
ROUNDING = MM
REQUEST = FlowRequest(keys=("C", "Eb"))
# What a note with its air should have of the line, in millimetres; no source, our choice.
NOTE_WIDTH = 5.0
# A note with its value in the text of a page.
_NOTE = re.compile(r"(?<![\\\w])[a-g][sf]*[',]*\d")
_LINE = re.compile(
    r'd="M ([\d.-]+) ([\d.-]+) L ([\d.-]+) ([\d.-]+) ?" transform="matrix\(([\d.-]+),0,0,([\d.-]+),([\d.-]+),([\d.-]+)\)"'
)


def _sheet(paper: str, large: bool = False) -> Sheet:
    return Sheet(paper=paper, large_print=large, fingerings="none")


def _staves(paper: str, large: bool = False) -> list[list[tuple[float, float, float]]]:
    """Return the lines of each staff of a page, in millimetres from its left and top: from, to, down."""
    svg = printed(REQUEST, ("pdf", "svg"), _sheet(paper, large)).contents["svg"][0].decode()
    lines: list[tuple[float, float, float]] = []
    for found in _LINE.findall(svg):
        x, y, to, level, wide, high, right, down = map(float, found)
        if y == level and (to - x) * wide * MM > 50:
            lines.append(((x * wide + right) * MM, (to * wide + right) * MM, (y * high + down) * MM))
    lines = sorted(set(lines), key=lambda line: line[2])
    assert lines
    assert len(lines) % 5 == 0
    return [lines[i : i + 5] for i in range(0, len(lines), 5)]


def _height(staff: list[tuple[float, float, float]]) -> float:
    return staff[-1][2] - staff[0][2]


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("large", [False, True])
def test_the_page_has_its_published_size(paper: str, large: bool) -> None:
    """Every page of the PDF measures what the standard says, upright."""
    reader = PdfReader(io.BytesIO(printed(REQUEST, ("pdf", "svg"), _sheet(paper, large)).contents["pdf"][0]))
    sizes = [(float(page.mediabox.width) * MM, float(page.mediabox.height) * MM) for page in reader.pages]

    assert all(size == pytest.approx(SIZES[paper], abs=ROUNDING) for size in sizes)
    assert not any(page.rotation for page in reader.pages)


@pytest.mark.parametrize("paper", SIZES)
def test_a_staff_is_as_high_as_parts_have_it(paper: str) -> None:
    """From its bottom to its top line a staff measures 7.5 to 8 millimetres, its spaces alike."""
    for staff in _staves(paper):
        spaces = [lower[2] - upper[2] for upper, lower in pairwise(staff)]

        assert STAFF[0] <= _height(staff) <= STAFF[1]
        assert max(spaces) - min(spaces) < 0.02


@pytest.mark.parametrize("paper", SIZES)
def test_large_print_is_larger(paper: str) -> None:
    """Large print has staves a fifth higher at the least."""
    plain, large = (mean(map(_height, _staves(paper, size))) for size in (False, True))

    assert large >= 1.2 * plain


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("large", [False, True])
def test_there_is_room_at_the_sides(paper: str, large: bool) -> None:
    """No staff comes nearer to the left or right edge than 15 millimetres, and none stops far from it."""
    width = SIZES[paper][0]
    staves = _staves(paper, large)

    assert all(line[0] >= MARGIN - ROUNDING and line[1] <= width - MARGIN + ROUNDING for staff in staves for line in staff)
    assert max(line[1] for staff in staves for line in staff) >= width - MARGIN - 1


def _lines(request: Request) -> list[list[str]]:
    """Return the bars on each line of a study, read from the text of its page, where each bar has a line of its own."""
    strains = [re.split(r"\\noPageBreak \\break", strain) for strain in music(text_of(composed(request)))]
    assert len(made(request).strains) == len(strains)
    return [re.findall(r"^.* \|(?=\s|$)", line, re.MULTILINE) for strain in strains for line in strain]


@pytest.mark.parametrize(
    "request_",
    [
        *(FlowRequest(shape=shape) for shape in ("dip", "arch", "wave", "widening")),
        *(SlursRequest(path=path) for path in ("neighbours", "quicken-and-widen", "3-4-5")),
        *(ScalesRequest(rhythm=rhythm) for rhythm in ("quarters", "eighths")),
        ScalesRequest(keys=("all",)),
    ],
    ids=lambda request: " ".join(
        map(str, (type(request).__name__, getattr(request, "shape", ""), getattr(request, "rhythm", "")))
    ),
)
def test_lines_are_full_and_legible(request_: Request) -> None:
    """Two to seven bars stand on a line, four on an average at the least, and no more notes than have five millimetres."""
    lines = _lines(request_)
    bars = [len(line) for line in lines]
    notes = [sum(len(_NOTE.findall(bar)) for bar in line) for line in lines]

    assert set(bars) <= {2, 3, 4, 5, 6, 7}
    assert 4 <= mean(bars)
    assert max(notes) * NOTE_WIDTH <= A4[0] - 2 * MARGIN
