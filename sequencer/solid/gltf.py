"""The thing as it stands as binary glTF 2.0: one named node a piece, metres, y up, a plain wood colour.

glTF is an open standard (Khronos Group, glTF 2.0 Specification, 2021; ISO/IEC 12113:2022). The same bodies give the same bytes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sequencer.solid.solids import Solid

WOOD = (0.82, 0.68, 0.48, 1.0)
"""Base colour, red, green, blue and alpha, 0 to 1: our own choice."""

_METRES = 0.001


def gltf_bytes(standing: Mapping[str, Solid]) -> bytes:
    """The pieces by name, where they stand with z up and y away from the viewer, mm, as the bytes of a .glb file.

    Normals are left out: a viewer then shows flat sides with sharp edges (glTF 2.0 Specification, 3.7.2.1).
    """
    # Slow to load, and only a model for a screen needs it.
    import numpy as np
    import trimesh

    wood = trimesh.visual.material.PBRMaterial(name="wood", baseColorFactor=WOOD, metallicFactor=0.0, roughnessFactor=0.9)
    scene = trimesh.Scene()
    for name, solid in standing.items():
        corners, triangles = solid.mesh
        # glTF has y up and z towards the viewer.
        x, y, z = corners.T * _METRES
        mesh = trimesh.Trimesh(vertices=np.column_stack([x, z, -y + 0.0]), faces=triangles, process=False)
        mesh.visual = trimesh.visual.TextureVisuals(material=wood)
        scene.add_geometry(mesh, node_name=name, geom_name=name)
    return bytes(trimesh.exchange.gltf.export_glb(scene, include_normals=False, tree_postprocessor=_signed))


def _signed(tree: dict[str, Any]) -> None:
    """The file says what made it."""
    tree["asset"] = {"version": "2.0", "generator": "timber-sequencer"}
