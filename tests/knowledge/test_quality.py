"""What every file of operations/, hazards/ and the lists must keep, whoever adds it: names, figures, sentences, words.

The loader refuses dangling names, unknown keys and long sentences; what it would take and a reader would not is looked at
here. Sentences are read as they are printed, with figures in place of {figures}.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from sequencer.features import Feature, feature_kinds
from sequencer.knowledge.forms.glues import FinishKind
from sequencer.knowledge.forms.hazards import Hazard
from sequencer.knowledge.forms.operations import CheckLine, Operation
from sequencer.knowledge.forms.stations import StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.settings import SETTINGS, Request
from sequencer.knowledge.text_checks import MARKED, TITLES, leads_nowhere
from sequencer.knowledge.wording import MOST_WORDS, PLACEHOLDER, imperative_faults, promise, sentences_of, told_faults
from sequencer.model.plan import Check
from sequencer.model.quantities import QUANTITIES
from sequencer.model.work import WORK_KINDS
from sequencer.paper.wording import check_words, heading
from sequencer.reading.expressions import ExpressionError, parse
from tests.features.samples import all_samples, block_of
from tests.made import knowledge
from tests.reading_level import grade

KNOWLEDGE = knowledge()
VERBS = frozenset(verb.lower() for verb in KNOWLEDGE.verbs)
OPERATIONS = [(kind, name, operation) for kind in KNOWLEDGE.stations.values() for name, operation in kind.operations.items()]
MOST_GRADE, MOST_GRADE_OF_ADULTS = 6.0, 12.0
"""Highest reading grades: age 11 to 12 for students; the end of school for the notes for adults."""

FOR_STAFF = {"respirator", *KNOWLEDGE.staff_steps}
"""Whose lines only staff read: a respirator is not for a class, and staff alone set machines."""
STANDARD = "/ghs/"
"""Where the words are the standard's own, as they stand on labels."""

WORDS = {
    "part": "A",
    "name": "back groove",
    "face": "inside",
    "behind": "outside",
    "from": "bottom",
    "from-face": "bottom edge",
    "side": "face side",
}
WORDS |= {
    "enters": "B",
    "takes": "A",
    "beside": "the next piece",
    "glued": "on both faces that meet",
    "over": "both A",
    "rail": "B",
}
COMPARED = ("at_least", "at_most", "more_than", "less_than")
TYPICAL = 20.0
"""A figure that nothing gives here, in its own unit."""

EDGED = frozenset({"saw-pass", "crosscut", "saw-to-line", "bore", "rout", "plane", "chisel", "turn", "sand"})

PROPER = {
    *("V-block", "V-shaped", "G-cramp", "PVA", "MDF", "OSB", "UV", "CO2", "LED", "RCD", "Forstner"),
    *("European", "American", "Scots", "Norway", "Australian", "English", "Baltic", "New", "Zealand", "Australia"),
    *("GHS", "ISO", "EN", "Celsius", "Staff", "MAN"),
    *("Great", "Britain", "Northern", "Ireland", "Kingdom", "States", "Union", "Victoria"),
    *("Lebanon", "Columbian"),
}
"""Words with a capital that no sentence begins and that name no maker: abbreviations of the trade, standards, countries and
the people a trade term is called after."""
CODE = re.compile(r"[A-Z]{1,4}\d+[\w+]*|[A-Z]\b")
"""Grades of abrasive and codes of standards: P120, H317, FFP3; a letter by itself."""


def texts(value: object, place: str = "", key: str = "") -> Iterator[tuple[str, str]]:
    """Every text of ours in the knowledge with its place; titles of sources and laws and botanical names are not ours."""
    if key in ("botanical", *TITLES) or key.endswith("_source"):
        return
    if isinstance(value, str):
        yield place, value
    elif is_dataclass(value):
        for item in fields(value):
            yield from texts(getattr(value, item.name), f"{place}/{item.name}", item.name)
    elif isinstance(value, Mapping):
        for name, each in value.items():
            yield from texts(each, f"{place}/{name}", key)
    elif isinstance(value, tuple):
        for each in value:
            yield from texts(each, place, key)


