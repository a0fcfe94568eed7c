"""Which of the possible ways comes first, by the teacher's aim. A cut for which normal guards must come off never wins by
being quicker.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from sequencer.model.job import Aim
from sequencer.planning.ways import Way

Criterion = Literal["guards", "operator", "length", "minutes", "set-up", "name"]
"""What one way can come before another by: normal guards stay on; whoever the aim asks for does it; it is worked in the long or
piece by piece, as befits who does it; it takes less time; it takes less setting up; nothing but its name."""


@dataclass(frozen=True)
class Along:
    """How ways are compared for a work on short parts that students may do in one strip.

    minutes
        Minutes of a way for one piece, a strip's shared among its pieces.
    by_itself
        Operations for which each piece is large enough to be held by itself: these are not done in the long.
    first
        Whether it is decided that the work comes before its part is cut to length, so that it can only be done in the long.
    """

    minutes: Callable[[Way], float]
    by_itself: frozenset[str] = frozenset()
    first: bool = False


@dataclass(frozen=True)
class Wish:
    """What ways are ranked by.

    pieces
        How many pieces the class makes.
    for_class
        Work done for the whole class before the lessons, such as cutting blanks off boards; staff do it if they can.
    along
        Where students may do it in a strip; without it students work piece by piece, whatever a strip would save.
    """

    aim: Aim
    pieces: float = 1.0
    for_class: bool = False
    along: Along | None = None


def ranked(ways: tuple[Way, ...], wish: Wish) -> list[Way]:
    """The possible ways, best first. Ties break by name, so equal input gives equal order.

    A way for which normal guards come off ranks last whatever its time: risk is never traded for time. Work that staff do
    for a class is preferred in the long, work that students do piece by piece, unless a strip may be taken for it: then
    minutes decide.
    """
    return sorted((way for way in ways if way.possible), key=lambda way: _rank(way, wish))


def shut_out(ways: tuple[Way, ...], taken: Way, wish: Wish) -> list[Way]:
    """The ways that would come before the one taken, were it not for a guard, holding or size of tool that is missing or a
    station out of service."""
    mendable = {"guard", "holding", "size", "service"}
    return [
        way
        for way in ways
        if way.obstacles and {each.kind for each in way.obstacles} <= mendable and _rank(way, wish) < _rank(taken, wish)
    ]


def told_apart(first: Way, other: Way, wish: Wish) -> Criterion:
    """By what the first of two possible ways comes before the other."""
    return next(
        (name for (name, one), (_, two) in zip(_criteria(first, wish), _criteria(other, wish), strict=True) if one != two),
        "name",
    )


def minutes_each(way: Way, wish: Wish) -> float:
    """Minutes of a way for one piece, as they are compared."""
    return way.minutes if wish.along is None else wish.along.minutes(way)


def _rank(way: Way, wish: Wish) -> tuple[object, ...]:
    return tuple(value for _, value in _criteria(way, wish))


def _criteria(way: Way, wish: Wish) -> tuple[tuple[Criterion, object], ...]:
    """All that a way is ranked by, in the order in which it counts; the lower comes first."""
    staff = way.who.operator == "staff"
    operator: tuple[Criterion, object] = ("operator", staff != wish.for_class)
    minutes: tuple[Criterion, object] = ("minutes", minutes_each(way, wish) * wish.pieces + way.set_up)
    length: tuple[Criterion, object] = ("length", _wrong_length(way, wish.along))
    by_aim = {
        "most-by-students": (operator, length, minutes),
        "least-time": (minutes, length, operator),
        "fewest-set-ups": (("set-up", way.set_up), length, minutes),
    }[wish.aim]
    wrong: tuple[Criterion, object] = ("length", _against_size_or_order(way, wish.along))
    return (("guards", way.guards_off), wrong, *by_aim, ("name", (way.operation, way.in_the_long)))


def _wrong_length(way: Way, along: Along | None) -> bool:
    """Whether it is worked in the long where its pieces are better worked by themselves, or the other way round."""
    if way.who.operator == "staff":
        return not way.in_the_long
    return way.in_the_long and along is None


def _against_size_or_order(way: Way, along: Along | None) -> bool:
    """Whether students would do it in a strip though each piece is large enough for it, whatever that saves, or piece by piece
    though it is decided that it comes first."""
    if along is None or way.who.operator == "staff":
        return False
    return not way.in_the_long if along.first else way.in_the_long and way.operation in along.by_itself
