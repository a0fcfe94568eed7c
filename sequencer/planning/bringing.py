"""In which order and how the pieces of a closing are brought together, as the card tells it: one movement a line.

A place is named by its joint, as marking out and cutting called it: a child finds a mortise, not the edge of the drawing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sequencer.design.fixing import driven_into
from sequencer.design.placement import Placement
from sequencer.design.poses import Direction
from sequencer.design.standing import up_of
from sequencer.knowledge.wording import MOST_WORDS, words_in
from sequencer.model.frame import AXES, Point, axis_of
from sequencer.model.job import Job, Joint, Seat
from sequencer.planning.closing import Closing, inside, joints_of, pieces_in
from sequencer.planning.fastening import METAL
from sequencer.planning.going_together import NOUNS, face_from, label, own_face
from sequencer.planning.groups import laid_in
from sequencer.planning.mitred_corners import mitred
from sequencer.planning.offsets import offset_lines
from sequencer.planning.pressing import is_lap
from sequencer.reading.words import listed
from sequencer.solid.disassembly import Move

_SEATS = ("mortise", "hole", "groove", "housing", "rebate", "halving")
"""Kinds of seat that are called by their kind where the drawing's name for one does not say it: `high-short` is a mortise."""


@dataclass(frozen=True)
class Told:
    """A line of the card about bringing pieces together. `fixed`: nails or screws hold what it brings, before the next comes;
    `into_whole`: their points go into what stands joined already, which is too large to be turned over in a vice."""

    line: str
    fixed: bool = False
    into_whole: bool = False


def order_lines(job: Job, closing: Closing, placement: Placement) -> Iterator[Told]:
    """What stands first, then each move in the order it is made, one a line of at most twelve words; what comes from below when
    the work is turned."""
    if not closing.told:
        return
    first = closing.bodies[closing.told[0].onto[0]]
    group = next((each for each in placement.groups if first[0] in each), first)
    up = up_of(placement, group)
    beside = not any(_meet(joint, first, pieces_in(closing, closing.told[0].bodies)) for joint in closing.group.joints)
    standing = _body(job, first, first[0])
    yield Told(f"Stand {standing} on the bench." if beside else f"Start with {standing}.")
    whole = {piece for pieces in closing.bodies.values() if len(pieces) > 1 for piece in pieces}
    for move in closing.told:
        if _goes(move, up):
            yield Told("Turn the work over, its joints held shut.")
            up = up.reversed
        moved = _Moved(job, closing, move, placement, up)
        yield from moved.told(whole)
        whole |= {piece for joint in moved.screwed() for piece in (joint.enters_piece, joint.seat.piece)}


def alike(job: Job, first: Closing, second: Closing) -> tuple[str, ...]:
    """The pieces of a second closing in the order in which it takes them, where it is made as the first; else nothing."""
    one, other = _taken(first), _taken(second)
    if [job.part_of(piece) for piece in one] != [job.part_of(piece) for piece in other]:
        return ()
    return other


def _taken(closing: Closing) -> tuple[str, ...]:
    """The pieces of a closing in the order in which they come together."""
    if not closing.told:
        return ()
    bodies = [closing.told[0].onto[0], *(body for move in closing.told for body in (*move.onto, *move.bodies))]
    return tuple(piece for body in dict.fromkeys(bodies) for piece in closing.bodies[body])


def _meet(joint: Joint, some: Collection[str], others: Collection[str]) -> bool:
    """Whether a joint connects two sets of pieces."""
    one, other = joint.enters_piece, joint.seat.piece
    return (one in some and other in others) or (other in some and one in others)


def _goes(move: Move, way: Direction) -> bool:
    """Whether a move goes straight that way."""
    return tuple(move.way) == tuple(way.sign * float(axis == way.axis) for axis in AXES)


def _body(job: Job, pieces: Sequence[str], named: str) -> str:
    """What is moved as one: a piece, or what earlier glue-ups have joined, by its name in the drawing and one of its pieces."""
    if len(pieces) == 1:
        return label(job, named)
    names = {joint.assembly for joint in job.joints.values() if {joint.enters_piece, joint.seat.piece} <= {*pieces}}
    called = names.pop().rstrip("0123456789").strip("-").replace("-", " ") if len(names) == 1 else ""
    return f"the {called or 'joined parts'} with {label(job, named)}"


