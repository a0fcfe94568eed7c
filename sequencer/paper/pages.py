"""What each sheet shows, page by page, ready for its template: which steps, in which order, in whose words."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from hashlib import sha256
from typing import Literal, get_args

from markupsafe import Markup

from sequencer.findings import Finding
from sequencer.model.job import Job
from sequencer.model.plan import Blank, Control, LooseThing, Plan, RiskRow, Setting, StationCard, Step, Wear
from sequencer.paper import wording
from sequencer.paper.drawing import Picture, picture
from sequencer.paper.fitting import filled, height

PageSize = Literal["a4", "letter"]
PAGE_SIZES: tuple[PageSize, ...] = get_args(PageSize)
Spot = Literal["left", "right", "under"]
"""Where on a step's card something stands: under the picture, under the instructions, or in a row across both."""

PICTURE = (81.0, 43.0)
"""Room for a picture on the job card, mm."""

STAFF_PICTURE = (72.0, 36.0)
"""Room for a picture on the staff sheet, mm."""

_PAPER: dict[PageSize, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_SENTENCE = 0.95
"""The card's sentences stand a little closer than other text."""
_NONE = Markup("")
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
class Spots:
    """Where the parts of a step's card stand, chosen so that the step takes least height. Guard and hazard always follow
    the instructions: a reader finds them in the same place on every step."""

    checks: Spot = "right"
    wear: Spot = "left"
    stop: Spot = "right"


@dataclass(frozen=True)
class CardEntry:
    """A step on the job card, or one line where someone else acts or nothing is done."""

    step: Step
    marker: str = ""
    picture: Markup = _NONE
    picture_height: float = 0.0
    guard_line: str = ""
    hazard_line: str = ""
    minutes: str = ""
    wear: tuple[ShownWear, ...] = ()
    spots: Spots = field(default_factory=Spots)
    height: float = 0.0


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
            number,
            len(groups),
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
                step,
                "",
                Markup(drawn.svg),
                drawn.height,
                step.guard_line or "Ask your teacher how to hold the wood.",
                step.hazard_line or "Ask your teacher what can go wrong here.",
                wording.minutes_words(step.minutes),
                drawings.wear(step.wear),
            )
        )
    staff_done()
    width, tall = _PAPER[size]
    laid = [_laid(entry, width - _SIDES) for entry in entries]
    parts = "; ".join(f"A {part.name} x {part.count}, a pair" for part in plan.parts)
    head = 21.0 + height(parts, width - _SIDES - 30, 10.5)
    groups = filled(laid, lambda entry: entry.height, tall - _ENDS - head, tall - _ENDS - 9.0)
    return _pages(plan, groups, lambda entry: [entry.step] if isinstance(entry, CardEntry) else [])


def _laid(entry: CardEntry, width: float) -> CardEntry:
    """The entry in the layout that takes least height."""
    if entry.marker:
        return replace(entry, height=5.2 + height(entry.marker, width - 6, 11, bold=True))
    step = entry.step
    column, full = width - 15 - 83 - 2, width - 15 - 2
    said = height(step.title, column, 12.5, bold=True) + 1.4
    said += sum(_SENTENCE * height(sentence, column - 6.6, 11) + 0.25 for sentence in step.instructions)

    said += max(8.6, 0.92 * height(entry.guard_line, column - 13.5, 10.5, bold=True) + 1.0) + 1.6
    said += max(8.6, 0.92 * height(entry.hazard_line, column - 12.5, 10.5) + 1.0) + 0.8
    number = 27.0 + 7.2 * len(step.parts) + height(entry.minutes, 12, 9)
    best: tuple[float, Spots] | None = None
    for spots in _arrangements(entry):
        sides = {"left": entry.picture_height + 1.0, "right": said}
        beside_stop = 52.0 if step.stop and spots.stop == "under" else 0.0
        beside_wear = 20.0 * min(len(entry.wear), 4) if spots.wear == "under" else 0.0
        wide: dict[Spot, float] = {"left": 80.0, "right": column, "under": full}
        needs: list[tuple[Spot, float]] = []
        if entry.wear:
            needs.append((spots.wear, _wear_height(entry.wear, beside_wear or wide[spots.wear])))
        if step.checks or step.if_wrong:
            room = wide[spots.checks] - (beside_stop + beside_wear if spots.checks == "under" else 0.0)
            needs.append((spots.checks, _checked(step, room, spots.checks == "under") + 1.0))
        if step.stop:
            room = 46.0 if spots.stop == "under" else wide[spots.stop] - 5
            needs.append((spots.stop, height("STOP. " + step.stop, room, 10.5, bold=True) + 10.0))
        across = max((tall for spot, tall in needs if spot == "under"), default=0.0)
        for spot, tall in needs:
            if spot != "under":
                sides[spot] += tall
        total = max(max(sides.values()) + across + 2.0, number) + 3.5
        if best is None or total < best[0] - 0.5:
            best = (total, spots)
    assert best is not None
    return replace(entry, spots=best[1], height=best[0])


