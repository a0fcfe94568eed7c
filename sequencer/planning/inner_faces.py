"""Inner faces: those that another piece stands up from, so that neither plane nor block works up to the corner once the two are
joined. mm."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from sequencer.design.placing import place
from sequencer.design.poses import normal
from sequencer.features.rebate import Rebate
from sequencer.model.frame import AXES, FACES, Axis, FaceName, axis_of, others, sign_of
from sequencer.model.job import Job, Part
from sequencer.model.once import once_for_a_drawing
from sequencer.planning.groups import fixing_of
from sequencer.planning.work import Work, words
from sequencer.planning.work_words import face_of
from sequencer.reading.words import listed
from sequencer.solid.blocking import GIVES
from sequencer.solid.going_in import blocking_of
from sequencer.solid.solids import Solid, box

CORNER = 10.0
"""So high over a face is looked for what stands up from it, mm: lower than any block or plane."""
LOW = 3.0
"""What stands up less than this is no corner: it is levelled with the face, mm. Common practice, no source."""
BESIDE = 1.0
"""What stands so near beside a face stands up from it, mm: it lies against the end of the face."""
NARROW = 5.0
"""No face and no corner is narrower than this, mm: common practice, no source."""
COVERED = 0.75
"""A face of which this share lies against or close before another piece is a joint face."""
CLOSE = (1.0, 3.0, 6.0)
"""So far before a face is looked for what covers it, mm: a tenon or panel has some room at the bottom of its seat."""

FEW_WORDS = 9
"""So many words besides three of its own a sentence has room for."""

Inner = Mapping[str, tuple[FaceName, ...]]
"""By part the faces that are inner ones of any of its pieces."""


def inner_faces(job: Job, work: Work) -> Inner:
    """The inner faces of the parts of a work, among the pieces of its joints. A part with none is left out."""
    return inner_by(job, work.joints, tuple(name for name, _ in work.parts))


def inner_by(job: Job, joints: tuple[str, ...], parts: tuple[str, ...]) -> Inner:
    """The inner faces of some parts, among the pieces of some joints."""
    known, asked = _known(job), (joints, parts)
    if asked not in known:
        known[asked] = dict(_found(job, joints, parts))
    return known[asked]


def only_edges(job: Job, work: Work) -> bool:
    """Whether all that is cleaned are edges, as inside a frame that lies flat."""
    found = inner_faces(job, work)
    return bool(found) and all(axis_of(face) == "y" for faces in found.values() for face in faces)


def edges_called(job: Job, work: Work) -> str:
    """The edges inside a flat frame, by the parts' own name for them, with what is cut along them: `sight edges and rebates`."""
    found = inner_faces(job, work)
    named = [(job.parts[name], face) for name, faces in found.items() for face in faces]
    names = {face_of(part, face) if face in part.names.values() else "inner edge" for part, face in named}
    rebated = any(_rebates(job, work, job.parts[name], faces) for name, faces in found.items())
    return f"{names.pop() if len(names) == 1 else 'inner edge'}s{' and rebates' if rebated else ''}"


def faces_told(job: Job, work: Work, also: Collection[tuple[str, FaceName]] = ()) -> Iterator[str]:
    """Which faces of each part are cleaned, with rebates along them; parts with the same ones in one sentence. `also`: faces of
    these parts that are cleaned with them."""
    said: dict[str, list[str]] = {}
    for name, inner in inner_faces(job, work).items():
        part = job.parts[name]
        faces = (*inner, *(face for part_name, face in also if part_name == name and face not in inner))
        along = [face for face in FACES if axis_of(face) != part.grain]
        every = {*along} <= {*faces}
        called = ["all four long faces"] if every else [f"the {face_of(part, face)}" for face in faces]
        called += [f"the {words(each)}" for each in _rebates(job, work, part, faces)]
        said.setdefault(in_a_row(called), []).append(part.letter)
    return told_of(said, "Clean")


def in_a_row(called: Sequence[str]) -> str:
    """Faces in a sentence: `the inside face, outside face and bottom edge`."""
    return listed(called).replace(", the ", ", ").replace(" and the ", " and ")


