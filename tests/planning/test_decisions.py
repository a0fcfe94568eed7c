"""Several decisions about one thing: taken together, refused where they cannot all hold, and counted together."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sequencer.cli import main
from sequencer.findings import Finding, Refused
from sequencer.model.job import Decision
from sequencer.model.plan import Changing, Plan, Reason
from sequencer.paper.risk_assessment import _decided
from sequencer.planning.deciding import Outcome, cost_words
from sequencer.planning.planner import make_plan, ways_of
from sequencer.talk import plan_text, tasks_named
from tests.made import ROOT, job, knowledge, plan, workshop

FULL = ROOT / "examples" / "workshops" / "full.yaml"


def _decision(
    about: str, *, way: str = "", station: str = "", before: str = "", minutes: float | None = None, why: str = "asked for"
) -> Decision:
    return Decision(about, "Head of technology", why, way, station, before, minutes)


def _with(*decisions: Decision) -> Plan:
    return make_plan(replace(job("herb-caddy"), decisions=decisions), workshop(), knowledge())


def _refusals(*decisions: Decision) -> list[Finding]:
    with pytest.raises(Refused) as refused:
        _with(*decisions)
    return [finding for finding in refused.value.findings if finding.level == "error"]


def _written(folder: Path, *lines: str) -> Path:
    """The herb caddy's file with decisions behind it, one a line."""
    file = folder / "job.yaml"
    drawn = (ROOT / "examples" / "herb-caddy" / "job.yaml").read_text(encoding="utf-8").rstrip("\n")
    file.write_text("\n".join([drawn, "decisions:", *(f"  - {line}" for line in lines), ""]), encoding="utf-8")
    return file


def test_a_way_and_a_station_of_two_decisions_are_both_kept() -> None:
    way, station = _decision("side/floor-groove", way="chisel-groove"), _decision("side/floor-groove", station="chiselling")
    for decisions in ((way, station), (station, way)):
        task = next(task for task in _with(*decisions).tasks if task.id == "side/floor-groove/cut")
        assert (task.operation, task.station) == ("chisel-groove", "chiselling")


def test_a_way_and_a_station_that_do_not_go_together_contradict() -> None:
    way, station = _decision("side/floor-groove", way="plough-groove"), _decision("side/floor-groove", station="chiselling")
    for decisions in ((way, station), (station, way)):
        (finding,) = _refusals(*decisions)
        assert (finding.code, finding.subject) == ("decisions-contradict", "side/floor-groove/cut")
        assert finding.what == (
            "The decisions together ask for plough-groove at chiselling, which does not do this: Cut the floor groove: side."
        )


def test_of_two_decisions_the_unknown_one_is_named() -> None:
    (finding,) = _refusals(
        _decision("side/floor-groove", way="plough-grove"), _decision("side/floor-groove", station="ploughing")
    )
    assert finding.code == "decision-unknown"
    assert "asks for plough-grove, which" in finding.what


def test_two_times_of_one_thing_are_refused() -> None:
    (finding,) = _refusals(_decision("side/floor-groove", minutes=5), _decision("side/floor-groove/cut", minutes=50))
    assert (finding.code, finding.subject) == ("decisions-contradict", "side/floor-groove/cut")
    assert "5 min for side/floor-groove and 50 min for side/floor-groove/cut" in finding.what


@pytest.mark.parametrize("narrow_first", [True, False])
def test_a_time_for_less_work_wins_wherever_it_stands_and_is_told(narrow_first: bool) -> None:
    narrow, wide = _decision("side/floor-groove", minutes=50), _decision("side", minutes=5)
    made = _with(*((narrow, wide) if narrow_first else (wide, narrow)))
    times = {task.id: task.minutes for task in made.tasks if task.part == "side"}
    assert times.pop("side/floor-groove/cut") == 50
    assert set(times.values()) == {5}
    (note,) = (finding for finding in made.findings if finding.code == "narrower-decision")
    assert note.what == (
        "Decided are 50 min for side/floor-groove and 5 min for side: side/floor-groove means less work, so its time is taken "
        "for that."
    )


def test_a_decision_written_twice_is_refused() -> None:
    order = _decision("side/floor-groove", before="side/divider-housing")
    again = replace(order, about="side/floor-groove/cut", why="said again")
    (finding,) = _refusals(order, again)
    assert finding.code == "decision-twice"
    assert finding.what == "This decision about side/floor-groove/cut says again what the one about side/floor-groove says."


def test_a_name_for_the_same_work_is_no_other_thing_to_come_before() -> None:
    (finding,) = _refusals(_decision("side/floor-groove", before="side/floor-groove/cut"))
    assert finding.what == "A decision puts side/floor-groove before side/floor-groove/cut, which means the same work."


def test_what_decisions_cost_together_is_said() -> None:
    tidy = _decision("box/clean-inside", before="box/dry-fit")
    slow = _decision("end/top-outline", minutes=30)
    made = _with(tidy, slow)
    assert made.together.startswith(
        "costs 2 min of changing set-ups and costs 36 min of work on each thing; overrules: Faces are"
    )
    assert not made.together.endswith(".")
    (line,) = (each for each in _decided(made) if each.runs[0][0] == "The job's decisions all together:")
    assert line.runs[0][1] == f"This {made.together}."
    assert _with(slow).together == ""


