"""The command line: reads the words, calls the stages, prints plain text of at most 80 columns.

Exit codes: 0 done, 1 refused with findings, 2 unusable input or command. No traceback reaches a user.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from functools import partial
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from sequencer import __version__
from sequencer.findings import Finding, Refused, Unusable, has_errors
from sequencer.talk import WIDTH, close_names, findings_text, plan_text, proof_text, ways_text, wrapped

if TYPE_CHECKING:
    from sequencer.model.job import Job
    from sequencer.model.plan import Plan
    from sequencer.model.workshop import Workshop
    from sequencer.proving.making import Making

DONE, REFUSED, UNUSABLE = 0, 1, 2

LOCAL_RULES = (
    "Local law, your school's policy and the machine maker's instructions come first. Qualified staff must check every "
    "plan and sheet before use."
)


OWN_FOLDER = "the school's own folder of operations and hazards; without it the one that the workshop file names"


class _Parser(argparse.ArgumentParser):
    """An argument parser whose complaints end with what to do, and whose help fits a narrow window."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings, formatter_class=partial(argparse.HelpFormatter, width=WIDTH))

    def error(self, message: str) -> NoReturn:
        sys.stderr.write(wrapped(f"{message[:1].upper()}{message[1:]}. Run `{self.prog} --help` to see how it is used.") + "\n")
        raise SystemExit(UNUSABLE)


def _say(text: str) -> None:
    """Progress goes to the error stream, so that output can be piped."""
    sys.stderr.write(f"... {text}\n")
    sys.stderr.flush()


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
    if not 0.05 <= value <= 100:
        raise argparse.ArgumentTypeError(f"{text!r} is no number from 0.05 to 100")
    return value


def _folder(text: str) -> Path:
    if not text.strip():
        raise argparse.ArgumentTypeError("the name of the folder is empty; name the folder, or leave the option out")
    return Path(text)


def _printed_day(given: argparse.Namespace) -> date:
    """The date the sheets print and whose limits hold: as given, else that of SOURCE_DATE_EPOCH (seconds since 1970, UTC),
    else today. Unusable if that is no number or no date."""
    if given.date is not None:
        day: date = given.date
        return day
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    if not seconds:
        return date.today()
    if not (seconds.isascii() and seconds.isdigit()):
        what, remedy = f"SOURCE_DATE_EPOCH is '{seconds}', which is no number of seconds.", "Unset it, or give --date."
        raise Unusable([Finding("error", "date", "SOURCE_DATE_EPOCH", what, remedy=remedy)])
    try:
        return datetime.fromtimestamp(int(seconds), UTC).date()
    except (OverflowError, ValueError, OSError):
        what, remedy = "SOURCE_DATE_EPOCH is later than any date of the calendar.", "Unset it, or give --date."
        raise Unusable([Finding("error", "date", "SOURCE_DATE_EPOCH", what, remedy=remedy)]) from None


