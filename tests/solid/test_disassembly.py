"""Blocking and taking apart: blocks whose order a joiner sees at once. All invented. mm."""

from __future__ import annotations

from math import sqrt

import pytest

from sequencer.model.frame import Point
from sequencer.solid.blocking import ALONG_AXES, Blocking, ways_to_move
from sequencer.solid.disassembly import Disassembly, Locked, Move
from sequencer.solid.solids import Solid, box, prism

UP, DOWN = Point(0, 0, 1), Point(0, 0, -1)
RIGHT, LEFT = Point(1, 0, 0), Point(-1, 0, 0)


def blocking(solids: dict[str, Solid]) -> Blocking:
    return Blocking(solids, ways_to_move(solids.values()))


def together(*joined: tuple[str, str], **solids: Solid) -> tuple[Move, ...] | Locked:
    meet = [frozenset(pair) for pair in joined]
    return Disassembly(blocking(solids), {name: (name,) for name in solids}, meet).order()


def moves(*joined: tuple[str, str], **solids: Solid) -> list[tuple[tuple[str, ...], Point]]:
    found = together(*joined, **solids)
    assert not isinstance(found, Locked)
    return [(move.bodies, move.way) for move in found]


def tongue(length: float = 40) -> Solid:
    """A rail 100 long from x = 10 to 90 with a tenon 10 long at each end."""
    return box((10, 0, 0), (90, 30, length)) + box((0, 10, 10), (100, 20, length - 10))


def stile(at: float) -> Solid:
    """A stile with a mortise right through for that rail."""
    return box((at - 10, 0, -50), (at + 10, 30, 100)) - box((at - 10, 10, 10), (at + 10, 20, 30))


def wall(at: float, inward: int) -> Solid:
    """A wall 10 thick and 80 high with a housing 4 deep in its inner face, right through from top to bottom."""
    inner = at + 10 * inward
    seat = sorted((inner, inner - 4 * inward))
    return box((min(at, inner), 0, 0), (max(at, inner), 100, 80)) - box((seat[0], 40, 0), (seat[1], 50, 80))


@pytest.mark.parametrize(
    ("glued", "stop", "wanted"),
    [
        (False, False, [("far", LEFT), ("back", DOWN)]),
        (True, False, [("back", RIGHT), ("far", LEFT)]),
        # What keeps the wall from being pressed on leaves the slide.
        (True, True, None),
    ],
)
def test_what_is_glued_into_two_housings_stands_in_one_before_the_other_is_pressed_on(
    glued: bool, stop: bool, wanted: list[tuple[str, Point]] | None
) -> None:
    """The back of a drawer: it could be slid down both walls, 80 far, or the wall be pressed on to it, 4 far. A block outside
    each wall leaves only the slide."""
    solids = {"base": box((0, 0, -10), (200, 100, 0)), "near": wall(0, 1), "far": wall(200, -1)}
    if stop:
        solids["base"] = solids["base"] + box((-10, 0, -10), (0, 100, 10)) + box((200, 0, -10), (210, 100, 10))
    solids["back"] = box((6, 40, 0), (194, 50, 80))
    pairs = [frozenset(("near", "back")), frozenset(("far", "back"))]
    meet = [*pairs, frozenset(("base", "near")), frozenset(("base", "far"))]
    outward = {("back", "near"): RIGHT, ("near", "back"): LEFT, ("back", "far"): LEFT, ("far", "back"): RIGHT}
    found = Disassembly(blocking(solids), {name: (name,) for name in solids}, meet, outward, pairs if glued else ()).order()
    assert not isinstance(found, Locked)
    last = [(move.bodies[0], move.way) for move in found][-2:]
    if wanted is None:
        assert last[-1] == ("back", DOWN)
    else:
        assert last[-1] == wanted[-1]
        assert [body for body, _ in last] == [body for body, _ in wanted]


def test_what_one_piece_meets_the_other_meets_on_the_opposite_way() -> None:
    between = blocking({"rail": tongue(), "stile": stile(0)})
    for way in ALONG_AXES:
        assert between.stops("rail", "stile", way) == (way != RIGHT)
        back = Point(*(-each for each in way))
        assert between.stops("stile", "rail", back) == (way != RIGHT)


