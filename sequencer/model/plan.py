"""The plan: what the sheets print. Frozen, complete, with a published JSON form. mm, min.

A task is atomic: one act on one feature of one part (`side/floor-groove/cut`), the same name whatever operation does
it. A step is a run of tasks that share a set-up, formed and numbered after ordering.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sequencer.findings import Finding
from sequencer.model.frame import FaceName
from sequencer.model.jigs import JigLine
from sequencer.model.marks import Layout
from sequencer.model.proof import Proof
from sequencer.model.protection import Grip, Guard, HazardLine, RiskRow, Sign, Wear
from sequencer.model.record import ChangeLine, ClassLine, DayLine, DecisionLine, RegionLine
from sequencer.model.stock_lists import Blank, LooseThing, PartLine, Strip
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
    """Sub-assemblies of the drawing that are joined in this with others, and what else it does under a name of its own, as
    hardware: questions and decisions may name it by them."""
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
    way_in: str = "anywhere"
    """How the tool gets into the cut: `ends`, in at one end and out at the other; `edge`, from an edge, an end or a hole;
    `anywhere`, it is driven in."""

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
    seen_at_sign_off: tuple[str, ...] = ()
    """What a student does, unasked, before staff sign that they can use it."""
    signs: tuple[Sign, ...] = ()
    """Safety signs of its hazards; of what is worn only what the card asks for or forbids."""
    own_hazard: str = ""
    """Of its hazards, by name, the one that belongs to the place itself, whatever is done there; empty where it has none."""


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
    unsaid_board: float
    biscuit_thickness: float
    dowel_room: float
    glue_fills: float
    hand_kerf: float
    thin_sheet: float
    flutters_from: float


@dataclass(frozen=True)
class Changing:
    """What changing set-ups takes in the order of a plan: how many set-ups are gone to, their minutes, and the minutes that no
    order the reasons allow can go below. Waiting is no set-up."""

    changes: int
    minutes: float
    least: float


WaitingWhen = Literal["any-time", "begun", "unfinished", "made"]
"""For whom a task is that is done while waiting: for everyone, for those who have done a step, who have one to come, who have
done all."""


@dataclass(frozen=True)
class WaitingTask:
    """What a student may do who waits in a lesson or has finished.

    minutes
        How long it lasts about; 0 where nobody has said.
    stations
        Kinds of station that it is done at; none where a pencil and paper are enough.
    after
        The steps, by id, that must be done before.
    own
        Whether the job names it; else it is of the list that serves for any job.
    """

    does: str
    minutes: float = 0.0
    when: WaitingWhen = "any-time"
    stations: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    lay_out: tuple[str, ...] = ()
    own: bool = True


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
    waiting: tuple[WaitingTask, ...] = ()
    """What students do while they wait or when they have finished: the job's own tasks first."""
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

    @property
    def extension(self) -> str:
        """The job's own tasks for those who wait or have finished, one after the other."""
        return " ".join(task.does for task in self.waiting if task.own)
