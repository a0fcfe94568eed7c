"""What is looked at before and after each cut. Every check says what it saw, with figures. mm, mm3."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from sequencer.features.base import NEAR, mm
from sequencer.model.frame import (
    AXES,
    AXIS_WORDS,
    FACES,
    Axis,
    FaceName,
    axis_of,
    face_at,
    is_high,
    mirrored,
    opposite,
    others,
    sign_of,
)
from sequencer.model.marks import (
    Coped,
    Datum,
    Edges,
    Layout,
    Level,
    Line,
    Marks,
    Moulded,
    Off,
    Profile,
    Shoulders,
    Spots,
    Trough,
    measured_faces,
    opened_face,
)
from sequencer.model.plan import Bench, Task
from sequencer.model.proof import Looked
from sequencer.model.shapes import Bounds
from sequencer.proving.cradle import lies_in_cradle
from sequencer.proving.cuts import Bite, Cut, Span, block_of, spot_at
from sequencer.proving.workpiece import FLAT, Workpiece
from sequencer.solid.centring import catch_faults, centre_faults
from sequencer.solid.solids import Solid, box

CLOSE = 0.5
"""A piece is as long, wide or thick as the card says if it is so within this, mm: what a rule shows."""
Figures = Mapping[str, float]
"""A station's own figures by name."""

KERF = 2.0
"""A cut no wider than this is one kerf of a hand saw, mm: common practice, about 1."""
SOME_WOOD = 0.1
"""Share of a kerf that must find wood."""

_SIZED = frozenset({"thickness", "width", "length", "separate", "first-end", "face-side", "face-edge", "rough-length"})
_WORKED_FROM = "it is worked from"


def look_before(
    task: Task,
    layout: Layout,
    piece: Workpiece,
    bite: Bite,
    obstacles: Sequence[Solid],
    machine: Figures | None,
    bench: Bench,
    holding: frozenset[str] = frozenset(),
) -> Iterator[Looked]:
    """Every check before a cut is made. `machine`: the figures of the station if it is a machine; `holding`: the ways of holding
    that the card prints."""
    undecided = [setting.label for setting in task.settings if setting.value is None and setting.unit == "mm"]
    if undecided:
        yield Looked("setting", True, f"staff decide the {', the '.join(undecided)}; taken here as it is set out")
    cut = bite.cut
    yield piece_looked(task, piece, bench, machine)
    if machine is not None and task.cut == "bore" and layout.lie.tool == "above" and cut.opened is not None:
        yield from _goes_under(piece.size(axis_of(cut.opened)), machine)
    yield _reference(task, layout, piece, bite, bench)
    yield from _gripped(task, layout, piece, bite, bench, holding, by_hand=machine is None)
    if task.kind not in ("rough-length", "trim") and not _is_rod(task, piece):
        yield from _lies(task, layout, piece, cut, bench)
    marked = not task.in_the_long or _ends_part(task) or measured_along(layout.marks)
    if marked and task.kind not in (*_SIZED, "trim"):
        yield _marks(task, layout, piece)
    yield _there(task, layout, piece, bite, bench)
    if "start-hole" in task.needs:
        yield _threaded(layout, piece, cut)
    if machine is not None and task.kind in ("length", "separate") and ("least-remnant" in machine or task.cut == "crosscut"):
        yield _held_beside_the_blade(task, layout, piece, machine)
    if machine is not None and task.kind == "rough-length" and "least-remnant" in machine:
        yield from _blank_held_beside_the_blade(task, machine)
    if task.cut == "turn":
        yield _centred(piece, axis_of(layout.marks.end) if isinstance(layout.marks, Profile) else "x", machine or {})
        if isinstance(layout.marks, Profile):
            yield _nothing_to_catch(piece, layout.marks)
    beside = layout.lie.against or (layout.marks.beside if isinstance(layout.marks, Trough) else None)
    if cut.passes and beside is not None and task.cut in ("rout", "saw-pass"):
        yield _fed(task.cut == "rout", piece.size(axis_of(beside)), cut.passes, held=layout.lie.tool == "above")
    if cut.floor is not None and cut.opened is not None and not isinstance(layout.marks, Datum | Level | Off):
        yield _thickness(piece, cut, bench)
    if obstacles:
        yield _approach(layout, piece, bite, obstacles, bench)


