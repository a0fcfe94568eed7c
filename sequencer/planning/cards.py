"""What the sheets list besides the steps: parts, blanks, station cards, rows of the risk assessment, things to lay out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil

from sequencer.features.base import mm
from sequencer.knowledge.forms.hazards import LEVELS, Hazard
from sequencer.model.frame import AXIS_WORDS
from sequencer.model.job import Job, Part
from sequencer.model.plan import StationCard, Step
from sequencer.model.protection import Control, RiskRow
from sequencer.model.record import ChangeLine, DecisionLine
from sequencer.model.stock_lists import Blank, LooseThing, PartLine, Strip, StripPiece
from sequencer.model.workshop import Who
from sequencer.planning.blanks import listed_width, spares_of
from sequencer.planning.choice import Choice
from sequencer.planning.chosen_figures import chosen_lines
from sequencer.planning.loose_work import to_buy
from sequencer.planning.mitred_strips import slopes_of
from sequencer.planning.obstacles import CRAMPS, counted_cramps
from sequencer.planning.protecting import (
    controls_besides,
    controls_in_use,
    gravest_first,
    hazard_lines,
    in_use,
    signs_of,
    wear_of,
)
from sequencer.planning.shop import Shop
from sequencer.planning.step_words import thing_name
from sequencer.planning.strip_figures import room_of, tried_on
from sequencer.planning.strips import WASTE, Shared, places_in, runs_along, strip_name, students_own
from sequencer.planning.who import in_words
from sequencer.planning.work import words
from sequencer.reading.words import listed


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
    students, working = shop.workshop.students, shop.knowledge.working
    for part in shop.job.parts.values():
        stock = shop.job.stock[part.stock]
        blank = choice.blanks[part.name]
        needed = part.count * students
        spares = spares_of(working, students)
        if stock.form == "bought":
            lines.append(
                Blank(part.name, part.letter, part.length, part.width, part.thickness, 1, needed + spares, "bought ready")
            )
            continue
        pieces = ceil((needed + spares * part.count) / blank.yields)
        if blank.long and not blank.whole and students_own(part.name, choice.works, choice.ways):
            # Each student has strips of their own.
            pieces = ceil(part.count / blank.yields) * (students + spares)
        if blank.strip:
            others = [
                each.letter for shared in choice.long.strips if part in shared.parts for each in shared.parts if each is not part
            ]
            why = f"out of one long piece with {listed(others)}: they are worked in the long and cut apart after"
            if blank.whole:
                why = f"out of one stick with {listed(others)}, too short to be held by themselves: they are cut apart last"
            width, thickness = listed_width(part, stock, blank, working), stock.thickness
        elif blank.long:
            why = f"{blank.yields} parts in one piece: they are worked in the long and cut apart after"
            if part.name in choice.long.in_one and not _along(part, choice):
                why = f"{blank.yields} parts in one piece: they are brought to size in one and then cut apart"
            if blank.whole and blank.yields > 1:
                why = f"{blank.yields} parts in one piece, too short to be held by themselves: they are cut apart last"
            if blank.yields == 1:
                why = "long enough to be worked, with an end to hold: the part is cut off it after"
            width, thickness = listed_width(part, stock, blank, working), stock.thickness
        else:
            why = f"{mm(blank.length - part.length)} mm over length, to square both ends"
            if blank.waste >= 2 * working.planed_end + working.sawn_step:
                why += " and leave an end to hold"
            width, thickness = blank.width, blank.thickness
        lines.append(Blank(part.name, part.letter, blank.length, width, thickness, blank.yields, pieces, why, blank.strip))
    return tuple(lines)


def strip_lines(shop: Shop, choice: Choice) -> tuple[Strip, ...]:
    """Every long piece that gives more than one piece, each of them where it lies; strips for the class with spares."""
    joined = {part.name for shared in choice.long.strips for part in shared.parts}
    alone = [
        Shared((part,))
        for part in shop.job.parts.values()
        if part.name not in joined and choice.blanks[part.name].long and choice.blanks[part.name].yields > 1
    ]
    lines, counts = [], {line.part: line.pieces for line in blank_lines(shop, choice)}
    for shared in (*choice.long.strips, *alone):
        parts = shared.parts
        blank, stock = choice.blanks[parts[0].name], shop.job.stock[parts[0].stock]
        places = places_in(choice.blanks, parts, shop.knowledge.working)
        letters = {part.name: part.letter for part in parts}
        slopes = {part.name: slopes_of(part) for part in parts}
        lines.append(
            Strip(
                strip_name(parts),
                blank.length,
                listed_width(parts[0], stock, blank, shop.knowledge.working),
                stock.thickness,
                tuple(
                    StripPiece(each.part, letters[each.part], each.number, each.start, each.length, slopes[each.part])
                    for each in places
                ),
                counts[parts[0].name],
                room_of(parts, choice.works, choice.ways, shop),
                _worked_whole(parts, choice, shared.sets) + _not_shared(parts, choice, shop),
                shared.sets,
                tried_on(parts, choice.works, choice.ways, shop),
            )
        )
    return tuple(lines)


def _worked_whole(parts: Sequence[Part], choice: Choice, sets: int) -> str:
    """Why pieces come out of one strip, and what that saves."""
    along = _along(parts[0], choice)
    if choice.blanks[parts[0].name].whole and len(parts) > 1:
        letters = listed([part.letter for part in parts])
        return f"By themselves {letters} are too short to be held for their cuts; the pieces of one stick are cut apart last."
    if choice.blanks[parts[0].name].whole:
        are = "is" if len(along) == 1 else "are"
        short = f"By itself {parts[0].letter} is too short to be held while the {listed(along)} {are} cut"
        return f"{short}; the pieces are cut apart last."
    are = "is" if len(along) == 1 else "are"
    said = f"The {listed(along)} {are} worked right along it" if along else "Both ends of its parts are cut aslant"
    if not along and parts[0].name in choice.long.in_one:
        said = f"{choice.long.in_one[parts[0].name]} So the piece is brought to size whole"
    saved = len(parts) - 1
    more = f", with one setting for {listed([part.letter for part in parts])} instead of {len(parts)}" if saved and along else ""
    students = f" It holds the parts of {sets} students." if sets > 1 else ""
    saves = "".join(f" {choice.long.along[part.name]}" for part in parts if along and choice.long.along.get(part.name))
    return f"{said}{more}; the pieces are cut apart after that.{students}{saves}"


def _not_shared(parts: Sequence[Part], choice: Choice, shop: Shop) -> str:
    """What keeps the parts of a strip apart from others that could come out of it too."""
    own = {part.name for part in parts}
    against: dict[str, list[str]] = {}
    for pair, why in choice.long.kept.own_strips.items():
        if pair & own:
            against.setdefault(why, []).extend(shop.job.parts[name].letter for name in pair - own)
    return "".join(f" No strip with {listed(sorted(letters))}: {why}" for why, letters in against.items())


def _along(part: Part, choice: Choice) -> list[str]:
    """What is worked right along the long piece that a part comes out of, in words."""
    return [
        choice.works[name].title.partition(":")[0].partition(" the ")[2]
        for name, way in choice.ways.items()
        if way.in_the_long and choice.works[name].part == part.name and runs_along(choice.works[name])
    ]


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
            names, in_use(guards, holding, {tool for step in used for tool in step.tools}, wear), shop.knowledge
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
                {name.removeprefix("station."): value for name, value in shop.station_figures(kind, station).items()},
                kind.seen_at_sign_off or kind.before_starting[: int(shop.knowledge.working.seen_at_sign_off)],
                signs_of((hazard.name for hazard in hazards), shop.knowledge, wear),
                _own_hazard(kind.hazards, used),
            )
        )
    return tuple(cards)


def _own_hazard(listed: Sequence[str], used: Sequence[Step]) -> str:
    """The first hazard that the station's file names and its steps bring; where the file names none, what comes first at most of
    the steps."""
    brought = [step.hazards[0].name for step in used if step.kind == "work" and step.hazards]
    names = {hazard.name for step in used for hazard in step.hazards}
    return next((name for name in listed if name in names), max(brought, key=brought.count, default=""))


def _strictest(answers: Iterable[Who]) -> Who | None:
    result: Who | None = None
    for who in answers:
        result = who if result is None else result.stricter(who)
    return result


def risk_rows(steps: Sequence[Step], shop: Shop) -> tuple[RiskRow, ...]:
    """A row for each hazard over the steps it stands in, gravest first; each control names the steps that use it. Hazards of
    the whole workshop have no steps and stand behind, but for those that steps name too: they are met wherever somebody works."""
    found: dict[str, list[Step]] = {}
    for step in steps:
        for line in step.hazards:
            found.setdefault(line.name, []).append(step)
    order = gravest_first(sorted(found, key=lambda name: found[name][0].number), shop.knowledge)
    everywhere = [name for name, hazard in shop.knowledge.hazards.items() if hazard.applies.workshop and name not in found]
    for name, named in found.items():
        if shop.knowledge.hazards[name].applies.workshop:
            # What is in the room is met wherever somebody works, also where no operation names it.
            found[name] = [step for step in steps if step.kind == "work" or step in named]
    rows = [_risk_row(shop.knowledge.hazards[name], name, found[name], shop) for name in order]
    rows += [_risk_row(shop.knowledge.hazards[name], name, (), shop) for name in gravest_first(everywhere, shop.knowledge)]
    return tuple(rows)


def _risk_row(hazard: Hazard, name: str, steps: Sequence[Step], shop: Shop) -> RiskRow:
    using: dict[Control, list[int]] = {}
    for step in steps:
        for control in controls_in_use(hazard, _there(step, shop)):
            using.setdefault(control, []).append(step.number)
    for step in steps:
        for control in _arrangements(step):
            using.setdefault(control, []).append(step.number)
    used = tuple(replace(control, steps=tuple(dict.fromkeys(numbers))) for control, numbers in using.items())
    used = tuple(sorted(used, key=lambda control: LEVELS.index(control.level)))
    return RiskRow(
        name,
        hazard.name,
        hazard.happens,
        _whom(steps, hazard.whom),
        hazard.severity,
        tuple(step.number for step in steps),
        used,
        controls_besides(hazard, {thing for step in steps for thing in _there(step, shop)}, _fitting(steps, shop)),
        hazard.stop_when,
        hazard.first_aid,
        hazard.sources,
        tuple(f"{code} {shop.knowledge.ghs[code].says}" for code in hazard.ghs),
        signs_of((name,), shop.knowledge),
    )


def _arrangements(step: Step) -> list[Control]:
    """What the plan itself arranges at a step: who does it, who stands by, what is shown and signed off first."""
    if step.kind == "wait":
        return []
    if step.who.operator == "staff":
        return [Control("administrative", "Authorised staff only; students kept away.")]
    told = {"signed-off": "Students signed off for it first.", "instructed": "Students shown how first.", "none": ""}
    near = {"beside": "An authorised adult beside.", "watching": "An adult watching.", "room": "An adult in the room."}
    said = (told[step.who.gate], near[step.who.supervision], "STOP: staff look before going on." if step.stop else "")
    return [Control("administrative", text) for text in said if text]


def _fitting(steps: Sequence[Step], shop: Shop) -> set[str] | None:
    """The guards and ways of holding that the kinds of station of these steps can have; None where there is no station."""
    kinds = [shop.knowledge.stations[step.station_kind] for step in steps if step.station_kind]
    if not kinds:
        return None
    there = {thing for step in steps for thing in _there(step, shop)}
    return there.union(*({*kind.guards, *kind.holding} for kind in kinds))


def _there(step: Step, shop: Shop) -> set[str]:
    """What carries out controls at a step: guards, holding, tools and equipment, what its station has and what is read there."""
    station = shop.workshop.stations[step.station]
    fitted = {"emergency-stop"} if station.emergency_stop else set()
    return (
        in_use(step.guards, step.holding, step.tools, step.wear)
        | fitted
        | {*shop.knowledge.stations[station.kind].before_starting}
    )


def _whom(steps: Sequence[Step], whom: tuple[str, ...]) -> tuple[str, ...]:
    if not steps:
        return whom
    cards = {step.card for step in steps}
    doing = [text for card, text in (("student", "students at the step"), ("staff", "staff at the step")) if card in cards]
    return (*doing, *(person for person in whom if person != "operator"))


def decision_lines(shop: Shop, costs: Sequence[str]) -> tuple[DecisionLine, ...]:
    """The teacher's decisions, each with what it costs, the school's own rules and the figures it has loosened, with who and
    why."""
    lines = []
    for decision, cost in zip(shop.job.decisions, costs, strict=True):
        asked = [
            text
            for text in (
                decision.way and f"way: {_operation_name(decision.way, shop)}",
                decision.station and f"station {decision.station}",
                decision.before and f"before {decision.before}",
                f"{mm(decision.minutes)} minutes" if decision.minutes is not None else "",
            )
            if text
        ]
        lines.append(DecisionLine(decision.about, ", ".join(asked), decision.by, decision.why, cost))
    for rule in shop.workshop.rules:
        answers = ", ".join(text for text in (rule.operator, rule.supervision, rule.gate) if text)
        lines.append(
            DecisionLine(
                rule.about, answers, rule.by or "the school's policy", rule.why or "As strict as the default, or stricter"
            )
        )
    return (*lines, *chosen_lines(shop))


def _operation_name(way: str, shop: Shop) -> str:
    """What an operation is called on paper, in quotation marks."""
    kinds = shop.knowledge.stations.values()
    return next((f"“{kind.operations[way].name}”" for kind in kinds if way in kind.operations), way)


def change_lines(shop: Shop) -> tuple[ChangeLine, ...]:
    """What the school has changed in the shipped knowledge, with who and why as recorded."""
    return tuple(ChangeLine(each.about, each.text, "; ".join(each.looser), each.by, each.why) for each in shop.knowledge.changes)


def note_lines(job: Job) -> tuple[str, ...]:
    """The notes of the job and of its parts, the parts' with their letter."""
    parts = tuple(f"{part.letter} {words(part.name)}: {part.note}" for part in job.parts.values() if part.note)
    things = tuple(f"{thing.what}: {thing.note}" for thing in job.hardware.values() if thing.note)
    return tuple(note for note in (job.note, *parts, *things, job.before_use) if note)


