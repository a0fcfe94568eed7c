"""Pictures in the round: what is hidden, held against closed forms and against rays; what is written, that it can be read."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise, permutations
from math import acos, cos, hypot, pi, radians, sin, sqrt

import numpy as np
import pytest
import trimesh

from sequencer.design.placing import place
from sequencer.model.frame import Point
from sequencer.model.shapes import Cone
from sequencer.paper.axonometric import draw_scene
from sequencer.paper.ground import Ground, read_on
from sequencer.paper.notes import Note, name_notes
from sequencer.paper.outlines import eye, hatching, surface
from sequencer.paper.scene import FROM_THE_LEFT, Arrow, FaceMark, Scene, Size, Thing
from sequencer.paper.shortening import shortened
from sequencer.paper.svg import NOTHING, Box, Picture
from sequencer.paper.visible import Floats, cover, seen, topmost
from sequencer.solid.parts import part_solid, standing_solids
from sequencer.solid.solids import Mesh, Solid, box, joined, prism, shape_solid
from tests.made import EXAMPLES, job

SVG = "{http://www.w3.org/2000/svg}"
GENERIC = Point(-0.5, -1.0, 0.7)
RIGHT, AWAY, UP = Point(1.0, 0.0, 0.0), Point(0.0, 1.0, 0.0), Point(0.0, 0.0, 1.0)


def _lengths(bodies: list[Solid], looks_from: Point) -> tuple[Floats, Floats]:
    """By edge as it is drawn: its length as the viewer sees it, and how much of that is visible. All bodies' edges."""
    found = surface([body.mesh for body in bodies], eye(looks_from))
    lines = found.lines
    line, begin, end = seen(lines.start, lines.stop, cover(found.faces))
    whole = np.hypot(*(lines.stop - lines.start)[:, :2].T)
    visible: Floats = np.bincount(line, weights=(end - begin) * whole[line], minlength=len(whole)).astype(np.float64)
    return whole, visible


def _paths(picture: Picture, kind: str) -> list[list[tuple[float, float]]]:
    """The strokes of a kind of line in a picture."""
    strokes = []
    for element in ET.fromstring(picture.svg).iter(f"{SVG}path"):
        if element.get("class") == kind:
            for stroke in element.get("d", "").split("M")[1:]:
                points = stroke.replace("Z", "").split("L")
                strokes.append([(float(x), float(y)) for x, y in (point.split() for point in points)])
    return strokes


def _words(picture: Picture) -> list[str]:
    return [element.text or "" for element in ET.fromstring(picture.svg).iter(f"{SVG}text")]


# --- What is hidden -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("looks_from", [GENERIC, Point(1.0, 2.0, 0.3), Point(0.2, -0.4, -1.0)])
def test_nine_of_a_cubes_twelve_edges_are_seen(looks_from: Point) -> None:
    whole, visible = _lengths([box((0, 0, 0), (10, 10, 10))], looks_from)
    shown = visible[visible > 1e-6]
    assert len(shown) == 9
    assert shown == pytest.approx(whole[visible > 1e-6])
    # Three edges along each axis: each is foreshortened to the sine of its angle to the way the viewer looks.
    size = sqrt(sum(each * each for each in looks_from))
    assert shown.sum() == pytest.approx(3 * 10 * sum(sqrt(1 - (each / size) ** 2) for each in looks_from))


def test_a_box_seen_square_on_is_its_front_face() -> None:
    _, visible = _lengths([box((0, 0, 0), (10, 20, 30))], Point(0.0, -1.0, 0.0))
    assert visible.sum() == pytest.approx(2 * (10 + 30))


def test_a_box_in_front_hides_what_it_covers() -> None:
    front, back = box((20, 0, 0), (30, 10, 30)), box((0, 30, 0), (100, 40, 20))
    # Half from above. A point is seen at the height (y + z) / root 2: the front box covers x 20 to 30 up to 40 / root 2, so
    # ten of the lower front edge of the back box (at 30), nothing of its upper edges (at 50 and 60). Its ends are seen edge
    # on: 20 high, 10 deep, each over root 2.
    looks_from = Point(0.0, -1.0, 1.0)
    alone = _lengths([front], looks_from)[1].sum()
    both = _lengths([front, back], looks_from)[1].sum()
    assert both - alone == pytest.approx(90 + 100 + 100 + 2 * (20 + 10) / sqrt(2))


