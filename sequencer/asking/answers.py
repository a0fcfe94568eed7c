"""Answers to `sequencer knowledge`: lists, one thing in full, every way of a kind of work. Plain text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from inspect import cleandoc
from textwrap import fill

from sequencer.asking.meaning import Meant, Named, things, understand
from sequencer.asking.regions import region_facts, region_lists
from sequencer.asking.wording import chosen, limit_text, unfilled
from sequencer.features import feature_kinds
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.hazards import Hazard
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.operations import Operation
from sequencer.knowledge.forms.regions import Region
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import density_class, find_material
from sequencer.knowledge.settings import SETTINGS
from sequencer.model.quantities import QUANTITIES, Figures
from sequencer.model.work import WORK_KINDS
from sequencer.model.workshop import Station, Who, Workshop
from sequencer.paper.wording import signs_words, source_words
from sequencer.planning.limits import Obstacle
from sequencer.planning.loudness import EAR_PROTECTION, acted_on_from, is_loud, strictest_action
from sequencer.planning.obstacles import purposes_against, stands_against
from sequencer.planning.protecting import signs_of
from sequencer.planning.shop import Premises
from sequencer.planning.who import default_who, in_words, may_do
from sequencer.talk import WIDTH, wrapped

LISTS = {
    "stations": "station",
    "operations": "operation",
    "hazards": "hazard",
    "materials": "material",
    "glues": "glue",
    "finishes": "finish",
    "regions": "region",
}
"""What can be listed, and what one of it is."""


_HERE = {
    "stations": "there is one in",
    "operations": "nothing but the piece itself can stand against it in",
    "hazards": "can be met in",
}
"""What a mark in a list says."""


def answer(question: str, knowledge: Knowledge, workshop: Workshop | None = None) -> str:
    """The answer to a question. Unusable if nothing in the knowledge matches it."""
    premises = Premises(workshop, knowledge) if workshop is not None else None
    if (which := question.strip().lower()) in LISTS:
        return _list(which, knowledge, premises)
    meaning = understand(question, knowledge)
    if meaning.kinds:
        return _ways(meaning, knowledge, premises)
    thing = meaning.thing or (meaning.matches[0] if len(meaning.matches) == 1 else None)
    if thing is not None:
        return _in_full(thing, knowledge, premises)
    if all(each.what == "material" for each in meaning.matches) and find_material(question, knowledge.materials).ambiguous:
        return _of_one_name(meaning.matches, question, knowledge)
    lines = [wrapped(f"'{question}' may mean any of these; ask for one by its name:"), ""]
    return "\n".join([*lines, *(_row("", each.name, f"{each.what}: {each.title}") for each in meaning.matches)])


def _row(mark: str, name: str, text: str) -> str:
    """A line of a table: a mark, a name and what it is; a long name has a line for itself."""
    head = f"{mark:<4}{name}" if mark else name
    column = 36 if mark else 32
    if len(head) >= column:
        return f"{head}\n{wrapped(text, column)}"
    return fill(f"{head:<{column}}{text}", WIDTH, subsequent_indent=" " * column, break_on_hyphens=False)


def _list(which: str, knowledge: Knowledge, premises: Premises | None) -> str:
    listed = [each for each in things(knowledge) if each.what == LISTS[which]]
    marked = {"stations": _stations_here, "operations": _operations_here, "hazards": _hazards_here}.get(which)
    there = marked(knowledge, premises) if marked and premises is not None else None
    head = f"{len(listed)} {which}"
    if premises is not None and there is not None:
        head += f"; yes: {_HERE[which]} {premises.workshop.name} ({len(there)})"
    lines = [wrapped(head), ""]
    for each in sorted(listed, key=lambda each: each.name):
        mark = "" if there is None else "yes" if each.name in there else "-"
        lines.append(_row(mark, each.name, _gist(each, knowledge)))
    return "\n".join(lines)


def _gist(thing: Named, knowledge: Knowledge) -> str:
    """What a list says of a thing beside its name."""
    if thing.what == "station":
        kind = knowledge.stations[thing.name]
        return f"{kind.name}: {kind.what} ({len(kind.operations)} operations)"
    if thing.what == "operation":
        return f"{thing.title} ({_station_of(thing.name, knowledge).station})"
    if thing.what == "hazard":
        return f"{thing.title} ({knowledge.hazards[thing.name].severity})"
    if thing.what == "glue":
        resists = knowledge.glues[thing.name].resists
        return thing.title + (f" (class {resists})" if resists else "")
    if thing.what == "finish":
        return f"{thing.title} ({knowledge.finishes[thing.name].family.replace('-', ' ') or 'family not stated'})"
    if thing.what == "region":
        region = knowledge.regions[thing.name]
        return f"{', '.join((region.name, *region.codes))}: {region.what}"
    material = knowledge.materials[thing.name]
    return f"{material.name}, {material.hardness}" + (f" ({material.botanical})" if material.botanical else "")


def _stations_here(knowledge: Knowledge, premises: Premises) -> set[str]:
    return set(premises.stations) & set(knowledge.stations)


def _operations_here(knowledge: Knowledge, premises: Premises) -> set[str]:
    return {
        name
        for kind in knowledge.stations.values()
        for name, operation in kind.operations.items()
        if (tried := _best(kind, name, operation, premises, {})) and not tried[1]
    }


def _hazards_here(knowledge: Knowledge, premises: Premises) -> set[str]:
    """Those of what can be done there; and those that woods, glues, finishes, loud tools and the room itself bring."""
    possible = _operations_here(knowledge, premises)
    done, named = set[str](), set[str]()
    for kind in knowledge.stations.values():
        for name, operation in kind.operations.items():
            hazards = (*kind.hazards, *operation.hazards)
            named.update(hazards)
            done.update(hazards if name in possible else ())
    return done | (set(knowledge.hazards) - named)


def _station_of(operation: str, knowledge: Knowledge) -> StationKind:
    return next(kind for kind in knowledge.stations.values() if operation in kind.operations)


def _best(
    kind: StationKind, name: str, operation: Operation, premises: Premises, figures: Figures
) -> tuple[Station, tuple[Obstacle, ...]] | None:
    """The station of the workshop where least stands against an operation, and what does; None if it has no such station."""
    tried = [
        (station, stands_against(kind, name, operation, station, premises, figures))
        for station in premises.stations.get(kind.station, ())
    ]
    return min(tried, key=lambda each: len(each[1]), default=None)


def _ways(meaning: Meant, knowledge: Knowledge, premises: Premises | None) -> str:
    """Every way of each kind that is meant: for ordinary work first, then what is not meant for work of this sort."""
    blocks = []
    for made in meaning.kinds:
        title = feature_kinds()[made].says if made in feature_kinds() else WORK_KINDS[made].meaning
        said = f", {', '.join(meaning.said)}" if meaning.said else ""
        lines = [wrapped(f"{made}{said}: {title}"), *_called(made, knowledge)]
        makers = [
            (kind, name, operation)
            for kind in knowledge.stations.values()
            for name, operation in kind.operations.items()
            if made in operation.makes
        ]
        told = [_way(*maker, premises, meaning.figures or {}) for maker in makers]
        for way in sorted((way for way in told if not way.purpose), key=lambda way: (bool(way.against), way.name)):
            lines += ["", *_way_lines(way, knowledge, premises)]
        beside = [way for way in told if way.purpose]
        if beside:
            lines += ["", wrapped("Not meant for this:")]
            lines += [wrapped(f"{way.operation.name} ({way.name}): {way.purpose}", 2, 2) for way in beside]
        if len(beside) == len(told):
            lines += ["", wrapped("No way of making it is known: it cannot be planned.")]
        blocks.append("\n".join(lines))
    if meaning.unused:
        blocks.append(wrapped(f"Not used of the question: {', '.join(meaning.unused)}."))
    blocks.append(
        wrapped(
            "Whether a way is possible for a piece depends on its sizes: `sequencer ways JOB PART/FEATURE` tries every one. "
            "Local law, the school's policy and the machine maker's instructions come first."
        )
    )
    return "\n\n".join(blocks)


@dataclass(frozen=True)
class _Way:
    """One way of making something: where in the workshop, what it is not meant for, what else stands against it."""

    kind: StationKind
    name: str
    operation: Operation
    station: Station | None
    purpose: str
    against: tuple[Obstacle, ...]


def _called(kind: str, knowledge: Knowledge) -> Iterator[str]:
    """What a kind of feature or work is called elsewhere."""
    term = knowledge.terms.get(kind.replace("-", " "))
    if term is not None:
        regions = (("AU", term.AU), ("NZ", term.NZ), ("UK", term.UK), ("US", term.US))
        yield wrapped("also called: " + "; ".join(f"{', '.join(words)} ({region})" for region, words in regions if words))


def _way(kind: StationKind, name: str, operation: Operation, premises: Premises | None, figures: Figures) -> _Way:
    """A way as it stands in the workshop, or in none in particular."""
    best = _best(kind, name, operation, premises, figures) if premises is not None else None
    if best is not None:
        station, found = best
    else:
        known = {f"station.{key}": each.default for key, each in kind.figures.items() if each.default is not None}
        station, found = None, purposes_against(operation, {**known, **figures})
    against = tuple(each for each in found if each.kind != "purpose")
    if premises is not None and station is None:
        missing = f"This workshop has no station for {kind.name}."
        against = (Obstacle("station", missing, f"Add one (kind {kind.station}), or use another way."),)
    return _Way(kind, name, operation, station, " ".join(each.what for each in found if each.kind == "purpose"), against)


def _way_lines(way: _Way, knowledge: Knowledge, premises: Premises | None) -> Iterator[str]:
    operation, kind = way.operation, way.kind
    here = premises.station_figures(kind, way.station) if premises is not None and way.station is not None else None
    who = _who(kind, way.name, premises)
    place = f" at {way.station.name}" if way.station is not None else ""
    mark = "" if premises is None else f"{'not possible' if way.against else 'possible'}{place}: "
    yield wrapped(f"{mark}{operation.name} ({way.name})", 0, 2)
    yield from (wrapped(f"{each.what} -> {each.remedy}", 4, 3) for each in way.against)
    yield from _told("station", kind.name)
    yield from _told("who", in_words(who))
    yield from _told("guards", chosen(operation.guards, knowledge.guards))
    yield from _told("comes off", ", ".join(knowledge.guards[name].name for name in operation.guards_off))
    yield from _told("holding", chosen(operation.holding, knowledge.holding))
    if operation.holding_upright is not None:
        yield from _told("on edge", chosen(operation.holding_upright, knowledge.holding))
    yield from _told("not for", "; ".join(f"a piece that is {limit.says}" for limit in operation.applies))
    for limit in operation.limits:
        yield from _told("limit", limit_text(limit, kind, here))
    hazards = dict.fromkeys((*operation.hazards, *kind.hazards))
    yield from _told("hazards", ", ".join(knowledge.hazards[name].name for name in hazards))
    yield from _told("sources", "; ".join(map(source_words, operation.sources)))


def _told(what: str, text: str) -> Iterator[str]:
    if text:
        yield wrapped(f"{what + ':':<11}{text}", 4, 11)


def _in_full(thing: Named, knowledge: Knowledge, premises: Premises | None) -> str:
    if thing.what == "station":
        lines = _station(knowledge.stations[thing.name], knowledge, premises)
    elif thing.what == "operation":
        kind = _station_of(thing.name, knowledge)
        lines = _operation(thing.name, kind, kind.operations[thing.name], knowledge, premises)
    elif thing.what == "hazard":
        lines = _hazard(thing.name, knowledge.hazards[thing.name], knowledge)
    elif thing.what == "glue":
        lines = _glue(knowledge.glues[thing.name], knowledge)
    elif thing.what == "finish":
        lines = _finish(knowledge.finishes[thing.name], knowledge)
    elif thing.what == "region":
        lines = _region(knowledge.regions[thing.name], knowledge)
    else:
        lines = _material(knowledge.materials[thing.name])
    changed = [each for each in knowledge.changes if thing.name in each.about.split("/")]
    by = [f"{each.text} {f'Decided by {each.by}: {each.why}' if each.by else 'Not recorded who and why.'}" for each in changed]
    return "\n".join([wrapped(f"{thing.what} {thing.name}: {thing.title}"), "", *lines, *_several("changed", by)])


def _several(what: str, texts: Iterable[str]) -> Iterator[str]:
    """A heading with a line for each text, if there is any."""
    lines = [wrapped(text, 4, 2) for text in texts]
    if lines:
        yield wrapped(f"{what}:", 2)
        yield from lines


def _facts(facts: Mapping[str, str]) -> Iterator[str]:
    width = max(map(len, facts)) + 2
    yield from (wrapped(f"{what + ':':<{width}}{text}", 2, width) for what, text in facts.items() if text)


def _station(kind: StationKind, knowledge: Knowledge, premises: Premises | None) -> Iterator[str]:
    yield from _facts(
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
    yield from _several("figures, as the tool takes them where a school states none", map(": ".join, figures.items()))
    yield from _several("limits of everything here", (limit_text(limit, kind) for limit in kind.limits))
    yield from _several("before starting", kind.before_starting)
    yield from _several("stop when", kind.stop_when)
    yield from _several("operations", (_operation_line(kind, name, premises) for name in kind.operations))
    if premises is not None:
        yield from _several(f"in {premises.workshop.name}", _fitted(kind, knowledge, premises))
    yield from _several("sources", map(source_words, kind.sources))


def _operation_line(kind: StationKind, name: str, premises: Premises | None) -> str:
    """An operation of a station, with who may do it."""
    return f"{name}: {kind.operations[name].name}; {in_words(_who(kind, name, premises))}"


def _who(kind: StationKind, name: str, premises: Premises | None) -> Who:
    """Who may do an operation: as the school's rules say, where a workshop is given."""
    operation = kind.operations[name]
    return default_who(kind, operation) if premises is None else may_do(kind, name, operation, premises.workshop)


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


