"""Station cards: what holds at each station, its set-ups in the order of the plan, and how each operation is done."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from sequencer.features.base import mm
from sequencer.model.plan import Plan, Setting, StationCard, Step
from sequencer.model.protection import Guard
from sequencer.model.stock_lists import Strip
from sequencer.paper import wording
from sequencer.paper.fitting import filled, height
from sequencer.paper.pages import NO_PICTURE, Drawings, Page, PageSize, ShownWear, numbered, room_on


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
    guards: tuple[tuple[Guard, Markup], ...]
    """Each guard with its drawing."""
    sources: tuple[str, ...]
    methods: tuple[Method, ...] = ()
    few: bool = False
    """Whether what is worn and hazards stand in the columns, not across both."""
    signs: str = ""
    """The safety signs of its hazards, in words."""


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
    parts: tuple[tuple[str, str], ...]
    """Letter, and how many pieces for one and for the class; of blanks how many are cut, and how long."""
    settings: tuple[Setting, ...]
    set_in: int
    """The step that made these settings, where it was another one; else 0."""
    who: str
    method: tuple[str, ...]
    """The whole way of working; empty where an earlier row has the same."""
    method_in: int
    """That row's step, else 0."""
    picture: Markup = NO_PICTURE
    picture_height: float = 0.0


