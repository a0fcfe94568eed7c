"""The forms of the knowledge files. Frozen dataclasses, read by pydantic, unknown keys refused.

Every `source` is a sentence: a citation, or one that starts with "common practice" or "from memory". What is from memory
prints with "check locally".
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Annotated, Literal

from pydantic import Field

from sequencer.features.base import ShapeLeft
from sequencer.knowledge.region_forms import DatedLimit, Measure, Region
from sequencer.knowledge.working import Working, WorkingFigure, WorkingName
from sequencer.model.fields import STRICT, WRITTEN_OUT, Answer, Plain, Written
from sequencer.model.frame import Axis
from sequencer.model.marks import Tool
from sequencer.model.plan import Bench
from sequencer.model.workshop import Gate, Operator, Supervision

Text = Written
Positive = Annotated[Plain, Field(gt=0)]
NotNegative = Annotated[Plain, Field(ge=0)]
Level = Literal["eliminate", "substitute", "isolate", "engineering", "administrative", "ppe"]
"""Hierarchy of control, from the strongest (ISO 45001, 8.1.2; from memory)."""
LEVELS: tuple[Level, ...] = ("eliminate", "substitute", "isolate", "engineering", "administrative", "ppe")
BEFORE_RULES = LEVELS[:4]
"""The levels that do not rest on what people do or wear."""

CHECKS_ON_A_CARD = 2
"""Checks of a step that the job card has, besides those that say `card`; the station card has all."""
MOST_HAZARDS_ON_A_CARD = 2
"""A student reads two short hazard lines a step, the first two that the operation's file names; the station card and the
risk assessment carry all of them, gravest first."""

Power = Literal["machine", "powered-hand", "hand", "bench"]

Setter = Literal["student", "staff"]
"""Who sets a station, the looser first. A station that nobody sets would be one whose setting no step asks for."""
SETTERS: tuple[Setter, ...] = ("student", "staff")

Cut = Literal[
    "saw-pass",
    "crosscut",
    "saw-to-line",
    "bore",
    "rout",
    "plane",
    "chisel",
    "turn",
    "sand",
    "burn",
    "none",
]
"""What an operation does to the wood (design: virtual making); `none` for marking, joining, finishing."""

Reference = Literal["face-side", "face-edge", "first-end", "second-end", "start-hole"]

Residue = Literal["drill point", "run-out"]
"""What a cut leaves that the drawing does not show: `drill point`, the mark of the bit's point below a hole;
`run-out`, both ends not to size for the length of the station's figure of that name."""


Use = Annotated[float | str, Field(union_mode="left_to_right"), WRITTEN_OUT]
"""A figure, an expression of quantity names, or a word, as a settings function takes it."""


@dataclass(frozen=True, kw_only=True)
class Limit:
    """A figure must stand so to another: `{of: blank.length, at_least: station.shortest, says: …}`.

    Exactly one of the four comparisons is given; its right-hand side is an expression of numbers and quantity names
    with + - * / brackets min max. `says` completes "This cannot be done here: the piece is …", without figures.
    """

    __pydantic_config__ = STRICT
    of: Text
    at_least: str = ""
    at_most: str = ""
    more_than: str = ""
    less_than: str = ""
    says: Text = ""
    source: Text = ""