@dataclass(frozen=True)
class _Moved:
    """One move, and the words for it."""

    job: Job
    closing: Closing
    move: Move
    placement: Placement
    up: Direction

    def told(self, whole: Collection[str]) -> Iterator[Told]:
        """The sentence that says most of those that are short enough, else the shortest; then where the piece is put that no seat
        holds in place. `whole`: the pieces that others are joined to before."""
        said = list(dict.fromkeys(self._sentences()))
        short = (each for each in said if words_in(each) <= MOST_WORDS)
        moved, there = pieces_in(self.closing, self.move.bodies), pieces_in(self.closing, self.move.onto)
        lines = [next(short, min(said, key=words_in))]
        if len(moved) == 1:
            lines += offset_lines(self.job, next(iter(moved)), self._made(), there, self.placement)
        yield from map(Told, lines[:-1])
        screwed = self.screwed()
        into = {
            driven_into(self.job, bearing) for joint in screwed if (bearing := self.placement.bearing(joint.name)) is not None
        }
        # What is there is a whole once anything is fixed in it; the new piece is one if it comes joined.
        yield Told(lines[-1], bool(screwed), bool(into & {*whole} or (whole and into & there)))

    def screwed(self) -> list[Joint]:
        """The joints it makes that nails or screws hold."""
        return [joint for joint in self._made() if {*METAL.values()} & {*joint.fixed}]

    def _made(self) -> list[Joint]:
        """The joints it makes."""
        moved, there = pieces_in(self.closing, self.move.bodies), pieces_in(self.closing, self.move.onto)
        return [
            joint
            for joint in self.closing.group.joints
            if inside(joint, moved | there) and not inside(joint, moved) and not inside(joint, there)
        ]

    def _sentences(self) -> Iterator[str]:
        """The move in words, the sentence that says most first."""
        met, what = self._met()
        if not met:
            yield f"Stand {what} beside it."
            return
        others = list(met)
        if sorted(abs(part) for part in self.move.way) != [0.0, 0.0, 1.0]:
            yield f"Push {what} onto {label(self.job, others[0])}, along the slope."
            return
        if all(mitred(self.job, joint) for joint in met.values()):
            yield f"Push {what} against {self._all(others)}, mitre to mitre."
            yield f"Push {what} against {self._all(others)}."
            return
        index = next(number for number, part in enumerate(self.move.way) if part)
        way = Direction(AXES[index], 1 if self.move.way[index] > 0 else -1)
        bearings = {other: self.placement.bearing(joint.name) for other, joint in met.items()}
        ahead = [other for other in others if (bearing := bearings[other]) is None or bearing.looks.axis == way.axis]
        beside = [other for other in others if other not in ahead]
        down = "down " if way == self.up.reversed else ""
        if not ahead:
            yield from self._guided(what, beside, met, down)
            return
        ahead.sort(key=lambda other: way.sign * sum(self.placement.span(other, way.axis)))
        last = ahead[-1]
        if passed := [other for other in ahead[:-1] if self._through(met[other]) and self._apart(other, last, way)]:
            yield f"Push {what} {down}through {self._all(passed)} into {label(self.job, last)}."
        elif down and not beside and all(is_lap(met[other]) for other in ahead):
            laps = f"into the lap{'s' if len(ahead) > 1 else ''} of"
            yield f"Push {what} {down}{laps} {self._all(sorted(ahead))}."
            yield f"Push {what} {down}{laps} {self._all(sorted(ahead), short=True)}."
        elif len(beside) > 1:
            guides = self._all(beside)
            onto = f"into {label(self.job, last)}" if self._enters(met[last]) else f"onto {self._all(ahead)}"
            slides = all(self._enters(met[other]) for other in beside) and len(ahead) == 1 and self._enters(met[last])
            yield f"{'Slide' if slides else 'Push'} {what} {down}{onto}, between {guides}."
            yield f"Push {what} {down}{onto}, between {self._all(beside, short=True)}."
        elif len(ahead) + len(beside) > 1:
            every = sorted((*ahead, *beside), key=lambda other: label(self.job, other))
            yield f"Push {what} {down}onto {self._all(every)}."
            yield f"Push {what} {down}onto {self._all(every, short=True)}."
        else:
            yield from self._brought(what, last, met[last], down)

    def _met(self) -> tuple[dict[str, Joint], str]:
        """The pieces that are there already by the joint that meets them, in the order of the drawing; and what is moved."""
        moved = [piece for body in self.move.bodies for piece in self.closing.bodies[body]]
        there = {piece for body in self.move.onto for piece in self.closing.bodies[body]}
        met: dict[str, Joint] = {}
        own = moved[0]
        for each in self.closing.group.joints:
            for mine, other in ((each.enters_piece, each.seat.piece), (each.seat.piece, each.enters_piece)):
                if mine in moved and other in there:
                    own = mine if not met else own
                    met.setdefault(other, each)
        return met, _body(self.job, moved, own)

    def _guided(self, what: str, beside: Sequence[str], met: Mapping[str, Joint], down: str) -> Iterator[str]:
        """What only slides along others: into its seat where there is one, else from which side."""
        if len(beside) == 1:
            yield from self._brought(what, beside[0], met[beside[0]], down)
            return
        seats = [other for other in beside if self._enters(met[other])]
        slides = len(seats) > 1
        guides = seats if slides else beside
        doing = f"{'Slide' if slides else 'Push'} {what} {down}between"
        if not down:
            side = self._side(guides[0])
            yield f"{doing} {self._all(guides)}, from the {side}."
            yield f"{doing} {self._all(guides, short=True)}, from the {side}."
        yield f"{doing} {self._all(guides)}."
        yield f"{doing} {self._all(guides, short=True)}."

    def _brought(self, what: str, other: str, joint: Joint, down: str) -> Iterator[str]:
        """What meets one piece only: pushed to its place there, or laid in where it is to lie loose."""
        if laid_in(self.job, joint):
            yield f"Lay {what} in the {self._called(joint.seat)}, from the {self._side(other)}."
            yield f"Lay {what} in the {self._called(joint.seat)}."
            return
        for where in self._places(other, joint):
            yield f"Push {what} {down}{where}."

    def _places(self, other: str, joint: Joint) -> Iterator[str]:
        """Where on another piece the moved one goes, that which says most first."""
        name = label(self.job, other)
        if joint.seat.piece == other:
            if joint.seat.feature:
                yield f"into the {self._called(joint.seat)} of {name}"
                yield f"into {name}"
                return
            yield f"onto the {self._seat_face(other, joint)} of {name}"
        elif joint.crossing and joint.its.feature:
            yield f"into the {self._called(joint.its)} of {name}"
            yield f"into {name}"
            return
        elif self._has_other_end(other, joint):
            yield f"onto the other {NOUNS[axis_of(own_face(self.placement, other, self.move.way))]} of {name}"
        elif joint.its.feature:
            yield f"onto the {self._called(joint.its)} of {name}"
        else:
            yield f"onto the {self._side(other)} of {name}"
        yield f"onto {name}"

    def _seat_face(self, other: str, joint: Joint) -> str:
        """The face of another piece that the moved one comes to lie on."""
        bearing = self.placement.bearing(joint.name)
        if bearing is None:
            return self._side(other)
        towards = dict.fromkeys(AXES, 0.0) | {bearing.looks.axis: -float(bearing.looks.sign)}
        return face_from(self.placement, other, Point(*(towards[axis] for axis in AXES)))

    def _has_other_end(self, other: str, joint: Joint) -> bool:
        """Whether a piece that enters the moved one has been put into another with its opposite end before."""
        bearing = self.placement.bearing(joint.name)
        there = pieces_in(self.closing, self.move.onto)
        earlier = (each for each in joints_of(self.closing) if each.enters_piece == other and each.seat.piece in there)
        looks = [found.looks for each in earlier if (found := self.placement.bearing(each.name)) is not None]
        return bearing is not None and bearing.looks.reversed in looks

    def _called(self, seat: Seat) -> str:
        """A feature as it was marked out and cut, with its kind where its name does not say it."""
        name = seat.feature.replace("-", " ").replace("_", " ")
        kind = self.job.part_of(seat.piece).features[seat.feature].kind
        said = kind in name or (kind == "halving" and "lap" in name)
        return f"{name} {kind}" if kind in _SEATS and not said else name

    def _side(self, piece: str) -> str:
        return face_from(self.placement, piece, self.move.way)

    def _enters(self, joint: Joint) -> bool:
        """Whether what is moved goes into a seat that is cut in the other piece."""
        return joint.enters_piece in pieces_in(self.closing, self.move.bodies) and bool(joint.seat.feature)

    def _through(self, joint: Joint) -> bool:
        """Whether what enters can pass right through its seat."""
        feature = self.job.part_of(joint.seat.piece).features.get(joint.seat.feature)
        return feature is not None and feature.kind == "hole"

    def _apart(self, one: str, other: str, way: Direction) -> bool:
        """Whether one piece lies wholly before another on a way."""
        first, second = self.placement.span(one, way.axis), self.placement.span(other, way.axis)
        return first[1] <= second[0] if way.sign > 0 else first[0] >= second[1]

    def _all(self, pieces: Sequence[str], *, short: bool = False) -> str:
        """Pieces as the card lists them; `each B` where many are all of a part, in short `both A` too."""
        parts = dict.fromkeys(self.job.part_of(piece).name for piece in pieces)
        said: list[str] = []
        for part in parts:
            own = [piece for piece in pieces if self.job.part_of(piece).name == part]
            count = self.job.parts[part].count
            whole = len(own) == count and count > (1 if short else 2)
            many = "both" if count == 2 else "each"
            said += [f"{many} {self.job.parts[part].letter}"] if whole else [label(self.job, piece) for piece in own]
        return listed(said)
