"""What every text of the knowledge keeps: it promises nothing, and its sources can be looked up."""

from __future__ import annotations

import re

from sequencer.knowledge import wording
from sequencer.reading.report import Report
from sequencer.reading.tree import Data, Steps

TITLES = ("source", "sources", "regulator", "laws")
"""Keys that hold titles and names which are not ours."""


def check_promises(report: Report, data: Data, steps: Steps = ()) -> None:
    """No text says that something is safe, compliant or approved; titles of sources may."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in TITLES:
                check_promises(report, value, (*steps, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            check_promises(report, value, (*steps, number))
    elif word := wording.promise(data):
        report.error(
            "promise",
            steps,
            f"The text says '{word}'.",
            "No sheet may promise that; law, school and qualified staff decide.",
            "Say what to do or to check instead.",
        )


MARKED = re.compile(r"^(common practice|from memory|plain geometry)\b", re.IGNORECASE)
"""What a source starts with that names no publication."""
_LEAST_WORDS = 3


def leads_nowhere(source: str) -> bool:
    """Whether nobody could look a source up: it is not marked, and a word or two without a number; or an address, which moves."""
    vague = len(source.split()) < _LEAST_WORDS and not re.search(r"\d", source)
    return not MARKED.match(source) and (vague or "://" in source or source.startswith("www."))


def check_sources(report: Report, data: Data, steps: Steps = (), *, source: bool = False) -> None:
    """Every source is marked or can be looked up; an empty one belongs to nothing."""
    if isinstance(data, dict):
        for key, value in data.items():
            check_sources(report, value, (*steps, key), source=key in ("source", "sources") or key.endswith("_source"))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            check_sources(report, value, (*steps, number), source=source)
    elif source and data and leads_nowhere(data):
        report.error(
            "source",
            steps,
            f"The source '{data}' leads nowhere.",
            "A figure counts for as much as what it rests on, and somebody must be able to look it up.",
            "Name title and place, or say who measured it on what and when; or start with 'common practice' or 'from memory'.",
        )
