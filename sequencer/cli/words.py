"""The words of the command line: commands, their options, what each is for."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any, NoReturn

from sequencer import __version__
from sequencer.cli.asking import (
    run_check,
    run_knowledge,
    run_new,
    run_plan,
    run_prove,
    run_schema,
    run_ways,
    run_what_if,
    run_why,
)
from sequencer.cli.saying import LOCAL_RULES, UNUSABLE
from sequencer.cli.writing import run_demo, run_lessons, run_papers, run_show
from sequencer.talk import WIDTH, wrapped

OWN_FOLDER = "the school's own folder of operations and hazards; without it the one that the workshop file names"


class _Parser(argparse.ArgumentParser):
    """An argument parser whose complaints end with what to do, and whose help fits a narrow window."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings, formatter_class=partial(argparse.HelpFormatter, width=WIDTH))

    def error(self, message: str) -> NoReturn:
        sys.stderr.write(wrapped(f"{message[:1].upper()}{message[1:]}. Run `{self.prog} --help` to see how it is used.") + "\n")
        raise SystemExit(UNUSABLE)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is not a date; write it as year-month-day, such as 2027-02-01") from None


def _count(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= 200):
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number from 1 to 200")
    return int(text)


def _effort(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = 0.0
    if not 0.02 <= value <= 100:
        raise argparse.ArgumentTypeError(f"{text!r} is no number from 0.02 to 100")
    return value


def _folder(text: str) -> Path:
    if not text.strip():
        raise argparse.ArgumentTypeError("the name of the folder is empty; name the folder, or leave the option out")
    return Path(text)


def _file(text: str) -> Path:
    if not text.strip():
        raise argparse.ArgumentTypeError("the name of the file is empty; name the file, or leave the option out")
    return Path(text)


def make_parser() -> argparse.ArgumentParser:
    """Every command with its options; each knows the function that runs it."""
    parser = _Parser(
        prog="sequencer",
        description="From a drawn woodwork project and a school's workshop to a checked, ordered plan of making it for a "
        "class, and the sheets to print.",
        epilog=LOCAL_RULES + " Exit codes: 0 done, 1 refused with findings, 2 unusable input or command.",
    )
    parser.add_argument("--version", action="version", version=f"sequencer {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    def command(name: str, does: str, run: Callable[[argparse.Namespace], int], *, job: bool = False) -> argparse.ArgumentParser:
        added = commands.add_parser(name, help=does, description=does[:1].upper() + does[1:] + ".")
        added.set_defaults(run=run)
        if job:
            added.add_argument("job", metavar="JOB", type=Path, help="the job file")
            added.add_argument(
                "--workshop",
                metavar="W",
                type=Path,
                help="the workshop file; without it workshop.yaml beside the job file, or in the folder above",
            )
            added.add_argument("--knowledge", metavar="DIR", type=_folder, help=OWN_FOLDER)
        return added

    new = command("new", "start a job: writes a small job file and a workshop file to change", run_new)
    new.add_argument("dir", metavar="DIR", type=Path, help="the folder to write into; nothing in it is overwritten")
    command("check", "read a job and check the drawing", run_check, job=True)
    planning = command("plan", "plan the making and print the order of work", run_plan, job=True)
    planning.add_argument(
        "--earlier",
        metavar="FILE",
        type=Path,
        help="an earlier plan in its JSON form: its order is kept where it is still among the best, and what changed is listed",
    )
    planning.add_argument("--json", metavar="FILE", type=_file, help="also write the whole plan in its published JSON form")
    why = command("why", "say why a piece of work stands where it does, or comes before another", run_why, job=True)
    why.add_argument("first", metavar="A", help="a task, a part/feature, or a step number of the plan")
    why.add_argument("second", metavar="B", nargs="?", help="another; without it, why A stands where it does")
    what_if = command("what-if", "put one piece of work before another and say what that breaks or costs", run_what_if, job=True)
    what_if.add_argument("later", metavar="B", help="a task, a part/feature, or a step number of the plan")
    what_if.add_argument("--before", metavar="A", required=True, help="what it is to come before")
    ways = command("ways", "list every way of doing a piece of work, possible or not, and why", run_ways, job=True)
    ways.add_argument("name", metavar="PART/FEATURE", help="a feature, such as side/floor-groove, or a task")
    asked = command("knowledge", "look up what is known: lists, one thing in full, every way of making something", run_knowledge)
    asked.add_argument(
        "words",
        metavar="WORD",
        nargs="+",
        help="stations, operations, hazards, materials, glues, finishes or regions for a list; a name for that thing in full; "
        "or free words for every "
        'way of making it, such as "stopped groove"',
    )
    asked.add_argument("--workshop", metavar="W", type=Path, help="a workshop file, to see what is there and possible")
    asked.add_argument("--knowledge", metavar="DIR", type=_folder, help=OWN_FOLDER)
    papers = command("papers", "write the sheets to print, as HTML and PDF", run_papers, job=True)
    papers.add_argument("--out", metavar="DIR", type=_folder, required=True, help="the folder to write into")
    papers.add_argument(
        "--date", metavar="D", type=_day, help="the date printed on the sheets, such as 2027-02-01; without it today"
    )
    papers.add_argument(
        "--only",
        metavar="SHEET",
        action="append",
        default=[],
        help="only this sheet (job-card, station-cards, staff-sheet, risk-assessment, templates); may be given several times",
    )
    papers.add_argument("--page", choices=("a4", "letter"), default="a4", help="paper size; without it a4")
    show = command("show", "draw the thing, its parts, one part, the picture of a step or the order of work", run_show, job=True)
    what = show.add_mutually_exclusive_group()
    what.add_argument("--part", metavar="P", help="a part as drawn with its sizes, by its name or letter")
    what.add_argument("--step", metavar="S", help="a step's picture as on the card, by its number or a task in it")
    what.add_argument("--apart", action="store_true", help="the whole taken apart; without it as it stands")
    what.add_argument("--parts", action="store_true", help="every part once, at one scale")
    what.add_argument("--order", action="store_true", help="the order of work: steps by station, arrows with their reasons")
    what.add_argument("--locked", action="store_true", help="the pieces that lock each other, where it cannot be put together")
    show.add_argument(
        "--out", metavar="FILE", type=_file, required=True, help="the file to write: .svg, .pdf, or .glb for a model of the whole"
    )
    show.usage = "sequencer show JOB --out FILE [options]"
    command("prove", "make the plan on solids and print what was checked and what came out", run_prove, job=True)
    lessons = command(
        "lessons", "plan the lessons of a whole class, and say what holds them up and what would help", run_lessons, job=True
    )
    lessons.add_argument(
        "--students", metavar="N", type=_count, help="students in the class; without it as the workshop file says"
    )
    lessons.add_argument("--within", metavar="N", type=_count, help="how many lessons there are; refused if it takes more")
    lessons.add_argument(
        "--effort", metavar="E", type=_effort, default=1.0, help="how long to look, as a multiple of the usual; without it 1"
    )
    lessons.add_argument("--no-solver", action="store_true", help="do without the optional solver, where it is installed")
    lessons.add_argument(
        "--date", metavar="D", type=_day, help="the date whose limits hold and that the sheets print; without it today"
    )
    lessons.add_argument("--out", metavar="DIR", type=_folder, help="also write the sheets of the lessons into this folder")
    lessons.add_argument(
        "--sheet",
        metavar="SHEET",
        action="append",
        default=[],
        help="with --out only this sheet (lesson-plan, wall-chart, seat-cards, technician-list, sign-off-register); may be given "
        "several times",
    )
    lessons.add_argument("--page", choices=("a4", "letter"), default="a4", help="paper size; without it a4")
    lessons.add_argument("--json", metavar="FILE", type=_file, help="also write the whole class plan in its published JSON form")
    lessons.add_argument(
        "--calendar",
        metavar="FILE",
        type=_file,
        help="also write lessons and staff's time as a calendar file, whose name ends in .ics",
    )
    lessons.add_argument(
        "--table", metavar="FILE", type=_file, help="also write who is where when as a table, whose name ends in .csv"
    )
    schema = command("schema", "print the JSON Schema of a file or of the plan", run_schema)
    schema.add_argument(
        "kind", metavar="KIND", choices=("job", "workshop", "plan", "class-plan"), help="job, workshop, plan or class-plan"
    )
    demo = command("demo", "plan a ready example and write its sheets", run_demo)
    demo.add_argument("--out", metavar="DIR", type=_folder, default=Path("out"), help="the folder to write into; without it out")
    demo.add_argument("--date", metavar="D", type=_day, help="the date printed on the sheets; without it today")
    return parser
