"""The drawn project: what is made, out of what, and how it goes together. Lengths in mm, everything resolved.

Reading builds a `Job` from a job file; nothing here knows files. Names are the teacher's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from sequencer.findings import Place
from sequencer.model.frame import Axis, Block, FaceName, Hand, axis_of

if TYPE_CHECKING:
    # A job holds features and asks nothing of them; the kinds stand in a room above.
    from sequencer.features.base import Feature

Form = Literal["board", "sheet", "round", "square", "bought"]
Surface = Literal["planed", "sawn"]
Hardness = Literal["softwood", "hardwood", "sheet", "unknown"]


@dataclass(frozen=True)
class Stock:
    """What is bought: a board, sheet, round or square stick in stated sizes, or a bought-in piece.

    width, thickness
        Section as bought, mm; a sheet's `width` is its short side, a round's `thickness` its diameter. 0 if not stated.
    lengths
        Lengths it comes in, mm; a sheet's long side.
    surface
        `planed`: faces and edges come true and to size; `sawn`: they must be made.
    """

    name: str
    material: str
    form: Form
    width: float
    thickness: float
    lengths: tuple[float, ...]
    surface: Surface = "planed"
    hardness: Hardness = "unknown"
    botanical: str = ""
    sawn_as: Literal["flat", "quarter", "unknown"] = "unknown"

    @property
    def solid(self) -> bool:
        """Whether it moves across the grain with the seasons: everything but sheet."""
        return self.form != "sheet"


@dataclass(frozen=True)
class Allowance:
    """Waste left on a part until a named moment: horns, wedged tenons, oversize bottoms."""

    face: FaceName
    amount: float
    until: str
    """The joint or assembly after whose making it comes off."""


@dataclass(frozen=True)
class Part:
    """One kind of part; `count` alike pieces of it are in the thing, or pairs of left and right.

    letter
        A, B, C … in the order of the file: how cards name it.
    handed
        Half of the pieces are as drawn (`left`), half mirrored left to right (`right`).
    names
        The part's own names for faces, for print: {upper: inside}.
    together
        Other parts it is worked together with, and until when; empty if none.
    """

    name: str
    letter: str
    count: int
    stock: str
    length: float
    width: float
    thickness: float
    features: Mapping[str, Feature]
    handed: bool = False
    grain: Axis = "x"
    section: Literal["rectangular", "round"] = "rectangular"
    names: Mapping[str, FaceName] = field(default_factory=dict)
    face_side: FaceName = "inside"
    face_edge: FaceName = "bottom"
    allowances: tuple[Allowance, ...] = ()
    together: tuple[str, ...] = ()
    together_until: str = ""
    outlines_vary: bool = False
    note: str = ""
    place: Place | None = None
    feature_places: Mapping[str, Place] = field(default_factory=dict)
    """Where each feature stands in the file."""

    @property
    def block(self) -> Block:
        """The square block before features."""
        return Block(self.length, self.width, self.thickness)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every single piece, in order: `side.left`, `side.right`; `end.1`, `end.2`; `lid` if there is one only."""
        if not self.handed:
            if self.count == 1:
                return (Piece(self.name, self.name, None),)
            return tuple(Piece(f"{self.name}.{number}", self.name, None) for number in range(1, self.count + 1))
        pairs = self.count // 2
        hands: tuple[Hand, Hand] = ("left", "right")
        return tuple(
            Piece(f"{self.name}.{hand}" + (f".{pair}" if pairs > 1 else ""), self.name, hand)
            for pair in range(1, pairs + 1)
            for hand in hands
        )

    @property
    def worked(self) -> Block:
        """The block as it is cut before assembly: with the allowances that are left on until later."""
        extra = {"x": 0.0, "y": 0.0, "z": 0.0}
        for allowance in self.allowances:
            extra[axis_of(allowance.face)] += allowance.amount
        return Block(self.length + extra["x"], self.width + extra["y"], self.thickness + extra["z"])

    def place_of(self, feature: str) -> Place | None:
        """Where a feature stands in the file; the part's own place if that is not known."""
        return self.feature_places.get(feature, self.place)

    def features_of(self, hand: Hand | None) -> tuple[Feature, ...]:
        """The features on the pieces of one hand; `None` gives those of a part that is not handed."""
        return tuple(each for each in self.features.values() if each.only is None or hand is None or each.only == hand)


@dataclass(frozen=True)
class Piece:
    """A single piece of wood in the finished thing."""

    name: str
    part: str
    hand: Hand | None


Fit = Literal["housed", "sliding", "driven", "sheet-panel", "sheet-panel-glued", "solid-panel", "loose-pivot", "face", "lapped"]
Fixing = Literal["glue", "screws", "nails", "key", "wedge", "dowels", "biscuits", "splines", "dry"]


@dataclass(frozen=True)
class Seat:
    """Where on a piece a joint is: a face, or a feature of it."""

    piece: str
    face: FaceName | None = None
    feature: str = ""

    def __str__(self) -> str:
        return f"{self.piece}/{self.feature or self.face}"