def _operation(
    name: str, kind: StationKind, operation: Operation, knowledge: Knowledge, premises: Premises | None
) -> Iterator[str]:
    yield from _way_lines(_way(kind, name, operation, premises, {}), knowledge, premises)
    said = operation.instructions
    yield from _told("makes", ", ".join(operation.makes))
    yield from _told("needs", ", ".join(operation.needs))
    yield from _told("tools", unfilled(", ".join(operation.all_tools)))
    yield from _told("jig", operation.jig)
    worn = _worn((*operation.wear, *kind.wear), kind, knowledge, premises)
    yield from _told("wear", ", ".join(knowledge.wear[each].name for each in worn))
    minutes = operation.minutes
    yield from _told("minutes", f"{minutes.each:g} each, {minutes.set_up:g} to set. Source: {source_words(minutes.source)}.")
    yield from _settings(operation)
    for kinds, sentences in said.first_for.items():
        yield from _several(f"first, for {kinds}", map(unfilled, sentences))
    for what in ("set", "hold", "guard", "cut", "check"):
        yield from _several(what, map(unfilled, getattr(said, what)))
    yield from _several("on the student's card", map(unfilled, said.card))
    yield from _several("on the student's card, with the pieces together", map(unfilled, (*said.card_after, *said.again)))
    yield from _several("what to check", (unfilled(f"{each.what}: {each.how}; {each.limit}") for each in operation.checks))
    yield from _told("feed", unfilled(operation.feed))
    yield from _told("stop", unfilled(operation.stop))
    yield from _told("if wrong", unfilled(operation.if_wrong))


