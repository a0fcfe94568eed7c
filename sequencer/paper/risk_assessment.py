"""The risk assessment: a row a hazard for the school to decide, and in columns behind it what each hazard's file holds."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from sequencer.model.plan import Plan, Step
from sequencer.model.protection import Control, RiskRow
from sequencer.model.record import ChangeLine, DecisionLine, FigureLine
from sequencer.paper import wording
from sequencer.paper.fitting import filled, height
from sequencer.paper.pages import Page, PageSize, numbered, room_on

_SHARES = (0.24, 0.15, 0.37)
"""Widths of the columns hazard, who, controls; the two to fill in share the rest."""
_SMALL = 8.0
"""Size of the columns' text, pt."""
_LINE = height("x", 100.0, _SMALL)
"""A line of it, mm."""
_COLUMNS = 3
"""Columns of what stands behind the hazards."""
_GUTTER = 5.0
_LEAST = 38.0
"""Room under the last row from which columns begin there, mm: the heading and the lines of the school's decision fit in it."""
_HEAD = 36.0
"""Height of the sheet's head with what the school fills in."""
_LEVEL = {
    "eliminate": "Eliminate",
    "substitute": "Substitute",
    "isolate": "Isolate",
    "engineering": "Engineering",
    "administrative": "Ways of working",
    "ppe": "Protective equipment",
}


@dataclass(frozen=True)
class RiskEntry:
    """A row of the risk assessment in words."""

    row: RiskRow
    who: tuple[str, ...]
    controls: tuple[tuple[str, str], ...]
    """Level and what is done, each control with its steps."""


@dataclass(frozen=True)
class Paragraph:
    """A paragraph in the columns: pairs of a lead in bold and a text. A long one may go on in the next column; a heading begins
    a subject, a line is to fill in, a tick to mark."""

    runs: tuple[tuple[str, str], ...]
    kind: Literal["text", "long", "heading", "line", "tick"] = "text"


@dataclass(frozen=True)
class RiskPage:
    """What a page shows: rows, and columns under them."""

    rows: tuple[RiskEntry, ...]
    columns: tuple[tuple[Paragraph, ...], ...] = ()


def risk_assessment(plan: Plan, size: PageSize, spare: float = 0.0) -> tuple[Page, ...]:
    """Rows by hazard; under the last and behind them what the school decides and what each hazard's file holds."""
    by_number = {step.number: step for step in plan.steps}
    room = room_on(size, landscape=True, spare=spare)
    entries = [RiskEntry(row, _who(row, by_number), _by_level(row.controls, steps=True)) for row in plan.risks]

    def tall(entry: RiskEntry) -> float:
        return _height(entry, room.width)

    groups = filled(entries, tall, room.height - _HEAD - 5, room.height - 5)
    pages = [RiskPage(tuple(group)) for group in groups]
    left = room.height - 27 - sum(map(tall, groups[-1])) - (_HEAD if len(groups) == 1 else 0.0)
    columns = _columns(plan, room.width, left if left > _LEAST else 0.0, room.height - 3)
    if left > _LEAST:
        pages[-1] = replace(pages[-1], columns=tuple(columns[:_COLUMNS]))
        columns = columns[_COLUMNS:]
    pages += [RiskPage((), tuple(columns[at : at + _COLUMNS])) for at in range(0, len(columns), _COLUMNS)]

    def steps_of(page: object) -> Sequence[Step]:
        if isinstance(page, RiskPage) and page.rows and not page.columns:
            numbers = dict.fromkeys(number for entry in page.rows for number in entry.row.steps)
            return [by_number[number] for number in numbers if number in by_number]
        return plan.steps

    return numbered(plan, [[page] for page in pages], steps_of)


def _who(row: RiskRow, by_number: dict[int, Step]) -> tuple[str, ...]:
    if not row.steps:
        return ("the whole workshop: every lesson",)
    who: dict[str, list[int]] = {}
    for number in row.steps:
        if number in by_number:
            who.setdefault(wording.who_words(by_number[number].who), []).append(number)
    return tuple(f"{words}: {wording.numbers_words(numbers)}" for words, numbers in who.items())


def _by_level(controls: Iterable[Control], *, steps: bool) -> tuple[tuple[str, str], ...]:
    found: dict[str, list[str]] = {}
    for control in controls:
        text = control.text
        if steps and control.steps:
            end = "." if text.endswith(".") else ""
            text = f"{text.removesuffix('.')} ({wording.steps_words(control.steps)}){end}"
        found.setdefault(control.level, []).append(text)
    return tuple((_LEVEL.get(level, level), " ".join(texts)) for level, texts in found.items())


