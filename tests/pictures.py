"""The golden pictures: about twenty pages as they were last looked at and found good.

`python tests/pictures.py` says which pages look other than their picture, and leaves a picture of each difference in a folder;
`python tests/pictures.py --accept [NAME ...]` takes the pages as they are now, all or some, once somebody has looked at them.
"""

import argparse
import io
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from PIL import Image, ImageChops, ImageFilter

from generators import (
    ArpeggiosRequest,
    BendsRequest,
    ClassPlayer,
    ClassRequest,
    DayRequest,
    DynamicsRequest,
    EntrancesRequest,
    EtudeRequest,
    FingersRequest,
    FlowRequest,
    LowRequest,
    Profile,
    ScalesRequest,
    Sheet,
    SlursRequest,
    TonguingRequest,
    WeekRequest,
    compose,
    packet_of,
)
from generators.jobs.kinds import AnyRequest
from generators.press.engraver import engravers
from generators.press.laying import laid
from generators.press.source import Source

GOLDEN = Path(__file__).parent / "press" / "golden"
# Wide enough to tell a moved sign, small enough to keep; sixteen greys are what print needs.
RESOLUTION, WIDTH, GREYS = 100, 420, 16
# A pixel differs if it does by so much of 255 after a blur, and a page if so many of its pixels do: our choice, so that another
# rounding of an edge passes and a moved note head does not.
TOLD, SHARE = 40, 0.0001
MONDAY = date(2026, 11, 30)
PLAYER = {"player": "Second cornet, Saltmarsh Town Band", "date": "2026-11-30"}


@dataclass(frozen=True, slots=True)
class Case:
    """A page of a sheet, counted from 1."""

    request: AnyRequest
    sheet: Sheet
    page: int = 1


BAND = tuple(
    ClassPlayer(name=name, horn=horn, grade="1")
    for name, horn in (("third cornet", "cornet"), ("solo horn", "tenor-horn"), ("first trombone", "trombone"))
)
CASES = {
    "flow": Case(FlowRequest(keys=("Eb", "D", "Db", "C"), high="C6"), Sheet(**PLAYER)),
    "flow-hard-keys": Case(FlowRequest(keys=("Cb", "C#", "Gb", "F#")), Sheet(paper="letter", date="none")),
    "slurs": Case(SlursRequest(high="C6"), Sheet(**PLAYER)),
    "slurs-large": Case(SlursRequest(), Sheet(large_print=True, fingerings="all", paper="letter", date="none")),
    "pedals": Case(LowRequest(pedals=True, depth="C3"), Sheet(fingerings="all", intonation=True, date="none")),
    "scales-valves": Case(ScalesRequest(keys=("D", "Gb"), pattern="thirds"), Sheet(fingerings="all", date="none")),
    "scales-new-valves": Case(ScalesRequest(keys=("D", "G")), Sheet(fingerings="new", intonation=True, date="none")),
    "scales-double-sharps": Case(ScalesRequest(keys=("D#m",), pattern="turns", rhythm="sixteenths"), Sheet(date="none")),
    "arpeggios": Case(ArpeggiosRequest(keys=("Eb", "Cm")), Sheet(large_print=True, date="none")),
    "fingers": Case(FingersRequest(keys=("A", "Eb")), Sheet(date="none")),
    "entrances": Case(EntrancesRequest(seed=7), Sheet(date="none")),
    "tonguing": Case(TonguingRequest(kind="double", tempo=88, goal=132), Sheet(date="none")),
    "bends": Case(BendsRequest(), Sheet(date="none")),
    "dynamics": Case(DynamicsRequest(), Sheet(date="none")),
    "etude": Case(EtudeRequest(keys=("Eb", "Bb"), seed=4), Sheet(**PLAYER)),
    "first-grade": Case(packet_of(grade="1"), Sheet(date="none"), 3),
    "packet-cover": Case(packet_of(), Sheet(**PLAYER)),
    "trombone": Case(SlursRequest(horn="trombone"), Sheet(date="none")),
    "day": Case(DayRequest(profile=Profile(), on=MONDAY), Sheet(date="none")),
    "day-second-page": Case(DayRequest(profile=Profile(), on=MONDAY), Sheet(date="none"), 2),
    "day-large": Case(DayRequest(profile=Profile(), on=MONDAY), Sheet(large_print=True, date="none")),
    "class-score": Case(ClassRequest(players=BAND, name="Saltmarsh Town Band"), Sheet(date="none")),
    "class-part": Case(ClassRequest(players=BAND, name="Saltmarsh Town Band", part=3), Sheet(date="none"), 2),
    "week-cover": Case(WeekRequest(profile=Profile(), on=MONDAY), Sheet(date="none")),
}


def picture(case: Case) -> Image.Image:
    """Return a page as a small grey picture."""
    document = compose(case.request, case.sheet)
    source = Source(document, laid(document, {}))
    with engravers(1, ("png",), resolution=RESOLUTION) as (engraver,):
        made = engraver.engrave(source.run([case.page - 1]))
    page = Image.open(io.BytesIO(made.files["png"][0])).convert("L")
    small = page.resize((WIDTH, round(page.height * WIDTH / page.width)), Image.Resampling.LANCZOS)
    return small.quantize(GREYS).convert("L")


def difference(found: Image.Image, golden: Image.Image) -> Image.Image | None:
    """Return where two pictures differ, dark on white; None where they look alike."""
    if found.size != golden.size:
        return found
    soft = [image.filter(ImageFilter.GaussianBlur(1)) for image in (found, golden)]
    apart = ImageChops.difference(*soft)
    told = sum(apart.histogram()[TOLD:])
    return ImageChops.invert(apart.point(lambda value: min(255, 3 * value))) if told > SHARE * WIDTH * found.height else None


def golden(name: str) -> Image.Image:
    """Return the golden picture of a case."""
    return Image.open(GOLDEN / f"{name}.png").convert("L")


def changed(names: Sequence[str]) -> Iterator[tuple[str, Image.Image]]:
    """Yield the cases whose pages look other than their pictures, and where."""
    for name in names:
        apart = difference(picture(CASES[name]), golden(name))
        if apart:
            yield name, apart


def accept(names: Sequence[str]) -> None:
    """Take pages as they are now for golden."""
    GOLDEN.mkdir(exist_ok=True)
    for name in names:
        picture(CASES[name]).quantize(GREYS).save(GOLDEN / f"{name}.png", optimize=True)


def main() -> int:
    """Compare or accept, as the command line says."""
    parser = argparse.ArgumentParser(description="Compare the golden pictures with the pages of today, or accept these.")
    parser.add_argument("--accept", action="store_true")
    parser.add_argument("names", nargs="*", choices=[[], *CASES], metavar="NAME")
    asked = parser.parse_args()
    names = asked.names or list(CASES)
    if asked.accept:
        accept(names)
        return 0
    folder = Path(tempfile.mkdtemp(prefix="pictures-"))
    found = list(changed(names))
    for name, apart in found:
        apart.save(folder / f"{name}.png")
        sys.stdout.write(f"{name} looks other than its picture: {folder / name}.png\n")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
