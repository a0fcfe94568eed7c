"""The commands that write sheets and pictures: papers, show, lessons, demo."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.cli.named import ends_in, known_sheets, no_input, not_among_the_data, printed_day, workshop_of, would_overwrite
from sequencer.cli.saying import DONE, done_or_draft, print_written, say_progress
from sequencer.findings import Finding, Unusable, has_errors
from sequencer.reading.words import so_many
from sequencer.talk import wrapped

if TYPE_CHECKING:
    from sequencer.model.class_plan import ClassPlan
    from sequencer.model.job import Job
    from sequencer.model.plan import Plan
    from sequencer.proving.making import Making


def run_papers(given: argparse.Namespace) -> int:
    """`sequencer papers`. Returns the exit code."""
    from sequencer.paper.sheets import SHEETS
    from sequencer.pipeline import check, plan, prove

    known_sheets("--only", given.only, SHEETS)
    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    no_input(given, given.out, checked.workshop)
    made, making = prove(plan(checked, say_progress, day=printed_day(given)), checked.job, say_progress)
    return write_sheets(made, checked.job, making, given)


def write_sheets(made: Plan, job: Job, making: Making, given: argparse.Namespace) -> int:
    """Write the sheets of a plan carried out, and say what was written. Returns the exit code: a draft is not done."""
    from sequencer.pipeline import papers

    files, missing = papers(
        made,
        job,
        making,
        given.out,
        day=printed_day(given),
        only=tuple(dict.fromkeys(given.only)),
        page=given.page,
        say=say_progress,
    )
    print_written(files, missing)
    return done_or_draft(making)


def run_show(given: argparse.Namespace) -> int:
    """`sequencer show`. Returns the exit code."""
    from sequencer.pipeline import View, check, show

    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    no_input(given, given.out, checked.workshop)
    views: tuple[View, ...] = ("apart", "parts", "order", "locked")
    view: View = next((each for each in views if getattr(given, each)), "whole")
    show(checked, given.out, part=given.part, step=given.step, view=view, say=say_progress)
    print(wrapped(f"Wrote {given.out}."))
    if has_errors(checked.findings):
        print(wrapped("The drawing has errors and cannot be planned: `sequencer check` prints them."))
    return DONE


def run_lessons(given: argparse.Namespace) -> int:
    """`sequencer lessons`. Returns the exit code."""
    from sequencer import calendar_file, table_file
    from sequencer.class_plan_file import class_plan_json
    from sequencer.paper.lesson_sheets import LESSON_SHEETS
    from sequencer.pipeline import check, lessons, plan, prove
    from sequencer.plan_file import can_be_written, write_whole
    from sequencer.talk_lessons import class_plan_text

    ends_in(given.calendar, calendar_file.ENDING, "calendar")
    ends_in(given.table, table_file.ENDING, "table")
    known_sheets("--sheet", given.sheet, LESSON_SHEETS)
    if given.sheet and given.out is None:
        remedy = "Add `--out` and a folder, such as `--out lessons`."
        raise Unusable([Finding("error", "no-folder", "--sheet", "A sheet is asked for, and no folder for it.", remedy=remedy)])
    checked = check(given.job, workshop_of(given), say_progress, own=given.knowledge)
    if given.students is not None:
        checked = replace(checked, workshop=replace(checked.workshop, students=given.students))
    named = [file for file in (given.json, given.calendar, given.table, given.out) if file is not None]
    for file in named:
        no_input(given, file, checked.workshop)
        can_be_written(file / "sheet" if file is given.out else file)
    if len({file.resolve() for file in named}) < len(named):
        raise would_overwrite(named[0], f"{named[0]} is named for two things to write.", "Name a file for each.")
    if given.calendar is not None:
        calendar_file.refuse_without_days(checked.workshop.time)
    day = printed_day(given)
    made, making = prove(plan(checked, say_progress, day=day), checked.job, say_progress)
    class_plan = lessons(made, checked, say_progress, within=given.within, effort=given.effort, solve=not given.no_solver)
    files: list[tuple[str, Path, bytes]] = []
    if given.json is not None:
        files.append(("class plan", given.json, class_plan_json(class_plan)))
    if given.calendar is not None:
        files.append(("calendar", given.calendar, calendar_file.calendar_bytes(class_plan, day)))
    if given.table is not None:
        files.append(("table", given.table, table_file.table_bytes(class_plan)))
    print(class_plan_text(class_plan), flush=True)
    for what, file, content in files:
        write_whole(file, content)
        print(wrapped(f"Wrote the {what} to {file}."))
    return write_course(class_plan, made, making, given) if given.out is not None else DONE


def write_course(class_plan: ClassPlan, made: Plan, making: Making, given: argparse.Namespace) -> int:
    """Write the sheets of the lessons, and say what was written. Returns the exit code: a draft is not done."""
    from sequencer.pipeline import lesson_papers

    only = tuple(dict.fromkeys(given.sheet))
    sheets, missing = lesson_papers(
        class_plan, made, given.out, day=printed_day(given), only=only, page=given.page, say=say_progress
    )
    print_written(sheets, missing)
    return done_or_draft(making)


def run_demo(given: argparse.Namespace) -> int:
    """`sequencer demo`. Returns the exit code."""
    from sequencer.data import data_folder
    from sequencer.pipeline import check, papers, plan, prove

    not_among_the_data(given.out)
    examples = data_folder("examples")
    job, workshop = examples / "herb-caddy" / "job.yaml", examples / "workshops" / "full.yaml"
    checked = check(job, workshop, say_progress)
    made, making = prove(plan(checked, say_progress, day=printed_day(given)), checked.job, say_progress)
    files, missing = papers(made, checked.job, making, given.out, day=printed_day(given), say=say_progress)
    students, steps = so_many(made.class_.students, "student"), so_many(len(made.steps), "step")
    print(wrapped(f"Planned the {made.job.lower()} for {students} in {steps}."))
    print_written(files, missing)
    first = next((file for file in files if "job-card" in file.name and file.suffix == ".pdf"), files[0])
    print(wrapped(f"Open {first} first: it is the card a student follows."))
    return DONE