def _height(entry: RiskEntry, width: float) -> float:
    row = entry.row

    def plain(share: float, *texts: str) -> float:
        return sum(0.96 * height(text, width * share - 3.0, 8.5, bold=True) for text in texts)

    hazard, who, controls = _SHARES
    return 2.0 + max(
        17.0,
        plain(hazard, f"{row.title}. {row.happens} Can be {row.severity}. At risk: {', '.join(row.whom)}."),
        plain(who, *entry.who),
        plain(controls, *(f"{level}: {text}" for level, text in entry.controls)),
    )


def _columns(plan: Plan, width: float, first: float, rest: float) -> list[tuple[Paragraph, ...]]:
    """The columns in order; as many as stand under the last row have `first` mm, the others `rest`."""
    column = (width - _GUTTER * (_COLUMNS - 1)) / _COLUMNS
    groups = _kept_together([*_decided(plan), *(each for row in plan.risks for each in _of_hazard(row))])
    return _flowed(groups, column, first or rest, rest)


def _flowed(groups: Iterable[list[Paragraph]], width: float, first: float, rest: float) -> list[tuple[Paragraph, ...]]:
    """Paragraphs in columns; a text that does not fit goes on at the head of the next column."""
    columns: list[list[Paragraph]] = [[]]
    room = first
    for group in groups:
        left = group
        while (need := sum(_high(each, width) for each in left)) > room:
            parts = _parted(left, room, width)
            if parts is not None:
                columns[-1] += parts[0]
                left = parts[1]
            elif not columns[-1] and room == rest:
                break  # higher than any column
            columns.append([])
            room = first if len(columns) <= _COLUMNS else rest
        columns[-1] += left
        room -= need
    return [tuple(column) for column in columns]


def _parted(group: Sequence[Paragraph], room: float, width: float) -> tuple[list[Paragraph], list[Paragraph]] | None:
    """What of a group fits and what is left of it, with its last text parted after a sentence or a source; None where less
    than two lines would stand alone on either side."""
    *before, last = group
    room -= sum(_high(each, width) for each in before)
    if last.kind != "long" or room < 2 * _LINE:
        return None
    for count in range(sum(len(_sentences(text)) for _, text in last.runs) - 1, 0, -1):
        head, tail = _cut(last, count)
        if _high(head, width) <= room:
            enough = min(_high(head, width), _high(tail, width)) > 1.9 * _LINE
            return ([*before, head], [tail]) if enough else None
    return None


def _sentences(text: str) -> list[str]:
    return re.split(r"(?<=[.;!?]) ", text)


def _cut(paragraph: Paragraph, count: int) -> tuple[Paragraph, Paragraph]:
    """A paragraph's first sentences, and the rest."""
    head: list[tuple[str, str]] = []
    tail: list[tuple[str, str]] = []
    for lead, text in paragraph.runs:
        every = _sentences(text)
        here, count = every[:count], max(count - len(every), 0)
        if here:
            head.append((lead, " ".join(here)))
        if len(here) < len(every):
            tail.append(("" if here else lead, " ".join(every[len(here) :])))
    return Paragraph(tuple(head), paragraph.kind), Paragraph(tuple(tail), paragraph.kind)


def _high(paragraph: Paragraph, width: float) -> float:
    said = " ".join(f"{lead} {text}" for lead, text in paragraph.runs)
    if paragraph.kind == "line":
        return 7.0
    if paragraph.kind == "heading":
        return height(said, width, 10.5, bold=True) + 3.0
    if paragraph.kind == "tick":
        return height(said, width - 6.5, _SMALL) + 0.7
    return height(said, width - 0.5, _SMALL)


def _kept_together(paragraphs: Sequence[Paragraph]) -> list[list[Paragraph]]:
    """A heading with the paragraph after it, so that no column ends with a heading; lines to fill in together."""
    groups: list[list[Paragraph]] = []
    for each in paragraphs:
        if groups and (each.kind == "line" or groups[-1][-1].kind == "heading"):
            groups[-1].append(each)
        else:
            groups.append([each])
    return groups


def _plain(text: str) -> Paragraph:
    return Paragraph((("", text),))


def _heading(text: str) -> Paragraph:
    return Paragraph((("", text),), "heading")


