"""What each sheet shows, page by page, ready for its template: which steps, in which order, in whose words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from typing import Literal

from markupsafe import Markup

from sequencer.findings import Finding
from sequencer.model.job import Job
from sequencer.model.plan import Blank, Control, LooseThing, Plan, RiskRow, Setting, StationCard, Step, Wear
from sequencer.paper import wording
from sequencer.paper.drawing import Picture, picture
from sequencer.paper.fitting import filled, height

PageSize = Literal["a4", "letter"]

PICTURE = (81.0, 43.0)
"""Room for a picture on the job card, mm."""

_PAPER: dict[PageSize, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_SIDES, _ENDS = 22.0, 29.0
"""Margins of both sides, and of top and bottom together, as the stylesheet has them."""


@dataclass(frozen=True)
class Page:
    """One page: what it shows and the short mark of the plan's inputs behind it."""

    number: int
    count: int
    mark: str
    entries: tuple[object, ...]


@dataclass(frozen=True)
class Sheet:
    """What every page of a sheet says about itself."""

    title: str
    plan: Plan
    date: str
    caution: str = wording.CAUTION


@dataclass(frozen=True)
class ShownWear:
    """Protective equipment with our own drawing of it."""

    title: str
    code: str
    drawing: Markup


@dataclass(frozen=True)
class CardEntry:
    """A step on the job card, or one line where someone else acts or nothing is done."""

    step: Step
    marker: str = ""
    picture: Markup = Markup("")
    picture_height: float = 0.0
    guard_line: str = ""
    hazard_line: str = ""
    minutes: str = ""
    wear: tuple[ShownWear, ...] = ()


class Drawings:
    """The drawings of the cards folder and the pictures of steps, each made once."""

    def __init__(self, plan: Plan, job: Job, signs: dict[str, str]) -> None:
        self._plan, self._job, self._signs = plan, job, signs
        self._pictures: dict[tuple[str, float, float], Picture] = {}

    def sign(self, name: str) -> Markup:
        """Our drawing of that name; empty if there is none."""
        return Markup(self._signs.get(name, ""))

    def wear(self, items: Iterable[Wear]) -> tuple[ShownWear, ...]:
        """Protective equipment with its drawings."""
        return tuple(ShownWear(item.title, item.code, self.sign(item.drawing)) for item in items)

    def picture(self, step: Step, room: tuple[float, float]) -> Picture:
        """The picture of a step."""
        key = (step.id, *room)
        if key not in self._pictures:
            self._pictures[key] = picture(self._job, step, self._plan, *room)
        return self._pictures[key]


def mark(plan: Plan, steps: Iterable[Step] | None = None) -> str:
    """Eight letters and figures that change when the resolved inputs of these steps do; of the whole plan without steps."""
    chosen = ["job"] if steps is None else [step.id for step in steps]
    return sha256("\n".join(f"{name} {plan.fingerprints.get(name, '')}" for name in chosen).encode()).hexdigest()[:8]


def _pages(plan: Plan, groups: Sequence[Sequence[object]], steps_of: Callable[[object], list[Step]] | None) -> tuple[Page, ...]:
    return tuple(
        Page(
            number, len(groups),
            mark(plan, None if steps_of is None else [step for entry in group for step in steps_of(entry)]),
            tuple(group),
        )
        for number, group in enumerate(groups, 1)
    )


# Job card


def job_card(plan: Plan, drawings: Drawings, size: PageSize) -> tuple[Page, ...]:
    """The student's steps, with one line wherever staff work or something dries."""
    entries: list[CardEntry] = []
    staff: list[Step] = []

    def staff_done() -> None:
        if staff:
            entries.append(CardEntry(staff[0], wording.staff_marker(staff)))
            staff.clear()

    for step in plan.steps:
        if step.card == "staff":
            staff.append(step)
            continue
        staff_done()
        if step.kind == "wait":
            entries.append(CardEntry(step, wording.wait_marker(step)))
            continue
        drawn = drawings.picture(step, PICTURE)
        entries.append(
            CardEntry(
                step, "", Markup(drawn.svg), drawn.height,
                step.guard_line or "Ask your teacher how to hold the wood.",
                step.hazard_line or "Ask your teacher what can go wrong here.",
                wording.minutes_words(step.minutes), drawings.wear(step.wear),
            )
        )
    staff_done()
    width, tall = _PAPER[size]
    room = tall - _ENDS
    head = 22.0 + height("; ".join(f"{part.name} x {part.count} a pair" for part in plan.parts), width - _SIDES - 25, 10.5)
    groups = filled(entries, lambda entry: _entry_height(entry, width), room - head, room)
    return _pages(plan, groups, lambda entry: [entry.step] if isinstance(entry, CardEntry) else [])


