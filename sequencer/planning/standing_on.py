"""Outside faces that a part fixed later stands on: block and plane no longer pass over them once it is there. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from sequencer.design.placing import place
from sequencer.design.poses import normal
from sequencer.model.frame import FACES, Axis, Block, FaceName, axis_of, others
from sequencer.model.job import Job
from sequencer.model.once import once_for_a_drawing
from sequencer.planning.groups import Group, after_finish
from sequencer.planning.inner_faces import between
from sequencer.solid.blocking import GIVES
from sequencer.solid.going_in import blocking_of
from sequencer.solid.solids import Solid
from sequencer.solid.sweeping import blocked

TALL = 150.0
"""A plane with the hand on it stands no higher over a face, mm: common practice, no source."""
BESIDE = 5.0
"""What leaves less of a face than this beside it stands at its edge, and is passed by, mm: common practice, no source."""
EVERYWHERE = 1e4
"""Further than anything of a job stands, mm."""

Spans = Mapping[Axis, tuple[float, float]]
Body = tuple[str, ...]
"""The pieces that are one already; a loose one by itself."""


@dataclass(frozen=True)
class StoodOn:
    """A face of a piece that is joined before, and the piece that a group of joints fixes on it."""

    group: str
    piece: str
    face: FaceName
    by: str


def stood_on(job: Job, groups: Sequence[Group]) -> Iterator[StoodOn]:
    """Every outside face of what is one piece that another comes to stand on as a group joins the two, with wood of the face on
    both sides of it, with the first such piece. What is still loose then is cleaned with the inside of the group; where that
    stays rough, faces are told that another loose piece stands in the midst of. What goes in when the finish is dry, or only lies
    there, comes after the cleaning."""
    whole: list[Body] = []
    for group in groups:
        own = dict.fromkeys((*group.pieces, *group.captured))
        meeting = [body for body in whole if not own.keys().isdisjoint(body)]
        bodies = (*((piece,) for piece in own if not any(piece in body for body in meeting)), *meeting)
        made = _made_of(group, bodies)
        if group.fixing != "fit-dry" and not after_finish(job, group):
            for body in bodies:
                joined = (each for each in next(each for each in made if body in each) if each is not body)
                asked = group.name, body, tuple(each for each in joined if len(body) > 1 or len(each) == 1)
                known = _known(job)
                if (len(body) > 1 or job.rough_inside) and asked not in known:
                    known[asked] = tuple(_on(job, *asked))
                yield from known.get(asked, ())
        whole = [*(body for body in whole if body not in meeting), *(tuple(chain(*each)) for each in made)]


def _made_of(group: Group, bodies: Sequence[Body]) -> list[tuple[Body, ...]]:
    """The bodies that the joints of a group make one, together; what it shuts in goes with the last."""
    made: list[tuple[Body, ...]] = [(body,) for body in bodies]
    pairs = [(joint.enters_piece, joint.seat.piece) for joint in group.joints]
    for pair in (*pairs, *((piece, pairs[-1][0]) for piece in group.captured)):
        of_it = [each for each in made if any(piece in body for body in each for piece in pair)]
        made = [*(each for each in made if each not in of_it), tuple(chain(*of_it))]
    return made


@once_for_a_drawing
def _known(job: Job) -> dict[tuple[str, Body, tuple[Body, ...]], tuple[StoodOn, ...]]:
    """What was found for a drawing: by the name of a group, the pieces that are one, and the bodies it joins to them."""
    return {}


def _on(job: Job, group: str, there: Body, joined: Sequence[Body]) -> Iterator[StoodOn]:
    placement, standing = place(job), blocking_of(job).standing
    new = [piece for each in joined for piece in each]
    for name in there:
        part = job.part_of(name)
        if name not in standing or part.section == "round" or job.stock[part.stock].form == "bought":
            continue
        body, back = placement.bodies[name], placement.poses[name].inverse
        near = {each: standing[each].posed(back) for each in standing if placement.together(name, each)}
        for face in FACES:
            over = _Over(body.block, body.faces((face,))[0], near[name])
            by = next((each for each in new if each in near and over.has_on_it(near[each], in_the_midst=len(there) == 1)), None)
            before = any(over.has_on_it(near[each]) for each in there if each in near and each != name)
            if by is None or before:
                continue
            # What is joined opposite by way of others is no way in: only what is loose, or stands on the face, is still away.
            away = [each for each in joined if len(each) == 1 < len(there) or any(over.touches(near[one]) for one in each)]
            gone = {name, *(piece for each in away for piece in each)}
            if over.is_open([solid for each, solid in near.items() if each not in gone]):
                yield StoodOn(group, name, face, by)


class _Over:
    """The room over a face of a piece, in the frame of the piece."""

    def __init__(self, block: Block, face: FaceName, own: Solid) -> None:
        self.face, self.across = face, others(axis_of(face))
        self.skin = own & between({axis_of(face): block.span(face, 0.0, GIVES)})
        """The wood right under the face, where the piece still has it."""
        self.foot = block.span(face, -2 * GIVES, -GIVES)
        self.front = {axis_of(face): block.span(face, -TALL, -GIVES)}

    def has_on_it(self, other: Solid, *, in_the_midst: bool = False) -> bool:
        """Whether a piece stands out over the face, with some of the face on both sides of it, along or across; in the midst of
        it: along and across."""
        if self.skin.empty or not self._is_before(other):
            return False
        face = {axis: self.skin.bounds.span(axis) for axis in self.across}
        foot = other & between({**face, **self.front})
        spans = [] if foot.empty else [(face[axis], foot.bounds.span(axis)) for axis in self.across]
        beside = [low + BESIDE < at and to < high - BESIDE for (low, high), (at, to) in spans]
        return any(beside) and (all(beside) or not in_the_midst)

    def touches(self, other: Solid) -> bool:
        """Whether a piece reaches to the face."""
        face = {axis: self.skin.bounds.span(axis) for axis in self.across}
        return not (other & between({**face, axis_of(self.face): self.foot})).empty

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
            yield between({**face, **self.front, axis: span})