def _threaded(layout: Layout, piece: Workpiece, cut: Cut) -> Looked:
    """Whether the waste of an opening has a hole right through that the blade can be threaded through."""
    axis = axis_of(opened_face(layout.marks) or layout.lie.down)
    low, high = piece.spans[axis]
    gone = (cut.body & block_of(piece.spans)) - piece.body
    for hole in gone.pieces():
        box = hole.bounds
        if box.span(axis)[0] <= low + CLOSE and box.span(axis)[1] >= high - CLOSE:
            wide = min(box.size(each) for each in others(axis))
            return Looked("approach", True, f"the blade goes through a hole of {mm(wide)} mm in the waste")
    return Looked("approach", False, "the waste has no hole that the blade can be threaded through")


def piece_looked(task: Task, piece: Workpiece, bench: Bench, figures: Figures | None = None) -> Looked:
    """The piece against what the card says it is, and against what a machine can hold; `figures`: the machine's own."""
    if task.piece is None:
        return Looked("piece", False, "the card does not say how large the piece is")
    asked = dict(zip(AXES, task.piece, strict=True))
    actual = {axis: piece.size(axis) for axis in AXES}
    wrong = [*_unlike(task, piece, asked, actual, bench), *_too_small(actual, figures)]
    size = " x ".join(mm(actual[axis]) for axis in AXES)
    if wrong:
        return Looked("piece", False, f"the piece is {'; '.join(wrong)}")
    return Looked("piece", True, f"{size} mm; the card has {' x '.join(mm(asked[axis]) for axis in AXES)}")


def _unlike(task: Task, piece: Workpiece, asked: dict[Axis, float], actual: dict[Axis, float], bench: Bench) -> Iterator[str]:
    """Where the piece is not as the card has it. Blanks are only near to size; finished pieces are not larger."""
    if task.kind == "rough-length":
        return

    def says(axis: Axis, size: float) -> str:
        return f"{mm(size)} mm in {AXIS_WORDS[axis]} where the card has {mm(asked[axis])}"

    worked = piece.part.worked
    blank = task.in_the_long or task.kind in _SIZED
    # An end that a mitre makes is not there before the mitre is cut, and a long piece has its length by itself.
    sized = AXES if not (task.in_the_long or _ends_by_features(piece)) else ("y", "z")
    if not blank:
        for axis in sized:
            if abs(asked[axis] - worked.size(axis)) > CLOSE:
                yield f"on the card {mm(asked[axis])} mm in {AXIS_WORDS[axis]}, and drawn {mm(worked.size(axis))}"
            elif actual[axis] > asked[axis] + CLOSE or (task.kind == "mark-out" and actual[axis] < asked[axis] - CLOSE):
                yield says(axis, actual[axis])
        return
    trimmed = (worked.length < asked["x"] and task.kind in ("length", "separate")) or _ends_part(task)
    # A stick whose first end is squared is shorter by that.
    trimmed = trimmed or (task.in_the_long and ("right" if piece.hand == "right" else "left") in piece.made)
    slack = 2 * bench.first_end_trim if trimmed else CLOSE
    if not asked["x"] - slack <= actual["x"] <= asked["x"] + bench.blank_over:
        yield says("x", actual["x"])


_LEAST: tuple[tuple[str, Axis], ...] = (("shortest", "x"), ("narrowest", "y"), ("thinnest", "z"))
_OF_EVERY_MACHINE = ("shortest", "narrowest")
"""Without these nothing is held to a size at a machine; how thin a piece may be is no question at every one."""


