"""The model file held against the glTF 2.0 specification (Khronos Group, 2021), read byte by byte with nothing of ours.

Sections: 4.4 binary container, 3.2 asset, 3.4 units and axes (metres, y up), 3.6.2 accessors with min and max, 3.7.2 meshes
(from memory, section numbers as in the published text).
"""

from __future__ import annotations

import json
import subprocess
import sys
from struct import iter_unpack, unpack_from
from typing import Any, NamedTuple

import pytest

from sequencer.design.placing import place
from sequencer.paper.whole import Whole
from sequencer.solid.gltf import gltf_bytes
from tests.made import EXAMPLES, ROOT, job

FLOAT, UNSIGNED_INT = 5126, 5125
TRIANGLES = 4


class Model(NamedTuple):
    """The two chunks of a file."""

    tree: dict[str, Any]
    data: bytes


def read(file: bytes) -> Model:
    """The chunks, with everything the container's section asks for."""
    magic, version, length = unpack_from("<III", file, 0)
    assert magic == 0x46546C67
    assert version == 2
    assert length == len(file)
    chunks: list[tuple[int, bytes]] = []
    at = 12
    while at < len(file):
        size, kind = unpack_from("<II", file, at)
        assert size % 4 == 0
        chunks.append((kind, file[at + 8 : at + 8 + size]))
        at += 8 + size
    assert at == len(file)
    assert [kind for kind, _ in chunks] == [0x4E4F534A, 0x004E4942]
    tree: dict[str, Any] = json.loads(chunks[0][1].decode("utf-8"))
    return Model(tree, chunks[1][1])


def values(model: Model, number: int) -> list[tuple[float, ...]]:
    """The values of an accessor, as its section says they lie."""
    accessor = model.tree["accessors"][number]
    view = model.tree["bufferViews"][accessor["bufferView"]]
    width = {"SCALAR": 1, "VEC3": 3}[accessor["type"]]
    code = {FLOAT: "f", UNSIGNED_INT: "I"}[accessor["componentType"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    assert start % 4 == 0
    size = accessor["count"] * width * 4
    assert accessor.get("byteOffset", 0) + size <= view["byteLength"]
    found = list(iter_unpack(f"<{width}{code}", model.data[start : start + size]))
    assert [min(column) for column in zip(*found, strict=True)] == pytest.approx(accessor["min"])
    assert [max(column) for column in zip(*found, strict=True)] == pytest.approx(accessor["max"])
    return found


def volume(corners: list[tuple[float, ...]], triangles: list[tuple[int, int, int]]) -> float:
    """Sum of the signed tetrahedra between the origin and the triangles: over zero if they look outward."""
    total = 0.0
    for triangle in triangles:
        (a, b, c), (d, e, f), (g, h, i) = (corners[corner] for corner in triangle)
        total += (a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)) / 6
    return total


@pytest.fixture(params=[*EXAMPLES, "starter"])
def whole(request: pytest.FixtureRequest) -> Whole:
    drawn = job(request.param)
    return Whole(drawn, place(drawn))


def test_the_file_meets_the_standard_and_holds_every_piece_in_metres(whole: Whole) -> None:
    model = read(gltf_bytes(whole.standing))
    tree = model.tree
    assert tree["asset"] == {"version": "2.0", "generator": "timber-sequencer"}
    assert len(tree["buffers"]) == 1
    assert "uri" not in tree["buffers"][0]
    assert tree["buffers"][0]["byteLength"] <= len(model.data) <= tree["buffers"][0]["byteLength"] + 3
    roots = tree["scenes"][tree["scene"]]["nodes"]
    named = {}
    for number in roots:
        node = tree["nodes"][number]
        # What stands in the scene may hang from one root; nothing is scaled or turned on the way.
        for each in (node, *(tree["nodes"][child] for child in node.get("children", ()))):
            assert not {"scale", "rotation", "translation", "matrix"} & set(each)
            if "mesh" in each:
                named[each["name"]] = each["mesh"]
    assert list(named) == list(whole.job.pieces())
    for name, number in named.items():
        (primitive,) = tree["meshes"][number]["primitives"]
        assert primitive.get("mode", TRIANGLES) == TRIANGLES
        assert set(primitive["attributes"]) == {"POSITION"}
        corners = values(model, primitive["attributes"]["POSITION"])
        indices = [int(value) for (value,) in values(model, primitive["indices"])]
        assert len(indices) % 3 == 0
        solid = whole.standing[name]
        triangles = [(a, b, c) for a, b, c in zip(indices[0::3], indices[1::3], indices[2::3], strict=True)]
        assert volume(corners, triangles) * 1e9 == pytest.approx(solid.volume, rel=1e-4)
        low, high = solid.bounds.low, solid.bounds.high
        x, y, z = zip(*corners, strict=True)
        assert (min(x), max(x)) == pytest.approx((low.x / 1000, high.x / 1000), abs=1e-6)
        assert (min(y), max(y)) == pytest.approx((low.z / 1000, high.z / 1000), abs=1e-6)
        assert (min(z), max(z)) == pytest.approx((-high.y / 1000, -low.y / 1000), abs=1e-6)
        material = tree["materials"][primitive["material"]]["pbrMetallicRoughness"]
        assert material["metallicFactor"] == 0.0


def test_the_same_thing_gives_the_same_bytes_in_another_run() -> None:
    drawn = job("starter")
    here = gltf_bytes(Whole(drawn, place(drawn)).standing)
    code = (
        "import sys\n"
        "from tests.made import job\n"
        "from sequencer.design.placing import place\n"
        "from sequencer.paper.whole import Whole\n"
        "from sequencer.solid.gltf import gltf_bytes\n"
        "drawn = job('starter')\n"
        "sys.stdout.buffer.write(gltf_bytes(Whole(drawn, place(drawn)).standing))\n"
    )
    there = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True).stdout
    assert there == here
