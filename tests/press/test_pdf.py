import io
from functools import cache

import pytest
from pypdf import PdfReader

from generators.press.pdf import REQUEST_NAME, Excerpt, merged, page_count
from tests.press.sheets import engraved

NUMBERS = ("one", "two", "three", "four")


@cache
def _pages(*words: str) -> bytes:
    """Return a PDF with a word on each page."""
    parts = "\n".join(f'\\bookpart {{ \\markup "{word}" }}' for word in words)
    return engraved([f'\\version "2.24.0"\n\\paper {{ print-page-number = ##f tagline = ##f }}\n{parts}'], ("pdf",))[0].files[
        "pdf"
    ][0]


def _words(pdf: bytes) -> list[str]:
    return [page.extract_text().strip() for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize(
    ("expected", "ranges"),
    [
        (NUMBERS, ((0, 3),)),
        (("two", "three"), ((1, 2),)),
        (("four", "one"), ((3, 3), (0, 0))),
        (("one", "one"), ((0, 0), (0, 0))),
    ],
)
def test_parts_of_a_pdf_are_merged(expected: tuple[str, ...], ranges: tuple[tuple[int, int], ...]) -> None:
    """The pages asked for stand in the order asked for, the last of a range among them."""
    pdf = _pages(*NUMBERS)
    found = merged([Excerpt(pdf, *pages) for pages in ranges], [], {}, "{}")

    assert list(expected) == _words(found)


def test_a_page_is_exchanged_for_another() -> None:
    """Between the pages of one PDF stands a page of another, and a bookmark leads to it."""
    pdf, better = _pages(*NUMBERS), _pages("better")
    found = merged([Excerpt(pdf, 0, 0), Excerpt(better, 0, 0), Excerpt(pdf, 2, 3)], [("Second", 1)], {"Title": "A"}, '{"a": 1}')
    reader = PdfReader(io.BytesIO(found))

    assert ["one", "better", "three", "four"] == _words(found)
    assert [1] == [reader.get_destination_page_number(mark) for mark in reader.outline]  # type: ignore[arg-type]
    assert b'{"a": 1}' == reader.attachments[REQUEST_NAME][0]
    assert 4 == page_count(found)


def test_a_page_left_out_leaves_nothing() -> None:
    """A PDF without some of its pages is smaller: what only they used is not carried along."""
    pdf = _pages(*NUMBERS)

    assert len(merged([Excerpt(pdf, 0, 0)], [], {}, "{}")) < len(merged([Excerpt(pdf, 0, 3)], [], {}, "{}"))


def test_merging_gives_the_same_bytes() -> None:
    """Two engravings of a text, merged, are the same to the byte."""
    other = _pages.__wrapped__(*NUMBERS)
    parts = [
        merged([Excerpt(pdf, 1, 3), Excerpt(pdf, 0, 0)], [("a", 0)], {"Title": "b"}, "{}") for pdf in (_pages(*NUMBERS), other)
    ]

    assert parts[0] == parts[1]
