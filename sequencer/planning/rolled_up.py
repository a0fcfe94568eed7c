"""How the pieces of a mitred ring are told where they are laid in a row, taped, and rolled up: which stands where in the row."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sequencer.design.placement import Placement
from sequencer.knowledge.wording import MOST_WORDS, words_in
from sequencer.model.frame import AXES, Axis, FaceName, Point, axis_of
from sequencer.model.job import Job, Joint
from sequencer.planning.closing import Closing
from sequencer.planning.going_together import NOUNS, face_from, label
from sequencer.planning.groups import fixing_of
from sequencer.planning.mitred_corners import mitred, mitres_of
from sequencer.solid.whereabouts import face_word


def row_of(job: Job, closing: Closing, placement: Placement) -> tuple[str, ...]:
    """The pieces of a mitred ring from left to right, as they lie outside up with their lower edges towards whoever lays them;
    from the one that the closing starts with. Empty where mitres close no ring."""
    joints = _mitres(job, closing)
    ring = {piece for joint in joints for piece in (joint.enters_piece, joint.seat.piece)}
    started = [piece for body in closing.told[0].onto for piece in closing.bodies[body]] if closing.told else []
    return ring_from(job, joints, placement, next((piece for piece in started if piece in ring), ""))


def ring_from(job: Job, joints: Sequence[Joint], placement: Placement, first: str = "") -> tuple[str, ...]:
    """The pieces that mitres close to a ring, one after the other to the right, seen from outside with its lower edges down; from
    the piece named. Empty where they close none."""
    beside: dict[str, list[str]] = {}
    for joint in joints:
        beside.setdefault(joint.enters_piece, []).append(joint.seat.piece)
        beside.setdefault(joint.seat.piece, []).append(joint.enters_piece)
    if not beside or any(len(each) != 2 for each in beside.values()):
        return ()
    first = first or next(iter(beside))
    row, following = [first], beside[first][0]
    while following != first:
        row.append(following)
        following = next(each for each in beside[following] if each != row[-2])
    return tuple(row) if _is_to_the_right(row, upright(job, joints, placement), placement) else (row[0], *reversed(row[1:]))


def row_lines(job: Job, closing: Closing, placement: Placement) -> Iterator[str]:
    """How the row is laid out, before it is taped."""
    row = row_of(job, closing, placement)
    names = [label(job, piece) for piece in row]
    whole = f"Lay {', '.join(names)} in a row."
    if words_in(whole) <= MOST_WORDS:
        yield whole
    else:
        half = (len(names) + 1) // 2
        yield f"Lay {', '.join(names[:half])} in a row."
        yield f"Lay {', '.join(names[half:])} after them."
    yield f"Turn each {_outer_face(job, closing, row[0])} up, the {_lower_face(job, closing, placement, row[0])} towards you."


def roll_lines(job: Job, closing: Closing, placement: Placement) -> Iterator[str]:
    """What is put into the row, and that it is rolled up."""
    row = row_of(job, closing, placement)
    for piece in closing.group.captured:
        holds = {each.seat.piece for each in closing.group.joints if each.enters_piece == piece}
        into = next((each for each in row if each in holds), None)
        if into is not None:
            yield f"Push {label(job, piece)} into {label(job, into)}."
    yield f"Roll the row up, {label(job, row[0])} to {label(job, row[-1])}."


def _mitres(job: Job, closing: Closing) -> list[Joint]:
    """The glued mitres of this closing alone, of all that the group makes alike."""
    pieces = {piece for body in closing.bodies.values() for piece in body}
    return [
        joint
        for joint in closing.group.joints
        if fixing_of(joint) == "glue" and mitred(job, joint) and {joint.enters_piece, joint.seat.piece} <= pieces
    ]


def _is_to_the_right(row: Sequence[str], run: Axis, placement: Placement) -> bool:
    """Whether a ring goes on to the right, seen from outside with its lower edges down: against the clock, seen from above."""
    following: Mapping[Axis, tuple[Axis, Axis]] = {"x": ("y", "z"), "y": ("z", "x"), "z": ("x", "y")}
    u, v = following[run]
    middles = [(sum(placement.span(piece, u)) / 2, sum(placement.span(piece, v)) / 2) for piece in row]
    turned = zip(middles, [*middles[1:], middles[0]], strict=True)
    # The area within a polygon is counted positive where it runs against the clock: plane geometry.
    return sum(one[0] * two[1] - two[0] * one[1] for one, two in turned) > 0


def upright(job: Job, joints: Sequence[Joint], placement: Placement) -> Axis:
    """The axis along which the corners of a ring run."""
    piece, _, mitre = next(each for joint in joints for each in mitres_of(job, joint))
    own = AXES.index(mitre.through())
    return placement.poses[piece].turn[own].axis


def _outer_face(job: Job, closing: Closing, piece: str) -> str:
    """The face of a piece on the outside of the ring, in words: the long one of its mitres."""
    part, mitre = next(
        (part, mitre) for joint in _mitres(job, closing) for each, part, mitre in mitres_of(job, joint) if each == piece
    )
    long: FaceName = mitre.long
    word = face_word(part, long).replace("-", " ")
    return word if word.split()[-1] in NOUNS.values() else f"{word} {NOUNS[axis_of(long)]}"


def _lower_face(job: Job, closing: Closing, placement: Placement, piece: str) -> str:
    """The face of a piece at the lower edge of the ring, in words."""
    run = upright(job, _mitres(job, closing), placement)
    return face_from(placement, piece, Point(*(float(axis == run) for axis in AXES)))
