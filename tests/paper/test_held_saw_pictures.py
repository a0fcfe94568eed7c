"""Pictures of the saws held in the hands and of the laser cutter: what they name, and that only the blade stands in the wood."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sequencer.model.job import Decision, Job
from sequencer.paper.pictured import Pictured
from sequencer.paper.scene import Scene
from sequencer.paper.step_pictures import scenes_of
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from sequencer.solid.solids import joined
from tests.features.samples import make
from tests.made import knowledge, workshop
from tests.outside.bench import sheet

CUT: dict[str, Any] = {"name": "cut", "length": 120, "width": 60, "radius": 12}
CURVE: dict[str, Any] = {
    "name": "cut",
    "edge": "top",
    "points": [{"at": {"left": 150, "top": 0}}, {"arc_to": {"left": 300, "top": 0}, "radius": 120, "turn": "left"}],
}
SHOWN = [
    ("trim-sheet-to-width-with-circular-saw", "rail/width", sheet(), {"blade", "sole", "batten", "support"}),
    ("crosscut-sheet-with-circular-saw", "rail/length", sheet(), {"blade", "sole", "batten", "support"}),
    ("saw-curve-by-jigsaw", "rail/cut", sheet(make("outline", **CURVE)), {"blade", "sole", "cramp"}),
    ("saw-opening-by-jigsaw", "rail/cut", sheet(make("cut-out", **CUT)), {"blade", "sole", "support"}),
    ("cut-opening-by-laser", "rail/cut", sheet(make("cut-out", **CUT), thick=3, length=280), {"nozzle"}),
]


@pytest.mark.parametrize(("way", "about", "drawn", "names"), SHOWN, ids=[row[0] for row in SHOWN])
def test_what_is_set_and_what_cuts_is_named_and_nothing_else_stands_in_the_wood(
    way: str, about: str, drawn: Job, names: set[str]
) -> None:
    shown = scene(way, about, drawn)
    assert names <= {thing.name for thing in shown.things}
    piece = joined(thing.solid for thing in shown.things if thing.look in ("wood", "waste"))
    for thing in shown.things:
        if thing.look not in ("wood", "waste") and thing.name != "blade":
            assert (piece & thing.solid).volume < 0.01 * thing.solid.volume, thing.name


@pytest.mark.parametrize("way", ["trim-sheet-to-width-with-circular-saw", "crosscut-sheet-with-circular-saw"])
def test_the_boards_under_a_sheet_leave_the_line_of_the_blade_free(way: str) -> None:
    shown = scene(way, "rail/width" if "width" in way else "rail/length", sheet())
    (blade,) = (thing.solid for thing in shown.things if thing.name == "blade")
    under = joined(thing.solid for thing in shown.things if thing.look in ("behind", "table"))
    assert (blade & under).empty
    assert blade.bounds.low.z < 0


def scene(way: str, about: str, drawn: Job) -> Scene:
    """The picture of the set-up when staff have decided on a way."""
    drawn = replace(drawn, decisions=(Decision(about, "Head of technology", "for this check", way=way),))
    plan = make_plan(drawn, workshop("well-equipped"), knowledge())
    task = next(task for task in plan.tasks if task.id.startswith(f"{about}/"))
    step = next(step for step in plan.steps if task.id in step.tasks and step.kind == "work")
    return next(iter(scenes_of(step, Pictured(plan, drawn, carry_out(plan, drawn))))).scene
