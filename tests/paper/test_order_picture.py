"""The picture of the order: all of the plan is in it, and nothing in it stands on anything else."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations, pairwise
from typing import get_args

import networkx as nx
import pytest

from sequencer.model.plan import Plan, ReasonKind, Step
from sequencer.paper.order_layout import cut_into_sheets
from sequencer.paper.order_links import Link, longest_chain, step_graph, step_links
from sequencer.paper.order_marks import KINDS
from sequencer.paper.order_picture import HEIGHT, WIDTH, order_picture, order_sheets
from sequencer.paper.svg import Box
from sequencer.paper.wording import DRAFT
from tests.made import EXAMPLES, ROOT, plan, proved

SVG = "{http://www.w3.org/2000/svg}"
JOBS = (*EXAMPLES, "tests/cases/s06-table-drawer.yaml", "tests/cases/s08-keyed-tabouret.yaml")
ALL = [(job, "full") for job in JOBS] + [(job, "hand-tools") for job in EXAMPLES]

Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A drawn line of an arrow: the steps it joins, its corners, whether it is heavy."""

    pair: tuple[int, int]
    points: tuple[Point, ...]
    heavy: bool
    tie: bool


@dataclass(frozen=True)
class Drawn:
    """What can be read out of one sheet's SVG."""

    boxes: dict[int, Box]
    shapes: dict[int, tuple[str, float]]
    lines: tuple[Line, ...]
    texts: dict[str, list[str]]


def _corners(path: ET.Element, shift: Point) -> tuple[Point, ...]:
    found = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.attrib["d"])
    return tuple((float(x) + shift[0], float(y) + shift[1]) for x, y in found)


def _read(svg: str) -> Drawn:
    root = ET.fromstring(svg)
    boxes, shapes, lines = {}, {}, []
    texts: dict[str, list[str]] = {}
    for text in root.iter(f"{SVG}text"):
        texts.setdefault(text.attrib["class"], []).append("".join(text.itertext()))
    for group in root.iter(f"{SVG}g"):
        if group.attrib.get("class") == "step":
            number = int(group.attrib["data-step"])
            assert number not in boxes
            outline = group[0]
            corners = _corners(outline, (0.0, 0.0))
            across, down = zip(*corners, strict=True)
            boxes[number] = Box(min(across), min(down), max(across), max(down))
            shapes[number] = (outline.attrib["class"], float(outline.attrib["stroke-width"]))
            assert ["".join(text.itertext()) for text in group.iter(f"{SVG}text")] == [str(number)]
        elif "transform" in group.attrib:
            x, y = (float(each) for each in re.findall(r"[\d.]+", group.attrib["transform"]))
            for path in group.iter(f"{SVG}path"):
                if "data-link" in path.attrib:
                    before, _, after = path.attrib["data-link"].partition("-")
                    kind = path.attrib["class"].split()
                    pair = (int(before), int(after))
                    lines.append(Line(pair, _corners(path, (x, y)), "heavy" in kind, "tie" in kind))
    return Drawn(boxes, shapes, tuple(lines), texts)


@cache
def sheets(job: str, shop: str) -> tuple[Drawn, ...]:
    return tuple(_read(sheet.svg) for sheet in order_sheets(plan(job, shop)))


each_plan = pytest.mark.parametrize(("job", "shop"), ALL)


@each_plan
def test_every_step_is_drawn_once_in_the_lane_of_its_station(job: str, shop: str) -> None:
    made = plan(job, shop)
    drawn = [number for sheet in sheets(job, shop) for number in sheet.boxes]
    assert drawn == [step.number for step in made.steps]
    for sheet in sheets(job, shop):
        lanes: dict[str, set[float]] = {}
        for number, box in sheet.boxes.items():
            lanes.setdefault(made.steps[number - 1].station, set()).add(round((box.left + box.right) / 2, 1))
        assert all(len(middles) == 1 for middles in lanes.values())
        assert len(set.union(*lanes.values())) == len(lanes)
        down = [(box.top, box.bottom) for box in sheet.boxes.values()]
        assert all(above[1] < below[0] for above, below in pairwise(down))


@each_plan
def test_the_shape_says_who_and_what(job: str, shop: str) -> None:
    made = plan(job, shop)
    drawn = {number: shape for sheet in sheets(job, shop) for number, (shape, _) in sheet.shapes.items()}

    def wanted(step: Step) -> str:
        if step.kind == "work":
            return step.card
        return "wait" if step.kind == "wait" else "set-up"

    assert drawn == {step.number: wanted(step) for step in made.steps}


