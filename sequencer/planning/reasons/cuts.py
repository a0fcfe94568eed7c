"""The cuts of one part as its reasons see them: boxes round what they remove, where the tool comes from, and which faces they are
measured from, held by or take away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sequencer.features.base import Feature
from sequencer.features.dovetailing import Dovetailing
from sequencer.model.frame import AXES, FACES, Axis, FaceName, Point, axis_of, opposite, others
from sequencer.model.job import Part
from sequencer.model.marks import Tool, measured_faces
from sequencer.model.plan import Bench
from sequencer.model.shapes import Bounds, bounds
from sequencer.planning.shapes_left import TOUCH, faces_lost, meet
from sequencer.planning.ways import Way
from sequencer.planning.work import Work, words


@dataclass(frozen=True)
class Cut:
    """A feature's work with the boxes round its shapes and whether it is done in the long, where the cutter comes from,
    and whether no motor drives it."""

    work: Work
    feature: Feature
    boxes: tuple[Bounds, ...]
    long: bool
    tool: Tool
    by_hand: bool

    @property
    def name(self) -> str:
        return words(self.feature.name)


def cut_of(work: Work, part: Part, ways: Mapping[str, Way]) -> Cut:
    """A feature's work as reasons look at it; its way must have been chosen."""
    assert work.drawn is not None
    boxes = tuple(bounds(shape) for shape in work.drawn.removes(part.block))
    way = ways[work.id]
    return Cut(work, work.drawn, boxes, way.in_the_long, way.tool, way.by_hand)


def runs_out(cut: Cut, ending: Dovetailing, part: Part) -> bool:
    """Whether a cut along a part comes out at the end where tails or pins are."""
    return any(reaches(box, axis_of(ending.end), part.block.level(ending.end)) for box in cut.boxes)


def datums(feature: Feature, part: Part) -> set[FaceName]:
    """The true faces a shape is worked from, but for one that it takes away itself."""
    return {part.face_side, part.face_edge} - set(feature.spoils())


def taken_along(first: Cut, second: Cut, part: Part, face: FaceName, bench: Bench) -> bool:
    """Whether a cut leaves too little of a long face along another one for that to be measured from it any more. Over an end a
    rule is hooked: any of it will do."""
    if axis_of(face) == "x":
        return False
    opened = axis_of(first.feature.opens()[0])
    over = [axis for axis in others(axis_of(face)) if axis != opened] or list(others(axis_of(face)))
    level = part.block.level(face)
    # Each hole is measured by itself; of another cut the whole run counts.
    runs = first.boxes if first.feature.nature == "bored" else (_around(first.boxes),)
    for box in runs:
        run = _longest(box, over)
        rest = next(axis for axis in AXES if axis not in (axis_of(face), run))
        low, high = box.span(run)
        taken = sum(
            max(0.0, min(high, other.span(run)[1]) - max(low, other.span(run)[0]))
            for other in second.boxes
            if reaches(other, axis_of(face), level)
            and other.span(rest)[0] <= TOUCH
            and other.span(rest)[1] >= part.block.size(rest) - TOUCH
        )
        if taken > (1 - bench.fence_share) * (high - low):
            return True
    return False


def measured_no_more(first: Cut, second: Cut, part: Part, face: FaceName, bench: Bench) -> bool:
    """Whether a shape leaves too little of a face for a cut to be measured from it: of an end nothing, of a long face too little
    along the cut or too little of it all. The face that the cut opens is only its own depth's: that is there round its mouth."""
    if face == first.feature.opens()[0] or face not in measured_faces(first.feature.marks(part.block)):
        return False
    if axis_of(face) != "x":
        return face in faces_lost([second.feature], part, first.feature, bench) or taken_along(first, second, part, face, bench)
    run = max(others("x"), key=part.block.size)
    taken = sum(box.span(run)[1] - box.span(run)[0] for box in second.boxes if reaches(box, "x", part.block.level(face)))
    return taken >= part.block.size(run) - TOUCH


def held_no_more(first: Cut, second: Cut, part: Part, bench: Bench) -> list[FaceName]:
    """The faces a part is held by for a cut, the one that is pressed down among them, of which a shape leaves too little."""
    lost = faces_lost([second.feature], part, first.feature, bench)
    return [face for face in FACES if face in lost and face in {first.feature.opens()[0], *held_by(first, part, bench)}]


def _longest(box: Bounds, over: Iterable[Axis]) -> Axis:
    return max(over, key=lambda axis: box.span(axis)[1] - box.span(axis)[0])


def _around(boxes: tuple[Bounds, ...]) -> Bounds:
    return Bounds(
        Point(*(min(box.span(axis)[0] for box in boxes) for axis in AXES)),
        Point(*(max(box.span(axis)[1] for box in boxes) for axis in AXES)),
    )


def face_called(face: FaceName) -> str:
    """A face as a sentence names it: `left end`, `top edge`, `inside face`."""
    return f"{face} {({'x': 'end', 'y': 'edge', 'z': 'face'})[axis_of(face)]}"


def verb(name: str) -> str:
    """The verb for a feature's name: screws are, a hole is."""
    return "are" if name.endswith("s") and not name.endswith("ss") else "is"


def held_by(cut: Cut, part: Part, bench: Bench) -> set[FaceName]:
    """Faces a part rests on or is gripped by while a cut is made from its first open face: those it is measured from press
    the opposite ones against something; of what a vice takes only one way, the two faces that it grips."""
    rests, gripped = opposite(cut.feature.opens()[0]), {opposite(face) for face in cut.feature.measured_from()}
    ways = [axis for axis in others(axis_of(rests)) if part.block.size(axis) <= bench.vice_opens]
    if len(ways) == 1 and cut.tool not in ("below", "fence"):
        gripped |= {face for face in FACES if axis_of(face) == ways[0]}
    return {rests} | gripped


def sawn_through(cut: Cut) -> bool:
    """A slot or opening that a saw makes right through: it is held anywhere, so no shape takes its holding away."""
    return cut.tool == "beside" and cut.work.figures.get("feature.through") == 1.0


def shared_exit(first: Cut, second: Cut, part: Part) -> FaceName | None:
    """A face along the part at which the first cut comes out of the wood where the second takes wood away."""
    for face in FACES:
        axis = axis_of(face)
        if axis == part.grain:
            continue
        level = part.block.level(face)
        for a in first.boxes:
            for b in second.boxes:
                if face not in first.feature.opens() and reaches(a, axis, level) and reaches(b, axis, level) and meet(a, b):
                    return face
    return None


def reaches(box: Bounds, axis: Axis, level: float) -> bool:
    low, high = box.span(axis)
    return low - TOUCH <= level <= high + TOUCH
