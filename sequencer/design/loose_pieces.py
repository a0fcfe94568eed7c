"""Loose pieces that hold joints: dowels across holes, biscuits across slots, wedges in kerfs and flared mortises. mm.

What is drawn is holes, slots, kerfs and flares; the loose pieces follow from them. Keys are parts of their own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist
from typing import Literal

from sequencer.design.bodies import Body
from sequencer.design.joining import seat_feature
from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, normal
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, Feature, mm
from sequencer.features.biscuit_slots import BISCUITS, ROOM, BiscuitSlots
from sequencer.features.dowel_holes import DowelHoles
from sequencer.features.mortise import FLARED, Mortise
from sequencer.features.tenon import Tenon
from sequencer.features.wedge_kerfs import WedgeKerfs
from sequencer.findings import Finding
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of
from sequencer.model.job import Job, Joint
from sequencer.model.plan import Bench
from sequencer.model.shapes import Bounds

MEETS = 1.0
"""Mouths of two holes are those of one dowel if they are no further apart than this, mm: what a class can bore to."""
PegKind = Literal["dowel", "biscuit"]
HOLES: dict[PegKind, tuple[type[Feature], str]] = {"dowel": (DowelHoles, "dowels"), "biscuit": (BiscuitSlots, "biscuits")}
"""Of each: the feature it goes into, and its word among the fixings of a joint."""


@dataclass(frozen=True)
class Mouth:
    """Where a hole or slot opens: its middle in the frame of the group, and what is drawn for it."""

    feature: DowelHoles | BiscuitSlots
    at: Point
    depth: float
    run: Axis


@dataclass(frozen=True)
class Peg:
    """A dowel or biscuit across a joint.

    size
        Diameter of a dowel, width of a biscuit.
    at
        The middle of its mouth on the entering piece, in the frame of the group; `across` is the way from there into the other.
    run
        The axis of the group a biscuit lies along.
    into
        How deep it sits in the entering piece and in the other: what is to spare below it is shared alike.
    """

    kind: PegKind
    length: float
    size: float
    at: Point
    across: Direction
    run: Axis
    depths: tuple[float, float]

    @property
    def whole(self) -> float:
        """Its size across the joint."""
        return self.length if self.kind == "dowel" else self.size

    @property
    def room(self) -> float:
        """How much deeper both holes are together."""
        return sum(self.depths) - self.whole

    @property
    def into(self) -> tuple[float, float]:
        one, other = (depth - self.room / 2 for depth in self.depths)
        return one, other


@dataclass(frozen=True)
class Wedges:
    """The wedges of one joint: as `width` as its tenon is thick, `thick` at the head, `length` long from there to the edge.

    kerfs
        The feature whose kerfs they are driven into; none where they go between the tenon and the ends of the mortise.
    """

    count: int
    length: float
    width: float
    thick: float
    tenon: Tenon
    mortise: Mortise
    kerfs: WedgeKerfs | None


def mouths(job: Job, placement: Placement, piece: str, face: FaceName | None, kind: PegKind) -> tuple[Mouth, ...]:
    """The holes or slots of a placed piece in a face of it."""
    if piece not in placement.poses or face is None:
        return ()
    own: Body = placement.bodies[piece]
    found = []
    for feature in own.part.features_of(own.piece.hand):
        if isinstance(feature, (DowelHoles, BiscuitSlots)) and isinstance(feature, HOLES[kind][0]):
            (opened,) = own.faces((feature.face,))
            found += [_mouth(placement, own, feature, face, box) for box in own.boxes(feature) if opened == face]
    return tuple(found)


def _mouth(placement: Placement, own: Body, feature: DowelHoles | BiscuitSlots, face: FaceName, box: Bounds) -> Mouth:
    middle = {axis: sum(box.span(axis)) / 2 for axis in AXES} | {axis_of(face): own.block.level(face)}
    pose = placement.poses[own.piece.name]
    along = feature.run(own.block) if isinstance(feature, BiscuitSlots) else axis_of(face)
    at = pose.to_world(Point(*(middle[axis] for axis in AXES)))
    return Mouth(feature, at, box.size(axis_of(face)), pose.direction(Direction(along, 1)).axis)


def pegs(job: Job, placement: Placement, joint: Joint, kind: PegKind) -> tuple[Peg, ...]:
    """The dowels or biscuits of a joint between two faces: one where a hole of each piece opens at the same place."""
    one, other = (mouths(job, placement, seat.piece, seat.face, kind) for seat in (joint.its, joint.seat))
    found = []
    for mouth in one:
        opposite = min(other, key=lambda each: dist(each.at, mouth.at), default=None)
        if opposite is not None and dist(opposite.at, mouth.at) <= MEETS and joint.its.face is not None:
            across = placement.poses[joint.enters_piece].direction(normal(joint.its.face))
            depths = mouth.depth, opposite.depth
            length, size = _sold(mouth.feature, min(depths))
            found.append(Peg(kind, length, size, mouth.at, across, mouth.run, depths))
    return tuple(found)


def _sold(feature: DowelHoles | BiscuitSlots, depth: float) -> tuple[float, float]:
    """Length and diameter of the dowel that is drawn; length and width of the widest biscuit the slots take."""
    if isinstance(feature, DowelHoles):
        return feature.dowel, feature.diameter
    fitting = [biscuit for biscuit in BISCUITS if biscuit[1] / 2 + ROOM <= depth + MEETS / 10]
    return max(fitting, key=lambda biscuit: biscuit[1]) if fitting else BISCUITS[0]


def wedges(job: Job, joint: Joint) -> Wedges | None:
    """The wedges of a joint that is to be wedged: none where the drawing has no tenon, or no flared mortise, for them."""
    tenon, mortise = seat_feature(job, joint.its), seat_feature(job, joint.seat)
    if "wedge" not in joint.fixed or not isinstance(tenon, Tenon) or not isinstance(mortise, Mortise) or not mortise.flare:
        return None
    own, taking = job.part_of(joint.enters_piece), job.part_of(joint.seat.piece)
    kerfs = next(
        (each for each in own.features.values() if isinstance(each, WedgeKerfs) and each.end == tenon.end and not each.only), None
    )
    deep = FLARED * taking.block.size(axis_of(mortise.face))
    if kerfs is None:
        return Wedges(2, deep, tenon.thickness, mortise.flare, tenon, mortise, None)
    thick = kerfs.width + 2 * mortise.flare / kerfs.count
    return Wedges(kerfs.count, kerfs.length, tenon.thickness, thick, tenon, mortise, kerfs)


def least_room(kind: PegKind, bench: Bench) -> float:
    """Room below a dowel or biscuit in both holes together, mm at least."""
    return {"dowel": bench.dowel_room, "biscuit": 2 * ROOM}[kind]


def loose_pieces_fit(job: Job, placement: Placement, bench: Bench) -> Iterator[Finding]:
    """Dowels and biscuits against both their holes, wedges against kerf and flare."""
    for joint in job.joints.values():
        yield from _pegs_fit(job, placement, joint, "dowel", bench)
        yield from _pegs_fit(job, placement, joint, "biscuit", bench)
        yield from _wedges_fit(job, joint)


def _pegs_fit(job: Job, placement: Placement, joint: Joint, kind: PegKind, bench: Bench) -> Iterator[Finding]:
    word = HOLES[kind][1]
    if word not in joint.fixed:
        return
    here = mouths(job, placement, joint.enters_piece, joint.its.face, kind)
    there = mouths(job, placement, joint.seat.piece, joint.seat.face, kind)
    # Of a long face other joints may have the holes that stand apart from the entering piece; of the entering piece all count.
    for mouth in here:
        nearest = min((dist(other.at, mouth.at) for other in there), default=None)
        if nearest is None or nearest > MEETS:
            off = f"the nearest is {mm(nearest)} mm off" if nearest is not None else "it has none there"
            yield Finding(
                "error",
                "holes-do-not-meet",
                joint.name,
                f"A {mouth.feature.title} of {joint.its.piece}/{mouth.feature.name} has none opposite in {joint.seat}: {off}.",
                f"The {kind} meets solid wood and keeps the joint open.",
                "Draw both from the faces that come flush, with the same distances.",
                joint.place,
                COMMON,
            )
            return
    for one, peg in zip(here, pegs(job, placement, joint, kind), strict=False):
        other = min(there, key=lambda each: dist(each.at, one.at))
        if isinstance(one.feature, DowelHoles) and isinstance(other.feature, DowelHoles):
            mine, theirs = (one.feature.diameter, one.feature.dowel), (other.feature.diameter, other.feature.dowel)
            if max(abs(a - b) for a, b in zip(mine, theirs, strict=True)) > NEAR:
                yield Finding(
                    "error",
                    "dowels-differ",
                    joint.name,
                    f"{joint.its.piece}/{one.feature.name} is for dowels of {mm(mine[0])} x {mm(mine[1])} mm, "
                    f"{joint.seat.piece}/{other.feature.name} for {mm(theirs[0])} x {mm(theirs[1])} mm.",
                    "One dowel goes into both.",
                    "Write the same `diameter` and `dowel` in both.",
                    joint.place,
                    COMMON,
                )
                return
        if peg.room < least_room(kind, bench) - NEAR:
            state = f"{mm(-peg.room)} mm too long" if peg.room < 0 else f"{mm(peg.room)} mm to spare"
            deep = f"{mm(peg.depths[0])} + {mm(peg.depths[1])} mm"
            yield Finding(
                "error" if peg.room < -NEAR else "warning",
                f"{kind}-too-long",
                joint.name,
                f"The {kind} is {mm(peg.whole)} mm across the joint, and its two holes are {deep} deep: {state}.",
                f"Glue and air caught under the {kind} keep the joint from closing.",
                f"Take dowels {mm(sum(peg.depths) - 2 * least_room(kind, bench))} mm long, or bore deeper."
                if kind == "dowel"
                else "Make the slots deeper.",
                joint.place,
                COMMON,
            )
            return
        thing = job.hardware.get(joint.hardware)
        wrong = kind == "dowel" and thing is not None and thing.length is not None and abs(thing.length - peg.length) > MEETS
        if wrong and thing is not None and thing.length is not None:
            yield Finding(
                "error",
                "dowels-differ",
                joint.name,
                f"{thing.name} are {mm(thing.length)} mm long, and the holes are drawn for dowels of {mm(peg.length)} mm.",
                "A longer dowel keeps the joint open, a shorter one holds little.",
                "Write the same length in both.",
                joint.place,
                COMMON,
            )
            return


def _wedges_fit(job: Job, joint: Joint) -> Iterator[Finding]:
    found = wedges(job, joint)
    if found is None:
        return
    taking = job.part_of(joint.seat.piece)
    if taking.grain not in (found.mortise.run(taking.block), axis_of(found.mortise.face)):
        yield Finding(
            "warning",
            "wedges-split",
            joint.name,
            f"The wedges press {taking.name} apart across its grain: the mortise runs across it.",
            "Wood splits along its grain when wedges are driven that press its side.",
            "Let the length of the mortise run with the grain, so that the wedges press on end grain, or leave the wedges out.",
            joint.place,
            COMMON,
        )
    if found.kerfs is None:
        return
    block = job.part_of(joint.enters_piece).block
    (low, high), _ = found.tenon.section(block)
    places = found.kerfs.places
    if places[0] < low + NEAR or places[-1] + found.kerfs.width > high - NEAR:
        yield Finding(
            "error",
            "kerf-beside-tenon",
            joint.name,
            f"The tenon lies from {mm(low)} to {mm(high)} mm of the width, and its kerfs from {mm(places[0])} to "
            f"{mm(places[-1] + found.kerfs.width)} mm.",
            "A kerf beside the tenon takes no wedge.",
            "Move the kerfs into the tenon (`from_bottom`, `apart`).",
            joint.place,
            COMMON,
        )
    elif found.kerfs.length >= found.tenon.length - NEAR:
        yield Finding(
            "error",
            "kerf-past-shoulder",
            joint.name,
            f"The kerfs are {mm(found.kerfs.length)} mm deep and the tenon {mm(found.tenon.length)} mm long.",
            "A tenon that is sawn to its shoulder or past it breaks off.",
            f"Make the kerfs {mm(found.tenon.length * 2 / 3)} mm deep, two thirds of the tenon.",
            joint.place,
            COMMON,
        )