def sources(value: object, place: str = "") -> Iterator[tuple[str, str]]:
    """Every source in the knowledge with its place."""
    if is_dataclass(value):
        for item in fields(value):
            inside = getattr(value, item.name)
            if item.name.endswith(("source", "sources")):
                yield from ((place, text) for text in ((inside,) if isinstance(inside, str) else inside))
            else:
                yield from sources(inside, f"{place}/{item.name}")
    elif isinstance(value, Mapping):
        for name, each in value.items():
            yield from sources(each, f"{place}/{name}")
    elif isinstance(value, tuple):
        for each in value:
            yield from sources(each, place)


def unsourced(value: object, place: str, sourced: bool) -> Iterator[str]:
    """The places of figures with no source beside them or around them."""
    if isinstance(value, bool):
        return
    if isinstance(value, (int, float)) and not sourced:
        yield place
    elif is_dataclass(value):
        own = sourced or any(getattr(value, key, ()) for key in ("source", "sources"))
        for item in fields(value):
            yield from unsourced(getattr(value, item.name), f"{place}/{item.name}", own)
    elif isinstance(value, Mapping):
        for name, each in value.items():
            yield from unsourced(each, f"{place}/{name}", sourced)
    elif isinstance(value, tuple):
        for each in value:
            yield from unsourced(each, place, sourced)


def said_by(operation: Operation) -> tuple[str, ...]:
    """Every sentence of an operation's instructions."""
    said = operation.instructions
    first = (sentence for sentences in said.first_for.values() for sentence in sentences)
    return (*first, *said.card, *said.set, *said.hold, *said.guard, *said.cut, *said.check)


def said_of(check: CheckLine) -> tuple[str, str]:
    """A check as the cards print it: what and how close, and how to see it."""
    whole = check_words(Check(check.what, check.how, check.limit))
    how = f"{heading(check.how)}."
    return whole.removesuffix(f" {how}"), how


def plainly(text: str) -> str:
    """A sentence as it is printed, with a usual figure for each {figure}."""
    return PLACEHOLDER.sub(lambda found: WORDS.get(found[1], "6 mm"), text)


def lines() -> Iterator[tuple[str, str]]:
    """Every single line for students that is one imperative, with its place, besides the instructions."""
    for kind in KNOWLEDGE.stations.values():
        yield from ((kind.station, line) for line in kind.before_starting)
        yield from ((f"{kind.station}/hands", line) for line in sentences_of(kind.hands))
    for things in (KNOWLEDGE.guards, KNOWLEDGE.holding, KNOWLEDGE.wear):
        yield from ((name, item.line) for name, item in things.items())
    yield from ((f"{name}/not", item.forbidden_line) for name, item in KNOWLEDGE.wear.items() if item.forbidden_line)
    yield from ((name, line) for name, work in KNOWLEDGE.waiting_work.items() for line in work.does)
    for name, step in KNOWLEDGE.staff_steps.items():
        yield from (
            (name, line)
            for line in (
                *step.first,
                *step.last,
                *(each for said in step.last_for.values() for each in said),
                *sentences_of(step.guard_line),
                *sentences_of(step.if_wrong),
            )
        )


def imperative(sentence: str) -> bool:
    """Whether a sentence tells to do one thing, or not to do it."""
    return not list(told_faults(sentence, VERBS))


def typical(kind: StationKind, operation: Operation, made: str) -> Iterator[dict[str, float]]:
    """Figures of a usual piece for each sample of a kind of feature that an operation is meant for."""
    known = dict.fromkeys(QUANTITIES, TYPICAL) | {"feature.gauge": 8.0, "finish.coats": 2.0}
    known |= {f"station.{name}": figure.default for name, figure in kind.figures.items() if figure.default is not None}
    samples: list[Feature | None] = [each for each in all_samples() if each.kind == made] or [None]
    for sample in samples:
        figures = known | (sample.figures(block_of(sample.kind)) if sample is not None else {})
        if sample is None or all(holds(limit, figures) for limit in operation.applies if limit.of.startswith("feature.")):
            yield figures


