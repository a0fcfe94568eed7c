"""Parts that are like another but for something (`based_on`) are written out in full before anything else is read.

What comes from the other part keeps the mark of the place where it was typed, so that an error is told there, once.
"""

from __future__ import annotations

from sequencer.reading.job_file import PartForm, VariantForm
from sequencer.reading.report import Report
from sequencer.reading.tree import Data, Mark, Steps, Tree
from sequencer.reading.words import meant

LONGEST = 10
"""Parts each based on the next."""


def written_out(report: Report) -> Tree:
    """The job's tree without any `based_on`; errors are noted in the report, and such a part is left out."""
    tree = report.tree
    parts = tree.at(("parts",))
    if not isinstance(tree.data, dict) or not isinstance(parts, dict):
        return tree
    marks = dict(tree.marks)
    done: dict[str, Data] = {}
    told: set[str] = set()
    for name in parts:
        _write_out(name, (), parts, done, told, marks, report)
    return Tree(tree.file, {**tree.data, "parts": {name: done[name] for name in parts if name in done}}, marks)


def _write_out(
    name: str,
    chain: tuple[str, ...],
    parts: dict[str, Data],
    done: dict[str, Data],
    told: set[str],
    marks: dict[Steps, Mark],
    report: Report,
) -> None:
    """Adds the part `name` to `done`, after those it is based on; or to `told`, if it stands in a loop that was told."""
    raw = parts[name]
    if name in done or name in told:
        return
    if not isinstance(raw, dict) or "based_on" not in raw:
        done[name] = raw
        return
    steps: Steps = ("parts", name)
    misplaced = [key for key in raw if key in PartForm.model_fields and key not in VariantForm.model_fields]
    for key in misplaced:
        report.error("misplaced-key", (*steps, key), f"'{key}' stands beside 'based_on'.", remedy="Put it under 'change:'.")
    variant = report.form(VariantForm, {key: value for key, value in raw.items() if key not in misplaced}, steps)
    if variant is None:
        return
    base = variant.based_on
    if base not in parts:
        report.error("unknown-name", (*steps, "based_on"), f"There is no part '{base}'.", remedy=meant(base, parts))
        return
    if base in (*chain, name):
        loop = (*chain, name)[(*chain, name).index(base) :]
        report.error("loop", (*steps, "based_on"), f"The parts are based on each other: {' -> '.join((*loop, base))}.")
        told.update(loop)
        return
    if len(chain) >= LONGEST:
        report.error("too-deep", (*steps, "based_on"), f"Over {LONGEST} parts are based on each other in a row.")
        return
    _write_out(base, (*chain, name), parts, done, told, marks, report)
    original = done.get(base)
    if not isinstance(original, dict):
        return
    features = original.get("features")
    for position, feature in enumerate(variant.without):
        if not isinstance(features, dict) or feature not in features:
            at = (*steps, "without", position) if isinstance(raw.get("without"), list) else (*steps, "without")
            remedy = meant(feature, features if isinstance(features, dict) else ())
            report.error("unknown-name", at, f"The part '{base}' has no feature '{feature}'.", remedy=remedy)
    whole = _copy(original, ("parts", base), steps, marks)
    if isinstance(left := whole.get("features"), dict):
        whole["features"] = {key: value for key, value in left.items() if key not in variant.without}
    change = raw.get("change", {})
    if isinstance(change, dict):
        whole = _merge(whole, change, (*steps, "change"), steps, marks)
    if "note" in raw:
        whole["note"] = raw["note"]
    done[name] = whole


def _copy(value: dict[str, Data], old: Steps, new: Steps, marks: dict[Steps, Mark]) -> dict[str, Data]:
    """The mapping again under a new way, with the marks of where it was typed."""
    for key, inner in value.items():
        _mark_again(inner, (*old, key), (*new, key), marks)
    return dict(value)


def _mark_again(value: Data, old: Steps, new: Steps, marks: dict[Steps, Mark]) -> None:
    if old in marks:
        marks[new] = marks[old]
    if isinstance(value, dict):
        for key, inner in value.items():
            _mark_again(inner, (*old, key), (*new, key), marks)
    elif isinstance(value, list):
        for position, inner in enumerate(value):
            _mark_again(inner, (*old, position), (*new, position), marks)


def _merge(base: dict[str, Data], change: dict[str, Data], old: Steps, new: Steps, marks: dict[Steps, Mark]) -> dict[str, Data]:
    """The base with the changes put in: mappings into mappings, all else replaced. A feature of another kind replaces."""
    whole = dict(base)
    for key, value in change.items():
        before = whole.get(key)
        if isinstance(value, dict) and isinstance(before, dict) and value.get("kind", before.get("kind")) == before.get("kind"):
            marks[(*new, key)] = marks[(*old, key)]
            whole[key] = _merge(before, value, (*old, key), (*new, key), marks)
        else:
            _mark_again(value, (*old, key), (*new, key), marks)
            whole[key] = value
    return whole