def _arrangements(entry: CardEntry) -> Iterator[Spots]:
    """Every way to place what a step's card holds, the calmest first: things that are not there have no choice."""
    anywhere: tuple[Spot, ...] = ("left", "right", "under")
    default = Spots()
    for checks in anywhere if entry.step.checks or entry.step.if_wrong else (default.checks,):
        for wear in anywhere if entry.wear else (default.wear,):
            for stop in anywhere if entry.step.stop else (default.stop,):
                yield Spots(checks, wear, stop)


def _wear_height(items: Sequence[ShownWear], width: float) -> float:
    """Height of the signs with their words, as many in a row as there is room for."""
    each = int(width // 20)
    total = 1.2
    for start in range(0, len(items), each):
        words = max(height(f"{item.title} {item.code}", 19.0, 8) for item in items[start : start + each])
        total += 8.4 + 0.86 * words
    return total


def _checked(step: Step, width: float, table: bool) -> float:
    """Height of the checks, as a table or as sentences, and of what to do if it goes wrong."""
    total = 1.2
    for check in step.checks:
        if table:
            texts = (check.what, check.how, check.limit)
            total += max(0.94 * height(text, width / 3 - 1.4, 10, bold=True) for text in texts) + 0.4
        else:
            total += 0.94 * height(f"{check.what}: {check.how}. {check.limit}.", width - 2, 10, bold=True) + 0.4
    total += 4.6 if step.checks and table else 0.0
    return total + (0.94 * height("If it goes wrong: " + step.if_wrong, width - 2, 10) if step.if_wrong else 0.0)


# Station cards


@dataclass(frozen=True)
class StationEntry:
    """One station's card, or a further page of its rows."""

    card: StationCard
    steps: tuple[Step, ...]
    first: bool
    more: bool
    """Whether its rows take more than one page."""
    rows: tuple[StationRow, ...]
    wear: tuple[ShownWear, ...]
    sources: tuple[str, ...]
    methods: tuple[Method, ...] = ()
    few: bool = False
    """Whether signs and hazards stand in the columns, not across both."""


@dataclass(frozen=True)
class Method:
    """One operation's whole way of working. Each line: one sentence, or one for each step where they differ."""

    operation: str
    steps: str
    lines: tuple[tuple[str, ...], ...]
    many: bool


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
    method: tuple[str, ...]
    """The whole way of working; empty where an earlier row has the same."""
    method_in: int
    """That row's step, else 0."""
    picture: Markup = _NONE
    picture_height: float = 0.0


def station_cards(plan: Plan, drawings: Drawings, size: PageSize) -> tuple[Page, ...]:
    """A card for each station used: what holds for it, its set-ups in the order of the plan, how each operation is done."""
    width, tall = _PAPER[size]
    entries: list[StationEntry] = []
    for card in plan.stations:
        steps = [step for step in plan.steps if step.station == card.station and step.kind != "wait"]
        entries += _station_pages(card, steps, plan.class_.students, drawings, width - _SIDES, tall - _ENDS)

    def steps_of(entry: object) -> list[Step]:
        return list(entry.steps) if isinstance(entry, StationEntry) else []

    return _pages(plan, [[entry] for entry in entries], steps_of)


_HEAD = 17.0
"""Height of a sheet's head."""


def _station_pages(
    card: StationCard, steps: Sequence[Step], students: int, drawings: Drawings, width: float, tall: float
) -> list[StationEntry]:
    """A station's pages: rows where there is room beside what must stand on the first; methods after the last row."""
    wear = drawings.wear(card.wear)
    sources = tuple(wording.source_words(source) for source in card.sources)
    room, further = tall - _card_height(card, wear, sources, width), tall - _HEAD - 17.0
    chunks = filled(_station_rows(steps, students), lambda row: _row_height(row, width), room, further)
    pages = [
        StationEntry(card, tuple(steps), number == 0, number + 1 < len(chunks), tuple(chunk), wear, sources, few=_few(card))
        for number, chunk in enumerate(chunks)
    ]
    methods = _methods(steps)
    left = (room if len(chunks) == 1 else further) - sum(_row_height(row, width) for row in chunks[-1]) - 11.0
    groups = filled(methods, lambda method: _method_height(method, width), max(left, 0.0), tall - _HEAD - 11.0)
    if methods and _method_height(methods[0], width) > left:
        groups = [[], *groups]
    pages[-1] = replace(pages[-1], methods=tuple(groups[0]))
    return pages + [StationEntry(card, tuple(steps), False, False, (), (), (), tuple(group), False) for group in groups[1:]]


def _card_height(card: StationCard, wear: Sequence[ShownWear], sources: Sequence[str], width: float) -> float:
    """Height of all of a station card but its rows."""
    column = width / 2 - 9
    left = sum(
        height(f"{guard.title}: {guard.line}", column - 6, 10.5, bold=True) + 0.7 for guard in (*card.guards, *card.holding)
    )
    left += 13 if card.guards or card.holding else 0
    left += height("Hands: " + card.hands, column, 10.5) + 6.5
    right = sum(height(text, column - 4.5, 10.5) for text in card.stop_when) + 15
    right += sum(height(text, column - 6, 10.5) + 0.7 for text in card.before_starting) + 12
    right += height("Smallest piece: " + card.smallest, column, 10.5) + 6.5
    hazards = sum(height(f"{hazard.title}. {hazard.short}", column - 4.5, 9.5, bold=True) for hazard in card.hazards)
    hazards = hazards + 13 if card.hazards else 0.0
    total = 44 + height("; ".join(sources), width, 8.5) + 4
    if _few(card):
        return total + max(left + (_wear_height(wear, column) + 8 if wear else 0), right + hazards)
    total += hazards / 2 + 9 if card.hazards else 0.0
    return total + max(left, right) + (_wear_height(wear, width - 5) + 8 if wear else 0)


def _few(card: StationCard) -> bool:
    """Whether signs and hazards are few enough to stand in the two columns."""
    return len(card.wear) <= 4 and len(card.hazards) <= 5


def _row_height(row: StationRow, width: float) -> float:
    what = width - 12 - 34 - 52 - 3
    said = height(row.title, what, 10.5, bold=True) + height(row.who, what, 10.5)
    said += height("Feed: " + row.step.feed, what, 10.5) if row.step.feed else 0.0
    told = sum(height(f"{setting.label}: {setting.text}", 48, 10.5, bold=True) for setting in row.settings)
    told += 4.6 if row.set_in else 0.0
    return max(said, told, 6.2 * len(row.parts)) + 2.0


def _methods(steps: Iterable[Step]) -> list[Method]:
    """The ways of working at a station, each operation once; lines that differ between its steps stand for each step."""
    groups: dict[tuple[str, int], list[Step]] = {}
    for step in steps:
        if step.kind == "work" and step.method:
            groups.setdefault((step.operation, len(step.method)), []).append(step)
    found = []
    for (operation, _), mine in groups.items():
        lines: list[tuple[str, ...]] = []
        for variants in zip(*(step.method for step in mine), strict=True):
            said: dict[str, list[int]] = {}
            for step, line in zip(mine, variants, strict=True):
                said.setdefault(line, []).append(step.number)
            lines.append(
                tuple(said)
                if len(said) == 1
                else tuple(f"{line} (step {wording.numbers_words(numbers)})" for line, numbers in said.items())
            )
        found.append(Method(operation, wording.numbers_words(step.number for step in mine), tuple(lines), len(mine) > 1))
    return found


def _method_height(method: Method, width: float) -> float:
    column = width / 2 - 13
    said = sum(height(line, column, 10) for lines in method.lines for line in lines)
    longest = max((sum(height(line, column, 10) for line in lines) for lines in method.lines), default=0.0)
    return height(f"{method.operation}, steps {method.steps}", width - 5, 11.5, bold=True) + said / 2 + longest / 2 + 7.0


def _station_rows(steps: Iterable[Step], students: int) -> tuple[StationRow, ...]:
    rows: list[StationRow] = []
    methods: dict[tuple[str, ...], int] = {}
    last: Step | None = None
    for step in steps:
        same = last is not None and bool(step.settings) and step.settings == last.settings
        parts = tuple((work.letter, work.quantity, work.quantity * students) for work in step.parts)
        set_in = last.number if same and last is not None else 0
        method = step.method or step.instructions
        method_in = methods.get(method, 0) if method else 0
        methods.setdefault(method, step.number)
        rows.append(
            StationRow(
                step,
                step.title,
                parts,
                () if same else step.settings,
                set_in,
                wording.who_words(step.who),
                () if method_in else method,
                method_in,
            )
        )
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
class StaffRow:
    """A row with the station it belongs to; `opens` where it is the station's first."""

    station: str
    minutes: str
    row: StationRow
    opens: bool


@dataclass(frozen=True)
class StaffPart:
    """One page of the preparation sheet: the work at the stations, or what to cut and lay out."""

    kind: Literal["work", "lay-out"]
    stations: tuple[StaffEntry, ...] = ()
    blanks: tuple[Blank, ...] = ()
    jigs: tuple[str, ...] = ()
    things: tuple[tuple[str, tuple[tuple[LooseThing, LooseThing | None], ...]], ...] = ()
    """Title and rows of two things side by side."""
    findings: tuple[Finding, ...] = ()


def staff_sheet(plan: Plan, drawings: Drawings, size: PageSize) -> tuple[Page, ...]:
    """Blanks and what to lay out first, then staff steps by station."""
    by_station: dict[str, list[Step]] = {}
    for step in plan.steps:
        if step.card == "staff" and step.kind != "wait":
            by_station.setdefault(step.station_title or step.station, []).append(step)
    rows: list[StaffRow] = []
    for station, steps in by_station.items():
        minutes = wording.minutes_words(sum(_class_minutes(step, plan.class_.students) for step in steps))
        for row in _station_rows(steps, plan.class_.students):
            rows.append(StaffRow(station, minutes, _pictured(row, drawings), row.step is steps[0]))
    width, tall = _PAPER[size]
    lay_out = _laying_out(plan, width - _SIDES, tall - _ENDS - _HEAD)
    room = tall - _ENDS - 33
    groups = filled(rows, lambda row: _staff_height(row, width), room, room)
    pages = [*([part] for part in lay_out), *([StaffPart("work", _by_station(group))] for group in groups if group)]
    return _pages(plan, pages, lambda entry: _staff_steps(entry, plan))


def _laying_out(plan: Plan, width: float, tall: float) -> list[StaffPart]:
    """What staff look at first, blanks and jigs, then the things to count, on as many pages as they need."""
    first = StaffPart("lay-out", (), plan.blanks, plan.jigs, (), plan.findings)
    used = sum(height(f"{each.subject}: {each.what} {each.remedy}", width - 10, 10.5, bold=True) for each in plan.findings)
    used += 13.0 if plan.findings else 0.0
    used += 19.0 + sum(max(height(blank.why, width - 125, 10.5), 9.6) + 2.0 for blank in plan.blanks)
    used += sum(height(jig, width - 7, 10.5) + 1.0 for jig in plan.jigs) + (11.0 if plan.jigs else 0.0)
    lists = (("Tools", plan.tools), ("Hardware", plan.hardware))
    rows = [
        (title, pair, number == 0)
        for title, things in lists
        for number, pair in enumerate(_abreast(sorted(things, key=lambda thing: thing.name.lower())))
    ]

    def high(row: tuple[str, tuple[LooseThing, LooseThing | None], bool]) -> float:
        names = [f"{thing.name} (shared)" for thing in row[1] if thing is not None]
        return max(height(name, width / 2 - 52, 10.5) for name in names) + 2.0 + (17.0 if row[2] else 0.0)

    groups = filled(rows, high, max(tall - used, 0.0), tall - 17.0)
    if rows and high(rows[0]) > tall - used:
        groups = [[], *groups]
    parts: list[StaffPart] = []
    for group in groups:
        found: dict[str, list[tuple[LooseThing, LooseThing | None]]] = {}
        for title, pair, _ in group:
            found.setdefault(title, []).append(pair)
        things = tuple((title, tuple(pairs)) for title, pairs in found.items())
        parts.append(replace(first, things=things) if not parts else StaffPart("lay-out", things=things))
    return parts


def _by_station(rows: Sequence[StaffRow]) -> tuple[StaffEntry, ...]:
    """The rows of a page under the names of their stations."""
    found: dict[str, list[StaffRow]] = {}
    for row in rows:
        found.setdefault(row.station, []).append(row)
    return tuple(StaffEntry(station, tuple(each.row for each in mine), mine[0].minutes) for station, mine in found.items())


def _abreast(things: Sequence[LooseThing]) -> tuple[tuple[LooseThing, LooseThing | None], ...]:
    """Two columns, read downwards."""
    half = (len(things) + 1) // 2
    return tuple((thing, things[half + row] if half + row < len(things) else None) for row, thing in enumerate(things[:half]))


def _pictured(row: StationRow, drawings: Drawings) -> StationRow:
    """With its picture, unless the set-up just before shows the same."""
    if row.set_in or row.step.kind == "guards-back":
        return row
    drawn = drawings.picture(row.step, STAFF_PICTURE)
    return replace(row, picture=Markup(drawn.svg), picture_height=drawn.height)


def _class_minutes(step: Step, students: int) -> float:
    return step.set_up_minutes if step.kind != "work" else step.minutes * students


def _staff_steps(entry: object, plan: Plan) -> list[Step]:
    if isinstance(entry, StaffPart) and entry.kind == "work":
        return [row.step for station in entry.stations for row in station.rows]
    return [step for step in plan.steps if step.card == "staff"]


def _staff_height(entry: StaffRow, paper: float) -> float:
    column = paper - _SIDES - 12 - 78 - 14 - 2.8
    row, step = entry.row, entry.row.step
    said = height(step.title, column, 10.5, bold=True) + 1.0
    said += sum(height(sentence, column - 6.5, 10.5) for sentence in row.method) + (4.8 if row.method_in else 0.0)
    said += height(step.guard_line, column, 10.5, bold=True) if step.guard_line else 0.0
    said += sum(height(f"Check {check.what}: {check.how}, {check.limit}", column, 10.5, bold=True) for check in step.checks)
    said += sum(height(note, column, 10.5) for note in step.notes)
    said += height(f"STOP. {step.stop} Initials ________", column, 10.5, bold=True) if step.stop else 0.0
    told = 6.2 * len(row.parts) + (4.8 if row.set_in else 0.0)
    told += sum(height(f"{setting.label}: {setting.text}", 74, 10.5, bold=True) for setting in row.settings)
    told += height("Feed: " + step.feed, 74, 10.5) if step.feed else 0.0
    return max(said, told + row.picture_height + 1.0) + 2.0 + (18.0 if entry.opens else 0.0)


# Risk assessment


@dataclass(frozen=True)
class RiskEntry:
    """A row of the risk assessment in words."""

    row: RiskRow
    steps: str
    who: tuple[str, ...]
    controls: tuple[tuple[str, tuple[str, ...]], ...]
    kind: str = "row"


@dataclass(frozen=True)
class RiskEnd:
    """The page of decisions, findings, review and the school's answer."""

    kind: str = "end"


@dataclass(frozen=True)
class BehindHazard:
    """What the hazard's file names beyond this plan's controls."""

    title: str
    more: tuple[tuple[str, tuple[str, ...]], ...]
    first_aid: str
    sources: tuple[str, ...]
    kind: str = "behind"


def risk_rows(plan: Plan, size: PageSize) -> tuple[Page, ...]:
    """Rows by hazard; then decisions, findings and what the school fills in; then what stands behind each hazard."""
    by_number = {step.number: step for step in plan.steps}
    entries = []
    for row in plan.risks:
        who: dict[str, list[int]] = {}
        for number in row.steps:
            if number in by_number:
                who.setdefault(wording.who_words(by_number[number].who), []).append(number)
        entries.append(
            RiskEntry(
                row,
                wording.numbers_words(row.steps),
                tuple(
                    f"{words}: step{'s' if len(numbers) > 1 else ''} {wording.numbers_words(numbers)}"
                    for words, numbers in who.items()
                ),
                _by_level(row.controls),
            )
        )
    tall, width = _PAPER[size]
    room = tall - _ENDS - 7
    rows = filled(entries, lambda entry: _risk_height(entry, width - _SIDES), room - 37, room)
    behind = filled(_behind(plan), lambda entry: _behind_height(entry, width - _SIDES), room - 10, room - 10)
    pages: list[Sequence[object]] = [*rows, [RiskEnd()], *(group for group in behind if group)]

    def steps_of(entry: object) -> list[Step]:
        if isinstance(entry, RiskEntry):
            return [by_number[number] for number in entry.row.steps if number in by_number]
        return list(plan.steps)

    return _pages(plan, pages, steps_of)


def _by_level(controls: Iterable[Control]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    found: dict[str, list[str]] = {}
    for control in controls:
        found.setdefault(control.level, []).append(control.text)
    return tuple((_LEVEL.get(level, level), tuple(texts)) for level, texts in found.items())


_LEVEL = {
    "eliminate": "Eliminate",
    "substitute": "Substitute",
    "isolate": "Isolate",
    "engineering": "Engineering",
    "administrative": "Ways of working",
    "ppe": "Protective equipment",
}


def _risk_height(entry: RiskEntry, width: float) -> float:
    row = entry.row

    def plain(share: float, *texts: str) -> float:
        return sum(0.97 * height(text, width * share - 3.2, 9, bold=True) for text in texts)

    controls = sum(4.0 + sum(0.97 * height(text, width * 0.32 - 7.0, 9) for text in texts) for _, texts in entry.controls)
    return 2.2 + max(
        31.0,
        plain(0.21, f"{row.title}. {row.happens} Can be {row.severity}."),
        plain(0.15, f"Steps {entry.steps}", *entry.who, f"At risk: {', '.join(row.whom)}"),
        controls,
    )


def _behind(plan: Plan) -> list[BehindHazard]:
    """What stands behind each hazard: controls no row of this plan rests on, first aid, sources."""
    found: list[BehindHazard] = []
    for name in dict.fromkeys(row.hazard for row in plan.risks):
        rows = [row for row in plan.risks if row.hazard == name]
        used = {control for row in rows for control in row.controls}
        more = dict.fromkeys(control for row in rows for control in row.more if control not in used)
        found.append(
            BehindHazard(
                rows[0].title,
                _by_level(more),
                rows[0].first_aid,
                tuple(wording.source_words(source) for source in dict.fromkeys(each for row in rows for each in row.sources)),
            )
        )
    return found


def _behind_height(entry: BehindHazard, width: float) -> float:
    more = sum(0.97 * height(f"{level}: {' '.join(texts)}", width * 0.44 - 3.2, 8.5, bold=True) for level, texts in entry.more)
    return 2.0 + max(
        more,
        0.97 * height(entry.first_aid, width * 0.2 - 3.2, 8.5),
        height(entry.title, width * 0.13 - 3.2, 8.5, bold=True),
        0.97 * height("; ".join(entry.sources), width * 0.23 - 3.2, 8.5),
    )


def sheet_about(title: str, plan: Plan, day: date) -> Sheet:
    """What a sheet says about itself on every page."""
    return Sheet(title, plan, wording.day_words(day))
