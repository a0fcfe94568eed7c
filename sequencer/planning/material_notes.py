"""What a plan says of the woods and sheets it is made of: what their dust does, and names that are not known or not clear."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.findings import Finding
from sequencer.knowledge.forms.glues import OUTDOORS
from sequencer.knowledge.forms.materials import Material
from sequencer.knowledge.materials import Found
from sequencer.model.job import Stock
from sequencer.model.plan import Step
from sequencer.planning.shop import EXTRACTION, Shop
from sequencer.reading.words import in_short

SOURCE = "HSE Woodworking Information Sheet 30 rev 1: names are ambiguous, and a wood that is not listed may also do harm"
_NOT_HARMLESS = "What is not known is not harmless: some woods and boards bring on asthma, rashes or worse."


def dust_lines(shop: Shop) -> tuple[str, ...]:
    """One line for each material: what its dust does, whose limits of dust count, and the source."""
    return tuple(dict.fromkeys(_dust_line(shop.found(stock), stock) for stock in shop.job.stock.values()))


def _dust_line(found: Found, stock: Stock) -> str:
    material = found.material
    if material is None:
        return (
            f"Dust of {stock.material}: nothing is known here, which does not mean that it is harmless; ask the supplier. "
            "Counts as hardwood dust, the stricter."
        )
    check = " (check locally)" if "from memory" in material.source else ""
    return (
        f"Dust of {stock.material}: {material.dust} Counts as {material.dust_counts_as} dust. Source: {material.source}{check}."
    )


def material_findings(shop: Shop) -> tuple[Finding, ...]:
    """Materials the list does not have, and names that may mean several of it; bought-in pieces come as they are."""
    found = {(stock.material, stock.botanical): stock for stock in shop.job.stock.values() if stock.form != "bought"}
    return tuple(finding for stock in found.values() for finding in _of_stock(shop, stock))


def _of_stock(shop: Shop, stock: Stock) -> Iterator[Finding]:
    found = shop.found(stock)
    if found.material is not None:
        yield from _of_class_work(shop, stock, found.material)
    if found.material is None:
        named = f"{stock.material} ({stock.botanical})" if stock.botanical else stock.material
        near = f"Did you mean {found.near}? " if found.near else ""
        yield Finding(
            "warning",
            "unlisted-material",
            stock.name,
            f"Nothing is known here of {named}. Its dust counts as hardwood dust, it is taken to move as much as any wood on "
            "the list, and speeds are those for hard wood.",
            _NOT_HARMLESS,
            f"{near}Ask the supplier for its botanical name and data sheet. Staff do the machine work and all sanding of it, "
            "where extraction runs.",
            source=SOURCE,
        )
    elif found.ambiguous:
        names = in_short([shop.knowledge.materials[name].name for name in found.names], "or")
        yield Finding(
            "note",
            "ambiguous-material",
            stock.name,
            f"{stock.material} may mean {names}. The most cautious figure of them all is taken.",
            "Woods of one name differ in what their dust does and in how much they move.",
            "Name the wood as the list does, or add its botanical name to the stock.",
            source=SOURCE,
        )


def _of_class_work(shop: Shop, stock: Stock, material: Material) -> Iterator[Finding]:
    """A wood that is left out of class work, or of which staff alone make dust."""
    same = (stock.material, stock.botanical)
    names = in_short([each.name for each in shop.job.stock.values() if (each.material, each.botanical) == same])
    meant = (
        " Name the wood as the list does, or add its botanical name, if another is meant." if shop.found(stock).ambiguous else ""
    )
    if material.class_work == "refuse":
        yield Finding(
            "error",
            "wood-left-out",
            stock.name,
            f"Stock {names}: {stock.material} is left out of class work.",
            material.dust,
            f"Use another wood.{meant}",
            source=material.source,
        )
    elif material.class_work in ("staff", "staff-all"):
        every = material.class_work == "staff-all"
        theirs = "every cut and all sanding of it, by hand too" if every else "the machine work and all sanding of it"
        own = (
            " Where the supplier says what is in it, the school may decide otherwise in its own list of woods, with who and why."
        )
        yield Finding(
            "warning",
            "wood-for-staff",
            stock.name,
            f"Stock {names}: staff look at each board of {stock.material} first and do {theirs}.",
            material.dust,
            f"Use another wood where students are to {'cut' if every else 'sand'} it.{meant}{own if every else ''}",
            source=material.source,
        )


def outdoor_findings(shop: Shop) -> Iterator[Finding]:
    """Glue, woods and sheets that do not stand the weather, where the job is to stand in it."""
    if not shop.job.outdoors:
        return
    glue = shop.knowledge.glues.get(shop.job.glue)
    if glue is not None and glue.resists not in OUTDOORS:
        better = [each for each in shop.knowledge.glues.values() if each.resists in OUTDOORS]
        for_class = in_short([each.name for each in better if not each.staff], "or")
        for_staff = in_short([each.name for each in better if each.staff], "or")
        yield Finding(
            "warning",
            "glue-outdoors",
            "glue",
            f"The work is to stand outdoors, and {glue.name} is "
            + (f"of class {glue.resists}, for indoors." if glue.resists else "of no known class against damp."),
            "Joints let go when the glue gets wet.",
            f"Use a glue of class D3 under cover or D4 in the weather, such as {for_class or for_staff}."
            + (f" Staff put on {for_staff}." if for_class and for_staff else ""),
            source=glue.resists_source or "EN 204: durability classes of wood glues, from memory",
        )
    outdoor = shop.knowledge.working.outdoor_class
    for stock in {each.material: each for each in shop.job.stock.values() if each.form != "bought"}.values():
        material = shop.material(stock)
        if material is None or material.durability is None or material.durability > outdoor:
            known = material is not None and material.durability is not None
            yield Finding(
                "warning",
                "wood-outdoors",
                stock.name,
                f"The work is to stand outdoors, and {stock.material} is "
                + (f"of class {material.durability} of 5 against rot." if known and material else "not known to stand rot."),
                "It rots or comes apart where it stays wet.",
                f"Use a wood of class {outdoor:g} or better, or keep it off the ground, coated, and look at it every year.",
                source=(material.durability_source if known and material else "") or "EN 350: classes of durability, from memory",
            )


def extraction_findings(shop: Shop, steps: tuple[Step, ...]) -> Iterator[Finding]:
    """Powered steps that cut a material nobody knows at a station without extraction."""
    unlisted = {part.letter for part in shop.job.parts.values() if shop.material(shop.job.stock[part.stock]) is None}
    for step in steps:
        if step.kind != "work" or shop.knowledge.stations[step.station_kind].power not in ("machine", "powered-hand"):
            continue
        letters = sorted(unlisted & {piece.letter for piece in step.parts})
        if letters and EXTRACTION not in shop.fitted(shop.workshop.stations[step.station]):
            yield Finding(
                "warning",
                "unlisted-without-extraction",
                step.id,
                f"Step {step.number} cuts {in_short(letters)}, of a material nobody knows, at {step.station_title}, which has no "
                "extraction.",
                _NOT_HARMLESS,
                "Fit extraction there, do it elsewhere, or use a material that is on the list.",
                source=SOURCE,
            )
