"""Glues, finishes, materials and regions in full."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from sequencer.asking.lines import fact_lines, several_lines
from sequencer.asking.regions import region_facts, region_lists
from sequencer.knowledge.forms.glues import FinishKind, Glue
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.forms.regions import Region
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import density_class
from sequencer.paper.wording import source_words


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


def glue_lines(glue: Glue, knowledge: Knowledge) -> Iterator[str]:
    """A glue, minutes and degrees Celsius."""
    resists = f"class {glue.resists} of EN 204. Source: {source_words(glue.resists_source or glue.source)}."
    yield from fact_lines(
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


def finish_lines(finish: FinishKind, knowledge: Knowledge) -> Iterator[str]:
    """A finish, minutes and degrees Celsius."""
    yield from fact_lines(
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


def region_lines(region: Region, knowledge: Knowledge) -> Iterator[str]:
    """A region: what holds there."""
    yield from fact_lines(region_facts(region))
    for what, texts in region_lists(region, knowledge):
        yield from several_lines(what, texts)


def material_lines(material: Material) -> Iterator[str]:
    """A timber or sheet."""

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
    yield from fact_lines(
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
