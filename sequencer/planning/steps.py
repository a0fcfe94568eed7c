"""Printed steps: runs of tasks that share a set-up, formed and numbered after ordering, with everything a card prints."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from types import MappingProxyType
from typing import Literal

from sequencer.features.base import mm
from sequencer.knowledge.forms.guards import GuardItem
from sequencer.knowledge.forms.hazards import LEVELS, MOST_HAZARDS_ON_A_CARD, Hazard
from sequencer.knowledge.forms.operations import CHECKS_ON_A_CARD, CheckLine, Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings import SETTINGS, bit_of, filled
from sequencer.model.job import Hardware, Job
from sequencer.model.plan import Card, Check, Control, Grip, Guard, HazardLine, Piecework, Setting, Step, StepKind, Task, Wear
from sequencer.model.quantities import QUANTITIES
from sequencer.model.work import WAITS
from sequencer.model.workshop import Who
from sequencer.planning.blanks import Workpiece
from sequencer.planning.bringing import Told
from sequencer.planning.choosing import Choice, face_words
from sequencer.planning.fastening import METAL, lengths_to_take
from sequencer.planning.laying_out import layouts_of
from sequencer.planning.loose_work import use_line
from sequencer.planning.loudness import EAR_PROTECTION, NOISE, acted_on_from, is_loud
from sequencer.planning.moving import moving_parts
from sequencer.planning.shapes_left import grip_of, grips_of
from sequencer.planning.shop import EXTRACTION, Shop, as_it_stands
from sequencer.planning.strips import WASTE, cuts_apart, minutes_of
from sequencer.planning.tool_sizes import laid_out
from sequencer.planning.ways import WITH_GLUE, Way
from sequencer.planning.work import WITH_WEDGES, Work, finish_index, hardware_of

LOOK_FIRST = "Let staff look at this board first."
GLUE = "wood glue"
"""What the tools of an operation call the job's glue, whichever it is."""
LEAVE_WHOLE = "Leave the stick whole; do not cut it up yet."
"""What the job card says first of work on a long piece that is cut apart later."""
ON_THE_STRIP = ("rough-length", "mark-out")
"""Kinds of work that are done on a strip while it is whole, besides what is worked in the long."""

USES = ("screw", "nail", "fit-dry", "key", "dowel", "biscuit")
"""Kinds of work that take the hardware of their joints."""
_SEVERITY = {"severe": 0, "serious": 1, "minor": 2}
SET_UP_WHO = Who("staff", "beside", "signed-off")


@dataclass(frozen=True)
class _Run:
    """Tasks done one after the other with one set-up.

    values
        What stands for the {figures} of the operation's sentences.
    together
        How its pieces come together, one action a line.
    """

    tasks: tuple[Task, ...]
    works: tuple[Work, ...]
    ways: tuple[Way, ...]
    kind: StationKind
    operation: Operation
    values: Mapping[str, str]
    blanks: Mapping[str, Workpiece]
    together: tuple[Told, ...]
    whole: bool = False
    """Whether it is work on a long piece that is cut apart by a later run."""

    @property
    def way(self) -> Way:
        """The first way; the others differ in the piece only."""
        return self.ways[0]


def make_tasks(choice: Choice, shop: Shop) -> list[Task]:
    """The atomic tasks, in the order of the drawing."""
    tasks = []
    for name, work in choice.works.items():
        way = choice.ways[name]
        kind = shop.knowledge.stations[way.kind]
        operation = as_it_stands(kind.operations[way.operation], way.figures)
        function = SETTINGS[operation.settings]
        tasks.append(
            Task(
                name,
                work.part,
                work.feature,
                work.act,
                work.kind,
                work.title,
                way.operation,
                way.station,
                way.kind,
                way.who,
                _set_up(work, way, kind, choice.blanks),
                work.quantity,
                way.in_the_long,
                minutes_of(work, way, choice.blanks, shop),
                way.settings,
                operation.leaves,
                tuple(part for part, _ in work.parts),
                work.joints,
                work.folded,
                operation.cut,
                operation.needs,
                (way.piece.length, way.piece.width, way.piece.thickness) if way.piece is not None else None,
                layouts_of(work, way, shop.job.parts[work.part], kind, operation) if work.part else (),
                tuple(name for name in function.gives if name not in function.optional),
                shop.knowledge.drill_bits[bit].point.share if (bit := bit_of(operation)) else 0.0,
                tuple(
                    Grip(left.shape, grip_of(left, kind, operation, shop.workshop.stations[way.station], shop), left.face)
                    for left in way.left
                ),
            )
        )
    return tasks