@dataclass(frozen=True, kw_only=True)
class Choose:
    """Names of which all, and of which at least one, are needed."""

    __pydantic_config__ = STRICT
    all_of: tuple[str, ...] = ()
    any_of: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class WhoDefault:
    """The cautious default of who may do it; what an operation leaves out is taken from its station kind."""

    __pydantic_config__ = STRICT
    operator: Operator | None = None
    supervision: Supervision | None = None
    gate: Gate | None = None


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A figure of a station kind: a cautious default for schools that state none. No default: staff must state it."""

    __pydantic_config__ = STRICT
    default: NotNegative | None = None
    means: Text
    source: Text
    chosen: Literal["", "lower", "higher"] = ""
    """Set where no plate or maker states the figure and a school chooses it: which of two is the stricter. A looser one in a
    workshop file needs who decided it and why."""


@dataclass(frozen=True, kw_only=True)
class Times:
    """Minutes: `each` piece and cut by the one who does it, `set_up` once for a setting."""

    __pydantic_config__ = STRICT
    each: NotNegative
    set_up: NotNegative = 0.0
    source: Text


@dataclass(frozen=True, kw_only=True)
class CheckLine:
    """What to check, with what, how close. May hold {figures}. `kinds`: only for these of the kinds of work made; `where`:
    only where this figure is more than 0; `tools`: what is laid out for it; `card`: on the job card too, which has the first
    `CHECKS_ON_A_CARD` of a step besides."""

    __pydantic_config__ = STRICT
    what: Text
    how: Text
    limit: Text
    kinds: tuple[str, ...] = ()
    where: str = ""
    tools: tuple[str, ...] = ()
    card: bool = False


@dataclass(frozen=True, kw_only=True)
class Instructions:
    """Sentences in the order they are done, each one imperative of at most twelve words. May hold {figures}.

    card
        The short form a student's job card prints: two to five sentences that say what is special to this piece of work.
        The whole stands on the station card.
    card_after
        Where the work brings pieces together: what the job card says once they are, behind how they go in and where cramps press.
    again
        Where each piece is fixed before the next goes in: `card_after` then follows the first, and this each further one.
    first_for
        Sentences said before all others, on both cards, where the operation makes one kind of its several: {length: [...]}.
    where
        Sentences of the lists that are left out unless a figure is more than 0: {joint.captured: [...]}.
    """

    __pydantic_config__ = STRICT
    card: Annotated[tuple[str, ...], Field(max_length=5)] = ()
    card_after: Annotated[tuple[str, ...], Field(max_length=6)] = ()
    again: Annotated[tuple[str, ...], Field(max_length=1)] = ()
    first_for: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    where: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    set: tuple[str, ...] = ()
    hold: tuple[str, ...] = ()
    guard: tuple[str, ...] = ()
    cut: tuple[str, ...] = ()
    check: tuple[str, ...] = ()


LieFace = Literal["face", "behind", "from", "across", "face-side", "face-edge", "first-end", ""]
"""A face by what it is to the work: `face` it is cut into, `behind` the one opposite, `from` the first face it is measured
from that is square to `face`, `across` the one opposite to that. Where the work is no feature of the drawing, `face` is the
face side and `from` the face edge."""


@dataclass(frozen=True, kw_only=True)
class Lies:
    """How a piece lies.

    down
        The face on the table, the bench or the bottom of the vice. A piece that is turned during the work: as it lies for
        the cut that makes its size.
    against
        The face against the fence, or that the fence of a hand tool runs along; empty where marks alone guide the cut.
    stop
        The end against a stop block; empty without one. No stop is used for the cut that makes that end itself.
    tool
        Where the cutter comes from: `above`, `below`, `beside` for discs, bands and blades that cut right through, or `fence`
        for a block that stands out of it.
    """

    __pydantic_config__ = STRICT
    down: LieFace = "behind"
    against: LieFace = ""
    stop: LieFace = ""
    tool: Tool = "above"


@dataclass(frozen=True, kw_only=True)
class ToolSize:
    """A tool whose size follows from a setting: which, by its name under `tools`; by what name of `lists/tool-sizes.yaml` a
    station lists those it has; whether a larger or a smaller one does as well."""

    __pydantic_config__ = STRICT
    of: Text
    setting: Text
    tool: Text
    fits: Literal["same", "or-larger", "or-smaller"] = "same"


@dataclass(frozen=True, kw_only=True)
class Operation:
    """One operation at one kind of station.

    makes
        Feature kinds and kinds of work (`model.work`) it can make.
    applies
        Conditions under which it makes them at all; where one does not hold, the way is not listed as rejected for a
        shortage but as not meant for this.
    limits
        What must hold for it to be done; what fails is said with figures and the remedy.
    needs
        Reference surfaces that must be true before; `start-hole`: a hole in the waste, which is then work of its own.
    guards, holding
        Guards that must be fitted, work-holding that must be at hand. Names from `lists/guards.yaml`, `lists/holding.yaml`.
    holding_upright
        What holds the piece instead where it stands on an edge or an end to be cut; without it as `holding` says.
    settings
        Name of a function of `knowledge.settings`; `use` holds its figures and words, where they differ from its own.
    lies
        How the piece lies for it, the whole of it; without one as the station says.
    leaves
        Residue a later step must remove or the drawing accept.
    in_the_long
        `may`: lengthwise cuts can be worked in a longer piece; `never`; `always`.
    guards_off
        Normal guards that cannot stay for this cut; putting them back is a step of its own straight after.
    tool_sizes
        Tools whose size follows from a setting: where the station lists the sizes it has, one must fit.
    jig
        The jig to be made for it, by its name in `lists/jigs.yaml`.
    spoils_edge_tools
        It leaves grit in the surface: no edge tool follows before it is cleaned.
    one_go
        It is not left half done: glue and finish dry, and a trial is looked at whole. Work at machines never is.
    """

    __pydantic_config__ = STRICT
    name: Text
    makes: Annotated[tuple[str, ...], Field(min_length=1)]
    applies: tuple[Limit, ...] = ()
    limits: tuple[Limit, ...] = ()
    needs: tuple[Reference, ...] = ()
    guards: Choose = field(default_factory=Choose)
    guards_off: tuple[str, ...] = ()
    holding: Choose = field(default_factory=Choose)
    holding_upright: Choose | None = None
    hazards: Annotated[tuple[str, ...], Field(min_length=1)]
    wear: tuple[str, ...] = ()
    who: WhoDefault = field(default_factory=WhoDefault)
    settings: str = "none"
    use: Mapping[str, Use] = field(default_factory=dict)
    cut: Cut = "none"
    lies: Lies | None = None
    leaves: tuple[Residue, ...] = ()
    in_the_long: Literal["never", "may", "always"] = "never"
    spoils_edge_tools: bool = False
    one_go: bool = False
    tools: tuple[str, ...] = ()
    tool_sizes: tuple[ToolSize, ...] = ()
    jig: str = ""
    minutes: Times
    instructions: Instructions
    checks: tuple[CheckLine, ...] = ()
    stop: str = ""
    if_wrong: Text
    feed: str = ""
    sources: Annotated[tuple[str, ...], Field(min_length=1)]

    @property
    def all_tools(self) -> tuple[str, ...]:
        """The tools of the work and of its checks, each once."""
        return tuple(dict.fromkeys((*self.tools, *(tool for check in self.checks for tool in check.tools))))


@dataclass(frozen=True, kw_only=True)
class StationKind:
    """A file of `operations/`: one kind of station and its operations, by name.

    power
        `machine`: fixed and powered; `powered-hand`: a powered tool held in the hand; `hand`: muscle only; `bench`: a
        place where nothing cuts (marking, gluing, finishing).
    words
        What it is called elsewhere, by region.
    lies
        How a piece lies here unless the operation says otherwise.
    limits
        Limits of every operation here; on loading they go in front of each operation's own.
    """

    __pydantic_config__ = STRICT
    station: Text
    name: Text
    power: Power
    words: Mapping[str, str] = field(default_factory=dict)
    what: Text
    figures: Mapping[str, Figure] = field(default_factory=dict)
    guards: tuple[str, ...] = ()
    holding: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()
    who: WhoDefault
    set_up_by: Setter = "staff"
    lies: Lies = field(default_factory=Lies)
    noise: Figure | None = None
    smallest: Text
    hands: Text
    before_starting: Annotated[tuple[str, ...], Field(min_length=1)]
    stop_when: Annotated[tuple[str, ...], Field(min_length=1)]
    hazards: tuple[str, ...] = ()
    wear: tuple[str, ...] = ()
    operations: Annotated[Mapping[str, Operation], Field(min_length=1)]
    sources: Annotated[tuple[str, ...], Field(min_length=1)]


@dataclass(frozen=True, kw_only=True)
class HazardControl:
    """One control. `guard`, `holding`, `tool` or `wear` names what carries it out, so that a plan can say it is used; so does
    `fitted`, what a station of the workshop file has, and `before`, a sentence that is read there before starting."""

    __pydantic_config__ = STRICT
    text: Text
    guard: str = ""
    holding: str = ""
    tool: str = ""
    wear: str = ""
    fitted: Literal["", "emergency-stop"] = ""
    before: str = ""


@dataclass(frozen=True, kw_only=True)
class Applies:
    """Where a hazard is there besides what names it. All that is stated must hold.

    workshop
        In the room as a whole: a row of every risk assessment, of no step; of one that steps name too, at every step where
        somebody works.
    power
        At every step where one of these cuts.
    where
        At steps at which this figure is more than 0.
    unlisted_material
        Where wood is cut that the list of materials does not have.
    """

    __pydantic_config__ = STRICT
    workshop: bool = False
    power: tuple[Power, ...] = ()
    where: str = ""
    unlisted_material: bool = False


@dataclass(frozen=True, kw_only=True)
class Term:
    """What a word of ours is called elsewhere, by region (`lists/terms.yaml`)."""

    __pydantic_config__ = STRICT
    AU: tuple[Text, ...] = ()
    NZ: tuple[Text, ...] = ()
    UK: tuple[Text, ...] = ()
    US: tuple[Text, ...] = ()
    source: Text

    @property
    def elsewhere(self) -> tuple[str, ...]:
        """Every other word, once."""
        return tuple(dict.fromkeys((*self.AU, *self.NZ, *self.UK, *self.US)))


@dataclass(frozen=True, kw_only=True)
class GhsStatement:
    """What a hazard statement of the UN's globally harmonised system says (`lists/ghs.yaml`), by its code."""

    __pydantic_config__ = STRICT
    says: Text
    source: Text


