"""The plan: what the sheets print. Frozen, complete, with a published JSON form. mm, min.

A task is atomic: one act on one feature of one part (`side/floor-groove/cut`), the same name whatever operation does
it. A step is a run of tasks that share a set-up, formed and numbered after ordering.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sequencer.findings import Finding
from sequencer.model.frame import Axis, FaceName
from sequencer.model.marks import Layout
from sequencer.model.proof import Proof
from sequencer.model.workshop import Who

PLAN_VERSION = "1"
"""Version of the plan's published JSON form."""

ReasonKind = Literal[
    "reference",
    "support",
    "holding",
    "reach",
    "datum",
    "break-out",
    "splitting",
    "fit",
    "surface",
    "capture",
    "cure",
    "sequence",
    "drawing",
    "decision",
    "choice",
]
"""`drawing`: the drawing asks for it. `choice` is no demand: the tool chose this of two possible orders, and says what for."""
Card = Literal["student", "staff"]
StepKind = Literal["work", "set-up", "guards-back", "wait"]


@dataclass(frozen=True)
class Setting:
    """One figure to set: `fence`, `depth stop`. `text` is what is printed; `value` may be absent where staff decide."""

    name: str
    label: str
    text: str
    value: float | None = None
    unit: str = ""


@dataclass(frozen=True)
class Check:
    """What to check after a step, how, and how close; `card`: on the job card too."""

    what: str
    how: str
    limit: str
    card: bool = True


@dataclass(frozen=True)
class Control:
    """One control of a hazard, by level of the hierarchy (eliminate … ppe); on the risk assessment with the numbers of the
    steps that use it."""

    level: str
    text: str
    steps: tuple[int, ...] = ()


@dataclass(frozen=True)
class HazardLine:
    """A hazard as a step shows it: name in the knowledge, title, short words for students, controls in this plan."""

    name: str
    title: str
    short: str
    controls: tuple[Control, ...]


@dataclass(frozen=True)
class Guard:
    """A guard or work-holding that must be on, with the one line a card prints, its ISO 7010 code where the referent is certain
    and its drawing in `cards/guards`."""

    name: str
    title: str
    line: str
    code: str = ""
    drawing: str = ""


@dataclass(frozen=True)
class Wear:
    """Protective equipment or a thing forbidden, with its ISO 7010 code where the referent is certain."""

    name: str
    title: str
    code: str
    drawing: str
    """Name of our own drawing in cards/signs."""
    forbidden: bool = False
    """Whether it must not be worn."""


@dataclass(frozen=True)
class Sign:
    """A safety sign that is put up where a hazard is met."""

    says: str
    code: str = ""
    """Its ISO 7010 code; empty where the standard has no sign of just this meaning."""
    words: tuple[str, ...] = ()
    """What is written under a sign that says nothing alone: hazards by their titles."""


@dataclass(frozen=True)
class Grip:
    """What holds a piece where stock or an earlier cut has left it of a shape that flat jaws do not hold: the shape, and the way
    of holding by its name. `face`: the face as drawn that the shape has taken; None for round stock."""

    shape: str
    by: str
    face: FaceName | None = None


@dataclass(frozen=True)
class Task:
    """One act on one feature of one part."""

    id: str
    part: str
    """Part name, or empty for a task on the whole thing."""
    feature: str
    act: str
    kind: str
    """What kind of work: a feature kind, or a kind of stock preparation, joining or finishing."""
    does: str
    """A short imperative without figures: `Cut the floor groove`."""
    operation: str
    station: str
    """Name in the workshop file."""
    station_kind: str
    who: Who
    set_up: str
    """Tasks with equal set-up share one machine setting."""
    quantity: int
    """Pieces per finished thing."""
    in_the_long: bool
    """Worked in a longer piece that is separated later."""
    minutes: float
    """One piece, by the one who does it; of work on several parts the whole of it."""
    settings: tuple[Setting, ...] = ()
    leaves: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    """The parts it concerns: its own, or those of a task on the whole."""
    joints: tuple[str, ...] = ()
    """The joints it tries, closes or lets set."""
    folded: tuple[str, ...] = ()
    """Sub-assemblies of the drawing that are joined in this with others: questions and decisions may name it by them."""
    cut: str = "none"
    """What it does to the wood: the `cut` of its operation."""
    needs: tuple[str, ...] = ()
    """Reference surfaces that must be true before: face-side, face-edge, first-end, second-end."""
    piece: tuple[float, float, float] | None = None
    """Length, width and thickness of the piece as it is worked, mm; None for work on several parts."""
    layouts: tuple[Layout, ...] = ()
    """What is set out and how the piece lies, one for each hand of the part."""
    sets: tuple[str, ...] = ()
    """Names of the settings its operation gives: a card without one of them is not whole."""
    point: float = 0.0
    """How far the point of the bit goes below the full depth of a hole, as a share of its diameter."""
    grips: tuple[Grip, ...] = ()
    """What holds it where a shape has taken faces to rest on or to grip, or where its stock is round."""

    @property
    def packed(self) -> tuple[FaceName, ...]:
        """Faces as drawn that a shape has taken and that the holding of this step makes good to rest on or to grip."""
        return tuple(grip.face for grip in self.grips if grip.face is not None)

    @property
    def minutes_in_all(self) -> float:
        """For one finished thing: work on pieces takes its time for each; joining, coating and waiting take it once."""
        return self.minutes * (self.quantity if self.part else 1)


