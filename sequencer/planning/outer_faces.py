"""Outer faces of what is joined, which a plane runs over, and whether they are walls with nothing behind them. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from sequencer.design.placing import place
from sequencer.design.poses import face_towards, normal
from sequencer.model.frame import FACES, Axis, FaceName, axis_of, mirrored, opposite, others, sign_of
from sequencer.model.job import Job, Part
from sequencer.model.once import once_for_a_drawing
from sequencer.planning.inner_faces import BESIDE, CLOSE, CORNER, NARROW, between, covers, in_a_row, inner_by, told_of
from sequencer.planning.work import Work
from sequencer.planning.work_words import face_of
from sequencer.solid.blocking import GIVES
from sequencer.solid.going_in import blocking_of
from sequencer.solid.solids import Solid

MOST_LEFT = 0.5
"""A face of which curves, tapers and cuts have taken more than this share is none for the plane: common practice, no source."""
BOARD = 40.0
"""So much room a stout board and what it is cramped by take inside a wall, mm: common practice, no source."""
SHUT = 0.5
"""What covers this share of the way in shuts it."""
FAR = 1e4


def outer_told(job: Job, work: Work) -> Iterator[str]:
    """Which faces of each part are planed when all is joined; parts with the same ones in one sentence."""
    said: dict[str, list[str]] = {}
    for name, faces in outer_faces(job, [name for name, _ in work.parts]).items():
        part = job.parts[name]
        said.setdefault(in_a_row([f"the {face_of(part, face)}" for face in faces]), []).append(part.letter)
    return told_of(said, "Plane")


@once_for_a_drawing
def levelled(job: Job) -> tuple[tuple[str, FaceName], ...]:
    """Outer faces, by part, that are level with an inner face beside them: no plane is to run over what was sanded before glue,
    so that they are cleaned with it."""
    parts = [name for name, part in job.parts.items() if job.stock[part.stock].form != "bought"]
    inner, around = _inner(job, parts), _Around(job, parts)
    return tuple(
        (name, face)
        for name, faces in _open_faces(job, parts).items()
        for face in faces
        if any(around.is_beside(job, piece, face, inner) for piece in around.pieces if job.part_of(piece).name == name)
    )


def outer_faces(job: Job, parts: Collection[str]) -> Mapping[str, tuple[FaceName, ...]]:
    """By part the long faces that a plane runs over when some parts are joined."""
    cleaned = levelled(job)
    found = {
        name: tuple(face for face in faces if (name, face) not in cleaned) for name, faces in _open_faces(job, parts).items()
    }
    return {name: faces for name, faces in found.items() if faces}


def _open_faces(job: Job, parts: Collection[str]) -> Mapping[str, tuple[FaceName, ...]]:
    """By part the long faces that nothing stands up from or lies against when some parts are joined, as far as they are flat."""
    inner, around = _inner(job, parts), _Around(job, parts)
    found = {}
    for name in parts:
        part = job.parts[name]
        pieces = [each for each in around.pieces if job.part_of(each) is part]
        long = [face for face in FACES if axis_of(face) != part.grain and face not in inner.get(name, ())]
        faces = [face for face in long if pieces and all(around.is_open(each, part, face) for each in pieces)]
        if faces and part.section != "round":
            found[name] = tuple(sorted(faces, key=lambda face: (axis_of(face) != "z", face != "outside", face)))
    return found


def hollow_walls(job: Job, parts: Collection[str]) -> int:
    """How many parts are planed on a broad face that has nothing behind it, where a board can be put in behind: the walls of an
    open box."""
    inner, around, count = _inner(job, parts), _Around(job, parts), 0
    for name, faces in outer_faces(job, parts).items():
        part = job.parts[name]
        walls = [opposite(face) for face in faces if axis_of(face) == "z" and opposite(face) in inner.get(name, ())]
        pieces = [each for each in around.pieces if job.part_of(each) is part]
        count += any(around.has_way_in(each, part, face) for each in pieces for face in walls)
    return count


def _inner(job: Job, parts: Collection[str]) -> Mapping[str, tuple[FaceName, ...]]:
    joints = tuple(
        name
        for name, joint in job.joints.items()
        if {job.part_of(piece).name for piece in (joint.enters_piece, joint.seat.piece)} <= {*parts}
    )
    return inner_by(job, joints, tuple(parts))


class _Around:
    """The pieces of some parts as they stand joined, each with the others in its own frame."""

    def __init__(self, job: Job, parts: Collection[str]) -> None:
        self.placement, self.standing = place(job), blocking_of(job).standing
        self.pieces = [each for each in self.standing if job.part_of(each).name in parts]

    def _own(self, piece: str) -> tuple[Solid, list[Solid]]:
        back = self.placement.poses[piece].inverse
        rest = [each for each in self.pieces if each != piece and self.placement.together(piece, each)]
        return self.standing[piece].posed(back), [self.standing[each].posed(back) for each in rest]

    def is_open(self, piece: str, part: Part, named: FaceName) -> bool:
        """Whether most of a face is there, and nothing lies against it."""
        own, rest = self._own(piece)
        (face,) = self.placement.bodies[piece].faces((named,))
        across = others(axis_of(face))
        skin = own & between({axis_of(face): part.block.span(face, 0.0, GIVES)})
        whole = GIVES * part.block.size(across[0]) * part.block.size(across[1])
        if skin.volume < MOST_LEFT * whole or min(_wide(skin, each) for each in across) < NARROW:
            return False
        near = between({axis_of(face): part.block.span(face, -CORNER, 0.0)})
        feet = [foot for solid in rest for foot in [solid & near] if not foot.empty]
        return not any(covers(feet, skin, face, far) for far in CLOSE)

    def is_beside(self, job: Job, piece: str, named: FaceName, inner: Mapping[str, Collection[FaceName]]) -> bool:
        """Whether a face is level with an inner face of another piece that it meets."""
        part, pose = job.part_of(piece), self.placement.poses[piece]
        (face,) = self.placement.bodies[piece].faces((named,))
        over = {axis: (-BESIDE, part.block.size(axis) + BESIDE) for axis in others(axis_of(face))}
        near = between({**over, axis_of(face): part.block.span(face, 0.0, GIVES)})
        above = between({**over, axis_of(face): part.block.span(face, -CORNER, -GIVES)})
        for each in self.pieces:
            if each == piece or not self.placement.together(piece, each) or job.part_of(each) is part:
                continue
            solid = self.standing[each].posed(pose.inverse)
            if (solid & near).empty or not (solid & above).empty:
                continue
            theirs = face_towards(self.placement.poses[each].own(pose.direction(normal(face))))
            own = mirrored(theirs) if self.placement.bodies[each].mirrored else theirs
            if own in inner.get(job.part_of(each).name, ()):
                return True
        return False

    def has_way_in(self, piece: str, part: Part, named: FaceName) -> bool:
        """Whether a board can be put in before an inner face, from one side of it at least."""
        _, rest = self._own(piece)
        (face,) = self.placement.bodies[piece].faces((named,))
        room = {axis_of(face): part.block.span(face, -BOARD, -CORNER)}
        return any(self._is_free(rest, room, part, side) for side in FACES if axis_of(side) != axis_of(face))

    def _is_free(self, rest: Sequence[Solid], room: Mapping[Axis, tuple[float, float]], part: Part, side: FaceName) -> bool:
        """Whether little stands in the room beyond one side of a face."""
        axis = axis_of(side)
        (lateral,) = {*others(axis)} - {*room}
        edge = part.block.level(side)
        beyond = (edge - GIVES, edge + FAR) if sign_of(side) > 0 else (edge - FAR, edge + GIVES)
        way = between({**room, axis: beyond, lateral: (0.0, part.block.size(lateral))})
        shut = sum(_wide(foot, lateral) for solid in rest for foot in [solid & way] if not foot.empty)
        return shut < SHUT * part.block.size(lateral)


def _wide(solid: Solid, axis: Axis) -> float:
    low, high = solid.bounds.span(axis)
    return high - low
