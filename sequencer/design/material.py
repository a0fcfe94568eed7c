"""Parts against the stock they are cut from: does one come out of it, the right way of the grain? mm."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.features.base import NEAR, mm
from sequencer.findings import Finding
from sequencer.model.frame import Axis
from sequencer.model.job import Job, Part, Stock


def parts_against_stock(job: Job) -> Iterator[Finding]:
    """An error for each part that its stock cannot give. A size the stock does not state is not checked."""
    for part in job.parts.values():
        stock = job.stock.get(part.stock)
        if stock is None or stock.form == "bought":
            continue
        yield from (_from_sheet if stock.form == "sheet" else _from_stick)(part, stock)


def _from_stick(part: Part, stock: Stock) -> Iterator[Finding]:
    """Boards, square and round sticks: the grain runs along the stock."""
    along, across, through = _sizes(part)
    if stock.lengths and along > max(stock.lengths) + NEAR:
        yield _says(
            part,
            "too-long-for-stock",
            f"The part is {mm(along)} mm long along the grain; {stock.name} comes at most {mm(max(stock.lengths))} mm long.",
            "Take longer stock, or make the part shorter.",
        )
    width, thickness = stock.width, stock.thickness
    if stock.form == "round":
        width = thickness = max(stock.width, stock.thickness)
    elif stock.form == "square":
        width = width or thickness
    if width and across > width + NEAR:
        yield _says(
            part,
            "too-wide-for-stock",
            f"The part is {mm(across)} mm wide across the grain; {stock.name} is {mm(width)} mm wide.",
            "Take wider stock, make the part narrower, or glue it up from boards and write those as parts.",
        )
    if thickness and through > thickness + NEAR:
        yield _too_thick(part, stock, through, thickness)


def _from_sheet(part: Part, stock: Stock) -> Iterator[Finding]:
    """Sheet: the part must fit one way; if only across the sheet's grain, that is said."""
    along, across, through = _sizes(part)
    if stock.thickness and through > stock.thickness + NEAR:
        yield _too_thick(part, stock, through, stock.thickness)
    if not stock.lengths or not stock.width:
        return
    long, short = max(stock.lengths), stock.width
    if along <= long + NEAR and across <= short + NEAR:
        return
    size = f"The part is {mm(along)} x {mm(across)} mm and {stock.name} comes {mm(long)} x {mm(short)} mm"
    if along <= short + NEAR and across <= long + NEAR:
        yield Finding(
            "warning",
            "grain-across-sheet",
            part.name,
            f"{size}: it fits only with its grain across the sheet.",
            "The face grain then runs the other way than drawn.",
            "Take a larger sheet, or turn the grain of the part if its direction does not matter.",
            part.place,
        )
        return
    yield _says(part, "too-large-for-stock", f"{size}.", "Take a larger sheet, or make the part smaller.")


def _sizes(part: Part) -> tuple[float, float, float]:
    """Size along the grain, then the larger and the smaller of the two others."""
    sizes: dict[Axis, float] = {"x": part.length, "y": part.width, "z": part.thickness}
    along = sizes.pop(part.grain)
    return along, max(sizes.values()), min(sizes.values())


def _too_thick(part: Part, stock: Stock, through: float, thickness: float) -> Finding:
    return _says(
        part,
        "too-thick-for-stock",
        f"The part is {mm(through)} mm thick; {stock.name} is {mm(thickness)} mm thick.",
        "Take thicker stock, or make the part thinner.",
    )


def _says(part: Part, code: str, what: str, remedy: str) -> Finding:
    return Finding("error", code, part.name, what, "The part cannot be cut from it.", remedy, part.place)
