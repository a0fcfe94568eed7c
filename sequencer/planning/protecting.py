"""What protects at a step: guards, how the wood is held, what is worn, which hazards are there and what is done about them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from sequencer.knowledge.forms.guards import GuardItem
from sequencer.knowledge.forms.hazards import LEVELS, MOST_HAZARDS_ON_A_CARD, Hazard
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.knowledge import Knowledge
from sequencer.model.protection import GRAVEST_FIRST, Control, Guard, HazardLine, Sign, Wear
from sequencer.planning.job_figures import WITH_GLUE
from sequencer.planning.runs import Run
from sequencer.planning.shapes_left import grips_of
from sequencer.planning.shop import Shop
from sequencer.planning.ways import Way
from sequencer.planning.work import finish_index


def guards_of(operation: Operation, way: Way, shop: Shop) -> tuple[Guard, ...]:
    """The guards that must be on for an operation: all that it asks for in the school's region or that are fitted, and of a
    choice those that are fitted."""
    station = shop.workshop.stations[way.station]
    fitted = shop.fitted(station)
    asked = shop.asked(operation.guards.all_of)
    names = (
        *(name for name in operation.guards.all_of if name in asked or name in fitted),
        *(name for name in operation.guards.any_of if name in fitted),
    )
    return tuple(_guard(name, shop.knowledge.guards[name]) for name in dict.fromkeys(names))


def _guard(name: str, item: GuardItem) -> Guard:
    return Guard(name, item.name, item.line, item.code, item.drawing)


def holding_of(operation: Operation, way: Way, shop: Shop) -> tuple[Guard, ...]:
    """The work-holding of an operation: all that it asks for, of a choice the first that is at hand or made, and what grips the
    shapes that the piece is held by."""
    kind, station = shop.knowledge.stations[way.kind], shop.workshop.stations[way.station]
    names = (*shop.held_by(kind, operation, station), *grips_of(way.left, kind, operation, station, shop))
    return tuple(_guard(name, shop.knowledge.holding[name]) for name in names)


def brought_hazards(run: Run, shop: Shop) -> tuple[str, ...]:
    """Hazards that the glue, the finish or the wood in use brings, gravest first."""
    names: tuple[str, ...] = ()
    if run.works[0].kind in WITH_GLUE and shop.job.glue in shop.knowledge.glues:
        names = shop.knowledge.glues[shop.job.glue].hazards
    if run.works[0].kind in ("coat", "dry"):
        for finish in (shop.job.finish[finish_index(work)] for work in run.works):
            if finish.what in shop.knowledge.finishes:
                names += shop.knowledge.finishes[finish.what].hazards
    if run.operation.cut != "none":
        cut = [shop.material(shop.job.stock[shop.job.parts[part].stock]) for work in run.works for part, _ in work.parts]
        names += tuple(name for material in cut if material for name in material.hazards)
        names += tuple(name for name, hazard in shop.knowledge.hazards.items() if _meets(hazard, run, unlisted=None in cut))
    return tuple(gravest_first(dict.fromkeys(names), shop.knowledge))


def _meets(hazard: Hazard, run: Run, *, unlisted: bool) -> bool:
    """Whether a hazard's own file says that it is there where this run cuts."""
    applies = hazard.applies
    return (
        bool(applies.power or applies.where or applies.unlisted_material)
        and (not applies.power or run.kind.power in applies.power)
        and (not applies.where or any(way.figures.get(applies.where, 0.0) > 0 for way in run.ways))
        and (not applies.unlisted_material or unlisted)
    )


def hazard_names(run: Run, brought: Sequence[str], knowledge: Knowledge) -> tuple[str, ...]:
    """Hazards of the operation, of the station, and what glue, finish or wood bring; of these the severe ones first, since a
    card prints the first two only."""
    first = [
        name for name in brought if knowledge.hazards[name].severity == "severe" and not knowledge.hazards[name].applies.power
    ]
    names = dict.fromkeys((*first, *run.operation.hazards, *run.kind.hazards, *brought))
    return tuple(name for name in names if name in knowledge.hazards)


def worn_against(names: Iterable[str], knowledge: Knowledge) -> Iterator[str]:
    """What the files of hazards ask to be worn."""
    return (control.wear for name in names for control in knowledge.hazards[name].controls.get("ppe", ()) if control.wear)


