"""Jigsaw, circular saw held in the hands and laser cutter against regulators, makers' manuals and workshop rules."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import Feature
from tests.features.samples import make
from tests.made import knowledge
from tests.outside.bench import against, equipped, possible, set_to, sheet

SAW, JIGSAW, LASER = "portable-circular-saw", "jigsaw", "laser-cutter"
RIP, LENGTH = "trim-sheet-to-width-with-circular-saw", "crosscut-sheet-with-circular-saw"
EIGHTH, QUARTER = 25.4 / 8, 25.4 / 4
"""Fractions of an inch, mm."""


def corner(radius: float = 60.0) -> Feature:
    return make("rounded-corner", name="cut", corners=["top/left"], radius=radius)


def opening() -> Feature:
    return make("cut-out", name="cut", length=80, width=40, radius=5)


# 29 CFR 1910.243(a)(1) and WAC 296-807-12005: guard above and below the base, the lower one returns by itself, a switch that
# must be held in. Read in copies of the state rule; the federal one in pages that restate it.
@pytest.mark.parametrize("guard", ["blade-enclosure", "self-closing-guard", "hold-to-run"])
@pytest.mark.parametrize(("task", "way"), [("rail/width", RIP), ("rail/length", LENGTH)])
def test_no_cut_with_a_held_circular_saw_that_lacks_a_guard_of_the_rules(guard: str, task: str, way: str) -> None:
    assert possible(sheet(), task, way, equipped(SAW))
    said = against(sheet(), task, way, equipped(SAW, without=guard))
    assert knowledge().guards[guard].name in said


# The same: the lower guard goes back at once when the saw is withdrawn. It is tried before work and looked at after each cut.
def test_the_lower_guard_is_tried_before_and_looked_at_after_each_cut() -> None:
    station = knowledge().stations[SAW]
    assert "Let it go and see it spring shut." in station.before_starting
    assert "The lower guard sticks or shuts slowly." in station.stop_when
    for operation in station.operations.values():
        assert "Check that the lower guard springs shut." in operation.instructions.card
        assert any("guard is shut before you put it down" in line for line in operation.instructions.cut)


# Makers' manuals of held circular saws with a riving knife: thicker than the body of the blade, thinner than its teeth are
# set. Read in copies of two manuals.
@pytest.mark.parametrize(("knife", "goes"), [(1.6, False), (1.7, True), (2.3, True), (2.4, False)])
def test_riving_knife_of_a_held_saw_stands_between_plate_and_kerf(knife: float, goes: bool) -> None:
    bench = equipped(SAW, plate=1.6, kerf=2.4, knife=knife)
    assert possible(sheet(), "rail/width", RIP, bench) is goes
    if not goes:
        assert "riving knife" in against(sheet(), "rail/width", RIP, bench)


# The same manuals: large panels are supported on both sides, near the line of the cut and near the edge.
@pytest.mark.parametrize(("station", "way"), [(SAW, "break-sheet-with-circular-saw"), (JIGSAW, "break-sheet-by-jigsaw")])
def test_a_sheet_is_carried_on_both_sides_of_the_cut_or_not_sawn(station: str, way: str) -> None:
    assert possible(sheet(), "rail/rough-length", way, equipped(station))
    assert "sheet support" in against(sheet(), "rail/rough-length", way, equipped(station, without="sheet-support"))
    operation = knowledge().stations[station].operations[way]
    assert any(line.startswith("Support the sheet on both sides") for line in operation.instructions.card)


# The Spokesman-Review, 1 August 2007, on using a circular saw: the lowest tooth no more than 1/8 inch beneath the wood.
@pytest.mark.parametrize("thick", [6.0, 12.0, 18.0])
def test_the_blade_comes_out_at_most_an_eighth_of_an_inch_below(thick: float) -> None:
    depth = set_to(sheet(thick=thick), "rail/width", RIP, equipped(SAW))["cut-depth"].value
    assert depth is not None
    assert 0 < depth - thick <= EIGHTH


# Design and Technology Teachers' Association of Victoria, FAQ on restricted plant: portable circular saw and reciprocating
# saw, only where other methods were explored and the teacher can supervise. Read in a copy.
def test_the_held_circular_saw_is_for_staff_and_a_student_at_the_jigsaw_has_an_adult_beside() -> None:
    for name, operation in knowledge().stations[SAW].operations.items():
        assert (operation.who.operator or knowledge().stations[SAW].who.operator) == "staff", name
    who = knowledge().stations[JIGSAW].who
    assert (who.operator, who.supervision, who.gate) == ("staff", "beside", "signed-off")
    by_students = {name for name, each in knowledge().stations[JIGSAW].operations.items() if each.who.operator == "student"}
    assert by_students == {"saw-thin-curve-by-jigsaw"}
    assert knowledge().stations[JIGSAW].operations["saw-thin-curve-by-jigsaw"].who.supervision == "beside"


# A plant risk assessment for the jigsaw of Queensland schools: medium risk in wood and plastic sheet of 3 to 10 mm, cramped
# or in a vice, teacher close by at all times; high risk on curves where the blade could twist. Read in a copy.
@pytest.mark.parametrize(("thick", "goes"), [(2.9, False), (3.0, True), (6.0, True), (10.0, True), (10.1, False), (18.0, False)])
def test_students_saw_only_sheet_of_3_to_10_mm_with_the_jigsaw(thick: float, goes: bool) -> None:
    made = sheet(corner(), thick=thick)
    assert possible(made, "rail/cut", "saw-thin-curve-by-jigsaw", equipped(JIGSAW)) is goes


def test_students_saw_no_curve_on_which_the_blade_could_twist() -> None:
    for radius, goes in ((49.0, False), (50.0, True)):
        made = sheet(corner(radius), thick=6)
        assert possible(made, "rail/cut", "saw-thin-curve-by-jigsaw", equipped(JIGSAW)) is goes


def test_nothing_is_sawn_with_the_jigsaw_that_is_not_cramped() -> None:
    made = sheet(corner(), thick=6)
    for way in ("saw-thin-curve-by-jigsaw", "saw-curve-by-jigsaw"):
        assert "bench cramp" in against(made, "rail/cut", way, equipped(JIGSAW, without="bench-cramp"))


# An article on jigsaws: a blade 1/4 inch wide follows a radius of about 1 inch.
def test_the_tightest_curve_of_the_jigsaw_is_about_an_inch() -> None:
    tightest = knowledge().stations[JIGSAW].figures["smallest-radius"].default
    assert tightest == pytest.approx(25.4, abs=0.5)
    for radius, goes in ((24.0, False), (26.0, True)):
        assert possible(sheet(corner(radius)), "rail/cut", "saw-curve-by-jigsaw", equipped(JIGSAW)) is goes


# HSE research report RR754: makers' figures after the standard understate the vibration of jigsaws in use. It is a hazard of
# the station whatever its plate says. EN 62841-2-11 in a maker's manual: 84 dB(A), uncertainty 5; the sum counts.
def test_vibration_and_noise_of_the_jigsaw() -> None:
    station = knowledge().stations[JIGSAW]
    assert "vibration" in station.hazards
    assert station.noise is not None
    assert station.noise.default == 84 + 5
    assert "ear-protection" in station.wear


# HSE woodworking noise page: circular saw 97 to 102 dB(A); the upper figure counts.
def test_noise_of_a_held_circular_saw_is_the_upper_figure() -> None:
    noise = knowledge().stations[SAW].noise
    assert noise is not None
    assert noise.default == 102


# Purdue University, laser cutting: no unknown material. University of Illinois Chicago, Kansas State University: no vinyl
# (PVC). Iowa State University: no plywood whose glue is not known. Read in copies. Where they differ the stricter counts.
@pytest.mark.parametrize(
    ("material", "goes"),
    [
        ("laser plywood", True),
        ("laser ply", True),
        ("PVC", False),
        ("an unknown sheet", False),
        ("plywood", False),
        ("birch plywood", False),
        ("exterior plywood", False),
        ("MDF", False),
        ("preservative-treated pine", False),
        ("acrylic", False),
    ],
)
def test_only_marked_sheets_go_into_the_laser(material: str, goes: bool) -> None:
    made = sheet(opening(), material=material, thick=3, length=280)
    assert possible(made, "rail/cut", "cut-opening-by-laser", equipped(LASER)) is goes
    if not goes:
        assert "not marked for the laser cutter" in against(made, "rail/cut", "cut-opening-by-laser", equipped(LASER))


# Carnegie Mellon University IDeATe: no wood thicker than 1/4 inch (6 mm). Iowa State University: basswood of 1/8 inch at most.
# Whatever the station can do, the mark of the material counts.
@pytest.mark.parametrize(
    ("material", "thick", "goes"),
    [("laser plywood", 6.0, True), ("laser plywood", QUARTER, False), ("basswood", EIGHTH, True), ("basswood", 4.0, False)],
)
def test_no_sheet_thicker_than_it_is_marked_for(material: str, thick: float, goes: bool) -> None:
    made = sheet(opening(), material=material, thick=thick, length=280)
    assert possible(made, "rail/cut", "cut-opening-by-laser", equipped(LASER, thickest=20)) is goes


# University of Pennsylvania, laser manual XV: an enclosed beam with interlocks counts as class 1; Purdue: exhaust always on; a
# community workshop: carbon dioxide extinguisher at the machine. Read in copies.
@pytest.mark.parametrize("guard", ["laser-enclosure", "fume-extraction", "laser-extinguisher", "air-jet"])
def test_no_beam_without_enclosure_extraction_and_extinguisher(guard: str) -> None:
    made = sheet(opening(), thick=3, length=280)
    said = against(made, "rail/cut", "cut-opening-by-laser", equipped(LASER, without=guard))
    assert knowledge().guards[guard].name in said


# University of the Arts London, laser safety: never left running alone. Purdue: someone in charge is there throughout.
def test_somebody_watches_the_beam_from_start_to_end_with_an_adult_beside() -> None:
    station = knowledge().stations[LASER]
    assert "Nobody is watching the work." in station.stop_when
    for name, operation in station.operations.items():
        assert "Watch the work until the beam has stopped." in operation.instructions.card, name
        assert (operation.who.supervision or station.who.supervision) == "beside", name
        assert (operation.who.gate or station.who.gate) == "signed-off", name


# A supplier of laser cutting: with a kerf of 0.2 mm an opening of 2.0 x 4.0 comes from a path of 1.8 x 3.8, and a piece of that
# size from one of 2.2 x 4.2: the path runs half the kerf in the waste.
def test_the_path_of_the_beam_runs_half_the_kerf_in_the_waste() -> None:
    made = sheet(opening(), thick=3, length=280)
    inset = set_to(made, "rail/cut", "cut-opening-by-laser", equipped(LASER, kerf=0.2))["inset"].value
    assert inset is not None
    assert 2.0 - 2 * inset == pytest.approx(1.8)
    assert 4.0 + 2 * inset == pytest.approx(4.2)


# Published kerfs in birch plywood of 1/16 to 1/4 inch: 0.006 to 0.010 inch (0.15 to 0.25 mm); read in a copy.
def test_the_usual_kerf_of_the_beam_is_within_published_ones() -> None:
    kerf = knowledge().stations[LASER].figures["kerf"].default
    assert kerf is not None
    assert 0.006 * 25.4 <= kerf <= 0.010 * 25.4


# Plain geometry: sole and batten together reach the line; a saw whose sole nobody has measured cuts nothing.
def test_the_batten_stands_the_sole_s_width_before_the_line() -> None:
    found = set_to(sheet(), "rail/length", LENGTH, equipped(SAW, sole=120))
    assert found["batten"].value == 450 - 120
    known = {name: value for name, value in equipped(SAW).stations[SAW].figures.items() if name != "sole"}
    unmeasured = replace(equipped(SAW).stations[SAW], figures=known)
    bare = replace(equipped(SAW), stations={**equipped(SAW).stations, SAW: unmeasured})
    assert "to the near side of its blade" in against(sheet(), "rail/length", LENGTH, bare)


# WAC 296-806-48006 and 296-807-12005(2): dull, cracked or badly set saws and blades are taken out of service. Read in copies.
@pytest.mark.parametrize("kind", [SAW, JIGSAW, "mitre-saw", "pull-over-saw", "band-saw"])
def test_a_dull_or_cracked_blade_stops_the_work(kind: str) -> None:
    assert "The blade is dull or cracked." in knowledge().stations[kind].stop_when


# HSE WIS31: blade below the table guarded at every tilt, tension slackened after use and a notice left; WAC 296-806-48042(5):
# tension indicator. Read in copies.
def test_a_band_saw_s_tension_is_looked_at_and_its_blade_is_covered_below_a_tilted_table() -> None:
    station = knowledge().stations["band-saw"]
    assert {
        "Check that no notice says the blade is slack.",
        "Check the tension of the blade on its gauge.",
        "Check that the wheel doors are shut.",
    } <= set(station.before_starting)
    tilted = [each for each in station.operations.values() if any("Tilt the table" in line for line in each.instructions.set)]
    assert tilted
    assert all("Check that the blade is covered below the tilted table." in each.instructions.set for each in tilted)


# Michigan R 408.12744: no set screw stands out of the chuck of a boring machine. Read in a copy.
@pytest.mark.parametrize("kind", ["pillar-drill", "hollow-chisel-mortiser"])
def test_no_screw_stands_out_of_a_chuck(kind: str) -> None:
    assert "Check that no screw stands out of the chuck." in knowledge().stations[kind].before_starting
