"""The form of an operation: what it makes, where it may be done, what it needs, how it is said and checked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import NotNegative, Text
from sequencer.model.fields import STRICT, WRITTEN_OUT
from sequencer.model.marks import Tool
from sequencer.model.workshop import Gate, Operator, Supervision

CHECKS_ON_A_CARD = 2
"""Checks of a step that the job card has, besides those that say `card`; the station card has all."""

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

ComesIn = Literal["ends", "edge", "anywhere"]
"""How a tool gets into its cut: it runs in at one end and out at the other; it comes in from an edge, an end or a hole that is
there, and goes right through; or it is driven in wherever its cut is wanted, or bores its own way in."""

COMES_IN: Mapping[str, ComesIn] = {
    "saw-pass": "ends",
    "plane": "ends",
    "rout": "ends",
    "crosscut": "edge",
    "saw-to-line": "edge",
    "sand": "edge",
}
"""How a tool gets in where its operation does not say, by what it does to the wood; any other gets in anywhere."""

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
        Where the work brings pieces together: what the job card says once they are, behind how they go in and where cramps press;
        eight at most at any one bench and to any one piece.
    again
        Where each piece is fixed before the next goes in: `card_after` then follows the first, and this each further one. Where
        one step makes several of its kinds, one after the other: the method is said for the first, this for each further one.
        Three at most at any one bench and to any one piece.
    first_for
        Sentences said before all others, on both cards, where the operation makes one kind of its several: {length: [...]}. With
        `again`, those of a further kind stand before it.
    last_for
        Sentences said of one kind after the method, on both cards, before what a further kind needs.
    where
        Sentences of the lists, or of `if_wrong`, that are left out unless a figure is more than 0: {joint.captured: [...]}.
    """

    __pydantic_config__ = STRICT
    card: Annotated[tuple[str, ...], Field(max_length=5)] = ()
    card_after: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    first_for: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    last_for: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
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
    comes_in
        How its tool gets into the cut, where that does not follow from `cut`.
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
    rolled_up
        Its pieces are laid in a row, taped and rolled up; the card says so instead of how each is brought to the others.
    shown_as
        The ways of work (`ways_shown`) that students are shown by themselves before they do it: of its station by their names,
        of another by both, `hand-planing/shooting-board`; that station is shown then too.
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
    comes_in: ComesIn | Literal[""] = ""
    lies: Lies | None = None
    leaves: tuple[Residue, ...] = ()
    in_the_long: Literal["never", "may", "always"] = "never"
    spoils_edge_tools: bool = False
    rolled_up: bool = False
    shown_as: tuple[str, ...] = ()
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
    def way_in(self) -> ComesIn:
        """How its tool gets into the cut."""
        return self.comes_in or COMES_IN.get(self.cut, "anywhere")

    @property
    def wrong_sentences(self) -> tuple[str, ...]:
        """What to do if it went wrong, sentence by sentence."""
        return tuple(re.split(r"(?<=[.?!]) ", self.if_wrong))

    @property
    def all_tools(self) -> tuple[str, ...]:
        """The tools of the work and of its checks, each once."""
        return tuple(dict.fromkeys((*self.tools, *(tool for check in self.checks for tool in check.tools))))
