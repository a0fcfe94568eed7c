"""The commands that answer in text: start a job, check, plan, prove, why, what if, ways, knowledge, schema."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.cli.named import no_input, not_among_the_data, workshop_of
from sequencer.cli.saying import DONE, REFUSED, say_progress
from sequencer.findings import Finding, Refused, Unusable, has_errors
from sequencer.talk import close_names, findings_text, plan_text, proof_text, ways_text, wrapped

if TYPE_CHECKING:
    from sequencer.model.plan import Plan


def run_new(given: argparse.Namespace) -> int:
    """`sequencer new`. Returns the exit code."""
    from sequencer.data import data_folder

    folder: Path = given.dir
    not_among_the_data(folder)
    starter = data_folder("examples") / "starter"
    names = ("job.yaml", "workshop.yaml")
    there = [name for name in names if (folder / name).exists()]
    if there:
        raise Unusable(
            [
                Finding(
                    "error",
                    "exists",
                    str(folder),
                    f"There is already a {' and a '.join(there)} in {folder}.",
                    "Nothing of yours is overwritten.",
                    "Name another folder.",
                )
            ]
        )
    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        (folder / name).write_bytes((starter / name).read_bytes())
    print(wrapped(f"Wrote job.yaml and workshop.yaml in {folder}."))
    print(wrapped(f"Change both to your project and your workshop, then run: sequencer check {folder / 'job.yaml'}"))
    return DONE


def run_check(given: argparse.Namespace) -> int:
    """`sequencer check`. Returns the exit code."""
    from sequencer.pipeline import check

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    job = checked.job
    pieces = sum(part.count for part in job.parts.values())
    features = sum(len(part.features) for part in job.parts.values())
    print(wrapped(f"{job.name}: {len(job.parts)} parts, {pieces} pieces, {features} features, {len(job.joints)} joints."))
    if checked.findings:
        print(findings_text(checked.findings))
    if has_errors(checked.findings):
        return REFUSED
    print(
        wrapped(
            "Nothing was found against the drawing. Put together as solids, no piece stands in another and every joint "
            "meets wood."
            if not checked.findings
            else "The drawing can be planned; read the findings above."
        )
    )
    return DONE


def run_plan(given: argparse.Namespace) -> int:
    """`sequencer plan`. Returns the exit code."""
    from sequencer.pipeline import check, plan, prove

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    if given.json is not None:
        no_input(given, given.json, checked.workshop)
    earlier = _earlier_plan(given.earlier) if given.earlier is not None else None
    if earlier is not None and earlier.job != checked.job.name:
        raise Unusable(
            [
                Finding(
                    "error",
                    "other-job",
                    str(given.earlier),
                    f"{given.earlier} holds a plan of '{earlier.job}', and this job is '{checked.job.name}'.",
                    "The order of another thing says nothing of this one.",
                    "Name a plan of this job, or leave --earlier out.",
                )
            ]
        )
    made = plan(checked, say_progress, earlier=tuple(task.id for task in earlier.tasks) if earlier is not None else ())
    made, making = prove(made, checked.job, say_progress)
    if given.json is not None:
        from sequencer.plan_file import write_plan

        write_plan(made, given.json)
    print(plan_text(made))
    if earlier is not None:
        from sequencer.asking.differences import differences_text

        print(f"\n{differences_text(earlier, made)}")
    if given.json is not None:
        print(wrapped(f"Wrote the plan to {given.json}."))
    return DONE if making.proof.held else REFUSED


def _earlier_plan(file: Path) -> Plan:
    """An earlier plan from its JSON form. Unusable if the file holds none, or one that contradicts itself."""
    from pydantic import ValidationError

    from sequencer.plan_file import contradiction, read_plan

    remedy = "Name a file that `sequencer plan JOB --json FILE` wrote, or leave --earlier out."
    try:
        plan = read_plan(file.read_bytes())
    except FileNotFoundError:
        raise Unusable([Finding("error", "no-plan", str(file), f"There is no file {file}.", remedy=remedy)]) from None
    except (ValidationError, ValueError, IsADirectoryError):
        what = f"{file} holds no plan in the JSON form of this version."
        raise Unusable([Finding("error", "no-plan", str(file), what, remedy=remedy)]) from None
    if broken := contradiction(plan):
        what = f"{file} holds no whole plan: {broken}"
        raise Unusable([Finding("error", "no-plan", str(file), what, "Its order cannot be known.", remedy)])
    return plan


def run_prove(given: argparse.Namespace) -> int:
    """`sequencer prove`. Returns the exit code."""
    from sequencer.pipeline import check, plan, prove

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    made, making = prove(plan(checked, say_progress), checked.job, say_progress)
    print(proof_text(made))
    return DONE if making.proof.held else REFUSED


def run_why(given: argparse.Namespace) -> int:
    """`sequencer why`. Returns the exit code."""
    from sequencer.asking.orders import why_before, why_here
    from sequencer.pipeline import check, plan

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    made = plan(checked, say_progress)
    if given.second is None:
        print(why_here(made, checked.knowledge, given.first))
    else:
        print(why_before(made, checked.knowledge, given.first, given.second))
    return DONE


def run_what_if(given: argparse.Namespace) -> int:
    """`sequencer what-if`. Returns the exit code."""
    from sequencer.asking.supposing import suppose
    from sequencer.pipeline import check

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    answer = suppose(checked, given.later, given.before, say_progress)
    print(answer.text)
    return DONE if answer.possible else REFUSED


def run_ways(given: argparse.Namespace) -> int:
    """`sequencer ways`. Returns the exit code."""
    from sequencer.pipeline import check
    from sequencer.planning.planner import task_names, ways_asked

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    if has_errors(checked.findings):
        raise Refused(checked.findings)
    found = ways_asked(given.name, checked.job, checked.workshop, checked.knowledge)
    if not found:
        tasks = task_names(checked.job, checked.knowledge)
        names = sorted({*tasks, *(name.rpartition("/")[0] for name in tasks)})
        raise Unusable(
            [
                Finding(
                    "error",
                    "unknown-task",
                    given.name,
                    f"The job has no feature or task called {given.name}.",
                    remedy=close_names(given.name, names),
                )
            ]
        )
    print(ways_text(found))
    return DONE


def run_knowledge(given: argparse.Namespace) -> int:
    """`sequencer knowledge`. Returns the exit code."""
    from sequencer.asking.answers import answer
    from sequencer.knowledge.loading import load_knowledge
    from sequencer.pipeline import own_folder
    from sequencer.reading.workshop import read_workshop

    workshop = read_workshop(given.workshop)[0] if given.workshop is not None else None
    own = given.knowledge or (own_folder(workshop) if workshop is not None else None)
    knowledge = load_knowledge(own, workshop.switched_off if workshop is not None else ())
    print(answer(" ".join(given.words), knowledge, workshop))
    return DONE


def run_schema(given: argparse.Namespace) -> int:
    """`sequencer schema`. Returns the exit code."""
    import json

    if given.kind == "plan":
        from sequencer.plan_file import plan_schema as schema
    elif given.kind == "job":
        from sequencer.reading.schema import job_schema as schema
    elif given.kind == "class-plan":
        from sequencer.class_plan_file import class_plan_schema as schema
    else:
        from sequencer.reading.schema import workshop_schema as schema
    print(json.dumps(schema(), indent=2, ensure_ascii=False))
    return DONE