def _settings(operation: Operation) -> Iterator[str]:
    """What is set for an operation, how it is worked out, and from which figures; nothing where nothing is set."""
    function = SETTINGS[operation.settings]
    if not function.gives:
        return
    said = " ".join(cleandoc(function.inner.__doc__ or "").partition("\n\n")[0].replace("`", "").split())
    yield from _several("settings", (f"{', '.join(name.replace('-', ' ') for name in function.gives)}: {said}",))
    taken = {key: operation.use.get(key, usual) for key, usual in {**function.figures, **function.words}.items()}
    yield from _several("from", (f"{key.replace('_', ' ')}: {_meant(value)}" for key, value in taken.items()))


def _meant(value: float | str | None) -> str:
    """A figure or word that settings take, with the meaning of a figure that has a name."""
    known = QUANTITIES.get(str(value))
    return f"{value:g}" if isinstance(value, float) else str(value) if known is None else f"{value}, {known.meaning}"


def _hazard(name: str, hazard: Hazard, knowledge: Knowledge) -> Iterator[str]:
    yield from _facts(
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
        yield from _several(level, (control.text for control in controls))
    signs = signs_of((name,), knowledge)
    yield from _several("signs (ISO 7010)", (signs_words(signs),) if signs else ())
    yield from _several("stop when", hazard.stop_when)
    bringing = [
        f"{kind.name}" + ("" if name in kind.hazards else f": {', '.join(found)}")
        for kind in knowledge.stations.values()
        for found in [[each.name for each in kind.operations.values() if name in each.hazards]]
        if found or name in kind.hazards
    ]
    yield from _several("brought by", bringing)
    yield from _several("sources", map(source_words, hazard.sources))
    yield ""
    for paragraph in hazard.body.split("\n\n"):
        yield wrapped(paragraph.lstrip("# "), 2)


def _elsewhere(words: Mapping[str, Sequence[str]]) -> str:
    """What a thing is called elsewhere, by region."""
    return "; ".join(f"{', '.join(names)} ({region})" for region, names in words.items())


def _labels(names: Iterable[str], knowledge: Knowledge) -> str:
    """What labels of such a product say, by the hazards it brings."""
    codes = dict.fromkeys(code for name in names for code in knowledge.hazards[name].ghs)
    said = " ".join(f"{code} {knowledge.ghs[code].says}" for code in codes)
    return (
        f"{said} The product's own data sheet decides." if said else "none known as a rule; the product's own data sheet decides"
    )


def _at(celsius: float | None) -> str:
    return "" if celsius is None else f" at about {celsius:g} degrees"


def _glue(glue: Glue, knowledge: Knowledge) -> Iterator[str]:
    resists = f"class {glue.resists} of EN 204. Source: {source_words(glue.resists_source or glue.source)}."
    yield from _facts(
        {
            "called": _elsewhere(glue.words),
            "family": glue.family,
            "resists": resists if glue.resists else "not known; not for damp or outdoors",
            "open": f"{glue.open_time:g} min{_at(glue.at)}",
            "in cramps": f"{glue.cramp_time:g} min",
            "cured": f"{glue.cure_time:g} min",
            "coldest": "not stated" if glue.coldest is None else f"{glue.coldest:g} degrees",
            "put on by": "staff" if glue.staff else "as the operation says",
            "hazards": ", ".join(glue.hazards),
            "labels": _labels(glue.hazards, knowledge),
            "source": source_words(glue.source),
        }
    )


def _finish(finish: FinishKind, knowledge: Knowledge) -> Iterator[str]:
    yield from _facts(
        {
            "called": _elsewhere(finish.words),
            "family": finish.family.replace("-", " "),
            "put on as": finish.kind,
            "next coat": f"after {finish.dry_time:g} min{_at(finish.at)}, longer when cool or damp",
            "rags": "to be handled as rags that heat by themselves and can catch fire" if finish.self_heating_rags else "",
            "food": "meant to touch food once cured, if its maker says so" if finish.food else "not meant to touch food",
            "put on by": "staff" if finish.staff else "as the operation says",
            "hazards": ", ".join(finish.hazards),
            "labels": _labels(finish.hazards, knowledge),
            "source": source_words(finish.source),
        }
    )


def _region(region: Region, knowledge: Knowledge) -> Iterator[str]:
    yield from _facts(region_facts(region))
    for what, texts in region_lists(region, knowledge):
        yield from _several(what, texts)


def _material(material: Material) -> Iterator[str]:
    def share(value: float | None) -> str:
        return "not known" if value is None else f"{value:g}"

    def sourced(text: str, source: str) -> str:
        return f"{text}. Source: {source_words(source or material.source)}." if text else ""

    kind = {"softwood": "softwood by botany", "hardwood": "hardwood by botany", "sheet": "sheet"}[material.hardness]
    moves = f"tangential {share(material.tangential)}, radial {share(material.radial)} of the width for 1 % of moisture"
    if material.tangential is None:
        moves = "" if material.hardness == "sheet" else "not known; taken to move as much as any wood on the list"
    density = "" if material.density is None else f"{material.density:g} kg/m3 ({density_class(material.density)})"
    rot = "" if material.durability is None else f"class {material.durability} of 5 (1 the most durable), heartwood"
    yield from _facts(
        {
            "called": _elsewhere(material.words),
            "botanical": material.botanical,
            "hardness": kind + (f", {material.works} to work" if material.works else ""),
            "density": sourced(density, material.density_source),
            "moves": sourced(moves, material.movement_source) if material.tangential is not None else moves,
            "against rot": sourced(rot, material.durability_source),
            "dust": sourced(material.dust.removesuffix("."), material.source),
            "effects": ", ".join(material.effects),
            "counts as": f"{material.dust_counts_as} dust",
            "blunting": material.blunting,
            "fixing": material.fixing,
            "class work": _CLASS_WORK[material.class_work],
            "laser": _laser_mark(material),
            "hazards": ", ".join(material.hazards),
        }
    )


def _of_one_name(woods: Sequence[Named], question: str, knowledge: Knowledge) -> str:
    """What is said of a name that several materials bear: each of them, and what is taken where the name stands in a job."""
    found = find_material(question, knowledge.materials)
    lines = [wrapped(f"'{question}' may mean any of these; ask for one by its name, or add its botanical name to the stock:"), ""]
    lines += [_row("", each.name, _gist(each, knowledge)) for each in woods]
    if found.material is not None:
        lines += ["", wrapped("Where a job says no more than this, the most cautious of them all is taken:"), ""]
        lines += _material(found.material)
    return "\n".join(lines)


_CLASS_WORK = {
    "students": "as the operations say",
    "staff": "machine work and all sanding of it by staff, who look at each board first",
    "staff-all": "every cut and all sanding of it by staff, by hand too; they look at each board first",
    "refuse": "left out: a plan with it is refused",
}


def _laser_mark(material: Material) -> str:
    mark = material.laser
    if mark is None:
        return "not marked: it does not go into the laser cutter"
    return f"marked for the laser cutter up to {mark.thickest:g} mm thick ({source_words(mark.source)})"