def told_of(said: Mapping[str, Sequence[str]], doing: str) -> Iterator[str]:
    """A sentence for what is said of some letters, or one for each letter where it would be long."""
    for faces, letters in said.items():
        short = len(faces.split()) + len(letters) <= FEW_WORDS
        yield from (f"{doing} {faces} of {listed(each)}." for each in ([letters] if short else letters))


def _rebates(job: Job, work: Work, part: Part, faces: Sequence[FaceName]) -> list[str]:
    """The rebates that run along inner faces of a part, and are no glued joint."""
    seats = (seat for joint in job.joints.values() if fixing_of(joint) == "glue" for seat in (joint.its, joint.seat))
    glued = {seat.feature for seat in seats if job.part_of(seat.piece) is part}
    return [
        each.name
        for each in part.features.values()
        if isinstance(each, Rebate) and each.lengthwise(part.block) and {*each.opens()} & {*faces} and each.name not in glued
    ]


@once_for_a_drawing
def _known(job: Job) -> dict[tuple[tuple[str, ...], tuple[str, ...]], Inner]:
    """What was found for a drawing: by joints, and the parts that were asked for."""
    return {}


def _found(job: Job, joints: Collection[str], parts: Sequence[str]) -> Iterator[tuple[str, tuple[FaceName, ...]]]:
    placement, standing = place(job), blocking_of(job).standing
    seats = (seat for name in joints for seat in (job.joints[name].its, job.joints[name].seat))
    pieces = [each for each in dict.fromkeys(seat.piece for seat in seats) if each in standing]
    for name in parts:
        faces: set[FaceName] = set()
        part = job.parts[name]
        for piece in (each for each in pieces if job.part_of(each) is part):
            back = placement.poses[piece].inverse
            others_there = [standing[each].posed(back) for each in pieces if each != piece and placement.together(piece, each)]
            own = standing[piece].posed(back)
            for face in FACES:
                if axis_of(face) != part.grain and _is_inner(placement.bodies[piece].faces((face,))[0], part, own, others_there):
                    faces.add(face)
        if faces:
            yield name, tuple(sorted(faces, key=lambda face: (axis_of(face) != "z", face != "inside", face)))


def _is_inner(face: FaceName, part: Part, own: Solid, rest: Sequence[Solid]) -> bool:
    """Whether something stands up from a face, as it lies in the frame of the piece, that is no joint face itself."""
    axis, across = axis_of(face), others(axis_of(face))
    skin = own & between({axis: part.block.span(face, 0.0, GIVES)})
    if skin.empty or min(skin.bounds.span(each)[1] - skin.bounds.span(each)[0] for each in across) < NARROW:
        return False
    spans = {each: skin.bounds.span(each) for each in across}
    around = {each: (low - BESIDE, high + BESIDE) for each, (low, high) in spans.items()}
    near = between({**around, axis: part.block.span(face, -CORNER, 0.0)})
    feet = [foot for solid in rest for foot in [solid & near] if not foot.empty]
    return any(_stands_up(foot, face, part) for foot in feet) and not any(covers(feet, skin, face, far) for far in CLOSE)


def _stands_up(foot: Solid, face: FaceName, part: Part) -> bool:
    """Whether what is over a face starts at it, and is more than a step."""
    axis = axis_of(face)
    ends = [sign_of(face) * (at - part.block.level(face)) for at in foot.bounds.span(axis)]
    runs = (foot.bounds.span(each) for each in others(axis))
    return min(ends) < LOW <= max(ends) and max(high - low for low, high in runs) >= NARROW


def covers(feet: Sequence[Solid], skin: Solid, face: FaceName, far: float) -> bool:
    """Whether pieces cover most of a face so far before it."""
    way = normal(face)
    moved = skin.moved(**{way.axis: way.sign * far})
    return sum((foot & moved).volume for foot in feet) >= COVERED * skin.volume


def between(spans: Mapping[Axis, tuple[float, float]]) -> Solid:
    """A box that reaches from and to these places, and anywhere along the other axes."""
    every = {axis: spans.get(axis, (-1e4, 1e4)) for axis in AXES}
    return box([every[axis][0] for axis in AXES], [every[axis][1] for axis in AXES])
