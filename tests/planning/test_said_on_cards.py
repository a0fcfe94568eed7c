"""What a card must say so that the piece comes to the size that is drawn: both sizes of a blank out of a sheet, a line further
from the edge than a gauge reaches, a hole that nothing goes into."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.features.base import mm
from sequencer.findings import Refused
from sequencer.knowledge.forms.stations import StationKind
from sequencer.model.plan import Plan, Step
from sequencer.planning.planner import make_plan, ways_of
from tests.features.legal import make
from tests.made import job, knowledge, plan, workshop
from tests.outside.bench import board, sheet


def by_hand(name: str) -> Plan:
    return plan(name, "hand-tools")


def of_kind(whole: Plan, kind: str) -> list[tuple[Step, str]]:
    """Each step with a part it does this kind of work on."""
    return [(step, task.part) for step in whole.steps for task in whole.tasks if task.id in step.tasks and task.kind == kind]


@pytest.mark.parametrize("name", ["herb-caddy", "picture-frame"])
def test_a_blank_out_of_a_sheet_is_sawn_to_its_length_and_its_width(name: str) -> None:
    whole, found = by_hand(name), 0
    for step, part in of_kind(whole, "rough-length"):
        if job(name).stock[job(name).parts[part].stock].form != "sheet" or step.kind != "work":
            continue
        (blank,) = (blank for blank in whole.blanks if blank.part == part)
        said = " ".join(step.instructions)
        assert f"{mm(blank.length)} mm" in said, said
        assert f"{mm(blank.width)} mm" in said, said
        found += 1
    assert found


@pytest.mark.parametrize("name", ["herb-caddy", "picture-frame", "nest-box"])
def test_a_line_further_in_than_a_gauge_reaches_is_drawn_by_a_straight_edge(name: str) -> None:
    whole, reach = by_hand(name), knowledge().working.gauge_reach
    for step, part in of_kind(whole, "width"):
        if step.station_kind not in ("hand-sawing", "hand-planing") or "knife" in step.operation:
            continue
        others = [other for _, other in of_kind(whole, "width") if other in {piece.part for piece in step.parts}]
        widths = {job(name).parts[other].width for other in (part, *others)}
        said = " ".join(step.instructions)
        assert ("Gauge" in said) == (min(widths) <= reach), said
        assert ("straight edge" in said) == (max(widths) > reach), said


@pytest.mark.parametrize("name", ["nest-box", "picture-frame"])
def test_a_hole_that_nothing_goes_into_is_not_checked_by_what_goes_into_it(name: str) -> None:
    whole = by_hand(name)
    for step, _ in of_kind(whole, "hole"):
        assert not [check for check in step.checks if "goes in" in check.how], step.title


def test_a_note_of_a_job_tells_no_way_of_making_a_hole() -> None:
    """The way that is chosen says whether a hole is bored from both sides or into a board behind it."""
    for step, _ in of_kind(by_hand("nest-box"), "hole"):
        assert not [note for note in step.notes if "backing board" in note], step.title


def test_horns_come_off_while_a_frame_is_still_small_enough_to_be_held() -> None:
    """Each end frame goes into the vice by its faces, which no taper has taken; the whole stool would rock under the saw."""
    whole = by_hand("step-stool")
    tasks = [task.id for task in whole.tasks]
    trim, joined, after = "leg/right-allowance/trim", "spine-in-place/glue/glue", "end-frame/cure/wait"
    steps = {task: step for step in whole.steps if step.kind != "set-up" for task in step.tasks}
    assert {trim, joined, after} <= {*tasks}
    assert steps[after].number < steps[trim].number < steps[joined].number
    assert [each.name for each in steps[trim].holding] == ["bench-vice"]
    assert "Plane" in steps[trim].operation


def test_a_job_may_leave_its_inside_rough() -> None:
    kinds = {task.kind for task in by_hand("nest-box").tasks}
    assert "clean-inside" not in kinds
    assert "clean-up" in kinds
    smooth = make_plan(replace(job("nest-box"), rough_inside=False), workshop("hand-tools"), knowledge())
    assert "clean-inside" in {task.kind for task in smooth.tasks}


def test_only_an_open_recess_is_gauged_on_its_open_edge() -> None:
    for at, gauged in (({"left": 60, "top": 0}, True), ({"left": 60, "bottom": 30}, False)):
        recess = make("recess", name="seat", face="inside", at=at, length=40, width=20, depth=3)
        made = make_plan(board(recess), workshop("hand-tools"), knowledge())
        step = next(step for step, _ in of_kind(made, "recess"))
        said = " ".join((*step.instructions, *step.method))
        assert ("open edge" in said) == gauged
        assert "3 mm deep" in said


def test_letter_and_number_are_written_once_a_strip_is_marked_out_and_with_the_face_marks_of_all_else() -> None:
    number, later = "Write letter and number beside the mark, as A 1.", "Draw letter, number and face marks inside each part."
    marked, _ = (each for each in plan("picture-frame").steps if "mark" in {name.split("/")[-1] for name in each.tasks})
    assert {work.letter: work.quantity for work in marked.parts} == {"A": 2, "B": 2, "D": 1}
    assert number not in marked.instructions
    assert any(later in each.instructions for each in plan("picture-frame").steps)
    # The splines are never marked out: they come off their own strip.
    splined = plan("tests/assemblies/splined-frame.yaml").steps
    assert not any(number in each.instructions for each in splined if "spline/face-marks/mark" in each.tasks)
    (off,) = (each for each in splined if "spline/length/cut" in each.tasks and each.kind == "work")
    assert off.instructions[-1] == "Write letter and number on each part."


@pytest.mark.parametrize("face", ["inside", "top"])
def test_a_halving_that_stops_inside_the_wood_is_refused_for_no_saw_runs_through(face: str) -> None:
    beside = "bottom" if face == "inside" else "outside"
    halving = make("halving", name="lap", face=face, distance=120, width=18, depth=9, from_="left", stops={beside: 4})
    with pytest.raises(Refused, match="stopped inside the part, where the saw cannot run through"):
        make_plan(board(halving, length=300), workshop("full"), knowledge())


MITRED = [
    (kind, name)
    for kind in knowledge().stations.values()
    for name, each in kind.operations.items()
    if "mitre" in each.makes and any(check.what == "opposite pieces" for check in each.checks)
]


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
def test_a_single_piece_is_held_against_no_opposite_one(shop: str) -> None:
    """The nest box has one front and two sides, all with sloping ends."""
    whole = plan("nest-box", shop)
    asked = {part: {check.what for check in step.checks} for step, part in of_kind(whole, "mitre") if step.kind == "work"}
    assert "opposite pieces" in asked["side"]
    assert "opposite pieces" not in asked["front"]
    assert all(any("length" in each for each in checks) for checks in asked.values())


@pytest.mark.parametrize(("kind", "name"), MITRED, ids=[name for _, name in MITRED])
def test_every_way_of_mitring_asks_for_opposite_pieces_only_where_there_are_others(kind: StationKind, name: str) -> None:
    for check in kind.operations[name].checks:
        if "opposite pieces" in (check.what, check.how):
            assert check.where == "part.others"
            assert check.card


@pytest.mark.parametrize("name", ["tests/assemblies/splined-box.yaml", "picture-frame", "step-stool", "herb-caddy"])
def test_cramps_are_said_to_pinch_only_where_there_are_cramps(name: str) -> None:
    """Glue that is closed in tape, or pressed home by hand, pinches nobody."""
    for step in plan(name, "hand-tools").steps:
        if step.station_kind == "gluing" and step.kind == "work":
            cramped = "cramp" in " ".join((*step.tools, *(each.name for each in step.holding if each.name != "bench-cramp")))
            pinches = "crushing-in-cramps" in {each.name for each in step.hazards}
            assert pinches == cramped, step.title


def test_a_box_in_tape_is_no_reason_to_speak_of_cramps() -> None:
    steps = plan("tests/assemblies/splined-box.yaml", "hand-tools").steps
    (glued,) = (step for step in steps if "box/glue/glue" in step.tasks)
    assert "pinch" not in glued.hazard_line
    assert "glue" in glued.hazard_line.lower()


@pytest.mark.parametrize(
    ("there", "said"),
    [
        (("bench-vice", "bench-cramp"), {"Cramp it square", "Grip the other piece in the vice.", "Cramp the top piece back"}),
        (("bench-cramp",), {"Cramp it square", "Cramp the other piece to the bench.", "Cramp the top piece back"}),
        (("bench-vice",), {"Hold it square", "Grip the other piece in the vice.", "Hold the top piece back"}),
    ],
)
def test_a_card_for_screwing_names_the_holding_that_the_bench_has(there: tuple[str, ...], said: set[str]) -> None:
    shop = workshop("hand-tools")
    bench = replace(shop.stations["fixing"], holding=there)
    counted = {name: each for name, each in shop.counted.items() if name not in ("bench-vice", "bench-cramp")}
    own = replace(shop, stations={**shop.stations, "fixing": bench}, counted=counted)
    steps = [step for step in make_plan(job("nest-box"), own, knowledge()).steps if step.station_kind == "fixing"]
    screwed = [step for step in steps if any(line.startswith("Mark through") for line in step.instructions)]
    assert screwed
    for step in screwed:
        for lines in (step.instructions, step.method):
            every = {"Cramp it square", "Grip the other", "Cramp the other", "Cramp the top", "Hold it square", "Hold the top"}
            told = {line for line in lines if line.startswith(tuple(every))}
            # The box that the roof goes on is no loose piece.
            whole = "Start with the joined parts with A." in step.instructions
            assert len(told) == 2 if whole else 3, told
            there_for = {each for each in said if not whole or "other" not in each}
            assert all(any(line.startswith(each) for line in told) for each in there_for)
            steadied = {line for line in lines if line.startswith(("Stand the joined parts", "Ask a partner to steady the"))}
            assert len(steadied) == whole
        words = " ".join((*step.instructions, *step.method, step.stop, step.guard_line))
        assert ("vice" in words) == ("bench-vice" in there and not (whole and "bench-cramp" in there))
        assert ("ramp" in words) == ("bench-cramp" in there)


BATTEN = "Cramp it flat under a batten,"


@pytest.mark.parametrize("shop", ["full", "hand-tools"])
@pytest.mark.parametrize(("name", "part"), [("picture-frame", "backing"), ("tests/assemblies/splined-box.yaml", "base")])
def test_thin_sheet_is_sawn_by_hand_under_a_batten_and_it_is_said_who_holds_its_waste(name: str, part: str, shop: str) -> None:
    """Plywood of 3 mm and of 6 mm flutters and splits under a saw that nothing guides."""
    whole, sawn = plan(name, shop), 0
    for kind in ("rough-length", "first-end", "length", "width"):
        for step in (each for each, of in of_kind(whole, kind) if of == part and each.station_kind == "hand-sawing"):
            assert "Saw" in step.operation
            sawn += 1
            assert any(line.startswith(BATTEN) for line in step.instructions), step.operation
            assert any("partner" in line or "nobody holds it" in line for line in step.instructions), step.operation
            assert "straight batten" in step.tools
            assert "bench-cramp" in {each.name for each in step.holding}
            assert "bench-hook" not in {each.name for each in step.holding}
    assert sawn == 4


@pytest.mark.parametrize(("thick", "width", "thin"), [(3.0, 150.0, 1.0), (6.0, 150.0, 1.0), (9.0, 150.0, 0.0), (3.0, 40.0, 0.0)])
def test_sheet_that_is_stiff_or_a_narrow_strip_needs_no_batten(thick: float, width: float, thin: float) -> None:
    made = sheet(thick=thick, length=200, width=width, material="birch plywood")
    ((_, found, _),) = ways_of("rail/length/cut", made, workshop("hand-tools"), knowledge())
    meant = {way.operation for way in found if way.meant and way.kind == "hand-sawing"}
    assert ("saw-thin-sheet-end" in meant) == (thin > 0)
    assert ("saw-end-on-bench-hook" in meant) == (thin <= 0)
