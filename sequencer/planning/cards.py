"""What the sheets list besides the steps: parts, blanks, station cards, rows of the risk assessment, things to lay out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from sequencer.features.base import mm
from sequencer.model.frame import AXIS_WORDS
from sequencer.model.plan import (
    Blank,
    Control,
    DecisionLine,
    LooseThing,
    PartLine,
    RiskRow,
    StationCard,
    Step,
)
from sequencer.model.workshop import Who
from sequencer.planning.choosing import Choice
from sequencer.planning.shop import Shop
from sequencer.planning.steps import controls_besides, controls_in_use, hazard_lines, thing_name, wear_of
from sequencer.planning.who import in_words
from sequencer.planning.work import words

SPARE_SHARE = 0.1
LEAST_SPARES = 2
"""Spares for spoiled work: no published figure is known; two, or a tenth of the class, is common practice, no source."""


def part_lines(shop: Shop) -> tuple[PartLine, ...]:
    """The parts as the sheets list them."""
    return tuple(
        PartLine(
            part.name,
            part.letter,
            part.count,
            part.handed,
            part.length,
            part.width,
            part.thickness,
            part.stock,
            shop.job.stock[part.stock].material,
            shop.hardness(shop.job.stock[part.stock]),
            AXIS_WORDS[part.grain],
        )
        for part in shop.job.parts.values()
    )


def blank_lines(shop: Shop, choice: Choice) -> tuple[Blank, ...]:
    """Blanks for the class with spares: long pieces for parts worked in the long, else one blank a part."""
    lines = []
    students = shop.workshop.students
    for part in shop.job.parts.values():
        stock = shop.job.stock[part.stock]
        blank = choice.blanks[part.name]
        needed = part.count * students
        spares = max(LEAST_SPARES, ceil(SPARE_SHARE * students))
        if stock.form == "bought":
            lines.append(
                Blank(part.name, part.letter, part.length, part.width, part.thickness, 1, needed + spares, "bought ready")
            )
            continue
        pieces = ceil((needed + spares * part.count) / blank.yields)
        if blank.long:
            why = f"{blank.yields} parts in one piece: they are worked in the long and cut apart after"
            width, thickness = stock.width or part.width, stock.thickness
        else:
            why = f"{mm(blank.length - part.length)} mm over length, to square both ends"
            width, thickness = blank.width, blank.thickness
        lines.append(Blank(part.name, part.letter, blank.length, width, thickness, blank.yields, pieces, why))
    return tuple(lines)


def station_cards(steps: Sequence[Step], shop: Shop) -> tuple[StationCard, ...]:
    """One card a station used, in the order of first use."""
    cards = []
    for name in dict.fromkeys(step.station for step in steps):
        used = [step for step in steps if step.station == name]
        station = shop.workshop.stations[name]
        kind = shop.knowledge.stations[station.kind]
        who = _strictest(step.who for step in used if step.kind == "work") or used[0].who
        guards = tuple(dict.fromkeys(guard for step in used for guard in step.guards))
        holding = tuple(dict.fromkeys(guard for step in used for guard in step.holding))
        names = tuple(dict.fromkeys(hazard.name for step in used for hazard in step.hazards))
        wear = wear_of((*kind.wear, *(each.name for step in used for each in step.wear)), names, shop.knowledge)
        hazards = hazard_lines(
            names,
            [each.name for each in guards],
            [each.name for each in holding],
            [each.name for each in wear if not each.forbidden],
            shop.knowledge,
        )
        cards.append(
            StationCard(
                name,
                kind.station,
                kind.name,
                kind.power in ("machine", "powered-hand"),
                station.count,
                who,
                in_words(who),
                kind.smallest,
                kind.hands,
                kind.before_starting,
                kind.stop_when,
                guards,
                holding,
                hazards,
                wear,
                kind.sources,
            )
        )
    return tuple(cards)


def _strictest(answers: Iterable[Who]) -> Who | None:
    result: Who | None = None
    for who in answers:
        result = who if result is None else result.stricter(who)
    return result


def risk_rows(steps: Sequence[Step], shop: Shop) -> tuple[RiskRow, ...]:
    """A row for each hazard and group of steps it stands in: those that students do, and those that staff do."""
    groups: dict[tuple[str, str], list[Step]] = {}
    for step in steps:
        for line in step.hazards:
            groups.setdefault((line.name, step.card), []).append(step)
    severity = {"severe": 0, "serious": 1, "minor": 2}
    rows = []
    for (name, _), found in sorted(
        groups.items(), key=lambda item: (severity[shop.knowledge.hazards[item[0][0]].severity], item[1][0].number)
    ):
        hazard = shop.knowledge.hazards[name]
        there = {thing.name for step in found for things in (step.guards, step.holding) for thing in things}
        there |= {worn.name for step in found for worn in step.wear if not worn.forbidden}
        rows.append(
            RiskRow(
                name,
                hazard.name,
                hazard.happens,
                _whom(found, hazard.whom),
                hazard.severity,
                tuple(step.number for step in found),
                _merged(controls_in_use(hazard, there)),
                _merged(controls_besides(hazard, there)),
                hazard.stop_when,
                hazard.first_aid,
                hazard.sources,
            )
        )
    return tuple(rows)


def _whom(steps: Sequence[Step], whom: tuple[str, ...]) -> tuple[str, ...]:
    doing = "students at the step" if steps[0].card == "student" else "staff at the step"
    return (doing, *(person for person in whom if person != "operator"))


def _merged(controls: Iterable[Control]) -> tuple[Control, ...]:
    return tuple(dict.fromkeys(controls))


def decision_lines(shop: Shop) -> tuple[DecisionLine, ...]:
    """The teacher's decisions and the school's own rules, with who and why."""
    lines = []
    for decision in shop.job.decisions:
        asked = (
            f"way {decision.way}"
            if decision.way
            else f"station {decision.station}"
            if decision.station
            else f"before {decision.before}"
            if decision.before
            else f"{mm(decision.minutes or 0)} minutes"
        )
        lines.append(DecisionLine(decision.about, asked, decision.by, decision.why))
    for rule in shop.workshop.rules:
        asked = ", ".join(text for text in (rule.operator, rule.supervision, rule.gate) if text)
        lines.append(DecisionLine(rule.about, asked, rule.by or "not named", rule.why or "no reason given"))
    return tuple(lines)


def hardware_lines(shop: Shop) -> tuple[LooseThing, ...]:
    """Bought-in things for one student and for the class."""
    students = shop.workshop.students
    return tuple(LooseThing(thing_name(thing), thing.count, thing.count * students) for thing in shop.job.hardware.values())


def tool_lines(steps: Sequence[Step], shop: Shop) -> tuple[LooseThing, ...]:
    """Tools to lay out and count: one for each student or pair at student hand steps, one where a station shares it."""
    sets = ceil(shop.workshop.students / (2 if shop.workshop.pairs else 1))
    found: dict[str, bool] = {}
    for step in steps:
        kind = shop.knowledge.stations[step.station_kind]
        shared = step.card == "staff" or kind.power in ("machine", "powered-hand")
        for tool in step.tools:
            found[tool] = found.get(tool, True) and shared
    return tuple(LooseThing(tool, 1, 1 if shared else sets, shared) for tool, shared in sorted(found.items()))


def jig_lines(choice: Choice, shop: Shop) -> tuple[str, ...]:
    """Jigs to make before the lessons, each once."""
    return tuple(
        dict.fromkeys(
            f"{jig} (for {words(work.feature)} of {words(work.part)})" if work.part else jig
            for name, work in choice.works.items()
            for jig in [shop.knowledge.stations[choice.ways[name].kind].operations[choice.ways[name].operation].jig]
            if jig
        )
    )
