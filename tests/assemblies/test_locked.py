"""What cannot be put together is refused: which pieces lock each other, what stops each, and a picture of them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.design.placing import place
from sequencer.findings import Refused
from sequencer.model.frame import Point
from sequencer.planning.planner import make_plan
from sequencer.solid.dry_fit import dry_fit
from sequencer.solid.parts import standing_solids
from sequencer.solid.sweeping import blocked
from tests.made import ROOT, job, knowledge, workshop
from tests.test_cli import FULL, Shell
from tests.test_cli import shell as shell  # the fixture
from tests.test_show import words_in

PUZZLE = "tests/assemblies/locking-puzzle.yaml"


def test_the_ring_is_refused_with_the_plates_and_what_stops_each() -> None:
    drawn = job(PUZZLE)
    (finding,) = dry_fit(drawn, knowledge())
    assert (finding.level, finding.code, finding.subject) == ("error", "locked", "plate.1")
    assert finding.what == (
        "plate.1, plate.2 and plate.3 lock each other: in no order can they be put together by straight moves."
    )
    assert finding.why.startswith(
        "plate.1 is stopped towards its right and left by plate.3, towards its top and bottom by plate.2 and plate.3, "
        "towards its inside and outside by plate.2."
    )
    assert "`--locked`" in finding.remedy
    assert finding.place is not None
    assert finding.place.key == "joints.one"


def test_no_plate_can_be_moved_by_a_millimetre_and_a_pair_can() -> None:
    """Seen once more without the search: every plate is met at once on all six ways while the two others are there."""
    standing = standing_solids(place(job(PUZZLE)))
    ways = [Point(*(sign * float(axis == index) for index in range(3))) for axis in range(3) for sign in (1, -1)]
    for name, solid in standing.items():
        others = [other for each, other in standing.items() if each != name]
        assert all(blocked(solid, others, way, 1.0) is not None for way in ways)
        assert any(blocked(solid, others[:1], way, 500.0) is None for way in ways)


def test_a_plan_is_refused_with_the_same_plates() -> None:
    with pytest.raises(Refused) as refused:
        make_plan(job(PUZZLE), workshop(), knowledge())
    found = [each for each in refused.value.findings if each.level == "error"]
    assert [each.code for each in found] == ["locked"]
    assert found[0].what == (
        "plate.1, plate.2 and plate.3 lock each other: when plate in place is closed, none of them can be brought to its place."
    )


def test_a_body_of_several_pieces_is_named_with_them_and_with_the_joints_that_ask_for_it_first() -> None:
    """The shelf of a bookcase, glued in after the carcase: it lifts out of one side, but not out of what is joined by then."""
    drawn = job("tests/assemblies/stopped-shelf.yaml")
    asked = {"shelf-1", "shelf-2"}
    carcase = tuple(name for name in drawn.joints if name not in asked)
    late = {name: replace(each, after=carcase) if name in asked else each for name, each in drawn.joints.items()}
    with pytest.raises(Refused) as refused:
        make_plan(replace(drawn, joints=late), workshop(), knowledge())
    (found,) = [each for each in refused.value.findings if each.level == "error"]
    others = "side.2, low-board and high-board"
    assert found.what.startswith(f"side.1 (joined with {others}) and shelf lock each other")
    assert found.why == (
        f"The drawing asks for shelf-1 and shelf-2 after {', '.join(carcase[:-1])} and {carcase[-1]}. The body of side.1 is "
        "stopped on every way by shelf. shelf is stopped on every way by the body of side.1."
    )
    assert "take `after` out of shelf-1 and shelf-2" in found.remedy
    assert found.place is not None
    assert found.place.key == "joints.shelf-1"


def test_the_picture_shows_the_locked_plates(shell: Shell) -> None:
    said = shell("show", str(ROOT / PUZZLE), "--workshop", FULL, "--locked", "--out", "locked.svg")
    assert said.code == 0
    assert sorted(words_in("locked.svg")) == ["A 1", "A 2", "A 3"]


def test_where_nothing_locks_there_is_no_such_picture(shell: Shell) -> None:
    said = shell("show", "examples/picture-frame/job.yaml", "--workshop", FULL, "--locked", "--out", "locked.svg")
    assert said.code == 2
    assert "No pieces of it lock each other." in said.err
    assert not Path("locked.svg").exists()
