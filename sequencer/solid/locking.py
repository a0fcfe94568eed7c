"""Pieces that lock each other in words: which they are, and what stops each on every way that was tried. And the whole held
against it: what cannot be taken apart in any order was never put together. mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from sequencer.design.placement import Placement
from sequencer.design.poses import Direction, face_towards
from sequencer.design.sums import COMMON
from sequencer.findings import Finding
from sequencer.model.frame import AXES, Point, mirrored
from sequencer.model.job import Job
from sequencer.reading.words import listed
from sequencer.solid.blocking import ALONG_AXES, Blocking
from sequencer.solid.disassembly import Disassembly, Locked
from sequencer.solid.going_in import blocking_of
from sequencer.solid.whereabouts import face_word

MOST_SAID = 6
"""Of more pieces than this it is not said one by one what stops each."""


def locked_whole(job: Job, placement: Placement, blocking: Blocking | None = None) -> tuple[Locked, ...]:
    """The pieces of each group of the placement that lock each other, whatever the order; nothing where all go together."""
    stops = blocking or blocking_of(job)
    meet = {frozenset((joint.enters_piece, joint.seat.piece)) for joint in job.joints.values()}
    orders = (Disassembly(stops, {piece: (piece,) for piece in group}, meet).order() for group in placement.groups)
    return tuple(order for order in orders if isinstance(order, Locked))


def locked_findings(job: Job, placement: Placement) -> Iterator[Finding]:
    """An error for pieces that lock each other in any order."""
    for locked in locked_whole(job, placement):
        names = set(locked.bodies)
        joint = next((each for each in job.joints.values() if {each.enters_piece, each.seat.piece} <= names), None)
        yield Finding(
            "error",
            "locked",
            locked.bodies[0],
            f"{listed(locked.bodies)} lock each other: in no order can they be put together by straight moves.",
            " ".join(stops_said(locked, placement)),
            "Open one of the seats at an end, or make one of the pieces in two. `sequencer show` with `--locked` draws them.",
            joint.place if joint is not None else None,
            COMMON,
        )


def stops_said(locked: Locked, placement: Placement, named: Mapping[str, str] = MappingProxyType({})) -> Iterator[str]:
    """A sentence for each body: what stops it on each way along its axes, and that the slopes were tried too. `named`: words for
    bodies that are more than the piece they are called by."""

    def words(bodies: Sequence[str]) -> str:
        return listed([named.get(each, each) for each in bodies])

    for body in locked.bodies[:MOST_SAID]:
        by: dict[tuple[str, ...], list[str]] = {}
        for stop in locked.stops:
            if stop.body == body and stop.way in ALONG_AXES:
                by.setdefault(stop.by, []).append(_towards(placement, body, stop.way))
        said = [f"towards its {listed(faces)} by {words(others)}" for others, faces in by.items() if others]
        if len(by) == 1:
            said = [f"on every way by {words(next(iter(by)))}"]
        yield f"{_started(words([body]))} is stopped {', '.join(said)}."
    oblique = len({stop.way for stop in locked.stops}) - len(ALONG_AXES)
    if oblique > 0:
        yield f"{oblique} ways along and square to slopes were tried as well."


def _started(words: str) -> str:
    """Words that begin a sentence; the name of a piece stays as it is typed."""
    return f"The{words.removeprefix('the')}" if words.startswith("the ") else words


def _towards(placement: Placement, piece: str, way: Point) -> str:
    """A way along an axis as the face of a piece that looks that way, by the part's own name for it."""
    index = next(number for number, part in enumerate(way) if part)
    body = placement.bodies[piece]
    face = face_towards(placement.poses[piece].own(Direction(AXES[index], 1 if way[index] > 0 else -1)))
    return face_word(body.part, mirrored(face) if body.mirrored else face)
