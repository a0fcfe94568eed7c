"""Nothing a school changes is looser in silence: every key of every form, and examples that once went through unsaid."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import pytest

from sequencer.findings import Unusable
from sequencer.knowledge.comparers import as_frank
from sequencer.knowledge.forms.changes import Change
from sequencer.knowledge.forms.hazards import Applies, HazardControl
from sequencer.knowledge.forms.operations import Choose, Operation
from sequencer.knowledge.forms.stations import Figure, StationKind
from sequencer.knowledge.knowledge import Knowledge
from sequencer.knowledge.loading import load_knowledge
from sequencer.knowledge.materials import largest_movement
from sequencer.knowledge.overlay import ENTRIES, changes_against
from sequencer.knowledge.strictness import COMPARERS, HARMLESS, UNSAID, looser, new_looser
from sequencer.planning.who import STRICTEST
from tests.made import knowledge

ATTRIBUTES = {"stations": "operations", "hazards": "hazards"} | {held: f"lists/{name}" for name, held in ENTRIES.items()}
"""Where the knowledge holds entries, and what their places start with."""


def put(attribute: str, name: Any, entry: Any) -> Knowledge:
    """The shipped knowledge with one entry laid over it."""
    laid: dict[str, Any] = {attribute: {**getattr(knowledge(), attribute), name: entry}}
    return replace(knowledge(), **laid)


def operation_changed(kind: str, name: str, **changed: Any) -> tuple[Change, ...]:
    station = knowledge().stations[kind]
    operations = {**station.operations, name: replace(station.operations[name], **changed)}
    return changes_against(knowledge(), put("stations", kind, replace(station, operations=operations)), {})


def station_changed(kind: str, **changed: Any) -> tuple[Change, ...]:
    return changes_against(knowledge(), put("stations", kind, replace(knowledge().stations[kind], **changed)), {})


def figure_changed(kind: str, name: str, default: float | None) -> tuple[Change, ...]:
    station = knowledge().stations[kind]
    figures = {**station.figures, name: replace(station.figures[name], default=default)}
    return station_changed(kind, figures=figures)


def entry_changed(attribute: str, name: Any, **changed: Any) -> tuple[Change, ...]:
    entry = replace(getattr(knowledge(), attribute)[name], **changed)
    return changes_against(knowledge(), put(attribute, name, entry), {})


# Every key of every form.


def others(hint: Any, value: Any) -> Iterator[Any]:
    """Other values of the same type."""
    if get_origin(hint) is Annotated:
        hint = get_args(hint)[0]
    kind, args = get_origin(hint) or hint, get_args(hint)
    if kind is Literal:
        yield from (each for each in args if each != value)
    elif kind in (Union, UnionType):
        if value is not None and NoneType in args:
            yield None
        args = tuple(get_args(arg)[0] if get_origin(arg) is Annotated else arg for arg in args)
        yield from (
            new
            for arg in args
            if arg is not NoneType and (value is None or not isinstance(arg, type) or isinstance(value, arg))
            for new in others(arg, value)
        )
    elif kind is bool:
        yield not value
    elif kind in (int, float):
        yield from ((value or 0) + 1, (value or 0) / 2 - 0.001)
    elif kind is str:
        yield from ("2031-01-01", "1999-01-01", f"{value} and more", "the maker's manual, 2019")
    elif kind is tuple:
        yield from [()] if value else []
        yield from [value[1:], (*value, next(others(args[0], value[0])))] if value else [(one,) for one in some(args[0])]
    elif issubclass(kind, Mapping):
        if value:
            first = next(iter(value))
            yield {name: each for name, each in value.items() if name != first}
            yield from ({**value, first: other} for other in others(args[1], value[first]))
        else:
            yield from ({"new": one} for one in some(args[1]))
    elif is_dataclass(kind) and value is not None:
        yield from (new for *_, new in changed(value))


def some(hint: Any) -> list[Any]:
    """A value of a plain type; none of a form, which is then found in the shipped files."""
    try:
        return list(others(hint, None))[:1]
    except TypeError:
        return []


def changed(entry: Any) -> Iterator[tuple[type, str, bool, Any]]:
    """The entry with each of its keys, and of the forms in it, read otherwise: with the form, the key, and whether a comparer
    may prove it stricter."""
    hints = get_type_hints(type(entry), include_extras=True)
    for item in fields(entry):
        value = getattr(entry, item.name)
        proven = item.name in COMPARERS.get(type(entry), {})
        if is_dataclass(value):
            for form, key, inside, new in changed(value):
                yield form, key, proven or inside, replace(entry, **{item.name: new})
        else:
            for new in others(hints[item.name], value):
                yield type(entry), item.name, proven, replace(entry, **{item.name: new})


def samples(entries: list[Any], key: str) -> list[Any]:
    """The first entries whose values of a key differ, at most twelve."""
    return list({repr(getattr(each, key)): each for each in reversed(entries)}.values())[-12:]


FORMS = {"operation": "operations", **{held: held for held in ATTRIBUTES}}


def entries_of(held: str) -> dict[Any, Any]:
    if held != "operation":
        return dict(getattr(knowledge(), held))
    return {
        (kind, name): replace(each, limits=each.limits[len(station.limits) :])
        for kind, station in knowledge().stations.items()
        for name, each in station.operations.items()
    }


def laid_over(held: str, name: Any, new: Any) -> tuple[str, Knowledge]:
    """The place of an entry, and the knowledge with it changed."""
    if held != "operation":
        return f"{ATTRIBUTES[held]}/{name}", put(held, name, new)
    kind, key = name
    station = knowledge().stations[kind]
    loaded = replace(new, limits=(*station.limits, *new.limits))
    mine = put("stations", kind, replace(station, operations={**station.operations, key: loaded}))
    return f"operations/{kind}/operations/{key}", mine


@pytest.mark.parametrize("held", list(FORMS))
def test_every_key_that_reads_otherwise_is_a_change_and_a_loosening_unless_it_is_harmless_or_proven(held: str) -> None:
    entries = entries_of(held)
    names = {id(entry): name for name, entry in entries.items()}
    said: dict[tuple[type, str, bool], list[bool]] = {}
    form = type(next(iter(entries.values())))
    for item in fields(form):
        if form is StationKind and item.name in ("figures", "operations"):
            continue  # told one by one, below and as operations
        for entry in samples(list(entries.values()), item.name):
            for inside, key, proven, new in changed(entry):
                if getattr(new, item.name) == getattr(entry, item.name):
                    continue
                place, mine = laid_over(held, names[id(entry)], new)
                found = [each for each in changes_against(knowledge(), mine, {}) if each.about.startswith(place)]
                assert found, f"{place}: {inside.__name__}.{key} is changed unseen"
                said.setdefault((inside, key, proven), []).append(any(each.looser for each in found))
    assert {key for inside, key, _ in said if inside is form} >= {
        item.name for item in fields(form) if item.name not in ("figures", "operations") and not is_form(form, item.name)
    }
    for (inside, key, proven), loosens in said.items():
        if key in HARMLESS.get(inside, ()):
            assert not any(loosens), f"{inside.__name__}.{key} changes nothing but wording"
        elif proven:
            # Where no source of a form is marked as shipped, none can lose its mark.
            assert any(loosens) or key == "source", f"{inside.__name__}.{key} is never a loosening"
        else:
            assert all(loosens), f"{inside.__name__}.{key} is looser in silence"


def is_form(form: type, key: str) -> bool:
    """Whether a key holds a form of its own, whose keys are then looked at."""
    hint = get_type_hints(form)[key]
    return any(is_dataclass(each) for each in (hint, *get_args(hint)))


def test_the_tables_name_only_keys_there_are() -> None:
    for table in (HARMLESS, COMPARERS):
        for form, keys in table.items():
            assert set(keys) <= {item.name for item in fields(form)}, form
    assert not any(set(HARMLESS.get(form, ())) & set(keys) for form, keys in COMPARERS.items())


def test_who_is_not_said_is_taken_as_the_plan_takes_it() -> None:
    assert (UNSAID.operator, UNSAID.supervision, UNSAID.gate) == (STRICTEST.operator, STRICTEST.supervision, STRICTEST.gate)


# What once went through unsaid.

SAW = "saw-bench"


def saw() -> StationKind:
    return knowledge().stations[SAW]


def any_operation(**wanted: bool) -> tuple[str, str, Operation]:
    """The first operation that has these keys."""
    return next(
        (kind, name, each)
        for kind, station in knowledge().stations.items()
        for name, each in station.operations.items()
        if all(bool(getattr(each, key)) == has for key, has in wanted.items())
    )


def test_a_new_operation_without_guards_limits_holding_or_wear_is_a_loosening() -> None:
    first = next(iter(saw().operations.values()))
    bare = replace(first, guards=Choose(), limits=(), holding=Choose(), wear=(), who=UNSAID)
    (change,) = station_changed(SAW, operations={**saw().operations, "ours": bare})
    assert change.about == "operations/saw-bench/operations/ours"
    assert change.looser


@pytest.mark.parametrize(
    "entry",
    [
        pytest.param(lambda: ("stations", saw()), id="station"),
        pytest.param(lambda: ("regions", replace(knowledge().regions["australia"], least={}, counts=("any",))), id="region"),
        pytest.param(lambda: ("materials", knowledge().materials["western-red-cedar"]), id="material"),
        pytest.param(lambda: ("glues", knowledge().glues["pva"]), id="glue"),
        pytest.param(lambda: ("abrasives", next(iter(knowledge().abrasives.values()))), id="abrasive"),
        pytest.param(lambda: ("jigs", next(jig for jig in knowledge().jigs.values() if jig.serves_as)), id="jig that holds"),
        pytest.param(lambda: ("measures", replace(knowledge().measures["run-down"], counts=("knife-gap",))), id="measure"),
    ],
)
def test_what_is_new_and_allows_more_is_a_loosening(entry: Any) -> None:
    attribute, new = entry()
    (change,) = changes_against(knowledge(), put(attribute, "ours", new), {})
    assert change.looser


@pytest.mark.parametrize("attribute", ["hazards", "guards", "holding", "wear", "signs", "terms", "ghs"])
def test_what_is_new_and_asks_for_more_or_allows_nothing_is_none(attribute: str) -> None:
    (change,) = changes_against(knowledge(), put(attribute, "ours", next(iter(getattr(knowledge(), attribute).values()))), {})
    assert change.looser == ()


def test_a_jig_that_holds_nothing_is_no_loosening() -> None:
    assert not list(new_looser(next(jig for jig in knowledge().jigs.values() if not jig.serves_as)))


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"power": "hand"}, "`power` reads otherwise"),
        ({"smallest": "any"}, "`smallest` reads otherwise"),
        ({"hands": "where you like"}, "`hands` reads otherwise"),
        ({"guards": ()}, "no guard crown-guard"),
        ({"holding": ()}, "no holding "),
    ],
)
def test_a_key_of_a_station_that_is_not_proven_stricter(changed: dict[str, Any], said: str) -> None:
    (change,) = station_changed(SAW, **changed)
    assert any(each.startswith(said) for each in change.looser), change.looser


@pytest.mark.parametrize("key", ["use", "guards_off", "makes", "cut", "in_the_long", "checks", "instructions"])
def test_a_key_of_an_operation_that_is_not_proven_stricter(key: str) -> None:
    kind, name, operation = any_operation(**{key: True})
    new = {
        "use": {},
        "guards_off": (),
        "makes": (*operation.makes, "chamfer"),
        "cut": "burn",
        "in_the_long": "always",
        "checks": (),
        "instructions": replace(operation.instructions, guard=("Stand where you like.",)),
    }[key]
    (change,) = operation_changed(kind, name, **{key: new})
    assert change.looser


@pytest.mark.parametrize(
    ("kind", "figure", "default", "said"),
    [
        (SAW, "blade-radius", 50.0, "which way is stricter is not known"),
        ("hand-sawing", "kerf", 0.5, "which way is stricter is not known"),
        ("disc-sander", "marked-speed", 99999.0, "staff are no longer asked to state it"),
        ("gluing", "cure-time", 1.0, "less time"),
    ],
)
def test_a_figure_whose_direction_is_not_known_or_that_is_shorter(kind: str, figure: str, default: float, said: str) -> None:
    (change,) = figure_changed(kind, figure, default)
    assert change.looser == (said,)


def test_longer_times_and_figures_that_limits_show_to_be_stricter_are_none() -> None:
    assert figure_changed("gluing", "cure-time", 2000.0)[0].looser == ()
    assert figure_changed(SAW, "shortest", (saw().figures["shortest"].default or 0) - 1)[0].looser
    assert figure_changed("pillar-drill", "shortest", None)[0].looser == ()  # each operation asks for it, and staff decide
    assert figure_changed("pillar-drill", "throat", None)[0].looser  # some do not


@pytest.mark.parametrize("key", ["applies", "controls", "stop_when", "first_aid", "ghs"])
def test_a_key_of_a_hazard_that_warns_of_less(key: str) -> None:
    new = {"applies": Applies(), "controls": {}, "stop_when": ("Never.",), "first_aid": "None.", "ghs": ()}[key]
    name = next(name for name, each in knowledge().hazards.items() if getattr(each, key) not in (Applies(), ()))
    (change,) = entry_changed("hazards", name, **{key: new})
    assert change.looser


def test_a_control_that_is_text_alone_is_missed_and_so_is_one_more() -> None:
    hazard = next(iter(knowledge().hazards.values()))
    level, controls = next(iter(hazard.controls.items()))
    more = {**hazard.controls, level: (*controls, HazardControl(text="One more."))}
    assert list(looser(hazard, replace(hazard, controls=more))) == [
        f"`controls.{level}` reads otherwise: “One more.” was not there"
    ]
    assert any(controls[0].text in each for each in looser(hazard, replace(hazard, controls={**hazard.controls, level: ()})))


@pytest.mark.parametrize(
    ("attribute", "changed"),
    [
        ("fits", {"play": 9.0}),
        ("screws", {"pilot_hardwood": 0.1}),
        ("fasteners", {"times": 1.0}),
        ("tool_sizes", {"narrowest": "shortest"}),
        ("glues", {"at": -5.0}),
        ("finishes", {"kind": "wax", "at": 60.0}),
        ("guards", {"line": "Look the other way."}),
        ("wear", {"forbidden_line": "Wear what you like."}),
        ("abrasives", {"grain": 1.0}),
        ("ghs", {"says": "Nothing to fear."}),
    ],
)
def test_an_entry_of_a_list_that_is_not_proven_stricter(attribute: str, changed: dict[str, Any]) -> None:
    (change,) = entry_changed(attribute, next(iter(getattr(knowledge(), attribute))), **changed)
    assert any("reads otherwise" in each for each in change.looser)


def test_the_point_of_a_bit_and_a_measure_that_hides_another_are_loosenings() -> None:
    name, bit = next((name, bit) for name, bit in knowledge().drill_bits.items() if bit.point.share)
    assert entry_changed("drill_bits", name, point=replace(bit.point, share=0.0))[0].looser == ("`point.share` reads otherwise",)
    assert entry_changed("measures", "run-down", counts=("knife-gap",))[0].looser == (
        "knife-gap is no longer asked for by itself",
    )


def test_a_name_more_of_a_mild_wood_is_a_loosening() -> None:
    wood = knowledge().materials["radiata-pine"]
    assert list(looser(wood, replace(wood, words={**wood.words, "ours": ("yew",)}))) == ["`words` reads otherwise"]


# Ways of loosening that a review found to go unsaid.


def with_hazard(own: Knowledge, name: str, **changed: Any) -> Knowledge:
    """A knowledge with one more hazard, like the shipped one of trips but for what is changed."""
    return replace(own, hazards={**own.hazards, name: replace(own.hazards["trips"], **changed)})


def drilling() -> tuple[StationKind, Operation]:
    station = knowledge().stations["pillar-drill"]
    return station, station.operations["drill-through-hole"]


def drill_laid(**changed: Any) -> Knowledge:
    station, operation = drilling()
    return put(
        "stations",
        "pillar-drill",
        replace(station, operations={**station.operations, "drill-through-hole": replace(operation, **changed)}),
    )


def test_a_ban_that_newly_reaches_a_step_takes_off_what_is_asked_for_there() -> None:
    gluing = knowledge().stations["gluing"]
    sun = {**knowledge().hazards, "low-sun": replace(knowledge().hazards["trips"], name="low sun", forbids=("gloves",))}
    own = replace(put("stations", "gluing", replace(gluing, hazards=(*gluing.hazards, "low-sun"))), hazards=sun)
    said = {change.about: change.looser for change in changes_against(knowledge(), own, {})}
    assert said["operations/gluing/hazards"][-1] == "“low sun” forbids gloves, which is asked for there"
    assert said["hazards/low-sun"] == ()  # it is nowhere of itself


def test_a_hazard_that_reaches_steps_of_itself_and_forbids_what_is_asked_for_is_a_loosening() -> None:
    everywhere = with_hazard(knowledge(), "ours", applies=Applies(power=("bench",)), forbids=("gloves",))
    (change,) = changes_against(knowledge(), everywhere, {})
    assert change.looser == (f"“{knowledge().hazards['trips'].name}” forbids gloves, which is asked for there",)
    (change,) = entry_changed("hazards", "glue-contact", forbids=("gloves",))
    assert change.looser


def test_an_operation_s_new_hazard_that_forbids_its_own_wear_is_a_loosening() -> None:
    _, operation = drilling()
    own = with_hazard(drill_laid(hazards=(*operation.hazards, "ours")), "ours", forbids=("eye-protection",))
    said = {change.about: change.looser for change in changes_against(knowledge(), own, {})}
    assert any("forbids eye-protection" in each for each in said["operations/pillar-drill/operations/drill-through-hole"])


def test_a_grave_hazard_that_a_glue_newly_brings_comes_before_those_a_card_has_room_for() -> None:
    own = put("glues", "pva", replace(knowledge().glues["pva"], hazards=(*knowledge().glues["pva"].hazards, "lone-work")))
    (change,) = changes_against(knowledge(), own, {})
    assert any("is printed first on a student's card" in each for each in change.looser)


@pytest.mark.parametrize(
    "order",
    [
        lambda names: ("trips", "crowding", *names),
        lambda names: (*names[2:], *names[:2]),
        lambda names: (names[1], names[0], *names[2:]),
    ],
)
def test_hazards_put_before_those_that_a_card_has_room_for_are_a_loosening(order: Any) -> None:
    _, operation = drilling()
    (change,) = changes_against(knowledge(), drill_laid(hazards=order(operation.hazards)), {})
    assert any("is printed first" in each for each in change.looser), change.looser


def test_hazards_named_after_those_that_a_card_has_room_for_are_none() -> None:
    _, operation = drilling()
    (change,) = changes_against(knowledge(), drill_laid(hazards=(*operation.hazards, "trips")), {})
    assert change.looser == ()


LIFTED = "Lift the chuck guard out of the way."


def first_of(held: str, key: str) -> Any:
    return next(name for name, each in getattr(knowledge(), held).items() if getattr(each, key))


@pytest.mark.parametrize(
    ("held", "name", "key"),
    [
        ("stations", "pillar-drill", "before_starting"),
        ("stations", "pillar-drill", "stop_when"),
        ("staff_steps", "set-up", "first"),
        ("staff_steps", "set-up", "last"),
        ("jigs", "bench-hook", "checks"),
        ("hazards", "kickback", "stop_when"),
        ("hazards", "kickback", "whom"),
        ("regions", "australia", "record"),
        ("regions", "australia", "sign_off"),
        ("regions", "australia", "review"),
        ("regions", "australia", "laws"),
    ],
)
def test_a_sentence_more_may_undo_a_guard(held: str, name: str, key: str) -> None:
    (change,) = entry_changed(held, name, **{key: (*getattr(getattr(knowledge(), held)[name], key), LIFTED)})
    assert any(LIFTED in each and "reads otherwise" in each for each in change.looser)


def test_a_check_a_tool_or_a_stop_more_may_undo_a_guard() -> None:
    _, operation = drilling()
    check = replace(operation.checks[0], how=LIFTED)
    for changed in ({"checks": (*operation.checks, check)}, {"tools": (*operation.tools, LIFTED)}):
        (change,) = changes_against(knowledge(), drill_laid(**changed), {})
        assert any("was not there" in each for each in change.looser)
    kind, name, _ = any_operation(stop=False)
    assert operation_changed(kind, name, stop=LIFTED)[0].looser == ("`stop` reads otherwise",)


def test_staff_steps_in_another_order_are_a_loosening() -> None:
    first = knowledge().staff_steps["set-up"].first
    (change,) = entry_changed("staff_steps", "set-up", first=tuple(reversed(first)))
    assert change.looser == ("`first` stands in another order",)


@pytest.mark.parametrize(("held", "name"), [("guards", "chuck-guard"), ("wear", "eye-protection"), ("hazards", "kickback")])
def test_another_name_of_what_a_card_asks_for_is_a_loosening(held: str, name: str) -> None:
    was = getattr(knowledge(), held)[name].name
    own = put(held, name, replace(getattr(knowledge(), held)[name], name="sunshade, if wanted"))
    (change,) = changes_against(knowledge(), own, {})
    assert change.looser == (f"`name` is “sunshade, if wanted”; it was “{was}”",)


def test_another_name_of_an_operation_or_a_station_is_a_loosening() -> None:
    assert station_changed("pillar-drill", name="bench drill")[0].looser == ("`name` is “bench drill”; it was “pillar drill”",)
    (change,) = changes_against(knowledge(), drill_laid(name="Drill freehand"), {})
    assert change.looser == (f"`name` is “Drill freehand”; it was “{drilling()[1].name}”",)


@pytest.mark.parametrize(
    ("was", "now", "looser"),
    [
        ("from memory, about 3 mm", "the maker's manual", 1),
        ("common practice", "the maker's manual", 1),
        ("common practice", "common practice, and the maker's manual", 0),
        (("from memory", "from memory"), ("from memory", "HSE WIS16"), 1),
        ("HSE WIS16", "from memory", 0),
    ],
)
def test_a_source_that_no_longer_says_it_was_not_looked_up(was: Any, now: Any, looser: int) -> None:
    assert len(list(as_frank("source", was, now))) == looser


def test_a_limit_or_a_figure_whose_source_was_not_looked_up_says_so_still() -> None:
    station, operation = drilling()
    limits = tuple(replace(each, source="the maker's manual") for each in operation.limits)
    (change,) = changes_against(knowledge(), drill_laid(limits=limits), {})
    assert any(each.startswith("the source of the limit") for each in change.looser)
    figure = replace(station.figures["shortest"], source="the maker's manual")
    (change,) = station_changed("pillar-drill", figures={**station.figures, "shortest": figure})
    assert change.looser == ("`source` no longer says “common practice”",)


def test_nobody_cannot_be_who_sets_a_machine(tmp_path: Path) -> None:
    (tmp_path / "operations").mkdir()
    text = "station: pillar-drill\nrest: as-shipped\nset_up_by: nobody\n"
    (tmp_path / "operations" / "pillar-drill.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(Unusable) as refused:
        load_knowledge(tmp_path)
    (finding,) = refused.value.findings
    assert (finding.what, finding.remedy) == ("'set_up_by' cannot be 'nobody'.", "There are staff and student.")


@pytest.mark.parametrize("level", [60.0, 120.0])
def test_a_level_of_noise_at_a_powered_station_of_which_none_is_known_is_a_loosening(level: float) -> None:
    figure = Figure(default=level, means="level", source="measured in May 2026")
    powered = [
        name for name, each in knowledge().stations.items() if each.power in ("machine", "powered-hand") and not each.noise
    ]
    assert powered
    for name in powered:
        assert station_changed(name, noise=figure)[0].looser == (
            f"without a level it counts as loud; {level:g} dB(A) may take ear protection off",
        )
    assert station_changed("hand-sawing", noise=figure)[0].looser == ()  # by hand nothing counts as loud without a level
    assert station_changed(powered[0], noise=replace(figure, default=None))[0].looser == ()  # still to be measured


def test_woods_that_move_most_may_not_lose_their_figure_together() -> None:
    most = largest_movement(knowledge())
    moving = [name for name, each in knowledge().materials.items() if each.tangential == most]
    assert len(moving) > 1
    still = {name: replace(knowledge().materials[name], tangential=None) for name in moving}
    for name in moving:  # one alone leaves the largest figure where it is
        assert changes_against(knowledge(), put("materials", name, still[name]), {})[0].looser == ()
    own = replace(knowledge(), materials={**knowledge().materials, **still})
    left = largest_movement(own)
    said = {each.about: each.looser for each in changes_against(knowledge(), own, {})}
    assert said == {
        f"lists/materials/{name}": (f"woods of which nothing is known are taken to move {left:g} instead of {most:g}",)
        for name in moving
    }


def test_checks_in_another_order_are_a_loosening_since_a_card_has_room_for_the_first() -> None:
    kind, name, operation = next(
        (kind, name, each)
        for kind, station in knowledge().stations.items()
        for name, each in station.operations.items()
        if len(each.checks) > 2
    )
    turned = (*operation.checks[1:], operation.checks[0])
    assert operation_changed(kind, name, checks=turned)[0].looser == ("`checks` stands in another order",)