@dataclass(frozen=True)
class Joint:
    """How one piece meets another. The entering piece's `its` bears on the seat of the other.

    flush
        Pairs (face of the entering piece, face of the other) that lie in one plane and look the same way.
    align
        Pairs of faces that look the same way, without lying in one plane.
    at
        Distances in mm from faces of the other piece to the nearest face of the entering one.
    play
        Room left in the fit, mm; `None` takes the figure of the fit class.
    enters
        The way the entering piece moves home, as a face of the other piece it moves towards or `None` if not said.
    """

    name: str
    enters_piece: str
    its: Seat
    seat: Seat
    fixed: tuple[Fixing, ...]
    fit: Fit | None = None
    play: float | None = None
    flush: tuple[tuple[FaceName, FaceName], ...] = ()
    align: tuple[tuple[FaceName, FaceName], ...] = ()
    at: tuple[tuple[FaceName, float], ...] = ()
    enters: Literal["left", "right", "up", "down", "forward", "back", ""] = ""
    after: tuple[str, ...] = ()
    assembly: str = ""
    hardware: str = ""
    crossing: bool = False
    place: Place | None = None


HardwareKind = Literal["hinge", "catch", "knob", "glide", "other"]
"""What sort of bought-in thing it is, for the way it is fixed."""


@dataclass(frozen=True)
class Hardware:
    """A bought-in thing: screws, hinges, dowels, glides. `count` is for one finished thing; `fixed_to`: the parts or pieces it
    is fixed to, empty where nobody says; `on`: the face of the first of them that it goes on, as its part is drawn; None where
    nobody says."""

    name: str
    what: str
    count: int
    gauge: int | None = None
    length: float | None = None
    diameter: float | None = None
    note: str = ""
    kind: HardwareKind = "other"
    fixed_to: tuple[str, ...] = ()
    on: FaceName | None = None


@dataclass(frozen=True)
class Overall:
    """An outside measure of the finished thing between two faces, as drawn: a check on the sum of its parts."""

    name: str
    start: Seat
    stop: Seat
    measures: float
    place: Place | None = None


@dataclass(frozen=True)
class Choice:
    """A size or outline that each student may choose, between limits in mm or from a list of sizes."""

    name: str
    least: float | None = None
    most: float | None = None
    options: tuple[float, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class Decision:
    """What the teacher has settled: a way, a station, an order or a time for a task, with who and why.

    about
        `part/feature`, a task or a joint.
    """

    about: str
    by: str
    why: str
    way: str = ""
    station: str = ""
    before: str = ""
    minutes: float | None = None
    place: Place | None = None


Aim = Literal["most-by-students", "least-time", "fewest-set-ups"]


@dataclass(frozen=True)
class Finish:
    """A finish and where it goes: `what` names a finish of the knowledge; empty `parts` means everywhere."""

    what: str
    coats: int = 1
    parts: tuple[str, ...] = ()
    before_glue: bool = False


MADE = "made"
"""What a task comes after that is for those whose own thing is done."""


@dataclass(frozen=True)
class Extension:
    """A task of the job's own for whoever waits or has finished.

    stations
        Kinds of station that it is done at, which must have been shown; none where a pencil and paper are enough.
    after
        The part, feature, joint or assembly that a student must have made before; `made` for the whole; empty for nothing.
    lay_out
        What staff lay out for it.
    minutes
        How long it lasts about; None where that is not said.
    """

    task: str
    stations: tuple[str, ...] = ()
    after: str = ""
    lay_out: tuple[str, ...] = ()
    minutes: float | None = None
    place: Place | None = None


@dataclass(frozen=True)
class Job:
    """One drawn project."""

    name: str
    sizes: Mapping[str, float]
    stock: Mapping[str, Stock]
    parts: Mapping[str, Part]
    joints: Mapping[str, Joint]
    hardware: Mapping[str, Hardware] = field(default_factory=dict)
    overall: tuple[Overall, ...] = ()
    finish: tuple[Finish, ...] = ()
    glue: str = ""
    choices: tuple[Choice, ...] = ()
    decisions: tuple[Decision, ...] = ()
    aim: Aim = "most-by-students"
    moisture_change: float = 4.0
    """Expected swing of the wood's moisture content in use, percentage points."""
    assemblies: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Sub-assembly to its joints, in the order of the file."""
    learning_aim: str = ""
    extension: tuple[Extension, ...] = ()
    """Tasks for whoever waits or has finished, in the order of the file."""
    rough_inside: bool = False
    """Its inside faces stay as they come, neither planed smooth nor sanded."""
    outdoors: bool = False
    """It will stand in the weather."""
    note: str = ""
    """Words for whoever uses the plan: at the head of the job card, and on the staff sheet."""
    before_use: str = ""
    """What is to be done before the finished thing is used, told at the end of the job card."""
    source: str = ""
    """A published source of the design, or empty."""
    file: str = ""
    units: Literal["mm", "in"] = "mm"

    def pieces(self) -> dict[str, Piece]:
        """Every piece by name, in the order of the file."""
        return dict(self._pieces)

    @cached_property
    def _pieces(self) -> Mapping[str, Piece]:
        return {piece.name: piece for part in self.parts.values() for piece in part.pieces}

    def part_of(self, piece: str) -> Part:
        """The part a piece is one of. KeyError if there is no such piece."""
        return self.parts[self._pieces[piece].part]
