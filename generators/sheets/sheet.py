"""What is asked of the paper: its size, what is printed over the notes, and the words in the title band."""

from dataclasses import dataclass

from generators.fields import option
from generators.routine.calendar import full_date, parse_day

# Width and height in millimetres: ISO 216, A4; ANSI/ASME Y14.1, size A.
PAPER_SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
# Which fingerings are printed: of no note but those that need one, of notes that are new on the page, of all.
FINGERINGS = ("none", "new", "all")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """The page side of a request; none of it changes a note."""

    paper: str = option("a4", "Paper size.", allowed=tuple(PAPER_SIZES))
    large_print: bool | None = option(None, "Larger staves, for tired or young eyes; by default for the first notes.")
    fingerings: str = option(
        "",
        "Valves or positions over the notes; alone: over all. By default for a beginner.",
        allowed=FINGERINGS,
    )
    note_names: bool | None = option(None, "The names of the notes over them; by default only for a beginner.")
    intonation: bool = option(False, "How many cents a note lies off, where it can be heard.")
    player: str = option("", "The name to print on the page.")
    date: str = option("", "The date to print, such as 2026-11-25; by default today's, `none` for no date.")
    title: str = option("", "A title instead of the study's own.")

    @property
    def fingered(self) -> bool:
        """Whether fingerings are printed beside those that a note needs."""
        return self.fingerings in FINGERINGS[1:]

    @property
    def shown_date(self) -> str:
        """The date in words, as it is printed; nothing where none is wanted."""
        return full_date(parse_day(self.date)) if self.date not in ("", "none") else ""
