"""Putting the pieces together: where they stand, what is one body by now, and whether each can be brought to its place. mm."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property, partial
from itertools import combinations

from sequencer.design.placement import Placement
from sequencer.features.base import mm
from sequencer.model.frame import AXES, AXIS_WORDS, Hand, axis_of
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Bench
from sequencer.model.proof import Looked
from sequencer.model.shapes import Bounds
from sequencer.planning.groups import FIXINGS, is_key
from sequencer.proving.loose import Loose
from sequencer.proving.remembered import Remembered
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.bearing import MEETS
from sequencer.solid.blocking import Blocking, ways_to_move
from sequencer.solid.clashing import Clash, clashes
from sequencer.solid.disassembly import Disassembly, Locked
from sequencer.solid.going_in import led
from sequencer.solid.parts import standing_solids
from sequencer.solid.solids import Solid, box, joined
from sequencer.solid.sweeping import beyond_a_touch

SIZE = 0.5
"""A piece is as drawn for joining if it is so within this, mm."""

_HOLDS = frozenset({"glue", "screw", "nail"})
"""Kinds of work after which a joint cannot be opened again."""

Key = tuple[str, Hand | None]


class Joining:
    """The pieces where the joints place them, and which of them are one body."""

    def __init__(self, job: Job, placement: Placement, keys: Mapping[str, Key], remembered: Remembered, bench: Bench) -> None:
        self.job, self.placement, self.keys, self.remembered = job, placement, keys, remembered
        self.sets: dict[str, int] = {name: number for number, name in enumerate(keys)}
        self.tried: dict[str, int] = dict(self.sets)
        """Pieces that have been put together dry, with those joined for good, by group."""
        self.fixed: dict[str, set[str]] = {}
        self.loose = Loose(job, placement, bench)
        self._led = dict(led(job, placement))

    def pieces_of(self, joint: str) -> tuple[str, str]:
        """The entering piece of a joint and the one it is let into."""
        found = self.job.joints[joint]
        return found.enters_piece, found.seat.piece

    def placed(self, name: str, pieces: Mapping[Key, Workpiece]) -> Solid:
        """The body of a piece where it stands in the whole."""
        piece = pieces[self.keys[name]]
        return self.remembered.once(("placed", name, id(piece)), partial(piece.body.posed, self.placement.poses[name]))

    def _body(self, names: Sequence[str], pieces: Mapping[Key, Workpiece]) -> Solid:
        """The pieces that are one body by now, where they stand."""
        known = "body", tuple(names), self._as_they_are(names, pieces)
        return self.remembered.once(known, lambda: joined(self.placed(name, pieces) for name in names))

    def _as_they_are(self, names: Iterable[str], pieces: Mapping[Key, Workpiece]) -> tuple[int, ...]:
        """Stands for pieces with their bodies in what is remembered of them."""
        return tuple(id(pieces[self.keys[name]]) for name in names)

    def is_glued(self, joint: str) -> bool:
        """Whether the pieces of a joint are held by its glue by now."""
        return "glue" in self.fixed.get(joint, set())

    def hangs_together(self, name: str, pieces: Mapping[Key, Workpiece]) -> dict[str, Solid]:
        """The pieces that are one with this one by now, itself too, where they stand in the whole."""
        return {other: self.placed(other, pieces) for other, number in self.sets.items() if number == self.sets[name]}

    def obstacles(self, name: str, pieces: Mapping[Key, Workpiece]) -> list[Solid]:
        """The pieces joined to one by now, as they stand in its own frame. What was only put together dry, and can be lifted out
        again, is."""
        if name not in self.placement.poses:
            return []
        back = self.placement.poses[name].inverse
        return [self.placed(other, pieces).posed(back) for other in self._not_lifted_out(name, pieces) if other != name]

    def _not_lifted_out(self, name: str, pieces: Mapping[Key, Workpiece]) -> list[str]:
        """The pieces of the set of one that stay when all that lies loose in it and has a way out is taken away."""
        names = [other for other, number in self.sets.items() if number == self.sets[name]]
        bodies = self._firm(names)
        known = "not-lifted-out", name, tuple(map(tuple, bodies)), self._as_they_are(names, pieces)
        return self.remembered.once(known, lambda: self._staying(name, bodies, pieces))

    def _staying(self, name: str, bodies: Sequence[Sequence[str]], pieces: Mapping[Key, Workpiece]) -> list[str]:
        left = {body[0]: body for body in bodies}
        loose = [first for first, body in left.items() if name not in body]
        if loose:
            apart = Disassembly(self._blocking([other for body in bodies for other in body], pieces), left)
            while (free := next((body for body in loose if body in left and apart.comes_away(body, [*left])), None)) is not None:
                left = {first: body for first, body in left.items() if first != free}
        return [other for body in left.values() for other in body]

    def _firm(self, names: Sequence[str]) -> list[list[str]]:
        """The pieces by the bodies that more than a dry fit has made of them."""
        own = {name: name for name in names}
        for joint, kinds in self.fixed.items():
            one, two = self.pieces_of(joint)
            if kinds - {"fit-dry"} and one in own and two in own:
                own = {name: own[one] if whose == own[two] else whose for name, whose in own.items()}
        return [[name for name in names if own[name] == whose] for whose in dict.fromkeys(own.values())]

    def look(self, joints: Sequence[str], pieces: Mapping[Key, Workpiece], dry: bool) -> Iterator[Looked]:
        """Whether the pieces of these joints have their size, fit without standing in each other, and can be brought home.
        `dry`: they are tried together with what has been tried before.
        """
        names = [name for joint in joints for name in self.pieces_of(joint) if name in self.placement.poses]
        if dry:
            about = {self.tried[name] for name in names}
            names += [name for name, number in self.tried.items() if number in about]
        names = list(dict.fromkeys(names))
        yield self._sizes(names, pieces)
        numbers = dict.fromkeys(self.sets[name] for name in names)
        groups = [[name for name, number in self.sets.items() if number == own] for own in numbers]
        clash = next(self._clashes(groups, pieces), None)
        yield Looked("clash", clash is None, clash or "no piece stands in another")
        if clash is None and len(groups) > 1:
            drawn_up = [name for each in self._drawn_clashes for name in each.pieces]
            now = self._as_they_are([*(name for group in groups for name in group), *drawn_up], pieces)
            known = "way-in", tuple(map(tuple, groups)), now
            yield self.remembered.once(known, lambda: self._way_in(groups, pieces))

    def _sizes(self, names: Sequence[str], pieces: Mapping[Key, Workpiece]) -> Looked:
        wrong = []
        for key in dict.fromkeys(self.keys[name] for name in names):
            piece = pieces[key]
            for axis in AXES:
                over = piece.size(axis) - sum(amount for face, amount in piece.left_on.items() if axis_of(face) == axis)
                if over > piece.part.block.size(axis) + SIZE:
                    wrong.append(
                        f"{piece.part.name} is {mm(over)} mm in {AXIS_WORDS[axis]}, drawn {mm(piece.part.block.size(axis))}"
                    )
        return Looked("piece", not wrong, "; ".join(wrong) or "every piece has its size")

    def _way_in(self, groups: Sequence[Sequence[str]], pieces: Mapping[Key, Workpiece]) -> Looked:
        """Taken apart again by the engine that planned it, on the pieces as they are by now: what can be taken apart can be put
        together."""
        blocking = self._blocking([name for group in groups for name in group], pieces)
        order = Disassembly(blocking, {group[0]: group for group in groups}).order()
        if isinstance(order, Locked):
            stuck = ", ".join(order.bodies)
            return Looked("way-in", False, f"nothing of {stuck} can be moved away from the rest: the last one cannot go in")
        how = "each can be brought to its place by straight moves"
        together = any(move.carried for move in order)
        return Looked("way-in", True, how + (", some of them put together before" if together else ""))

    def _blocking(self, names: Sequence[str], pieces: Mapping[Key, Workpiece]) -> Blocking:
        """What stops what among pieces as they are by now. Nothing is spared for being tilted in: that is not proved."""
        standing = {name: self._passing(name, pieces) for name in names}
        known = "blocking", tuple((name, id(solid)) for name, solid in standing.items())
        met = self.remembered.met
        return self.remembered.once(known, lambda: Blocking(standing, ways_to_move(standing.values()), only=self._led, known=met))

    def _passing(self, name: str, pieces: Mapping[Key, Workpiece]) -> Solid:
        """A piece as it goes in. A key is drawn into what it draws up; it is put in beside that, and pulls as it is driven."""
        drawn_up = [other for each in self._drawn_clashes if name in each.pieces for other in each.pieces]
        known = "passing", name, self._as_they_are([name, *drawn_up], pieces)
        return self.remembered.once(known, lambda: self._beside_what_it_draws(name, self.placed(name, pieces), pieces))

    def _beside_what_it_draws(self, name: str, solid: Solid, pieces: Mapping[Key, Workpiece]) -> Solid:
        if not any(is_key(joint) and joint.enters_piece == name for joint in self.job.joints.values()):
            return solid
        for clash in self._drawn_clashes:
            if name in clash.pieces:
                (other,) = set(clash.pieces) - {name}
                around = self.placed(other, pieces).bounds
                solid = solid - box(around.low, around.high)
        return solid

    def _clashes(self, groups: Sequence[Sequence[str]], pieces: Mapping[Key, Workpiece]) -> Iterator[str]:
        for one, other in combinations(groups, 2):
            known = "clash", tuple(one), tuple(other), self._as_they_are([*one, *other], pieces)
            clash = self.remembered.once(known, partial(self._clash, one, other, pieces))
            if clash is not None:
                yield clash

    def _clash(self, one: Sequence[str], other: Sequence[str], pieces: Mapping[Key, Workpiece]) -> str | None:
        first, second = (self._body(group, pieces) for group in (one, other))
        if not _near(first.bounds, second.bounds):
            return None
        shared = beyond_a_touch(first & second)
        if shared is None or beyond_a_touch(shared - self._drawn_tight) is None:
            return None
        return f"{one[0]} and {other[0]} stand in each other, {shared.volume:.0f} mm3"

    @cached_property
    def _drawn_clashes(self) -> tuple[Clash, ...]:
        """What pieces share in the drawing itself: keys that draw a joint up, driven fits."""
        return self.remembered.once(("drawn-clashes",), lambda: tuple(clashes(self.placement, standing_solids(self.placement))))

    @cached_property
    def _drawn_tight(self) -> Solid:
        return joined(clash.solid for clash in self._drawn_clashes)

    def try_dry(self, joints: Sequence[str]) -> None:
        """The pieces of these joints have been put together once, and come together again when more is tried on them."""
        for joint in joints:
            one, two = (self.tried[name] for name in self.pieces_of(joint))
            self.tried = {name: one if number == two else number for name, number in self.tried.items()}

    def close(self, joints: Sequence[str], kind: str) -> None:
        """The pieces of these joints are one body from now on; `kind` of work fixed them."""
        self.try_dry(joints)
        for joint in joints:
            self.fixed.setdefault(joint, set()).add(kind)
            one, two = (self.sets[name] for name in self.pieces_of(joint))
            self.sets = {name: one if number == two else number for name, number in self.sets.items()}

    def put_in(self, joints: Sequence[str], kind: str, pieces: Mapping[Key, Workpiece]) -> Iterator[Looked]:
        """Dowels, biscuits, wedges or splines go in: dowels and biscuits before the joint is closed, wedges while it is wet,
        splines when it has set."""
        for joint in joints:
            glued = "glue" in self.fixed.get(joint, set())
            if glued != (kind in ("wedge", "spline")):
                yield Looked("there", False, f"{joint} is {'glued up already' if glued else 'not closed yet'}")
        names = [name for joint in joints for name in self.pieces_of(joint) if name in self.placement.poses]
        standing = {name: self.placed(name, pieces) for name in names}
        yield from self.loose.look(joints, kind, standing)
        for joint in joints:
            self.fixed.setdefault(joint, set()).add(kind)

    def lacking(self, joints: Sequence[str], kind: str) -> Iterator[Looked]:
        """Whether a joint is glued before its dowels or biscuits are in, or left alone before its wedges are."""
        for joint in joints:
            wanted = {each for each in self.loose.needed(joint) - {"spline"} if (each == "wedge") == (kind == "cure")}
            wanted = {"spline"} & self.loose.needed(joint) if kind == "spline" else wanted
            missing = sorted(wanted - self.fixed.get(joint, set()))
            if missing:
                yield Looked("there", False, f"{joint} has no {' and no '.join(missing)} in it yet")

    def closed_already(self, joints: Sequence[str]) -> Iterator[Looked]:
        """Whether some joints that are glued now could no longer be opened for the glue: work before has made one body of their
        pieces."""
        firm = [joint for joint, kinds in self.fixed.items() if kinds & _HOLDS and joint not in joints]
        for joint in joints:
            one, other = self.pieces_of(joint)
            reached, more = {one}, True
            while more:
                ends = {piece for each in firm if reached & {*self.pieces_of(each)} for piece in self.pieces_of(each)}
                more = not ends <= reached
                reached |= ends
            if other in reached:
                yield Looked(
                    "joined", False, f"{one} and {other} are one body before {joint} is glued: no glue gets between them"
                )

    def _done(self, joint: Joint) -> bool:
        """Whether everything has been done that fixes a joint; one without glue or metal goes in with its neighbours."""
        kinds = {"key"} if is_key(joint) else {FIXINGS[fixing] for fixing in joint.fixed} - {"fit-dry"}
        done = self.fixed.get(joint.name, set())
        return bool(done) and kinds | self.loose.needed(joint.name) <= done

    def _gap(self, joint: str, pieces: Mapping[Key, Workpiece]) -> float:
        """How far the pieces of a joint are from each other, mm; 0 if one has no place."""
        one, other = self.pieces_of(joint)
        if one not in self.placement.poses or other not in self.placement.poses:
            return 0.0
        known = "gap", joint, self._as_they_are((one, other), pieces)
        return self.remembered.once(known, lambda: self.placed(one, pieces).gap(self.placed(other, pieces), 2 * MEETS))

    def finished(self, pieces: Mapping[Key, Workpiece]) -> Iterator[Looked]:
        """The whole at the end: every joint made, no piece in another."""
        open_joints = [name for name, joint in self.job.joints.items() if not self._done(joint)]
        says = f"not joined as drawn: {', '.join(open_joints)}" if open_joints else f"{len(self.fixed)} joints are made"
        yield Looked("joined", not open_joints, says)
        apart = [(name, gap) for name in self.job.joints if (gap := self._gap(name, pieces)) > MEETS]
        says = f"the pieces of {', '.join(name for name, _ in apart)} do not meet" if apart else "the pieces of every joint meet"
        yield Looked("fit", not apart, says)
        for group in self.placement.groups:
            clash = next(self._clashes([[name] for name in group], pieces), None)
            if len(group) > 1:
                yield Looked("clash", clash is None, clash or f"{len(group)} pieces stand together, none in another")


def _near(one: Bounds, other: Bounds) -> bool:
    return all(one.low[i] < other.high[i] and other.low[i] < one.high[i] for i in range(3))
