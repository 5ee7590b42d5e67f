"""A studio's file: the line of a mistake, whatever tables lie inside a player's."""

from generators.keep.studio_file import studio_of

NESTED = """\
name = "Saltmarsh Town Band"

[[player]]
name = "first cornet"
[[player.a]]
name = "inside"
[player.b]
minutes = 3

[[player]]
name = "second cornet"
minutes = 99
"""


def test_tables_inside_a_players_are_not_counted() -> None:
    """The second player's mistake has its own line, and an entry that is a table has the line of its heading."""
    told = [chair.refusal.where for chair in studio_of(NESTED, "band.toml").chairs if chair.refusal]

    assert ["band.toml, line 5", "band.toml, line 12"] == told