@each_plan
def test_no_text_stands_on_another_or_beside_the_sheet(job: str, shop: str) -> None:
    for sheet in order_sheets(plan(job, shop)):
        for one, two in combinations(sheet.texts, 2):
            assert not one.overlaps(two, -0.05), (one, two)
        for box in sheet.texts:
            assert min(box.left, box.top) >= -0.5, box
            assert box.right <= sheet.width + 0.5, box
            assert box.bottom <= sheet.height + 0.5, box


@each_plan
def test_no_arrow_crosses_a_box_or_a_text_and_none_runs_along_another(job: str, shop: str) -> None:
    pictures = order_sheets(plan(job, shop))
    for sheet, picture in zip(sheets(job, shop), pictures, strict=True):
        runs = {
            (line.pair[0], Box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])))
            for line in sheet.lines
            for a, b in pairwise(line.points)
            if not line.tie
        }
        for _, run in runs:
            for box in sheet.boxes.values():
                assert not run.overlaps(box, -0.05), (run, box)
            for text in picture.texts:
                # A code stands on its own arrow, which runs along the row and is whitened there.
                along = run.height < 0.01 and text.top < run.top < text.bottom and text.height < 2.2
                assert along or not run.overlaps(text, -0.05), (run, text)
        for (before, one), (other, two) in combinations(sorted(runs, key=str), 2):
            if before != other:
                upright = one.width < 0.01 and two.width < 0.01 and abs(one.left - two.left) < 0.5
                level = one.height < 0.01 and two.height < 0.01 and abs(one.top - two.top) < 0.5
                assert not (upright or level) or not one.overlaps(two, 0.01), (before, other)


def test_arrows_that_run_together_to_one_step_do_not_cross() -> None:
    (first, *_) = sheets("nest-box", "hand-tools")
    target = max(Counter(line.pair[1] for line in first.lines).items(), key=lambda item: item[1])[0]
    lines = [line for line in first.lines if line.pair[1] == target]
    assert len(lines) >= 4
    for one, two in combinations(lines, 2):
        for a, b in pairwise(one.points):
            for c, d in pairwise(two.points):
                level, upright = ((a, b), (c, d)) if a[1] == b[1] else ((c, d), (a, b))
                across, down = sorted(x for x, _ in level), sorted(y for _, y in upright)
                crosses = across[0] < upright[0][0] < across[1] and down[0] < level[0][1] < down[1]
                assert not crosses, (one, two)


@each_plan
def test_every_reason_is_drawn_or_follows_from_what_is_drawn(job: str, shop: str) -> None:
    made = plan(job, shop)
    drawn: nx.DiGraph[int] = nx.DiGraph()
    drawn.add_edges_from(line.pair for sheet in sheets(job, shop) for line in sheet.lines)
    of = {task: step.number for step in made.steps if step.kind in ("work", "wait") for task in step.tasks}
    for reason in made.reasons:
        before, after = of[reason.before], of[reason.after]
        assert before == after or nx.has_path(drawn, before, after), reason
    assert set(drawn.edges) == {(link.before, link.after) for link in step_links(made)}
    given = {(of[reason.before], of[reason.after]) for reason in made.reasons}
    ties = {line.pair for sheet in sheets(job, shop) for line in sheet.lines if line.tie}
    assert set(drawn.edges) - ties <= given
    assert ties == {
        (step.number, step.number + 1) if step.kind == "set-up" else (step.number - 1, step.number)
        for step in made.steps
        if step.kind in ("set-up", "guards-back")
    }


@each_plan
def test_no_drawn_arrow_follows_from_others(job: str, shop: str) -> None:
    graph = step_graph(plan(job, shop))
    for link in step_links(plan(job, shop)):
        graph.remove_edge(link.before, link.after)
        assert not nx.has_path(graph, link.before, link.after), link
        graph.add_edge(link.before, link.after)


