"""Sanders, drills with a lead, spraying, hardware, router plane, rasps: what is fitted, who does it, what is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import feature_kinds
from sequencer.knowledge.forms.operations import Operation
from sequencer.model.job import Hardware, HardwareKind
from sequencer.planning.planner import ways_of
from tests.made import job, knowledge, workshop


def operations(station: str) -> list[tuple[str, Operation]]:
    return list(knowledge().stations[station].operations.items())


def test_sanders_leave_grit_and_draw_their_dust_off() -> None:
    for station in ("belt-sander", "bobbin-sander", "hand-held-sanders"):
        for name, operation in operations(station):
            assert operation.spoils_edge_tools, name
            assert {"dust-extraction", "sander-extraction"} & set(operation.guards.all_of), name
            assert "wood-dust" in operation.hazards, name


def test_a_student_is_never_alone_at_belt_bobbin_or_mains_drill() -> None:
    for station in ("belt-sander", "bobbin-sander", "mains-drill"):
        assert knowledge().stations[station].who.supervision == "beside"


def test_only_staff_use_the_belt_sander_held_in_the_hand() -> None:
    assert dict(operations("hand-held-sanders"))["level-joints-by-belt"].who.operator == "staff"


def test_only_staff_spray_in_a_booth_with_ignition_kept_away() -> None:
    booth = knowledge().stations["spray-booth"]
    assert booth.who.operator == "staff"
    assert "respirator" in booth.wear
    for name, operation in booth.operations.items():
        assert operation.guards.all_of == ("spray-booth", "no-ignition"), name
        assert operation.who.operator in (None, "staff"), name
        assert "spray-mist" in operation.hazards, name


def test_no_other_station_sprays() -> None:
    spraying = {
        name
        for name, station in knowledge().stations.items()
        for operation in station.operations.values()
        if "spray" in operation.name.lower()
    }
    assert spraying == {"spray-booth"}


@pytest.mark.parametrize("guard", ["side-handle", "trip-switch"])
def test_a_mains_drill_without_its_side_handle_or_trip_switch_is_not_used(guard: str) -> None:
    shop = workshop("well-equipped")
    bare = {
        name: replace(station, guards=tuple(each for each in station.guards if each != guard))
        for name, station in shop.stations.items()
    }
    ((_, ways, _),) = ways_of("back/top-hanger", job("nest-box"), replace(shop, stations=bare), knowledge())
    way = next(way for way in ways if way.operation == "drill-hole-by-mains-drill")
    assert [each.kind for each in way.obstacles] == ["guard"]


def test_bits_of_a_mains_drill_are_changed_with_the_plug_out_and_both_hands_hold_it() -> None:
    for name, operation in operations("mains-drill"):
        said = operation.instructions
        assert "Unplug the drill before you fit the bit." in said.set, name
        assert "Hold the drill square, both hands on it." in said.cut, name
        assert {"bench-vice", "bench-cramp"} == set(operation.holding.any_of), name


def test_batteries_are_looked_at() -> None:
    drill = knowledge().stations["cordless-drill"]
    assert "battery" in drill.hazards
    assert any("battery" in line for line in drill.stop_when)


@pytest.mark.parametrize("kind", ["hinge", "catch", "knob", "glide", "other"])
def test_each_sort_of_hardware_has_one_way_meant_for_it(kind: HardwareKind) -> None:
    drawn = job("picture-frame")
    hung = replace(drawn, hardware=drawn.hardware | {"hanger": Hardware("hanger", "brass thing", 1, kind=kind)})
    ((_, ways, taken),) = ways_of("whole/hanger", hung, workshop("hand-tools"), knowledge())
    assert taken is not None
    assert [way.operation for way in ways if way.meant] == [taken.operation]
    use = knowledge().stations["fitting-hardware"].operations[taken.operation].use
    assert use["things"] == kind


def test_hand_stations_of_the_poorest_school_hold_the_work() -> None:
    for station in ("router-plane-and-spokeshave", "rasps-and-files"):
        kinds = {kind for _, operation in operations(station) for kind in operation.makes}
        assert kinds <= set(feature_kinds())
        for name, operation in operations(station):
            assert set(operation.holding.any_of) <= {"bench-vice", "bench-cramp"}, name


def test_every_file_has_its_handle_checked() -> None:
    assert "Check that every tool has a tight handle." in knowledge().stations["rasps-and-files"].before_starting


def test_whoever_signs_a_student_off_has_three_things_to_see() -> None:
    asked = {
        name
        for name, kind in knowledge().stations.items()
        if any(
            who.gate == "signed-off" and who.operator == "student"
            for who in (kind.who, *(operation.who for operation in kind.operations.values() if operation.who))
        )
    }
    assert {"pillar-drill", "jigsaw"} <= asked
    assert {name: len(knowledge().stations[name].seen_at_sign_off) for name in asked} == dict.fromkeys(
        asked, int(knowledge().working.seen_at_sign_off)
    )
