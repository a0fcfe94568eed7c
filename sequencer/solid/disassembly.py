"""In which order bodies that stand together can be taken apart by straight moves; the other way round they go together.

Bodies come away singly where any does: with it gone the rest is only freer. Else a set that nothing outside it stops comes away
as one: it has no arc out of it in the blocking graph of its way (Wilson and Latombe 1994), and the two halves are looked at in
the same way, each alone (AND/OR graphs: L. S. Homem de Mello and A. C. Sanderson, A correct and complete algorithm for the
generation of mechanical assembly sequences, IEEE Transactions on Robotics and Automation 7(2), 1991). Of all halvings the one is
taken for which fewest sets are carried as one. Turning, tilting and bending in are not looked at. mm.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from sequencer.model.frame import Point
from sequencer.solid.blocking import ALONG_AXES, Blocking, reversed_way

MOST_SETS = 300
"""At most so many sets are tried for each way: a bound on the time, far over what a project of a class has."""

ASKEW = 0.1
"""A way slides along a seat if it runs out of it by less than this for each millimetre."""

Pair = frozenset[str]


@dataclass(frozen=True)
class Move:
    """A body, or several carried as one, brought home onto what is there. `way`: the way it moves home, a unit vector; `first`:
    the way it is brought beside its place before, where it cannot come straight."""

    bodies: tuple[str, ...]
    onto: tuple[str, ...]
    way: Point
    first: Point | None = None

    @property
    def carried(self) -> bool:
        """Whether several bodies are moved as one, so that the joints between them are disturbed if they are wet."""
        return len(self.bodies) > 1


@dataclass(frozen=True)
class Stop:
    """What stops a body on one way out."""

    body: str
    way: Point
    by: tuple[str, ...]


@dataclass(frozen=True)
class Locked:
    """Bodies of which no set can be moved away from the rest: as few as still lock each other, and what stops each."""

    bodies: tuple[str, ...]
    stops: tuple[Stop, ...]


@dataclass(eq=False)
class Disassembly:
    """Bodies, each of one or several pieces, to be taken apart.

    meet
        Pairs of bodies that a joint connects: of two orders the one is taken in which what goes in meets what is there.
    outward
        The way a body comes out of its seats in another, or off what sits in it, by the names of both, where the joints say
        one: of several free ways that one is taken which these add up to among what is there.
    glued
        Pairs of bodies of which one is glued into a seat of the other. What would slide along two such seats at once stands in
        one of them before the other is pressed on, if that way is shorter: glue is wiped off a face that slides, and grabs.
    """

    blocking: Blocking
    bodies: Mapping[str, Sequence[str]]
    meet: Collection[Pair] = ()
    outward: Mapping[tuple[str, str], Point] = field(default_factory=dict)
    glued: Collection[Pair] = ()
    _known: dict[frozenset[str], tuple[Move, ...] | None] = field(default_factory=dict)

    def order(self) -> tuple[Move, ...] | Locked:
        """The moves in the order they are made to put the bodies together, the fewest of them carrying several as one; or what
        locks them."""
        moves = self._together(frozenset(self.bodies))
        return self._locked() if moves is None else moves

    def comes_away(self, body: str, there: Sequence[str]) -> bool:
        """Whether a body can be moved away from others that stand there, straight or round a corner."""
        left = [body, *(other for other in there if other != body)]
        ways = self.blocking.ways
        return len(left) == 1 or self._way_out(body, left, ways) is not None or self._round_a_corner(body, left) is not None

    def _stopping(self, body: str, others: Collection[str], way: Point) -> tuple[str, ...]:
        moving = self.bodies[body]
        return tuple(other for other in others if other != body and self.blocking.stopping(moving, self.bodies[other], way))

    def _together(self, whole: frozenset[str]) -> tuple[Move, ...] | None:
        """The moves that put a set together; None if it cannot be."""
        if whole not in self._known:
            self._known[whole] = self._find(whole)
        return self._known[whole]

    def _find(self, whole: frozenset[str]) -> tuple[Move, ...] | None:
        left = [body for body in self.bodies if body in whole]
        last: list[Move] = []
        while len(left) > 1 and (single := self._single(left)) is not None:
            left.remove(single[0])
            body, way, aside = single
            last.append(Move((body,), tuple(left), reversed_way(way), None if aside is None else reversed_way(aside)))
        if len(left) <= 1:
            return tuple(reversed(last))
        best: tuple[Move, ...] | None = None
        for moved, way in self._sets(left):
            rest = tuple(body for body in left if body not in moved)
            one, other = self._together(frozenset(moved)), self._together(frozenset(rest))
            if one is None or other is None:
                # What cannot be put together alone cannot be with more round it.
                return None
            moves = (*one, *other, Move(moved, rest, reversed_way(way)))
            if best is None or _carries(moves) < _carries(best):
                best = moves
                if _carries(best) == 1:
                    break
        return None if best is None else (*best, *reversed(last))

    def _single(self, left: Sequence[str]) -> tuple[str, Point, Point | None] | None:
        """A body that comes away, with its way out and, if it must, the way it steps aside then: along an axis if any does, and
        one without which the rest still meets; of several pieces as one only if no single piece does; of these the last drawn."""
        last_drawn = sorted(left, key=lambda body: (len(self.bodies[body]) > 1, -left.index(body)))
        ways = self.blocking.ways
        for find in (
            lambda body: self._way_out(body, left, ways[: len(ALONG_AXES)]),
            lambda body: self._way_out(body, left, ways[len(ALONG_AXES) :]),
            lambda body: self._round_a_corner(body, left),
        ):
            found = None
            for body in last_drawn:
                out = find(body)
                if out is None:
                    continue
                if self._hold_together([other for other in left if other != body]):
                    return self._pressed_on(body, out[0], left) or (body, *out)
                found = found or (body, *out)
            if found is not None:
                return found
        return None

    def _pressed_on(self, body: str, way: Point, left: Sequence[str]) -> tuple[str, Point, None] | None:
        """For a body that slides along the glued seats of two others: one of these two that comes away off it by a shorter way
        than it slides, and leaves the rest in one; of several the last drawn."""
        seats = [other for other in left if frozenset((body, other)) in self.glued]
        if len(seats) < 2 or any(abs(_dot(way, self.outward.get((body, other), way))) > ASKEW for other in seats):
            return None
        slide = max(self._travel(body, other, way) for other in seats)
        for other in reversed(seats):
            out = self.outward[other, body]
            off = next((each for each in ALONG_AXES if _dot(each, out) == sum(map(abs, out))), None)
            rest = [each for each in left if each != other]
            if off is None or self._stopping(other, rest, off) or not self._hold_together(rest):
                continue
            beside = [each for each in rest if frozenset((each, other)) in self.meet]
            if max(self._travel(other, each, off) for each in beside) < slide:
                return other, off, None
        return None

    def _travel(self, body: str, other: str, way: Point) -> float:
        """How far a body moves along an axis until it is wholly past another, mm."""
        index = next(number for number, part in enumerate(way) if part)
        mine, theirs = ([self.blocking.standing[piece].bounds for piece in self.bodies[each]] for each in (body, other))
        if way[index] > 0:
            return max(box.high[index] for box in theirs) - min(box.low[index] for box in mine)
        return max(box.high[index] for box in mine) - min(box.low[index] for box in theirs)

    def _likely(self, body: str, others: Sequence[str], ways: Sequence[Point]) -> list[Point]:
        """Ways for one body, away from the others first."""
        away = self._away(body, others)
        return sorted(ways, key=lambda way: round(sum(a * b for a, b in zip(way, away, strict=True)), 3), reverse=True)

    def _way_out(self, body: str, left: Sequence[str], ways: Sequence[Point]) -> tuple[Point, None] | None:
        """A free way for one body."""
        others = [other for other in left if other != body]
        return next(((way, None) for way in self._likely(body, others, ways) if not self._stopping(body, others, way)), None)

    def _round_a_corner(self, body: str, left: Sequence[str]) -> tuple[Point, Point] | None:
        """Two ways for one body, one after the other: out of its seat, then aside."""
        others = [other for other in left if other != body]
        pieces = [piece for other in others for piece in self.bodies[other]]
        for way in self._likely(body, others, ALONG_AXES):
            aside = self.blocking.steps_aside(self.bodies[body], pieces, way)
            if aside is not None:
                return way, aside
        return None

    def _away(self, body: str, others: Sequence[str]) -> Point:
        """The way its joints let it out, else from the middle of the bodies it meets, or of all, to its own."""
        ways = [self.outward[body, other] for other in others if (body, other) in self.outward]
        out = Point(*(sum(way[index] for way in ways) for index in range(3)))
        if any(out):
            return out
        near = [other for other in others if frozenset((body, other)) in self.meet] or list(others)
        mine, theirs = self._middle([body]), self._middle(near)
        return Point(*(a - b for a, b in zip(mine, theirs, strict=True)))

    def _middle(self, bodies: Sequence[str]) -> Point:
        boxes = [self.blocking.standing[piece].bounds for body in bodies for piece in self.bodies[body]]
        return Point(*((min(box.low[i] for box in boxes) + max(box.high[i] for box in boxes)) / 2 for i in range(3)))

    def _hold_together(self, bodies: Sequence[str]) -> bool:
        """Whether joints connect all of some bodies."""
        if not self.meet or not bodies:
            return True
        reached, todo = {bodies[0]}, [bodies[0]]
        while todo:
            here = todo.pop()
            new = [other for other in bodies if other not in reached and frozenset((here, other)) in self.meet]
            reached.update(new)
            todo.extend(new)
        return len(reached) == len(bodies)

    def _sets(self, left: Sequence[str]) -> Iterator[tuple[tuple[str, ...], Point]]:
        """Sets of several bodies that come away as one, small ones first, each with its way out."""
        import networkx as nx  # takes its time to load, and few things need it

        seen = set()
        for way in self.blocking.ways:
            graph: nx.DiGraph[str] = nx.DiGraph()
            graph.add_nodes_from(left)
            graph.add_edges_from((body, other) for body in left for other in self._stopping(body, left, way))
            rings = nx.condensation(graph)
            members = {ring: frozenset(rings.nodes[ring]["members"]) for ring in rings}
            least = {ring: members[ring].union(*(members[each] for each in nx.descendants(rings, ring))) for ring in rings}
            sets = set(least.values())
            todo = sorted(sets, key=lambda each: (len(each), sorted(each)))
            while todo and len(sets) < MOST_SETS:
                one = todo.pop(0)
                for other in least.values():
                    both = one | other
                    if both not in sets:
                        sets.add(both)
                        todo.append(both)
            for each in sorted(sets, key=lambda each: (len(each), [left.index(body) for body in left if body in each])):
                if 1 < len(each) < len(left) and each not in seen:
                    seen.add(each)
                    yield tuple(body for body in left if body in each), way

    def _locked(self) -> Locked:
        """The fewest bodies that still lock each other, by leaving out one after the other."""
        left = list(self.bodies)
        for body in self.bodies:
            rest = [other for other in left if other != body]
            if len(rest) > 1 and self._together(frozenset(rest)) is None:
                left = rest
        stops = tuple(Stop(body, way, self._stopping(body, left, way)) for body in left for way in self.blocking.ways)
        return Locked(tuple(left), stops)


def _dot(one: Point, other: Point) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _carries(moves: Sequence[Move]) -> int:
    return sum(1 for move in moves if move.carried)