def _parser() -> argparse.ArgumentParser:
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

    new = command("new", "start a job: writes a small job file and a workshop file to change", _new)
    new.add_argument("dir", metavar="DIR", type=Path, help="the folder to write into; nothing in it is overwritten")
    command("check", "read a job and check the drawing", _check, job=True)
    planning = command("plan", "plan the making and print the order of work", _plan, job=True)
    planning.add_argument(
        "--earlier",
        metavar="FILE",
        type=Path,
        help="an earlier plan in its JSON form: its order is kept where it is still among the best, and what changed is listed",
    )
    planning.add_argument("--json", metavar="FILE", type=Path, help="also write the whole plan in its published JSON form")
    why = command("why", "say why a piece of work stands where it does, or comes before another", _why, job=True)
    why.add_argument("first", metavar="A", help="a task, a part/feature, or a step number of the plan")
    why.add_argument("second", metavar="B", nargs="?", help="another; without it, why A stands where it does")
    what_if = command("what-if", "put one piece of work before another and say what that breaks or costs", _what_if, job=True)
    what_if.add_argument("later", metavar="B", help="a task, a part/feature, or a step number of the plan")
    what_if.add_argument("--before", metavar="A", required=True, help="what it is to come before")
    ways = command("ways", "list every way of doing a piece of work, possible or not, and why", _ways, job=True)
    ways.add_argument("name", metavar="PART/FEATURE", help="a feature, such as side/floor-groove, or a task")
    asked = command("knowledge", "look up what is known: lists, one thing in full, every way of making something", _knowledge)
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
    papers = command("papers", "write the sheets to print, as HTML and PDF", _papers, job=True)
    papers.add_argument("--out", metavar="DIR", type=Path, required=True, help="the folder to write into")
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
    show = command("show", "draw the thing, its parts, one part, the picture of a step or the order of work", _show, job=True)
    what = show.add_mutually_exclusive_group()
    what.add_argument("--part", metavar="P", help="a part as drawn with its sizes, by its name or letter")
    what.add_argument("--step", metavar="S", help="a step's picture as on the card, by its number or a task in it")
    what.add_argument("--apart", action="store_true", help="the whole taken apart; without it as it stands")
    what.add_argument("--parts", action="store_true", help="every part once, at one scale")
    what.add_argument("--order", action="store_true", help="the order of work: steps by station, arrows with their reasons")
    what.add_argument("--locked", action="store_true", help="the pieces that lock each other, where it cannot be put together")
    show.add_argument(
        "--out", metavar="FILE", type=Path, required=True, help="the file to write: .svg, .pdf, or .glb for a model of the whole"
    )
    show.usage = "sequencer show JOB --out FILE [options]"
    command("prove", "make the plan on solids and print what was checked and what came out", _prove, job=True)
    lessons = command(
        "lessons", "plan the lessons of a whole class, and say what holds them up and what would help", _lessons, job=True
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
    lessons.add_argument("--out", metavar="DIR", type=Path, help="also write the sheets of the lessons into this folder")
    lessons.add_argument(
        "--sheet",
        metavar="SHEET",
        action="append",
        default=[],
        help="with --out only this sheet (lesson-plan, wall-chart, seat-cards, technician-list, sign-off-register); may be given "
        "several times",
    )
    lessons.add_argument("--page", choices=("a4", "letter"), default="a4", help="paper size; without it a4")
    lessons.add_argument("--json", metavar="FILE", type=Path, help="also write the whole class plan in its published JSON form")
    lessons.add_argument(
        "--calendar",
        metavar="FILE",
        type=Path,
        help="also write lessons and staff's time as a calendar file, whose name ends in .ics",
    )
    lessons.add_argument(
        "--table", metavar="FILE", type=Path, help="also write who is where when as a table, whose name ends in .csv"
    )
    schema = command("schema", "print the JSON Schema of a file or of the plan", _schema)
    schema.add_argument(
        "kind", metavar="KIND", choices=("job", "workshop", "plan", "class-plan"), help="job, workshop, plan or class-plan"
    )
    demo = command("demo", "plan a ready example and write its sheets", _demo)
    demo.add_argument("--out", metavar="DIR", type=Path, default=Path("out"), help="the folder to write into; without it out")
    demo.add_argument("--date", metavar="D", type=_day, help="the date printed on the sheets; without it today")
    return parser


def main(words: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code."""
    # A run is short and most of what it makes stays: looking for what could be thrown away is put off.
    gc.set_threshold(100_000, 50, 100)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A console that lacks a letter of a name shows a mark in its place.
            stream.reconfigure(errors="replace")
    try:
        given = _parser().parse_args(words)
        code: int = given.run(given)
        sys.stdout.flush()
        return code
    except Unusable as error:
        sys.stderr.write(findings_text(error.findings) + "\n")
        return UNUSABLE
    except Refused as error:
        sys.stderr.write(findings_text(error.findings) + "\n" + wrapped("No plan was made.") + "\n")
        return REFUSED
    except BrokenPipeError:
        # The reader of a pipe went away (`| head`): nothing is lost, and Python must not complain at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except (FileExistsError, NotADirectoryError) as error:
        sys.stderr.write(wrapped(f"{error.filename} is a file, and a folder is needed there. Name another folder.") + "\n")
        return UNUSABLE
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        sys.stderr.write(wrapped(f"{where}{error.strerror or error}. Check the path and that you may write there.") + "\n")
        return UNUSABLE
    except KeyboardInterrupt:
        sys.stderr.write("Stopped. No sheet was left half written.\n")
        return UNUSABLE
    except Exception as error:
        sys.stderr.write(
            wrapped(
                f"This is a fault of the tool, not of your files: {type(error).__name__}: {error}. Nothing of yours was "
                "changed. Please report it with the job and workshop file."
            )
            + "\n"
        )
        return UNUSABLE


def _workshop_of(given: argparse.Namespace) -> Path:
    """The workshop file that is meant. Unusable if none is named and none lies beside the job."""
    if given.workshop is not None:
        return Path(given.workshop)
    job: Path = given.job
    if not job.is_file():
        from sequencer.reading.job import read_job

        read_job(job)  # says what is wrong with the name, which matters before any workshop does
    for folder in (job.parent, job.parent.parent):
        if (folder / "workshop.yaml").is_file():
            return folder / "workshop.yaml"
    raise Unusable(
        [
            Finding(
                "error",
                "no-workshop",
                str(job),
                "No workshop file was named, and there is no workshop.yaml beside the job file.",
                "What is possible depends on the workshop: its stations, guards and people.",
                "Add `--workshop FILE`, or put a workshop.yaml beside the job file; `sequencer new DIR` writes one to change.",
            )
        ]
    )


def _new(given: argparse.Namespace) -> int:
    from sequencer.data import data_folder

    folder: Path = given.dir
    _not_among_the_data(folder)
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


def _check(given: argparse.Namespace) -> int:
    from sequencer.pipeline import check

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
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


def _no_input(given: argparse.Namespace, file: Path, workshop: Workshop) -> None:
    """Unusable if a file or folder to write is one that is read, or lies in a folder of knowledge or shipped data."""
    from sequencer.pipeline import own_folder

    if file.resolve() in (given.job.resolve(), _workshop_of(given).resolve()):
        raise _would_overwrite(file, f"{file} is one of the files the plan is made from.", "Name another file.")
    _not_among_the_data(file, given.knowledge or own_folder(workshop))


def _not_among_the_data(file: Path, own: Path | None = None) -> None:
    """Unusable if a file or folder to write lies in the school's own folder of knowledge or in the tool's own data."""
    from sequencer.data import FOLDERS, data_folder

    for folder in (*((own,) if own is not None else ()), *map(data_folder, FOLDERS)):
        if file.resolve().is_relative_to(folder.resolve()):
            whose = "the school's own folder of knowledge" if folder == own else "the tool's own data"
            raise _would_overwrite(file, f"{file} lies in {whose}, {folder}.", "Name a place outside that folder.")


def _would_overwrite(file: Path, what: str, remedy: str) -> Unusable:
    return Unusable([Finding("error", "would-overwrite", str(file), what, "Nothing that is read is written over.", remedy)])


def _plan(given: argparse.Namespace) -> int:
    from sequencer.pipeline import check, plan, prove

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    if given.json is not None:
        _no_input(given, given.json, checked.workshop)
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
    made = plan(checked, _say, earlier=tuple(task.id for task in earlier.tasks) if earlier is not None else ())
    made, making = prove(made, checked.job, _say)
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


def _prove(given: argparse.Namespace) -> int:
    from sequencer.pipeline import check, plan, prove

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    made, making = prove(plan(checked, _say), checked.job, _say)
    print(proof_text(made))
    return DONE if making.proof.held else REFUSED


def _why(given: argparse.Namespace) -> int:
    from sequencer.asking.orders import why_before, why_here
    from sequencer.pipeline import check, plan

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    made = plan(checked, _say)
    if given.second is None:
        print(why_here(made, checked.knowledge, given.first))
    else:
        print(why_before(made, checked.knowledge, given.first, given.second))
    return DONE


def _what_if(given: argparse.Namespace) -> int:
    from sequencer.asking.supposing import suppose
    from sequencer.pipeline import check

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    answer = suppose(checked, given.later, given.before, _say)
    print(answer.text)
    return DONE if answer.possible else REFUSED


def _ways(given: argparse.Namespace) -> int:
    from sequencer.pipeline import check
    from sequencer.planning.planner import task_names, ways_of

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    if has_errors(checked.findings):
        raise Refused(checked.findings)
    found = ways_of(given.name, checked.job, checked.workshop, checked.knowledge)
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


def _knowledge(given: argparse.Namespace) -> int:
    from sequencer.asking.answers import answer
    from sequencer.knowledge.loading import load_knowledge
    from sequencer.pipeline import own_folder
    from sequencer.reading.workshop import read_workshop

    workshop = read_workshop(given.workshop)[0] if given.workshop is not None else None
    own = given.knowledge or (own_folder(workshop) if workshop is not None else None)
    knowledge = load_knowledge(own, workshop.switched_off if workshop is not None else ())
    print(answer(" ".join(given.words), knowledge, workshop))
    return DONE


def _papers(given: argparse.Namespace) -> int:
    from sequencer.paper.sheets import SHEETS
    from sequencer.pipeline import check, plan, prove

    _known_sheets("--only", given.only, SHEETS)
    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    _no_input(given, given.out, checked.workshop)
    made, making = prove(plan(checked, _say, day=_printed_day(given)), checked.job, _say)
    return write_sheets(made, checked.job, making, given)


def write_sheets(made: Plan, job: Job, making: Making, given: argparse.Namespace) -> int:
    """Write the sheets of a plan carried out, and say what was written. Returns the exit code: a draft is not done."""
    from sequencer.pipeline import papers

    files, missing = papers(
        made,
        job,
        making,
        given.out,
        day=_printed_day(given),
        only=tuple(dict.fromkeys(given.only)),
        page=given.page,
        say=_say,
    )
    _print_written(files, missing)
    return _done_or_draft(making)


def _known_sheets(option: str, names: Sequence[str], sheets: Iterable[str]) -> None:
    """Unusable if a name is no sheet."""
    unknown = [name for name in names if name not in sheets]
    if unknown:
        remedy = f"The sheets are: {', '.join(sheets)}."
        raise Unusable([Finding("error", "unknown-sheet", option, f"There is no sheet called {unknown[0]}.", remedy=remedy)])


def _done_or_draft(making: Making) -> int:
    """The exit code of sheets that are written: a draft is not done, and is told of."""
    if making.proof.held:
        return DONE
    print(wrapped("The plan is not proved: every page says that it is a draft. `sequencer prove` prints what did not hold."))
    return REFUSED


def _show(given: argparse.Namespace) -> int:
    from sequencer.pipeline import View, check, show

    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    _no_input(given, given.out, checked.workshop)
    views: tuple[View, ...] = ("apart", "parts", "order", "locked")
    view: View = next((each for each in views if getattr(given, each)), "whole")
    show(checked, given.out, part=given.part, step=given.step, view=view, say=_say)
    print(wrapped(f"Wrote {given.out}."))
    if has_errors(checked.findings):
        print(wrapped("The drawing has errors and cannot be planned: `sequencer check` prints them."))
    return DONE


def _print_written(files: Sequence[Path], missing: str) -> None:
    print("Wrote:")
    for file in files:
        print(f"  {file}")
    if missing:
        print(wrapped(missing))
    print(wrapped(LOCAL_RULES))


def _lessons(given: argparse.Namespace) -> int:
    from sequencer import calendar_file, table_file
    from sequencer.class_plan_file import class_plan_json
    from sequencer.paper.lesson_sheets import LESSON_SHEETS
    from sequencer.pipeline import check, lesson_papers, lessons, plan, prove
    from sequencer.plan_file import write_whole
    from sequencer.talk_lessons import class_plan_text

    _ends_in(given.calendar, calendar_file.ENDING, "calendar")
    _ends_in(given.table, table_file.ENDING, "table")
    _known_sheets("--sheet", given.sheet, LESSON_SHEETS)
    if given.sheet and given.out is None:
        remedy = "Add `--out` and a folder, such as `--out lessons`."
        raise Unusable([Finding("error", "no-folder", "--sheet", "A sheet is asked for, and no folder for it.", remedy=remedy)])
    checked = check(given.job, _workshop_of(given), _say, own=given.knowledge)
    if given.students is not None:
        checked = replace(checked, workshop=replace(checked.workshop, students=given.students))
    named = [file for file in (given.json, given.calendar, given.table, given.out) if file is not None]
    for file in named:
        _no_input(given, file, checked.workshop)
    if len({file.resolve() for file in named}) < len(named):
        raise _would_overwrite(named[0], f"{named[0]} is named for two things to write.", "Name a file for each.")
    if given.calendar is not None:
        calendar_file.refuse_without_days(checked.workshop.time)
    day = _printed_day(given)
    made, making = prove(plan(checked, _say, day=day), checked.job, _say)
    class_plan = lessons(made, checked, _say, within=given.within, effort=given.effort, solve=not given.no_solver)
    files: list[tuple[str, Path, bytes]] = []
    if given.json is not None:
        files.append(("class plan", given.json, class_plan_json(class_plan)))
    if given.calendar is not None:
        files.append(("calendar", given.calendar, calendar_file.calendar_bytes(class_plan, day)))
    if given.table is not None:
        files.append(("table", given.table, table_file.table_bytes(class_plan)))
    for _, file, content in files:
        write_whole(file, content)
    print(class_plan_text(class_plan))
    for what, file, _ in files:
        print(wrapped(f"Wrote the {what} to {file}."))
    if given.out is None:
        return DONE
    only = tuple(dict.fromkeys(given.sheet))
    sheets, missing = lesson_papers(class_plan, made, given.out, day=day, only=only, page=given.page, say=_say)
    _print_written(sheets, missing)
    return _done_or_draft(making)


def _ends_in(file: Path | None, ending: str, what: str) -> None:
    """Unusable if a file to write has another ending than what it will hold."""
    if file is not None and file.suffix.lower() != ending:
        wrong = f"ends in {file.suffix}" if file.suffix else "has no ending"
        raise Unusable(
            [
                Finding(
                    "error",
                    "unknown-ending",
                    str(file),
                    f"{file} {wrong}, and a {what} file ends in {ending}.",
                    "Other programs tell by the ending what a file holds.",
                    f"Let its name end in {ending}.",
                )
            ]
        )


def _schema(given: argparse.Namespace) -> int:
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


def _demo(given: argparse.Namespace) -> int:
    from sequencer.data import data_folder
    from sequencer.pipeline import check, papers, plan, prove

    _not_among_the_data(given.out)
    examples = data_folder("examples")
    job, workshop = examples / "herb-caddy" / "job.yaml", examples / "workshops" / "full.yaml"
    checked = check(job, workshop, _say)
    made, making = prove(plan(checked, _say, day=_printed_day(given)), checked.job, _say)
    files, missing = papers(made, checked.job, making, given.out, day=_printed_day(given), say=_say)
    print(wrapped(f"Planned the {made.job.lower()} for {made.class_.students} students in {len(made.steps)} steps."))
    _print_written(files, missing)
    first = next((file for file in files if "job-card" in file.name and file.suffix == ".pdf"), files[0])
    print(wrapped(f"Open {first} first: it is the card a student follows."))
    return DONE
