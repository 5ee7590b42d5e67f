"""Pages look as they did when they were last found good; a change is shown as a picture, and accepted by one command."""

from pathlib import Path

import pytest
from PIL import Image, ImageChops

from tests.pictures import CASES, GOLDEN, WIDTH, difference, golden, picture


@pytest.mark.parametrize("name", CASES)
def test_a_page_looks_as_it_did(name: str, tmp_path: Path) -> None:
    """The page is its golden picture, but for what an eye does not see."""
    apart = difference(picture(CASES[name]), golden(name))
    if apart:
        apart.save(tmp_path / f"{name}.png")

    assert apart is None, f"look at {tmp_path / name}.png; then: python tests/pictures.py --accept {name}"


def test_every_picture_has_its_page() -> None:
    """There is a picture for each page, and none without one."""
    assert sorted(CASES) == sorted(file.stem for file in GOLDEN.glob("*.png"))


def test_a_moved_sign_is_seen() -> None:
    """A patch the size of a note head that lies elsewhere makes a difference; a shade of grey everywhere does not."""
    page = golden("flow")
    head = page.crop((120, 120, 127, 126))
    moved = page.copy()
    moved.paste(Image.new("L", head.size, 0), (WIDTH // 2, page.height - 200))

    assert difference(moved, page)
    assert difference(ImageChops.add(page, Image.new("L", page.size, 6)), page) is None
