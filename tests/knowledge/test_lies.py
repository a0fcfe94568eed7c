"""How pieces lie, what cuts leave, and the settings that only make sense with both."""

from __future__ import annotations

from collections.abc import Mapping
from math import radians, tan

import pytest

from sequencer.features import Feature
from sequencer.knowledge.forms.operations import Lies, Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS, Request, bit_of
from sequencer.model.frame import Block, FaceName, axis_of, opposite
from sequencer.model.quantities import QUANTITIES
from sequencer.reading.expressions import parse
from tests.features.samples import SAMPLES, make

KNOWLEDGE = load_knowledge()
OPERATIONS = {
    name: (station, operation) for station in KNOWLEDGE.stations.values() for name, operation in station.operations.items()
}


def lies_of(name: str) -> Lies:
    station, operation = OPERATIONS[name]
    return operation.lies or station.lies


def faces(feature: Feature) -> dict[str, FaceName]:
    """The words of `lies` that depend on the feature, as the README explains them."""
    face = feature.opens()[0]
    start = next(each for each in feature.measured_from() if axis_of(each) != axis_of(face))
    return {"face": face, "behind": opposite(face), "from": start, "across": opposite(start)}


def settings_of(name: str, figures: Mapping[str, float]) -> dict[str, float | None]:
    operation = OPERATIONS[name][1]
    request = Request(figures, operation.use, drill_bits=KNOWLEDGE.drill_bits, cutter_speeds=KNOWLEDGE.cutter_speeds)
    return {each.name: each.value for each in SETTINGS[operation.settings].work(request)}


@pytest.mark.parametrize(
    ("tool", "stations"),
    [
        ("below", {"saw-bench", "router-table", "surface-planer"}),
        (
            "beside",
            {
                *("band-saw", "scroll-saw", "mitre-saw", "pull-over-saw"),
                *("disc-sander", "belt-sander", "bobbin-sander", "laser-cutter", "lathe"),
            },
        ),
        ("fence", {"spindle-moulder"}),
        ("above", {"thicknesser", "pillar-drill", "hollow-chisel-mortiser"}),
    ],
)
def test_a_machine_cuts_from_where_its_cutter_stands(tool: str, stations: set[str]) -> None:
    machines = {name: station for name, station in KNOWLEDGE.stations.items() if station.power == "machine"}
    assert {name for name, station in machines.items() if station.lies.tool == tool} == stations
    for name in stations:
        for key in machines[name].operations:
            assert lies_of(key).tool == tool, key


@pytest.mark.parametrize(
    ("name", "down", "against", "stop"),
    [
        # common practice: the true face on the table, the true edge against the fence, the squared end against the stop
        ("rip-on-saw", "face-side", "face-edge", ""),
        ("rip-on-band-saw", "face-side", "face-edge", ""),
        ("crosscut-with-sled", "face-side", "face-edge", "first-end"),
        ("cut-apart-on-mitre-saw", "face-side", "face-edge", "first-end"),
        # common practice: a hollow face is planed on its hollow side; the edge with the true face against the fence
        ("plane-face-side-by-machine", "face-side", "", ""),
        ("plane-face-edge-by-machine", "face-edge", "face-side", ""),
        # common practice: a thicknesser makes the upper face parallel to the one it lies on
        ("thickness-by-machine", "face-side", "", ""),
        ("width-by-machine", "face-edge", "", ""),
        ("plane-to-thickness-by-hand", "face-side", "", ""),
        ("plane-to-width-by-hand", "face-edge", "", ""),
        # a cutter from below cuts into the face on the table; a plough from above, its fence along the same edge
        ("groove-on-saw", "face", "from", ""),
        ("rout-groove", "face", "from", ""),
        ("plough-groove", "behind", "from", ""),
        # by gauge lines and marks alone
        ("saw-and-chisel-housing", "behind", "", ""),
        ("saw-end-on-bench-hook", "behind", "", ""),
        ("drill-blind-hole", "behind", "", ""),
    ],
)
def test_how_a_piece_lies(name: str, down: str, against: str, stop: str) -> None:
    lies = lies_of(name)
    assert (lies.down, lies.against, lies.stop) == (down, against, stop)


@pytest.mark.parametrize("name", [name for name, (_, each) in OPERATIONS.items() if each.cut != "none"])
def test_no_feature_of_any_kind_lies_and_bears_on_one_axis(name: str) -> None:
    lies = lies_of(name)
    for kind in OPERATIONS[name][1].makes:
        for sample in SAMPLES.get(kind, []):
            words = faces(make(kind, **sample))
            used = [axis_of(words[word]) for word in (lies.down, lies.against) if word in words]
            assert len(set(used)) == len(used), kind


def test_a_fence_has_a_face_and_a_stop_block_an_end() -> None:
    fenced = {name for name, (_, each) in OPERATIONS.items() if "fence" in SETTINGS[each.settings].gives}
    assert {"rip-on-saw", "rip-bevel", "rout-chamfer", "plough-groove", "plane-rebate"} <= fenced
    assert all(lies_of(name).against for name in fenced)
    stopped = {name for name in OPERATIONS if lies_of(name).stop}
    assert stopped == {
        "crosscut-with-sled", "cut-apart-on-sled", "rough-cut-on-mitre-saw", "crosscut-on-mitre-saw", "cut-apart-on-mitre-saw",
        "cut-short-piece-on-mitre-saw", "cut-short-parts-off-on-mitre-saw",
        "rough-cut-on-pull-over-saw", "crosscut-on-pull-over-saw", "cut-apart-on-pull-over-saw",
    }  # fmt: skip


