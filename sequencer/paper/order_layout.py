"""Where the picture of the order puts its boxes and arrows. mm on paper, y downwards.

A lane for each station and a row for each step, so no two boxes ever share a row. Arrows leave and enter boxes sideways, run
along the row, and run down between two lanes on a track of their own: an arrow can cross another but no box and no text.
What leads to the next box of the same lane goes straight down. A long order is cut into sheets where fewest arrows cross.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from sequencer.model.plan import Plan
from sequencer.paper.order_links import Link
from sequencer.paper.svg import Box

BOX = 8.4
"""Width of a box."""
PORT = 2.7
"""Between two arrows that enter or leave a box on one side."""
GAP = 1.4
"""Least room above and below a box in its row: holds the code of an arrow from straight above."""
TRACK = 2.2
"""Between two arrows that run down beside each other."""
CODE = 2.1
"""Height of the codes on the arrows."""
HEAD = 2.1
"""Length of an arrowhead."""
_LEAST = 4.4
"""Least height of a box."""
BESIDE = 1.3
"""Between a box and the nearest track where no arrow enters."""
CLEAR = 0.9
"""Between a code and the arrowhead, and between it and the nearest track."""


@dataclass(frozen=True)
class Fork:
    """All that leaves one step sideways on one sheet, along one track: to each step a link leads to.

    before
        Number of the step it comes from, which stands on an earlier sheet if `from_above`.
    beyond
        Numbers of the steps on later sheets.
    """

    before: int
    links: tuple[Link, ...]
    from_above: bool
    beyond: tuple[int, ...]
    x: float
    start: float
    """Height where it leaves its box, or of the top of the sheet."""
    ends: Mapping[int, float]
    """Height where it enters each step."""
    bottom: float
    """Where the track ends."""


@dataclass(frozen=True)
class Sheet:
    """One sheet of the order: boxes by the number of their step, lanes with their middles, forks, and straight links."""

    numbers: tuple[int, ...]
    lanes: Mapping[str, float]
    boxes: Mapping[int, Box]
    rows: Mapping[int, tuple[float, float]]
    """Top and bottom of each step's row."""
    forks: tuple[Fork, ...]
    straight: tuple[Link, ...]
    width: float
    """Of all the lanes."""
    height: float
    """Of all the rows."""


def cut_into_sheets(numbers: Sequence[int], heights: Mapping[int, float], links: Sequence[Link], room: float) -> list[list[int]]:
    """The steps of each sheet: as few sheets as there can be, cut where fewest arrows cross; a tie is never cut."""

    def crossing(after: int) -> float:
        cut = [link for link in links if link.before <= after < link.after]
        return float("inf") if any(link.tie for link in cut) else len(cut)

    best: dict[int, tuple[float, float, list[int]]] = {0: (0, 0.0, [])}
    for end in range(1, len(numbers) + 1):
        ways = []
        for start in range(end):
            tall = sum(heights[each] for each in numbers[start:end])
            sheets, crossed, cuts = best[start]
            if tall <= room or end - start == 1:
                cost = crossing(numbers[start - 1]) if start else 0.0
                ways.append((sheets + 1, crossed + cost, [*cuts, start]))
        best[end] = min(ways)
    starts = best[len(numbers)][2]
    return [list(numbers[start:end]) for start, end in zip(starts, [*starts[1:], len(numbers)], strict=True)]


def ports_height(links: Sequence[Link], number: int) -> float:
    """How tall a step's row must be for the arrows, whichever side they enter."""
    entering = sum(link.after == number and not link.tie for link in links)
    leaving = any(link.before == number and not link.tie for link in links)
    return max(_LEAST, PORT * (entering + leaving)) + 2 * GAP