def _too_small(actual: dict[Axis, float], figures: Figures | None) -> Iterator[str]:
    """Where a piece is smaller than a machine can hold, or nobody has said how small that is."""
    if figures is None:
        return
    for name, axis in _LEAST:
        if name in _OF_EVERY_MACHINE and name not in figures:
            yield f"worked on a machine whose card does not say its {name} piece: staff must decide"
        if name in figures and actual[axis] < figures[name] - CLOSE:
            yield f"{mm(actual[axis])} mm in {AXIS_WORDS[axis]}, and the machine asks at least {mm(figures[name])}"


def _goes_under(high: float, machine: Figures) -> Iterator[Looked]:
    """A piece as high as it stands under a bit or chisel that comes from above, against the machine's own figure."""
    if "thickest" in machine and high > machine["thickest"] + CLOSE:
        says = f"it stands {mm(high)} mm high, and the machine takes at most {mm(machine['thickest'])}"
        yield Looked("piece", False, says)


def _held_beside_the_blade(task: Task, layout: Layout, piece: Workpiece, machine: Figures) -> Looked:
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


def _blank_held_beside_the_blade(task: Task, machine: Figures) -> Iterator[Looked]:
    """A blank that is too short to be held between stop and blade while it is cut off its board."""
    least = machine["least-remnant"]
    for setting in task.settings:
        if setting.name == "stop" and setting.value is not None and setting.value < least - CLOSE:
            held = f"the blank is held between stop and blade, {mm(setting.value)} mm"
            yield Looked("remnant", False, f"{held}; at least {mm(least)} mm is asked")


_CENTRES = ("centre-bite", "centre-depth", "off-balance")


def _centred(piece: Workpiece, along: Axis, machine: Figures) -> Looked:
    """Between centres: both find solid wood, and the piece is not heavier on one side, so that it stays in and does not shake."""
    missing = [name for name in _CENTRES if name not in machine]
    if missing:
        return Looked("centred", False, f"the card of the station does not say its {missing[0]}")
    across, deep, share = (machine[name] for name in _CENTRES)
    faults = tuple(centre_faults(piece.body, along, across, deep, share))
    held = f"both centres find solid wood, {mm(across)} mm across and {mm(deep)} mm deep, and it is in balance"
    return Looked("centred", not faults, "; ".join(faults) or held)


def _nothing_to_catch(piece: Workpiece, marks: Profile) -> Looked:
    """No hole, mortise or groove comes to the surface that is turned: the tool would catch on its edge."""
    start, sign = piece.level(marks.end), -sign_of(marks.end)
    stations = [(start + sign * at, across) for at, across in marks.stations]
    if sign < 0:
        stations.reverse()
    faults = tuple(catch_faults(piece.body, axis_of(marks.end), stations))
    return Looked("centred", not faults, "; ".join(faults) or "nothing in the turned length catches the tool")


def _fed(routed: bool, wide: float, passes: Sequence[Span], held: bool) -> Looked:
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


def _ends_by_features(piece: Workpiece) -> bool:
    """Whether features make ends of the part."""
    return any(feature.ends_part() for feature in piece.part.features.values())


def _ends_part(task: Task) -> bool:
    """Whether the task cuts a part off its long piece by the shape of its end."""
    return task.in_the_long and any(_end_of(layout.marks) is not None for layout in task.layouts)


def _runs_out(bite: Bite, piece: Workpiece, face: FaceName) -> bool:
    """Whether a cut is sawn in from an end: it starts at the outermost point there, which a mitre leaves, and a rule is laid on
    that."""
    if axis_of(face) != "x":
        return False
    (low, high), (start, stop) = piece.spans["x"], bite.cut.body.bounds.span("x")
    return stop >= high - CLOSE if is_high(face) else start <= low + CLOSE


def _end_of(marks: Marks) -> FaceName | None:
    """The end that a line makes; None for marks that make none."""
    ends = marks.edges[:1] if isinstance(marks, Line) else ()
    return next((face for face in ends if axis_of(face) == "x"), None)