def holds(limit: Any, figures: Mapping[str, float]) -> bool:
    comparison = next(key for key in COMPARED if getattr(limit, key))
    have = figures[limit.of]
    try:
        asked = parse(getattr(limit, comparison), QUANTITIES).value(figures)
    except ExpressionError:
        return False
    return {"at_least": have >= asked, "at_most": have <= asked, "more_than": have > asked, "less_than": have < asked}[comparison]


def each_operation() -> list[Any]:
    return [pytest.param(kind, operation, id=f"{kind.station}-{name}") for kind, name, operation in OPERATIONS]


@pytest.mark.parametrize(("kind", "operation"), each_operation())
def test_instructions_render_for_a_typical_piece_of_every_kind(kind: StationKind, operation: Operation) -> None:
    function = SETTINGS[operation.settings]
    for made in operation.makes:
        for figures in typical(kind, operation, made):
            request = Request(
                figures,
                operation.use,
                (400.0, 800.0, 1600.0),
                "softwood",
                WORDS,
                KNOWLEDGE.screws,
                KNOWLEDGE.drill_bits,
                KNOWLEDGE.cutter_speeds,
            )
            settings = {f"setting.{setting.name}": setting.text for setting in function.work(request)}
            assert not [name for name, text in settings.items() if "{" in text or "}" in text]
            printed = {**dict.fromkeys(figures, "6 mm"), **WORDS, **settings}
            checks = [getattr(check, key) for check in operation.checks for key in ("what", "how", "limit")]
            optional = {f"setting.{name}" for name in function.optional}
            for text in (*said_by(operation), *checks, operation.stop, operation.if_wrong, operation.feed):
                assert set(PLACEHOLDER.findall(text)) <= {*printed, *optional}, f"{made}: {text}"
                assert not {"{", "}"} & set(PLACEHOLDER.sub("", text)), text


@pytest.mark.parametrize(("kind", "operation"), each_operation())
def test_what_cuts_warns_guards_and_holds(kind: StationKind, operation: Operation) -> None:
    if operation.cut not in EDGED:
        return
    hazards = [KNOWLEDGE.hazards[name] for name in dict.fromkeys((*operation.hazards, *kind.hazards))]
    filed = operation.cut == "sand" or any(tool.endswith(("rasp", "file")) for tool in operation.tools)
    assert filed or any(hazard.blade for hazard in hazards), "no hazard of an edge"
    assert all(hazard.student for hazard in hazards)
    things = (*operation.guards.all_of, *operation.guards.any_of, *operation.holding.all_of, *operation.holding.any_of)
    assert things, "neither guard nor holding"
    if kind.power == "machine":
        assert operation.guards.all_of, "a machine without a guard"
    assert all((KNOWLEDGE.guards.get(name) or KNOWLEDGE.holding[name]).line for name in things)


@pytest.mark.parametrize(("kind", "operation"), each_operation())
def test_an_operation_is_told_in_short_imperatives_that_a_class_can_read(kind: StationKind, operation: Operation) -> None:
    said = said_by(operation)
    for sentence in said:
        assert not list(imperative_faults(sentence, VERBS)), sentence
        assert plainly(sentence).endswith("."), sentence
    assert grade(" ".join(map(plainly, said))) <= MOST_GRADE
    if operation.instructions.card:
        assert grade(" ".join(map(plainly, operation.instructions.card))) <= MOST_GRADE


@pytest.mark.parametrize(("kind", "operation"), each_operation())
def test_what_to_check_where_to_stop_and_what_to_do_about_it_can_be_read(kind: StationKind, operation: Operation) -> None:
    for sentence in (*sentences_of(operation.stop), *sentences_of(operation.if_wrong)):
        assert imperative(plainly(sentence).replace("6 mm", "6")), sentence  # a figure and its unit are one word
    checks = [plainly(line) for check in operation.checks for line in said_of(check)]
    for line in checks:
        assert imperative(line.replace(" mm", "").replace(" degree", "")), line
    for said in (operation.stop, operation.if_wrong, " ".join(checks)):
        assert not said or grade(plainly(said)) <= MOST_GRADE, said


