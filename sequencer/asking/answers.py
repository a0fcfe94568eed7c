"""Answers to `sequencer knowledge`: lists, one thing in full, every way of a kind of work. Plain text."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.asking.in_full import in_full, station_of
from sequencer.asking.lines import table_row
from sequencer.asking.meaning import Named, things, understand
from sequencer.asking.products import material_lines
from sequencer.asking.ways_told import best_station, ways_answer
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import find_material
from sequencer.model.workshop import Workshop
from sequencer.planning.shop import Premises
from sequencer.talk import wrapped

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
        return ways_answer(meaning, knowledge, premises)
    thing = meaning.thing or (meaning.matches[0] if len(meaning.matches) == 1 else None)
    if thing is not None:
        return in_full(thing, knowledge, premises)
    if all(each.what == "material" for each in meaning.matches) and find_material(question, knowledge.materials).ambiguous:
        return _of_one_name(meaning.matches, question, knowledge)
    lines = [wrapped(f"'{question}' may mean any of these; ask for one by its name:"), ""]
    return "\n".join([*lines, *(table_row("", each.name, f"{each.what}: {each.title}") for each in meaning.matches)])


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
        lines.append(table_row(mark, each.name, _gist(each, knowledge)))
    return "\n".join(lines)


def _gist(thing: Named, knowledge: Knowledge) -> str:
    """What a list says of a thing beside its name."""
    if thing.what == "station":
        kind = knowledge.stations[thing.name]
        return f"{kind.name}: {kind.what} ({len(kind.operations)} operations)"
    if thing.what == "operation":
        return f"{thing.title} ({station_of(thing.name, knowledge).station})"
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
        if (tried := best_station(kind, name, operation, premises, {})) and not tried[1]
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


def _of_one_name(woods: Sequence[Named], question: str, knowledge: Knowledge) -> str:
    """What is said of a name that several materials bear: each of them, and what is taken where the name stands in a job."""
    found = find_material(question, knowledge.materials)
    lines = [wrapped(f"'{question}' may mean any of these; ask for one by its name, or add its botanical name to the stock:"), ""]
    lines += [table_row("", each.name, _gist(each, knowledge)) for each in woods]
    if found.material is not None:
        lines += ["", wrapped("Where a job says no more than this, the most cautious of them all is taken:"), ""]
        lines += material_lines(found.material)
    return "\n".join(lines)
