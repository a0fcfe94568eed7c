"""The staff preparation sheet: blanks, jigs and things to lay out first, then the staff steps by station."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from markupsafe import Markup

from sequencer.features.base import mm
from sequencer.findings import Finding
from sequencer.model.jigs import JigLine
from sequencer.model.plan import Plan, Step
from sequencer.model.stock_lists import Blank, LooseThing, Strip
from sequencer.paper import wording
from sequencer.paper.fitting import filled, height
from sequencer.paper.jig_pictures import jig_picture
from sequencer.paper.pages import Drawings, Page, PageSize, numbered, room_on
from sequencer.paper.station_card import HEAD, StationRow, station_rows
from sequencer.paper.strip_pictures import strip_picture
from sequencer.planning.strips import WASTE

FIGURES = "Set and checked; the law in force and the maker's figures come first"
"""Before what the region asks of a machine."""
PICTURE = (72.0, 36.0)
"""Room for a picture, mm."""
JIG_PICTURE = (76.0, 48.0)
"""Room for the drawing of a jig, mm."""


@dataclass(frozen=True)
class StaffEntry:
    """Staff steps at one station, in order."""

    station: str
    rows: tuple[StationRow, ...]
    minutes: str
    figures: str = ""
    """What the region asks of the machine's setting, where the station's steps begin."""


@dataclass(frozen=True)
class StaffRow:
    """A row with the station it belongs to; `opens` where it is the station's first."""

    station: str
    minutes: str
    row: StationRow
    opens: bool
    figures: str = ""
    """What the region asks of the machine's setting, beside the station's first row."""


@dataclass(frozen=True)
class JigEntry:
    """A jig to make, with its drawing."""

    jig: JigLine
    picture: Markup
    picture_height: float
    steps: str
    """The steps it is for: `4, 7`."""


@dataclass(frozen=True)
class StripEntry:
    """A strip to cut, with its drawing."""

    strip: Strip
    letters: tuple[str, ...]
    picture: Markup
    picture_height: float
    trial: str = ""
    """What is sawn besides, to try the setting on."""


@dataclass(frozen=True)
class StaffPart:
    """One page of the preparation sheet: the work at the stations, jigs to make, or what to cut and lay out."""

    kind: Literal["work", "jigs", "lay-out"]
    stations: tuple[StaffEntry, ...] = ()
    blanks: tuple[Blank, ...] = ()
    strips: tuple[StripEntry, ...] = ()
    jigs: tuple[JigEntry, ...] = ()
    things: tuple[tuple[str, tuple[tuple[LooseThing, LooseThing | None], ...]], ...] = ()
    """Title and rows of two things side by side."""
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    """What the dust of each material does."""
    of_a_day: tuple[tuple[str, str], ...] = ()
    """Noise, vibration and dust of a day, a lead and a text a person, and what the lines rest on."""


