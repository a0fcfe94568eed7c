"""Which of the possible ways comes first, by the teacher's aim. A cut for which normal guards must come off never wins by
being quicker.
"""

from __future__ import annotations

from sequencer.model.job import Aim
from sequencer.planning.ways import Way


def ranked(ways: tuple[Way, ...], aim: Aim, pieces: float = 1.0, for_class: bool = False) -> list[Way]:
    """The possible ways, best first by the aim. Ties break by name, so equal input gives equal order.

    `for_class`: work done for the whole class before the lessons, such as cutting blanks off boards; staff do it if they
    can.
    A way for which normal guards come off ranks last whatever its time: risk is never traded for time. Work that staff do
    for a class is preferred in the long, work that students do piece by piece.
    """

    possible = (way for way in ways if way.possible)
    return sorted(possible, key=lambda way: _rank(way, aim, pieces, for_class))


def shut_out(ways: tuple[Way, ...], taken: Way, aim: Aim, pieces: float, for_class: bool) -> list[Way]:
    """The ways that would come before the one taken, were it not for a guard, holding or size of tool that is missing or a
    station out of service."""
    mendable = {"guard", "holding", "size", "service"}
    return [
        way
        for way in ways
        if way.obstacles
        and {each.kind for each in way.obstacles} <= mendable
        and _rank(way, aim, pieces, for_class) < _rank(taken, aim, pieces, for_class)
    ]


def _rank(way: Way, aim: Aim, pieces: float, for_class: bool) -> tuple[object, ...]:
    staff = (way.who.operator == "staff") != for_class
    time = way.minutes * pieces + way.set_up
    wrong_length = way.in_the_long != (way.who.operator == "staff")
    by_aim: tuple[object, ...] = {
        "most-by-students": (staff, wrong_length, time),
        "least-time": (time, wrong_length, staff),
        "fewest-set-ups": (way.set_up, wrong_length, time),
    }[aim]
    return (way.guards_off, *by_aim, way.operation, way.in_the_long)