def _set_up(work: Work, way: Way, kind: StationKind, blanks: Mapping[str, Workpiece]) -> str:
    """Tasks with the same answer need no change between them. By hand a part is worked at a time, or the strip that several
    parts come out of. Blanks of every length are sawn in one go, with a stop for each."""
    settings = "; ".join(f"{setting.label} {setting.text}" for setting in way.settings if work.kind != "rough-length")
    whole = way.in_the_long or work.kind in ON_THE_STRIP
    strip = blanks[work.part].strip if work.part and whole else ""
    about = "" if kind.power == "machine" or work.kind == "face-marks" else strip or work.part or work.id
    held = ", ".join(f"{left.shape} {left.face}" for left in way.left if left.face is not None)
    long = "in the long" if way.in_the_long else ""
    operation = kind.operations[way.operation]
    stands = "on its edge" if as_it_stands(operation, way.figures) is not operation else ""
    theirs = "for the class" if work.kind == "face-marks" and blanks[work.part].sets > 1 else ""
    return " | ".join(text for text in (way.station, way.operation, about, settings, long, held, stands, theirs) if text)


def make_steps(
    order: Sequence[str],
    tasks: Mapping[str, Task],
    choice: Choice,
    shop: Shop,
    together: Mapping[str, Sequence[Told]] = MappingProxyType({}),
) -> tuple[Step, ...]:
    """The steps in order, numbered from 1: work, with its set-up before it at a machine and the guards back after it where
    they came off. `together`: by task, how its pieces come together."""
    steps: list[Step] = []
    apart: set[str] = set()
    for _, group in groupby((tasks[name] for name in order), key=lambda task: task.set_up):
        run = _run(tuple(group), choice, shop, together)
        run = replace(run, whole=_on_a_whole_stick(run, apart))
        apart |= {work.part for work, way in zip(run.works, run.ways, strict=True) if way.in_the_long and cuts_apart(work)}
        if run.kind.power == "machine" and run.kind.set_up_by == "staff":
            steps.append(_set_up_step(run, shop, len(steps) + 1))
        steps.append(_work_step(run, shop, len(steps) + 1))
        if run.operation.guards_off:
            steps.append(_guards_back_step(run, shop, len(steps) + 1))
    return tuple(steps)


def _on_a_whole_stick(run: _Run, apart: Collection[str]) -> bool:
    """Whether all that is done is done to one long piece, or marked on it, none of which is cut off before (`apart`) or here.
    Face marks are made on everything in one go, long pieces among it."""
    if all(work.kind == "face-marks" for work in run.works):
        marked = (run.blanks[work.part] for work in run.works if work.part not in apart)
        return any(blank.long and _yields_several(blank) for blank in marked)
    works = list(zip(run.works, run.ways, strict=True))
    long = all(
        work.part not in apart
        and not cuts_apart(work)
        and (way.in_the_long or (work.kind == "mark-out" and _yields_several(run.blanks[work.part])))
        for work, way in works
        if work.part
    )
    sticks = {run.blanks[work.part].strip or work.part if work.part else "" for work, _ in works}
    return long and len(sticks) == 1 and "" not in sticks and run.blanks[run.works[0].part].long


def _yields_several(blank: Workpiece) -> bool:
    return bool(blank.strip) or blank.yields > 1