@pytest.mark.parametrize("kind", KNOWLEDGE.stations.values(), ids=list(KNOWLEDGE.stations))
def test_a_station_card_is_short_and_can_be_read(kind: StationKind) -> None:
    for line in (*kind.stop_when, *sentences_of(kind.hands)):
        assert len(line.split()) <= MOST_WORDS, line
    assert grade(" ".join((*kind.before_starting, *kind.stop_when, kind.hands))) <= MOST_GRADE


def test_every_other_line_of_a_card_is_one_short_imperative() -> None:
    assert [(place, line) for place, line in lines() if not imperative(line)] == []
    hard = [(place, line) for place, line in lines() if place not in FOR_STAFF and grade(line) > MOST_GRADE]
    assert hard == []
    assert [line for _, line in lines() if grade(line) > MOST_GRADE_OF_ADULTS] == []


@pytest.mark.parametrize("hazard", KNOWLEDGE.hazards.values(), ids=list(KNOWLEDGE.hazards))
def test_a_hazard_tells_students_what_to_do_and_adults_in_plain_words(hazard: Hazard) -> None:
    said = sentences_of(hazard.student)
    assert any(map(imperative, said)), hazard.student
    assert sum(len(sentence.split()) for sentence in said) <= MOST_WORDS
    assert grade(hazard.student) <= MOST_GRADE
    body = re.sub(r"^#.*$", "", hazard.body, flags=re.MULTILINE)
    assert grade(body) <= MOST_GRADE_OF_ADULTS


def adult_notes() -> Iterator[tuple[str, str]]:
    """Every note of ours for adults with its place, besides the bodies of hazards: stations, operations, guards, hazards, jigs,
    materials, quantities."""
    for kind in KNOWLEDGE.stations.values():
        yield from ((f"{kind.station}/what", text) for text in (kind.what, kind.smallest))
        yield from ((f"{kind.station}/{name}", figure.means) for name, figure in kind.figures.items())
        for name, operation in kind.operations.items():
            limits = (*kind.limits, *operation.limits, *operation.applies)
            yield from ((f"{name}/says", f"The piece is {limit.says}") for limit in limits)
            yield from ((name, plainly(text)) for text in (operation.if_wrong, operation.stop, operation.feed))
    for things in (KNOWLEDGE.guards, KNOWLEDGE.holding):
        yield from ((name, item.what) for name, item in things.items())
    for name, hazard in KNOWLEDGE.hazards.items():
        yield from ((name, text) for text in (hazard.happens, hazard.first_aid))
        yield from ((name, control.text) for controls in hazard.controls.values() for control in controls)
    for name, jig in KNOWLEDGE.jigs.items():
        yield from ((name, text) for text in (jig.what, jig.fastening, *jig.checks))
    yield from ((name, material.dust) for name, material in KNOWLEDGE.materials.items())
    yield from ((name, quantity.meaning) for name, quantity in QUANTITIES.items())


def test_every_note_for_adults_can_be_read() -> None:
    # Of a few words the formula says more about one long word than about the reading.
    notes = [(place, f"{text.rstrip('.')}.") for place, text in adult_notes() if len(text.split()) >= 8]
    assert len(notes) > 900
    assert [(place, text) for place, text in notes if grade(text) > MOST_GRADE_OF_ADULTS] == []


def test_every_other_text_of_ours_can_be_read_by_adults() -> None:
    known = {
        (place, f"{paragraph.rstrip('.')}.") for place, text in texts(KNOWLEDGE) for paragraph in plainly(text).split("\n\n")
    }
    long = [(place, text) for place, text in known if len(text.split()) >= 8 and not text.startswith("#")]
    assert len(long) > 3000
    hard = [(place, text) for place, text in long if grade(text) > MOST_GRADE_OF_ADULTS and not place.startswith(STANDARD)]
    assert hard == []


def test_every_kind_of_work_can_be_done_somehow() -> None:
    made = {kind for _, _, operation in OPERATIONS for kind in operation.makes}
    assert {*feature_kinds(), *WORK_KINDS} - made == set()


