"""The progress page: one page that holds its drawing, for any number of weeks."""

import io
import json
import re
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PdfReader

from generators.jobs.compose import compose
from generators.press.pdf import REQUEST_NAME
from generators.routine.growth import growth, planned_tops
from generators.routine.logbook import Entry, weeks
from generators.routine.month import month
from generators.routine.profile import Profile
from generators.routine.rotation import MAJORS, MINORS
from generators.sheets.drawing import Drawing
from generators.sheets.progress import MARGIN, ProgressRequest, progress_drawing
from generators.sheets.sheet import PAPER_SIZES, Sheet
from generators.studies.catalogue import DAY_PARTS
from generators.theory.pitch import parse_pitch, simple
from tests.press.collisions import ink, overlaps
from tests.press.sheets import printing, text_of

TODAY = date(2026, 11, 25)
TOP, CEILING = parse_pitch("A5"), parse_pitch("C6")
COUNTS = (0, 1, 3, 10, 11, 60, 104)
ROUNDING = 0.01


def progress(count: int, *, played: int = 0, grade: str = "") -> ProgressRequest:
    """Return the progress of so many weeks with four sessions each, of which so many keys and parts are known."""
    days = [TODAY - timedelta(weeks=w, days=d) for w in range(count) for d in range(4)]
    log = [
        Entry(day=day, minutes=20 + i % 40, felt="hard" if i % 9 == 0 else "good", top=simple(76 + i % 9), **_played(i, played))
        for i, day in enumerate(days)
    ]
    return ProgressRequest(
        horn="trumpet",
        growth=growth(log, TOP, TODAY, CEILING),
        weeks=weeks(log, TODAY),
        planned=planned_tops(log, TOP, TODAY, CEILING),
        today=TODAY,
        month=month(log, Profile(grade=grade), TODAY),
    )


def _played(place: int, many: int) -> dict[str, Any]:
    """Return some keys and parts, others for every place; nothing on every third."""
    keys, parts = [(list(every) * 2)[place % 5 :][:many] for every in ((*MAJORS, *MINORS), DAY_PARTS)]
    return {"keys": tuple(keys), "parts": tuple(parts)} if place % 3 else {}


def drawing(count: int, paper: str = "a4") -> Drawing:
    """Return the drawing of so many weeks."""
    return progress_drawing(progress(count), Sheet(paper=paper))


def extent(drawn: Drawing) -> tuple[float, float, float, float]:
    """Return the corners of all shapes, and of the places where words begin."""
    xs = [x for bar in drawn.boxes for x in (bar.left, bar.right)] + [x for line in drawn.strokes for x, _ in line.points]
    ys = [y for bar in drawn.boxes for y in (bar.bottom, bar.top)] + [y for line in drawn.strokes for _, y in line.points]
    xs += [word.x for word in drawn.words] + [dot.x for dot in drawn.dots]
    ys += [word.y for word in drawn.words] + [dot.y for dot in drawn.dots]
    return min(xs), max(xs), min(ys), max(ys)


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("count", COUNTS)
def test_the_drawing_stays_within_the_margins(count: int, paper: str) -> None:
    """However many weeks, nothing is drawn outside the width between the margins, or above the room below the titles."""
    width, tall = PAPER_SIZES[paper]
    left, right, bottom, top = extent(drawing(count, paper))

    assert left >= 0
    assert right <= width - 2 * MARGIN + ROUNDING
    assert top - bottom <= tall - 2 * MARGIN - 40


@pytest.mark.parametrize("count", COUNTS)
def test_names_under_the_axis_stand_apart(count: int) -> None:
    """No date or month under the axis comes nearer to the next than it is wide."""
    lowest = [word for word in drawing(count).words if word.y == -4]
    places = sorted(word.x for word in lowest)

    assert all(after - before >= 7 for before, after in pairwise(places))
    assert bool(lowest) == bool(count)