def test_a_rebate_on_the_saw_is_fenced_from_the_edge_opposite() -> None:
    # Published saw practice: the rebate's waste is never between blade and fence.
    rebate = make("rebate", edge="inside/top", width=12, depth=9)
    words = faces(rebate)
    lies = lies_of("rebate-on-saw")
    assert (words[lies.down], words[lies.against]) == ("inside", "bottom")
    figures = {"blank.width": 90.0, "feature.width": 12.0, "feature.depth": 9.0, "station.kerf": 3.0}
    found = settings_of("rebate-on-saw", figures)
    # The first kerf starts at the rebate's shoulder, 78 from the fence; four kerfs of 3 reach the edge.
    assert (found["fence"], found["passes"], found["shift"], found["height"]) == (78, 4, 3, 9)


@pytest.mark.parametrize(("edge", "low"), [("top", "inside"), ("bottom", "outside")])
def test_a_bevel_is_ripped_with_its_narrowed_face_on_the_table(edge: FaceName, low: FaceName) -> None:
    block = Block(600.0, 90.0, 18.0)
    bevel = make("bevel", edge=edge, low=low, angle=30)
    lies, words = lies_of("rip-bevel"), faces(bevel)
    assert (words[lies.down], words[lies.against]) == (low, opposite(edge))
    found = settings_of("rip-bevel", bevel.figures(block) | {"blank.thickness": 18.0})
    # A blade that leans from the fence by 30 degrees is 18 tan 30 = 10.39 mm further from it at the top of the wood.
    assert found["fence"] == pytest.approx(90 - 18 * tan(radians(30)))
    assert (found["angle"], found["height"]) == (30, 23)


def test_a_chamfer_s_cutter_stands_as_high_as_the_chamfer_with_its_bearing_at_the_fence() -> None:
    found = settings_of("rout-chamfer", {"feature.width": 5.0})
    # Plain geometry: at 45 degrees the cutter reaches as far in as it stands high; two passes of at most 3 mm.
    assert (found["fence"], found["height"], found["passes"]) == (0, 5, 2)
    assert found["cutter"] == 5 + 13 + 5


def test_a_rebate_plane_is_set_to_the_width_and_depth_of_the_rebate() -> None:
    assert settings_of("plane-rebate", {"feature.width": 10.0, "feature.depth": 6.0}) == {"fence": 10, "depth": 6}


def test_what_planes_leaves_both_ends_for_a_later_cut() -> None:
    """Everything that brings wood to size with a plane or a planer; common practice, 25 mm and more by machine, 10 by hand."""
    sized = {"face-side", "face-edge", "thickness", "width"}
    planed = {
        name: station
        for name, (station, operation) in OPERATIONS.items()
        if sized & set(operation.makes)
        and (operation.cut == "plane" or any("Plane" in sentence for sentence in operation.instructions.cut))
    }
    assert {name for name, (_, each) in OPERATIONS.items() if "run-out" in each.leaves} == set(planed)
    for name, station in planed.items():
        assert station.figures["run-out"].default == (25 if station.power == "machine" else 5), name


def bored_blind() -> list[tuple[str, StationKind, Operation]]:
    """Operations that bore and stop inside the wood."""
    return [
        (name, station, operation)
        for name, (station, operation) in OPERATIONS.items()
        if operation.cut == "bore" and any((limit.of, limit.at_most) == ("feature.through", "0") for limit in operation.applies)
    ]


def test_every_hole_that_stops_in_the_wood_shows_the_point_of_its_bit() -> None:
    blind = {name for name, _, _ in bored_blind()}
    assert len(blind) == 7
    bored_for_chisels = {"machine-blind-mortise", "bore-and-pare-mortise", "bore-and-chisel-round-mortise", "chisel-blind-slot"}
    for_dowels = {"drill-dowel-holes", "bore-dowel-holes-by-hand", "drill-dowel-holes-by-hand"}
    across_rods = {"drill-round-stock", "hand-drill-round-stock"}
    with_a_wide_mouth = {"brace-counterbored-hole", "brace-wide-counterbored-hole"}
    pointed = {name for name, (_, each) in OPERATIONS.items() if "drill point" in each.leaves}
    assert pointed == blind | for_dowels | bored_for_chisels | across_rods | with_a_wide_mouth


def test_wood_is_left_below_the_point_of_every_bit() -> None:
    for name, station, operation in bored_blind():
        share = KNOWLEDGE.drill_bits[bit_of(operation)].point.share
        left = next(limit.at_least for limit in operation.limits if limit.of == "feature.remaining")
        figure = station.figures.get("largest-diameter")
        largest = figure.default if figure is not None and figure.default is not None else 25.0
        for diameter in (3.0, 8.0, largest):
            value = parse(left, QUANTITIES).value({"feature.diameter": diameter})
            assert value >= share * diameter + 1, (name, diameter)


def test_points_of_bits() -> None:
    # Plain geometry: the cone of a twist bit of 118 degrees is half its diameter over tan 59 degrees high.
    points = {name: bit.point.share for name, bit in KNOWLEDGE.drill_bits.items()}
    assert points["twist"] == pytest.approx(0.5 / tan(radians(59)), abs=0.005)
    assert points["drill-countersink"] == points["twist"]
    assert points["forstner"] < points["lip-and-spur"] < points["auger"]
    assert KNOWLEDGE.drill_bits["auger"].speeds == ()


def test_the_bit_an_operation_bores_with() -> None:
    assert bit_of(OPERATIONS["drill-blind-hole"][1]) == "lip-and-spur"
    assert bit_of(OPERATIONS["brace-blind-hole"][1]) == "auger"
    assert bit_of(OPERATIONS["drill-screw-holes-by-cordless"][1]) == "twist"
    assert bit_of(OPERATIONS["rip-on-saw"][1]) == ""
