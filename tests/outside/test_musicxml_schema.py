"""The published MusicXML 4.0 schema, as the PyPI package `musicxml` carries it."""

from importlib.util import find_spec
from pathlib import Path

import pytest
import xmlschema
from hypothesis import given, settings

from generators.brass.horn import HORNS, horn
from generators.exchange.musicxml import musicxml
from generators.jobs.compose import compose
from generators.jobs.render import render
from generators.phrase.study import Study
from tests.band.bands import band, player
from tests.exchange.samples import CODE, SAMPLES, STUDIES, written


@pytest.fixture(scope="session")
def schema() -> xmlschema.XMLSchema:
    """Return the schema, built once: that takes longer than all the files."""
    found = find_spec("musicxml")
    assert found is not None
    assert found.origin is not None
    return xmlschema.XMLSchema(Path(found.origin).parent / "generate_classes" / "musicxml_4_0.xsd")


def _faults(schema: xmlschema.XMLSchema, data: bytes) -> list[str | None]:
    return [fault.reason for fault in schema.iter_errors(data.decode())]


@pytest.mark.parametrize("fingerings", [False, True])
@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_is_valid(schema: xmlschema.XMLSchema, name: str, fingerings: bool) -> None:
    """Files of every mark, key, meter and grouping are valid, with fingerings and without, the code of the music in each."""
    data = written(name, fingerings=fingerings)

    assert CODE.encode() in data
    assert _faults(schema, data) == []


@pytest.mark.parametrize("name", HORNS)
def test_every_horn_is_valid(schema: xmlschema.XMLSchema, name: str) -> None:
    """Files for every horn are valid, whatever its transposition."""
    data = written("marks", name)

    assert _faults(schema, data) == []


@settings(max_examples=15)
@given(STUDIES)
def test_any_study_is_valid(schema: xmlschema.XMLSchema, whole: Study) -> None:
    """Generated studies give valid files."""
    data = musicxml(whole, horn("trumpet"))

    assert _faults(schema, data) == []


def test_the_score_of_a_class_is_valid(schema: xmlschema.XMLSchema) -> None:
    """A file of several parts, some of them at rest in a study, is valid."""
    resting = player("trumpet", low="C4", high="E4")
    asked = band(player("cornet"), player("trombone"), resting, studies=("slurs", "etude"))

    assert [] == _faults(schema, render(compose(asked), "musicxml"))


def test_the_schema_sees_a_fault(schema: xmlschema.XMLSchema) -> None:
    """A file with a misspelt note value is refused, so the other tests prove something."""
    data = written("marks").replace(b"<type>half</type>", b"<type>hlf</type>")

    assert _faults(schema, data)
