"""What is set out on a piece for one cut: lines and spots at distances from its faces, and how it lies when it is cut.

Marks say where to cut as a ruler, a gauge or a template says it: so many mm from a named face. They hold no solid; the
proof makes its cuts from them and from the settings, and the drawing's own solid is what it is held against. mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from sequencer.model.frame import Axis, FaceName, Hand, mirrored

Spot = tuple[tuple[FaceName, float], tuple[FaceName, float]]
"""A place in a face: a distance from each of two faces that meet it."""


@dataclass(frozen=True)
class Datum:
    """`face` is made true by this cut: everything after is measured from it, so it has no distance of its own."""

    face: FaceName
    kind: Literal["datum"] = "datum"


@dataclass(frozen=True)
class Level:
    """A line all round, `distance` from `face`: what lies beyond it, away from that face, comes off."""

    face: FaceName
    distance: float
    kind: Literal["level"] = "level"


@dataclass(frozen=True)
class Off:
    """`amount` comes off at `face`: waste left on until now."""

    face: FaceName
    amount: float
    kind: Literal["off"] = "off"


@dataclass(frozen=True)
class Trough:
    """Two lines parallel to the face `beside`, from `distance` to `distance` + `width`; `depth` down from `face`.

    It runs from end to end of its third axis but for `stops`: how far it is held back from a face at its end.

    reach
        A face at its end and how far it runs in from there, where it is not held back from the other end.
    leans
        How far its near and its far side lean outwards below the face, degrees from square: a dovetail is wider below.
    count, pitch
        Several alike, each `pitch` further than the one before. Of the first and the last only what is on the piece is cut:
        between tails a half pin at an edge is the rest of a whole one.
    twin
        The same is cut from the opposite face too, the piece turned over.
    """

    face: FaceName
    beside: FaceName
    distance: float
    width: float
    depth: float
    stops: tuple[tuple[FaceName, float], ...] = ()
    reach: tuple[FaceName, float] | None = None
    leans: tuple[float, float] = (0.0, 0.0)
    count: int = 1
    pitch: float = 0.0
    twin: bool = False
    kind: Literal["trough"] = "trough"


@dataclass(frozen=True)
class Between:
    """Two lines parallel to `face`, at `near` and at `far` from it."""

    face: FaceName
    near: float
    far: float


@dataclass(frozen=True)
class Ramp:
    """A cut beside a window, as wide as that: down from `face`, from the line `near` as deep as `deep`, evenly to the line
    `far` as deep as `shallow`. Both lines are measured from `side`. Equal depths make a flat floor."""

    face: FaceName
    side: FaceName
    near: float
    far: float
    deep: float
    shallow: float


@dataclass(frozen=True)
class Window:
    """An opening in `face`: everything between two pairs of lines, `depth` down from the face, or right through.

    rounded
        Its corners that are rounded to `radius`, each as the two faces it lies towards.
    ramps
        What is chiselled to its own lines at the ends of it: a recess for a haunch, the slopes for wedges.
    """

    face: FaceName
    sides: tuple[Between, Between]
    depth: float | None = None
    radius: float = 0.0
    rounded: tuple[tuple[FaceName, FaceName], ...] = ()
    ramps: tuple[Ramp, ...] = ()
    kind: Literal["window"] = "window"


@dataclass(frozen=True)
class Spots:
    """Centres of alike round holes in `face`, `depth` down from it or right through.

    head_diameter, head_depth
        Of a countersink or counterbore at the face; 0 if there is none. `conical`: a countersink.
    """

    face: FaceName
    places: tuple[Spot, ...]
    diameter: float
    depth: float | None = None
    head_diameter: float = 0.0
    head_depth: float = 0.0
    conical: bool = False
    kind: Literal["spots"] = "spots"


@dataclass(frozen=True)
class Plunges:
    """Slots that a disc of `diameter` cuts when it is plunged into `face`: `width` across `along`, `depth` at the middle of
    each, which lies at one of `places`."""

    face: FaceName
    places: tuple[Spot, ...]
    along: Axis
    diameter: float
    width: float
    depth: float
    kind: Literal["plunges"] = "plunges"


@dataclass(frozen=True)
class Line:
    """A line sawn, planed or filed right through along an axis: `points` in order, curves as equal chords. Beyond both ends
    the saw runs straight on.

    through
        The axis the cut goes along; the line is drawn on the faces square to it.
    edges
        The faces whose wood comes off, in the order the line passes them: what lies on their side of the line, with the
        corners between one and the next, is waste. Empty for a closed line: its last point joins its first, and what is
        inside it stays.
    angle
        For a straight line of two points: its slope in degrees from square, as a saw or bevel is set. With `run` the
        distance between the points along the axis of `edges[-1]`, the second point is the first moved by `run` towards
        `edges[-1]`, and inwards from `edges[0]` by `run` x tan(`angle`).
    """

    through: Axis
    points: tuple[Spot, ...]
    edges: tuple[FaceName, ...] = ()
    angle: float | None = None
    kind: Literal["line"] = "line"


@dataclass(frozen=True)
class Edges:
    """Edges taken off over their whole length, each as the two faces that meet there, `reach` into both.

    rounded
        A quarter round of radius `reach`; else a flat at 45 degrees.
    """

    edges: tuple[tuple[FaceName, FaceName], ...]
    reach: float
    rounded: bool
    kind: Literal["edges"] = "edges"


@dataclass(frozen=True)
class Haunch:
    """What a tenon leaves standing between its edge and the face `side`: `out` from the shoulder at the tenon, and as far at
    that face, or falling to the shoulder there if it is `sloping`."""

    side: FaceName
    out: float
    sloping: bool


@dataclass(frozen=True)
class Shoulders:
    """A tenon or tongue: the shoulder line squared round, `length` from the face `end`; beyond it only what lies between
    every pair of lines stays, and the haunch."""

    end: FaceName
    length: float
    keeps: tuple[Between, ...]
    haunch: Haunch | None = None
    kind: Literal["shoulders"] = "shoulders"


@dataclass(frozen=True)
class Moulded:
    """Edges cut to a section over their whole length, each as the face that shows it and the one beside it. `section` is the
    line of the wood that stays, from the edge to the face: how far in over the face and how far down from it."""

    edges: tuple[tuple[FaceName, FaceName], ...]
    section: tuple[tuple[float, float], ...]
    kind: Literal["moulded"] = "moulded"

    @property
    def width(self) -> float:
        """How far it goes in over the face."""
        return max(over for over, _ in self.section)

    @property
    def depth(self) -> float:
        """How far it goes down from the face."""
        return max(down for _, down in self.section)


@dataclass(frozen=True)
class Coped:
    """The end of a moulded edge cut away, as the mitre and the gauge lines show it: `width` in from the face `edge[1]`, `depth`
    down from the face `edge[0]` that shows the moulding, starting `start` from the face `end`. `section` is the line of the
    wood that comes to stand there, as of `Moulded`, its edge side turned away from `end`: what lies under it comes off."""

    end: FaceName
    edge: tuple[FaceName, FaceName]
    start: float
    width: float
    depth: float
    section: tuple[tuple[float, float], ...]
    kind: Literal["coped"] = "coped"

    @property
    def length(self) -> float:
        """How far it goes along the edge."""
        return max(over for over, _ in self.section)


@dataclass(frozen=True)
class Profile:
    """Made round about the middle of its section: at each of `stations`, so far from the face `end`, the piece is so much
    across; straight from one to the next. What lies before the first and beyond the last stays as it is."""

    end: FaceName
    stations: tuple[tuple[float, float], ...]
    kind: Literal["profile"] = "profile"


@dataclass(frozen=True)
class Corner:
    """A saw cut straight across a mitred corner, as deep in the one piece as in the other: `length` from the `end` along the face
    `long`, and `length` from there along the end, between two lines `distance` and `distance` + `width` from `beside`."""

    end: FaceName
    long: FaceName
    beside: FaceName
    distance: float
    width: float
    length: float
    kind: Literal["corner"] = "corner"


Marks = Datum | Level | Off | Trough | Window | Spots | Plunges | Line | Edges | Moulded | Coped | Shoulders | Profile | Corner


Tool = Literal["above", "below", "beside", "fence"]
"""Where a cutter comes from: `above` (hand tools, drills, thicknesser), `below` (saw bench, router table, planer), `beside`
(discs, bands and blades that cut right through) or out of the `fence` (spindle moulder)."""


@dataclass(frozen=True)
class Lie:
    """How a piece lies when it is cut.

    down
        The face on the table, the bench or the bottom of the vice.
    against
        The face against the fence, or that the fence of a hand tool runs along; None where nothing guides the cut.
    stop
        The end against a stop block; None without one.
    """

    down: FaceName
    against: FaceName | None = None
    stop: FaceName | None = None
    tool: Tool = "above"


@dataclass(frozen=True)
class Layout:
    """Marks and lie for the pieces of one hand; `hand` is None for a part that is not handed. Faces are the piece's own:
    on the right hand a cut that is drawn at the left stands at the right.

    marked
        The face the marks are drawn on, which the one who cuts must see.
    """

    hand: Hand | None
    lie: Lie
    marks: Marks
    marked: FaceName


def mirrored_marks(marks: Marks) -> Marks:
    """The same marks on the other hand of a part: left and right change places."""
    if isinstance(marks, Datum | Level | Off):
        return replace(marks, face=mirrored(marks.face))
    if isinstance(marks, Trough):
        stops = tuple((mirrored(face), gap) for face, gap in marks.stops)
        reach = None if marks.reach is None else (mirrored(marks.reach[0]), marks.reach[1])
        return replace(marks, face=mirrored(marks.face), beside=mirrored(marks.beside), stops=stops, reach=reach)
    if isinstance(marks, Window):
        first, second = (_other_hand(each) for each in marks.sides)
        corners = tuple((mirrored(one), mirrored(two)) for one, two in marks.rounded)
        ramps = tuple(replace(each, face=mirrored(each.face), side=mirrored(each.side)) for each in marks.ramps)
        return replace(marks, face=mirrored(marks.face), sides=(first, second), rounded=corners, ramps=ramps)
    if isinstance(marks, Spots | Plunges):
        return replace(marks, face=mirrored(marks.face), places=tuple(_spot(each) for each in marks.places))
    if isinstance(marks, Line):
        edges = tuple(mirrored(face) for face in marks.edges)
        return replace(marks, points=tuple(_spot(each) for each in marks.points), edges=edges)
    if isinstance(marks, Edges | Moulded):
        return replace(marks, edges=tuple((mirrored(one), mirrored(two)) for one, two in marks.edges))
    if isinstance(marks, Coped):
        one, two = marks.edge
        return replace(marks, end=mirrored(marks.end), edge=(mirrored(one), mirrored(two)))
    if isinstance(marks, Profile):
        return replace(marks, end=mirrored(marks.end))
    if isinstance(marks, Corner):
        return replace(marks, end=mirrored(marks.end))
    haunch = None if marks.haunch is None else replace(marks.haunch, side=mirrored(marks.haunch.side))
    return replace(marks, end=mirrored(marks.end), keeps=tuple(_other_hand(each) for each in marks.keeps), haunch=haunch)


def mirrored_lie(lie: Lie) -> Lie:
    """The same lie on the other hand of a part."""
    against, stop = (mirrored(face) if face else None for face in (lie.against, lie.stop))
    return replace(lie, down=mirrored(lie.down), against=against, stop=stop)


def _other_hand(lines: Between) -> Between:
    return replace(lines, face=mirrored(lines.face))


def _spot(spot: Spot) -> Spot:
    (one, along), (two, over) = spot
    return (mirrored(one), along), (mirrored(two), over)


def measured_faces(marks: Marks) -> tuple[FaceName, ...]:
    """The faces the marks are measured from, each once: they must be true, and there, when it is set out and checked."""
    faces: list[FaceName] = []
    if isinstance(marks, Level):
        faces = [marks.face]
    elif isinstance(marks, Trough):
        reach = [] if marks.reach is None else [marks.reach[0]]
        faces = [marks.beside, marks.face, *(face for face, _ in marks.stops), *reach]
    elif isinstance(marks, Window):
        faces = [*(each.face for each in marks.sides), marks.face]
    elif isinstance(marks, Spots | Plunges):
        faces = [*(face for spot in marks.places for face, _ in spot), marks.face]
    elif isinstance(marks, Line):
        faces = [face for spot in marks.points for face, _ in spot]
    elif isinstance(marks, Edges | Moulded):
        faces = [face for edge in marks.edges for face in edge]
    elif isinstance(marks, Coped):
        faces = [marks.end, *marks.edge]
    elif isinstance(marks, Profile):
        # The middle of a stick is found from all its long faces.
        faces = [marks.end, "bottom", "top", "outside", "inside"]
    elif isinstance(marks, Corner):
        faces = [marks.end, marks.long, marks.beside]
    elif isinstance(marks, Shoulders):
        faces = [marks.end, *(each.face for each in marks.keeps)]
    return tuple(dict.fromkeys(faces))


def opened_face(marks: Marks) -> FaceName | None:
    """The face a cut is made into and marked on; None where it goes round the piece or along an axis both ways."""
    if isinstance(marks, Trough | Window | Spots | Plunges):
        return marks.face
    return None
