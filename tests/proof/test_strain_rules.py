"""The rules of a strain: for each a study that is right, and one change that gives exactly one finding."""

from dataclasses import replace
from fractions import Fraction

import pytest

from generators.phrase.bars import Meter
from generators.phrase.label import Label
from generators.phrase.note import Note, Phrase
from generators.phrase.study import Strain
from generators.proof.prove import prove
from generators.proof.strain_rules import STRAIN_RULES
from generators.studies.catalogue import make
from generators.studies.tonguing.study import TonguingRequest
from generators.theory.key import parse_key
from generators.theory.pitch import Pitch, parse_pitch
from tests.proof.broken import (
    GOOD,
    LIMITS,
    ON_TUBE,
    STUDY,
    Case,
    limited,
    marked,
    sketched,
    stranger,
)

CASES = (
    Case("range", limited(high=parse_pitch("F4")), 2, "G4", "outside F#3 to F4", "widen the range or choose a narrower study"),
    Case("range", limited(low=parse_pitch("C4")), 3, "B3", "outside C4 to C6", "widen the range or choose a narrower study"),
    Case(
        "playability",
        marked(0, pitch=parse_pitch("F3"), valves="1"),
        1,
        "F3",
        "is below F#3, where the horn has no note of its own",
        "ask for pedals, or stay above",
        limited(low=parse_pitch("F#2"))(STUDY),
    ),
    Case(
        "playability",
        marked(0, pitch=parse_pitch("F2")),
        1,
        "F2",
        "has no fingering on Trumpet in B♭",
        "choose a note between F#2 and C7",
        limited(low=parse_pitch("C2"), pedals=True)(STUDY),
    ),
    Case(
        "one tube",
        marked(1, pitch=parse_pitch("F4")),
        1,
        "F4",
        "is not on the tube 0",
        "choose a partial of that tube",
        ON_TUBE,
    ),
    Case(
        "one tube",
        marked(1, pitch=parse_pitch("Bb5")),
        1,
        "Bb5",
        "is partial 7, out of tune",
        "ask for rare partials, or leave it out",
        ON_TUBE,
    ),
    Case("fingering", marked(4, valves="1-2-3"), 2, "G4", "cannot be played with 1-2-3", "print another fingering"),
    Case("breath", limited(breath=6.0), 2, "E4", "6.7 s without a breath", "breathe within 6 s or play faster"),
    Case(
        "full bars", sketched(GOOD[:-4] + "1/2."), 0, "", "bar 4 holds 3/4 instead of 1", "fill it with a rest or a longer note"
    ),
    Case(
        "full bars",
        stranger(meter=Meter(3, 4)),
        0,
        "",
        "bar 6 holds 1/4 instead of 3/4",
        "fill it with a rest or a longer note",
    ),
    Case("lines", stranger(lines=(4, 1)), 0, "", "lines for 5 bars, but there are 4", "lay the lines out anew"),
    Case(
        "spelling",
        marked(2, pitch=parse_pitch("D##4")),
        1,
        "D##4",
        "needs a double accidental in C major",
        "respell it",
    ),
    Case(
        "leap",
        marked(3, pitch=parse_pitch("E5")),
        1,
        "E5",
        "leaps 12 half-steps from E4",
        "keep within 9",
        limited(leap=9)(STUDY),
    ),
    Case(
        "note values",
        sketched("1/8( 2/4. 3/4 4 | 5/2 3)* | 2/4 1 7, 2 | 1/1*"),
        1,
        "C4",
        "is shorter than 1/4 of a whole note",
        "choose a slower rhythm",
        limited(shortest=Fraction(1, 4))(STUDY),
    ),
    Case("key", limited(keys=("F", "Bb")), 0, "", "C major is outside the grade", "choose F, Bb"),
    Case("meter", limited(meters=("3/4", "6/8")), 0, "", "4/4 is outside the grade", "choose 3/4, 6/8"),
    Case("speed", limited(speed=1.0), 3, "C4", "1.2 notes a second single-tongued, more than 1.0", "tempo 60 would do"),
    Case("slurs", marked(2, slur_close=True), 0, "", "a slur begins or ends alone", "pair it"),
    Case("slurs", marked(5, slur_close=False), 0, "", "a slur crosses a breath", "end it before the breath"),
    Case("slurs", marked(-1, slur_open=True, breath=False), 0, "", "a slur never ends", "close it"),
    Case(
        "count",
        marked(0, hairpin="<", beats=3),
        1,
        "C4",
        "its hairpin says 3 beats, it lasts 1",
        "print the count of its length",
    ),
    Case(
        "bend", marked(2, role="bent"), 1, "E4", "is not bent from a fingered note and back", "glide a half-step down and back"
    ),
    Case(
        "ledger lines",
        marked(4, pitch=parse_pitch("B6")),
        2,
        "B6",
        "stands on 5 ledger lines",
        "choose another octave",
        limited(high=parse_pitch("C7"), leap=36)(STUDY),
        "warning",
        # No horn of the table goes so high.
        ("range",),
    ),
)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_one_change_one_finding(case: Case) -> None:
    """The study is right; with one change the rule, and no other, names place, reason and cure."""
    case.finds_one()