def test_the_terminal_says_what_decisions_cost() -> None:
    said = " ".join(
        plan_text(_with(_decision("end/top-outline", minutes=30), _decision("side/floor-groove", minutes=90))).split()
    )
    assert (
        "Decisions: end/top-outline: 30 minutes (decided by Head of technology). It costs 36 min of work on each thing." in said
    )
    assert "All together: this costs " in said
    assert "Decisions:" not in plan_text(_with())


def test_a_circle_of_decisions_names_file_and_lines(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = _written(
        tmp_path,
        "{about: side/floor-groove, before: side/divider-housing, by: Teacher, why: quicker}",
        "{about: side/divider-housing, before: side/floor-groove, by: Teacher, why: quicker}",
    )
    first = file.read_text(encoding="utf-8").splitlines().index("decisions:") + 2
    assert main(["plan", str(file), "--workshop", str(FULL)]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert f"error: {file}:{first}:5: decisions.1" in said
    assert f"The decisions stand in lines {first} and {first + 1}." in said


@pytest.mark.parametrize("minutes", [0.2, 0.5])
def test_less_than_a_minute_costs_no_time(minutes: float) -> None:
    def after(changing: float) -> Outcome:
        return Outcome((), (), Changing(1, changing, 0.0))

    assert cost_words(after(3 + minutes), after(3)) == "costs no time"


def test_an_overruled_reason_ends_in_one_dot_when_printed() -> None:
    kept = Outcome((), (Reason("a", "b", "surface", "Faces of a are flush."),), Changing(1, 3.0, 0.0))
    turned = Outcome((), (Reason("b", "a", "decision", "Decided by Head: quicker."),), Changing(1, 3.0, 0.0))
    assert cost_words(turned, kept) == "costs no time; overrules: Faces of a are flush"


def test_work_on_several_parts_is_counted_once_for_the_whole() -> None:
    """Trying the box dry, cleaning its inside and gluing it are done once, whatever the number of its pieces."""
    works = [task for task in _with().tasks if task.id.startswith("box/") and task.kind != "cure"]
    assert min(task.quantity for task in works) > 1
    saved = sum(task.minutes for task in works) - len(works)
    assert _with(_decision("box", minutes=1)).decisions[0].cost == f"saves {saved:g} min of work on each thing"


def test_a_station_that_is_mistyped_is_answered_with_stations() -> None:
    (finding,) = _refusals(_decision("side/floor-groove", station="plouhging"))
    assert finding.what == "The decision asks for plouhging, which does not do this: Cut the floor groove: side."
    assert finding.remedy.startswith("Did you mean ploughing? Stations that do here: ")
    offered = finding.remedy.partition("here: ")[2].rstrip(".").split(", ")
    assert set(offered) <= set(workshop().stations)
    assert "ploughing" in offered


def test_a_way_that_is_mistyped_is_answered_with_the_ways_that_are_possible_here() -> None:
    (finding,) = _refusals(_decision("side/floor-groove", way="plough-grove"))
    assert finding.remedy.startswith("Did you mean plough-groove? Ways that do here: ")
    offered = finding.remedy.partition("here: ")[2].rstrip(".").split(", ")
    possible = {
        way.operation
        for work in ways_of("side/floor-groove", job("herb-caddy"), workshop(), knowledge())
        for way in work[1]
        if way.possible
    }
    assert set(offered) == possible


def test_a_decision_is_to_be_taken_back_by_the_names_it_was_written_with(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = _written(tmp_path, "{about: whole, before: box, by: Teacher, why: quicker}")
    assert main(["plan", str(file), "--workshop", str(FULL)]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert "-> Take back the decision that whole comes before box." in said


def test_minutes_are_printed_to_the_next_whole_one_halves_up() -> None:
    """So that two plans that lie 17 minutes apart print 17 minutes apart."""

    def said(minutes: float) -> str:
        return plan_text(replace(_with(), changing=Changing(3, minutes, minutes)))

    assert "takes about 105 min" in said(104.5)
    assert "takes about 122 min" in said(121.5)


def test_hardware_is_named_as_short_as_joints_and_parts_are() -> None:
    """Screws that hold joints are no work of their own, and what a part is called after is the part."""
    frame = job("picture-frame")

    def order(about: str, before: str) -> tuple[int, int]:
        made = make_plan(replace(frame, decisions=(_decision(about, before=before),)), workshop(), knowledge())
        place = {task.id: number for number, task in enumerate(made.tasks)}
        return place["whole/hanger/fix"], place["backing-in/nail/nail"]

    hanger, backing = order("backing-in", "hanger")
    assert hanger > backing
    assert order("hanger", "backing-in/nail") == order("whole/hanger", "backing-in/nail")
    assert tasks_named(plan("picture-frame"), "hanger") == tasks_named(plan("picture-frame"), "whole/hanger")
    with pytest.raises(Refused, match="names corner-pins, and the job has no such"):
        order("corner-pins", "hanger")
    hardware = {**frame.hardware, "backing": replace(frame.hardware["hanger"], name="backing")}
    named = ways_of("backing", replace(frame, hardware=hardware), workshop(), knowledge())
    assert {work.part for work, _, _ in named} == {"backing"}


def test_a_decision_that_puts_hardware_before_itself_is_told_so() -> None:
    twice = replace(job("picture-frame"), decisions=(_decision("hanger", before="whole/hanger"),))
    with pytest.raises(Refused, match="before whole/hanger, which means the same work"):
        make_plan(twice, workshop(), knowledge())