def staff_sheet(plan: Plan, drawings: Drawings, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """Blanks and what to lay out first, then staff steps by station."""
    by_station: dict[str, list[Step]] = {}
    for step in plan.steps:
        if step.card == "staff" and step.kind != "wait":
            by_station.setdefault(step.station_title or step.station, []).append(step)
    rows: list[StaffRow] = []
    for station, steps in by_station.items():
        minutes = wording.minutes_words(sum(_class_minutes(step, plan.class_.students) for step in steps))
        for row in station_rows(steps, plan):
            opens = row.step is steps[0]
            figures = wording.machine_figures(plan, row.step.station_kind) if opens else ""
            if row.step.together:
                row = replace(row, method=row.step.instructions, method_in=0)
            rows.append(StaffRow(station, minutes, _pictured(row, drawings), opens, figures))
    room = room_on(size, spare=spare)
    lay_out = _laying_out(plan, room.width, room.height - HEAD)
    jigs = filled(
        [_jig_entry(jig) for jig in plan.jigs],
        lambda entry: _jig_height(entry, room.width),
        room.height - HEAD - JIGS_HEAD,
        room.height - HEAD - JIGS_HEAD,
    )
    made = [StaffPart("jigs", jigs=tuple(group)) for group in jigs if group]
    groups = filled(rows, lambda row: _staff_height(row, room.width), room.height - 33, room.height - 33)
    pages = [*([part] for part in (*lay_out, *made)), *([StaffPart("work", _by_station(group))] for group in groups if group)]
    return numbered(plan, pages, lambda entry: _staff_steps(entry, plan))


def _laying_out(plan: Plan, width: float, tall: float) -> list[StaffPart]:
    """What staff look at first, blanks, then the things to count, on as many pages as they need."""
    day = wording.of_a_day(plan)

    def box(texts: Iterable[str], *, bold: bool = False) -> float:
        return 13.0 + sum(height(text, width - 10, 10.5, bold=bold) for text in texts)

    listed = {part for strip in plan.strips for part in strip.parts}
    blanks = tuple(blank for blank in plan.blanks if blank.part not in listed)
    strips = tuple(_strip_entry(strip, plan, width - STRIP_ROOM) for strip in plan.strips)
    cut = 19.0 + sum(
        max(height(blank.why, width - 117, 10.5), height(f"{blank.yields} of {blank.part}", 20, 10.5), 5.6) + 1.6
        for blank in blanks
    )
    long = 19.0 + sum(_strip_height(entry, width - STRIP_ROOM) for entry in strips)
    blocks: list[tuple[float, dict[str, Any]]] = [
        (box((f"{each.subject}: {each.what} {each.remedy}" for each in plan.findings), bold=True), {"findings": plan.findings}),
        (box(plan.notes), {"notes": plan.notes}),
        (box(plan.materials), {"materials": plan.materials}),
        (box(f"{lead} {text}" for lead, text in day), {"of_a_day": day}),
        (cut, {"blanks": blanks}),
        (long, {"strips": strips}),
    ]
    told = filled([each for each in blocks if any(each[1].values())], lambda each: each[0], tall, tall)
    pages = [StaffPart("lay-out", **{name: lines for _, block in page for name, lines in block.items()}) for page in told]
    used = sum(high for high, _ in told[-1])
    lists = (("Tools", plan.tools), ("Hardware", plan.hardware))
    rows = [
        (title, pair, number == 0)
        for title, things in lists
        for number, pair in enumerate(_abreast(sorted(things, key=lambda thing: thing.name.lower())))
    ]

    def high(row: tuple[str, tuple[LooseThing, LooseThing | None], bool]) -> float:
        names = [f"{thing.name} (shared)" for thing in row[1] if thing is not None]
        return max(height(name, width / 2 - 52, 10.5) for name in names) + 1.3 + (15.5 if row[2] else 0.0)

    groups = filled(rows, high, max(tall - used, 0.0), tall - 17.0)
    parts: list[StaffPart] = []
    for group in groups:
        found: dict[str, list[tuple[LooseThing, LooseThing | None]]] = {}
        for title, pair, _ in group:
            found.setdefault(title, []).append(pair)
        things = tuple((title, tuple(pairs)) for title, pairs in found.items())
        parts.append(replace(pages[-1], things=things) if not parts else StaffPart("lay-out", things=things))
    return [*pages[:-1], *parts]


STRIP_ROOM = 17.0
"""What the box to tick and the margins of a strip's row take of the width, mm."""


def _strip_entry(strip: Strip, plan: Plan, width: float) -> StripEntry:
    drawn = strip_picture(strip, width)
    letters = tuple(dict.fromkeys(piece.letter for piece in strip.pieces))
    return StripEntry(strip, letters, Markup(drawn.svg), drawn.height, _trial_words(strip, plan))


def _trial_words(strip: Strip, plan: Plan) -> str:
    """The piece that is tried on: one for the class where staff set the machine, one with each strip where students set a tool
    themselves."""
    if not strip.trial:
        return ""
    own = any(
        step.card == "student" and any(tool.startswith(WASTE) for tool in step.tools)
        for step in plan.steps
        if {work.part for work in step.parts} & {*strip.parts}
    )
    if own:
        return f"With each saw one more piece of this section, {mm(strip.trial)} mm long: the test piece."
    return f"Saw one more piece of this section, {mm(strip.trial)} mm long, to try the setting on."


def _strip_height(entry: StripEntry, width: float) -> float:
    """How high a strip prints: its words over its drawing."""
    words = f"{mm(entry.strip.length)} × 100 × 100, 100 for the class, with spares. {entry.strip.why}"
    words += f" {entry.trial}" if entry.trial else ""
    return height(words, width - 7.0 * len(entry.letters), 10.5) + entry.picture_height + 3.0


JIGS_HEAD = 11.0
"""Height of the heading over the jigs, mm."""


def _jig_entry(jig: JigLine) -> JigEntry:
    drawn = jig_picture(jig, *JIG_PICTURE)
    return JigEntry(jig, Markup(drawn.svg), drawn.height, ", ".join(str(number) for number in jig.steps))


def _jig_height(entry: JigEntry, width: float) -> float:
    """How high a jig prints: its words on the left, its drawing and pieces on the right."""
    jig, column = entry.jig, width - JIG_PICTURE[0] - 6.0
    said = height(jig.title, column, 12, bold=True) + height(f"{jig.what}. For: {', '.join(jig.uses)}; steps", column, 10.5)
    said += height(jig.fastening, column, 10.5) + sum(height(check, column - 7, 10.5) + 1.0 for check in jig.checks)
    said += height(f"Source: {jig.source}", column, 9)
    pieces = sum(
        max(height(f"{piece.count} {piece.name}", 18, 10.5), height(piece.stock, 22, 10.5), 5.0) + 1.6 for piece in jig.pieces
    )
    return max(said, entry.picture_height + 2.0 + pieces) + 6.0


def _by_station(rows: Sequence[StaffRow]) -> tuple[StaffEntry, ...]:
    """The rows of a page under the names of their stations."""
    found: dict[str, list[StaffRow]] = {}
    for row in rows:
        found.setdefault(row.station, []).append(row)
    return tuple(
        StaffEntry(station, tuple(each.row for each in mine), mine[0].minutes, mine[0].figures) for station, mine in found.items()
    )


def _abreast(things: Sequence[LooseThing]) -> tuple[tuple[LooseThing, LooseThing | None], ...]:
    """Two columns, read downwards."""
    half = (len(things) + 1) // 2
    return tuple((thing, things[half + row] if half + row < len(things) else None) for row, thing in enumerate(things[:half]))


def _pictured(row: StationRow, drawings: Drawings) -> StationRow:
    """With its picture, unless the set-up just before shows the same."""
    if row.set_in or row.step.kind == "guards-back":
        return row
    drawn = drawings.picture(row.step, PICTURE)
    return replace(row, picture=Markup(drawn.svg), picture_height=drawn.height)


def _class_minutes(step: Step, students: int) -> float:
    return step.minutes * students if step.kind == "work" else step.minutes


def _staff_steps(entry: object, plan: Plan) -> list[Step]:
    if isinstance(entry, StaffPart) and entry.kind == "work":
        return [row.step for station in entry.stations for row in station.rows]
    return [step for step in plan.steps if step.card == "staff"]


def _staff_height(entry: StaffRow, width: float) -> float:
    column = width - 12 - 78 - 14 - 2.8
    row, step = entry.row, entry.row.step
    said = height(step.title, column, 10.5, bold=True) + 1.0
    said += sum(height(sentence, column - 6.5, 10.5) for sentence in row.method) + (4.8 if row.method_in else 0.0)
    said += height(step.guard_line, column, 10.5, bold=True) if step.guard_line else 0.0
    said += sum(height(wording.check_words(check), column, 10.5, bold=True) for check in step.checks)
    said += sum(height(note, column, 10.5) for note in step.notes)
    said += height(f"STOP. {step.stop} Initials ________", column, 10.5, bold=True) if step.stop else 0.0
    told = 6.2 * len(row.parts) + (4.8 if row.set_in else 0.0)
    told += sum(height(f"{setting.label}: {setting.text}", 74, 10.5, bold=True) for setting in row.settings)
    told += height("Feed: " + step.feed, 74, 10.5) if step.feed else 0.0
    figures = height(f"{FIGURES}: {entry.figures}", width, 9.5, bold=True) + 1.5 if entry.figures else 0.0
    return max(said, told + row.picture_height + 1.0) + 2.0 + figures + (18.0 if entry.opens else 0.0)
