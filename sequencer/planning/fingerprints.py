"""Short hashes of what the steps show, by which a sheet is known to be of another plan."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256

from sequencer.model.plan import Reason, Step


def fingerprints(steps: tuple[Step, ...], reasons: tuple[Reason, ...]) -> dict[str, str]:
    """A short hash of what each step shows, and of the whole plan as `job`."""
    prints = {step.id: _hash(repr(replace(step, number=0))) for step in steps}
    return {"job": _hash(repr((sorted(prints.items()), reasons))), **prints}


def _hash(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:8]
