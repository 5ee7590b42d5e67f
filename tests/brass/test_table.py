import pytest

from generators.brass.table import read_table


@pytest.mark.parametrize("name", ["horns.toml", "grades.toml"])
def test_tables_travel_with_the_package(name: str) -> None:
    """Both tables are read from the package and have rows."""
    assert read_table(name)
