"""What the room's air and warmth, and a station's own figures, do to a plan."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.findings import Finding
from sequencer.model.workshop import Workshop
from sequencer.planning.fitness import MARK_UNKNOWN, fitness_findings
from sequencer.planning.moving import moving_findings, moving_parts
from sequencer.planning.planner import make_plan
from sequencer.planning.remarks import workshop_findings
from sequencer.planning.shop import Premises, Shop
from tests.design.jobs import box, tenon_frame
from tests.design.jobs import knowledge as two_timbers
from tests.made import job, knowledge, plan, workshop
from tests.outside.bench import shop


def said(humidity: tuple[float, float] | None, temperature: float | None = 20.0, **changes: float) -> dict[str, Finding]:
    made = replace(tenon_frame(), **changes)  # type: ignore[arg-type]
    room = replace(workshop(), humidity=humidity, temperature=temperature)
    return {each.code: each for each in moving_findings(Shop(job=made, workshop=room, knowledge=two_timbers()))}


def test_a_free_panel_gets_the_gap_of_the_room_s_swing() -> None:
    gap = said((35, 65))["season-gap"]
    panel = tenon_frame().parts[gap.subject]
    # 6.96 to 12.00 %: 5.04 points.
    moves = panel.width * 0.00234 * 5.04
    assert f"moves {moves:.1f} mm over the year" in gap.what
    assert f"leave {moves / 2:.1f} mm on each side" in gap.remedy
    assert gap.source.startswith("Wood Handbook")


def test_without_the_room_s_air_the_drawing_s_swing_counts() -> None:
    found = said(None)
    assert set(found) == {"season-gap"}
    assert "x 4.0" in found["season-gap"].what


def test_a_wider_swing_than_the_drawing_counts_on_is_a_warning() -> None:
    found = said((35, 65))
    assert found["moisture-swing"].level == "warning"
    assert "moisture_change: 5.0" in found["moisture-swing"].remedy
    assert "moisture-swing" not in said((35, 65), moisture_change=5.1)
    assert "moisture-swing" not in said((45, 55))


def test_the_plan_says_how_damp_the_wood_should_be() -> None:
    note = said((35, 65))["wood-moisture"]
    assert "from 35 to 65 % humidity at 20 degrees" in note.what
    assert "from 7.0 to 12.0 % moisture" in note.what
    assert "between 7 and 12 %" in note.remedy


def test_a_room_outside_what_is_known_of_movement_is_said() -> None:
    assert "moisture-outside" in said((20, 60))
    assert "moisture-outside" in said((40, 80))
    assert "moisture-outside" not in said((35, 65))


def test_sheet_panels_need_no_gap() -> None:
    room = replace(workshop(), humidity=(35.0, 65.0))
    assert "season-gap" not in {each.code for each in moving_findings(Shop(job=box(), workshop=room, knowledge=two_timbers()))}


def test_the_card_says_how_much_to_leave_beside_the_panel() -> None:
    made = tenon_frame()
    room = Shop(job=made, workshop=replace(workshop(), humidity=(35.0, 65.0), temperature=20.0), knowledge=two_timbers())
    (gap,) = moving_parts(room, made.joints).values()
    panel = next(part for part in made.parts.values() if part.name == "panel")
    half = panel.width * 0.00234 * 5.04 / 2
    assert half <= gap < half + 0.1


def faulty(station: str, **figures: float) -> list[Finding]:
    return list(fitness_findings(Premises(shop(station, **figures), knowledge())))


def test_the_example_workshop_has_no_station_that_does_not_go_together() -> None:
    assert list(fitness_findings(Premises(workshop(), knowledge()))) == []


def test_a_riving_knife_that_does_not_fit_the_blade_is_a_warning_of_the_plan() -> None:
    (found,) = faulty("saw-bench", plate=2.2, kerf=3.0, knife=2.2)
    assert (found.level, found.code, found.subject) == ("warning", "riving-knife", "saw-bench")
    assert "too thin for a blade of 2.2 mm" in found.what
    loose = shop("saw-bench", plate=2.2, kerf=3.0, knife=3.0)
    assert found.code in {
        each.code for each in workshop_findings(Shop(job=job("herb-caddy"), workshop=loose, knowledge=knowledge()))
    }


def test_a_blade_slower_than_its_spindle_is_said_and_nothing_is_sawn_with_it() -> None:
    fast = shop("saw-bench", spindle_speed=4000, marked_speed=3800)
    (found,) = fitness_findings(Premises(fast, knowledge()))
    assert "turns at 4000 rev/min, 52 m/s at the rim; what is fitted is marked 3800 at most" in found.what
    plan = make_plan(job("herb-caddy"), fast, knowledge())
    assert "saw-bench" not in {step.station_kind for step in plan.steps}
    assert "over-marked-speed" in {each.code for each in plan.findings}


@pytest.mark.parametrize(
    "figures", [{"spindle_speed": 3800, "marked_speed": 3800}, {"spindle_speed": 9000}, {"marked_speed": 100}]
)
def test_at_its_mark_or_with_one_figure_unknown_nothing_is_said(figures: dict[str, float]) -> None:
    room = shop("saw-bench", **figures)
    saw = room.stations["saw-bench"]
    unstated = {"spindle-speed", "marked-speed"} - {name.replace("_", "-") for name in figures}
    stated = {name: value for name, value in saw.figures.items() if name not in unstated}
    only = replace(room, stations={"saw-bench": replace(saw, figures=stated)})
    assert list(fitness_findings(Premises(only, knowledge()))) == []


def test_a_station_out_of_service_is_not_judged() -> None:
    broken = shop("saw-bench", spindle_speed=4000, marked_speed=3800)
    station = replace(broken.stations["saw-bench"], out_of_service="blade")
    assert list(fitness_findings(Premises(replace(broken, stations={"saw-bench": station}), knowledge()))) == []


def band_saw(**figures: float) -> float | None:
    room: Workshop = workshop()
    old = room.stations["band-saw"]
    station = replace(old, figures={name.replace("_", "-"): value for name, value in figures.items()})
    return Premises(room, knowledge()).station_figures(knowledge().stations["band-saw"], station).get("station.smallest-radius")


def test_the_blade_s_width_gives_the_tightest_curve() -> None:
    assert band_saw(blade_width=6) == 16
    assert band_saw(blade_width=13) == 102
    assert band_saw() == 40
    assert band_saw(blade_width=6, smallest_radius=30) == 30  # what the school has tried counts
    assert band_saw(blade_width=60) is None  # no blade so wide is listed: staff decide


def test_glue_takes_longer_in_a_cool_room() -> None:
    cool = make_plan(job("herb-caddy"), replace(workshop(), temperature=14.0), knowledge())
    (cramped,) = {each.value for step in cool.steps for each in step.settings if each.name == "cramp-time"}
    (usual,) = {each.value for step in plan("herb-caddy").steps for each in step.settings if each.name == "cramp-time"}
    assert (usual, cramped) == (60, 85)
    assert max(step.minutes for step in cool.steps if step.kind == "wait") >= 2040


@pytest.mark.parametrize("known", [{}, {"spindle-speed": 4000.0}, {"marked-speed": 7000.0}])
def test_a_mark_that_is_not_known_is_never_silent(known: dict[str, float]) -> None:
    room = workshop()
    both = {"spindle-speed", "marked-speed"}
    saw = room.stations["mitre-saw"]
    figures = {name: value for name, value in saw.figures.items() if name not in both} | known
    unmarked = replace(room, stations={**room.stations, "mitre-saw": replace(saw, figures=figures)})
    made = make_plan(job("herb-caddy"), unmarked, knowledge())
    (found,) = (each for each in made.findings if each.code == MARK_UNKNOWN)
    assert (found.level, found.subject) == ("warning", "mitre-saw")
    assert "marked speed not known here: staff check" in found.what
    numbers = [str(step.number) for step in made.steps if step.station == "mitre-saw"]
    assert numbers
    assert f" {', '.join(numbers)}:" in found.what
    assert all(name in found.what for name in both - known.keys())


def test_the_example_workshops_state_their_speeds() -> None:
    made = plan("herb-caddy")
    assert MARK_UNKNOWN not in {each.code for each in made.findings}