def lay_out(
    plan: Plan, numbers: Sequence[int], links: Sequence[Link], heights: Mapping[int, float], code: Callable[[Link], float]
) -> Sheet:
    """One sheet. `heights`: of the rows; `code`: how wide the code of a link is."""
    here = set(numbers)
    station = {step.number: step.station for step in plan.steps}
    lanes = list(dict.fromkeys(station[number] for number in numbers))
    lane = {number: lanes.index(station[number]) for number in numbers}
    straight = tuple(link for link in links if _is_straight(link, numbers, lane))
    routes = _routes([link for link in links if link not in straight], numbers, lane, len(lanes))
    tracks = _tracks(routes, numbers, lane)
    sides = _ports(routes, tracks, lane)
    rows, boxes_y = _rows(numbers, heights, sides)
    left_x, track_x, width = _columns(len(lanes), routes, tracks, lane, code)
    boxes = {
        number: Box(left_x[lane[number]], top, left_x[lane[number]] + BOX, bottom) for number, (top, bottom) in boxes_y.items()
    }
    height = rows[numbers[-1]][1]
    forks = []
    for route, track in zip(routes, tracks, strict=True):
        ends = {link.after: _port_y(boxes[link.after], sides, link.after, route) for link in route.links if link.after in here}
        start = 0.0 if route.from_above else _port_y(boxes[route.before], sides, route.before, route)
        bottom = height if route.beyond else max([start, *ends.values()])
        x = track_x[route.gutter][track]
        forks.append(Fork(route.before, route.links, route.from_above, route.beyond, x, start, ends, bottom))
    middles = {name: left_x[index] + BOX / 2 for index, name in enumerate(lanes)}
    return Sheet(tuple(numbers), middles, boxes, rows, tuple(forks), straight, width, height)


@dataclass(frozen=True)
class _Route:
    """What leaves a step sideways, and the gutter it runs down: gutter n is left of lane n."""

    before: int
    links: tuple[Link, ...]
    from_above: bool
    beyond: tuple[int, ...]
    gutter: int

    def first_and_last(self, numbers: Sequence[int]) -> tuple[int, int]:
        """The rows between which its track is taken, sheet edges included."""
        first = -1 if self.from_above else numbers.index(self.before)
        rows = [numbers.index(link.after) for link in self.links if link.after in numbers]
        return first, len(numbers) if self.beyond else max(rows)


def _is_straight(link: Link, numbers: Sequence[int], lane: Mapping[int, int]) -> bool:
    if link.before not in lane or link.after not in lane or lane[link.before] != lane[link.after]:
        return False
    between = numbers[numbers.index(link.before) + 1 : numbers.index(link.after)]
    return all(lane[number] != lane[link.after] for number in between)


def _routes(links: Sequence[Link], numbers: Sequence[int], lane: Mapping[int, int], lanes: int) -> list[_Route]:
    """A route for each step that something leaves, down the gutter with the shortest way, of equal ones the emptiest."""
    by_before: dict[int, list[Link]] = {}
    for link in links:
        if (link.before in lane or link.after in lane) and link.before <= numbers[-1] and link.after >= numbers[0]:
            by_before.setdefault(link.before, []).append(link)
    routes: list[_Route] = []
    for before, leaving in sorted(by_before.items()):
        above = before not in lane
        beyond = () if above else tuple(sorted(link.after for link in leaving if link.after not in lane))
        kept = tuple(link for link in leaving if link.after in lane or not above)
        ends = [lane[link.after] for link in kept if link.after in lane] + ([] if above else [lane[before]])
        ways = [_Route(before, kept, above, beyond, gutter) for gutter in range(lanes + 1)]
        routes.append(min(ways, key=lambda way: _cost(way, ends, routes, numbers)))
    return routes


def _cost(way: _Route, ends: Sequence[int], others: Sequence[_Route], numbers: Sequence[int]) -> tuple[int, int, int]:
    """How many lanes are crossed, how many tracks run beside it; of equal ways the rightmost."""
    far = sum(end - way.gutter if end >= way.gutter else way.gutter - end - 1 for end in ends)
    beside = sum(other.gutter == way.gutter and _meet(way, other, numbers) for other in others)
    return far, beside, -way.gutter


def _meet(one: _Route, two: _Route, numbers: Sequence[int]) -> bool:
    (top, bottom), (other_top, other_bottom) = one.first_and_last(numbers), two.first_and_last(numbers)
    return top <= other_bottom and other_top <= bottom


Sides = Mapping[tuple[int, bool], list[tuple[int, bool]]]
"""For each step and side (True is left) what enters or leaves there from the top down: step it comes from, whether it leaves."""


