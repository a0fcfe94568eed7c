"""What the picture of a step shows: the piece as it lies and is cut, or the pieces as they go together, from the states of
the plan carried out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sequencer.model.plan import Step, Task
from sequencer.paper.corner_pictures import with_splines
from sequencer.paper.cut_pictures import cuts_of, marked, mitres_of, of_first, one_of_each, unnamed
from sequencer.paper.linked import hanging_on, joints_of, reached
from sequencer.paper.pictured import FIXING, TOGETHER, Pictured, Shown
from sequencer.paper.ring_pictures import cramped_scene, ring_of, rolled_scenes
from sequencer.paper.spline_pictures import corner_scenes, sawn_off
from sequencer.paper.whole import Whole
from sequencer.paper.whole_scenes import assembled_scene, joining_scene
from sequencer.planning.loose import SLOTS

MOST = 6
"""Pictures in one step; more would leave the page."""
_UNDRAWN = frozenset({"make-dowels", "make-wedges", "make-splines"})
"""Work on loose pieces, which are no parts of the drawing."""
_AT_CORNERS = frozenset({SLOTS.name, "spline", "trim-splines"})
"""Work on splines across glued corners."""
TAPE = "strong tape"
"""The tool that tells that pieces are laid in a row and rolled up."""


def shown(step: Step, pictured: Pictured) -> tuple[Shown, ...]:
    """What a step's picture shows, worked out once."""
    if step.id not in pictured.known:
        pictured.known[step.id] = scenes_of(step, pictured)
    return pictured.known[step.id]


def scenes_of(step: Step, pictured: Pictured) -> tuple[Shown, ...]:
    """What a step's picture shows, in the order of the work; nothing for waiting and for putting guards back."""
    if step.kind in ("wait", "guards-back"):
        return ()
    tasks = [pictured.tasks[name] for name in step.tasks]
    kinds = {task.kind for task in tasks}
    if kinds == {"make-splines"}:
        sawn = sawn_off(tasks[0], "spline")
        return () if sawn is None else (Shown(sawn),)
    if kinds <= _UNDRAWN:
        return ()
    stick = pictured.sticks.get(step.id)
    whole = stick is not None and not stick.cut
    shown_once = of_first(tasks) if stick is not None and whole else tasks
    if kinds == {"rough-length"}:
        shown_once = one_of_each(tasks, pictured.plan.strips)
    if kinds == {"mitre"}:
        return tuple(mitres_of(step, tasks, pictured))
    cuts = list(cuts_of(step, shown_once, pictured, stick if whole else None))
    if stick is not None and whole and cuts and not stick.here:
        return tuple(replace(each, scene=unnamed(each.scene)) for each in cuts)
    if kinds == {"rough-length"} and len(shown_once) < len(tasks):
        # A stick is no part yet.
        return tuple(replace(each, scene=unnamed(each.scene)) for each in cuts)
    if cuts:
        return tuple(cuts)
    if "face-marks" in kinds:
        return tuple(marked(step, tasks, pictured, stick.strips if stick is not None else ()))
    if kinds & TOGETHER:
        return tuple(_together(step, tasks, pictured))
    if kinds <= _AT_CORNERS:
        joints = [pictured.job.joints[name] for name in tasks[0].joints]
        hangs = reached([*pictured.joined_before(step), *joints], joints)
        now = pictured.whole(tasks[0].id)
        return tuple(Shown(scene, words, whole=large) for words, scene, large in corner_scenes(step, tasks[0], now, hangs))
    pieces = [
        piece for piece in pictured.job.pieces() if any(pictured.job.part_of(piece).name == work.part for work in step.parts)
    ]
    if not pieces:
        return ()
    # What hangs on to them is in the hand with them.
    pieces = hanging_on(pictured.joined_before(step), pieces)
    whole_now = _worked_side_up(pictured.whole(tasks[0].id), tasks)
    return (Shown(with_splines(assembled_scene(whole_now, pieces), whole_now, pictured.splined_before(step)), whole=True),)


def _worked_side_up(whole: Whole, tasks: Sequence[Task]) -> Whole:
    """The whole as it lies to have hardware fixed: the face that this goes on is on top, where the drawing says which it is."""
    things = (whole.job.hardware[task.feature] for task in tasks if task.kind == "hardware")
    thing = next((each for each in things if each.on is not None), None)
    if thing is None or thing.on is None:
        return whole
    pieces = (name for name, piece in whole.job.pieces().items() if {name, piece.part} & {thing.fixed_to[0]})
    return whole.lying_with(next(pieces), thing.on)


def _together(step: Step, tasks: Sequence[Task], pictured: Pictured) -> Iterator[Shown]:
    """The pieces apart with their ways in, then as they stand joined. What stands joined already only gets its nails or
    screws: it is shown as it stands."""
    joints = joints_of(tasks, pictured.job)
    if {task.kind for task in tasks} == {"clean-inside"}:
        cleaned = {work.part for work in step.parts}
        joints = [
            each
            for each in joints
            if {pictured.job.part_of(piece).name for piece in (each.enters_piece, each.seat.piece)} & cleaned
        ]
    if not joints:
        return
    whole = pictured.whole(tasks[0].id)
    before = pictured.joined_before(step)
    apart = any(joint not in before for joint in joints)
    ring = ring_of(step, whole, joints) if {task.kind for task in tasks} & {"dry-fit", "glue"} else None
    if ring is not None and TAPE in step.tools:
        tried = any(task.kind == "dry-fit" for task in tasks)
        scenes = rolled_scenes(ring, reached([*before, *joints], joints), tried=tried)
        yield from (Shown(scene, words, whole=True) for words, scene in scenes)
        return
    if apart:
        yield Shown(joining_scene(whole, joints, before), whole=True)
    if not apart or any(task.kind in FIXING | {"dry-fit"} for task in tasks):
        pieces = reached([*before, *joints], joints)
        cramped = cramped_scene(ring, pieces, step, pictured.plan) if ring is not None and apart else None
        yield Shown(cramped or assembled_scene(whole, pieces), "together" if apart else "", whole=True)