@dataclass(frozen=True, kw_only=True)
class Hazard:
    """The front matter of a file of `hazards/`; the body is the note for adults, Markdown.

    student
        The short form printed for students, at most twelve words.
    forbids
        Things from `lists/wear.yaml` that must not be worn; the stricter meaning wins over what another hazard asks.
    applies
        Where it is there besides the operations, stations, glues, finishes and materials that name it.
    ghs
        Codes of `lists/ghs.yaml` as found on labels of this family of products; the product's own sheet decides.
    """

    __pydantic_config__ = STRICT
    name: Text
    happens: Text
    whom: Annotated[tuple[str, ...], Field(min_length=1)]
    severity: Literal["minor", "serious", "severe"]
    blade: bool = False
    student: Text
    controls: Mapping[Level, tuple[HazardControl, ...]]
    applies: Applies = field(default_factory=Applies)
    forbids: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
    ghs: tuple[str, ...] = ()
    stop_when: Annotated[tuple[str, ...], Field(min_length=1)]
    first_aid: Text
    sources: Annotated[tuple[str, ...], Field(min_length=1)]
    body: str = ""


@dataclass(frozen=True, kw_only=True)
class GuardItem:
    """A guard or a way of work-holding (`lists/guards.yaml`, `lists/holding.yaml`).

    code
        ISO 7010 code where the referent is certain, else empty.
    drawing
        Drawing of our own in `cards/guards`, without .svg.
    asked_by
        The jurisdictions of `lists/regions.yaml` (`counts`) that ask for it; empty for all. It is used elsewhere too
        where it is fitted.
    line_for
        Ways of holding whose own line a card leaves out beside this one's: they hold this, and this holds the wood.
    shared
        Whether one of it serves all who are there, so that nobody takes it away from another.
    """

    __pydantic_config__ = STRICT
    name: Text
    what: Text
    line: Text
    """The guard line on a card: one imperative, at most twelve words."""
    code: str = ""
    drawing: str = ""
    asked_by: tuple[str, ...] = ()
    line_for: tuple[str, ...] = ()
    shared: bool = False
    source: Text


