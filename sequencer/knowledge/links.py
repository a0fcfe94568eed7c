"""What files of the knowledge name must exist: names of the lists, figures in limits, sentences that begin with a listed verb.

Every check notes an error at the place in the file where the name stands. What is checked once here need not be asked again by
planning or print.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from sequencer.knowledge import wording
from sequencer.knowledge.forms.jigs import Jig
from sequencer.knowledge.forms.operations import Limit
from sequencer.model.quantities import QUANTITIES
from sequencer.reading.expressions import ExpressionError, parse
from sequencer.reading.report import Report
from sequencer.reading.tree import Steps
from sequencer.reading.words import in_short, meant

COMPARISONS = ("at_least", "at_most", "more_than", "less_than")

FROM_GLUE = frozenset({"station.open-time", "station.cramp-time", "station.cure-time", "station.coldest"})
"""Station figures that a glue or finish gives and no station kind declares."""


@dataclass(frozen=True)
class Names:
    """What there is to refer to; verbs in lower case."""

    guards: Collection[str]
    holding: Collection[str]
    wear: Collection[str]
    forbidden: Collection[str]
    """Things to wear that have a line for not wearing them."""
    hazards: Collection[str]
    verbs: Collection[str]
    bits: Collection[str]
    sized: Collection[str]
    """Tools that come in sizes."""
    jigs: Mapping[str, Jig]
    ghs: Collection[str]
    signs: Collection[str]
    """Safety signs of lists/signs.yaml."""
    sign_drawings: Collection[str]
    """Drawings in `cards/signs`."""
    guard_drawings: Collection[str]
    """Drawings in `cards/guards`."""
    tools: Collection[str] | None
    """What operations have laid out; None while a station file cannot be read."""
    before: Collection[str] | None
    """What is read at stations before starting; None while a station file cannot be read."""


def check_names(report: Report, what: str, used: Iterable[str], known: Collection[str], steps: Steps) -> None:
    """Every name used is known."""
    for number, name in enumerate(used):
        check_name(report, what, name, known, (*steps, number))


def check_name(report: Report, what: str, name: str, known: Collection[str], steps: Steps) -> None:
    """A name used is known."""
    if name not in known:
        report.error("unknown-name", steps, f"There is no {what} called '{name}'.", remedy=meant(name, known))


def check_sentences(report: Report, sentences: Iterable[str], names: Names, steps: Steps) -> None:
    """Every sentence is one short imperative."""
    for number, sentence in enumerate(sentences):
        for fault in wording.imperative_faults(sentence, names.verbs):
            report.error(
                "sentence",
                (*steps, number),
                fault,
                "Cards are read by people who find reading hard.",
                "Write one short sentence that starts with one verb of lists/verbs.yaml.",
            )


def check_stop_when(report: Report, lines: Iterable[str]) -> None:
    """What makes everybody stop is said in short lines."""
    for number, line in enumerate(lines):
        if fault := wording.too_long(line):
            report.error("sentence", ("stop_when", number), fault, "It is read in a hurry.", "Say it shorter.")


def check_limit(report: Report, limit: Limit, figures: Collection[str], at: Steps, *, sourced: bool = True) -> Iterable[str]:
    """One comparison between known figures, said and sourced. Gives the figures it names."""
    stated = [key for key in COMPARISONS if getattr(limit, key)]
    if len(stated) != 1:
        report.error(
            "comparison",
            at,
            f"A limit has exactly one of {in_short(COMPARISONS)}; this has {in_short(stated) or 'none'}.",
            remedy="Write one limit for each comparison.",
        )
    for key in ("says", "source") if sourced else ("says",):
        if not getattr(limit, key):
            report.error("missing", at, f"'{key}' is missing.", "A limit is printed with its reason and source.", "Add it.")
    check_name(report, "figure", limit.of, QUANTITIES, (*at, "of"))
    return [name for key in ("of", *stated) for name in names_in(report, getattr(limit, key), figures, (*at, key))]


@cache
def _named(text: str) -> tuple[str, ...]:
    """The names in an expression. ExpressionError if it is none."""
    return tuple(parse(text, QUANTITIES).names)


def names_in(report: Report, text: str, figures: Collection[str], at: Steps) -> Iterator[str]:
    """The names in an expression, each a known figure; a station's figure declared by its kind."""
    try:
        names = _named(text)
    except ExpressionError as error:
        report.error("expression", at, str(error))
        return
    for name in names:
        check_name(report, "figure", name, QUANTITIES, at)
        if name.startswith("station.") and name in QUANTITIES and name not in figures and name not in FROM_GLUE:
            report.error(
                "unknown-figure",
                at,
                f"'{name}' is not among the figures of this station.",
                "Nobody would be asked for it, so it would never be known.",
                "Declare it under figures.",
            )
        yield name
