"""How a piece lies for its work: the words of the knowledge as faces of the piece."""

from __future__ import annotations

from sequencer.knowledge.forms.operations import LieFace, Lies
from sequencer.model.frame import FaceName, axis_of, opposite
from sequencer.model.job import Part
from sequencer.model.marks import Lie, opened_face
from sequencer.planning.work import Work


def lie_of(lies: Lies, work: Work, part: Part) -> Lie:
    """The words of the knowledge as faces of this piece. A face that would be down and guide at once guides nothing."""
    opened, measured = faces_of(work, part)
    faces: dict[LieFace, FaceName] = {
        "face": opened,
        "behind": opposite(opened),
        "from": measured,
        "across": opposite(measured),
        "face-side": part.face_side,
        "face-edge": part.face_edge,
        "first-end": "left",
    }
    down = faces[lies.down or "behind"]
    against = faces[lies.against] if lies.against else None
    if against is not None and axis_of(against) == axis_of(down):
        against = None
    return Lie(down, against, faces[lies.stop] if lies.stop else None, lies.tool)


def faces_of(work: Work, part: Part) -> tuple[FaceName, FaceName]:
    """The face a work opens, and the first face square to it that it is measured from."""
    feature = work.drawn
    if feature is None:
        return part.face_side, part.face_edge
    # Tails are drawn on a broad face and sawn down from the end.
    opened = opened_face(feature.marks(part.block)) or feature.opens()[0]
    square = (face for face in feature.measured_from() if axis_of(face) != axis_of(opened))
    return opened, next(square, part.face_edge)