@dataclass(frozen=True, kw_only=True)
class WearItem:
    """Protective equipment, or a thing that may be forbidden (`lists/wear.yaml`).

    code
        ISO 7010 code where the referent is certain, else empty. `forbidden_code` for the prohibition.
    drawing
        Sign of our own in `cards/signs`, without .svg. `forbidden_drawing` where it must not be worn.
    """

    __pydantic_config__ = STRICT
    name: Text
    line: Text
    code: str = ""
    forbidden_line: str = ""
    forbidden_code: str = ""
    drawing: Text
    forbidden_drawing: str = ""
    note: str = ""
    """What staff choose it by: classes and standards."""
    source: Text


Effect = Literal["irritant", "sensitiser", "lungs", "cancer", "nausea", "poison", "nut-tree"]
"""What is reported of a wood's dust: it irritates; it brings on allergy (skin, eyes or airways); it inflames the lungs; cancer
of the nose is reported or suspected; it makes one sick; it poisons; the tree bears nuts, so that allergies are asked for."""


@dataclass(frozen=True, kw_only=True)
class LaserMark:
    """That a material may go into a laser cutter, up to a thickness in mm. Without this mark none does."""

    __pydantic_config__ = STRICT
    thickest: Annotated[Plain, Field(gt=0)]
    source: Text


