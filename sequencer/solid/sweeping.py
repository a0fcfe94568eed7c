"""Can a body be moved that way? What stands in the way of a straight move, found exactly: no positions are sampled. mm.

Whatever a body comes to fill on its way is passed through by those of its faces that look along the way. So each of these
faces is swept, and what the swept bodies share with the others is what is in the way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sequencer.design.poses import Direction
from sequencer.model.frame import AXES, Point
from sequencer.solid.solids import Floats, Mesh, Solid, Whole, joined, shadow_area, swept_sheet

LEAST_VOLUME = 1.0
LEAST_THICKNESS = 0.05
"""Two bodies stand in each other if they share more than this, mm3 and mm; less is faces that touch, and rounding."""
LOOKS_ALONG = 1e-6
"""Least cosine between a face's normal and the way for the face to look along it."""
SAME_PLANE = 4
"""Decimals by which faces are in one plane."""


def beyond_a_touch(shared: Solid) -> Solid | None:
    """What two bodies share, cleared of skins; None if it is no more than a touch."""
    if shared.volume <= LEAST_VOLUME:
        return None
    cleared = shared.without_skins()
    return cleared if cleared.volume > LEAST_VOLUME and cleared.thickness > LEAST_THICKNESS else None


def blocked(moving: Solid, others: Sequence[Solid], direction: Direction | Point, distance: float) -> Solid | None:
    """What stands in the way when a body is moved straight by `distance` mm; None if the way is free.

    direction
        Along an axis, or any vector over zero; its length does not matter.

    Faces that slide along each other are not in the way. Where the others stand in the body before it is moved, that counts
    only as far as faces that look along the way pass through it.
    """
    along = _unit(direction)
    by = along * distance
    mesh = moving.mesh
    corners = mesh.corners[mesh.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    looks = normals @ along > LOOKS_ALONG * np.linalg.norm(normals, axis=1)
    triangles, corners, normals = mesh.triangles[looks], corners[looks], normals[looks]
    low, high = corners.min(axis=1) + np.minimum(by, 0.0), corners.max(axis=1) + np.maximum(by, 0.0)
    found = []
    for other in others:
        if other.empty:
            continue
        bounds = other.bounds
        meets = np.all((low < np.array(bounds.high)) & (high > np.array(bounds.low)), axis=1)
        if not meets.any():
            continue
        sheets = _sheets(Mesh(mesh.corners, triangles[meets]), corners[meets], normals[meets], along)
        shared = beyond_a_touch(joined(swept_sheet(mesh.corners, sheet, by) & other for sheet in sheets))
        if shared is not None:
            found.append(shared)
    return joined(found) if found else None


def _unit(direction: Direction | Point) -> Floats:
    if isinstance(direction, Direction):
        return np.array([float(direction.sign) if axis == direction.axis else 0.0 for axis in AXES])
    vector = np.array(direction, dtype=np.float64)
    return np.asarray(vector / np.linalg.norm(vector))


def _sheets(mesh: Mesh, corners: Floats, normals: Floats, along: Floats) -> Iterator[Whole]:
    """The triangles in sheets of which none hides part of itself along the way: all together, or plane by plane."""
    first, second = _square_to(along)
    flat = np.stack([corners @ first, corners @ second], axis=2)
    alone = float(np.sum(normals @ along)) / 2
    if abs(shadow_area(flat) - alone) < 1e-6 * max(alone, 1.0):
        yield mesh.triangles
        return
    units = normals / np.linalg.norm(normals, axis=1)[:, None]
    levels = np.einsum("ij,ij->i", units, corners[:, 0])
    planes = np.round(np.column_stack([units, levels]), SAME_PLANE) + 0.0
    for plane in np.unique(planes, axis=0):
        yield mesh.triangles[np.all(planes == plane, axis=1)]


def _square_to(along: Floats) -> tuple[Floats, Floats]:
    """Two directions square to this and to each other, right-handed with it."""
    least = np.eye(3)[int(np.argmin(np.abs(along)))]
    first = np.cross(least, along)
    first = first / np.linalg.norm(first)
    return np.asarray(first), np.asarray(np.cross(along, first))
