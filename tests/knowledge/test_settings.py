"""Settings worked out from figures: published values and plain geometry."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.settings import SETTINGS, STAFF_DECIDE, Request, spoken
from sequencer.knowledge.settings.fits import allowance
from sequencer.model.plan import Setting


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return load_knowledge()


def worked(name: str, figures: dict[str, float], use: dict[str, float | str] | None = None) -> dict[str, Setting]:
    return {each.name: each for each in SETTINGS[name].work(Request(figures, use or {}))}


def channel(width: float, kerf: float, distance: float = 8.0) -> dict[str, Setting]:
    return worked(
        "saw-passes",
        {"feature.width": width, "station.kerf": kerf, "feature.distance": distance, "feature.depth": 6.0},
    )


@pytest.mark.parametrize(
    ("width", "kerf", "passes", "shift"),
    [
        (6.0, 3.2, 2, 2.8),
        (10.0, 3.0, 4, 2.333),
        (12.0, 3.2, 4, 2.933),
        (18.0, 3.2, 6, 2.96),
        (3.2, 3.2, 1, 0.0),
        (3.0, 3.0, 1, 0.0),
    ],
)  # plain geometry: n = ceil(w / k), s = (w - k) / (n - 1)
def test_saw_passes_are_those_of_the_table(width: float, kerf: float, passes: int, shift: float) -> None:
    found = channel(width, kerf)
    assert found["passes"].value == passes
    assert found["shift"].value == pytest.approx(shift, abs=0.001)
    assert (found["fence"].label, found["fence"].text) == ("fence to the near side of the blade", "8 mm")


@given(kerf=st.floats(1.0, 4.0), extra=st.floats(0.0, 20.0))
def test_saw_passes_leave_exactly_the_groove(kerf: float, extra: float) -> None:
    width = kerf + extra
    found = channel(width, kerf)
    passes, shift = found["passes"].value, found["shift"].value
    assert passes is not None
    assert shift is not None
    assert shift <= kerf + 1e-6  # no ridge stays between two passes
    assert kerf + (passes - 1) * shift == pytest.approx(width)  # from the first near side to the last far side


def test_a_groove_narrower_than_the_kerf_has_no_passes() -> None:
    found = channel(3.0, 3.2)
    assert found["passes"].value is None
    assert found["passes"].text == STAFF_DECIDE


def test_an_unknown_kerf_is_for_staff() -> None:
    found = worked("saw-passes", {"feature.width": 6.0, "feature.distance": 8.0, "feature.depth": 6.0})
    assert found["passes"].text == found["shift"].text == STAFF_DECIDE
    assert found["fence"].value == 8


def test_the_fence_of_a_rip_cut_is_the_finished_width() -> None:
    found = worked("rip-fence", {"part.width": 90.0, "blank.thickness": 15.0}, {"height": "blank.thickness + 5"})
    assert found["fence"].value == 90
    assert (found["height"].label, found["height"].text) == ("height above the table", "20 mm")


def drilled(
    knowledge: Knowledge, bit: str, diameter: float, hardness: str, speeds: tuple[float, ...] = (), **use: str
) -> Setting:
    figures = {"feature.diameter": diameter, "feature.depth": 20.0}
    request = Request(figures, {"bit": bit, **use}, speeds, hardness, drill_bits=knowledge.drill_bits)
    return next(each for each in SETTINGS["drill"].work(request) if each.name == "speed")


def test_drill_speed_as_advised_where_no_steps_are_known(knowledge: Knowledge) -> None:
    # Web article on drilling speed: twist bits of 6 to 10 mm, 3000 in softwood, 1500 in hardwood.
    assert drilled(knowledge, "twist", 8, "softwood").text == "at most 3000 rev/min"
    assert drilled(knowledge, "twist", 8, "hardwood").value == 1500
    assert drilled(knowledge, "twist", 8, "unknown").value == 1500


def test_drill_speed_is_the_nearest_step_that_is_not_faster(knowledge: Knowledge) -> None:
    steps = (500.0, 750.0, 1000.0, 1500.0, 2400.0)
    assert drilled(knowledge, "twist", 8, "softwood", steps).value == 2400
    assert drilled(knowledge, "twist", 12, "hardwood", steps).text == "750 rev/min"


def test_a_lowest_step_that_is_too_fast_is_for_staff_unless_allowed(knowledge: Knowledge) -> None:
    assert drilled(knowledge, "forstner", 30, "hardwood", (500.0,)).text == STAFF_DECIDE
    assert drilled(knowledge, "forstner", 30, "hardwood", (500.0,), lowest_step="allowed").value == 500


def test_a_bit_larger_than_the_table_is_for_staff(knowledge: Knowledge) -> None:
    # Its rim no faster than that of 25 mm at 750 and 500 rev/min: 750 x 25 / 40 = 468.75, 500 x 25 / 40 = 312.5.
    found = drilled(knowledge, "twist", 40, "softwood", (250.0, 400.0))
    assert (found.value, found.text) == (None, "staff decide, at most 468 rev/min")
    assert drilled(knowledge, "twist", 40, "unknown").text == "staff decide, at most 312 rev/min"
    assert drilled(knowledge, "auger", 40, "unknown").text == STAFF_DECIDE  # turned by hand


def test_drill_speeds_fall_with_diameter_hardness_and_heavier_bits(knowledge: Knowledge) -> None:
    # Wood magazine, drilling and boring tools: larger is slower, harder is slower; Woodworker's Journal: Forstner bits too.
    for bit in knowledge.drill_bits.values():
        for row in bit.speeds:
            assert row.hardwood <= row.softwood
        for small, large in pairwise(bit.speeds):
            assert small.up_to < large.up_to
            assert small.softwood >= large.softwood
            assert small.hardwood >= large.hardwood
    for diameter in (8, 12, 20):
        heavy = drilled(knowledge, "forstner", diameter, "hardwood").value
        assert heavy is not None
        assert heavy <= (drilled(knowledge, "twist", diameter, "hardwood").value or 0)


def screw(knowledge: Knowledge, gauge: float, hardness: str, **use: float | str) -> dict[str, Setting]:
    request = Request({"feature.gauge": gauge}, use, hardness=hardness, screws=knowledge.screws, drill_bits=knowledge.drill_bits)
    return {each.name: each for each in SETTINGS["screw-holes"].work(request)}


def test_screw_holes_of_gauge_8(knowledge: Knowledge) -> None:
    # Two public copies of one table: drills 18, 48, 35; their millimetres from memory.
    assert screw(knowledge, 8, "softwood")["clearance"].value == pytest.approx(4.31)
    assert screw(knowledge, 8, "softwood")["pilot"].value == pytest.approx(1.93)
    assert screw(knowledge, 8, "hardwood")["pilot"].value == pytest.approx(2.79)
    in_steps = screw(knowledge, 8, "softwood", bit_step=0.5)
    assert (in_steps["clearance"].value, in_steps["pilot"].value) == (4.5, 2.0)


def test_the_pilot_hole_of_an_unknown_wood_is_for_staff(knowledge: Knowledge) -> None:
    assert screw(knowledge, 8, "unknown")["pilot"].text == STAFF_DECIDE
    assert screw(knowledge, 8, "unknown")["clearance"].value is not None


def test_a_gauge_without_a_row_is_for_staff(knowledge: Knowledge) -> None:
    assert screw(knowledge, 13, "softwood")["clearance"].text == STAFF_DECIDE


def test_router_passes_never_cut_deeper_than_allowed(knowledge: Knowledge) -> None:
    figures = {"feature.width": 6.0, "feature.distance": 8.0, "feature.depth": 7.0}
    request = Request(figures, {"deepest_pass": 3.0}, cutter_speeds=knowledge.cutter_speeds)
    found = {each.name: each for each in SETTINGS["router-passes"].work(request)}
    assert found["passes"].value == 3
    assert found["height"].text == "2.3 mm, 4.7 mm, then 7 mm above the table"
    # A published router speed table: 24 000 rev/min at most up to 25 mm; the mark on the cutter wins.
    assert found["cutter"].text == "6 mm straight cutter, at most 24000 rev/min, and no more than its mark"


def test_cutter_speeds_stay_under_sixty_metres_a_second(knowledge: Knowledge) -> None:
    # Rim speed = pi d n / 60 000 (plain geometry); 60 m/s leaves room over the table's largest, 55.9 m/s.
    for row in knowledge.cutter_speeds:
        assert 3.14159 * row.up_to * row.most / 60_000 < 60


def test_marking_sizes_are_those_the_work_has() -> None:
    assert set(worked("gauge", {"feature.distance": 8.0})) == {"distance"}
    assert set(worked("gauge", {"feature.distance": 8.0, "feature.depth": 5.0, "feature.width": 6.0})) == {
        "distance", "width", "depth",
    }  # fmt: skip


def test_cramps_are_whole() -> None:
    figures = {"joint.count": 3.0, "joint.reach": 320.0, "station.cramp-time": 60.0}
    found = worked("glue-up", figures, {"cramps": "joint.count / 2"})
    assert found["cramps"].value == 2
    assert found["open"].text == "more than 320 mm"


@pytest.mark.parametrize("name", sorted(SETTINGS))
def test_nothing_known_gives_no_figure_and_no_crash(name: str) -> None:
    for setting in SETTINGS[name].work(Request({}, {})):
        assert setting.value is None or name in ("rip-fence", "saw-passes")
        assert setting.text == STAFF_DECIDE


@pytest.mark.parametrize("name", sorted(SETTINGS))
def test_gives_what_it_says(name: str) -> None:
    function = SETTINGS[name]
    given = [each.name for each in function.work(Request({}, {}))]
    assert given == [each for each in function.gives if each not in function.optional]
    assert function.inner.__doc__


def test_figures_are_spoken_short() -> None:
    assert [spoken(8.0, "mm"), spoken(2.333, "mm"), spoken(45.0, "deg"), spoken(1200.0, "rev/min"), spoken(4.0, "")] == [
        "8 mm", "2.3 mm", "45 degrees", "1200 rev/min", "4",
    ]  # fmt: skip


def table_cutter(knowledge: Knowledge, cutter: float, *steps: float) -> str:
    figures = {"feature.width": cutter, "feature.distance": 8.0, "feature.depth": 3.0}
    request = Request(figures, {"deepest_pass": 3.0}, steps, cutter_speeds=knowledge.cutter_speeds)
    return next(each.text for each in SETTINGS["router-passes"].work(request) if each.name == "cutter")


def test_a_router_runs_at_its_own_step_below_the_limit_of_the_cutter(knowledge: Knowledge) -> None:
    # 18 000 at most for 26 to 50 mm, 24 000 to 25 mm; steps as an example workshop states them.
    steps = (8000.0, 12000.0, 16000.0, 20000.0, 24000.0)
    assert "at most 16000 rev/min" in table_cutter(knowledge, 30, *steps)
    assert "at most 24000 rev/min" in table_cutter(knowledge, 12, *steps)
    assert "at most 18000 rev/min" in table_cutter(knowledge, 30)
    assert "staff decide the speed" in table_cutter(knowledge, 30, 20000.0)


@pytest.mark.parametrize(
    ("fit", "stated", "moves", "within", "outside"),
    [
        ("housed", None, False, (0, 0.3), (-0.1, 0.4)),
        ("sliding", None, True, (0.3, 0.5, 1), (0, 0.2, 1.1)),
        ("sheet-panel", None, False, (0, 0.1, 0.5), (-0.1, 0.6)),  # drawn to the panel's own thickness
        ("driven", None, False, (-0.2, 0), (-0.3, 0.1)),
        ("sliding", 2.0, True, (2,), (1.9, 2.1)),
        (None, None, False, (0, 30), (-0.1,)),
    ],
)
def test_room_by_class_of_fit(
    knowledge: Knowledge,
    fit: str | None,
    stated: float | None,
    moves: bool,
    within: tuple[float, ...],
    outside: tuple[float, ...],
) -> None:
    wants = allowance(knowledge.fits[fit] if fit else None, stated, moves=moves)
    assert [play for play in (*within, *outside) if wants.holds(play)] == list(within)


def test_a_guide_batten_stands_the_sole_before_both_sizes_of_the_blank() -> None:
    figures = {"blank.length": 325.0, "blank.width": 175.0, "blank.thickness": 6.0, "station.sole": 120.0}
    use: dict[str, float | str] = {"to": "blank.length", "across": "blank.width", "depth": "blank.thickness + 3"}
    found = worked("guide-batten", figures, use)
    assert {name: each.value for name, each in found.items()} == {"batten": 205, "across": 55, "cut-depth": 9}
    # A blank no wider than the sole reaches leaves nothing for the batten to lie on.
    assert "across" not in worked("guide-batten", figures | {"blank.width": 120.0}, use)