def test_all_edges_of_a_step_that_look_at_the_viewer_are_seen_whole() -> None:
    step = prism("y", [[(0, 0), (60, 0), (60, 40), (30, 40), (30, 20), (0, 20)]], 0.0, 50.0)
    whole, visible = _lengths([step], GENERIC)
    # Of 18 edges: six in front, five from front to back with the one in the corner, four at the back.
    assert np.count_nonzero(visible > 1e-6) == 15
    assert visible[visible > 1e-6] == pytest.approx(whole[visible > 1e-6])


def test_the_far_part_of_a_step_hides_behind_the_near_one() -> None:
    step = prism("x", [[(0, 0), (20, 0), (20, 10), (10, 10), (10, 30), (0, 30)]], 0.0, 50.0)
    # From in front the low part stands behind the high one: nothing of it is seen.
    _, visible = _lengths([step], Point(0.0, -1.0, 0.2))
    alone = _lengths([box((0, 0, 0), (50, 10, 30))], Point(0.0, -1.0, 0.2))[1]
    assert visible.sum() == pytest.approx(alone.sum())


@pytest.mark.parametrize("angle", [20.0, 35.0, 50.0])
def test_a_hole_shows_part_of_its_far_rim(angle: float) -> None:
    radius, thick = 20.0, 18.0
    hole = shape_solid(Cone("z", (50.0, 50.0), -1.0, thick + 1.0, radius, radius))
    plate = box((0, 0, 0), (100, 100, thick)) - hole
    looks_from = Point(0.0, -sin(radians(angle)), cos(radians(angle)))
    found = surface([plate.mesh], eye(looks_from))
    lines = found.lines
    line, begin, end = seen(lines.start, lines.stop, cover(found.faces))
    # On paper both rims are alike and `offset` apart (before foreshortening): the far one is seen inside the near one.
    depth = eye(looks_from).near
    z = (lines.start[:, 1] * eye(looks_from).up.z + lines.start[:, 2] * depth.z) + lines.start[:, 0] * eye(looks_from).right.z
    length = np.linalg.norm(lines.stop - lines.start, axis=1)
    far = (np.abs(z) < 1e-6) & (length < 2 * pi * radius / 40)
    seen_length = np.bincount(line, weights=(end - begin) * length[line], minlength=len(length))[far].sum()
    offset = thick * np.tan(radians(angle))
    assert seen_length == pytest.approx(2 * radius * acos(offset / (2 * radius)), rel=0.02)


def test_a_cylinder_shows_its_rims_and_two_lines() -> None:
    rod = shape_solid(Cone("x", (0.0, 0.0), 0.0, 200.0, 10.0, 10.0))
    whole, visible = _lengths([rod], GENERIC)
    assert np.count_nonzero(visible[whole > 50] > 1e-6) == 2
    # Of the far rim half is seen.
    assert np.count_nonzero(visible[whole < 50] > 1e-6) == pytest.approx(48 + 24, abs=1)


def test_faces_that_touch_do_not_hide_each_others_edges() -> None:
    lower, upper = box((0, 0, 0), (40, 40, 10)), box((0, 0, 10), (40, 40, 20))
    one = _lengths([lower + upper], GENERIC)[1].sum()
    two = _lengths([lower, upper], GENERIC)[1]
    # Flush, with a line where they meet: seen twice, as the edge of either.
    near = eye(GENERIC).near
    meeting = 40 * (sqrt(1 - near.x**2) + sqrt(1 - near.y**2))
    assert two.sum() == pytest.approx(one + 2 * meeting, abs=0.05)


def _boxes(seed: int, count: int = 6) -> Solid:
    random = np.random.default_rng(seed)
    low = random.uniform(0, 60, (count, 3))
    return joined(box(tuple(a), tuple(a + b)) for a, b in zip(low, random.uniform(15, 50, (count, 3)), strict=True))


