"""Reads a workshop file into the model, or says everything that is wrong with it at once."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path, PurePosixPath

from sequencer.findings import Finding
from sequencer.model.workshop import Adult, Counted, Rule, Station, Timetable, Weekly, Workshop
from sequencer.reading.expressions import Unit
from sequencer.reading.reader import Reader
from sequencer.reading.report import Report
from sequencer.reading.tree import Tree, read_tree
from sequencer.reading.words import meant
from sequencer.reading.workshop_file import FIGURES, WEEK, AdultForm, CountedForm, StationForm, TimeForm, WorkshopForm


def read_workshop(path: Path) -> tuple[Workshop, tuple[Finding, ...]]:
    """The workshop a file describes, and notes on it. Unusable, with every error of the file, if it cannot be used."""
    return workshop_of(read_tree(path))


def workshop_of(tree: Tree) -> tuple[Workshop, tuple[Finding, ...]]:
    """The workshop a tree describes, as `read_workshop` gives it."""
    report = Report(tree)
    unit: Unit = "in" if tree.at(("units",)) == "in" else "mm"
    reader = Reader(unit=unit)
    head = report.form(WorkshopForm, tree.data, (), reader)
    stations = {
        name: _station(name, form, report, reader) for name, form in report.forms(StationForm, ("stations",), reader).items()
    }
    counted = {
        name: Counted(name, form.count, form.reach, form.kind)
        for name, form in report.forms(CountedForm, ("counted",), reader).items()
    }
    if head:
        _told_apart([each.role for each in head.people.adults], report)
    knowledge = _knowledge(head.knowledge, report) if head else ""
    time = _time(head.time, report) if head else None
    notes = report.close()
    assert head is not None, "close() raises where there is no head"
    assert time is not None
    workshop = Workshop(
        name=head.workshop,
        stations=stations,
        counted=counted,
        students=head.people.students,
        year=head.people.year,
        age=head.people.age,
        adults=_adults(head.people.adults),
        time=time,
        places=head.room.places,
        temperature=head.room.temperature,
        humidity=head.room.humidity,
        pairs=head.people.pairs,
        shown_in=head.people.shown_in or 0,
        instructed=head.people.instructed,
        signed_off=head.people.signed_off,
        all_ready=head.people.all_ready,
        rules=tuple(
            Rule(about, each.operator, each.supervision, each.gate, each.by, each.why) for about, each in head.policy.items()
        ),
        region=head.region,
        limits=head.limits,
        switched_off=head.switched_off,
        knowledge=knowledge,
        note=head.note,
        file=PurePosixPath(tree.file).name,
    )
    return workshop, notes


def _station(name: str, form: StationForm, report: Report, reader: Reader) -> Station:
    figures: dict[str, float] = {}
    for figure, text in form.figures.items():
        steps = ("stations", name, "figures", figure)
        if figure not in FIGURES:
            report.error("unknown-name", steps, f"'{figure}' is no figure of a station.", remedy=meant(figure, FIGURES))
            continue
        unit = FIGURES[figure].unit
        try:
            value = reader.length(text) if unit == "mm" else reader.number(text)
        except ValueError as error:
            report.error("number", steps, f"'{figure}' must be a number. {error}")
            continue
        if value < 0 and unit != "degC":
            report.error("number", steps, f"'{figure}' is under zero: {value:g}.", remedy="Write what the machine's plate says.")
        figures[figure] = value
    return Station(
        name=name,
        kind=form.kind,
        count=form.count,
        guards=form.guards,
        holding=form.holding,
        extraction=form.extraction,
        brake=form.brake,
        emergency_stop=form.emergency_stop,
        figures=figures,
        sizes={tool: tuple(sorted(set(sizes))) for tool, sizes in form.sizes.items()},
        speeds=tuple(sorted(set(form.speeds))),
        noise=form.noise,
        vibration=form.vibration,
        dust=form.dust,
        out_of_service=form.out_of_service,
        away=tuple(sorted(set(form.away))),
        note=form.note,
        by=form.by,
        why=form.why,
    )


def _adults(forms: Sequence[AdultForm]) -> tuple[Adult, ...]:
    """The adults; the first of them teaches where nothing else is said."""
    return tuple(
        Adult(each.role, each.authorised, each.in_lessons, not number if each.teaches is None else each.teaches)
        for number, each in enumerate(forms)
    )


def _told_apart(roles: Sequence[str], report: Report) -> None:
    """An error for each role that stands there again."""
    for number, role in enumerate(roles):
        if role in roles[:number]:
            report.error(
                "same-role", ("people", "adults", number, "role"), f"Two adults are called '{role}'.",
                "Who watches what, and who may, is told by the role.", f"Call them '{role} 1' and '{role} 2'.",
            )  # fmt: skip


def _time(form: TimeForm, report: Report) -> Timetable:
    if form.settling_in + form.clearing_up >= form.lesson:
        report.error(
            "no-time", ("time",), f"Settling in and clearing up take {form.settling_in + form.clearing_up:g} minutes of a lesson "
            f"of {form.lesson:g}.", "No time is left to work.", "Correct the minutes.",
        )  # fmt: skip
    week = tuple(sorted((Weekly(each.day, each.at) for each in form.week), key=lambda each: (each.day, each.at)))
    staff = sorted((Weekly(each.day, each.at, each.minutes) for each in form.staff_time), key=lambda each: (each.day, each.at))
    if week and form.lessons_a_week not in (None, len(week)):
        report.error(
            "lessons-a-week", ("time", "lessons_a_week"), f"'week' lists {len(week)} lessons and 'lessons_a_week' says "
            f"{form.lessons_a_week}.", "Only one of them can be right.", "Leave 'lessons_a_week' out.",
        )  # fmt: skip
    time = Timetable(
        form.lesson,
        form.settling_in,
        form.clearing_up,
        form.lessons_a_week or len(week) or 1,
        form.first_date,
        tuple(sorted(set(form.holidays))),
        week,
        tuple(staff),
    )
    _no_two_at_once(time, report)
    return time


def _no_two_at_once(time: Timetable, report: Report) -> None:
    """Errors where lessons and staff's own time overlap, as stated or, without `week`, as lessons are taken to be."""
    spans = [(each.day * DAY + each.at, time.lesson, "week" if time.week else "") for each in time.weekly]
    if not time.week and any(each.at + time.lesson > DAY for each in time.weekly):
        report.error(
            "lessons-a-week", ("time", "lessons_a_week"), f"{time.lessons_a_week} lessons of {time.lesson:g} minutes have no "
            "room in a week, one after the other from nine o'clock.", "Nobody can be in two lessons.",
            "Correct one of them, or write `week`: when each lesson starts.",
        )  # fmt: skip
        return
    spans += [(each.day * DAY + each.at, each.minutes, "staff_time") for each in time.staff_time]
    spans = sorted(spans)
    for (start, minutes, one), (following, _, other) in pairwise((*spans, (spans[0][0] + 7 * DAY, *spans[0][1:]))):
        if start + minutes <= following:
            continue
        if one and other:
            report.error(
                "times-overlap", ("time", other), f"One of these starts at {_clock_text(following)}, before the one at "
                f"{_clock_text(start)} is over.", "Nobody can be in both.", "Correct days, times or minutes.",
            )  # fmt: skip
            continue
        lesson, staff = (following, start) if one else (start, following)
        report.error(
            "times-overlap", ("time", "staff_time"), f"Staff's own time at {_clock_text(staff)} lies on a lesson: without 'week' "
            f"one is taken to start at {_clock_text(lesson)}.", "Nobody can be in both.",
            "Write `week`: when the lessons of a week start.",
        )  # fmt: skip


DAY = 1440


def _clock_text(minute: int) -> str:
    return f"{WEEK[minute // DAY % 7].capitalize()} {minute % DAY // 60}:{minute % 60:02}"


def _knowledge(folder: str, report: Report) -> str:
    """The folder as seen from where the tool runs."""
    if not folder:
        return ""
    seen = Path(report.tree.file).parent / folder
    if not seen.is_dir():
        what = f"There is no folder '{folder}' beside this file."
        report.error("no-such-folder", ("knowledge",), what, remedy="Check its name.")
    return seen.as_posix()