ClassWork = Literal["students", "staff", "staff-all", "refuse"]
"""Who may cut a wood where a class works, the loosest first: students as the operations say; staff alone do machine work, power
sanding and hand sanding of it; staff alone do every cut of it, by hand too; nobody, and a plan with it is refused."""
CLASS_WORK: tuple[ClassWork, ...] = ("students", "staff", "staff-all", "refuse")


@dataclass(frozen=True, kw_only=True)
class Material:
    """A timber or sheet (`lists/materials.yaml`).

    words
        What else it is called, by region. A name that several materials bear may mean any of them.
    botanical
        One or several botanical names with commas between them.
    hardness
        `softwood` and `hardwood` by botany; balsa is a hardwood.
    works
        How hard it is to work, whatever its botany.
    dust_class
        Whose limits of wood dust count; unless stated `softwood` for softwoods, `hardwood` (the stricter) for all else.
    density
        kg/m3 at about 12 % moisture, of a typical piece.
    tangential, radial
        Change of width for 1 % of moisture as a share of the width, or absent; sheets have none.
    durability
        Class of the heartwood against rot, from 1 (very durable) to 5 (not durable) as EN 350 has them.
    blunting, fixing
        How soon it blunts an edge; what holds screws and nails in it.
    hazards
        What it brings wherever it is cut.
    class_work
        Who may make dust of it where a class works; what `dust` says is the reason.
    laser
        That it may go into a laser cutter; absent: it does not. A name that may mean several materials never has it.
    source
        Of what is said of its dust; where the figures have no source of their own, of them too.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    botanical: str = ""
    hardness: Literal["softwood", "hardwood", "sheet"]
    works: Literal["", "soft", "medium", "hard"] = ""
    dust_class: Literal["", "softwood", "hardwood"] = ""
    density: Annotated[Plain, Field(gt=0)] | None = None
    density_source: str = ""
    tangential: Annotated[Plain, Field(gt=0, lt=0.01)] | None = None
    radial: Annotated[Plain, Field(gt=0, lt=0.01)] | None = None
    movement_source: str = ""
    durability: Annotated[int, Field(ge=1, le=5)] | None = None
    durability_source: str = ""
    blunting: Literal["", "slight", "moderate", "severe"] = ""
    fixing: str = ""
    effects: tuple[Effect, ...] = ()
    dust: Text
    hazards: tuple[str, ...] = ()
    class_work: ClassWork = "students"
    laser: LaserMark | None = None
    source: Text

    @property
    def dust_counts_as(self) -> str:
        """`softwood` or `hardwood`: whose limits of wood dust count for it."""
        return self.dust_class or ("softwood" if self.hardness == "softwood" else "hardwood")


Durability = Literal["", "D1", "D2", "D3", "D4"]
"""What a glued joint stands, by the durability classes of EN 204: D1 dry indoors, D2 now and then damp indoors, D3 often damp
indoors or outdoors under cover, D4 long wet indoors or outdoors in the weather; empty: not known."""
OUTDOORS: tuple[Durability, ...] = ("D3", "D4")
"""Classes that stand outdoors, the first only under cover."""


@dataclass(frozen=True, kw_only=True)
class CrampTime:
    """Minutes that a glue stays in the cramps in a room from a temperature on, degrees Celsius."""

    __pydantic_config__ = STRICT
    at: Plain
    minutes: Positive


@dataclass(frozen=True, kw_only=True)
class Glue:
    """An adhesive (`lists/glues.yaml`), minutes and degrees Celsius.

    at
        Room temperature the times hold at.
    staff
        Staff put it on, whatever the operation says.
    cramp_times
        Times in the cramps by temperature, where its maker states them; else `cramp_time` is lengthened in a cool room.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    family: Literal[
        "",
        "pva",
        "polyurethane",
        "urea-formaldehyde",
        "epoxy",
        "animal",
        "casein",
        "contact",
        "cyanoacrylate",
    ] = ""
    resists: Durability = ""
    resists_source: str = ""
    open_time: Annotated[Plain, Field(gt=0)]
    cramp_time: Annotated[Plain, Field(gt=0)]
    cure_time: Annotated[Plain, Field(gt=0)]
    coldest: Plain | None = None
    at: Plain | None = None
    staff: bool = False
    cramp_times: tuple[CrampTime, ...] = ()
    hazards: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class FinishKind:
    """A finish (`lists/finishes.yaml`), minutes between coats.

    kind
        What `finishes` in an operation's `use` names.
    family
        What it is made of.
    at
        Room temperature the dry time holds at, degrees Celsius.
    food
        Meant to touch food once it has cured, if its maker says so.
    sanded_to
        The last paper before its first coat, a P grade.
    staff
        Staff put it on, whatever the operation says.
    """

    __pydantic_config__ = STRICT
    name: Text
    words: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)
    family: Literal[
        "",
        "water-based",
        "drying-oil",
        "mineral-oil",
        "solvent-varnish",
        "lacquer",
        "shellac",
        "stain",
        "mineral-paint",
        "wax",
    ] = ""
    kind: Literal["water-based", "oil", "wax", "solvent"]
    dry_time: Annotated[Plain, Field(gt=0)]
    at: Plain | None = None
    sanded_to: Positive = 180
    self_heating_rags: bool = False
    food: bool = False
    staff: bool = False
    hazards: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class FitClass:
    """Room left in a fit (`lists/fits.yaml`), mm: least and most play that still counts as this fit."""

    __pydantic_config__ = STRICT
    name: Text
    play: Plain
    least: Plain
    most: Plain
    says: Text
    source: Text


