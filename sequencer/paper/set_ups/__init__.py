"""Pictures of set-ups: how a piece lies at a station, what cuts it, and where fence, stop and blade stand, to scale.

Machines stand as the operator sees them: at saws the wood is fed away from the viewer, at the router table and the planers
from right to left with the fence behind. Tools and benches are plain blocks; what is to scale is where they stand.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from sequencer.model.frame import FaceName
from sequencer.model.marks import Layout
from sequencer.model.plan import Task
from sequencer.paper.scene import Scene
from sequencer.paper.set_ups.by_hand import by_hand
from sequencer.paper.set_ups.machines import disc_sander, mortiser, pillar_drill, router_table, surface_planer, thicknesser
from sequencer.paper.set_ups.saw_tables import band_saw, mitre_saw, saw_bench, scroll_saw
from sequencer.paper.set_ups.subject import Subject
from sequencer.solid.solids import Solid, nothing

STATIONS: Mapping[str, Callable[[Subject], Scene]] = {
    "saw-bench": saw_bench,
    "mitre-saw": mitre_saw,
    "band-saw": band_saw,
    "scroll-saw": scroll_saw,
    "router-table": router_table,
    "surface-planer": surface_planer,
    "thicknesser": thicknesser,
    "disc-sander": disc_sander,
    "pillar-drill": pillar_drill,
    "hollow-chisel-mortiser": mortiser,
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
        Names of what holds the work (`drill-vice`).
    left_on
        Waste that stays on at a face until later, mm.
    """
    piece = Subject(
        task,
        layout,
        figures,
        before,
        nothing() if waste is None else before & waste,
        letter,
        face_side,
        face_edge,
        frozenset(holding),
        left_on or {},
    )
    picture = STATIONS.get(task.station_kind, by_hand) if layout is not None else by_hand
    return picture(piece)