def _decided(plan: Plan) -> list[Paragraph]:
    """The school's answer, when to review, the decisions made, what staff must look at, notes, figures on record."""
    lines = ("May it go ahead?", "Conditions:", "Name and signature:", "Date:")
    asked = plan.region.review if plan.region else ()
    return [
        _heading("School to decide: the activity as a whole"),
        *(Paragraph((("", text),), "line") for text in lines),
        *_of_region(plan),
        _heading("Review when"),
        *(Paragraph((("", trigger),), "tick") for trigger in dict.fromkeys((*asked, *wording.REVIEW_TRIGGERS))),
        _heading("Decisions made for this plan"),
        *(
            [
                Paragraph(((f"{wording.heading(each.about)}:", f"{each.text} (decided by {each.by}). {each.why}{_cost(each)}"),))
                for each in plan.decisions
            ]
            or [_plain("None.")]
        ),
        *([Paragraph((("The job's decisions all together:", f"This {plan.together}."),))] if plan.together else []),
        *([_heading("The school's own knowledge, against the shipped"), *map(_change, plan.changes)] if plan.changes else []),
        _heading("Staff must look at"),
        *(
            [Paragraph(((f"{each.subject}:", f"{each.what} {each.why} {each.remedy}"),)) for each in plan.findings]
            or [_plain("Nothing was found that the files do not settle.")]
        ),
        *([_heading("Notes of the drawing"), *map(_plain, plan.notes)] if plan.notes else []),
        *([_heading("What the dust of the materials does"), *map(_plain, plan.materials)] if plan.materials else []),
        *_of_a_day(plan),
    ]


def _of_region(plan: Plan) -> list[Paragraph]:
    """What the region asks to be recorded and signed, law and regulator to check by name, the figures it is held to."""
    region = plan.region
    if region is None:
        return []
    seen = wording.day_words(date.fromisoformat(region.looked_up))
    day = f" on {wording.day_words(date.fromisoformat(region.day))}" if region.day else ", whatever the day"
    sources = {source: number for number, source in enumerate(dict.fromkeys(each.source for each in region.figures), 1)}
    return [
        _heading(f"Region: {region.name}"),
        _plain(f"{wording.heading(region.what)}."),
        Paragraph((("Check by name, law:", f"{'; '.join(region.laws)}."),)),
        Paragraph((("Regulator:", f"{region.regulator}. Looked up on {seen}."),)),
        _heading("What the record must hold there"),
        *(Paragraph((("", text),), "tick") for text in region.record),
        _heading("Signed there, with date"),
        *(Paragraph((("", f"{text}:"),), "line") for text in region.sign_off),
        _heading(f"Figures{day}; the law in force comes first"),
        *(Paragraph(((each.value, _figure_words(each, sources[each.source])),)) for each in region.figures),
        *([_plain(STANDS_IN)] if any(not each.own for each in region.figures) else []),
        _plain(" ".join(f"[{number}] {wording.source_words(source)}." for source, number in sources.items())),
    ]


STANDS_IN = "* Not known there: the strictest on record stands in until it is looked up."


def _figure_words(figure: FigureLine, number: int) -> str:
    note = f"; {figure.note}" if figure.note else ""
    return f"{figure.name} ({figure.whose}{'' if figure.own else '*'}{note}) [{number}]"


def _of_a_day(plan: Plan) -> list[Paragraph]:
    """Noise, vibration and dust of a day for each person, and what is not known of them."""
    told = wording.of_a_day(plan)
    return [_heading(wording.DAY_HEADING), *(Paragraph((each,)) for each in told)] if told else []


def _labels(row: RiskRow) -> str:
    return f"{' '.join(row.labels)} Read the product's own data sheet; it decides." if row.labels else ""


def _cost(decision: DecisionLine) -> str:
    """What a decision of the teacher's costs; the school's own rules are not counted."""
    return f"{'' if decision.why.endswith('.') else '.'} It {decision.cost.rstrip('.')}." if decision.cost else ""


def _change(change: ChangeLine) -> Paragraph:
    """A change of the school's with what it loosens, who made it and why."""
    looser = f" Loosened: {change.looser}." if change.looser else ""
    who = f" Decided by {change.by}. {change.why}" if change.by else " Who made the change and why: not recorded."
    return Paragraph(((f"{change.about}:", f"{change.text}{looser}{who}"),))


def _of_hazard(row: RiskRow) -> list[Paragraph]:
    """What a hazard's file says beyond the row: controls not used here, when to stop, first aid, sources."""
    used = {control.text for control in row.controls}
    more = _by_level((each for each in row.more if each.text not in used), steps=False)
    told = (
        tuple((f"{level}:", text) for level, text in more),
        (("Stop when:", " ".join(row.stop_when)), ("First aid:", row.first_aid)),
        (("Signs (ISO 7010):", wording.signs_words(row.signs)),),
        (("On labels of such products, as a rule (UN GHS):", _labels(row)),),
        (("Sources:", "; ".join(map(wording.source_words, row.sources))),),
    )
    kept = [tuple((lead, text) for lead, text in runs if text) for runs in told]
    return [_heading(row.title), *(Paragraph(runs, "long") for runs in kept if runs)]
