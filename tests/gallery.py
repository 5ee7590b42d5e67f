"""Make the pictures the README shows, all from real sheets: `python tests/gallery.py` writes them into out/gallery/."""

import tempfile
from datetime import date
from pathlib import Path

from PIL import Image

from generators import DayRequest, EntrancesRequest, EtudeRequest, FlowRequest, Profile, Sheet, WeekRequest, compose, publish

GALLERY = Path(__file__).resolve().parents[1] / "out" / "gallery"
SHEET = Sheet(player="Second cornet, Saltmarsh Town Band", date="2026-11-30")
PROFILE = Profile(name="Second cornet, Saltmarsh Town Band", horn="cornet", high="G5", stretch="A5")
MONDAY = date(2026, 11, 30)
# Wide enough to read on a screen, small enough to commit; sixteen greys are what print needs.
WIDTH, GREYS = 620, 16
OVERVIEW = ("week", "day", "flow", "entrances")
REQUESTS = {
    "flow": (
        FlowRequest(horn="cornet", keys=("Eb", "D", "Db", "C"), shape="wave", compass="octave", length="12", seed=3),
        SHEET,
    ),
    "entrances": (EntrancesRequest(horn="cornet", seed=7), SHEET),
    "etude": (EtudeRequest(horn="cornet", kind="march", keys=("Eb", "Bb"), bars="24", seed=4), SHEET),
    "day": (DayRequest(profile=PROFILE, on=MONDAY), None),
    "week": (WeekRequest(profile=PROFILE, on=MONDAY), None),
}


def shrunk(picture: Path) -> Image.Image:
    """Return a page at the gallery's size, in greys."""
    page = Image.open(picture).convert("L")
    return page.resize((WIDTH, round(page.height * WIDTH / page.width)), Image.Resampling.LANCZOS)


def saved(picture: Image.Image, name: str) -> None:
    """Save a picture with few greys."""
    picture.quantize(GREYS).save(GALLERY / f"{name}.png", optimize=True)


def main() -> None:
    """Print the sheets and save their first pages."""
    GALLERY.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        made = {
            name: publish(compose(request, sheet), Path(folder) / name, ("png",)) for name, (request, sheet) in REQUESTS.items()
        }
        pages = {name: shrunk(report.files[0]) for name, report in made.items()}
    for name, page in pages.items():
        saved(page, name)
    row = [pages[name].resize((WIDTH // 2, pages[name].height // 2), Image.Resampling.LANCZOS) for name in OVERVIEW]
    overview = Image.new("L", (sum(page.width for page in row), max(page.height for page in row)), 255)
    for i, page in enumerate(row):
        overview.paste(page, (sum(before.width for before in row[:i]), 0))
    saved(overview, "overview")


if __name__ == "__main__":
    main()