@dataclass(frozen=True, kw_only=True)
class FastenerRule:
    """How long nails or screws are (`lists/fasteners.yaml`), mm.

    times
        Their length over the thickness they hold: 3 puts two thirds of it in the second piece.
    point_room
        Wood to leave before the point.
    usual_share, least_share
        Share of it in the second piece, where that is thick enough: under the first it is short, under the second it holds
        little.
    lengths
        Lengths that they are sold in, rising.
    """

    __pydantic_config__ = STRICT
    times: Positive
    point_room: Positive
    usual_share: Positive
    least_share: Positive
    lengths: Annotated[tuple[Positive, ...], Field(min_length=1)]
    source: Text


ChangeName = Literal["machine", "powered-hand", "hand", "bench", "cutter", "fence", "height", "angle", "speed", "piece"]
"""What a change of set-up can consist of: going to a station, by how it is powered; a setting; another piece."""


@dataclass(frozen=True, kw_only=True)
class ChangeTime:
    """What one part of a change of set-up takes (`lists/changes.yaml`), minutes. `settings`: the names of the settings it is."""

    __pydantic_config__ = STRICT
    minutes: Positive
    settings: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class ScrewGauge:
    """A wood screw gauge (`lists/screws.yaml`), mm."""

    __pydantic_config__ = STRICT
    shank: Positive
    head: Positive
    clearance: Positive
    pilot_softwood: Positive
    pilot_hardwood: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class DrillSpeed:
    """Highest speed advised for a bit up to a diameter, mm and rev/min. Sheet counts as hardwood: the slower."""

    __pydantic_config__ = STRICT
    up_to: Positive
    softwood: Positive
    hardwood: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class DrillPoint:
    """How far the point of a bit goes below the full depth of its hole: a share of its diameter."""

    __pydantic_config__ = STRICT
    share: Annotated[Plain, Field(ge=0, le=1)]
    source: Text


@dataclass(frozen=True, kw_only=True)
class Flutes:
    """How long the flutes of a bit are from a diameter on, mm. Deeper than that its chips do not come out."""

    __pydantic_config__ = STRICT
    from_: Annotated[Positive, Field(alias="from")]
    long: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class DrillBit:
    """A kind of drill bit (`lists/drill-bits.yaml`) with its point, its speeds, smallest diameter first, none for a bit
    that is turned by hand, and how deep its flutes let it drill, smallest diameter first, where that matters."""

    __pydantic_config__ = STRICT
    name: Text
    point: DrillPoint
    speeds: tuple[DrillSpeed, ...] = ()
    flutes: tuple[Flutes, ...] = ()

    def drills(self, diameter: float) -> float | None:
        """How deep a bit of a diameter drills before its chips jam, mm; None where the list does not say."""
        reached = [row.long for row in self.flutes if row.from_ <= diameter + 1e-6]
        return max(reached, default=None)


@dataclass(frozen=True, kw_only=True)
class SizedTools:
    """Tools that come in sizes (`lists/tool-sizes.yaml`): how far one may be off, mm; `narrowest`, the figure of a station
    that the smallest of them states."""

    __pydantic_config__ = STRICT
    name: Text
    within: Annotated[Plain, Field(ge=0, le=1)]
    narrowest: str = ""
    source: Text


