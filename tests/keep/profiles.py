"""Profiles of all kinds, for laws over what is kept of them."""

from hypothesis import strategies as st

from generators.phrase.articulation import SETS
from generators.routine.other_days import plainly
from generators.routine.profile import PARTS, WEEKDAYS, Profile

OTHERS = ("thursday:horn=cornet", "thursday:minutes=12", "friday:kind=light", "sunday:grade=2", "friday:high=G5")
profiles = st.builds(
    Profile,
    name=st.text(st.characters(exclude_categories=["Cs"]), max_size=20),
    horn=st.sampled_from(["trumpet", "cornet", "tenor-horn"]),
    low=st.sampled_from(["", "F#3", "B♭3"]),
    high=st.sampled_from(["", "C5", "G5"]),
    stretch=st.sampled_from(["", "A5"]),
    minutes=st.integers(8, 60),
    grade=st.sampled_from(["", "1", "6"]),
    paper=st.sampled_from(["a4", "letter"]),
    breath=st.just(0) | st.integers(5, 60),
    tongue=st.just(0) | st.integers(40, 160),
    multiple=st.just(0) | st.integers(40, 200),
    articulations=st.lists(st.sampled_from(sorted(SETS)), max_size=3).map(tuple),
    weak_keys=st.lists(st.sampled_from(["Db", "F#m", "B"]), max_size=3).map(tuple),
    leave_out=st.lists(st.sampled_from(PARTS), max_size=3).map(tuple),
    favour=st.lists(st.sampled_from(PARTS), max_size=3).map(tuple),
    rest_day=st.sampled_from([*WEEKDAYS, "none"]),
    duplex=st.booleans(),
    days=st.lists(st.sampled_from(OTHERS), max_size=4).map(plainly),
)
