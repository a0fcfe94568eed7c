"""What only a machine asks: room under it, what is held beside its blade, centres, passes against the feed. mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sequencer.features.base import NEAR, mm
from sequencer.model.frame import Axis, axis_of, sign_of
from sequencer.model.marks import Layout, Level, Profile
from sequencer.model.plan import Task
from sequencer.model.proof import Looked
from sequencer.proving.cut_places import CLOSE
from sequencer.proving.cuts import Span
from sequencer.proving.sizes import Figures
from sequencer.proving.workpiece import Workpiece
from sequencer.solid.centring import catch_faults, centre_faults


def goes_under(high: float, machine: Figures) -> Iterator[Looked]:
    """A piece as high as it stands under a bit or chisel that comes from above, against the machine's own figure."""
    if "thickest" in machine and high > machine["thickest"] + CLOSE:
        says = f"it stands {mm(high)} mm high, and the machine takes at most {mm(machine['thickest'])}"
        yield Looked("piece", False, says)


def held_beside_the_blade(task: Task, layout: Layout, piece: Workpiece, machine: Figures) -> Looked:
    """Of the two pieces a cut to length leaves, the one that is held is long enough. That is the one between stop and blade,
    which must not be caught there; where a clearance block lets it lie free, it is the rest, also behind the last part."""
    if "least-remnant" not in machine:
        return Looked("remnant", False, "nobody has said how short a piece may stay held beside the blade: staff must decide")
    settings = {setting.name: setting.value or 0.0 for setting in task.settings}
    marked = layout.marks.distance if isinstance(layout.marks, Level) else piece.part.worked.length
    cut_off, kerf = settings.get("stop", marked), machine.get("kerf", 0.0)
    number, others = (piece.yields, piece.others) if task.kind == "separate" else (1, ())
    rest = piece.size("x") - number * (cut_off + kerf) - sum(length + kerf for length in others)
    last, least = rest + kerf + cut_off, machine["least-remnant"]
    if last < machine.get("shortest", 0.0) - CLOSE:
        says = f"the last piece on the saw is {mm(last)} mm long, and it asks at least {mm(machine['shortest'])}"
        return Looked("remnant", False, says)
    free = settings.get("clear", 0.0) > 0
    held = rest if free else cut_off
    what = "what stays behind is held" if free else "it is held between stop and blade"
    return Looked("remnant", held >= least - CLOSE, f"{what}, {mm(held)} mm; at least {mm(least)} mm is asked")


def blank_held_beside_the_blade(task: Task, machine: Figures) -> Iterator[Looked]:
    """A blank that is too short to be held between stop and blade while it is cut off its board."""
    least = machine["least-remnant"]
    for setting in task.settings:
        if setting.name == "stop" and setting.value is not None and setting.value < least - CLOSE:
            held = f"the blank is held between stop and blade, {mm(setting.value)} mm"
            yield Looked("remnant", False, f"{held}; at least {mm(least)} mm is asked")


_CENTRES = ("centre-bite", "centre-depth", "off-balance")


def centred(piece: Workpiece, along: Axis, machine: Figures) -> Looked:
    """Between centres: both find solid wood, and the piece is not heavier on one side, so that it stays in and does not shake."""
    missing = [name for name in _CENTRES if name not in machine]
    if missing:
        return Looked("centred", False, f"the card of the station does not say its {missing[0]}")
    across, deep, share = (machine[name] for name in _CENTRES)
    faults = tuple(centre_faults(piece.body, along, across, deep, share))
    held = f"both centres find solid wood, {mm(across)} mm across and {mm(deep)} mm deep, and it is in balance"
    return Looked("centred", not faults, "; ".join(faults) or held)


def nothing_to_catch(piece: Workpiece, marks: Profile) -> Looked:
    """No hole, mortise or groove comes to the surface that is turned: the tool would catch on its edge."""
    start, sign = piece.level(marks.end), -sign_of(marks.end)
    stations = [(start + sign * at, across) for at, across in marks.stations]
    if sign < 0:
        stations.reverse()
    faults = tuple(catch_faults(piece.body, axis_of(marks.end), stations))
    return Looked("centred", not faults, "; ".join(faults) or "nothing in the turned length catches the tool")


def fed(routed: bool, wide: float, passes: Sequence[Span], held: bool) -> Looked:
    """The passes along a fence, the piece `wide` mm from it. On a table a cutter seen from above turns against the clock: fed
    from right to left with the fence behind, its side away from the fence works against the feed and its side towards the fence
    runs with it. So each pass must find new wood as far out as the cutter reaches: the fence moves out, never in. A router held
    in the hands turns the other way and goes from left to right, its edge guide near or its batten beyond: the same holds. A
    saw blade stands square to that; its waste must not lie between blade and fence."""
    cut: list[Span] = []
    for number, (near, far) in enumerate(passes, 1):
        low, high = max(near, 0.0), min(far, wide)
        inner, outer = min((one[0] for one in cut), default=low), max((one[1] for one in cut), default=low)
        gap = max(low - outer, inner - high)
        if cut and gap > NEAR:
            return Looked("feed", False, f"a strip of {mm(gap)} mm is left between pass {number} and the one before")
        new = high if high > outer + NEAR or not cut else inner
        if routed and new < far - NEAR:
            side, way = ("near", "guided from left to right") if held else ("fence", "fed from right to left")
            says = f"pass {number} finds wood on the {side} side of the cutter only: {way} it runs with the turn"
            return Looked("feed", False, says)
        if not routed and low <= NEAR:
            return Looked("feed", False, f"the waste of pass {number} lies between blade and fence")
        cut.append((low, high))
    return Looked("feed", True, f"{len(passes)} {'pass' if len(passes) == 1 else 'passes'}, each against the turn of the cutter")