def _extents(layout: Layout, piece: Workpiece, bite: Bite) -> dict[Axis, Span]:
    """Where a cut runs within the wood there is, by axis."""
    if bite.taken == 0:
        return dict(piece.spans)
    if isinstance(layout.marks, Line | Edges | Moulded | Coped | Shoulders | Profile):
        return {axis: bite.removed.bounds.span(axis) for axis in AXES}
    # A square cut or a hole lies in the box that it and the piece share: no solid need be worked out to know it.
    spans = {axis: _shared(piece.spans[axis], bite.cut.body.bounds.span(axis)) for axis in AXES}
    return dict(piece.spans) if any(low >= high for low, high in spans.values()) else spans


def _shared(one: Span, other: Span) -> Span:
    return max(one[0], other[0]), min(one[1], other[1])


def _reference(task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Looked:
    """The faces it is measured from, and those its operation needs, are true and there along the cut; the one it opens is level
    enough to press it down by."""
    marks = layout.marks
    wanted: dict[FaceName, str] = {}
    if not isinstance(marks, Datum):
        for face in measured_faces(marks):
            wanted[face] = "it is measured from"
    if task.kind == "rough-length" or isinstance(marks, Off):
        return Looked("reference", True, "it is only cut over size")
    needed: dict[str, FaceName] = {
        "face-side": piece.part.face_side,
        "face-edge": piece.part.face_edge,
        "first-end": _first_end(layout),
    }
    for guide, says in ((layout.lie.against, "lies against the fence"), (layout.lie.stop, "stands against the stop")):
        if guide is not None and not (isinstance(marks, Datum) and axis_of(guide) == axis_of(marks.face) == "x"):
            wanted.setdefault(guide, says)
    for name in task.needs:
        needs = needed.get(name)
        if needs is not None and not (isinstance(marks, Datum) and marks.face == needs):
            wanted.setdefault(needs, _WORKED_FROM)
    ends = _end_of(marks)
    along = task.in_the_long and not measured_along(marks)
    free = {face for face in wanted if axis_of(face) == "x" and (along or face == ends)} | piece.laid_out
    spans = _extents(layout, piece, bite)
    for face in wanted:
        if face in free:
            continue
        if face not in piece.made:
            return Looked("reference", False, f"the {face} face, which {wanted[face]}, is not true yet")
        if _is_rod(task, piece) and axis_of(face) != "x":
            # A rod has no flat face: it lies in a cradle and is measured from its middle.
            continue
        anywhere = face == opened_face(marks) or wanted[face] == _WORKED_FROM or ends is not None
        anywhere = anywhere or _runs_out(bite, piece, face)
        anywhere = anywhere or isinstance(marks, Datum | Level | Shoulders | Edges | Moulded | Coped | Profile)
        share = 1.0 if anywhere else _share_along(piece, face, spans, marks)
        if share < bench.fence_share:
            return Looked(
                "reference",
                False,
                f"of the {face} face, which {wanted[face]}, only {share * 100:.0f} % is left along the cut",
            )
        longest = max(others(axis_of(face)), key=piece.size)
        left = piece.surfaces[face].reach(longest) / piece.size(longest)
        if left < bench.face_share and ends is None and axis_of(face) != "x":
            if face == opened_face(marks):
                # Its depth is measured at its mouth; what is missing is a level face to press it down by.
                says = f"it can be pressed down level over {left * 100:.0f} % of the {face} face"
                return Looked("held", False, says)
            return Looked("reference", False, f"of the {face} face, which {wanted[face]}, only {left * 100:.0f} % is still true")
    says = f"measured from {' and '.join(wanted)}, true along the cut" if wanted else "this cut makes a true face"
    return Looked("reference", True, says)


def measured_along(marks: Marks) -> bool:
    """Whether a cut has its place along the piece, from an end: then that end must be there, on a longer stick too. What runs
    right along a stick, or makes the end itself, has none."""
    if _end_of(marks) is not None or isinstance(marks, Datum | Level | Off | Profile):
        return False
    return any(axis_of(face) == "x" for face in measured_faces(marks))


def _is_rod(task: Task, piece: Workpiece) -> bool:
    """Whether a piece is round all along, by its stock or made so while it was long: it has no flat face, and is looked at in its
    V (`_gripped`)."""
    return piece.part.section == "round" or any(grip.shape == "round" and grip.face is None for grip in task.grips)


def _first_end(layout: Layout) -> FaceName:
    """The end that is squared first, on the hand of the layout."""
    return "right" if layout.hand == "right" else "left"


def _share_along(piece: Workpiece, face: FaceName, spans: dict[Axis, Span], marks: Marks) -> float:
    """How much of a face is there along a cut: over the axis of the face that the cut is longest on, but not into the wood
    from the face it is set out on."""
    surface = piece.surfaces[face]
    if surface.area <= 0:
        return 0.0
    if axis_of(face) == "x":
        # A rule is hooked over an end: any of it will do.
        return 1.0
    opened = opened_face(marks)
    over = [axis for axis in others(axis_of(face)) if opened is None or axis != axis_of(opened)]
    run = max(over, key=lambda axis: spans[axis][1] - spans[axis][0])
    if isinstance(marks, Spots):
        # Each hole is measured by itself, whatever is cut between them.
        centres, half = (spot_at(piece, place)[run] for place in marks.places), marks.diameter / 2
        return min(surface.covered(run, centre - half, centre + half) for centre in centres)
    return surface.covered(run, *spans[run])


def _lies(task: Task, layout: Layout, piece: Workpiece, cut: Cut, bench: Bench) -> Iterator[Looked]:
    """It rests on the face that is down, and there are two faces to grip it by. What the holding of the step makes good counts as
    whole."""
    lie = layout.lie
    packed = {mirrored(face) if layout.hand == "right" else face for face in task.packed}
    down = piece.surfaces[lie.down]
    longest = max(others(axis_of(lie.down)), key=piece.size)
    share = 1.0 if lie.down in packed else down.reach(longest) / piece.size(longest)
    grip = _grip(piece, axis_of(lie.down), bench.vice_opens, packed)
    # By hand, along a line, a piece may stand in the vice, whatever is left of the face below.
    held = grip >= bench.face_share
    in_vice = share < bench.face_share and held and cut.opened is None and lie.tool == "above"
    says = f"it rests on the {lie.down} face over {share * 100:.0f} % of its {AXIS_WORDS[longest]}"
    if lie.down in packed:
        says = f"the {lie.down} face, on which it rests, is packed"
    yield Looked("lies", in_vice or share >= bench.face_share, "it stands in the vice" if in_vice else says)
    if lie.tool in ("below", "fence") or task.kind in _SIZED or (cut.opened is None and lie.tool == "beside"):
        return
    says = f"it can be gripped by two faces over {grip * 100:.0f} % of their length"
    beside = sorted(face for face in packed if face != lie.down)
    yield Looked("held", held, f"{says}, packed at the {' and '.join(beside)}" if beside else says)


def _gripped(
    task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench, holding: frozenset[str], *, by_hand: bool
) -> Iterator[Looked]:
    """Round stock, and what a shape has taken, is held by something that the card names; what is round really lies in its V. A
    hand with abrasive paper turns a rod as it likes, and a lathe turns it."""
    sanded = task.cut == "sand" and by_hand
    if piece.part.section == "round" and not sanded and not any(grip.shape == "round" for grip in task.grips):
        yield Looked("held", False, "its stock is round, and nothing keeps it from rolling")
    missing = [f"{grip.by or 'what holds it'} ({grip.shape})" for grip in task.grips if grip.by not in holding]
    if missing:
        yield Looked("held", False, f"the card does not name the {' and the '.join(missing)}, by which it is held")
    if bite.taken and task.cut != "turn" and any(grip.shape == "round" for grip in task.grips):
        span = _extents(layout, piece, bite)["x"]
        through = isinstance(layout.marks, Datum | Level | Off) or task.kind == "rough-length"
        yield lies_in_cradle(piece, layout.lie.down, span, through, bench.v_length, bench.face_share)


def _grip(piece: Workpiece, depth: Axis, opens: float, packed: Collection[FaceName]) -> float:
    """The share of their length over which the better of the two pairs of faces beside an axis can be gripped; a packed face all
    along. What is larger than a vice opens is cramped down flat."""
    pairs = [axis for axis in others(depth) if piece.size(axis) <= opens]
    best = 0.0 if pairs else 1.0
    for axis in pairs:
        run = next(other for other in AXES if other not in (axis, depth))
        pair = (face_at(axis, False), face_at(axis, True))
        whole = (1.0 if face in packed else piece.surfaces[face].covered(run, *piece.spans[run]) for face in pair)
        best = max(best, min(whole))
    return best


def _marks(task: Task, layout: Layout, piece: Workpiece) -> Looked:
    """The line is there, on a face that looks at whoever cuts."""
    if not piece.marked:
        return Looked("marks", False, "it has not been marked out")
    marks, lie = layout.marks, layout.lie
    if lie.tool not in ("below", "fence") and not isinstance(marks, Shoulders | Profile):
        up = opposite(lie.down)
        seen = {layout.marked, *(marks.edges if isinstance(marks, Line) else ())}
        if isinstance(marks, Trough) and lie.tool == "beside":
            # What a blade saws right through is marked on the faces it comes out at.
            stopped = {face for face, gap in marks.stops if gap}
            seen |= {face for face in FACES if axis_of(face) not in (axis_of(marks.face), axis_of(marks.beside))} - stopped
        if up not in seen:
            return Looked("marks", False, f"its marks are on the {layout.marked} face, and the {up} face looks up")
    return Looked("marks", True, "it is marked, and the marks look up")


def _there(task: Task, layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Looked:
    """What the cut takes away is there to be taken. What is cut when the parts are joined may find waste trimmed already."""
    block = piece.part.worked
    feature = piece.part.features.get(task.feature)
    late = feature is not None and feature.when == "assembled"
    over = {face: piece.left_on.get(face, 0.0) if late else _left_on(piece, face) for face in FACES}
    low, high = ([piece.part.block.level(face) + sign_of(face) * over[face] for face in faces] for faces in _SIDES)
    whole = box(low, high)
    if isinstance(layout.marks, Datum | Level | Off):
        taken = bite.taken
        if task.kind == "rough-length" and taken == 0:
            return Looked("there", True, "the board is the blank")
        return Looked("there", taken > 0, f"{taken:.0f} mm3 come off" if taken > 0 else "there is nothing to take off")
    # A piece that has its size lies within its block: then all that is removed counts.
    oversize = any(piece.size(axis) > block.size(axis) + FLAT for axis in AXES)
    taken = (bite.removed & whole).volume if oversize else bite.taken
    marks = layout.marks
    need = bench.hole_share if isinstance(marks, Spots) else bench.wood_share
    if isinstance(marks, Coped) or (isinstance(marks, Trough) and marks.width <= KERF):
        # A kerf is sawn through what there is, such as the cheeks of a tenon, and a cope through what moulding and mortise have
        # left of the edge; any wood will do.
        need = SOME_WOOD
    if taken >= need * _box_in(whole.bounds, bite.cut.body.bounds):
        return Looked("there", True, f"the wood it cuts is there, {taken:.0f} mm3")
    # What it would take is no square block, or is not all there: measured exactly.
    asked = (whole & bite.cut.body).volume
    share = taken / asked if asked else 0.0
    return Looked("there", share >= need, f"{share * 100:.0f} % of what it would cut is there, {taken:.0f} mm3")


_SIDES = tuple(tuple(face_at(axis, high) for axis in AXES) for high in (False, True))
"""The faces at the low and at the high end of each axis."""


def _left_on(piece: Workpiece, face: FaceName) -> float:
    """What is drawn to be left on at a face until later, on the hand of the piece."""
    drawn = mirrored(face) if piece.hand == "right" else face
    return sum(allowance.amount for allowance in piece.part.allowances if allowance.face == drawn)


def _box_in(whole: Bounds, cut: Bounds) -> float:
    """The volume two boxes share, mm3."""
    sizes = [min(whole.high[i], cut.high[i]) - max(whole.low[i], cut.low[i]) for i in range(3)]
    return max(sizes[0], 0.0) * max(sizes[1], 0.0) * max(sizes[2], 0.0)


def _thickness(piece: Workpiece, cut: Cut, bench: Bench) -> Looked:
    """What remains under a cut that does not go through."""
    assert cut.opened is not None
    assert cut.floor is not None
    axis = axis_of(cut.opened)
    far = piece.spans[axis][is_high(opposite(cut.opened))]
    left = (cut.floor - far) * sign_of(cut.opened)
    says = f"{mm(left)} mm of wood stay under it" if left > 0 else "it comes through on the other side"
    return Looked("thickness", left >= bench.least_under - 1e-6, says)


def _approach(layout: Layout, piece: Workpiece, bite: Bite, obstacles: Sequence[Solid], bench: Bench) -> Looked:
    """Whether the tool comes to its work past the pieces joined on."""
    for room in _rooms(layout, piece, bite, bench):
        for other in obstacles:
            blocked = (room & other).volume
            if blocked > 1.0:
                says = f"a piece that is joined on stands in the way of the tool ({blocked:.0f} mm3 of it)"
                return Looked("approach", False, says)
    return Looked("approach", True, "the tool has room")


def _rooms(layout: Layout, piece: Workpiece, bite: Bite, bench: Bench) -> Iterator[Solid]:
    """The room a tool takes: above the face it works; beyond an end that is taken off, with some beside it; in front of an edge
    that is broken; all round a line that is sawn."""
    marks, cut, room = layout.marks, bite.cut, bench.tool_room
    if bite.taken == 0:
        return
    spans = _extents(layout, piece, bite)
    if isinstance(marks, Off):
        beside: dict[Axis, Span] = {axis: (low - room / 2, high + room / 2) for axis, (low, high) in spans.items()}
        # What is flush with the line that is cut to stands beside the tool, not in its way.
        yield block_of(beside | {axis_of(marks.face): _outward(piece, marks.face, room, marks.amount - FLAT)})
    elif isinstance(marks, Edges | Moulded):
        for edge in marks.edges:
            yield block_of(spans | {axis_of(face): _outward(piece, face, room) for face in edge})
    elif cut.opened is not None:
        yield block_of(spans | {axis_of(cut.opened): _outward(piece, cut.opened, room)})
        if isinstance(marks, Spots):
            # The chuck is wider than the bit, and follows it down.
            chuck = bench.chuck_radius
            wide: dict[Axis, Span] = {axis: (low - chuck, high + chuck) for axis, (low, high) in spans.items()}
            above = _outward(piece, cut.opened, room, -bench.bit_out)
            yield block_of(wide | {axis_of(cut.opened): above})
    else:
        yield block_of({axis: (low - room, high + room) for axis, (low, high) in spans.items()})


def _outward(piece: Workpiece, face: FaceName, room: float, inside: float = 0.0) -> Span:
    """The room in front of a face, `room` mm from a little inside it if asked."""
    level = piece.spans[axis_of(face)][is_high(face)]
    ends = (level - sign_of(face) * inside, level + sign_of(face) * (room - inside))
    return min(ends), max(ends)


def reach_all_faces(piece: Workpiece, obstacles: Sequence[Solid], hand_room: float) -> Looked:
    """Whether a hand with an abrasive block comes to every face of a piece."""
    for face in FACES:
        axis = axis_of(face)
        spans = dict(piece.spans)
        top = spans[axis][is_high(face)]
        spans[axis] = (top + 0.1, top + hand_room) if is_high(face) else (top - hand_room, top - 0.1)
        room = block_of(spans)
        for other in obstacles:
            if (room & other).volume > 1.0:
                return Looked("approach", False, f"a piece that is joined on stands over its {face} face")
    return Looked("approach", True, "every face can be reached")