@pytest.mark.parametrize("seed", range(6))
def test_visible_length_agrees_with_rays(seed: int) -> None:
    """An independent count: trimesh finds the edges, each is looked at in many points, a ray from each to the viewer meets
    any triangle or none."""
    body = _boxes(seed)
    mesh = trimesh.Trimesh(body.mesh.corners, body.mesh.triangles, process=False)
    viewer = eye(GENERIC)
    towards = np.array(viewer.near)
    edges = mesh.face_adjacency_edges[mesh.face_adjacency_angles > radians(26)]
    start, stop = mesh.vertices[edges[:, 0]], mesh.vertices[edges[:, 1]]
    right, up = np.array(viewer.right), np.array(viewer.up)
    length = np.hypot((stop - start) @ right, (stop - start) @ up)
    counts = np.ceil(length / 0.35).astype(int)
    share = np.concatenate([(np.arange(count) + 0.5) / count for count in counts])
    owner = np.repeat(np.arange(len(edges)), counts)
    points = start[owner] + share[:, None] * (stop - start)[owner]
    hidden = _hit(points, towards, mesh.triangles)
    rays = np.bincount(owner, weights=~hidden, minlength=len(edges)) / counts * length
    assert _lengths([body], GENERIC)[1].sum() == pytest.approx(rays.sum(), rel=0.01)


def _hit(points: Floats, towards: Floats, triangles: Floats) -> np.ndarray:
    """Whether a ray from each point meets a triangle beyond its start (Moeller and Trumbore 1997)."""
    hit = np.zeros(len(points), dtype=bool)
    for a, b, c in triangles:
        one, two = b - a, c - a
        across = np.cross(towards, two)
        size = one @ across
        if abs(size) < 1e-9:
            continue
        back = points - a
        u = back @ across / size
        turned = np.cross(back, one)
        v = turned @ towards / size
        way = turned @ two / size
        hit |= (u > 1e-9) & (v > 1e-9) & (u + v < 1 - 1e-9) & (way > 0.02)
    return hit


def test_many_lines_are_hidden_as_few_are() -> None:
    """Enough bodies to be sorted into strips give what each line gives against all faces."""
    bodies = [
        box((20 * x, 20 * y, 0), (20 * x + 15, 20 * y + 15, 10 + (7 * x + 3 * y) % 20)) for x in range(12) for y in range(12)
    ]
    found = surface([body.mesh for body in bodies], eye(GENERIC))
    lines, hiding = found.lines, cover(found.faces)
    together = seen(lines.start, lines.stop, hiding)
    apart = [seen(lines.start[n : n + 50], lines.stop[n : n + 50], hiding) for n in range(0, len(lines.start), 50)]
    assert len(lines.start) * len(found.faces) > 400_000
    assert np.concatenate([each[1] for each in apart]) == pytest.approx(together[1])
    assert np.concatenate([each[2] for each in apart]) == pytest.approx(together[2])


def test_the_nearest_face_is_on_top() -> None:
    far, near = ([[0.0, 0.0, z], [10.0, 0.0, z], [0.0, 10.0, z]] for z in (1.0, 5.0))
    hiding = cover(np.array([near, far]))
    assert topmost(np.array([[2.0, 2.0], [9.0, 9.0]]), hiding).tolist() == [0, -1]


