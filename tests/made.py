"""The examples read, planned and carried out once for all tests, with the real knowledge and workshops."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache, wraps
from inspect import signature
from pathlib import Path
from typing import ParamSpec, TypeVar

from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.model.job import Job
from sequencer.model.plan import Plan
from sequencer.model.workshop import Workshop
from sequencer.paper.pages import Drawings
from sequencer.planning.planner import make_plan
from sequencer.proving.making import Making, carry_out
from sequencer.proving.record import with_record
from sequencer.reading.job import read_job
from sequencer.reading.workshop import read_workshop

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ("herb-caddy", "nest-box", "step-stool", "picture-frame")
WORKSHOPS = ("full", "hand-tools")

_P = ParamSpec("_P")
_T = TypeVar("_T")


def once(make: Callable[_P, _T]) -> Callable[_P, _T]:
    """What a function makes, made once for all tests: what is left out counts as if its default were given."""
    known, asks = cache(make), signature(make)

    @wraps(make)
    def made(*args: _P.args, **kwargs: _P.kwargs) -> _T:
        asked = asks.bind(*args, **kwargs)
        asked.apply_defaults()
        return known(*asked.args)

    return made


@cache
def knowledge() -> Knowledge:
    """The shipped knowledge."""
    return load_knowledge()


@cache
def job(name: str) -> Job:
    """An example's job, or a job file's by its path from the root."""
    path = ROOT / name if name.endswith(".yaml") else ROOT / "examples" / name / "job.yaml"
    return read_job(path)[0]


@once
def workshop(name: str = "full") -> Workshop:
    """An example workshop."""
    return read_workshop(ROOT / "examples" / "workshops" / f"{name}.yaml")[0]


@once
def plan(name: str, shop: str = "full") -> Plan:
    """The plan of a job in an example workshop. Refused passes through."""
    return make_plan(job(name), workshop(shop), knowledge())


@once
def making(name: str, shop: str = "full") -> Making:
    """The plan of a job carried out on solids. Refused passes through."""
    return carry_out(plan(name, shop), job(name))


@once
def proved(name: str, shop: str = "full") -> Plan:
    """The plan of a job with the record of its proof. Refused passes through."""
    return with_record(plan(name, shop), making(name, shop))


@once
def drawings(name: str, shop: str = "full") -> Drawings:
    """The pictures of a job's steps, each drawn once for all tests. Refused passes through."""
    return Drawings(proved(name, shop), job(name), making(name, shop), {})


def without_guard(shop: Workshop, guard: str) -> Workshop:
    """The workshop with a guard taken off every station, extraction included."""
    return replace(
        shop,
        stations={
            name: replace(
                station,
                guards=tuple(each for each in station.guards if each != guard),
                extraction=station.extraction and guard != "dust-extraction",
            )
            for name, station in shop.stations.items()
        },
    )


def without_station_kind(shop: Workshop, kind: str) -> Workshop:
    """The workshop without the stations of a kind."""
    return replace(shop, stations={name: station for name, station in shop.stations.items() if station.kind != kind})
