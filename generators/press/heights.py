"""What texts take of the height of a page, in staff spaces: measured on engraved pages."""

from dataclasses import replace
from math import ceil

from generators.press.breaking import Gaps
from generators.press.pages import Head, Heading
from generators.press.room import Room

# The least distances of the house style, less what the outlines of staves make up for; the templates hold the same. A day's
# many headings stand closer.
GAPS = Gaps(system=9.0, score=9.4, padding=0.2, apart=0.2, over=0.8, under=0.7)
DENSE = replace(GAPS, over=0.9, under=0.4)
# Millimetres that a line takes, and letters that it holds on 180 mm, by what it is; in large print all is wider and higher.
TITLE, SMALL_TITLE, SECTION, BAND = (6.6, 46), (5.9, 58), (4.0, 60), (4.3, 80)
AIM, REMARK, RUNNING = (4.0, 112), (3.8, 122), (6.0, 110)
LADDER, BOXES = 5.6, 11
# What follows an aim where the rest does.
AFTERWARDS = " Rest 100 s afterwards."


def head_height(head: Head, room: Room) -> float:
    """Return what the head of a first page takes, without its glance."""
    band = head.band.left + head.band.player + head.band.date
    return _texts(room, (SMALL_TITLE if head.small else TITLE, head.title), (BAND, band))


def running_height(room: Room) -> float:
    """Return what the running line of a further page takes."""
    return _texts(room, (RUNNING, "title"))


def heading_height(heading: Heading, room: Room) -> float:
    """Return what a study's heading takes: its title, aim, remarks and tempi."""
    ladder = LADDER * ceil(len(heading.ladder) * room.larger / BOXES) * room.larger
    aim = heading.aim + AFTERWARDS * heading.crowded
    inset = room.column / room.width if heading.number else 0
    beside = (AIM[0], int(AIM[1] * (1 - inset)))
    return room.spaces(ladder) + _texts(room, (SECTION, heading.title), (beside, aim), (REMARK, " ".join(heading.remarks)))


def _texts(room: Room, *texts: tuple[tuple[float, int], str]) -> float:
    lines = [line * ceil(len(text) * room.larger / letters) for (line, letters), text in texts]
    return room.spaces(sum(lines) * room.larger)
