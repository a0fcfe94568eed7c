"""Outside faces that a part fixed later stands on: block and plane no longer pass over them once it is there. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sequencer.design.placing import place
from sequencer.design.poses import normal
from sequencer.model.frame import AXES, FACES, Axis, Block, FaceName, axis_of, others
from sequencer.model.job import Job
from sequencer.model.once import once_for_a_drawing
from sequencer.planning.groups import Group, after_finish
from sequencer.solid.blocking import GIVES
from sequencer.solid.going_in import blocking_of
from sequencer.solid.solids import Solid, box
from sequencer.solid.sweeping import blocked

TALL = 150.0
"""A plane with the hand on it stands no higher over a face, mm: common practice, no source."""
BESIDE = 5.0
"""What leaves less of a face than this beside it stands at its edge, and is passed by, mm: common practice, no source."""
EVERYWHERE = 1e4
"""Further than anything of a job stands, mm."""

Spans = Mapping[Axis, tuple[float, float]]


@dataclass(frozen=True)
class StoodOn:
    """A face of a piece that is joined before, and the piece that a group of joints fixes on it."""

    group: str
    piece: str
    face: FaceName
    by: str


def stood_on(job: Job, groups: Sequence[Group]) -> Iterator[StoodOn]:
    """Every outside face of what is joined that a piece of a later group comes to stand on, with wood of the face on both sides
    of it, with the first such piece. What goes in when the finish is dry, or only lies there, comes after the cleaning."""
    there: list[str] = []
    for group in groups:
        new = [piece for piece in dict.fromkeys((*group.pieces, *group.captured)) if piece not in there]
        if group.fixing != "fit-dry" and not after_finish(job, group):
            asked = group.name, tuple(there), tuple(new)
            known = _known(job)
            if asked not in known:
                known[asked] = tuple(_on(job, group, there, new))
            yield from known[asked]
        there += new


@once_for_a_drawing
def _known(job: Job) -> dict[tuple[str, tuple[str, ...], tuple[str, ...]], tuple[StoodOn, ...]]:
    """What was found for a drawing: by the name of a group, the pieces there before, and those it brings."""
    return {}


def _on(job: Job, group: Group, there: Sequence[str], new: Sequence[str]) -> Iterator[StoodOn]:
    placement, standing = place(job), blocking_of(job).standing
    for name in there:
        part = job.part_of(name)
        if name not in standing or part.section == "round" or job.stock[part.stock].form == "bought":
            continue
        body, back = placement.bodies[name], placement.poses[name].inverse
        near = {each: standing[each].posed(back) for each in standing if placement.together(name, each)}
        rest = [solid for each, solid in near.items() if each != name and each not in new]
        for face in FACES:
            over = _Over(body.block, body.faces((face,))[0], near[name])
            by = next((each for each in new if each in near and over.has_on_it(near[each])), None)
            before = any(over.has_on_it(near[each]) for each in there if each in near and each != name)
            if by is not None and not before and over.is_open(rest):
                yield StoodOn(group.name, name, face, by)


class _Over:
    """The room over a face of a piece, in the frame of the piece."""

    def __init__(self, block: Block, face: FaceName, own: Solid) -> None:
        self.face, self.across = face, others(axis_of(face))
        everywhere = dict.fromkeys(AXES, (-EVERYWHERE, EVERYWHERE))
        self.skin = own & _between({**everywhere, axis_of(face): block.span(face, 0.0, GIVES)})
        """The wood right under the face, where the piece still has it."""
        self.front = {axis_of(face): block.span(face, -TALL, -GIVES)}

    def has_on_it(self, other: Solid) -> bool:
        """Whether a piece stands out over the face, with some of the face on both sides of it, along or across."""
        if self.skin.empty or not self._is_before(other):
            return False
        face = {axis: self.skin.bounds.span(axis) for axis in self.across}
        foot = other & _between({**face, **self.front})
        spans = [] if foot.empty else [(face[axis], foot.bounds.span(axis)) for axis in self.across]
        return any(low + BESIDE < at and to < high - BESIDE for (low, high), (at, to) in spans)

    def _is_before(self, other: Solid) -> bool:
        """Whether the box round a piece reaches before the face: quick to tell, and mostly it does not."""
        (axis, (low, high)), bounds = next(iter(self.front.items())), other.bounds
        spans = [(bounds.span(axis), (low, high)), *((bounds.span(each), self.skin.bounds.span(each)) for each in self.across)]
        return all(one[0] < two[1] and two[0] < one[1] for one, two in spans)

    def is_open(self, rest: Sequence[Solid]) -> bool:
        """Whether nothing of the finished thing but what is new stands before the face, however far off, and it is in no recess:
        what lies between two that stand out beside it is cleaned before they are joined."""
        return blocked(self.skin, rest, normal(self.face), EVERYWHERE) is None and not any(
            all(any(not (solid & beside).empty for solid in rest) for beside in self._beside(axis)) for axis in self.across
        )

    def _beside(self, axis: Axis) -> Iterator[Solid]:
        """The room in front on either side of the face along an axis."""
        face = {each: self.skin.bounds.span(each) for each in self.across}
        low, high = face[axis]
        for span in ((low - BESIDE, low), (high, high + BESIDE)):
            yield _between({**face, **self.front, axis: span})


def _between(spans: Spans) -> Solid:
    return box([spans[axis][0] for axis in AXES], [spans[axis][1] for axis in AXES])
