"""Classes for the tests: the demo band, first-years, and any class at all as a hypothesis strategy."""

from typing import Any

from hypothesis import strategies as st

from generators.band.request import CLASS_STUDIES, ClassPlayer, ClassRequest
from generators.brass.grade import GRADES, grade_on, span_on
from generators.brass.horn import HORNS, horn
from generators.jobs.classes import class_of
from generators.keep.studio_file import demo_text, studio_of
from generators.theory.pitch import simple

DEMO = class_of(studio_of(demo_text(), "demo"))
# The horns that a school has.
SCHOOL = ("cornet", "trumpet", "flugelhorn", "tenor-horn", "trombone", "euphonium-bass-clef", "eb-bass", "trumpet-c")
CONCERT_KEYS = ("", "", "", "Bb", "Eb", "F", "C", "Ab", "D", "Gm", "Cm")


def player(the_horn: str, grade: str = "1", low: str = "", high: str = "", **more: Any) -> ClassPlayer:
    """Return a player called by his horn."""
    return ClassPlayer(name=the_horn.replace("-", " "), horn=the_horn, grade=grade, low=low, high=high, **more)


def band(*players: ClassPlayer, **wishes: Any) -> ClassRequest:
    """Return a class of some players."""
    return ClassRequest(players=players, **wishes)


FIRST_YEAR = band(player("cornet"), player("trombone"), player("euphonium-bass-clef"))


@st.composite
def any_players(draw: st.DrawFn) -> ClassPlayer:
    """Return a player on any horn, in any grade, some with a range of their own."""
    the_horn, grade = draw(st.sampled_from(SCHOOL) | st.sampled_from(sorted(HORNS))), draw(st.sampled_from(["", *GRADES]))
    lowest, highest = span_on(grade_on(grade, horn(the_horn)), horn(the_horn))
    low = draw(st.just(0) | st.integers(0, 7))
    high = draw(st.just(0) | st.integers(0, 7))
    bottom, top = lowest.midi + low, max(lowest.midi + low + 2, highest.midi - high)
    given = top <= horn(the_horn).ceiling.midi
    return player(
        the_horn,
        grade,
        simple(bottom).name if low and given else "",
        simple(top).name if high and given else "",
        breath=draw(st.just(0) | st.integers(5, 12)),
        tongue=draw(st.just(0) | st.integers(40, 120)),
    )


any_bands: st.SearchStrategy[ClassRequest] = st.builds(
    ClassRequest,
    players=st.lists(any_players(), min_size=1, max_size=8).map(tuple),
    concert_key=st.sampled_from(CONCERT_KEYS),
    studies=st.just(()) | st.lists(st.sampled_from(CLASS_STUDIES), min_size=1, max_size=3).map(tuple),
    minutes=st.integers(2, 30),
    seed=st.integers(0, 99),
)