def test_blocks_that_only_touch_come_apart_every_way_but_into_each_other() -> None:
    pair = blocking({"low": box((0, 0, 0), (10, 10, 10)), "high": box((0, 0, 10), (10, 10, 20))})
    assert [way for way in ALONG_AXES if pair.stops("high", "low", way)] == [DOWN]
    assert [way for way in ALONG_AXES if pair.stops("low", "high", way)] == [UP]


def test_a_piece_far_off_is_met_where_it_is_and_not_where_its_box_is() -> None:
    # The box round the L is in the way of the block, the L itself is not.
    ell = box((50, -50, -50), (60, 50, 50)) - box((50, -5, -5), (60, 50, 50))
    pair = blocking({"block": box((0, 0, 0), (10, 10, 10)), "ell": ell, "wall": box((80, 0, 0), (90, 10, 10))})
    assert not pair.stops("block", "ell", RIGHT)
    assert pair.stops("block", "wall", RIGHT)


def test_a_rail_goes_into_the_first_stile_and_the_second_stile_onto_it() -> None:
    found = moves(("left", "rail"), ("rail", "right"), left=stile(0), rail=tongue(), right=stile(100))
    assert found == [(("rail",), LEFT), (("right",), LEFT)]


def test_a_panel_goes_in_before_the_last_stile() -> None:
    """Two rails between stiles, a panel in a groove all round: no order has it last."""
    frame = box((0, 0, 0), (200, 20, 200)) - box((40, 0, 40), (160, 20, 160)) - box((34, 7, 34), (166, 13, 166))
    cuts = {
        "left": box((0, 0, 0), (40, 20, 200)),
        "right": box((160, 0, 0), (200, 20, 200)),
        "low": box((40, 0, 0), (160, 20, 40)),
        "high": box((40, 0, 160), (160, 20, 200)),
    }
    solids = {name: frame & cut for name, cut in cuts.items()}
    for name, reach in (("low", (5.0, 15.0)), ("high", (185.0, 195.0))):
        tenon = box((20, 7, reach[0]), (180, 13, reach[1]))
        solids[name] = solids[name] + tenon
        for side in ("left", "right"):
            solids[side] = solids[side] - tenon
    solids["panel"] = box((34, 7, 34), (166, 13, 166))
    order = [bodies for bodies, _ in moves(*[(a, b) for a in solids for b in solids if a != b], **solids)]
    assert all(len(bodies) == 1 for bodies in order)
    stiles = max(order.index((side,)) for side in ("left", "right") if (side,) in order)
    rails = [order.index((rail,)) for rail in ("low", "high") if (rail,) in order]
    panel = order.index(("panel",))
    assert panel < stiles or panel < max(rails)
    assert order[-1] != ("panel",)


def test_a_mitre_with_a_loose_tongue_closes_square_to_itself() -> None:
    """Two pieces mitred in one corner, a tongue across the mitre: neither axis is free, the way at 45 degrees is."""
    one = prism("z", [[(0, 0), (100, 0), (70, 30), (30, 30)]], 0, 20)
    two = prism("z", [[(0, 0), (30, 30), (30, 100), (0, 100)]], 0, 20)
    across = prism("z", [[(8, 20), (20, 8), (26, 14), (14, 26)]], 7, 13)
    pair = blocking({"one": one + across, "two": two - across})
    free = [way for way in pair.ways if not pair.stops("one", "two", way)]
    assert [tuple(round(each, 3) for each in way) for way in free] == [(0.707, -0.707, 0.0)]
    assert not any(way in ALONG_AXES for way in free)


def test_a_frame_of_tongued_mitres_is_closed_from_two_halves() -> None:
    """No piece comes away singly; two corners do, at 45 degrees, carried as one onto the other two."""
    size, wide = 200.0, 30.0
    inner = size - wide
    outlines = {
        "low": [(0, 0), (size, 0), (inner, wide), (wide, wide)],
        "right": [(size, 0), (size, size), (inner, inner), (inner, wide)],
        "high": [(size, size), (0, size), (wide, inner), (inner, inner)],
        "left": [(0, size), (0, 0), (wide, wide), (wide, inner)],
    }
    solids = {name: prism("z", [outline], 0, 20) for name, outline in outlines.items()}
    corners = {("low", "left"): (15, 15), ("low", "right"): (185, 15), ("high", "right"): (185, 185), ("high", "left"): (15, 185)}
    for (one, two), (x, y) in corners.items():
        sign = 1 if (x < 100) == (y < 100) else -1
        # Square to the mitre, which runs through the corner: 6 to each side, 5 along it.
        a, b = 6 / sqrt(2), 5 / sqrt(2)
        outline = [(x - a - b, y + sign * (a - b)), (x + a - b, y - sign * (a + b)), (x + a + b, y - sign * (a - b)),
                   (x - a + b, y + sign * (a + b))]  # fmt: skip
        peg = prism("z", [outline if sign > 0 else outline[::-1]], 7, 13)
        solids[one] = solids[one] + peg
        solids[two] = solids[two] - peg
    found = together(*corners, **solids)
    assert not isinstance(found, Locked)
    carried = [move for move in found if move.carried]
    assert len(carried) == 1
    assert len(carried[0].bodies) == 2
    assert carried[0].bodies in [tuple(sorted(pair, key=list(solids).index)) for pair in corners]
    assert [abs(round(each, 3)) for each in carried[0].way] == [0.707, 0.707, 0.0]


