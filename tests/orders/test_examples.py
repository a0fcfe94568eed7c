"""The examples are sound drawings, their arithmetic closes as their heads say, and the workshops name what there is."""

from __future__ import annotations

import pytest

from sequencer.design.checking import check_design
from sequencer.design.placing import place
from sequencer.model.frame import Axis
from sequencer.reading.job import read_job
from sequencer.reading.workshop import read_workshop
from tests.made import EXAMPLES, ROOT, WORKSHOPS, job, knowledge, workshop


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_reads_with_nothing_to_say(name: str) -> None:
    assert read_job(ROOT / "examples" / name / "job.yaml")[1] == ()


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_is_a_sound_drawing(name: str) -> None:
    found = [str(each) for each in check_design(job(name), knowledge()) if each.level != "note"]
    assert found == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_piece_of_an_example_has_its_place(name: str) -> None:
    placed = place(job(name))
    assert placed.unplaced == ()
    assert len(placed.groups) == 1


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_says_what_it_teaches_and_what_the_quick_ones_do(name: str) -> None:
    assert job(name).learning_aim
    assert job(name).extension


@pytest.mark.parametrize("name", WORKSHOPS)
def test_a_workshop_reads_and_names_what_there_is(name: str) -> None:
    shop, notes = read_workshop(ROOT / "examples" / "workshops" / f"{name}.yaml")
    known = knowledge()
    assert notes == ()
    for station in shop.stations.values():
        kind = known.stations[station.kind]
        assert set(station.guards) <= set(kind.guards), station.name
        assert set(station.holding) <= set(known.holding), station.name
        assert set(station.figures) <= set(kind.figures), station.name
    assert {each.kind or each.name for each in shop.counted.values()} - set(known.holding) <= {"drying-place"}


def test_the_well_equipped_workshop_has_every_kind_of_station() -> None:
    assert {station.kind for station in workshop("well-equipped").stations.values()} == set(knowledge().stations)


def test_the_hand_tool_workshop_has_no_machine() -> None:
    powers = {knowledge().stations[station.kind].power for station in workshop("hand-tools").stations.values()}
    assert powers <= {"hand", "bench"}


@pytest.mark.parametrize("name", WORKSHOPS)
def test_there_is_work_holding_for_what_the_stations_name(name: str) -> None:
    """What the benches hold the work with is counted, so that it can be laid out."""
    shop = workshop(name)
    counted = {each.kind or each.name for each in shop.counted.values()}
    benches = [each for each in shop.stations.values() if knowledge().stations[each.kind].power in ("hand", "bench")]
    assert {holding for bench in benches for holding in bench.holding} <= counted


# The sums in the heads of the job files, in mm, worked there by hand.


@pytest.mark.parametrize(
    ("name", "piece", "axis", "low", "high"),
    [
        # 15 + 170 for the pots, then the divider; floor from groove floor to groove floor, 8 up; handle 6 out at both ends.
        ("herb-caddy", "divider", "x", 185, 200),
        ("herb-caddy", "divider", "y", 14, 90),
        ("herb-caddy", "floor", "x", 10, 310),
        ("herb-caddy", "floor", "z", 10, 180),
        ("herb-caddy", "handle", "x", -6, 326),
        # 75 up the back; 10 in from its edges; front 5 behind the front edges of the sides.
        ("nest-box", "side.left", "x", 75, 355),
        ("nest-box", "side.left", "y", 140, 160),
        ("nest-box", "front", "z", 140, 160),
        ("nest-box", "floor", "z", 20, 140),
        # Seat 30 beyond end frames 300 apart; rails 11 behind the faces of the legs.
        ("step-stool", "seat.1", "z", -286, 74),
        ("step-stool", "end-rail.1", "z", 11, 33),
        ("step-stool", "spine", "z", -276, 64),
        # 1 mm play round sheet and backing; the sheet stands on the lower rebate.
        ("picture-frame", "clear-sheet", "x", 23, 223),
        ("picture-frame", "clear-sheet", "y", 22, 172),
        ("picture-frame", "backing", "z", 5, 8),
    ],
)  # fmt: skip
def test_a_piece_lies_where_the_sums_say(name: str, piece: str, axis: Axis, low: float, high: float) -> None:
    assert place(job(name)).span(piece, axis) == pytest.approx((low, high), abs=0.01)
