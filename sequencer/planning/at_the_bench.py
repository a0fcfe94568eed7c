"""The moves of a glue-up as they are told: as they are made at the bench, where weight helps and nothing is held up from below.

What would be lifted up to a lighter body stands first, and that body comes down on all of it. What else comes from below waits
until the work is turned over, once. A move is told so only if nothing stands in its way.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, Point
from sequencer.solid.blocking import Blocking, reversed_way
from sequencer.solid.disassembly import Move

Pair = frozenset[str]


def along(way: Direction) -> Point:
    """A direction as a unit vector."""
    return Point(*(way.sign * float(axis == way.axis) + 0.0 for axis in AXES))


def told_moves(
    moves: Sequence[Move], bodies: Mapping[str, Sequence[str]], meet: Collection[Pair], blocking: Blocking, up: Direction
) -> tuple[Move, ...]:
    """The moves of a closing in the order and the ways they are told; a body that meets nothing yet is stood there. Left as they
    are where sets are carried or go in round a corner."""
    if any(move.carried or move.first is not None for move in moves):
        return tuple(moves)
    found = _Order(bodies, meet, blocking, along(up), _names(moves), {move.bodies[0]: move.way for move in moves})
    for body in found.names:
        found = found.stood_first(body)
    return tuple(found.turned_last().moves())


def _names(moves: Sequence[Move]) -> tuple[str, ...]:
    return (*(moves[0].onto if moves else ()), *(move.bodies[0] for move in moves))


@dataclass(frozen=True)
class _Order:
    """Bodies in the order they are put down, with the way of each; none for one that is stood there."""

    bodies: Mapping[str, Sequence[str]]
    meet: Collection[Pair]
    blocking: Blocking
    up: Point
    names: tuple[str, ...]
    ways: Mapping[str, Point]

    def met(self, body: str) -> list[str]:
        """The bodies that are there before it and that a joint connects with it."""
        return [other for other in self.names[: self.names.index(body)] if frozenset((body, other)) in self.meet]

    def goes(self) -> bool:
        """Whether every body has its way free when its turn comes, and what is moved meets something."""
        for number, body in enumerate(self.names):
            way, there = self.ways.get(body), self.names[:number]
            if way is None or not there:
                continue
            out = reversed_way(way)
            if not self.met(body) or any(self.blocking.stopping(self.bodies[body], self.bodies[each], out) for each in there):
                return False
        return True

    def size(self, body: str) -> float:
        """How much wood there is in a body, mm3."""
        return sum(self.blocking.standing[piece].volume for piece in self.bodies[body])

    def stood_first(self, body: str) -> _Order:
        """The order in which what is lifted up to a body alone stands before it, and the body comes down on that; the same if
        there is no such thing, the body is the heavier, or its way is not free."""
        number, down = self.names.index(body), reversed_way(self.up)
        later = self.names[number + 1 :]
        lifted = [each for each in later if self.ways.get(each) == self.up and self.met(each) == [body]]
        if not lifted or (number and self.ways.get(body) != down) or min(map(self.size, lifted)) < self.size(body):
            return self
        rest = (each for each in later if each not in lifted)
        names = (*self.names[:number], *lifted, body, *rest)
        ways = {each: way for each, way in self.ways.items() if each not in lifted} | {body: down}
        told = _Order(self.bodies, self.meet, self.blocking, self.up, names, ways)
        return told if told.goes() else self

    def turned_last(self) -> _Order:
        """The order in which what comes from below is put in last; the same if that does not go."""
        below = tuple(body for body in self.names[1:] if self.ways.get(body) == self.up)
        names = (*(body for body in self.names if body not in below), *below)
        told = _Order(self.bodies, self.meet, self.blocking, self.up, names, self.ways)
        return told if told.goes() else self

    def moves(self) -> Iterator[Move]:
        """The order as moves: what is stood there is put straight down."""
        for number, body in enumerate(self.names[1:], 1):
            yield Move((body,), self.names[:number], self.ways.get(body, reversed_way(self.up)))
