"""One thing of the knowledge in full. What is bought and what holds where is told by `products.py`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from inspect import cleandoc

from sequencer.asking.lines import fact_lines, several_lines, told_line
from sequencer.asking.meaning import Named
from sequencer.asking.products import finish_lines, glue_lines, material_lines, region_lines
from sequencer.asking.ways_told import way_lines, way_of, who_may
from sequencer.asking.wording import limit_text, unfilled
from sequencer.knowledge.forms.hazards import Hazard
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings import SETTINGS
from sequencer.model.quantities import QUANTITIES
from sequencer.model.workshop import Station
from sequencer.paper.wording import signs_words, source_words
from sequencer.planning.loudness import EAR_PROTECTION, acted_on_from, is_loud, strictest_action
from sequencer.planning.protecting import signs_of
from sequencer.planning.shop import Premises
from sequencer.planning.who import in_words
from sequencer.talk import wrapped


def station_of(operation: str, knowledge: Knowledge) -> StationKind:
    """The kind of station an operation belongs to."""
    return next(kind for kind in knowledge.stations.values() if operation in kind.operations)


def in_full(thing: Named, knowledge: Knowledge, premises: Premises | None) -> str:
    """One thing as it is known, with what the school has changed in it."""
    if thing.what == "station":
        lines = station_lines(knowledge.stations[thing.name], knowledge, premises)
    elif thing.what == "operation":
        kind = station_of(thing.name, knowledge)
        lines = operation_lines(thing.name, kind, kind.operations[thing.name], knowledge, premises)
    elif thing.what == "hazard":
        lines = hazard_lines(thing.name, knowledge.hazards[thing.name], knowledge)
    elif thing.what == "glue":
        lines = glue_lines(knowledge.glues[thing.name], knowledge)
    elif thing.what == "finish":
        lines = finish_lines(knowledge.finishes[thing.name], knowledge)
    elif thing.what == "region":
        lines = region_lines(knowledge.regions[thing.name], knowledge)
    else:
        lines = material_lines(knowledge.materials[thing.name])
    changed = [each for each in knowledge.changes if thing.name in each.about.split("/")]
    by = [f"{each.text} {f'Decided by {each.by}: {each.why}' if each.by else 'Not recorded who and why.'}" for each in changed]
    return "\n".join([wrapped(f"{thing.what} {thing.name}: {thing.title}"), "", *lines, *several_lines("changed", by)])


def station_lines(kind: StationKind, knowledge: Knowledge, premises: Premises | None) -> Iterator[str]:
    """A kind of station: what it is, its figures, limits, operations."""
    yield from fact_lines(
        {
            "what": kind.what,
            "called": ", ".join(f"{name} ({region})" for region, name in kind.words.items()),
            "set up by": kind.set_up_by,
            "guards": ", ".join(knowledge.guards[name].name for name in kind.guards),
            "holding": ", ".join(knowledge.holding[name].name for name in kind.holding),
            "smallest": kind.smallest,
            "hands": kind.hands,
            "wear": ", ".join(knowledge.wear[name].name for name in _worn(kind.wear, kind, knowledge, premises)),
            "hazards": ", ".join(knowledge.hazards[name].name for name in kind.hazards),
        }
    )
    figures = {
        name: f"{_default(each.default)}; {each.means}. Source: {source_words(each.source)}."
        for name, each in kind.figures.items()
    }
    yield from several_lines("figures, as the tool takes them where a school states none", map(": ".join, figures.items()))
    yield from several_lines("limits of everything here", (limit_text(limit, kind) for limit in kind.limits))
    yield from several_lines("before starting", kind.before_starting)
    yield from several_lines("stop when", kind.stop_when)
    yield from several_lines("seen at a sign-off", kind.seen_at_sign_off)
    yield from several_lines("shown by themselves", (f"{name}: {words}" for name, words in kind.ways_shown.items()))
    yield from several_lines("operations", (_operation_line(kind, name, premises) for name in kind.operations))
    if premises is not None:
        yield from several_lines(f"in {premises.workshop.name}", _fitted(kind, knowledge, premises))
    yield from several_lines("sources", map(source_words, kind.sources))


def _operation_line(kind: StationKind, name: str, premises: Premises | None) -> str:
    """An operation of a station, with who may do it."""
    return f"{name}: {kind.operations[name].name}; {in_words(who_may(kind, name, premises))}"


def _worn(asked: Iterable[str], kind: StationKind, knowledge: Knowledge, premises: Premises | None) -> Iterable[str]:
    """What is worn, with ear protection where the level, the loudest of the stations of a workshop, asks for it."""
    acted_on = strictest_action(knowledge) if premises is None else acted_on_from(premises)
    stations: Sequence[Station | None] = () if premises is None else premises.stations.get(kind.station, ())
    loud = any(is_loud(kind, station, acted_on) for station in stations or (None,))
    return dict.fromkeys((*asked, *((EAR_PROTECTION,) if loud else ())))


def _default(value: float | None) -> str:
    """A default as printed: none where the school must state it."""
    return "none, the school must state it" if value is None else f"{value:g}"


def _fitted(kind: StationKind, knowledge: Knowledge, premises: Premises) -> Sequence[str]:
    told = []
    for station in premises.stations.get(kind.station, ()):
        fitted = [name for name in kind.guards if name in premises.fitted(station)]
        lacking = [knowledge.guards[name].name for name in kind.guards if name not in fitted]
        state = f"out of service: {station.out_of_service}; " if station.out_of_service else ""
        guards = ", ".join(knowledge.guards[name].name for name in fitted) or "no guard"
        told.append(f"{station.name}: {state}{guards} fitted" + (f"; not fitted: {', '.join(lacking)}" if lacking else ""))
    return told or ["There is none."]


def operation_lines(
    name: str, kind: StationKind, operation: Operation, knowledge: Knowledge, premises: Premises | None
) -> Iterator[str]:
    """An operation: where and by whom, what it says, sets and checks."""
    yield from way_lines(way_of(kind, name, operation, premises, {}), knowledge, premises)
    said = operation.instructions
    yield from told_line("makes", ", ".join(operation.makes))
    yield from told_line("needs", ", ".join(operation.needs))
    yield from told_line("tools", unfilled(", ".join(operation.all_tools)))
    yield from told_line("jig", operation.jig)
    yield from told_line("shown by itself", ", ".join(_way(way, kind, knowledge) for way in operation.shown_as))
    worn = _worn((*operation.wear, *kind.wear), kind, knowledge, premises)
    yield from told_line("wear", ", ".join(knowledge.wear[each].name for each in worn))
    minutes = operation.minutes
    yield from told_line("minutes", f"{minutes.each:g} each, {minutes.set_up:g} to set. Source: {source_words(minutes.source)}.")
    yield from _settings(operation)
    for kinds, sentences in said.first_for.items():
        yield from several_lines(f"first, for {kinds}", map(unfilled, sentences))
    for kinds, sentences in said.last_for.items():
        yield from several_lines(f"last, for {kinds}", map(unfilled, sentences))
    for what in ("set", "hold", "guard", "cut", "check"):
        yield from several_lines(what, map(unfilled, getattr(said, what)))
    yield from several_lines("on the student's card", map(unfilled, said.card))
    yield from several_lines("on the student's card, with the pieces together", map(unfilled, (*said.card_after, *said.again)))
    yield from several_lines("what to check", (unfilled(f"{each.what}: {each.how}; {each.limit}") for each in operation.checks))
    yield from told_line("feed", unfilled(operation.feed))
    yield from told_line("stop", unfilled(operation.stop))
    yield from told_line("if wrong", unfilled(operation.if_wrong))


def _settings(operation: Operation) -> Iterator[str]:
    """What is set for an operation, how it is worked out, and from which figures; nothing where nothing is set."""
    function = SETTINGS[operation.settings]
    if not function.gives:
        return
    said = " ".join(cleandoc(function.inner.__doc__ or "").partition("\n\n")[0].replace("`", "").split())
    yield from several_lines("settings", (f"{', '.join(name.replace('-', ' ') for name in function.gives)}: {said}",))
    taken = {key: operation.use.get(key, usual) for key, usual in {**function.figures, **function.words}.items()}
    yield from several_lines("from", (f"{key.replace('_', ' ')}: {_meant(value)}" for key, value in taken.items()))


def _meant(value: float | str | None) -> str:
    """A figure or word that settings take, with the meaning of a figure that has a name."""
    known = QUANTITIES.get(str(value))
    return f"{value:g}" if isinstance(value, float) else str(value) if known is None else f"{value}, {known.meaning}"


def hazard_lines(name: str, hazard: Hazard, knowledge: Knowledge) -> Iterator[str]:
    """A hazard: what happens, what is done about it, what brings it."""
    yield from fact_lines(
        {
            "happens": hazard.happens,
            "whom": ", ".join(hazard.whom),
            "can be": hazard.severity,
            "students": hazard.student,
            "not worn": ", ".join(knowledge.wear[each].name for each in hazard.forbids),
            "first aid": hazard.first_aid,
        }
    )
    for level, controls in hazard.controls.items():
        yield from several_lines(level, (control.text for control in controls))
    signs = signs_of((name,), knowledge)
    yield from several_lines("signs (ISO 7010)", (signs_words(signs),) if signs else ())
    yield from several_lines("stop when", hazard.stop_when)
    bringing = [
        f"{kind.name}" + ("" if name in kind.hazards else f": {', '.join(found)}")
        for kind in knowledge.stations.values()
        for found in [[each.name for each in kind.operations.values() if name in each.hazards]]
        if found or name in kind.hazards
    ]
    yield from several_lines("brought by", bringing)
    yield from several_lines("sources", map(source_words, hazard.sources))
    yield ""
    for paragraph in hazard.body.split("\n\n"):
        yield wrapped(paragraph.lstrip("# "), 2)


def _way(name: str, kind: StationKind, knowledge: Knowledge) -> str:
    """A way of work that is shown by itself, in words: `the mitre box`, of another station `hand planes: the shooting board`."""
    station, slash, way = name.partition("/")
    if not slash:
        return kind.ways_shown[name]
    return f"{knowledge.stations[station].name}: {knowledge.stations[station].ways_shown[way]}"