def _entry_height(entry: CardEntry, paper: float) -> float:
    step = entry.step
    if entry.marker:
        return 5.2 + height(entry.marker, paper - _SIDES - 6, 11, bold=True)
    column = paper - _SIDES - 15 - 83 - 4
    said = height(step.title, column, 12.5, bold=True) + 1.0
    said += sum(height(sentence, column - 5.4, 11.5) + 0.5 for sentence in step.instructions)
    said += max(9.0, height(entry.guard_line, column - 13, 11, bold=True) + 1.2) + 2.8
    said += max(9.0, height(entry.hazard_line, column - 11, 11) + 1.2) + 0.8
    strip = paper - _SIDES - 15 - 3 - (62 if entry.wear else 0) - (52 if step.stop else 0)
    checks = sum(
        max(height(text, strip / 3 - 1.5, 10) for text in (check.what, check.how, check.limit)) + 0.3 for check in step.checks
    )
    below = checks + (4.5 if step.checks else 0.0) + height("If it goes wrong: " + step.if_wrong, strip, 10)
    if entry.wear:
        below = max(below, 15.5 * (-(-len(entry.wear) // 4)))
    if step.stop:
        below = max(below, height("STOP. " + step.stop, 46, 10, bold=True) + 6.5)
    return max(said, entry.picture_height) + below + 7.0


# Station cards


@dataclass(frozen=True)
class StationEntry:
    """One station's card."""

    card: StationCard
    who: str
    rows: tuple[StationRow, ...]
    wear: tuple[ShownWear, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class StationRow:
    """A set-up or a piece of work at a station, in order."""

    step: Step
    title: str
    parts: tuple[tuple[str, int, int], ...]
    """Letter, pieces for one, pieces for the class."""
    settings: tuple[Setting, ...]
    set_in: int
    """The step that made these settings, where it was another one; else 0."""
    who: str


def station_cards(plan: Plan, drawings: Drawings) -> tuple[Page, ...]:
    """A card for each station used, with its set-ups in the order of the plan."""
    entries = []
    for card in plan.stations:
        steps = [step for step in plan.steps if step.station == card.station and step.kind != "wait"]
        entries.append(
            StationEntry(
                card, wording.who_words(card.who), _station_rows(steps, plan.class_.students), drawings.wear(card.wear),
                tuple(wording.source_words(source) for source in card.sources),
            )
        )
    def steps_of(entry: object) -> list[Step]:
        return [row.step for row in entry.rows] if isinstance(entry, StationEntry) else []

    return _pages(plan, [[entry] for entry in entries], steps_of)


def _station_rows(steps: Iterable[Step], students: int) -> tuple[StationRow, ...]:
    rows: list[StationRow] = []
    last: Step | None = None
    for step in steps:
        same = last is not None and bool(step.settings) and step.settings == last.settings
        parts = tuple((work.letter, work.quantity, work.quantity * students) for work in step.parts)
        set_in = last.number if same and last is not None else 0
        rows.append(StationRow(step, step.title, parts, () if same else step.settings, set_in, wording.who_words(step.who)))
        if step.settings and not same:
            last = step
    return tuple(rows)


# Staff preparation sheet


@dataclass(frozen=True)
class StaffEntry:
    """Staff steps at one station, in order."""

    station: str
    rows: tuple[StationRow, ...]
    minutes: str


@dataclass(frozen=True)
class StaffPart:
    """One page of the preparation sheet: the work at the stations, or what to cut and lay out."""

    kind: Literal["work", "lay-out"]
    stations: tuple[StaffEntry, ...] = ()
    blanks: tuple[Blank, ...] = ()
    jigs: tuple[str, ...] = ()
    things: tuple[tuple[str, tuple[LooseThing, ...]], ...] = ()
    findings: tuple[Finding, ...] = ()


def staff_sheet(plan: Plan, size: PageSize) -> tuple[Page, ...]:
    """Blanks and what to lay out first, then staff steps by station."""
    by_station: dict[str, list[Step]] = {}
    for step in plan.steps:
        if step.card == "staff" and step.kind != "wait":
            by_station.setdefault(step.station_title or step.station, []).append(step)
    entries = []
    for station, steps in by_station.items():
        minutes = sum(_class_minutes(step, plan.class_.students) for step in steps)
        entries.append(StaffEntry(station, _station_rows(steps, plan.class_.students), wording.minutes_words(minutes)))
    things = tuple((title, found) for title, found in (("Tools", plan.tools), ("Hardware", plan.hardware)) if found)
    first = StaffPart("lay-out", (), plan.blanks, plan.jigs, things, plan.findings)
    width, tall = _PAPER[size]
    groups = filled(entries, lambda entry: _staff_height(entry, width), tall - _ENDS - 14, tall - _ENDS - 14)
    pages: list[list[object]] = [[first], *([StaffPart("work", tuple(group))] for group in groups if group)]
    return _pages(plan, pages, lambda entry: _staff_steps(entry, plan))


def _class_minutes(step: Step, students: int) -> float:
    return step.set_up_minutes if step.kind != "work" else step.minutes * students


def _staff_steps(entry: object, plan: Plan) -> list[Step]:
    if isinstance(entry, StaffPart) and entry.kind == "work":
        return [row.step for station in entry.stations for row in station.rows]
    return [step for step in plan.steps if step.card == "staff"]


def _staff_height(entry: StaffEntry, paper: float) -> float:
    total = 16.0
    for row in entry.rows:
        column = (paper - _SIDES) * 0.5
        said = sum(height(sentence, column - 12, 10.5) for sentence in row.step.instructions) + 14
        total += max(said, 6.0 + 5.0 * len(row.settings))
    return total


# Risk assessment


@dataclass(frozen=True)
class RiskEntry:
    """A row of the risk assessment in words."""

    row: RiskRow
    steps: str
    who: tuple[str, ...]
    controls: tuple[tuple[str, tuple[str, ...]], ...]
    more: tuple[tuple[str, tuple[str, ...]], ...]
    sources: tuple[str, ...]


def risk_rows(plan: Plan, size: PageSize) -> tuple[Page, ...]:
    """Rows by hazard; the last page holds decisions, findings and what the school fills in."""
    by_number = {step.number: step for step in plan.steps}
    entries = []
    for row in plan.risks:
        who: dict[str, list[int]] = {}
        for number in row.steps:
            if number in by_number:
                who.setdefault(wording.who_words(by_number[number].who), []).append(number)
        entries.append(
            RiskEntry(
                row, wording.numbers_words(row.steps),
                tuple(f"{words}: step{'s' if len(numbers) > 1 else ''} {wording.numbers_words(numbers)}"
                      for words, numbers in who.items()),
                _by_level(row.controls), _by_level(row.more), tuple(wording.source_words(source) for source in row.sources),
            )
        )
    width, tall = _PAPER[size]
    room = width - _ENDS - 9
    groups = filled(entries, lambda entry: _risk_height(entry, tall - _SIDES), room - 47, room)
    pages: list[list[object]] = [*(list(group) for group in groups), []]
    everything = list(plan.steps)

    def steps_of(entry: object) -> list[Step]:
        return [by_number[number] for number in entry.row.steps if number in by_number] if isinstance(entry, RiskEntry) else []

    shown = _pages(plan, pages, steps_of)
    return tuple(page if page.entries else Page(page.number, page.count, mark(plan, everything), ()) for page in shown)


def _by_level(controls: Iterable[Control]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    found: dict[str, list[str]] = {}
    for control in controls:
        found.setdefault(control.level, []).append(control.text)
    return tuple((_LEVEL.get(level, level), tuple(texts)) for level, texts in found.items())


_LEVEL = {
    "eliminate": "Eliminate", "substitute": "Substitute", "isolate": "Isolate", "engineering": "Engineering",
    "administrative": "Ways of working", "ppe": "Protective equipment",
}


def _risk_height(entry: RiskEntry, width: float) -> float:
    def column(share: float, texts: Iterable[str], levels: int = 0) -> float:
        return sum(height(text, width * share - 6.5, 9) for text in texts) + 4.2 * levels

    texts = [text for _, group in entry.controls for text in group]
    more = [text for _, group in entry.more for text in group]
    return 4.0 + max(
        35.0,
        column(0.17, (entry.row.title, entry.row.happens, "Can be " + entry.row.severity, entry.row.first_aid)) + 8,
        column(0.13, (*entry.row.whom, *entry.who)) + 5,
        column(0.25, texts, len(entry.controls)),
        column(0.15, (*more, *entry.row.stop_when), len(entry.more) + 1),
    )


def sheet_about(title: str, plan: Plan, day: date) -> Sheet:
    """What a sheet says about itself on every page."""
    return Sheet(title, plan, wording.day_words(day))