def test_a_sliver_makes_no_line() -> None:
    """Two triangles and between them one without breadth, as rounding leaves it: flat all the same."""
    corners = np.array([[0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [5, 5 + 1e-7, 0], [0, 0, -5.0]])
    triangles = np.array([[0, 1, 2], [0, 2, 4], [0, 4, 3], [4, 2, 3], [1, 0, 5], [2, 1, 5], [3, 2, 5], [0, 3, 5]])
    lines = surface([Mesh(corners, triangles)], eye(Point(0.0, 0.0, 1.0))).lines
    assert len(lines.start) == 4


def test_a_viewer_has_to_be_somewhere() -> None:
    with pytest.raises(ValueError, match="somewhere"):
        eye(Point(0.0, 0.0, 0.0))


def test_from_straight_above_x_is_to_the_right_and_y_up() -> None:
    assert eye(Point(0.0, 0.0, 3.0)).direction(Point(1.0, 2.0, 3.0)) == Point(1.0, 2.0, 3.0)


# --- The picture -----------------------------------------------------------------------------------------------------


def _board(length: float = 200.0) -> Scene:
    body, waste = box((0, 0, 0), (length, 60, 20)), box((0, 20, 14), (length, 26, 20))
    return Scene(
        (Thing(body - waste, letter="A"), Thing(waste, "waste")),
        (
            Size(Point(0, 0, 0), Point(length, 0, 0), f"{length:g}", Point(0, -1, 0)),
            Size(Point(length, 0, 0), Point(length, 60, 0), "60", RIGHT),
            Size(Point(0, 0, 20), Point(0, 20, 20), "20", Point(-1, 0, 0)),
        ),
        (Arrow(Point(-90, 30, 10), Point(-20, 30, 10), "feed", heavy=True),),
        (
            FaceMark("side", Point(length / 2, 10, 20), RIGHT, Point(0, -1, 0)),
            FaceMark("edge", Point(length / 2, 0, 10), RIGHT, UP),
        ),
        "A board with a groove",
    )


def test_a_scene_is_drawn_alike_from_run_to_run_and_in_any_order() -> None:
    scene = _board()
    scene = replace(scene, things=(*scene.things, Thing(box((0, 80, 0), (200, 90, 40)), "tool", name="fence")))
    drawn = {draw_scene(replace(scene, things=order)).svg for order in permutations(scene.things)}
    assert len(drawn) == 1
    assert draw_scene(scene).svg in drawn


def test_coordinates_have_two_decimals_at_most() -> None:
    for kind in ("wood contour", "wood crease", "waste crease", "hatch", "size"):
        strokes = _paths(draw_scene(_board()), kind)
        assert strokes
        assert all(round(value, 2) == value for stroke in strokes for point in stroke for value in point)


def test_nothing_gives_nothing() -> None:
    assert draw_scene(Scene(())) == NOTHING
    assert draw_scene(Scene((Thing(box((0, 0, 0), (0, 1, 1))),))) == NOTHING


def test_many_small_pieces_have_no_face_that_fills_a_picture_and_are_drawn() -> None:
    pieces = [Thing(box((80.0 * at, 0, 0), (80.0 * at + 60, 30, 20)), letter="A") for at in range(40)]
    sizes = (Size(Point(0, 0, 0), Point(60, 0, 0), "60", Point(0, -1, 0)),)
    assert "60" in _words(draw_scene(Scene(tuple(pieces), sizes)))


def test_everything_asked_for_is_written() -> None:
    picture = draw_scene(_board())
    assert sorted(_words(picture)) == sorted(["A", "200", "60", "20", "feed"])
    assert _paths(picture, "face-side")
    assert _paths(picture, "face-edge")
    assert picture.readable


def test_marks_on_faces_that_look_away_are_not_drawn() -> None:
    scene = _board()
    turned = (
        FaceMark("side", Point(100, 30, 0), RIGHT, Point(0, -1, 0)),
        FaceMark("edge", Point(100, 60, 10), RIGHT, UP),
    )
    picture = draw_scene(replace(scene, marks=turned))
    assert not _paths(picture, "face-side")
    assert not _paths(picture, "face-edge")


def test_a_mark_behind_something_is_not_drawn() -> None:
    scene = _board()
    wall = Thing(box((-50, -60, 0), (250, -50, 150)), "behind")
    assert not _paths(draw_scene(replace(scene, things=(*scene.things, wall))), "face-side")


def test_a_mark_points_at_its_edge() -> None:
    """Both marks meet in the edge between their faces, at the place they are at."""
    picture = draw_scene(replace(_board(), sizes=(), arrows=()))
    tip = max((point for stroke in _paths(picture, "face-edge") for point in stroke), key=lambda point: -point[1])
    foot = max((point for stroke in _paths(picture, "face-side") for point in stroke), key=lambda point: point[1])
    assert hypot(tip[0] - foot[0], tip[1] - foot[1]) < 0.1


def test_hatching_lies_on_the_waste_and_slopes_otherwise_than_the_wood() -> None:
    picture = draw_scene(replace(_board(), sizes=(), arrows=(), marks=()))
    waste = np.array([point for stroke in _paths(picture, "waste contour") + _paths(picture, "waste crease") for point in stroke])
    hatch = _paths(picture, "hatch")
    assert len(hatch) > 20
    slopes = {
        round(np.degrees(np.arctan2(b[1] - a[1], b[0] - a[0])) % 180) for a, *_, b in hatch if hypot(b[0] - a[0], b[1] - a[1]) > 1
    }
    assert max(slopes) - min(slopes) <= 3
    for stroke in hatch:
        for x, y in stroke:
            assert waste[:, 0].min() - 0.02 <= x <= waste[:, 0].max() + 0.02
            assert waste[:, 1].min() - 0.02 <= y <= waste[:, 1].max() + 0.02
    for stroke in _paths(picture, "wood crease") + _paths(picture, "wood contour"):
        for (x, y), (to_x, to_y) in pairwise(stroke):
            if hypot(to_x - x, to_y - y) > 5:
                slope = np.degrees(np.arctan2(to_y - y, to_x - x)) % 180
                assert all(abs((slope - each + 90) % 180 - 90) > 12 for each in slopes)


def test_hatch_lines_are_evenly_apart_and_fill_the_face() -> None:
    face = np.array([[[0, 0, 0], [30, 0, 0], [30, 20, 0]], [[0, 0, 0], [30, 20, 0], [0, 20, 0.0]]])
    start, stop, triangle = hatching(face, 2.0, 45.0)
    assert set(triangle.tolist()) == {0, 1}
    # Lines 2 apart over 600 mm2 are 300 mm long together.
    assert np.linalg.norm(stop - start, axis=1).sum() == pytest.approx(300, rel=0.03)
    across = (stop - start) @ np.array((1.0, -1.0, 0.0))
    assert across == pytest.approx(0.0, abs=1e-9)


def test_what_wood_hides_of_a_blade_is_dashed_where_asked() -> None:
    blade = shape_solid(Cone("y", (40.0, -20.0), 20.0, 23.0, 50.0, 50.0))
    wood = box((-60, 0, 0), (40, 60, 50)) - blade
    plain = Scene((Thing(wood), Thing(blade, "tool")))
    assert not _paths(draw_scene(plain), "inside")
    shown = Scene((Thing(wood), Thing(blade, "tool", through=True)))
    dashed = next(each for each in ET.fromstring(draw_scene(shown).svg).iter(f"{SVG}path") if each.get("class") == "inside")
    assert dashed.get("stroke-dasharray")


def test_a_line_shows_where_a_tool_goes_into_wood() -> None:
    """Bodies that share room have no edge where their faces cross: the wood gives way to the tool."""
    wood, saw = box((0, 0, 0), (100, 40, 20)), box((48, -10, -5), (50, 50, 60))
    apart = Scene((Thing(wood - saw), Thing(saw, "tool")))
    assert draw_scene(Scene((Thing(wood), Thing(saw, "tool")))).svg == draw_scene(apart).svg


def test_a_name_stands_by_the_letter_of_its_piece() -> None:
    picture = draw_scene(Scene((Thing(box((0, 0, 0), (200, 100, 20)), letter="B", name="left"),)))
    ring, name = picture.texts
    middle, its_middle = (ring.left + ring.right) / 2, (name.left + name.right) / 2
    assert hypot(middle - its_middle, ring.top - name.top) < 8.0


def test_words_on_a_thing_or_a_leader_to_it() -> None:
    broad = draw_scene(Scene((Thing(box((0, 0, 0), (100, 100, 20)), letter="A"),)))
    thin = draw_scene(Scene((Thing(box((0, 0, 0), (200, 4, 4)), letter="A"),)), whole=True)
    assert not _paths(broad, "leader")
    (leader,) = _paths(thin, "leader")
    # The stick is about 3 mm broad on paper: one end of the leader is on it, the other is not.
    outline = [pair for stroke in _paths(thin, "wood contour") for pair in pairwise(stroke)]
    near = sorted(min(_distance(end, *pair) for pair in outline) for end in (leader[0], leader[-1]))
    assert near[0] < 2.0 < near[1]


def _distance(point: tuple[float, float], one: tuple[float, float], two: tuple[float, float]) -> float:
    (x, y), (a, b), (c, d) = point, one, two
    along = ((x - a) * (c - a) + (y - b) * (d - b)) / max((c - a) ** 2 + (d - b) ** 2, 1e-12)
    along = min(max(along, 0.0), 1.0)
    return hypot(x - a - along * (c - a), y - b - along * (d - b))


def test_a_picture_fits_its_room_or_says_that_it_cannot_be_read() -> None:
    scene = _board()
    for width, height in ((56, 40), (86, 52), (174, 80)):
        picture = draw_scene(scene, width, height)
        assert (picture.width, picture.readable) == (width, True)
        assert picture.height <= height
    assert not draw_scene(scene, 16, 12).readable


def test_the_largest_scale_can_be_held_down() -> None:
    free, held = draw_scene(_board()), draw_scene(_board(), most=0.1)

    def breadth(picture: Picture) -> float:
        across = [x for stroke in _paths(picture, "wood contour") for x, _ in stroke]
        return max(across) - min(across)

    assert breadth(held) < 0.7 * breadth(free)


def test_a_size_seen_end_on_still_has_its_words() -> None:
    scene = Scene(
        (Thing(box((0, 0, 0), (50, 20, 20))),),
        (Size(Point(0, 0, 20), Point(0, 20, 20), "20", Point(-1, 0, 0)),),
        looks_from=Point(0.0, -1.0, 0.0),
    )
    assert _words(draw_scene(scene)) == ["20"]


# --- Long work -------------------------------------------------------------------------------------------------------


def test_long_work_is_broken_and_keeps_its_sizes() -> None:
    scene = _board(2400.0)
    picture, whole = draw_scene(scene), draw_scene(scene, whole=True)
    assert picture.readable
    assert "2400" in _words(picture)

    def thickness(drawn: Picture) -> float:
        down = [abs(a[1] - b[1]) for stroke in _paths(drawn, "wood contour") for a, b in pairwise(stroke) if a[0] == b[0]]
        return max(down, default=0.0)

    assert thickness(picture) > 2 * thickness(whole)


def test_shortening_takes_out_wood_between_two_like_zigzags() -> None:
    scene = _board(2400.0)
    short = shortened(scene, "x", 300.0)
    assert short is not None
    for before, after in zip(scene.things, short.things, strict=True):
        bounds = after.solid.bounds
        assert (bounds.size("y"), bounds.size("z")) == (before.solid.bounds.size("y"), before.solid.bounds.size("z"))
        assert bounds.size("x") == pytest.approx(300.0, rel=0.35)
        assert len(after.solid.pieces()) == 2
        # Alike on both sides, so the wood that is left is as long as it is drawn, less the gap.
        section = before.solid.volume / 2400.0
        assert after.solid.volume == pytest.approx(section * (bounds.size("x") - 0.04 * 300.0), rel=1e-6)
    assert short.sizes[0].label == "2400"
    assert short.sizes[0].stop.x == pytest.approx(short.things[0].solid.bounds.high.x)


def test_what_happens_along_the_way_is_kept() -> None:
    holes = [shape_solid(Cone("z", (x, 30.0), -1.0, 21.0, 5.0, 5.0)) for x in (300.0, 1500.0)]
    board = box((0, 0, 0), (2400, 60, 20))
    scene = Scene((Thing(board - holes[0] - holes[1]),))
    short = shortened(scene, "x", 300.0)
    assert short is not None
    left = short.things[0].solid
    gone = joined(each.solid for each in shortened(Scene((Thing(board),)), "x", 300.0).things)  # type: ignore[union-attr]
    assert len(left.pieces()) > len(gone.pieces())
    rims = [edge for edge in left.mesh.corners[:, 2] if edge == 20.0]
    assert len(rims) >= 2 * 48


def test_short_work_is_not_broken() -> None:
    assert shortened(_board(200.0), "x", 300.0) is None
    assert draw_scene(_board(200.0)).svg == draw_scene(_board(200.0), whole=True).svg


# --- The examples ----------------------------------------------------------------------------------------------------


def _parts(name: str) -> dict[str, Scene]:
    placement = place(job(name))
    scenes = {"together": Scene(tuple(Thing(solid, letter="A") for solid in standing_solids(placement).values()))}
    for piece, body in placement.bodies.items():
        block = body.block
        long, wide, thick = block.length, block.width, block.thickness
        sizes = (
            Size(Point(0, 0, thick), Point(long, 0, thick), f"{long:g}", Point(0, -1, 0)),
            Size(Point(long, 0, thick), Point(long, wide, thick), f"{wide:g}", RIGHT),
            Size(Point(0, 0, 0), Point(0, 0, thick), f"{thick:g}", Point(-1, 0, 0)),
        )
        mark = FaceMark("side", Point(long / 2, wide / 2, thick), RIGHT, Point(0, -1, 0))
        scenes[piece] = Scene((Thing(part_solid(body), letter="A"),), sizes, marks=(mark,))
    return scenes


@pytest.mark.parametrize("width", [56.0, 86.0, 174.0])
@pytest.mark.parametrize("name", EXAMPLES)
def test_pictures_of_the_examples_can_be_read(name: str, width: float) -> None:
    for piece, scene in _parts(name).items():
        picture = draw_scene(scene, width, 60.0)
        assert picture.readable, piece
        for number, box_ in enumerate(picture.texts):
            assert box_.left > -0.1
            assert box_.right < width + 0.1
            assert box_.top > -0.1
            assert box_.bottom < picture.height + 0.1
            assert not any(box_.overlaps(other) for other in picture.texts[:number])


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_part_shows_the_length_rays_find(name: str) -> None:
    """Curves and holes too: the edges that are drawn, looked at in many points."""
    for body in {body.part.name: body for body in place(job(name)).bodies.values()}.values():
        solid = part_solid(body)
        found = surface([solid.mesh], eye(FROM_THE_LEFT))
        lines = found.lines
        whole, visible = _lengths([solid], FROM_THE_LEFT)
        counts = np.maximum(np.ceil(whole / 4.0).astype(int), 1)
        share = np.concatenate([(np.arange(count) + 0.5) / count for count in counts])
        owner = np.repeat(np.arange(len(whole)), counts)
        points = lines.start[owner] + share[:, None] * (lines.stop - lines.start)[owner]
        hidden = _hit(points, np.array((0.0, 0.0, 1.0)), found.faces)
        rays = (np.bincount(owner, weights=~hidden, minlength=len(whole)) / counts * whole).sum()
        assert visible.sum() == pytest.approx(rays, rel=0.01)


@pytest.mark.parametrize("beside", [-8.0, 8.0])
def test_a_name_is_not_written_in_one_line_with_a_figure(beside: float) -> None:
    """`10 vice` would be read as one: a number of vices."""
    ground = Ground(Box(0.0, 0.0, 40.0, 20.0), lambda points: np.zeros(len(points), dtype=np.bool_))
    figure = ground.place([[Note("10", Box(18.0, 8.0, 22.0, 11.0), "size")]])
    spot = (20.0 + beside, 9.5)
    near = Note("vice", Box(spot[0] - 3.0, 8.0, spot[0] + 3.0, 11.0), "name")
    assert read_on(near, figure)
    name = ground.place(name_notes("vice", [spot]))
    assert not read_on(name, figure)
    # Where no figure is in the line, it stands on what it names.
    alone = Ground(Box(0.0, 0.0, 40.0, 20.0), lambda points: np.zeros(len(points), dtype=np.bool_))
    assert alone.place(name_notes("vice", [spot])).dot is None
    assert name.dot == spot