@dataclass(frozen=True, kw_only=True)
class HeldShape:
    """How a piece is held by a face that a shape has taken (`lists/shapes.yaml`).

    says
        What it does otherwise: completes “A piece that is tapered …”.
    holding
        Ways of holding that grip it, besides what the operation asks for; the first at hand is used, else the first made.
    enough
        Ways of holding that grip it where the operation itself rests on them.
    """

    __pydantic_config__ = STRICT
    name: Text
    says: Text
    holding: Annotated[tuple[str, ...], Field(min_length=1)]
    enough: tuple[str, ...] = ()
    source: Text


@dataclass(frozen=True, kw_only=True)
class CutterSpeed:
    """Highest speed of a router cutter up to a diameter (`lists/cutter-speeds.yaml`), mm and rev/min."""

    __pydantic_config__ = STRICT
    up_to: Positive
    most: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class BandBlade:
    """The tightest curve that a band-saw blade up to a width follows (`lists/band-saw-blades.yaml`), mm."""

    __pydantic_config__ = STRICT
    up_to: Positive
    radius: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class AbrasiveGrade:
    """A grade of abrasive paper (`lists/abrasives.yaml`): the size of its grains, micrometres."""

    __pydantic_config__ = STRICT
    grain: Positive
    source: Text


@dataclass(frozen=True, kw_only=True)
class StaffStep:
    """What staff do at a machine around a step (`lists/staff-steps.yaml`): `set-up` before it, `guards-back` after a cut
    for which normal guards came off. `first` and `last` go round the operation's own sentences for setting; `last_for` follows
    by who works there next.
    """

    __pydantic_config__ = STRICT
    first: Annotated[tuple[Text, ...], Field(min_length=1)]
    last: tuple[Text, ...] = ()
    last_for: Mapping[Literal["student", "staff"], tuple[Text, ...]] = field(default_factory=dict)
    guard_line: Text
    hazards: Annotated[tuple[str, ...], Field(min_length=1)]
    if_wrong: Text
    minutes: NotNegative
    source: Text


Sum = Text
"""A number or an expression of figures of the part and the feature, mm."""


@dataclass(frozen=True, kw_only=True)
class JigHole:
    """A hole right through a piece of a jig: the axis it runs along, and its middle by the two other axes in alphabetical
    order from the piece's own near lower left corner."""

    __pydantic_config__ = STRICT
    along: Axis
    at: tuple[Sum, Sum]
    diameter: Sum


@dataclass(frozen=True, kw_only=True)
class JigPiece:
    """A piece of a jig.

    size
        Along x (to the right), y (away) and z (up), mm.
    at
        The near lower left corner of each such piece, in the jig's frame.
    along, outline
        Where it is no plain block: its outline by the two other axes in alphabetical order, from that corner, and the axis
        it runs along.
    cut_from
        Length, width and thickness of the wood it is made of, where that is not its size: it stands askew.
    """

    __pydantic_config__ = STRICT
    size: tuple[Sum, Sum, Sum]
    at: Annotated[tuple[tuple[Sum, Sum, Sum], ...], Field(min_length=1)]
    along: Axis = "x"
    outline: tuple[tuple[Sum, Sum], ...] = ()
    holes: tuple[JigHole, ...] = ()
    cut_from: tuple[Sum, Sum, Sum] | None = None
    stock: Text


@dataclass(frozen=True, kw_only=True)
class Jig:
    """A jig (`lists/jigs.yaml`): what it is, its pieces, how they are fastened, how it is checked.

    serves_as
        The way of holding it is, where it is one: then it is not made where the workshop has that at hand.
    """

    __pydantic_config__ = STRICT
    name: Text
    what: Text
    serves_as: str = ""
    pieces: Annotated[Mapping[str, JigPiece], Field(min_length=1)]
    fastening: Text
    checks: Annotated[tuple[Text, ...], Field(min_length=1)]
    source: Text

    def sums(self) -> Iterator[tuple[tuple[str | int, ...], str]]:
        """Every expression of its sizes and places, with its place in the file below the jig's name."""
        for name, piece in self.pieces.items():
            at = ("pieces", name)
            yield from (((*at, "size", number), text) for number, text in enumerate(piece.size))
            yield from (((*at, "cut_from", number), text) for number, text in enumerate(piece.cut_from or ()))
            yield from (
                ((*at, key, number, axis), text)
                for key, places in (("at", piece.at), ("outline", piece.outline))
                for number, place in enumerate(places)
                for axis, text in enumerate(place)
            )
            for number, hole in enumerate(piece.holes):
                yield from (((*at, "holes", number, "at", axis), text) for axis, text in enumerate(hole.at))
                yield (*at, "holes", number, "diameter"), hole.diameter


