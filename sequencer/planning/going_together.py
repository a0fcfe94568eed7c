"""What a card says of bringing pieces together: what stands first, what goes in next, where cramps press. mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sequencer.design.joining import listed
from sequencer.design.placement import Placement
from sequencer.design.placing import place
from sequencer.design.poses import Direction, face_towards
from sequencer.features.base import mm
from sequencer.model.frame import AXES, Axis, Point, mirrored
from sequencer.model.job import Job
from sequencer.model.plan import Step
from sequencer.planning.closing import Closing
from sequencer.planning.groups import fixing_of
from sequencer.solid.disassembly import Move
from sequencer.solid.whereabouts import face_word

NUMBERS = {1: "one cramp", 2: "two cramps"}


def label(job: Job, piece: str) -> str:
    """A piece as the card names it: the letter of its part, with its hand or number where there are several: `A left`, `B 2`."""
    part = job.part_of(piece)
    more = piece.removeprefix(part.name).replace(".", " ").strip()
    return f"{part.letter} {more}".strip()


def order_lines(job: Job, closing: Closing, placement: Placement) -> Iterator[str]:
    """What stands first, then each move with the face it comes from."""
    if not closing.moves:
        return
    yield f"Start with {label(job, closing.moves[0].onto[0])}."
    for move in closing.moves:
        yield _move_line(job, closing, move, placement)


def _move_line(job: Job, closing: Closing, move: Move, placement: Placement) -> str:
    moved = [piece for body in move.bodies for piece in closing.bodies[body]]
    there = [piece for body in move.onto for piece in closing.bodies[body]]
    joint = next(
        (
            each
            for each in closing.group.joints
            if (each.enters_piece in moved and each.seat.piece in there)
            or (each.seat.piece in moved and each.enters_piece in there)
        ),
        None,
    )
    own, other = moved[0], there[0]
    if joint is not None:
        own, other = (
            (joint.enters_piece, joint.seat.piece) if joint.enters_piece in moved else (joint.seat.piece, joint.enters_piece)
        )
    what = label(job, own) if len(moved) == 1 else f"the frame with {label(job, own)}"
    way = _face_from(placement, other, move.way)
    where = f"from its {way}" if way else "along the slope"
    return f"Push {what} onto {label(job, other)}, {where}."


def _face_from(placement: Placement, piece: str, way: Point) -> str:
    """The face of a piece from whose side something comes that moves along a way; nothing for an oblique way."""
    if sorted(abs(part) for part in way) != [0.0, 0.0, 1.0]:
        return ""
    index = next(number for number, part in enumerate(way) if part)
    body = placement.bodies[piece]
    face = face_towards(placement.poses[piece].own(Direction(AXES[index], -1 if way[index] > 0 else 1)))
    return face_word(body.part, mirrored(face) if body.mirrored else face).replace("-", " ")


def cramp_lines(job: Job, closing: Closing, placement: Placement, span: float) -> Iterator[str]:
    """Along which pieces cramps press, how many and how far open: one along what enters, two if it is wider than `span`."""
    glued = [joint for joint in closing.group.joints if fixing_of(joint) == "glue"]
    pieces = {piece for own in closing.bodies.values() for piece in own}
    said: dict[tuple[int, float], list[str]] = {}
    for piece in dict.fromkeys(joint.enters_piece for joint in glued if joint.enters_piece in pieces):
        part = job.part_of(piece)
        bearings = [placement.bearing(joint.name) for joint in glued if joint.enters_piece == piece]
        axes: list[Axis] = [bearing.looks.axis for bearing in bearings if bearing is not None]
        if part.section == "round" or not axes:
            continue
        seats = [joint.seat.piece for joint in glued if joint.enters_piece == piece]
        reach = _reach(placement, [piece, *seats], axes[0])
        said.setdefault((2 if part.width > span else 1, reach), []).append(piece)
    for (number, reach), along in said.items():
        yield f"Put {NUMBERS[number]} along {_each(job, along)}, open {mm(reach)} mm."


def _reach(placement: Placement, pieces: Sequence[str], axis: Axis) -> float:
    spans = [placement.span(piece, axis) for piece in pieces]
    return max(high for _, high in spans) - min(low for low, _ in spans)


def _each(job: Job, pieces: Sequence[str]) -> str:
    letters: Mapping[str, None] = dict.fromkeys(job.part_of(piece).letter for piece in pieces)
    if len(pieces) == 1:
        return label(job, pieces[0])
    return f"each {next(iter(letters))}" if len(letters) == 1 else f"each of {listed(list(letters))}"


def told(steps: Sequence[Step], job: Job, closings: Sequence[Closing], span: float) -> tuple[Step, ...]:
    """The steps, each glue-up with the order in which its pieces go in and where its cramps press; of alike sub-assemblies that
    of the first. `span`: a piece wider than this takes two cramps."""
    placement = place(job)
    lines: dict[str, list[str]] = {}
    for closing in closings:
        name = f"{closing.group.name}/glue/glue"
        if closing.group.fixing == "glue" and (closing.group.times == 1 or name not in lines):
            lines.setdefault(name, []).extend(
                (*order_lines(job, closing, placement), *cramp_lines(job, closing, placement, span))
            )
    return tuple(
        replace(step, notes=(*step.notes, *(line for task in step.tasks for line in lines.get(task, ())))) for step in steps
    )
