"""MusicXML: what the file says, element by element, and that it says the same every time."""

from dataclasses import replace
from xml.etree.ElementTree import Element, fromstring

import pytest
from hypothesis import given, settings

from generators.brass.horn import HORNS, horn
from generators.exchange.musicxml import musicxml
from generators.phrase.study import Study
from tests.exchange.samples import CODE, EB, SAMPLES, STUDIES, strain, study, written

TRUMPET = horn("trumpet")


def _xml(whole: Study, **options: object) -> Element:
    return fromstring(musicxml(whole, TRUMPET, **options))  # type: ignore[arg-type]  # noqa: S314  # our own file


def _texts(root: Element, path: str) -> list[str | None]:
    return [found.text for found in root.iterfind(f".//{path}")]


@pytest.mark.parametrize("name", SAMPLES)
def test_the_same_study_gives_the_same_bytes(name: str) -> None:
    """Writing a study twice gives identical files, with no date and no name of a library in them."""
    first, second = written(name), musicxml(SAMPLES[name], TRUMPET, player="second cornet", code=CODE)

    assert first == second
    assert b"encoding-date" not in first
    assert b"usic21" not in first


@settings(max_examples=16)
@given(STUDIES)
def test_every_measure_is_complete(whole: Study) -> None:
    """The durations in every measure add up to the time signature in force."""
    beats, unit, sums = 4, 4, []
    for measure in _xml(whole).iter("measure"):
        if (time := measure.find("attributes/time")) is not None:
            beats, unit = int(time.findtext("beats", "")), int(time.findtext("beat-type", ""))
        sums.append(sum(int(d.text or 0) for d in measure.iterfind("note/duration")) - 10080 * 4 * beats // unit)

    assert not any(sums)


@settings(max_examples=16)
@given(STUDIES)
def test_lines_that_start_also_stop(whole: Study) -> None:
    """Slurs, ties, tuplets, wedges and octave brackets that start are stopped, as often as they started."""
    root = _xml(whole)
    for tag, starts in (
        ("slur", {"start"}),
        ("tied", {"start"}),
        ("tuplet", {"start"}),
        ("wedge", {"crescendo", "diminuendo"}),
        ("octave-shift", {"up"}),
    ):
        types = [found.get("type") for found in root.iter(tag)]

        assert types.count("stop") * 2 == len(types), tag
        assert set(types) <= starts | {"stop"}


@pytest.mark.parametrize(
    ("tag", "count"),
    [
        *(("staccato", 2), ("tenuto", 1), ("accent", 2), ("strong-accent", 1), ("fermata", 1), ("breath-mark", 1)),
        *(("slur", 2), ("tied", 2), ("wedge", 4), ("dynamics", 3), ("glissando", 2), ("fingering", 1), ("lyric", 2)),
    ],
)
def test_every_mark_of_a_study_is_in_the_file(tag: str, count: int) -> None:
    """Each mark of the sample is written once, lines twice (start and stop)."""
    found = list(_xml(SAMPLES["marks"]).iter(tag))

    assert len(found) == count


def test_words_syllables_and_valves_are_written() -> None:
    """The label and the note's word stand as words, syllables as lyrics, the printed valve set as fingering."""
    root = _xml(SAMPLES["marks"])

    assert _texts(root, "words") == ["E♭ major", "subito"]
    assert _texts(root, "lyric/text") == ["t", "k"]
    assert _texts(root, "fingering") == ["1-3"]


def test_fingerings_on_request_stand_at_every_note() -> None:
    """With fingerings asked for, each attacked note has its usual valve set and tied notes are not fingered again."""
    root = _xml(study(strain("1/4 2~ 2 5 | #4, 3 4 1'")), fingerings=True)

    assert _texts(root, "fingering") == ["0", "1-3", "0", "1-2-3", "1-2", "1", "0"]


def test_title_and_player_are_named() -> None:
    """The given title replaces the study's; the player is named as performer."""
    root = _xml(SAMPLES["marks"], title="Monday", player="second cornet")

    assert root.findtext("work/work-title") == "Monday"
    assert root.findtext("identification/creator[@type='performer']") == "second cornet"
    assert _xml(SAMPLES["marks"]).findtext("work/work-title") == "Sample: <of> all & ♭"


@pytest.mark.parametrize("odd", ["\x01", "\udcff", "\ufffe", "\n"])
def test_what_xml_cannot_hold_is_left_out(odd: str) -> None:
    """Controls, half characters and line ends in title and name leave the file well-formed."""
    root = _xml(SAMPLES["marks"], title=f"a{odd}b", player=f"{odd}x{odd}")

    assert "ab" == (root.findtext("work/work-title") or "").replace(" ", "")
    assert "x" == root.findtext("identification/creator[@type='performer']")


def test_the_code_of_the_music_is_a_field_of_its_own() -> None:
    """The code stands among the miscellaneous fields; where none is given there is no such field."""
    path = "identification/miscellaneous/miscellaneous-field[@name='music']"

    assert CODE == _xml(SAMPLES["marks"], code=CODE).findtext(path)
    assert None is _xml(SAMPLES["marks"]).find(path)


@pytest.mark.parametrize(("name", "sign", "line"), [("trumpet", "G", "2"), ("trombone", "F", "4"), ("eb-bass", "G", "2")])
def test_the_clef_is_the_horns(name: str, sign: str, line: str) -> None:
    """The clef is the horn's, a G on the second line or an F on the fourth."""
    root = fromstring(written("marks", name))  # noqa: S314  # our own file

    assert [(sign, line)] == [(clef.findtext("sign"), clef.findtext("line")) for clef in root.iter("clef")]


@pytest.mark.parametrize("name", HORNS)
def test_the_part_is_the_horns(name: str) -> None:
    """Part name, sound, program and transposition are those of the horn; a horn in C has no transposition."""
    root = fromstring(written("marks", name))  # noqa: S314  # our own file
    shift = {tag: int(root.findtext(f".//transpose/{tag}", "0")) for tag in ("diatonic", "chromatic", "octave-change")}

    assert root.findtext(".//part-name") == horn(name).name
    assert root.findtext(".//instrument-sound") == horn(name).sound
    assert root.findtext(".//midi-program") == str(horn(name).program + 1)
    assert shift["chromatic"] + 12 * shift["octave-change"] == horn(name).interval.half_steps
    assert shift["diatonic"] + 7 * shift["octave-change"] == horn(name).interval.steps
    assert (root.find(".//transpose") is None) == (horn(name).interval.half_steps == 0)


def test_strains_begin_lines_and_end_with_double_bars() -> None:
    """Lines break where the strain says, each strain begins one, and the last bar line is final."""
    whole = study(strain("1/1 2 3 4 5", lines=(2, 3)), strain("1/1 2", EB))
    measures = list(_xml(whole).iter("measure"))
    breaks = [m.get("number") for m in measures if m.find("print[@new-system='yes']") is not None]
    bars = {m.get("number"): m.findtext("barline/bar-style") for m in measures if m.find("barline") is not None}

    assert breaks == ["3", "6"]
    assert bars == {"5": "light-light", "7": "light-heavy"}


def test_repeats_are_bar_lines_with_their_count() -> None:
    """A repeated strain stands between repeat signs, with the count in words when it is more than twice."""
    root = _xml(SAMPLES["repeats"])

    assert [(r.get("direction"), r.get("times")) for r in root.iter("repeat")] == [
        *(("forward", None), ("backward", "2"), ("forward", None), ("backward", "4"))
    ]
    assert "play 4 times" in _texts(root, "words")


def test_long_rests_are_single_symbols() -> None:
    """Each rest of several bars is one multiple-rest; a single bar's rest is none."""
    root = _xml(SAMPLES["rests"])

    assert _texts(root, "multiple-rest") == ["5", "2"]
    assert len(root.findall(".//rest[@measure='yes']")) == 8


def test_signatures_stand_where_they_change() -> None:
    """Key and time are written at the start and where the next strain differs."""
    whole = study(strain("1/1"), strain("1/1"), strain("1/1", EB))

    assert _texts(_xml(whole), "fifths") == ["0", "-3"]
    assert _texts(_xml(whole), "beats") == ["4"]


def test_the_tempo_is_printed_and_heard() -> None:
    """The tempo stands as a metronome mark of quarters and as a sound."""
    root = _xml(replace(SAMPLES["marks"], tempo=88))

    assert root.findtext(".//metronome/beat-unit") == "quarter"
    assert root.findtext(".//metronome/per-minute") == "88"
    assert root.find(".//sound[@tempo='88']") is not None


def test_a_line_never_breaks_within_a_long_rest() -> None:
    """A strain's line break that falls inside a rest of many bars is left out, for the rest is one symbol."""
    broken = replace(SAMPLES["rests"].strains[0], lines=(3, 4))
    measures = _xml(study(broken)).iter("measure")

    assert [m.get("number") for m in measures if m.find("print") is not None] == ["8"]
