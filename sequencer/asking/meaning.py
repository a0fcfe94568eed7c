"""What the words of a question mean: a name of the knowledge, kinds of work, and what is said of the piece."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sequencer.features import feature_kinds
from sequencer.findings import Finding, Unusable
from sequencer.knowledge.forms.terms import Term
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.materials import all_names, find_material
from sequencer.model.quantities import Figures
from sequencer.model.work import WORK_KINDS
from sequencer.reading.words import meant

SAID: tuple[tuple[str, Figures], ...] = (
    ("stopped at both ends", {"feature.stopped": 2.0}),
    ("stopped", {"feature.stopped": 1.0}),
    ("through", {"feature.through": 1.0, "feature.stopped": 0.0}),
    ("blind", {"feature.through": 0.0}),
    ("across the grain", {"feature.along-grain": 0.0, "feature.end-grain": 1.0}),
    ("across grain", {"feature.along-grain": 0.0, "feature.end-grain": 1.0}),
    ("along the grain", {"feature.along-grain": 1.0, "feature.end-grain": 0.0}),
    ("along grain", {"feature.along-grain": 1.0, "feature.end-grain": 0.0}),
    ("open", {"feature.open": 1.0}),
    ("closed", {"feature.open": 0.0}),
    ("countersunk", {"feature.countersunk": 1.0, "feature.counterbored": 0.0}),
    ("counterbored", {"feature.counterbored": 1.0, "feature.countersunk": 0.0}),
    ("plain", {"feature.counterbored": 0.0, "feature.countersunk": 0.0, "feature.head-diameter": 0.0}),
    ("sheet", {"part.sheet": 1.0}),
    ("plywood", {"part.sheet": 1.0}),
    ("round stock", {"part.round": 1.0}),
    ("dowel rod", {"part.round": 1.0}),
)
"""What may be said of the work, longest first where one holds another, and the figures it settles."""

_ASK = (
    "Ask for a kind of feature or work, a station, an operation, a hazard, a material, a glue or a finish; "
    "`sequencer knowledge stations` and the like list them."
)

_FILLERS = frozenset(
    ["a", "an", "the", "of", "in", "on", "with", "for", "and", "to", "how", "do", "i", "make", "cut", "way", "ways"]
)


@dataclass(frozen=True)
class Named:
    """A thing of the knowledge: what it is (`station`, `operation`, `hazard`, `material`, `glue`, `finish`), its name, its
    title."""

    what: str
    name: str
    title: str


@dataclass(frozen=True)
class Meant:
    """What a question means: one thing by its name, or kinds of work with what is said of them, or things that match.

    unused
        Words that nothing was made of.
    """

    thing: Named | None = None
    kinds: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
    figures: Figures | None = None
    matches: tuple[Named, ...] = ()
    unused: tuple[str, ...] = ()


def things(knowledge: Knowledge) -> tuple[Named, ...]:
    """Everything that can be asked for by name."""
    return tuple(_things(knowledge))


def _things(knowledge: Knowledge) -> Iterator[Named]:
    for name, kind in sorted(knowledge.stations.items()):
        yield Named("station", name, kind.name)
    for kind in knowledge.stations.values():
        for name, operation in kind.operations.items():
            yield Named("operation", name, operation.name)
    for name, hazard in sorted(knowledge.hazards.items()):
        yield Named("hazard", name, hazard.name)
    for name, material in sorted(knowledge.materials.items()):
        yield Named("material", name, material.name)
    for name, glue in sorted(knowledge.glues.items()):
        yield Named("glue", name, glue.name)
    for name, finish in sorted(knowledge.finishes.items()):
        yield Named("finish", name, finish.name)
    for name, region in sorted(knowledge.regions.items()):
        yield Named("region", name, region.name)


def understand(question: str, knowledge: Knowledge) -> Meant:
    """What a question means. Unusable, with the nearest names, if nothing in the knowledge matches any of its words."""
    text = " ".join(question.lower().split())
    if not text:
        raise Unusable([Finding("error", "not-known", "knowledge", "Nothing is asked for.", remedy=_ASK)])
    every = things(knowledge)
    for key, region in knowledge.regions.items():
        if text in (code.lower() for code in region.codes):
            return Meant(thing=Named("region", key, region.name))
    if not any(text in (thing.name, thing.title.lower()) for thing in every):
        text = in_our_words(text, knowledge.terms)
    kinds = _kind_words()
    for thing in every:
        if thing.what != "material" and (text.replace(" ", "-") == thing.name or text == thing.title.lower()):
            return Meant(thing=thing)
    named = find_material(question, knowledge.materials).names
    if named and text.replace(" ", "-") not in kinds:
        woods = tuple(each for each in every if each.what == "material" and each.name in named)
        return Meant(thing=woods[0]) if len(woods) == 1 else Meant(matches=woods)
    said, figures, rest = _said(text)
    words = _words(rest)
    found = [name for name, known in kinds.items() if known <= words]
    found = [name for name in found if not any(kinds[name] < kinds[other] for other in found)]
    if found:
        unused = words - _FILLERS - {word for name in found for word in kinds[name]}
        whole = tuple(
            each for each in every if each.what == "operation" and words - _FILLERS <= _words(f"{each.name} {each.title}")
        )
        if unused and whole:
            return Meant(matches=whole)
        return Meant(kinds=tuple(sorted(found)), said=said, figures=figures, unused=tuple(sorted(unused)))
    words -= _FILLERS
    regional = {kind.station: _words(" ".join(kind.words.values())) for kind in knowledge.stations.values()}
    scored = [(len(words & (_words(f"{each.name} {each.title}") | regional.get(each.name, set()))), each) for each in every]
    best = max((score for score, _ in scored), default=0)
    if best:
        return Meant(matches=tuple(each for score, each in scored if score == best))
    names = [*(each.name for each in every), *kinds, *all_names(knowledge.materials)]
    near = dict.fromkeys(meant(word, names) for word in (text.replace(" ", "-"), *sorted(words)))
    near_ones = " ".join(each for each in near if each.startswith("Did you mean"))
    raise Unusable(
        [
            Finding(
                "error",
                "not-known",
                question,
                f"The knowledge has nothing that is called '{question}'.",
                remedy=near_ones or _ASK,
            )
        ]
    )


def in_our_words(text: str, terms: Mapping[str, Term]) -> str:
    """A text in small letters with words of other regions replaced by ours, the longest first."""
    pairs = {other.lower(): name.lower() for name, term in terms.items() for other in term.elsewhere}
    for other in sorted(pairs, key=len, reverse=True):
        text = re.sub(rf"\b{re.escape(other)}(s?)\b", rf"{pairs[other]}\1", text)
    return text


def _said(text: str) -> tuple[tuple[str, ...], Figures, str]:
    """What is said of the work, the figures that settles, and the rest of the text."""
    said: list[str] = []
    figures: dict[str, float] = {}
    for phrase, settled in SAID:
        if re.search(rf"\b{phrase}\b", text):
            said.append(phrase)
            figures = {**settled, **figures}
            text = re.sub(rf"\b{phrase}\b", " ", text)
    return tuple(said), figures, text


def _kind_words() -> Mapping[str, frozenset[str]]:
    """The words that name each kind of feature and kind of work."""
    names = {name: _words(name) for name in (*feature_kinds(), *WORK_KINDS)}
    return {name: frozenset(words) for name, words in names.items()}


def _words(text: str) -> set[str]:
    """The words of a text, in the singular."""
    return {_singular(word) for word in re.findall(r"[a-z0-9]+", text.lower())}


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
