"""Earlier plans: which are taken, which are refused and why, and how what moved is told."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sequencer.asking.differences import differences, differences_text
from sequencer.cli import main
from sequencer.model.plan import Plan, Setting
from sequencer.plan_file import contradiction, plan_json
from sequencer.planning.planner import make_plan
from sequencer.talk import step_of
from tests.made import EXAMPLES, ROOT, WORKSHOPS, job, knowledge, plan, workshop

CADDY = ROOT / "examples" / "herb-caddy" / "job.yaml"
FULL = ROOT / "examples" / "workshops" / "full.yaml"


@pytest.mark.parametrize("shop", WORKSHOPS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_no_plan_of_ours_contradicts_itself(name: str, shop: str) -> None:
    assert contradiction(plan(name, shop)) == ""


def _twice(data: dict[str, Any]) -> None:
    data["tasks"].append(data["tasks"][0])


def _no_steps(data: dict[str, Any]) -> None:
    data["steps"] = []


def _ghost(data: dict[str, Any]) -> None:
    data["tasks"][0]["id"] = "ghost/cut"


def _done_twice(data: dict[str, Any]) -> None:
    step = next(step for step in data["steps"] if step["kind"] == "work")
    data["steps"].append({**step, "number": len(data["steps"]) + 1})


def _older(data: dict[str, Any]) -> None:
    data["version"] = "0"


def _other_job(data: dict[str, Any]) -> None:
    data["job"] = "Bird table"


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (_twice, "holds no whole plan: it has the task side/rough-length/cut 2 times."),
        (_no_steps, "holds no whole plan: it has no step for the task side/rough-length/cut."),
        (_ghost, "holds no whole plan: it has no step for the task ghost/cut."),
        (_done_twice, "holds no whole plan: it has 2 steps for the task side/rough-length/cut."),
        (_older, "holds no plan in the JSON form of this version."),
        (_other_job, "holds a plan of 'Bird table', and this job is 'Herb caddy'."),
    ],
)
def test_a_plan_that_says_nothing_of_this_job_is_refused(
    spoil: Callable[[dict[str, Any]], None], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = json.loads(plan_json(plan("herb-caddy")))
    assert data["tasks"][0]["id"] == "side/rough-length/cut"
    spoil(data)
    file = tmp_path / "earlier.json"
    file.write_text(json.dumps(data), encoding="utf-8")
    assert main(["plan", str(CADDY), "--workshop", str(FULL), "--earlier", str(file)]) == 2
    printed = " ".join(capsys.readouterr().err.split())
    assert said in printed
    assert "leave --earlier out." in printed


def test_a_file_that_is_not_there_is_not_called_unwritable(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(CADDY), "--workshop", str(FULL), "--earlier", str(tmp_path / "none.json")]) == 2
    printed = " ".join(capsys.readouterr().err.split())
    assert "There is no file" in printed
    assert "write" not in printed.replace("wrote", "")


def test_settings_that_are_gone_are_told_in_the_order_of_the_card() -> None:
    now = plan("herb-caddy")
    names = [f"{letter}-stop" for letter in "hgfedcba"]
    more = tuple(Setting(name, name, "1 mm") for name in names)
    earlier = replace(now, tasks=(replace(now.tasks[0], settings=(*now.tasks[0].settings, *more)), *now.tasks[1:]))
    gone = [line.split(": ")[-1] for line in differences(earlier, now)]
    assert gone == [f"{name} is no longer set." for name in names]


def test_a_reversed_order_moves_nothing_to_where_it_is() -> None:
    now = plan("herb-caddy")
    steps = tuple(replace(step, number=number) for number, step in enumerate(reversed(now.steps), 1))
    earlier = replace(now, tasks=tuple(reversed(now.tasks)), steps=steps)
    moved = [line for line in differences(earlier, now) if line.startswith("Moved: ")]
    assert len(moved) > 20
    for line in moved:
        before, after = line.rstrip(".").rpartition("from step ")[2].split(" to step ")
        assert before != after


def test_another_order_within_a_step_is_told() -> None:
    now = plan("herb-caddy")
    step = next(step for step in now.steps if step.kind == "work" and len(step.tasks) > 1)
    first, second, *rest = step.tasks
    steps = tuple(replace(each, tasks=(second, first, *rest)) if each.id == step.id else each for each in now.steps)
    by_id = {task.id: task for task in now.tasks}
    turned = {first: by_id[second], second: by_id[first]}
    earlier = replace(now, steps=steps, tasks=tuple(turned.get(task.id, task) for task in now.tasks))
    (line,) = differences(earlier, now)
    assert line.startswith(f"Moved within step {step.number}: ")


def _longer(by: float) -> Plan:
    """The herb caddy made longer."""
    drawn = job("herb-caddy")
    side = drawn.parts["side"]
    return make_plan(
        replace(drawn, parts={**drawn.parts, "side": replace(side, length=side.length + by)}), workshop(), knowledge()
    )


def test_a_part_that_has_grown_is_told_with_its_blank_and_every_step_it_changes() -> None:
    was, now = plan("herb-caddy"), _longer(10)
    said = differences_text(was, now).replace("\n  ", " ").splitlines()
    assert "- Part side (A): length 320 mm is now 330 mm." in said
    assert any(line.startswith("- Blank for side (A): length ") for line in said)
    told = {line.removeprefix("- Step ").partition(",")[0] for line in said if line.startswith("- Step ")}
    worked = {str(step_of(now, task).number) for task in now.tasks if task.part == "side" and task.piece is not None}
    assert worked <= told


def test_marks_that_have_moved_are_told_though_nothing_is_set() -> None:
    now = plan("herb-caddy", "hand-tools")
    task = next(task for task in now.tasks if task.id == "end/top-outline/cut")
    other = next(each for each in now.tasks if each.id == "end/handle-hole/cut")
    moved = replace(task, layouts=tuple(replace(each, marks=other.layouts[0].marks) for each in task.layouts))
    earlier = replace(now, tasks=tuple(moved if each.id == task.id else each for each in now.tasks))
    (line,) = differences(earlier, now)
    assert line == f"Step {step_of(now, task).number}, {task.does}: it is set out otherwise."


def test_a_card_that_says_something_else_is_told() -> None:
    now = plan("herb-caddy")
    last = now.steps[-1]
    earlier = replace(now, steps=(*now.steps[:-1], replace(last, instructions=("Wipe it.",), wear=())))
    what = "what is worn and what to do" if last.wear else "what to do"
    assert f"Step {last.number}, {last.title}: {what} changed." in " ".join(differences_text(earlier, now).split())
    assert differences_text(now, now) == "Nothing changed against the earlier plan."
