"""A part as it lies in the stick it shares with others: with the wood of the parts before it. In the part's own frame, mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sequencer.features.base import NEAR
from sequencer.model.frame import FaceName
from sequencer.model.job import Job
from sequencer.model.stock_lists import Strip
from sequencer.paper.scene import Scene, Size
from sequencer.paper.set_ups.sizing import LEFT_ON
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid, box, joined, shape_solid

FAR = 10_000.0
"""Wider and thicker than any stick, mm."""


def first_of(strip: Strip, part: str) -> float:
    """How far from the first piece of the strip the first piece of a part begins."""
    return next(piece.start for piece in strip.pieces if piece.part == part) - strip.trim


def with_wood_before(piece: Workpiece, strip: Strip, job: Job, done: Mapping[str, set[str]]) -> Workpiece:
    """The piece with as much of the stick before its first end as lies there; `done`: by part the features that are cut. What
    runs right along the stick is the same there as behind the part, where it is taken from."""
    along, length = first_of(strip, piece.part.name), piece.part.block.length
    if along < NEAR or "left" not in piece.made:
        return piece
    stretch = piece.body & box((length + NEAR, -FAR, -FAR), (length + NEAR + along, FAR, FAR))
    before = stretch.moved(x=-(length + NEAR + along))
    cut = list(_cut_before(strip, along, job, done))
    return replace(piece, body=joined([piece.body, before - joined(cut) if cut else before]))


def left_before(strip: Strip, part: str) -> dict[FaceName, float]:
    """What of the stick lies before the line that the sizes of a part are measured from."""
    along = first_of(strip, part)
    return {"left": along} if along > NEAR else {}


def told_by_line(scene: Scene, strip: Strip, part: str) -> Scene:
    """The scene with the wood before the part said to reach to the part's line: it is no waste that is left on."""
    called = next(piece.called for piece in strip.pieces if piece.part == part)

    def told(size: Size) -> Size:
        number, _, words = size.label.partition(" ")
        return replace(size, label=f"{number} to {called}") if words == LEFT_ON else size

    return replace(scene, sizes=tuple(map(told, scene.sizes)))


def _cut_before(strip: Strip, along: float, job: Job, done: Mapping[str, set[str]]) -> list[Solid]:
    """What is cut into the pieces that lie before, where the part at `along` has its first end at 0."""
    found = []
    for piece in strip.pieces:
        start = piece.start - strip.trim - along
        part = job.parts[piece.part]
        if start >= -NEAR:
            continue
        for feature in part.features.values():
            if feature.name in done.get(part.name, set()) and not feature.lengthwise(part.block):
                found += [shape_solid(shape).moved(x=start) for shape in feature.removes(part.block)]
    return found
