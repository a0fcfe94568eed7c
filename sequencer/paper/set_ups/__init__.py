"""Pictures of set-ups: how a piece lies at a station, what cuts it, and where fence, stop and blade stand, to scale.

Machines stand as the operator sees them: at saws the wood is fed away from the viewer, at router table, spindle moulder and
planers from right to left with the fence behind. Tools and benches are plain blocks; what is to scale is where they stand.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace

from sequencer.model.frame import FaceName, opposite
from sequencer.model.marks import Edges, Layout, Lie, Moulded, Shoulders, Trough
from sequencer.model.plan import Task
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups.by_hand import by_hand, tenon_left
from sequencer.paper.set_ups.held_saws import held_circular_saw, jigsaw, laser_cutter
from sequencer.paper.set_ups.lathe import lathe
from sequencer.paper.set_ups.machines import (
    belt_sander,
    bobbin_sander,
    disc_sander,
    mortiser,
    pillar_drill,
    router_table,
    surface_planer,
    thicknesser,
)
from sequencer.paper.set_ups.moulding import hand_held_router, spindle_moulder
from sequencer.paper.set_ups.saw_tables import band_saw, mitre_saw, pull_over_saw, saw_bench, scroll_saw
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, nothing

STATIONS: Mapping[str, Callable[[Subject], Scene]] = {
    "saw-bench": saw_bench,
    "mitre-saw": mitre_saw,
    "pull-over-saw": pull_over_saw,
    "band-saw": band_saw,
    "scroll-saw": scroll_saw,
    "router-table": router_table,
    "spindle-moulder": spindle_moulder,
    "hand-held-router": hand_held_router,
    "surface-planer": surface_planer,
    "thicknesser": thicknesser,
    "disc-sander": disc_sander,
    "belt-sander": belt_sander,
    "bobbin-sander": bobbin_sander,
    "pillar-drill": pillar_drill,
    "hollow-chisel-mortiser": mortiser,
    "lathe": lathe,
    "jigsaw": jigsaw,
    "portable-circular-saw": held_circular_saw,
    "laser-cutter": laser_cutter,
}
"""Kinds of station with a picture of their own; at every other the piece lies on the bench."""


def set_up_scene(
    task: Task,
    layout: Layout | None,
    figures: Mapping[str, float],
    before: Solid,
    waste: Solid | None,
    letter: str,
    *,
    face_side: FaceName | None = None,
    face_edge: FaceName | None = None,
    holding: Collection[str] = (),
    left_on: Mapping[FaceName, float] | None = None,
    others: Sequence[Solid] = (),
    tools: Sequence[str] = (),
) -> Scene:
    """How a piece lies and is cut at its station.

    layout
        None where nothing is set out and cut: the piece is shown with its face marks.
    figures
        The station's own: `kerf`, `blade-radius`.
    before, waste
        The piece as it comes to the station and what this cut takes away, in the part's own frame, on its own hand.
    face_side, face_edge
        The marked faces, on this hand; None while they are not made.
    holding
        Names of what holds the work (`drill-vice`), what this cut is made in first.
    left_on
        Waste that stays on at a face until later, mm.
    others
        The pieces that are joined to it by now, in its own frame: they are shown with it where an end is trimmed by hand.
    tools
        Names of the tools of the step (`straight batten`): some of them are set on the wood.
    """
    piece = _subject(task, layout, figures, before, waste, letter, face_side, face_edge, holding, left_on)
    piece = replace(piece, others=tuple(others), tools=tuple(tools))
    picture = STATIONS.get(task.station_kind, by_hand) if layout is not None else by_hand
    return picture(piece)


def left_scene(
    task: Task,
    layout: Layout | None,
    before: Solid,
    waste: Solid | None,
    letter: str,
    *,
    face_side: FaceName | None = None,
    face_edge: FaceName | None = None,
    left_on: Mapping[FaceName, float] | None = None,
) -> Scene | None:
    """The piece as the task leaves it, to go beside the set-up where that cannot show it: with the sizes that were set out and
    the cut turned up where the tool works from below; lying, without sizes, where a tenon is sawn in the vice. None for every
    other task. Arguments as for `set_up_scene`.
    """
    if layout is not None and isinstance(layout.marks, Shoulders) and task.station_kind not in STATIONS:
        return tenon_left(_subject(task, layout, {}, before, waste, letter, face_side, face_edge, (), left_on))
    if layout is None or layout.lie.tool not in ("below", "fence") or not isinstance(layout.marks, Trough | Edges | Moulded):
        return None
    lie = Lie(opposite(layout.lie.down), layout.lie.against)
    if isinstance(layout.marks, Trough) and layout.marks.face == layout.lie.against:
        # What was against the fence is turned up.
        lie = Lie(opposite(layout.marks.face), layout.marks.beside)
    piece = _subject(task, replace(layout, lie=lie), {}, before, waste, letter, face_side, face_edge, (), left_on)
    scene = by_hand(piece)
    things = tuple(thing for thing in scene.things if thing.look in ("wood", "table"))
    return replace(scene, things=things, arrows=())


def _subject(
    task: Task,
    layout: Layout | None,
    figures: Mapping[str, float],
    before: Solid,
    waste: Solid | None,
    letter: str,
    face_side: FaceName | None,
    face_edge: FaceName | None,
    holding: Collection[str],
    left_on: Mapping[FaceName, float] | None,
) -> Subject:
    cut = nothing() if waste is None else before & waste
    return Subject(task, layout, figures, before, cut, letter, face_side, face_edge, tuple(holding), left_on or {})
