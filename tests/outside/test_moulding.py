"""Spindle moulder and held router against published rules and formulas. The table in README.md says how each was seen."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from typing import Any

import pytest

from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.settings import STAFF_DECIDE
from sequencer.knowledge.settings.speeds import rim_speed
from sequencer.model.job import Job
from sequencer.model.workshop import Workshop
from tests.features.samples import make
from tests.made import knowledge, without_guard, workshop
from tests.outside.bench import against, board, possible, set_to, worked

MOULDER, ROUTER = knowledge().stations["spindle-moulder"], knowledge().stations["hand-held-router"]
SHOP = workshop("well-equipped")


def moulded(operations: dict[str, Operation]) -> list[Any]:
    return [pytest.param(operation, id=name) for name, operation in operations.items()]


def rebate(**other: Any) -> Job:
    return board(make("rebate", name="cut", edge="inside/top", width=12, depth=6, **other))


def groove(width: float = 6, depth: float = 6, **other: Any) -> Job:
    return board(
        make("groove", name="cut", **{"face": "inside", "from": "bottom", "distance": 20}, width=width, depth=depth, **other)
    )


@pytest.mark.parametrize("guard", ["false-fence", "cutter-cover", "limited-cutter-block", "push-block"])
def test_no_moulding_without_the_guard_that_hse_names(guard: str) -> None:
    # HSE WIS18 rev 2: false fence and pressure pads for straight work, chip-limited tooling; HSE planer page: push block.
    assert possible(rebate(), "rail/cut/cut", "mould-rebate", SHOP)
    assert "not fitted" in against(rebate(), "rail/cut/cut", "mould-rebate", without_guard(SHOP, guard))


def test_pads_or_a_power_feed_enclose_the_cutter_and_one_of_them_must_be_there() -> None:
    # 29 CFR 1910.213(m)(1), as restated: cage or adjustable guard; a maker's manual: power feed, or pads that form a tunnel.
    without_pads = without_guard(SHOP, "pressure-pads")
    assert possible(rebate(), "rail/cut/cut", "mould-rebate", without_pads)
    assert possible(rebate(), "rail/cut/cut", "mould-rebate", without_guard(SHOP, "power-feed"))
    assert "not fitted" in against(rebate(), "rail/cut/cut", "mould-rebate", without_guard(without_pads, "power-feed"))


def test_stopped_work_is_refused() -> None:
    # HSE WIS18 rev 2: stopped work needs backstops and jigs; here none is planned, so it is refused.
    assert "dropping on" in against(rebate(stops={"left": 40}), "rail/cut/cut", "mould-rebate", SHOP)


def test_the_block_is_marked_for_hand_feed() -> None:
    # EN 847-1, mark MAN, as quoted in a test report after EN 1870-1, 6.3.
    block = set_to(rebate(), "rail/cut/cut", "mould-rebate", SHOP)["block"]
    assert block.text.endswith("marked MAN")
    assert "Read the mark for hand feed on the block." in MOULDER.before_starting


def test_the_brake_and_the_fence_are_checked_before_starting() -> None:
    # HSE WIS18 (revised): at rest within 10 seconds. Secondary page on shapers: fence at least 18 in on each side.
    assert "Check that the brake stops the spindle within 10 seconds." in MOULDER.before_starting
    assert "Check that the fence runs on for 460 mm past the cutter." in MOULDER.before_starting
    assert 18 * 25.4 < 460


def test_noise_of_a_moulder_nobody_has_measured_is_the_published_upper_figure() -> None:
    # HSE woodworking noise page: vertical spindle moulder 95 to 100 dB(A).
    assert MOULDER.noise is not None
    assert MOULDER.noise.default == 100


@pytest.mark.parametrize(
    ("diameter", "turns", "speed"), [(100, 6000, 31.4), (125, 7500, 49.1), (125, 9000, 58.9), (150, 6000, 47.1)]
)
def test_rim_speed(diameter: float, turns: float, speed: float) -> None:
    # v = pi d n / 60 000, worked out here.
    assert rim_speed(diameter, turns) == pytest.approx(speed, abs=0.05)
    assert rim_speed(diameter, turns) == pytest.approx(pi * diameter / 1000 * turns / 60)


@pytest.mark.parametrize(
    ("steps", "speed"),
    [
        ((3000, 4500, 6000, 7500, 9000), 7500),
        ((3000, 4500, 9000), 9000),
        ((3000, 4500, 7500), 7500),
        ((3000, 4500), None),
        ((12000,), None),
    ],
)
def test_the_spindle_runs_within_the_published_rim_speeds_or_staff_decide(steps: tuple[float, ...], speed: float | None) -> None:
    # A machine maker's manual for a spindle moulder: 40 to 70 m/s against kickback; here 60 at most, and the slowest step
    # of those, so that what breaks loose flies with the least energy (plain physics). A block of 125 mm.
    use = {"deepest_pass": 5.0, "slowest_rim": 40.0, "fastest_rim": 60.0}
    figures = {"station.cutter-diameter": 125.0, "feature.width": 12.0, "feature.depth": 6.0}
    found = worked("spindle-rebate", figures, "unknown", *steps, **use)["speed"]
    assert found.value == speed
    assert (found.text == STAFF_DECIDE) == (speed is None)
    assert speed is None or 40 <= rim_speed(125, speed) <= 70


def test_a_hand_fed_groove_is_at_most_20_mm_wide() -> None:
    # EN 1870-1 scope and 6.3 m, as quoted: grooving tool for hand feed, taken over from the saw bench.
    top = {"face": "top", "from": "inside", "distance": 6}
    wide = board(make("groove", name="cut", **top, width=21, depth=6), thick=40, stock=40)
    assert "hand-fed" in against(wide, "rail/cut/cut", "mould-edge-groove", SHOP)


def test_nothing_is_moulded_on_an_end() -> None:
    # 29 CFR 1910.213(m), as restated, and HSE WIS18: the piece must be guided past the opening; an end dips into it.
    end = board(make("rebate", name="cut", edge="inside/left", width=12, depth=6))
    assert not possible(end, "rail/cut/cut", "mould-rebate", SHOP)


@pytest.mark.parametrize("operation", moulded(ROUTER.operations))
def test_a_held_router_takes_at_most_an_eighth_of_an_inch_a_pass(operation: Operation) -> None:
    # A router maker's manual: 1/8 in (3.2 mm) a pass whatever the cutter; all cuts at one depth before the next.
    assert float(operation.use["deepest_pass"]) <= 25.4 / 8


def test_depth_is_reached_in_equal_passes() -> None:
    # The same manual; 7 mm by at most 3 mm are three passes.
    found = set_to(groove(depth=7, width=8), "rail/cut/cut", "hand-rout-groove", SHOP)
    assert found["depth"].text == "2.3 mm, 4.7 mm, then 7 mm"


@pytest.mark.parametrize(("width", "cutter", "passes", "each"), [(6, 6, 1, 0), (9, 8, 2, 1), (20, 12, 2, 8), (26, 12, 3, 7)])
def test_passes_side_by_side_make_the_width_and_leave_no_ridge(width: float, cutter: float, passes: float, each: float) -> None:
    # n = ceil(w / d), s = (w - d) / (n - 1), worked out here.
    found = set_to(groove(width=width), "rail/cut/cut", "hand-rout-groove", SHOP)
    assert (found["cutter"].value, found["passes"].value, found["packing"].value) == (cutter, passes, each)
    assert cutter + (passes - 1) * each == width
    assert each <= cutter


def test_an_edge_guide_is_set_for_the_last_pass_and_packing_draws_the_first_ones_nearer() -> None:
    # Plain geometry: the guide is fixed to the router. Groove 14 wide, 20 from the edge, cutter 12: without packing the cutter's
    # near side is 20 + 14 - 12 = 22 from the edge; a piece 2 mm thick between guide and edge makes that 20.
    found = set_to(groove(width=14), "rail/cut/cut", "hand-rout-groove", SHOP)
    assert (found["fence"].value, found["packing"].value) == (22, 2)
    assert found["packing"].text == "one piece 2 mm thick"
    assert set_to(groove(width=26), "rail/cut/cut", "hand-rout-groove", SHOP)["packing"].text == "2 pieces, each 7 mm thick"


@pytest.mark.parametrize(
    "name", ["hand-rout-groove", "hand-rout-stopped-groove", "hand-rout-housing", "hand-rout-stopped-housing"]
)
def test_all_packing_is_in_at_the_start_and_comes_out_unplugged(name: str) -> None:
    # Plain geometry, guide and batten alike: the pass without packing is the one furthest in, and is made last.
    said = ROUTER.operations[name].instructions
    start = next(at for at, line in enumerate(said.cut) if line.startswith("Put all packing at the "))
    out = said.cut.index("Take one piece of packing out for each further pass.")
    assert start < out
    assert said.cut[out - 1] == "Unplug the router."


def test_the_batten_stands_half_of_base_less_cutter_from_the_far_line() -> None:
    # Plain geometry: base 150, cutter 12, housing from 100 to 115: 115 + (150 - 12) / 2.
    housing = board(make("housing", name="cut", **{"face": "inside", "from": "left", "distance": 100}, width=15, depth=5))
    assert set_to(housing, "rail/cut/cut", "hand-rout-housing", SHOP)["batten"].value == 184


@pytest.mark.parametrize("operation", moulded(ROUTER.operations))
def test_a_held_router_is_guided_and_goes_to_the_right(operation: Operation) -> None:
    # Wood magazine on feed direction: edge guide nearest to you, straightedge beyond, in both cases to the right. Victorian
    # list of restricted plant: plunge router without guide or template.
    assert operation.feed.startswith("From left to right")
    assert {"edge-guide", "guide-bearing", "guide-bush", "square-batten"} & {*operation.guards.all_of, *operation.holding.all_of}


@pytest.mark.parametrize(("kind", "supervision"), [("spindle-moulder", "beside"), ("hand-held-router", "beside")])
def test_restricted_plant_is_for_staff(kind: str, supervision: str) -> None:
    # Victorian list of restricted plant names spindle moulder, power shaper and plunge router without guide.
    who = knowledge().stations[kind].who
    assert (who.operator, who.supervision, who.gate) == ("staff", supervision, "signed-off")


def test_the_speed_of_a_large_cutter_is_limited_in_words() -> None:
    # HowStuffWorks, router bit speed: 24 000 up to 25 mm; a held router takes none larger here.
    found = worked("router-rebate", {"feature.width": 12.0, "feature.depth": 6.0}, tool=16.0, deepest_pass=3.0)
    assert "at most 24000 rev/min, and no more than its mark" in found["tool"].text
    assert ROUTER.figures["largest-diameter"].default == 25


def test_speeds_that_suit_no_block_leave_the_spindle_to_staff() -> None:
    # The manual's 40 m/s again, through a job: the slowest two steps alone.
    found = set_to(rebate(), "rail/cut/cut", "mould-rebate", with_speeds_of_moulder(3000, 4500))
    assert found["speed"].text == STAFF_DECIDE


def with_speeds_of_moulder(*speeds: float) -> Workshop:
    station = replace(SHOP.stations["spindle-moulder"], speeds=speeds)
    return replace(SHOP, stations={**SHOP.stations, "spindle-moulder": station})
