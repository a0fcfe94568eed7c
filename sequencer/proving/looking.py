"""Every check before a cut is made, in the order in which the record has them. Each says what it saw, with figures. mm, mm3."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.model.frame import axis_of
from sequencer.model.marks import Datum, Layout, Level, Off, Profile, Trough
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.proving.as_it_lies import grips_looked, lies_looked, marks_looked
from sequencer.proving.at_machines import (
    blank_held_beside_the_blade,
    centred,
    fed,
    goes_under,
    held_beside_the_blade,
    nothing_to_catch,
)
from sequencer.proving.cut_places import SIZED, ends_part, is_rod, measured_along
from sequencer.proving.cuts import Bite
from sequencer.proving.getting_in import getting_in_looked
from sequencer.proving.sizes import Figures, piece_looked
from sequencer.proving.tool_room import approach_looked, threading_looked
from sequencer.proving.true_faces import faces_looked
from sequencer.proving.wood_there import thickness_looked, wood_looked
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.solids import Solid


def look_before(
    task: Task,
    layout: Layout,
    piece: Workpiece,
    bite: Bite,
    obstacles: Sequence[Solid],
    machine: Figures | None,
    bench: Bench,
    holding: frozenset[str] = frozenset(),
) -> Iterator[Looked]:
    """Every check before a cut is made. `machine`: the figures of the station if it is a machine; `holding`: the ways of holding
    that the card prints."""
    undecided = [setting.label for setting in task.settings if setting.value is None and setting.unit == "mm"]
    if undecided:
        yield Looked("setting", True, f"staff decide the {', the '.join(undecided)}; taken here as it is set out")
    cut = bite.cut
    yield piece_looked(task, piece, bench, machine)
    if machine is not None and task.cut == "bore" and layout.lie.tool == "above" and cut.opened is not None:
        yield from goes_under(piece.size(axis_of(cut.opened)), machine)
    yield faces_looked(task, layout, piece, bite, bench)
    yield from grips_looked(task, layout, piece, bite, bench, holding, by_hand=machine is None)
    if task.kind not in ("rough-length", "trim") and not is_rod(task, piece):
        yield from lies_looked(task, layout, piece, cut, bench)
    marked = not task.in_the_long or ends_part(task) or measured_along(layout.marks)
    if marked and task.kind not in (*SIZED, "trim"):
        yield marks_looked(task, layout, piece)
    yield wood_looked(task, layout, piece, bite, bench)
    if "start-hole" in task.needs:
        yield threading_looked(layout, piece, cut)
    yield from getting_in_looked(task, layout, piece, bite)
    if machine is not None and task.kind in ("length", "separate") and ("least-remnant" in machine or task.cut == "crosscut"):
        yield held_beside_the_blade(task, layout, piece, machine)
    if machine is not None and task.kind == "rough-length" and "least-remnant" in machine:
        yield from blank_held_beside_the_blade(task, machine)
    if task.cut == "turn":
        yield centred(piece, axis_of(layout.marks.end) if isinstance(layout.marks, Profile) else "x", machine or {})
        if isinstance(layout.marks, Profile):
            yield nothing_to_catch(piece, layout.marks)
    beside = layout.lie.against or (layout.marks.beside if isinstance(layout.marks, Trough) else None)
    if cut.passes and beside is not None and task.cut in ("rout", "saw-pass"):
        yield fed(task.cut == "rout", piece.size(axis_of(beside)), cut.passes, held=layout.lie.tool == "above")
    if cut.floor is not None and cut.opened is not None and not isinstance(layout.marks, Datum | Level | Off):
        yield thickness_looked(piece, cut, bench)
    if obstacles:
        yield approach_looked(layout, piece, bite, obstacles, bench)
