"""Solids held against another library: closed, wound one way, of the same volume, balanced where the drawing is symmetrical."""

from __future__ import annotations

import numpy as np
import pytest

from sequencer.design.placing import place
from sequencer.solid.parts import part_solid, standing_solids
from sequencer.solid.solids import Solid
from tests.features.samples import SAMPLES, make
from tests.made import EXAMPLES, job
from tests.solid.bodies import piece, piece_with, trimesh_of

CASES = ("s01-bench-hook", "s02-flower-pot-cross", "s05-knife-box", "s08-keyed-tabouret", "s09-towel-roller")
JOBS = (*EXAMPLES, "starter", *(f"tests/cases/{case}.yaml" for case in CASES))


def agrees(solid: Solid) -> None:
    """The other library finds the same closed body. It merges no corners: what is shared is shared by index."""
    mesh = trimesh_of(solid)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(solid.volume, rel=1e-9)
    assert mesh.area == pytest.approx(solid.area, rel=1e-9)
    assert mesh.bounds.ravel() == pytest.approx([*solid.bounds.low, *solid.bounds.high])


@pytest.mark.parametrize("kind", SAMPLES)
def test_every_feature_kind(kind: str) -> None:
    for fields in SAMPLES[kind]:
        agrees(part_solid(piece_with(kind, **fields)))


@pytest.mark.parametrize("name", JOBS)
def test_every_piece_of_every_job_where_it_stands(name: str) -> None:
    for solid in standing_solids(place(job(name))).values():
        agrees(solid)


@pytest.mark.parametrize(
    ("kind", "fields", "through"),
    [
        ("hole", {"face": "inside", "diameter": 10, "at": [{"left": 40}, {"left": 80}, {"left": 120}]}, 3),
        ("hole", {"face": "inside", "diameter": 10, "depth": 8}, 0),
        ("screw-holes", {"face": "inside", "gauge": 8, "at": [{"left": 40}, {"right": 40}]}, 2),
        ("mortise", {"face": "inside", "length": 40, "width": 12}, 1),
        ("cut-out", {"at": {"left": 30, "bottom": 0}, "length": 60, "width": 12}, 0),
        ("groove", {"face": "inside", "from": "bottom", "distance": 8, "width": 6, "depth": 6}, 0),
    ],
)
def test_as_many_holes_go_through_as_are_drawn(kind: str, fields: dict[str, object], through: int) -> None:
    """Euler: corners - edges + faces = 2 - 2 x holes through the body."""
    assert trimesh_of(part_solid(piece_with(kind, **fields))).euler_number == 2 - 2 * through


def test_a_board_balances_in_its_middle_and_turns_as_the_formula_says() -> None:
    """m/12 (b2 + h2) of a block with density 1."""
    mesh = trimesh_of(part_solid(piece()))
    assert mesh.center_mass == pytest.approx((150, 45, 9))
    mass, (x, y, z) = mesh.volume, (300.0, 90.0, 18.0)
    wanted = [mass / 12 * (y * y + z * z), mass / 12 * (x * x + z * z), mass / 12 * (x * x + y * y)]
    assert mesh.moment_inertia == pytest.approx(np.diag(wanted), abs=1e-3)


@pytest.mark.parametrize(
    ("name", "part", "even"),
    [
        ("herb-caddy", "end", "x"),
        ("herb-caddy", "handle", "xyz"),
        ("herb-caddy", "floor", "xyz"),
        ("herb-caddy", "side", ""),
        ("step-stool", "spine", "xz"),
        ("step-stool", "end-rail", "xz"),
        ("step-stool", "leg", "z"),
        ("picture-frame", "long-piece", "x"),
        ("nest-box", "floor", "xyz"),
        ("nest-box", "back", "xy"),
    ],
)
def test_parts_drawn_alike_on_both_sides_balance_in_the_middle(name: str, part: str, even: str) -> None:
    drawn = job(name)
    body = place(drawn).bodies[drawn.parts[part].pieces[0].name]
    centre = trimesh_of(part_solid(body)).center_mass
    block = body.block
    middle = {"x": block.length / 2, "y": block.width / 2, "z": block.thickness / 2}
    balanced = {axis for axis, at in zip("xyz", centre, strict=True) if abs(at - middle[axis]) < 1e-6}
    assert balanced == set(even)


def test_the_two_sides_of_the_caddy_are_mirror_images_and_not_alike() -> None:
    bodies = place(job("herb-caddy")).bodies
    left, right = (part_solid(bodies[f"side.{hand}"]) for hand in ("left", "right"))
    assert right.volume == pytest.approx(left.volume)
    assert (left - right).volume > 5000
    assert (left.mirrored(320) - right).volume + (right - left.mirrored(320)).volume == pytest.approx(0, abs=1e-3)
    one, other = trimesh_of(left), trimesh_of(right)
    assert one.center_mass[0] + other.center_mass[0] == pytest.approx(320)
    assert one.center_mass[1:] == pytest.approx(other.center_mass[1:])


def test_many_features_of_every_kind_on_one_board() -> None:
    features = [
        make("groove", face="inside", from_="bottom", distance=8, width=6, depth=6),
        make("rebate", edge="inside/left", width=15, depth=6),
        make("screw-holes", face="outside", gauge=8, at=[{"left": 100, "bottom": 20}, {"right": 40}]),
        make("chamfer", edges="outside", size=2),
        make("rounded-corner", corners=["top/right"], radius=20),
        make("mortise", face="top", at={"left": 100}, length=30, width=6, depth=25),
    ]
    agrees(part_solid(piece(*features)))