@each_plan
def test_an_arrow_that_leaves_a_sheet_says_where_to_and_comes_in_on_the_other(job: str, shop: str) -> None:
    where = {number: index for index, sheet in enumerate(sheets(job, shop)) for number in sheet.boxes}
    for index, sheet in enumerate(sheets(job, shop)):
        drawn = {line.pair for line in sheet.lines}
        wanted = {
            (link.before, link.after) for link in step_links(plan(job, shop)) if index in (where[link.before], where[link.after])
        }
        assert drawn == wanted
        leaving = Counter(after for before, after in drawn if where[after] > index)
        said = Counter(int(number) for text in sheet.texts.get("to", ()) for number in re.findall(r"\d+", text))
        assert said == leaving
        coming = Counter({before for before, after in drawn if where[before] < index})
        assert Counter(int(text.removeprefix("from ")) for text in sheet.texts.get("from", ())) == coming


@each_plan
def test_the_sentences_of_every_arrow_stand_beside_its_step(job: str, shop: str) -> None:
    said = " ".join(text for sheet in sheets(job, shop) for text in sheet.texts["beside"])
    for link in step_links(plan(job, shop)):
        for kind, sentence in link.sayings:
            assert f"{KINDS[kind][0]}: {sentence}" in said
            assert sentence in {reason.sentence for reason in link.reasons if reason.kind == kind}


@each_plan
def test_the_heavy_chain_takes_longest(job: str, shop: str) -> None:
    made = plan(job, shop)
    chain, graph = longest_chain(made), step_graph(made)
    minutes = {step.number: step.minutes + step.set_up_minutes for step in made.steps}
    until: dict[int, float] = {}
    for number in nx.topological_sort(graph):
        until[number] = minutes[number] + max((until[before] for before in graph.predecessors(number)), default=0.0)
    assert chain.work + chain.waiting == pytest.approx(max(until.values()))
    assert sum(minutes[number] for number in chain.steps) == pytest.approx(max(until.values()))
    assert all(graph.has_edge(*pair) for pair in pairwise(chain.steps))
    waits = [step.number for step in made.steps if step.kind == "wait" and step.number in chain.steps]
    assert chain.waiting == pytest.approx(sum(minutes[number] for number in waits))
    assert {line.pair for sheet in sheets(job, shop) for line in sheet.lines if line.heavy} == set(chain.pairs)
    heavy = {number for sheet in sheets(job, shop) for number, (_, width) in sheet.shapes.items() if width > 0.5}
    assert heavy == set(chain.steps)


def test_the_chain_is_said_in_steps_and_minutes() -> None:
    (first, *_) = sheets("picture-frame", "hand-tools")
    chain = longest_chain(plan("picture-frame", "hand-tools"))
    said = " ".join(first.texts["legend"])
    assert f"It takes {chain.work:.0f} min of work and 72 hours of waiting for one finished thing" in said
    assert chain.waiting == 72 * 60


@each_plan
def test_the_legend_names_the_kinds_on_the_sheet_and_no_other(job: str, shop: str) -> None:
    for sheet in sheets(job, shop):
        on_arrows = {code for text in sheet.texts.get("code", ()) for code in text.split("+")}
        beside = set(re.findall(r"after [\d, to]+ (\w\w): ", " ".join(sheet.texts["beside"])))
        assert on_arrows == beside
        assert on_arrows <= set(sheet.texts["code-key"])
        leaving = {line.pair for line in sheet.lines if line.pair[1] not in sheet.boxes}
        links = {(link.before, link.after): link for link in step_links(plan(job, shop))}
        gone = {KINDS[kind][0] for pair in leaving for kind in links[pair].kinds}
        assert set(sheet.texts["code-key"]) == on_arrows | gone


@each_plan
def test_the_legend_shows_the_shapes_on_the_sheet_and_no_other(job: str, shop: str) -> None:
    words = {"student": "student", "staff": "staff", "set-up": "staff set the machine or put guards back", "wait": "wait"}
    for sheet in sheets(job, shop):
        shapes = {shape for shape, _ in sheet.shapes.values()}
        assert set(words.values()) & set(sheet.texts["legend"]) == {words[shape] for shape in shapes}


def test_every_kind_of_reason_has_a_code_of_its_own() -> None:
    assert set(KINDS) == set(get_args(ReasonKind))
    assert len({code for code, _ in KINDS.values()}) == len(KINDS)


@each_plan
def test_a_sheet_fits_on_a4_across(job: str, shop: str) -> None:
    for sheet in order_sheets(plan(job, shop)):
        assert sheet.width <= WIDTH + 4
        assert sheet.height <= HEIGHT