def with_part_notes(steps: Sequence[Step], job: Job) -> tuple[Step, ...]:
    """The steps with the notes of the parts where the maker must see them: with the first work of a student on the part, or of
    anybody where students do none on it by itself, and where it is first joined to others."""
    said: dict[str, list[str]] = {}
    for part in job.parts.values():
        alone = [step for step in steps if [work.letter for work in step.parts] == [part.letter]]
        joining = [step for step in steps if step.together and part.letter in [work.letter for work in step.parts]]
        first = next((step for step in alone if step.card == "student"), next(iter(alone), None))
        for step in dict.fromkeys((first, next(iter(joining), None))) if part.note else ():
            if step is not None:
                said.setdefault(step.id, []).append(part.note if step is first else f"{part.letter}: {part.note}")
    return tuple(replace(step, notes=(*step.notes, *said.get(step.id, ()))) for step in steps)


def hardware_lines(shop: Shop, choice: Choice) -> tuple[LooseThing, ...]:
    """Bought-in things for one student and for the class."""
    students = shop.workshop.students
    named = (LooseThing(thing_name(thing), thing.count, thing.count * students) for thing in shop.job.hardware.values())
    return (*named, *to_buy(shop.job, choice.works, students))


def tool_lines(steps: Sequence[Step], shop: Shop) -> tuple[LooseThing, ...]:
    """Tools to lay out and count: one for each student or pair, but no more than there are stations to use them at; shared
    where only a machine or staff use them. What a student cuts a test in is used up. Cramps for no more of them at once than the
    workshop has cramps for; and of what it counts, no more than it has."""
    sets = ceil(shop.workshop.students / (2 if shop.workshop.pairs else 1))
    each: dict[str, int] = {}
    totals: dict[str, int] = {}
    shared: dict[str, bool] = {}
    for step in steps:
        station = shop.workshop.stations[step.station]
        alone = step.card == "staff" or shop.knowledge.stations[step.station_kind].power in ("machine", "powered-hand")
        for tool in step.tools:
            number = _at_a_time(step, tool)
            wanted = 1 if step.card == "staff" else min(sets, station.count, _at_once(step, shop))
            if tool.startswith(WASTE) and step.card == "student":
                wanted = shop.workshop.students
            each[tool] = max(each.get(tool, 1), number)
            totals[tool] = max(totals.get(tool, 0), wanted * number)
            shared[tool] = shared.get(tool, True) and alone
    for tool, have in _counted(shop).items():
        if tool in totals:
            totals[tool] = max(each[tool], min(totals[tool], have))
    return tuple(
        LooseThing(tool, each[tool], totals[tool], shared[tool] or totals[tool] < sets * each[tool]) for tool in sorted(totals)
    )


