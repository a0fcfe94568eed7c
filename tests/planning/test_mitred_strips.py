"""Strips of mitred pieces: how they lie, what stays between them, and why one that only staff cut is one student's."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from sequencer.features.mitre import Mitre
from sequencer.model.job import Decision
from sequencer.model.plan import Plan
from sequencer.paper.pictured import Pictured
from sequencer.paper.strip_pictures import BAND, stick_picture, strip_picture
from sequencer.planning.mitred_strips import slopes_of
from sequencer.planning.planner import make_plan
from sequencer.proving.making import carry_out
from tests.made import job, knowledge, making, plan, proved, workshop

NAME = "picture-frame"


@cache
def cut_by_staff() -> Plan:
    """The frame with its rebates on the router table and its mitres on the mitre saw."""
    asked = [
        Decision(f"{part}/{cut}", "Technician", "for this check", way=way)
        for part in ("long-piece", "short-piece")
        for cut, way in (("rebate", "rout-rebate"), ("left-mitre", MITRED), ("right-mitre", MITRED))
    ]
    return make_plan(replace(job(NAME), decisions=tuple(asked)), workshop(), knowledge())


MITRED = "cut-mitre-on-mitre-saw"


@pytest.mark.parametrize(
    ("long", "angle", "slope"), [("bottom", 45.0, 30.0), ("top", 45.0, -30.0), ("bottom", 30.0, 17.321), ("inside", 45.0, 0.0)]
)
def test_an_end_cut_aslant_is_shorter_at_one_edge(long: str, angle: float, slope: float) -> None:
    """A section 30 wide: 30 at 45 degrees, 30 x tan 30 = 17.32 at 30; across the thickness both edges are alike."""
    part = job(NAME).parts["long-piece"]
    mitre = Mitre(name="cut", end="right", long=long, angle=angle)  # type: ignore[arg-type]
    assert slopes_of(replace(part, features={"cut": mitre})) == (0.0, slope)


def test_pieces_are_drawn_with_their_long_edge_where_their_place_is_told() -> None:
    """The upper edge of each begins 30 further in at both ends; where it begins at its long edge is what the figures say."""
    (strip,) = plan(NAME).strips
    drawn = strip_picture(strip, 160.0).svg
    scale = 158.0 / strip.length
    found = [
        [(float(x), float(y)) for x, y in re.findall(r"([\d.]+) ([\d.]+)", path)]
        for path in re.findall(r'<path class="piece" d="([^"]*)"', drawn)
    ]
    assert len(found) == len(strip.pieces)
    for piece, corners in zip(strip.pieces, found, strict=True):
        upper = sorted(x for x, y in corners if y == 0.5)
        lower = sorted(x for x, y in corners if y == 0.5 + BAND)
        assert (lower[0], lower[-1]) == pytest.approx((1 + piece.start * scale, 1 + piece.stop * scale), abs=0.02)
        assert (upper[0], upper[-1]) == pytest.approx((lower[0] + 30 * scale, lower[-1] - 30 * scale), abs=0.02)


def test_the_triangles_between_mitres_are_hatched_and_no_piece_is() -> None:
    (strip,) = plan(NAME).strips
    drawn, scale = stick_picture(strip, 110.0, cut=True).svg, 108.0 / strip.length
    paths = re.findall(r'<path class="waste" d="([^"]*)"', drawn)
    assert len(paths) == len(strip.pieces) + 1
    for x, y in ((float(x), float(y)) for path in paths for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path)):
        share = (0.5 + BAND - y) / BAND
        for piece in strip.pieces:
            low, high = (1 + at * scale for at in (piece.start + 30 * share, piece.stop - 30 * share))
            assert not low + 0.05 < x < high - 0.05


def test_a_strip_that_staff_cut_but_students_mark_is_one_students_and_the_note_says_why() -> None:
    """25 + 246 + 4 + 246 + 4 + 196 + 4 + 196 + 25 = 946; 884 of it are pieces. The kerf of 2.8 is 3.96 along at 45 degrees."""
    made = cut_by_staff()
    (strip,) = made.strips
    assert (strip.sets, strip.length) == (1, 946)
    (finding,) = (each for each in made.findings if each.code == "strip-each")
    assert finding.what == (
        "Each strip of A and B holds the parts of one student, though staff make all its cuts: its ends are sawn to lines, and "
        "each student marks those. Of 27 strips of 946 mm for the class 62 mm each stay over, besides the triangles between the "
        "mitres."
    )
    assert carry_out(made, job(NAME)).proof.held


def test_where_students_saw_the_mitres_nothing_is_said_of_it() -> None:
    assert not [each for each in plan(NAME).findings if each.code == "strip-each"]


SPLINE_TASKS = ("spline/face-marks/mark", "spline/length/cut")


def test_what_is_marked_out_in_a_strip_is_measured_from_each_part() -> None:
    """Its parts have no ends of their own yet: the whole stick shows where they lie, and each part its own cuts."""
    name = "tests/assemblies/splined-frame.yaml"
    given = proved(name)
    (step,) = (step for step in given.steps if any(task.endswith("/mark-out/mark") for task in step.tasks))
    assert step.instructions == (
        "Leave the stick whole; do not cut it up yet.",
        "Mark all part ends, measured from the line at 0.",
        "Leave the gaps between parts for the saw.",
        "Draw letter, number and face marks inside each part.",
        "Measure each cut from the ends of its own part.",
        "Draw pencil hatching on all the waste.",
    )
    panels = Pictured(given, job(name), making(name)).panels(step)
    views = [(view.title, len(view.subject.parts), view.subject.letter) for panel in panels for view in panel.main[0]]
    assert views == [("the whole stick, front face", 4, "A"), ("outer edge", 0, "A"), ("outer edge", 0, "B")]
    (cut,) = (step for step in given.steps if step.title.startswith("Cut the left mitre"))
    # The splines are numbered as they are sawn off their strip: on that nothing shows yet where each lies.
    faces, apart = (next(s for s in given.steps if s.kind == "work" and task in s.tasks) for task in SPLINE_TASKS)
    assert not any("letter" in line for line in faces.instructions)
    assert apart.instructions[-1] == "Write letter and number on each part."
    # What is to be done for every end stands after it, or a child does it first, for all ends at once.
    assert cut.instructions[-1] == "Repeat for each end in turn, from the left of A 1."
    assert not any("in turn" in line for line in cut.instructions[:-1])
    assert not any(line.startswith("Mark") for line in cut.instructions)
    assert "Lay it with the front up, the outer edge against the back." in cut.instructions


def test_part_ends_that_slope_through_the_thickness_are_told_on_the_face_where_the_parts_are_long() -> None:
    """Of 12 thick at 45 degrees each end lies 12 further in on the inside: a piece 220 long outside is 196 long there."""
    name = "tests/assemblies/splined-box.yaml"
    given = Pictured(plan(name), job(name), making(name))
    (step,) = (step for step in given.plan.steps if any(task.endswith("front/mark-out/mark") for task in step.tasks))
    views = [view for panel in given.panels(step) for view in panel.main[0]]
    assert [(each.title, each.running, each.subject.letter) for each in views] == [
        ("the whole stick, outside face", True, "A"),
        ("the whole stick, inside face", True, "A"),
        ("top edge", False, "A"),
        ("top edge", False, "B"),
    ]
    outside, inside = (sorted(float(size.words) for size in each.running_spots(1.0)) for each in views[:2])
    starts = [piece.start - given.plan.strips[0].trim for piece in given.plan.strips[0].pieces]
    stops = [piece.stop - given.plan.strips[0].trim for piece in given.plan.strips[0].pieces]
    assert outside == sorted([*starts, *stops])
    assert outside[:2] == [0, 220]
    assert inside == sorted([*(each + 12 for each in starts), *(each - 12 for each in stops)])
    assert inside[:2] == [12, 208]
    # The slope is drawn on each part's own edge, with its angle.
    assert all(any(size.label == "45 degrees" for size in each.sizes) for each in views[2:])
