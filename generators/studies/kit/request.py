"""What every study can be asked: horn, keys, range, grade, tempo and seed, as one frozen record."""

from dataclasses import dataclass

from generators.fields import option

SLOWEST, FASTEST = 30, 240


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """The part of a request that all studies share; pitches and keys are as the player writes them."""

    horn: str = option("trumpet", "The horn, as listed by `waterkey horns`.")
    keys: tuple[str, ...] = option(
        (), "Keys in order, such as Eb,D,Db,C or Cm,F#m; `all` for twelve majors by half-steps down."
    )
    concert: bool = option(False, "The keys given are concert keys; the page is written for the horn.")
    low: str = option("", "Lowest written note, such as F#3.")
    high: str = option("", "Highest written note, such as G5.")
    grade: str = option(
        "",
        "Keep to the limits and habits of a learner's grade, 1 to 6; without it a grown player's, or those of grade 1 if low "
        "and high are both within its notes.",
    )
    tempo: int | None = option(None, "Quarter notes a minute; without it the study's own.", span=(SLOWEST, FASTEST))
    breath: int | None = option(None, "Seconds one breath lasts; without it the grade's own.", span=(5, 60))
    tongue: int | None = option(
        None, "Quarter notes a minute at which single-tongued sixteenths are easy; without it the grade's own.", span=(40, 160)
    )
    seed: int = option(0, "Another number, another draw, where a study draws anything.")

    @property
    def music(self) -> "Request":
        """The request itself: all of it makes the music."""
        return self
