"""Boards that interlock: tails and pins, fingers and gaps, a dovetail end in its housing must be drawn alike. mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.design.joining import seat_feature
from sequencer.design.sums import COMMON
from sequencer.features.base import NEAR, mm
from sequencer.features.dovetail_end import DovetailEnd
from sequencer.features.dovetail_housing import DovetailHousing
from sequencer.features.dovetail_pins import DovetailPins
from sequencer.features.dovetailing import FLATTEST, SLOPE_SOURCE, STEEPEST, Dovetailing
from sequencer.features.dovetails import Dovetails
from sequencer.features.finger_joint import FingerJoint
from sequencer.features.interlocking import Interlocking
from sequencer.findings import Finding
from sequencer.model.job import Job, Joint, Part

ALIKE = 0.05
"""Figures of two boards closer than this are the same, mm."""

Differs = tuple[str, str, str]
"""What differs, and how it is on the entering piece and on the other."""


def corners_that_interlock(job: Job) -> Iterator[Finding]:
    """An error for each joint whose two halves are not drawn alike; of joints between the same features only the first."""
    said = set()
    for joint in job.joints.values():
        entering, taking = job.part_of(joint.its.piece), job.part_of(joint.seat.piece)
        key = (entering.name, joint.its.feature, taking.name, joint.seat.feature)
        if key in said:
            continue
        said.add(key)
        differs = list(_differs(job, joint, entering, taking))
        if differs:
            says = "; ".join(f"{what} {mine} and {theirs}" for what, mine, theirs in differs)
            yield Finding(
                "error",
                "does-not-interlock",
                joint.name,
                f"{joint.its} and {joint.seat} are not drawn alike: {says}.",
                "The joint does not close, or it is loose.",
                "Write both with the same figures.",
                joint.place,
                COMMON,
            )


def _differs(job: Job, joint: Joint, entering: Part, taking: Part) -> Iterator[Differs]:
    its, seat = seat_feature(job, joint.its), seat_feature(job, joint.seat)
    if isinstance(its, Dovetails) and isinstance(seat, DovetailPins):
        mine, theirs = its.spacing(entering.block), seat.spacing(taking.block)
        yield from _unlike("tails", its.tails, seat.tails)
        yield from _unlike("pins, mm,", mine.pin, theirs.pin)
        yield from _unlike("half pins, mm,", mine.half_pin, theirs.half_pin)
        yield from _unlike("width, mm,", entering.width, taking.width)
        yield from _unlike("a slope of 1 in", its.slope, seat.slope)
        yield from _unlike("tails so long and sockets so deep, mm:", its.length, seat.reach(taking.block))
    elif isinstance(its, FingerJoint) and isinstance(seat, FingerJoint):
        yield from _unlike("fingers, mm,", its.finger, seat.finger)
        if its.start == seat.start:
            yield "starts with a", its.start, f"a {seat.start}"
    elif isinstance(its, DovetailEnd) and isinstance(seat, DovetailHousing):
        yield from _unlike("a slope of 1 in", its.slope, seat.slope)
        yield from _unlike("length and depth, mm,", its.length, seat.depth)
        yield from _unlike("sides that slope:", len(its.faces), sum(1 for lean in seat.leans if lean))
    elif isinstance(its, Interlocking | DovetailEnd):
        yield "it is cut as", its.title, seat.title if seat is not None else "a plain face"
    elif isinstance(seat, Dovetailing | FingerJoint | DovetailHousing):
        yield "it is cut as", its.title if its is not None else "a plain face", seat.title


def _unlike(what: str, mine: float, theirs: float) -> Iterator[Differs]:
    if abs(mine - theirs) > ALIKE:
        yield what, mm(mine), mm(theirs)


def slopes_for_the_wood(job: Job) -> Iterator[Finding]:
    """A note on each dovetail that slopes as the other kind of wood wants it."""
    for part in job.parts.values():
        stock = job.stock.get(part.stock)
        usual = {"softwood": STEEPEST, "hardwood": FLATTEST}.get(stock.hardness) if stock is not None else None
        if stock is None or usual is None:
            continue
        for feature in part.features.values():
            if not isinstance(feature, Dovetails | DovetailEnd) or not STEEPEST <= feature.slope <= FLATTEST:
                continue
            if abs(feature.slope - usual) > 1 + NEAR:
                yield Finding(
                    "note",
                    "slope-for-the-wood",
                    f"{part.name}/{feature.name}",
                    f"The slope is 1 in {mm(feature.slope)}; in {stock.hardness} 1 in {mm(usual)} is usual.",
                    place=part.place_of(feature.name),
                    source=SLOPE_SOURCE,
                )