def in_use(guards: Iterable[Guard], holding: Iterable[Guard], tools: Iterable[str], wear: Iterable[Wear]) -> set[str]:
    """The names of what is there at a step to carry out controls."""
    return {thing.name for thing in (*guards, *holding)} | {*tools} | {each.name for each in wear if not each.forbidden}


def gravest_first(names: Iterable[str], knowledge: Knowledge) -> list[str]:
    """Hazards by how grave they are; alike ones as they stood."""
    return sorted(names, key=lambda name: GRAVEST_FIRST.index(knowledge.hazards[name].severity))


def hazard_lines(names: Iterable[str], there: set[str], knowledge: Knowledge) -> tuple[HazardLine, ...]:
    """Hazards, gravest first, each with the controls that the guards, holding, tools and equipment which are there carry out."""
    return tuple(
        HazardLine(name, hazard.name, hazard.student, controls_in_use(hazard, there))
        for name in gravest_first(names, knowledge)
        for hazard in [knowledge.hazards[name]]
    )


def card_hazards(names: Sequence[str], knowledge: Knowledge) -> str:
    """What a student reads of hazards: the first that a card has room for, the graver of them first."""
    kept = gravest_first(names[:MOST_HAZARDS_ON_A_CARD], knowledge)
    return " ".join(knowledge.hazards[name].student for name in kept)


def controls_in_use(hazard: Hazard, there: set[str]) -> tuple[Control, ...]:
    """The controls of a hazard that name a guard, holding or equipment which is in use."""
    return tuple(
        Control(level, control.text)
        for level in LEVELS
        for control in hazard.controls.get(level, ())
        if {control.guard, control.holding, control.tool, control.wear, control.fitted, control.before} & there
    )


def controls_besides(hazard: Hazard, there: set[str], fitting: set[str] | None = None) -> tuple[Control, ...]:
    """The controls of a hazard that this plan does not rest on by a named thing. `fitting`: the guards and ways of holding that
    the stations concerned can have; a control by another one belongs to a machine that has no part in this."""
    used = set(controls_in_use(hazard, there))
    every = (
        Control(level, control.text)
        for level in LEVELS
        for control in hazard.controls.get(level, ())
        if fitting is None or not {control.guard, control.holding} - {"", None} - fitting
    )
    return tuple(control for control in every if control not in used)


def signs_of(hazards: Iterable[str], knowledge: Knowledge, wear: Collection[Wear] | None = None) -> tuple[Sign, ...]:
    """The safety signs of hazards, each once. `wear`: what is asked for and what is forbidden there; a sign for anything else
    to wear would say what the card does not."""
    left_out: set[str] = set()
    if wear is not None:
        left_out = {drawing for item in knowledge.wear.values() for drawing in (item.drawing, item.forbidden_drawing) if drawing}
        codes = {each.code for each in wear if each.code}
        left_out -= {each.drawing for each in wear} | {name for name, item in knowledge.signs.items() if item.code in codes}
    titles: dict[str, list[str]] = {}
    for hazard in (knowledge.hazards[name] for name in hazards):
        for sign in hazard.signs:
            if sign not in left_out:
                titles.setdefault(sign, []).append(hazard.name)
    found: dict[tuple[str, str], Sign] = {}
    for name, under in titles.items():
        item = knowledge.signs[name]
        found.setdefault((item.says, item.code), Sign(item.says, item.code, tuple(under) if item.with_words else ()))
    return tuple(sorted(found.values(), key=lambda sign: (not sign.code, bool(sign.words))))


def wear_of(asked: Iterable[str], hazards: Iterable[str], knowledge: Knowledge) -> tuple[Wear, ...]:
    """What to wear and what not to: what a hazard forbids wins over what anything asks for."""
    forbidden = dict.fromkeys(name for hazard in hazards for name in knowledge.hazards[hazard].forbids)
    wanted = [name for name in dict.fromkeys(asked) if name not in forbidden]
    return tuple(Wear(name, item.line, item.code, item.drawing) for name in wanted for item in [knowledge.wear[name]]) + tuple(
        Wear(name, item.forbidden_line or item.line, item.forbidden_code, item.forbidden_drawing or item.drawing, True)
        for name in forbidden
        for item in [knowledge.wear[name]]
    )