def _ports(routes: Sequence[_Route], tracks: Sequence[int], lane: Mapping[int, int]) -> Sides:
    sides: dict[tuple[int, bool], list[tuple[int, int, int, int]]] = {}
    for route, track in zip(routes, tracks, strict=True):
        for link in route.links:
            if link.after in lane:
                left = route.gutter <= lane[link.after]
                far = lane[link.after] - route.gutter if left else route.gutter - lane[link.after] - 1
                # The nearer track enters higher: then the farther one passes below its end.
                sides.setdefault((link.after, left), []).append((0, far, -track if left else track, route.before))
        if not route.from_above:
            sides.setdefault((route.before, route.gutter <= lane[route.before]), []).append((1, 0, 0, route.before))
    return {key: [(before, leaves == 1) for leaves, _, _, before in sorted(ports)] for key, ports in sides.items()}


def _rows(
    numbers: Sequence[int], heights: Mapping[int, float], sides: Sides
) -> tuple[Mapping[int, tuple[float, float]], Mapping[int, tuple[float, float]]]:
    rows, boxes = {}, {}
    top = 0.0
    for number in numbers:
        most = max(len(sides.get((number, left), ())) for left in (True, False))
        tall = max(_LEAST, PORT * most)
        row = max(heights[number], tall + 2 * GAP)
        rows[number] = (top, top + row)
        boxes[number] = (top + (row - tall) / 2, top + (row + tall) / 2)
        top += row
    return rows, boxes


def _port_y(box: Box, sides: Sides, number: int, route: _Route) -> float:
    for left in (True, False):
        ports = sides.get((number, left), [])
        for index, (before, leaves) in enumerate(ports):
            if before == route.before and leaves == (number == route.before):
                return (box.top + box.bottom) / 2 + PORT * (index - (len(ports) - 1) / 2)
    raise AssertionError(f"no port at {number} for {route.before}")


def _tracks(routes: Sequence[_Route], numbers: Sequence[int], lane: Mapping[int, int]) -> list[int]:
    """The track of each route in its gutter, from the left: routes that run down beside each other have tracks of their own, in
    the order in which fewest lines cross, as far as swapping neighbours finds it."""
    tracks = [0] * len(routes)
    for gutter in sorted({route.gutter for route in routes}):
        order = [index for index, route in enumerate(routes) if route.gutter == gutter]
        swapped = True
        while swapped:
            swapped = False
            for place in range(len(order) - 1):
                one, two = (routes[each] for each in order[place : place + 2])
                if _crossings(two, one, numbers, lane) < _crossings(one, two, numbers, lane):
                    order[place : place + 2] = reversed(order[place : place + 2])
                    swapped = True
        for place, index in enumerate(order):
            beside = [tracks[other] for other in order[:place] if _meet(routes[index], routes[other], numbers)]
            tracks[index] = max(beside, default=-1) + 1
    return tracks


def _crossings(left: _Route, right: _Route, numbers: Sequence[int], lane: Mapping[int, int]) -> int:
    """How often two routes of a gutter cross if one runs left of the other."""
    crossed = 0
    for one, other, to_right in ((left, right, True), (right, left, False)):
        first, last = other.first_and_last(numbers)
        ends = [link.after for link in one.links if link.after in lane] + ([] if one.from_above else [one.before])
        crossed += sum((lane[end] >= one.gutter) is to_right and first < numbers.index(end) < last for end in ends)
    return crossed


def _columns(
    lanes: int, routes: Sequence[_Route], tracks: Sequence[int], lane: Mapping[int, int], code: Callable[[Link], float]
) -> tuple[list[float], list[list[float]], float]:
    """Left edges of the lanes' boxes, the tracks of each gutter, and the whole width. Beside a box there is room for codes."""
    room = {(index, left): BESIDE for index in range(lanes) for left in (True, False)}
    for route in routes:
        for link in route.links:
            if link.after in lane:
                side = (lane[link.after], route.gutter <= lane[link.after])
                room[side] = max(room[side], code(link) + HEAD + 2 * CLEAR)
    count = [0] * (lanes + 1)
    for route, track in zip(routes, tracks, strict=True):
        count[route.gutter] = max(count[route.gutter], track + 1)
    lefts: list[float] = []
    at: list[list[float]] = []
    x = TRACK / 2 if count[0] else 0.0
    for gutter in range(lanes + 1):
        x += room.get((gutter - 1, False), 0.0)
        at.append([x + TRACK * index for index in range(count[gutter])])
        x += TRACK * max(count[gutter] - 1, 0) + room.get((gutter, True), 0.0)
        if gutter < lanes:
            lefts.append(x)
            x += BOX
    return lefts, at, x + (TRACK / 2 if count[lanes] else 0.0)