@dataclass(frozen=True)
class Piecework:
    """A part and how many of its pieces a step works."""

    part: str
    letter: str
    quantity: int


@dataclass(frozen=True)
class Step:
    """What a card prints as one step.

    instructions
        What the job card prints: the short form, one imperative a sentence.
    method
        The whole way of working, in the order set, hold, guard, cut, check; printed on the station card.
    stop
        What staff must look at before going on, or empty.
    """

    id: str
    number: int
    kind: StepKind
    card: Card
    title: str
    station: str
    station_kind: str
    station_title: str
    operation: str
    tasks: tuple[str, ...]
    parts: tuple[Piecework, ...]
    who: Who
    guards: tuple[Guard, ...]
    guard_line: str
    holding: tuple[Guard, ...]
    hazards: tuple[HazardLine, ...]
    hazard_line: str
    wear: tuple[Wear, ...]
    settings: tuple[Setting, ...]
    instructions: tuple[str, ...]
    method: tuple[str, ...]
    checks: tuple[Check, ...]
    stop: str
    if_wrong: str
    feed: str
    minutes: float
    set_up_minutes: float
    tools: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    together: tuple[str, ...] = ()
    """How its pieces come together, one action a line, as it stands among the instructions: what stands first, what goes in next,
    where cramps press."""
    one_go: bool = False
    """It is not left half done: work at a machine, glue, finish, a trial."""


@dataclass(frozen=True)
class Reason:
    """Why one task comes before another."""

    before: str
    after: str
    kind: ReasonKind
    sentence: str
    source: str = "common practice"
    harm: str = ""
    """What goes wrong otherwise, where no rigid solid can show it: the wood splits, breaks out, blunts the tool."""


@dataclass(frozen=True)
class PartLine:
    """A part as the sheets list it."""

    name: str
    letter: str
    count: int
    handed: bool
    length: float
    width: float
    thickness: float
    stock: str
    material: str
    hardness: str
    grain: str


@dataclass(frozen=True)
class Blank:
    """What is cut for a part before its features: rough or long pieces and how many parts each yields."""

    part: str
    letter: str
    length: float
    width: float
    thickness: float
    yields: int
    """Pieces of the part out of one blank."""
    pieces: int
    """Blanks for the class, spares included."""
    why: str
    strip: str = ""
    """The strip it comes out of, if it shares one with other parts: then its blanks are those of the strip, counted once."""


@dataclass(frozen=True)
class StripPiece:
    """A piece where it lies in a strip: the how manieth of its part, and where it starts, from the first end."""

    part: str
    letter: str
    number: int
    start: float
    length: float

    @property
    def called(self) -> str:
        """How it is marked on the strip: `A 1`."""
        return f"{self.letter} {self.number}"

    @property
    def stop(self) -> float:
        """Where it ends."""
        return self.start + self.length