def test_bars_are_as_high_as_their_minutes() -> None:
    """Bars of one panel are to one another as the minutes of their weeks, and the hard part as its minutes."""
    shown = progress(3)
    drawn = progress_drawing(shown, Sheet())
    wide = [bar for bar in drawn.boxes if bar.right - bar.left > 3]
    upper = max(bar.bottom for bar in wide)
    heights = {round(bar.top - bar.bottom, 3) for bar in wide if bar.bottom == upper}
    per_minute = max(heights) / max(week.minutes for week in shown.weeks)
    expected = {round(n * per_minute, 3) for week in shown.weeks for n in (week.minutes, week.heavy_minutes) if n}

    assert expected == heights


def test_a_dot_lies_on_the_rule_of_its_note() -> None:
    """The note that a week reached is drawn at the height of its name."""
    shown = progress(3)
    drawn = progress_drawing(shown, Sheet())
    rules = {word.text: word.y for word in drawn.words}
    heights = [dot.y for dot in drawn.dots]

    assert [pytest.approx(rules[week.top.pretty] + 0.9) for week in shown.weeks if week.top] == heights


def test_an_empty_log_says_so() -> None:
    """Without entries the page says that there are none, in the drawing and in its line of all weeks."""
    text = text_of(compose(progress(0)))

    assert "Nothing is logged yet." in [word.text for word in drawing(0).words]
    assert '"0 weeks, 0 days, 0 minutes"' in text


def test_a_players_name_is_data() -> None:
    """A name cannot leave its quotes."""
    assert r'"\" #(system \"ls\") \""' in text_of(compose(progress(1), Sheet(player='" #(system "ls") "')))


@pytest.mark.parametrize(("count", "played", "paper"), [(0, 0, "a4"), (1, 1, "letter"), (11, 5, "a4"), (104, 24, "letter")])
def test_nothing_on_the_page_lies_on_another(count: int, played: int, paper: str) -> None:
    """Title, reason, outlook, month and drawing stand apart, and are one page, however little or much there is to tell."""
    text = text_of(compose(progress(count, played=played), Sheet(paper=paper, player="second cornet")))

    assert [] == overlaps(ink(text))
    assert 1 == printing(compose(progress(count, played=played), Sheet(paper=paper)), ("pdf",)).pages


def test_the_page_tells_the_month_to_a_teacher() -> None:
    """Who, period, days, minutes, feeling, keys and areas practised and neglected stand on the page, and a line to write on."""
    document = compose(progress(11, played=4), Sheet(player="second cornet"))
    pdf = PdfReader(io.BytesIO(printing(document, ("pdf",)).contents["pdf"][0]))
    text = pdf.pages[0].extract_text()
    told = ("second cornet", "27 October to 25 November 2026", "of 30 days", "minutes", "good", "highest note", "Teacher")

    assert [] == [word for word in (*told, "Keys", "Areas", "neglected", "multiple tonguing") if word not in text]


def test_the_page_as_pdf_and_svg() -> None:
    """The PDF is one page of its paper with the reason on it and the weeks inside; the SVG is one picture; twice the same."""
    shown = progress(11)
    document = compose(shown, Sheet(paper="letter", player="second cornet"))
    found = printing(document, ("pdf", "svg"))
    pdf = PdfReader(io.BytesIO(found.contents["pdf"][0]))
    carried = json.loads(pdf.attachments[REQUEST_NAME][0])

    assert 1 == len(pdf.pages) == len(found.contents["svg"])
    assert (612, 792) == tuple(round(float(x)) for x in pdf.pages[0].mediabox[2:])
    assert "since" in pdf.pages[0].extract_text()
    assert "second cornet" in pdf.pages[0].extract_text()
    assert [week.minutes for week in shown.weeks] == [week["minutes"] for week in carried["request"]["weeks"]]
    assert re.match(rb"<\?xml|<svg", found.contents["svg"][0])
    assert found == printing(document, ("pdf", "svg"))