def _run(tasks: tuple[Task, ...], choice: Choice, shop: Shop, together: Mapping[str, Sequence[Told]]) -> _Run:
    first = tasks[0]
    kind = shop.knowledge.stations[first.station_kind]
    works = tuple(choice.works[task.id] for task in tasks)
    ways = tuple(choice.ways[task.id] for task in tasks)
    operation = as_it_stands(kind.operations[first.operation], ways[0].figures)
    lines = tuple(line for task in tasks for line in together.get(task.id, ()))
    return _Run(tasks, works, ways, kind, operation, _values(works, ways, shop), choice.blanks, lines)


def _values(works: Sequence[Work], ways: Sequence[Way], shop: Shop) -> dict[str, str]:
    """What stands for each {figure} of a sentence: words, settings, sizes. What differs from part to part is said for each."""
    found: dict[str, dict[str, list[str]]] = {}
    for work, way in zip(works, ways, strict=True):
        words = face_words(work, shop.job)
        values = words | {f"setting.{setting.name}": setting.text for setting in way.settings}
        for name, value in way.figures.items():
            unit = QUANTITIES[name].unit if name in QUANTITIES else "mm"
            suffix = {"count": "", "deg": " degrees"}.get(unit, f" {unit}")
            values.setdefault(name, f"{mm(value)}{suffix}")
        for name, text in values.items():
            found.setdefault(name, {}).setdefault(text, []).append(words["part"])
    return {name: _said(name, texts) for name, texts in found.items()}


def _said(name: str, texts: Mapping[str, Sequence[str]]) -> str:
    if name in ("part", "name", "face", "from", "edge", "side", "enters", "takes"):
        return listed(list(texts))
    if len(texts) == 1:
        return next(iter(texts))
    return listed([f"{text} ({', '.join(dict.fromkeys(parts))})" for text, parts in texts.items()])


def _piecework(run: _Run, job: Job) -> tuple[Piecework, ...]:
    counts: dict[str, int] = {}
    for work in run.works:
        for name, count in work.parts:
            counts[name] = max(counts.get(name, 0), count)
    return tuple(Piecework(name, job.parts[name].letter, count) for name, count in counts.items())


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


def _brought(run: _Run, shop: Shop) -> tuple[str, ...]:
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
    return tuple(sorted(dict.fromkeys(names), key=lambda name: _SEVERITY[shop.knowledge.hazards[name].severity]))


def _meets(hazard: Hazard, run: _Run, *, unlisted: bool) -> bool:
    """Whether a hazard's own file says that it is there where this run cuts."""
    applies = hazard.applies
    return (
        bool(applies.power or applies.where or applies.unlisted_material)
        and (not applies.power or run.kind.power in applies.power)
        and (not applies.where or any(way.figures.get(applies.where, 0.0) > 0 for way in run.ways))
        and (not applies.unlisted_material or unlisted)
    )


def _hazard_names(run: _Run, brought: Sequence[str], knowledge: Knowledge) -> tuple[str, ...]:
    """Hazards of the operation, of the station, and what glue, finish or wood bring; of these the severe ones first, since a
    card prints the first two only."""
    first = [
        name for name in brought if knowledge.hazards[name].severity == "severe" and not knowledge.hazards[name].applies.power
    ]
    names = dict.fromkeys((*first, *run.operation.hazards, *run.kind.hazards, *brought))
    return tuple(name for name in names if name in knowledge.hazards)


def _worn_against(names: Iterable[str], knowledge: Knowledge) -> Iterator[str]:
    """What the files of hazards ask to be worn."""
    return (control.wear for name in names for control in knowledge.hazards[name].controls.get("ppe", ()) if control.wear)


def in_use(guards: Iterable[Guard], holding: Iterable[Guard], tools: Iterable[str], wear: Iterable[Wear]) -> set[str]:
    """The names of what is there at a step to carry out controls."""
    return {thing.name for thing in (*guards, *holding)} | {*tools} | {each.name for each in wear if not each.forbidden}