@dataclass(frozen=True)
class Strip:
    """A long piece that is worked whole and cut apart last, laid out from its first end.

    name
        The names of the parts that come out of it.
    pieces
        Every piece, in order along it; before the first lies the trim, behind the last what is held.
    count
        Strips for the class, spares included.
    longest
        The longest that it may be, for the stock and for the stations that it is worked at.
    why
        What it is for, in a sentence; what it saves.
    sets
        For how many students it holds the parts.
    trial
        How long a piece of its section is that machines and planes are tried on before it, mm; 0 where none is tried.
    """

    name: str
    length: float
    width: float
    thickness: float
    pieces: tuple[StripPiece, ...]
    count: int
    longest: float
    why: str
    sets: int = 1
    trial: float = 0.0

    @property
    def trim(self) -> float:
        """What lies before the first piece, cut off as waste."""
        return self.pieces[0].start

    @property
    def end(self) -> float:
        """What lies behind the last piece."""
        return self.length - self.pieces[-1].stop

    @property
    def parts(self) -> tuple[str, ...]:
        """The parts that come out of it, first to last."""
        return tuple(dict.fromkeys(piece.part for piece in self.pieces))


@dataclass(frozen=True)
class StationCard:
    """What the card at a station says beyond its steps."""

    station: str
    kind: str
    title: str
    machine: bool
    count: int
    who: Who
    may_use: str
    smallest: str
    hands: str
    before_starting: tuple[str, ...]
    stop_when: tuple[str, ...]
    guards: tuple[Guard, ...]
    holding: tuple[Guard, ...]
    hazards: tuple[HazardLine, ...]
    wear: tuple[Wear, ...]
    sources: tuple[str, ...] = ()
    figures: Mapping[str, float] = field(default_factory=dict)
    """The station's own figures without the word station: `kerf`, `shortest`; mm, rev/min."""
    signs: tuple[Sign, ...] = ()
    """Safety signs of its hazards; of what is worn only what the card asks for or forbids."""


@dataclass(frozen=True)
class RiskRow:
    """A row of the risk assessment: one hazard over all the steps it stands in, students' and staff's; a hazard of the whole
    workshop has no steps."""

    hazard: str
    title: str
    happens: str
    whom: tuple[str, ...]
    severity: str
    steps: tuple[int, ...]
    controls: tuple[Control, ...]
    more: tuple[Control, ...]
    """Controls the hazard's file names that this plan does not rest on."""
    stop_when: tuple[str, ...]
    first_aid: str
    sources: tuple[str, ...]
    labels: tuple[str, ...] = ()
    """Statements of the UN's globally harmonised system, as found on labels of this family of products."""
    signs: tuple[Sign, ...] = ()
    """Safety signs that its file names."""


@dataclass(frozen=True)
class DecisionLine:
    """A decision of the teacher's as printed on the risk assessment. `cost`: what it costs or saves, and what it overrules."""

    about: str
    text: str
    by: str
    why: str
    cost: str = ""


@dataclass(frozen=True)
class ChangeLine:
    """What the school has changed in the shipped knowledge, as printed on the risk assessment. `looser` says what it asks
    for less; `by` and `why` are empty where they are not recorded."""

    about: str
    text: str
    looser: str
    by: str
    why: str


@dataclass(frozen=True)
class ClassLine:
    """The class the plan is for."""

    workshop: str
    students: int
    year: str
    age: int
    lesson: float
    region: str


@dataclass(frozen=True)
class JigHole:
    """A hole right through a piece of a jig: the axis it runs along, its middle by the two other axes in alphabetical order."""

    along: Axis
    at: tuple[float, float]
    diameter: float


@dataclass(frozen=True)
class JigBody:
    """One piece of a jig where it stands: its near lower left corner and its size along x (to the right), y (away), z (up).
    `outline`, in the jig's frame, where it is no plain block: by the two axes besides `along`, in alphabetical order.
    """

    low: tuple[float, float, float]
    size: tuple[float, float, float]
    along: Axis = "x"
    outline: tuple[tuple[float, float], ...] = ()
    holes: tuple[JigHole, ...] = ()


@dataclass(frozen=True)
class JigPiece:
    """Alike pieces of a jig: the stock that is needed, longest side first, and where each stands."""

    name: str
    count: int
    length: float
    width: float
    thickness: float
    stock: str
    bodies: tuple[JigBody, ...]


@dataclass(frozen=True)
class JigLine:
    """A jig that is made before the lessons: what it is, what for, its pieces with sizes and stock, how it is checked."""

    name: str
    title: str
    what: str
    tasks: tuple[str, ...]
    steps: tuple[int, ...]
    uses: tuple[str, ...]
    """What it is for, one line a feature or kind of work: `curve of the side`."""
    pieces: tuple[JigPiece, ...]
    fastening: str
    checks: tuple[str, ...]
    source: str


