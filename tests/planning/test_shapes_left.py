"""What earlier cuts leave where a later one bears: an edge beside a taper or bevel is not fed along a machine's fence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import Feature
from sequencer.model.job import Job
from sequencer.planning.planner import make_plan, ways_of
from sequencer.planning.ways import Way
from sequencer.proving.making import carry_out
from tests.features.legal import make
from tests.made import knowledge, workshop
from tests.outside.bench import board

TAPER = make("taper", name="slope", edge="top", **{"from": "left"}, amount=20)
BEVEL = make("bevel", name="slope", edge="top", low="outside", angle=20)
NOTCH = make("notch", name="gap", edge="top", **{"from": "left"}, distance=150, length=40, depth=15)


def chamfered(shape: Feature, edges: str) -> Job:
    return board(shape, make("chamfer", name="arris", edges=edges, size=4), length=450)


def routed(drawn: Job) -> list[Way]:
    """The ways of breaking the edge on the router table."""
    found = ways_of("rail/arris", drawn, workshop(), knowledge())
    return [way for _, ways, _ in found for way in ways if way.operation == "rout-chamfer"]


@pytest.mark.parametrize("shape", [TAPER, BEVEL], ids=["taper", "bevel"])
def test_an_edge_beside_a_shape_is_broken_by_hand(shape: Feature) -> None:
    drawn = chamfered(shape, "inside/top")
    found = routed(drawn)
    assert found
    for way in found:
        (obstacle,) = (each for each in way.obstacles if each.kind == "holding")
        assert obstacle.what == f"The {shape.title} comes before it and leaves no straight top face to bear on fence or table."
        assert obstacle.remedy == f"Break this edge by hand, or draw it clear of the {shape.title}."
    # A bevel runs right along, so it can be made in the long itself; a taper cannot, and nothing that follows it can.
    assert any(way.in_the_long for way in found) is shape.lengthwise(drawn.parts["rail"].block)


@pytest.mark.parametrize("shape", [TAPER, BEVEL], ids=["taper", "bevel"])
def test_an_edge_away_from_a_shape_is_routed(shape: Feature) -> None:
    assert any(way.possible for way in routed(chamfered(shape, "inside/bottom")))


def test_an_edge_that_a_notch_crosses_is_not_broken_in_the_long_and_the_order_closes() -> None:
    drawn = chamfered(NOTCH, "inside/top")
    assert all(not way.in_the_long for way in routed(drawn))
    for shop in ("full", "hand-tools"):
        plan = make_plan(replace(drawn, aim="least-time"), workshop(shop), knowledge())
        names = [task.id for task in plan.tasks]
        assert names.index("rail/gap/cut") < names.index("rail/arris/cut")
        assert carry_out(plan, drawn).proof.held