def test_no_rule_without_a_case() -> None:
    """Every rule of the table is broken by some case here."""
    assert set(STRAIN_RULES) == {case.rule for case in CASES}


def test_the_horn_has_a_ceiling() -> None:
    """A note inside the player's limits but past the horn's ceiling is out of range."""
    tall = marked(4, pitch=parse_pitch("F6"))(limited(high=parse_pitch("C7"), leap=36)(STUDY))

    assert ["outside F#3 to E6"] == [finding.reason for finding in prove(tall, ("range",))]


def test_keys_do_not_bind_a_tube() -> None:
    """Strains on one tube have no key, whatever the grade."""
    assert () == prove(limited(keys=("F",))(ON_TUBE))


def test_octave_fingering_in_the_gap() -> None:
    """A note of the gap may carry the fingering of the octave above."""
    music: Phrase[Pitch] = (Note(parse_pitch("F3"), Fraction(1), valves="1", breath=True),)
    pedal = replace(
        STUDY,
        strains=(Strain(Label(name="pedal"), parse_key("C"), music),),
        limits=replace(LIMITS, low=parse_pitch("C3"), pedals=True),
    )

    assert () == prove(pedal)


@pytest.mark.parametrize(
    ("sketch", "rate"),
    [("1/16 2/16 r/8 r/2.", "single-tongued"), ("1/32( 2/32) r/16 r/8 r/2.", "under the fingers")],
)
def test_speed_knows_tongue_and_fingers(sketch: str, rate: str) -> None:
    """Tongue and fingers have their own limits; the cure is a tempo that does."""
    quick = replace(limited(shortest=Fraction(1, 32))(sketched(sketch)(STUDY)), tempo=200)
    (found,) = prove(quick, ("speed",))
    slower = replace(quick, tempo=int(found.cure.split()[1]))

    assert rate in found.reason
    assert () == prove(slower)


@pytest.mark.parametrize(("kind", "quickest"), [("double", 180), ("double-reversed", 144), ("k", 92)])
def test_the_order_of_syllables_has_its_own_limit(kind: str, quickest: int) -> None:
    """A pattern begun with k is slower than one begun with t, k alone slowest; the landings on t do not change it."""
    study = replace(make(TonguingRequest(kind=kind, patterns=("one-note",), rhythm="sixteenths")), ladder=())
    study = replace(study, limits=replace(study.limits, tempo=240))
    found = [[f.rule for f in prove(replace(study, tempo=tempo))] for tempo in (quickest, quickest + 1)]

    assert [] == found[0]
    assert {"speed"} == set(found[1])


def test_free_lines_have_no_meter() -> None:
    """What is printed without a staff may last as it likes."""
    buzz = stranger(meter=Meter(7, 4), free=True)(sketched("1/1 1/2.* ")(STUDY))

    assert () == prove(limited(meters=("4/4",))(buzz))


def test_bass_clef_has_its_own_ledger_lines() -> None:
    """A note that hangs far out of the treble staff is easily read in bass clef, and the other way round."""
    low = sketched("1,,/1*")(limited(low=parse_pitch("E1"), pedals=True)(stranger(horn="trombone")(STUDY)))
    high = marked(0, pitch=parse_pitch("D5"))(low)

    assert () == prove(low)
    assert ["ledger lines"] == [finding.rule for finding in prove(high)]


def test_a_breath_or_a_rest_starts_the_breath_anew() -> None:
    """Stretches are counted from breath to breath and from rest to rest."""
    rested = sketched("1/1 r/1 1/1 r/1")(limited(breath=3.4)(STUDY))
    breathed = sketched("1/1* 1/1*")(limited(breath=3.4)(STUDY))
    neither = sketched("1/1 1/1")(limited(breath=3.4)(STUDY))

    assert () == prove(rested)
    assert () == prove(breathed)
    assert ["breath"] == [finding.rule for finding in prove(neither)]
