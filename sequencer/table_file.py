"""The plan of a class as a table (comma-separated values, RFC 4180): a row for each seat's stint and each job of the staff.

No cell begins with a sign that a spreadsheet would take for a formula.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from io import StringIO
from pathlib import Path

from sequencer.model.class_plan import NO_TIMETABLE, ClassPlan, Session, Span, StaffJob, Stint
from sequencer.plan_file import write_whole

ENDING = ".csv"
HEADINGS = (
    "seat",
    "lesson",
    "time",
    "date",
    "start",
    "stop",
    "minute from",
    "minute until",
    "step",
    "title",
    "station",
    "adult",
    "kind",
    "part",
    "of",
)
"""`lesson`: of staff's own time the lesson that comes next. `start`, `stop`: by the clock, where the workshop file states it;
`minute from`, `minute until`: from when work begins in the lesson, or from the start of the stretch of staff's own time."""
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""With these a spreadsheet may take a cell for a formula, in full width too."""
MARK = "\ufeff"
"""In front of the text, so that spreadsheets read it as Unicode."""

Row = tuple[str, ...]


def table_bytes(plan: ClassPlan) -> bytes:
    """The table. Equal plans give equal bytes."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(HEADINGS)
    writer.writerows(tuple(guarded(cell) for cell in row) for row in rows(plan))
    return (MARK + text.getvalue()).encode()


def write_table(plan: ClassPlan, file: Path) -> None:
    """Write the table. OSError if the folder cannot be written; then nothing is left behind."""
    write_whole(file, table_bytes(plan))


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: such a one begins with an apostrophe."""
    return f"'{cell}" if cell.startswith(FORMULA) else cell


def rows(plan: ClassPlan) -> Iterator[Row]:
    """The rows: each seat's stints in order of time, then the staff's jobs."""
    benches = " or ".join(plan.at_benches)
    stated = not any(finding.code == NO_TIMETABLE for finding in plan.findings)
    own = [(seat, stint, span) for stint in plan.stints for seat in stint.seats for span in stint.spans]
    order = {seat: number for number, seat in enumerate(plan.seats)}
    for seat, stint, span in sorted(own, key=lambda each: (order[each[0]], each[2].session, each[2].start)):
        lesson = plan.lessons[span.session - 1]
        yield _row(seat, "lesson", lesson.number, lesson, span, stint, stated, benches if stint.attention else "")
    for job in plan.staff_jobs:
        for span in job.spans:
            if job.in_lesson:
                session = plan.lessons[span.session - 1]
                yield _row("", "lesson", session.number, session, span, job, stated)
            else:
                session = plan.staff_sessions[span.session - 1]
                yield _row("", "staff", session.before, session, span, job, stated and plan.staff_time_stated)


def _row(
    seat: str, when: str, lesson: int, session: Session, span: Span, what: Stint | StaffJob, stated: bool, benches: str = ""
) -> Row:
    dated = stated and session.day is not None
    part = (str(what.piece), str(what.of)) if isinstance(what, Stint) else ("", "")
    return (
        seat,
        str(lesson or ""),
        when,
        f"{session.day}" if dated else "",
        session.at(span.start) if dated else "",
        session.at(span.stop) if dated else "",
        str(span.start),
        str(span.stop),
        str(what.number),
        what.title,
        what.place,
        what.adult or benches,
        f"staff {what.kind}" if isinstance(what, StaffJob) else what.kind,
        *part,
    )