def test_what_is_not_proved_says_so_on_every_sheet() -> None:
    made = proved("picture-frame")
    assert made.proof is not None
    flawed = replace(made, proof=replace(made.proof, held=False))
    assert all(_read(sheet.svg).texts["draft"] == [DRAFT] for sheet in order_sheets(flawed))
    assert not any("draft" in _read(sheet.svg).texts for sheet in order_sheets(made))


def _one_after_another(made: Plan, steps: int) -> Plan:
    """A plan of as many steps as wanted, each a copy of one of a real plan."""
    first = next(step for step in made.steps if step.kind == "work")
    copies = [
        replace(first, id=f"{first.id}/{number}", number=number, tasks=(f"t{number}",), station=f"station-{number % 15}")
        for number in range(1, steps + 1)
    ]
    reason = made.reasons[0]
    reasons = [
        replace(reason, before=f"t{number}", after=f"t{number + gap}")
        for number in range(1, steps + 1)
        for gap in (1 + number % 3, 9 + number % 11)
        if number + gap <= steps
    ]
    return replace(made, steps=tuple(copies), reasons=tuple(reasons))


def test_guards_put_back_are_tied_to_the_work_before_them() -> None:
    made = plan("herb-caddy")
    set_up = next(step for step in made.steps if step.kind == "set-up")
    work = made.steps[set_up.number]
    back = replace(set_up, id=f"{work.id}/guards-back", kind="guards-back", title="Put back on the saw: the guard")
    steps = [*made.steps[: work.number], back, *made.steps[work.number :]]
    longer = replace(made, steps=tuple(replace(step, number=index + 1) for index, step in enumerate(steps)))
    drawn = [_read(sheet.svg) for sheet in order_sheets(longer)]
    ties = {line.pair for sheet in drawn for line in sheet.lines if line.tie}
    assert {(set_up.number, work.number), (work.number, work.number + 1)} <= ties
    shapes = {number: shape for sheet in drawn for number, (shape, _) in sheet.shapes.items()}
    assert shapes[work.number + 1] == "set-up"
    assert len(shapes) == len(made.steps) + 1


def test_a_large_job_takes_more_sheets_and_loses_nothing() -> None:
    large = _one_after_another(plan("herb-caddy"), 120)
    drawn = [_read(sheet.svg) for sheet in order_sheets(large)]
    assert len(drawn) > 5
    assert [number for sheet in drawn for number in sheet.boxes] == list(range(1, 121))
    assert {line.pair for sheet in drawn for line in sheet.lines} == {(link.before, link.after) for link in step_links(large)}


def test_sheets_are_cut_where_fewest_arrows_cross_and_never_through_a_tie() -> None:
    heights = dict.fromkeys(range(1, 7), 10.0)
    reason = plan("herb-caddy").reasons[0]

    def links(*pairs: tuple[int, int]) -> list[Link]:
        return [Link(*pair, reasons=(reason,)) for pair in pairs]

    numbers = list(range(1, 7))
    assert cut_into_sheets(numbers, heights, links((1, 4), (2, 4), (3, 4), (5, 6)), 40.0) == [[1, 2, 3, 4], [5, 6]]
    assert cut_into_sheets(numbers, heights, links((1, 2), (3, 4), (3, 5), (4, 6)), 40.0) == [[1, 2], [3, 4, 5, 6]]
    tied = [*links((2, 3), (2, 4)), Link(4, 5)]
    assert cut_into_sheets(numbers, heights, tied, 40.0) == [[1, 2, 3], [4, 5, 6]]
    assert cut_into_sheets(numbers, heights, (), 60.0) == [numbers]


def test_the_picture_is_the_same_in_another_process() -> None:
    program = (
        "import sys\nfrom sequencer.paper.order_picture import order_picture\nfrom tests.made import plan\n"
        "sys.stdout.write(order_picture(plan('step-stool')).svg)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": "7"},
        capture_output=True,
        check=True,
        encoding="utf-8",
    )
    assert ran.stdout == order_picture(plan("step-stool")).svg


def test_the_one_picture_holds_all_sheets_below_each_other() -> None:
    parts, whole = order_sheets(plan("nest-box")), order_picture(plan("nest-box"))
    assert whole.height > sum(part.height for part in parts)
    assert whole.svg.count('class="step"') == len(plan("nest-box").steps)