def test_every_figure_has_its_source() -> None:
    assert list(unsourced(KNOWLEDGE, "", False)) == []


def test_every_source_is_marked_or_can_be_looked_up() -> None:
    # A citation of one or two words ("a book") leads nowhere. Conditions of what an operation is meant for need no source.
    cited = [(place, text) for place, text in sources(KNOWLEDGE) if not MARKED.match(text) and text]
    assert len(cited) > 100
    assert [(place, text) for place, text in cited if len(text.split()) < 3 and not re.search(r"\d", text)] == []
    assert [(place, text) for place, text in cited if "://" in text or text.startswith("www.")] == []
    assert [(place, text) for place, text in cited if leads_nowhere(text)] == []


def capitals(text: str) -> list[str]:
    """Words with a capital that no sentence, item or heading begins."""
    found = []
    for piece in re.split(r"(?<=[.!?:;“\"(])\s*|\n\s*\n|\n#+ |\s[“\"(]", re.sub(r"^#+ .*$", "", text, flags=re.MULTILINE)):
        found += [word.strip(".,;:!?()”“\"'") for word in piece.split()[1:] if word[:1].isupper()]
    return [word for word in found if not CODE.fullmatch(word)]


def test_no_maker_and_no_product_is_named() -> None:
    # A title of a source may hold any name: that none of them is a maker's is for the one who adds it.
    named = {(place, word) for place, text in texts(KNOWLEDGE) for word in capitals(text) if word not in PROPER}
    assert named == set()
    marks = re.compile(r"[®™©]|\b(Ltd|Inc|GmbH|Pty|LLC)\b")
    assert [text for _, text in (*texts(KNOWLEDGE), *sources(KNOWLEDGE)) if marks.search(text)] == []


def test_nothing_is_said_to_be_safe_or_approved() -> None:
    assert [(place, text) for place, text in texts(KNOWLEDGE) if promise(text)] == []


def test_finishes_are_put_on_by_an_operation_of_their_kind() -> None:
    takes = {operation.use.get("finishes") for _, _, operation in OPERATIONS if "coat" in operation.makes}
    kinds: set[str] = {each.kind for each in KNOWLEDGE.finishes.values() if isinstance(each, FinishKind)}
    assert kinds <= takes or None in takes


def test_the_gates_see_what_they_are_for() -> None:
    assert list(imperative_faults("Try the square or measure both diagonals.", VERBS))
    assert list(imperative_faults("Hold the wood; saw slowly.", VERBS))
    assert list(imperative_faults("Hold the wood & saw it.", VERBS))
    assert list(imperative_faults("Hold the wood/saw it.", VERBS))
    assert list(imperative_faults("Hold the wood + saw it.", VERBS))
    assert list(imperative_faults("Hold the wood (press it down).", VERBS))
    assert list(imperative_faults("Hold the wood [press it down].", VERBS))
    assert all(list(imperative_faults(f"Hold the wood {dash} saw slowly.", VERBS)) for dash in "-‒–—―−")
    assert list(imperative_faults("Hold the wood—saw slowly.", VERBS))
    assert not list(imperative_faults("Hold the push-stick (in the right hand).", VERBS))
    assert list(told_faults("Never lean over it - hold the wood.", VERBS))
    verdicts = ("the safest there is", "certified", "It complies with the law.", "a risk-free cut", "Unsafe.", "in compliance")
    assert all(map(promise, verdicts))
    assert not promise("Wear safety glasses.")
    assert not list(imperative_faults("Smooth the bottom with the router plane or chisel.", VERBS))
    assert not list(imperative_faults("Choose a straight edge, square to the face side.", VERBS))
    assert capitals("Use the Quickgrip cramp. Then the other.") == ["Quickgrip"]
    assert not imperative("Splinters hurt.")
    assert imperative("Never lean over it.")
    bare = Knowledge(**{**{item.name: {} for item in fields(Knowledge)}, "cutter_speeds": (3.0,)})
    assert list(unsourced(bare, "", False)) == ["/cutter_speeds"]
