"""Scenes of the whole thing: as it stands, taken apart, and put together step by step. mm."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from sequencer.model.frame import AXES, Axis, Point
from sequencer.model.job import Job, Joint
from sequencer.paper.outlines import eye
from sequencer.paper.scene import FROM_THE_LEFT, Arrow, Scene, Thing
from sequencer.paper.spreading import JOINING, TAKEN_APART, reached_from, spread, summed
from sequencer.paper.whole import Whole

_FEW = 2
"""Arrows that may be heavy: more would cover the pieces."""


def assembled_scene(whole: Whole, pieces: Collection[str] = (), looks_from: Point = FROM_THE_LEFT) -> Scene:
    """All pieces, or some, where the joints place them, with the letters of their parts."""
    chosen = [piece for piece in whole.job.pieces() if not pieces or piece in pieces]
    things = tuple(Thing(whole.standing[piece], letter=whole.letter(piece)) for piece in chosen)
    return Scene(things, title=f"{whole.job.name}, put together", looks_from=looks_from)


def exploded_scene(whole: Whole, looks_from: Point = FROM_THE_LEFT) -> Scene:
    """Every piece moved out along the ways it goes in by, with a thin arrow back for each joint."""
    bodies = {piece: (piece,) for piece in whole.job.pieces()}
    moves = spread(whole, bodies, eye(looks_from), whole.job.joints.values(), TAKEN_APART)
    things = tuple(
        Thing(whole.standing[piece].moved(*moves[piece]), letter=whole.letter(piece), name=whole.hand(piece)) for piece in bodies
    )
    arrows = _ways_in(whole, bodies, moves, whole.job.joints.values())
    return Scene(things, arrows=arrows, title=f"{whole.job.name}, taken apart", looks_from=looks_from)


def joining_scene(
    whole: Whole, joints: Sequence[Joint], before: Sequence[Joint] = (), looks_from: Point = FROM_THE_LEFT
) -> Scene:
    """What `joints` put together, apart, with what the joints `before` have joined already as one; arrows show the way in."""
    about = list(dict.fromkeys(piece for joint in joints for piece in (joint.seat.piece, joint.enters_piece)))
    bodies = _bodies(whole.job, about, before)
    moves = spread(whole, bodies, eye(looks_from), joints, JOINING)
    things = tuple(
        Thing(whole.loose[piece].moved(*moves[name]), letter=whole.number(piece), name=whole.hand(piece))
        for name, own in bodies.items()
        for piece in own
    )
    arrows = _ways_in(whole, bodies, moves, joints)
    if len(arrows) <= _FEW:
        arrows = tuple(replace(arrow, heavy=True) for arrow in arrows)
    return Scene(things, arrows=arrows, looks_from=looks_from)


def _bodies(job: Job, about: Sequence[str], before: Sequence[Joint]) -> dict[str, tuple[str, ...]]:
    """The pieces in question, each with all that is joined to it by then, by the name of its first piece."""
    links = [{joint.enters_piece, joint.seat.piece} for joint in before]
    order = list(job.pieces())
    bodies: dict[str, tuple[str, ...]] = {}
    done: set[str] = set()
    for piece in order:
        if piece not in about or piece in done:
            continue
        reached = reached_from({piece}, links)
        done |= reached
        bodies[piece] = tuple(each for each in order if each in reached)
    return bodies


def _ways_in(
    whole: Whole,
    bodies: Mapping[str, tuple[str, ...]],
    moves: Mapping[str, Point],
    joints: Collection[Joint],
) -> tuple[Arrow, ...]:
    """An arrow for each joint between bodies that were moved apart, from the one that is brought to the other."""
    of = {piece: name for name, own in bodies.items() for piece in own}
    straight: dict[tuple[str, str], Arrow] = {}
    slanting: dict[tuple[str, str], Arrow] = {}
    for joint in joints:
        enters, into = of.get(joint.enters_piece), of.get(joint.seat.piece)
        if enters is None or into is None or enters == into:
            continue
        turned = len(bodies[enters]) > len(bodies[into])
        spot, meets = whole.contact(joint)
        away = Point(*(one - two for one, two in zip(moves[enters], moves[into], strict=True)))
        moved = [axis for axis, gone in zip(AXES, away, strict=True) if abs(gone) > 1e-6]
        if not moved:
            continue
        axis = meets if meets in moved else max(moved, key=lambda each: abs(away[AXES.index(each)]))
        at = AXES.index(axis)
        # From the tip of what goes in to the mouth of what it goes into.
        box = whole.boxes[joint.enters_piece]
        tip = summed(spot, moves[enters])
        tip = _at(tip, axis, (box.low if away[at] > 0 else box.high)[at] + moves[enters][at])
        mouth = _at(tip, axis, spot[at] + moves[into][at])
        if (tip[at] - mouth[at]) * away[at] <= 0:
            mouth = _at(tip, axis, tip[at] - away[at])
        arrow = Arrow(mouth, tip) if turned else Arrow(tip, mouth)
        (straight if moved == [axis] else slanting).setdefault((enters, into), arrow)
    # A body that is away along two axes is shown by the joint that is away along one, if it has one.
    shown = {name for pair in straight for name in pair}
    rest = {pair: arrow for pair, arrow in slanting.items() if not set(pair) <= shown}
    return (*straight.values(), *rest.values())


def _at(point: Point, axis: Axis, level: float) -> Point:
    """A point moved along an axis to a level."""
    return Point(*(level if own == axis else value for own, value in zip(AXES, point, strict=True)))