def _counted(shop: Shop) -> dict[str, int]:
    """How many the workshop counts of things without a reach, by their names as tools."""
    found: dict[str, int] = {}
    for thing in shop.workshop.counted.values():
        if thing.count and thing.reach is None:
            name = (thing.kind or thing.name).replace("-", " ")
            found[name] = found.get(name, 0) + thing.count
    return found


def _at_a_time(step: Step, tool: str) -> int:
    """How many of a tool one student needs: as many cramps as are set for a glue-up, a corner block for each, a scrap block
    under each of its jaws; of all else one."""
    return ceil(max(_set(step, "cramps"), default=0)) * _FOR_A_CRAMP.get(tool, int(tool.endswith("cramp"))) or 1


_FOR_A_CRAMP = {"corner block": 1, "scrap block": 2}
"""How many of a tool go with each cramp."""


def _set(step: Step, name: str) -> list[float]:
    return [setting.value for setting in step.settings if setting.name == name and setting.value]


def _at_once(step: Step, shop: Shop) -> int:
    """How many glue-ups the cramps of the workshop are enough for, where it counts those that the step takes; one at least."""
    cramps, opening = max(_set(step, "cramps"), default=0), max(_set(step, "open"), default=0.0)
    there = counted_cramps(shop, opening) if CRAMPS in {thing.name for thing in step.holding} else None
    return shop.workshop.students if not cramps or there is None else max(1, int(there // cramps))