BenchName = Literal[
    "tool-room",
    "chuck-radius",
    "bit-out",
    "hand-room",
    "vice-opens",
    "fence-share",
    "face-share",
    "wood-share",
    "hole-share",
    "least-under",
    "blank-over",
    "first-end-trim",
    "v-length",
]


@dataclass(frozen=True, kw_only=True)
class BenchFigure:
    """A figure of the bench or of tools in general (`lists/bench.yaml`): mm, or a share from 0 to 1."""

    __pydantic_config__ = STRICT
    value: Annotated[Plain, Field(gt=0)]
    unit: Literal["mm", "share"]
    means: Text
    source: Text


@dataclass(frozen=True, kw_only=True)
class Record:
    """Who made a change and why, as a school's own folder records it. `by` is a role, never a name."""

    __pydantic_config__ = STRICT
    by: Answer
    why: Answer


@dataclass(frozen=True, kw_only=True)
class Records:
    """The file `changes.yaml` of a school's own folder: records by place, and operations, kinds of station, glues and
    finishes that the school does without."""

    __pydantic_config__ = STRICT
    changes: Mapping[str, Record] = field(default_factory=dict)
    switched_off: Mapping[str, Record] = field(default_factory=dict)


@dataclass(frozen=True)
class Change:
    """One thing in which the knowledge differs from the shipped.

    about
        Its place: the file and the keys in it, such as `operations/pillar-drill/figures/shortest`.
    looser
        What it may ask for less than the shipped knowledge, in words; empty if it is proven as strict.
    by, why
        As recorded; empty if nobody is named.
    """

    about: str
    text: str
    looser: tuple[str, ...] = ()
    by: str = ""
    why: str = ""


@dataclass(frozen=True)
class Knowledge:
    """Everything the data folders say, checked: every name in it refers to something in it."""

    stations: Mapping[str, StationKind]
    hazards: Mapping[str, Hazard]
    guards: Mapping[str, GuardItem]
    holding: Mapping[str, GuardItem]
    wear: Mapping[str, WearItem]
    materials: Mapping[str, Material]
    glues: Mapping[str, Glue]
    finishes: Mapping[str, FinishKind]
    fits: Mapping[str, FitClass]
    fasteners: Mapping[str, FastenerRule]
    """By the word among the fixings of a joint: `nails`, `screws`."""
    change_times: Mapping[ChangeName, ChangeTime]
    """What a change of set-up takes, by what it consists of."""
    screws: Mapping[int, ScrewGauge]
    drill_bits: Mapping[str, DrillBit]
    tool_sizes: Mapping[str, SizedTools]
    cutter_speeds: tuple[CutterSpeed, ...]
    band_blades: tuple[BandBlade, ...]
    abrasives: Mapping[int, AbrasiveGrade]
    """Grades of abrasive paper by number."""
    verbs: tuple[str, ...]
    """The imperatives a sentence of an instruction may start with (`lists/verbs.yaml`)."""
    limits: tuple[DatedLimit, ...]
    measures: Mapping[str, Measure]
    regions: Mapping[str, Region]
    ghs: Mapping[str, GhsStatement]
    terms: Mapping[str, Term]
    """Words of ours that are others elsewhere."""
    staff_steps: Mapping[str, StaffStep]
    """`set-up` and `guards-back`."""
    bench_figures: Mapping[BenchName, BenchFigure]
    working_figures: Mapping[WorkingName, WorkingFigure]
    jigs: Mapping[str, Jig]
    shapes: Mapping[ShapeLeft, HeldShape]
    """How a piece is held by what an earlier shape has left of it."""
    changes: tuple[Change, ...] = ()
    """What the school has changed."""

    @property
    def bench(self) -> Bench:
        """The figures of the bench, as a plan carries them."""
        return Bench(**{name.replace("-", "_"): figure.value for name, figure in self.bench_figures.items()})

    @cached_property
    def working(self) -> Working:
        """The figures of `working_figures` by name."""
        return Working(**{name.replace("-", "_"): figure.value for name, figure in self.working_figures.items()})
