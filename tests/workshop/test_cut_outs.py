"""Nets fold up: nothing overlaps, edges that meet are as long as each other, and one block can be turned over unseen."""

from __future__ import annotations

import numpy as np
import pytest
from matplotlib.path import Path

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.workshop.cut_outs import facets_of, net

PRISM = load("shape-mod:prism8")
BLOCKS = {f"block {piece}": PRISM.geometry.bodies[piece].faces for piece in (0, 8, 9, 12)}
SOLIDS = {name: facets_of(load(name).geometry) for name in ("cube:3", "shape-mod:prism8", "cuboid:1x3x4", "dodecahedron")}


@pytest.mark.parametrize("faces", [*SOLIDS.values(), *BLOCKS.values()], ids=[*SOLIDS, *BLOCKS])
def test_a_net_is_true_to_size_and_nothing_of_it_overlaps(faces):
    laid = net(faces)
    corners = {tuple(corner.round(6) + 0.0) for face in faces for corner in face.vertices}
    edges = sum(len(face.vertices) for face in faces) // 2
    assert len(corners) - edges + len(faces) == 2, "Euler"
    assert len(laid.tabs) == edges - len(faces) + 1, "all edges that are not folded are glued"
    shapes = [*laid.outlines, *laid.tabs]
    for face, outline in zip(faces, laid.outlines, strict=True):
        x, y = outline.T
        assert 0.5 * (x @ np.roll(y, -1) - y @ np.roll(x, -1)) == pytest.approx(face.area), "seen from outside, not mirrored"
    shrunk = [0.96 * shape + 0.04 * shape.mean(axis=0) for shape in shapes]
    grids = [np.concatenate([s, (s + np.roll(s, -1, axis=0)) / 2, [s.mean(axis=0)]]) for s in shrunk]
    for i, shape in enumerate(shapes):
        assert not any(Path(shape).contains_points(grid).any() for j, grid in enumerate(grids) if i != j)


def test_of_the_two_blocks_one_is_the_same_upside_down():
    """By half a turn about the line through the middle of its outer side, the block comes to itself, and so does that side."""
    kind = next(kind for kind in PRISM.kinds if kind.family == "edges")
    hidden = [piece for piece in kind.places if piece in lookalikes(PRISM).hidden_turns]
    assert len(hidden) == 4
    for piece in kind.places:
        faces = PRISM.geometry.bodies[piece].faces
        outer = [face for face in faces if face.facet]
        axis = outer[0].normal
        corners = np.concatenate([face.vertices for face in faces])
        turned = 2 * np.outer((corners - outer[0].centre) @ axis, axis) - (corners - outer[0].centre) + outer[0].centre
        fits = all(np.isclose(corners, corner).all(axis=1).any() for corner in turned)
        assert (fits and len(outer) == 1) == (piece in hidden)
