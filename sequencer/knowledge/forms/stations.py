"""The form of a file of `operations/`: one kind of station with its figures and operations."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from pydantic import Field

from sequencer.knowledge.forms.fields import NotNegative, Text
from sequencer.knowledge.forms.operations import Lies, Limit, Operation, WhoDefault
from sequencer.model.fields import STRICT

Watched = Literal["", "edge-tools", "hand-saws", "gluing", "benches"]
Power = Literal["machine", "powered-hand", "hand", "bench"]

Setter = Literal["student", "staff"]
"""Who sets a station, the looser first. A station that nobody sets would be one whose setting no step asks for."""
SETTERS: tuple[Setter, ...] = ("student", "staff")


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
class StationKind:
    """A file of `operations/`: one kind of station and its operations, by name.

    power
        `machine`: fixed and powered; `powered-hand`: a powered tool held in the hand; `hand`: muscle only; `bench`: a
        place where nothing cuts (marking, gluing, finishing).
    watched
        Of a station without a motor, what an adult watches there: which figure of `lists/working-figures.yaml` says how many at a
        time. Empty: the strictest of them.
    own_tools
        Of a station without a motor, the tools that students are shown here. Who uses one at another such station is watched as
        here, and has been shown this station first, where the plan comes to it.
    ways_shown
        Ways of work here that are so unlike the others that they are taught by themselves, in words that stand behind the
        station's name on paper: whoever is shown the station is shown each of these too, before its own first use.
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
    watched: Watched = ""
    own_tools: tuple[Text, ...] = ()
    ways_shown: Mapping[str, Text] = field(default_factory=dict)
    set_up_by: Setter = "staff"
    lies: Lies = field(default_factory=Lies)
    noise: Figure | None = None
    smallest: Text
    hands: Text
    before_starting: Annotated[tuple[str, ...], Field(min_length=1)]
    stop_when: Annotated[tuple[str, ...], Field(min_length=1)]
    seen_at_sign_off: tuple[str, ...] = ()
    """What a student does, unasked, before staff sign that they can use it; without any the first of `before_starting`."""
    hazards: tuple[str, ...] = ()
    wear: tuple[str, ...] = ()
    operations: Annotated[Mapping[str, Operation], Field(min_length=1)]
    sources: Annotated[tuple[str, ...], Field(min_length=1)]

    @property
    def cuts_by_hand(self) -> bool:
        """Whether what is watched here is edge tools or hand saws."""
        return self.watched in ("edge-tools", "hand-saws")