@dataclass(frozen=True)
class LooseThing:
    """A thing to lay out or count: tools and hardware, for one student and for the class."""

    name: str
    each: int
    total: int
    shared: bool = False


@dataclass(frozen=True)
class Bench:
    """Figures of the bench and of tools in general, as the knowledge has them (`operations/lists/bench.yaml` says what each
    means and where it is from). mm; shares from 0 to 1.
    """

    tool_room: float
    chuck_radius: float
    bit_out: float
    hand_room: float
    vice_opens: float
    fence_share: float
    face_share: float
    wood_share: float
    hole_share: float
    least_under: float
    blank_over: float
    first_end_trim: float
    v_length: float


@dataclass(frozen=True)
class DayLine:
    """What a person's work brings with it (noise, vibration, dust) as if it fell on one day: whose work, what is worked out in
    words, and where it is not known."""

    who: str
    text: str
    measure: str = ""


@dataclass(frozen=True)
class FigureLine:
    """A figure the region is held to: what it measures, the figure with its unit, whose it is, its source. `own` is false
    where none was read for the region and the strictest on record stands in. `stations`: the kinds it is about; none: all."""

    group: str
    name: str
    value: str
    whose: str
    own: bool
    note: str
    source: str
    stations: tuple[str, ...] = ()


@dataclass(frozen=True)
class RegionLine:
    """What holds in the school's region on the day of the plan, and what its risk assessment must hold.

    day
        The date whose figures these are, as year-month-day; empty where no day is given, and the strictest of all days is taken.
    """

    name: str
    what: str
    day: str
    looked_up: str
    regulator: str
    laws: tuple[str, ...]
    record: tuple[str, ...]
    sign_off: tuple[str, ...]
    review: tuple[str, ...]
    figures: tuple[FigureLine, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True)
class Changing:
    """What changing set-ups takes in the order of a plan: how many set-ups are gone to, their minutes, and the minutes that no
    order the reasons allow can go below. Waiting is no set-up."""

    changes: int
    minutes: float
    least: float


@dataclass(frozen=True)
class Plan:
    """A checked, ordered plan of making.

    fingerprints
        Step id to a short hash of the resolved inputs it shows; `job` for the whole. A changed comment changes none.
    """

    version: str
    job: str
    job_file: str
    workshop_file: str
    class_: ClassLine
    aim: str
    parts: tuple[PartLine, ...]
    blanks: tuple[Blank, ...]
    tasks: tuple[Task, ...]
    steps: tuple[Step, ...]
    reasons: tuple[Reason, ...]
    stations: tuple[StationCard, ...]
    risks: tuple[RiskRow, ...]
    decisions: tuple[DecisionLine, ...]
    hardware: tuple[LooseThing, ...]
    tools: tuple[LooseThing, ...]
    jigs: tuple[JigLine, ...]
    findings: tuple[Finding, ...]
    bench: Bench
    strips: tuple[Strip, ...] = ()
    """Long pieces that several pieces come out of, with each of them where it lies."""
    together: str = ""
    """What the job's decisions cost or save all together, where there are several."""
    learning_aim: str = ""
    extension: str = ""
    """The task for those who finish early."""
    notes: tuple[str, ...] = ()
    """The teacher's own notes on the job and its parts, for staff and students."""
    note: str = ""
    """Of these, the one on the whole job: it stands at the head of the job card."""
    before_use: str = ""
    """Of these, what is to be done before the finished thing is used: the last words of the job card."""
    changes: tuple[ChangeLine, ...] = ()
    """What the school has changed in the shipped knowledge."""
    materials: tuple[str, ...] = ()
    """What the dust of each material does, whose limits of dust count for it, and the source: for staff."""
    region: RegionLine | None = None
    """What the school's region asks; a plan that the planner made has it."""
    noise: tuple[DayLine, ...] = ()
    """The noise of a student's work and of the staff's, where there are machines or powered tools."""
    vibration: tuple[DayLine, ...] = ()
    """The vibration of their hands, where tools with a motor are held."""
    dust: tuple[DayLine, ...] = ()
    """The dust they breathe, where dust is made."""
    changing: Changing | None = None
    """What changing set-ups takes; a plan that the planner made has it."""
    fingerprints: Mapping[str, str] = field(default_factory=dict)
    proof: Proof | None = None
    """The record of making it on solids; None until that has been done."""