def hazard_lines(names: Iterable[str], there: set[str], knowledge: Knowledge) -> tuple[HazardLine, ...]:
    """Hazards, gravest first, each with the controls that the guards, holding, tools and equipment which are there carry out."""
    ordered = sorted(names, key=lambda name: _SEVERITY[knowledge.hazards[name].severity])
    return tuple(
        HazardLine(name, hazard.name, hazard.student, controls_in_use(hazard, there))
        for name in ordered
        for hazard in [knowledge.hazards[name]]
    )


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


def wear_of(asked: Iterable[str], hazards: Iterable[str], knowledge: Knowledge) -> tuple[Wear, ...]:
    """What to wear and what not to: what a hazard forbids wins over what anything asks for."""
    forbidden = dict.fromkeys(name for hazard in hazards for name in knowledge.hazards[hazard].forbids)
    wanted = [name for name in dict.fromkeys(asked) if name not in forbidden]
    return tuple(Wear(name, item.line, item.code, item.drawing) for name in wanted for item in [knowledge.wear[name]]) + tuple(
        Wear(name, item.forbidden_line or item.line, item.forbidden_code, item.forbidden_drawing or item.drawing, True)
        for name in forbidden
        for item in [knowledge.wear[name]]
    )


def _sentences(run: _Run, staff_sets: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The short form for the job card and the whole method: set, hold, guard, cut, check, without setting where staff have
    set the machine. What is said for one kind of work only comes first in both. On the job card the pieces come together
    between what is done before and after: one list in the order in which it is done."""
    said = run.operation.instructions
    kinds = dict.fromkeys(work.kind for work in run.works)
    left_out = {
        sentence
        for figure, sentences in said.where.items()
        # Pieces that are one stick are not laid side by side.
        if (figure == "part.others" and run.whole) or not any(way.figures.get(figure, 0.0) > 0 for way in run.ways)
        for sentence in sentences
    }
    first = tuple(sentence for kind in kinds for sentence in said.first_for.get(kind, ()))
    whole = (*first, *(() if staff_sets else said.set), *said.hold, *said.guard, *said.cut, *said.check)

    def told(sentences: Iterable[str]) -> tuple[str, ...]:
        return tuple(filled(each, run.values) for each in sentences if each not in left_out)

    if not said.card or (said.card_after and not run.together):
        return told(whole), told(whole)
    return (*told((*first, *said.card)), *_with_pieces(run.together, told(said.card_after), told(said.again))), told(whole)


def _with_pieces(together: Sequence[Told], after: Sequence[str], again: Sequence[str]) -> Iterator[str]:
    """How the pieces come together and what is done with them: once all are there, or, where it is done `again` for each, to
    the first before the second goes in."""
    fixing = False
    for each in together:
        yield each.line
        if each.fixed and again:
            yield from again if fixing else after
            fixing = True
    if not fixing:
        yield from after


def _work_step(run: _Run, shop: Shop, number: int) -> Step:
    first, operation, kind = run.tasks[0], run.operation, run.kind
    who = first.who
    card: Card = "staff" if who.operator == "staff" else "student"
    step_kind: StepKind = "wait" if run.works[0].kind in WAITS else "work"
    guards, holding = guards_of(operation, run.way, shop), holding_of(operation, run.way, shop)
    brought = _brought(run, shop)
    names = _hazard_names(run, brought, shop.knowledge)
    loud = step_kind == "work" and is_loud(kind, shop.workshop.stations[first.station], acted_on_from(shop))
    if loud and NOISE in shop.knowledge.hazards:
        names = tuple(dict.fromkeys((*names, NOISE)))
    by_hand = kind.power in ("hand", "bench") and operation.cut not in ("none", "sand")  # shavings and chips, little dust
    # While glue cures or a coat dries nobody handles it.
    worn = () if by_hand or step_kind == "wait" else _worn_against(brought, shop.knowledge)
    ears = (EAR_PROTECTION,) if loud else ()
    wear = wear_of((*operation.wear, *kind.wear, *ears, *worn), names, shop.knowledge)
    checks = checks_for(operation, run.works, run.ways)
    tools = _laid_out(run, checks, shop)
    hazards = hazard_lines(names, in_use(guards, holding, tools, wear), shop.knowledge)
    unsaid = {EXTRACTION, *(name for thing in holding for name in shop.knowledge.holding[thing.name].line_for)}
    lines = [thing.line for thing in (*guards, *holding) if thing.name not in unsaid] or [kind.hands]
    pieces = _piecework(run, shop.job)
    staff_sets = kind.power == "machine" and kind.set_up_by == "staff"
    instructions, method = _sentences(run, staff_sets)
    if run.whole and card == "student":
        instructions = (LEAVE_WHOLE, *instructions)
    return Step(
        id=first.id,
        number=number,
        kind=step_kind,
        card=card,
        title=_title(run, shop.job),
        station=first.station,
        station_kind=kind.station,
        station_title=kind.name,
        operation=operation.name,
        tasks=tuple(task.id for task in run.tasks),
        parts=pieces,
        who=who,
        guards=guards,
        guard_line=" ".join(lines),
        holding=holding,
        hazards=hazards,
        hazard_line=" ".join(shop.knowledge.hazards[hazard].student for hazard in names[:MOST_HAZARDS_ON_A_CARD]),
        wear=wear,
        settings=_settings(run, shop.job),
        instructions=instructions,
        method=method,
        checks=tuple(
            Check(
                filled(check.what, run.values),
                filled(check.how, run.values),
                filled(check.limit, run.values),
                check.card or number < CHECKS_ON_A_CARD,
            )
            for number, check in enumerate(checks)
        ),
        stop=_stop(run, shop),
        if_wrong=filled(operation.if_wrong, run.values),
        feed=operation.feed,
        minutes=_minutes(run, step_kind),
        set_up_minutes=0.0 if staff_sets else operation.minutes.set_up,
        tools=tools,
        sources=(*operation.sources, operation.minutes.source),
        notes=tuple(dict.fromkeys(_notes(run, shop))),
        together=tuple(each.line for each in run.together),
        one_go=operation.one_go or kind.power not in ("hand", "bench"),
    )


def _stop(run: _Run, shop: Shop) -> str:
    """What staff look at before it goes on: a board of a wood that is staff's to look at, then what the operation says."""
    parts = [part for work in run.works for part in work.parts]
    looked_at = run.operation.cut != "none" and shop.class_work(parts) != "students"
    return " ".join(filter(None, (LOOK_FIRST if looked_at else "", filled(run.operation.stop, run.values))))


def _laid_out(run: _Run, checks: Sequence[CheckLine], shop: Shop) -> tuple[str, ...]:
    """The tools of a step, and what its checks are made with."""
    own = (tool for way in run.ways for tool in _tools(run.operation, way, shop))
    return tuple(dict.fromkeys((*own, *(tool for check in checks for tool in check.tools))))


def _tools(operation: Operation, way: Way, shop: Shop) -> tuple[str, ...]:
    """The tools to lay out, the glue among them as what it is in this job."""
    glue = shop.knowledge.glues.get(shop.job.glue)
    station = shop.workshop.stations[way.station]
    tools = laid_out(operation, way.settings, station, shop)
    named = {GLUE: glue.name} if glue is not None else {}
    if WASTE in operation.tools and way.piece is not None:
        least = shop.station_figures(shop.knowledge.stations[way.kind], station).get("station.shortest", 0.0)
        size = f"{mm(way.piece.width)} x {mm(way.piece.thickness)} mm"
        named[WASTE] = f"{WASTE}, {size}" + (f", at least {mm(least)} mm long" if least else "")
    return tuple(named.get(tool, tool) for tool in tools)


def _settings(run: _Run, job: Job) -> tuple[Setting, ...]:
    """What is set; a setting that differs from part to part names its parts. What is set to nothing is not set."""
    found: dict[Setting, list[str]] = {}
    for task in run.tasks:
        for setting in task.settings:
            if setting.value != 0:
                found.setdefault(setting, []).append(job.parts[task.part].letter if task.part else "")
    names = [setting.name for setting in found]
    return tuple(
        replace(setting, label=f"{setting.label} ({', '.join(dict.fromkeys(letters))})")
        if names.count(setting.name) > 1
        else setting
        for setting, letters in found.items()
    )


def _notes(run: _Run, shop: Shop) -> Iterator[str]:
    """What a card adds from the drawing: the long piece, what the joints are fixed with, the teacher's own words."""
    if run.tasks[0].in_the_long and run.way.piece is not None:
        if any(cuts_apart(work) for work in run.works):
            yield f"Cut it off the end of the long piece, about {mm(run.way.piece.length)} mm."
        else:
            # The job card says so first of all.
            later = "" if run.tasks[0].who.operator == "student" else " Leave it whole for now."
            yield f"Use the long piece, about {mm(run.way.piece.length)} mm.{later}"
    if run.works[0].kind == "rough-length":
        yield from _strips_to_cut(run, shop)
    if run.works[0].kind in WITH_GLUE and shop.job.glue in shop.knowledge.glues:
        yield f"Use {shop.knowledge.glues[shop.job.glue].name}."
    if run.works[0].kind in ("dry-fit", "fit-dry", "glue"):
        for letter, gap in moving_parts(shop, run.works[0].joints).items():
            yield f"Leave {mm(gap)} mm beside {letter} on each side, in dry weather."
    wanted = {joint for work in run.works if work.kind in USES for joint in work.joints}
    named = hardware_of(shop.job, wanted)
    for name, count in named.items():
        yield f"Use: {count} {thing_name(shop.job.hardware[name])}."
    yield from (line for work in run.works if not named for line in [use_line(work)] if line)
    for work in run.works:
        if work.kind in METAL and "joint.fastener" not in work.figures:
            yield from lengths_to_take(shop.job, work.joints, METAL[work.kind], shop.knowledge.fasteners)
    for work in run.works:
        if work.kind == "hardware" and shop.job.hardware[work.feature].note:
            yield shop.job.hardware[work.feature].note
    if any(work.kind == "glue" and work.figures.get("joint.partner") for work in run.works):
        yield "Ask a partner to help before you open the glue."
    if any(work.kind == "glue" and work.figures.get("joint.wedged") for work in run.works):
        yield "Drive the wedges at once, while the glue is wet."
    if any(work.title.startswith(WITH_WEDGES) for work in run.works):
        yield "Saw the wedges off in the same cut."
    for work in run.works:
        if work.drawn is not None and work.drawn.note:
            yield work.drawn.note


def _strips_to_cut(run: _Run, shop: Shop) -> Iterator[str]:
    """That one strip is cut for several pieces, and which."""
    strips: dict[str, list[str]] = {}
    for work in run.works:
        blank = run.blanks[work.part]
        if blank.long and (blank.strip or blank.sets > 1 or blank.yields > 1):
            strips.setdefault(blank.strip or work.part, []).append(f"{blank.yields} of {shop.job.parts[work.part].letter}")
    for each in strips.values():
        yield f"Cut one strip for {listed(each)}."


def thing_name(thing: Hardware) -> str:
    """A bought-in thing as it is laid out and ordered: `wood screw, gauge 8 x 40 mm`."""
    sizes = [f"gauge {thing.gauge}"] if thing.gauge else []
    sizes += [f"diameter {mm(thing.diameter)} mm"] if thing.diameter else []
    sizes += [f"{mm(thing.length)} mm"] if thing.length else []
    return f"{thing.what}, {' x '.join(sizes)}" if sizes else thing.what


def _minutes(run: _Run, kind: StepKind) -> float:
    """Work on pieces takes its time for each; joining, coating and waiting take it once for the whole."""
    if kind == "wait" or not run.works[0].part:
        return max(task.minutes for task in run.tasks)
    return sum(task.minutes_in_all for task in run.tasks)


def _names(things: Iterable[Guard]) -> list[str]:
    return [thing.name for thing in things]


def checks_for(operation: Operation, works: Iterable[Work], ways: Sequence[Way]) -> tuple[CheckLine, ...]:
    """The checks of an operation that belong to the kinds of work done and to what is there."""
    kinds = {work.kind for work in works}
    return tuple(
        check
        for check in operation.checks
        if (not check.kinds or kinds & set(check.kinds))
        and (not check.where or any(way.figures.get(check.where, 0.0) > 0 for way in ways))
    )


def _title(run: _Run, job: Job) -> str:
    """What is done, to what: alike tasks are named together, `Cut the left tenon and the right tenon: end rail (B)`."""
    titles = list(dict.fromkeys(work.title.partition(":")[0] for work in run.works))
    verbs = list(dict.fromkeys(title.partition(" ")[0] for title in titles))
    if len(verbs) == 1:
        doing = f"{verbs[0]} {listed([title.partition(' ')[2] for title in titles])}"
    else:
        doing = listed([titles[0], *(title[:1].lower() + title[1:] for title in titles[1:])])
    names = list(dict.fromkeys(work.title.partition(": ")[2] for work in run.works if ": " in work.title))
    letters = [job.parts[name].letter for name in dict.fromkeys(work.part for work in run.works if work.part)]
    about = listed(names) + (f" ({', '.join(letters)})" if letters else "")
    return f"{doing}: {about}" if about else doing


def listed(names: Sequence[str]) -> str:
    """Names as a sentence lists them: `a, b and c`."""
    return " and ".join(text for text in (", ".join(names[:-1]), *names[-1:]) if text)


def _set_up_step(run: _Run, shop: Shop, number: int) -> Step:
    """Staff set the machine with students away, guard it before it turns, try it on a test piece, and call back students only
    where these work there next."""
    work = _work_step(run, shop, number)
    said = tuple(filled(sentence, run.values) for sentence in run.operation.instructions.set)
    said = said or tuple(f"Set the {setting.label}: {setting.text}." for setting in work.settings)
    title = f"Set the {run.kind.name}: {run.operation.name[:1].lower()}{run.operation.name[1:]}"
    return _staff_step(work, number, "set-up", title, said, run.operation.minutes.set_up, shop)


def _guards_back_step(run: _Run, shop: Shop, number: int) -> Step:
    names = listed([shop.knowledge.guards[name].name.lower() for name in run.operation.guards_off])
    title = f"Put back on the {run.kind.name}: {names}"
    minutes = shop.knowledge.staff_steps["guards-back"].minutes
    return _staff_step(_work_step(run, shop, number), number, "guards-back", title, (), minutes, shop)


def _staff_step(
    work: Step,
    number: int,
    kind: Literal["set-up", "guards-back"],
    title: str,
    said: tuple[str, ...],
    minutes: float,
    shop: Shop,
) -> Step:
    staff = shop.knowledge.staff_steps[kind]
    next_there: Literal["student", "staff"] = "student" if work.who.operator == "student" else "staff"
    said = (*staff.first, *said, *staff.last, *staff.last_for.get(next_there, ()))
    names = [name for name in staff.hazards if name in shop.knowledge.hazards] or [hazard.name for hazard in work.hazards]
    hazards = hazard_lines(names, in_use(work.guards, work.holding, (), work.wear), shop.knowledge)
    return replace(
        work,
        id=f"{work.id}/{kind}",
        number=number,
        kind=kind,
        card="staff",
        title=title,
        who=SET_UP_WHO,
        guard_line=f"{staff.guard_line} {work.guard_line}",
        hazards=hazards,
        hazard_line=" ".join(shop.knowledge.hazards[name].student for name in names[:MOST_HAZARDS_ON_A_CARD]),
        settings=work.settings if kind == "set-up" else (),
        instructions=said,
        method=said,
        checks=(),
        stop="",
        if_wrong=staff.if_wrong,
        feed="",
        minutes=minutes,
        set_up_minutes=0.0,
        tools=(),
        sources=(staff.source,),
        notes=(),
    )