def station_cards(plan: Plan, drawings: Drawings, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """A card for each station used: what holds for it, its set-ups in the order of the plan, how each operation is done."""
    room = room_on(size, spare=spare)
    entries: list[StationEntry] = []
    for card in plan.stations:
        steps = [step for step in plan.steps if step.station == card.station and step.kind != "wait"]
        entries += _station_pages(card, steps, plan, drawings, room.width, room.height)

    return numbered(plan, [[entry] for entry in entries], lambda entry: entry.steps if isinstance(entry, StationEntry) else ())


HEAD = 17.0
"""Height of a sheet's head."""


SIGNS = "Signs at the station (ISO 7010): "


def _station_pages(
    card: StationCard, steps: Sequence[Step], plan: Plan, drawings: Drawings, width: float, tall: float
) -> list[StationEntry]:
    """A station's pages: rows where there is room beside what must stand on the first; methods after the last row."""
    wear = drawings.wear(card.wear)
    guards = tuple((guard, drawings.sign(guard.drawing)) for guard in card.guards)
    sources = tuple(wording.source_words(source) for source in card.sources)
    room, further = tall - _card_height(card, wear, sources, width), tall - HEAD - 17.0
    chunks = filled(station_rows(steps, plan), lambda row: _row_height(row, width), room, further)
    pages = [
        StationEntry(
            card,
            tuple(steps),
            number == 0,
            number + 1 < len(chunks),
            tuple(chunk),
            wear,
            guards,
            sources,
            few=_few(card),
            signs=wording.signs_words(card.signs),
        )
        for number, chunk in enumerate(chunks)
    ]
    methods = _methods(steps)
    left = (room if len(chunks) == 1 else further) - sum(_row_height(row, width) for row in chunks[-1]) - 9.0
    groups = filled(methods, lambda method: _method_height(method, width), max(left, 0.0), tall - HEAD - 11.0)
    pages[-1] = replace(pages[-1], methods=tuple(groups[0]))
    return pages + [StationEntry(card, tuple(steps), False, False, (), (), (), (), tuple(group), False) for group in groups[1:]]


def _card_height(card: StationCard, wear: Sequence[ShownWear], sources: Sequence[str], width: float) -> float:
    """Height of all of a station card but its rows."""
    column = width / 2 - 9
    left = sum(max(8.2, height(f"{each.title}: {each.line}", column - 17, 10, bold=True) + 0.6) for each in card.guards)
    left += sum(height(f"{each.title}: {each.line}", column - 6, 10, bold=True) + 0.7 for each in card.holding)
    left += 11 if card.guards or card.holding else 0
    left += height("Hands: " + card.hands, column, 10) + 5.0
    right = sum(height(text, column - 4.5, 10) for text in card.stop_when) + 12
    right += sum(height(text, column - 6, 10) + 0.7 for text in card.before_starting) + 9
    right += height("Smallest piece: " + card.smallest, column, 10) + 5.0
    hazards = sum(height(f"{hazard.title}. {hazard.short}", column - 4.5, 9, bold=True) for hazard in card.hazards)
    hazards = hazards + 11 if card.hazards else 0.0
    total = 30 + height("; ".join(sources), width, 8.5) + 4
    total += height(SIGNS + wording.signs_words(card.signs), width, 8.5) + 2.0 if card.signs else 0.0
    if _few(card):
        return total + max(left + (_wear_height(wear, column) + 8 if wear else 0), right + hazards)
    total += hazards / 2 + 9 if card.hazards else 0.0
    return total + max(left, right) + (_wear_height(wear, width - 5) + 8 if wear else 0)


def _wear_height(items: Sequence[ShownWear], width: float) -> float:
    """Height of the signs with their words, as many in a row as there is room for."""
    each = int(width // 20)
    total = 1.2
    for start in range(0, len(items), each):
        words = max(height(f"{item.title} {item.code}", 19.0, 8) for item in items[start : start + each])
        total += 8.4 + 0.86 * words
    return total


def _few(card: StationCard) -> bool:
    """Whether signs and hazards are few enough to stand in the two columns."""
    return len(card.wear) <= 4 and len(card.hazards) <= 5


def _row_height(row: StationRow, width: float) -> float:
    what = width - 12 - 46 - 54 - 3
    said = height(f"{row.title}. {row.who}.", what, 10, bold=True)
    said += height("Feed: " + row.step.feed, what, 10) if row.step.feed else 0.0
    told = sum(height(f"{setting.label}: {setting.text}", 50, 10, bold=True) for setting in row.settings)
    told += 4.6 if row.set_in else 0.0
    return max(said, told, sum(max(6.0, height(pieces, 36, 10) + 1.2) for _, pieces in row.parts)) + 1.6


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
    said = sum(0.96 * height(line, column, 9.5) for lines in method.lines for line in lines)
    longest = max((sum(0.96 * height(line, column, 9.5) for line in lines) for lines in method.lines), default=0.0)
    return height(f"{method.operation}, steps {method.steps}", width - 5, 11.5, bold=True) + said / 2 + longest / 2 + 5.0


def _pieces(step: Step, plan: Plan) -> tuple[tuple[str, str], ...]:
    """What is worked at a step. Where blanks are cut, those of the cutting list: several parts may come out of one."""
    cut = {blank.part: blank for blank in plan.blanks if f"{blank.part}/rough-length/cut" in step.tasks}
    strips = {strip.name: strip for strip in plan.strips}
    shared = {part: strips[blank.strip] for part, blank in cut.items() if blank.strip}
    return tuple(
        # One strip for several parts is cut once: it stands with the first of them.
        (work.letter, _strip_words(shared[work.part], work.part))
        if work.part in shared
        else (work.letter, f"{blank.pieces} blanks of {mm(blank.length)} mm, with spares")
        if (blank := cut.get(work.part)) is not None
        else (work.letter, f"× {work.quantity}, class {work.quantity * plan.class_.students}")
        for work in step.parts
    )


def _strip_words(strip: Strip, part: str) -> str:
    """How many strips are cut, at the first part that comes out of them; at the others with which part they come."""
    first = strip.pieces[0]
    if part == first.part:
        return f"{strip.count} strips of {mm(strip.length)} mm, with spares"
    return f"out of the same strips as {first.letter}"


def station_rows(steps: Iterable[Step], plan: Plan) -> tuple[StationRow, ...]:
    """A row for each step; what is set or worked as in an earlier row says so."""
    rows: list[StationRow] = []
    methods: dict[tuple[str, ...], int] = {}
    last: Step | None = None
    for step in steps:
        same = last is not None and bool(step.settings) and step.settings == last.settings
        set_in = last.number if same and last is not None else 0
        method = step.method or step.instructions
        method_in = methods.get(method, 0) if method else 0
        methods.setdefault(method, step.number)
        rows.append(
            StationRow(
                step,
                step.title,
                _pieces(step, plan),
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