def test_three_bars_that_lock_each_other_are_named_without_the_loose_one() -> None:
    """Each bar is caught in a closed hole of the next one, in a ring: nothing moves. A block on top is no part of it."""
    one = box((0, 0, 0), (60, 20, 20)) - box((20, 5, 0), (40, 15, 20))
    two = box((20, 5, -20), (40, 15, 40))
    lock = one & two
    assert lock.volume == 0
    # A head at each end of the pin: it went in before the heads were on.
    pin = two + box((15, 0, 20), (45, 20, 40)) + box((15, 0, -20), (45, 20, 0))
    found = together(plate=one, pin=pin, block=box((15, 0, 40), (45, 20, 50)))
    assert isinstance(found, Locked)
    assert set(found.bodies) == {"plate", "pin"}
    stops = {(stop.body, stop.way): stop.by for stop in found.stops}
    assert all(stops["pin", way] == ("plate",) for way in ALONG_AXES)


@pytest.mark.parametrize("loose", [0.0, 0.3])
def test_a_cross_halving_lifts_off_and_goes_no_other_way(loose: float) -> None:
    under = box((0, 40, 0), (100, 60, 20)) - box((40 - loose, 40, 10), (60 + loose, 60, 20))
    over = box((40, 0, 0), (60, 100, 20)) - box((40, 40 - loose, 0), (60, 60 + loose, 10))
    pair = blocking({"under": under, "over": over})
    assert [way for way in ALONG_AXES if not pair.stops("over", "under", way)] == [UP]


def test_a_key_under_a_beam_is_drawn_up_and_then_aside() -> None:
    """Out of its mortise it meets the beam above before it is far away; past the mortise it goes out sideways."""
    rail = box((0, 0, 0), (200, 40, 40)) - box((90, 10, 0), (110, 30, 40))
    beam = box((0, 0, 120), (200, 40, 140)) + box((0, 0, 40), (20, 40, 120)) + box((180, 0, 40), (200, 40, 120))
    key = box((90, 10, 0), (110, 30, 50)) + box((85, 10, 40), (115, 30, 50))
    found = Disassembly(blocking({"frame": rail + beam, "key": key}), {"frame": ("frame",), "key": ("key",)}).order()
    assert not isinstance(found, Locked)
    (move,) = found
    assert (move.bodies, move.way) == (("key",), DOWN)
    assert move.first is not None
    assert abs(move.first.y) == 1


def test_a_key_that_is_longer_than_the_room_above_it_cannot_go_in() -> None:
    rail = box((0, 0, 0), (200, 40, 40)) - box((90, 10, 0), (110, 30, 40))
    beam = box((0, 0, 60), (200, 40, 80)) + box((0, 0, 40), (20, 40, 60)) + box((180, 0, 40), (200, 40, 60))
    key = box((90, 10, 0), (110, 30, 50)) + box((85, 10, 40), (115, 30, 50))
    assert isinstance(together(frame=rail + beam, key=key), Locked)


def test_a_way_out_that_the_drawing_demands_is_the_only_one() -> None:
    solids = {"low": box((0, 0, 0), (10, 10, 10)), "high": box((0, 0, 10), (10, 10, 20))}
    pair = Blocking(solids, ALONG_AXES, only={("high", "low"): RIGHT})
    assert [way for way in ALONG_AXES if not pair.stops("high", "low", way)] == [RIGHT]
    assert [way for way in ALONG_AXES if not pair.stops("low", "high", way)] == [LEFT]
