"""Hidden surfaces: the painter's picture is compared with straight rays that look for the nearest face by brute force."""

import numpy as np
import pytest
from PIL import Image, ImageDraw

from oddswap.describing.stickers import seen_stickers, stickers
from oddswap.puzzles.base.space import turn_matrix
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink import sight
from oddswap.showing.ink.arrows import arc
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.scene import placings_of, scene, slab_of
from oddswap.showing.ink.sight import ENOUGH, SQUARE, seen_by
from oddswap.values.position import Appearance
from tests.showing.ink.rays import ray

PIXELS, RAYS = 260, 1500
SOLIDS = [
    "cube:2",
    "cube:3",
    "cube:3,centres=none",
    "shape-mod:prism8",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:cube,shift=0.1/0.2/0.05",
]
SLABS = {
    "tetrahedron": ["DFL", "flr'", "FLR", "dlr"],
    "octahedron": ["A", "F'", "H", "C"],
    "dodecahedron": ["A2", "F'", "I", "K2"],
    "corner-cube": ["UFR", "UBL'", "DBR"],
    "cuboid:2x3x4": ["U2", "2F2", "L2"],
    "cuboid:3x3x4": ["2F'", "B", "R2"],
    "cuboid:1x3x3": ["U2", "B2"],
    "cube:4": ["2R", "2U'", "D"],
    "cube:5,centres=marked": ["2L2", "2F", "B'"],
    "cube:7": ["3R", "2U'"],
}
"""Turns of other solids: slabs of one wall, towards the eye and away, and inner slabs, which have two walls."""


def scrambled(puzzle, seed, moves=25):
    rng = np.random.default_rng(seed)
    names = list(puzzle.turns)
    return puzzle.follow(" ".join(names[i] for i in rng.integers(len(names), size=moves)))


def all_faces(puzzle, arrangement, turning):
    """Every face of every body where it stands, those that look away too: ``{(slot or None, first vertex): vertices}``."""
    geometry = puzzle.geometry
    bodies = [
        (geometry.bodies[placing.piece], geometry.bodies[slot].cell, placing.rotation, slot)
        for slot, placing in enumerate(placings_of(puzzle, arrangement))
    ] + [(body, body.cell, 0, None) for body in geometry.inner]
    for body, cell, rotation, slot in bodies:
        matrix = geometry.mechanism.rotations.matrices[rotation]
        for turn, fraction in turning:
            slab = slab_of(turn, geometry.mechanism)
            if slab is None or slab.holds(cell):
                matrix = turn_matrix(turn.axis, fraction * turn.angle) @ matrix
        for face in body.faces:
            yield slot, face.vertices @ matrix.T


def nearest_hits(faces, eye, rays):
    """For each ray (m, 3) from ``eye`` the number of the face that it meets first, -1 for none."""
    best, hit = np.full(len(rays), np.inf), np.full(len(rays), -1)
    for number, vertices in enumerate(faces):
        normal = np.cross(vertices[1] - vertices[0], vertices[2] - vertices[0])
        with np.errstate(divide="ignore", invalid="ignore"):
            distance = (vertices[0] - eye) @ normal / (rays @ normal)
        points = eye + distance[:, None] * rays
        sides = np.roll(vertices, -1, axis=0) - vertices
        inside = np.einsum("kmj,j->km", np.cross(sides[:, None], points - vertices[:, None]), normal)
        nearer = (inside > 0).all(axis=0) & (distance > 0) & (distance < best)
        best[nearer], hit[nearer] = distance[nearer], number
    return hit


def painted(view, wide):
    """The picture as Pillow paints it, without smoothing: at each pixel the number of the last panel laid there, from 1.

    It shows what lies up to ``wide`` from the middle.
    """
    image = Image.new("I", (PIXELS, PIXELS), 0)
    draw = ImageDraw.Draw(image)
    for number, outline in enumerate(view.outlines(), 1):
        draw.polygon([tuple(p) for p in (outline / wide + 1) * PIXELS / 2], fill=number)
    return np.array(image)


def inner_pixels(ids, seed):
    """Pixels whose neighbours all show the same panel, so that no edge is near, a seeded sample of them."""
    same = np.ones_like(ids[1:-1, 1:-1], dtype=bool)
    for dy in (0, 1, 2):
        for dx in (0, 1, 2):
            same &= ids[1:-1, 1:-1] == ids[dy : dy + PIXELS - 2, dx : dx + PIXELS - 2]
    rows, columns = same.nonzero()
    pick = np.random.default_rng(seed).choice(len(rows), size=RAYS, replace=False)
    return rows[pick] + 1, columns[pick] + 1


def check(puzzle, arrangement, camera, turning=()):
    view, wide = scene(puzzle, arrangement, camera, turning).open(), 1.1 * reach(puzzle)
    ids = painted(view, wide)
    rows, columns = inner_pixels(ids, seed=5)
    spots = np.stack([columns + 0.5, rows + 0.5], axis=1) * 2 / PIXELS - 1
    faces = list(all_faces(puzzle, arrangement, turning))
    hits = nearest_hits([vertices for _, vertices in faces], camera.eye, ray(camera, spots * wide))
    seen = 0
    for number, hit in zip(ids[rows, columns], hits, strict=True):
        assert (number == 0) == (hit == -1)
        if number:
            panel, (slot, vertices) = view.panels[number - 1], faces[hit]
            normal = np.cross(vertices[1] - vertices[0], vertices[2] - vertices[0])
            assert panel.slot == slot
            assert np.abs((panel.vertices - vertices[0]) @ normal).max() < 1e-9 * np.linalg.norm(normal) + 1e-9
            seen += 1
    assert seen > RAYS / 6


@pytest.mark.parametrize("name", SOLIDS)
def test_a_scrambled_puzzle_hides_what_rays_say_is_hidden(name):
    puzzle = load(name)
    for seed, camera in enumerate(cameras(puzzle)):
        check(puzzle, scrambled(puzzle, seed), camera)


@pytest.mark.parametrize("name", SOLIDS)
@pytest.mark.parametrize(("move", "fraction"), [("R", 0.5), ("U'", 0.21), ("B2", 0.7), ("D", 0.97)])
def test_so_does_a_puzzle_in_mid_turn(name, move, fraction):
    puzzle = load(name)
    turns = [t for t in puzzle.settled(move)[0] if not t.whole]
    for camera in cameras(puzzle):
        check(puzzle, scrambled(puzzle, 3), camera, [(turn, fraction) for turn in turns])


@pytest.mark.parametrize(("name", "move"), [(name, move) for name, moves in SLABS.items() for move in moves])
def test_so_do_the_slabs_of_other_solids(name, move):
    puzzle = load(name)
    turns = [turn for turn in puzzle.settled(move)[0] if not turn.whole]
    near, far = cameras(puzzle)
    check(puzzle, scrambled(puzzle, 7), near if len(move) % 2 else far, [(turn, 0.37) for turn in turns])
    check(puzzle, puzzle.solved, far if len(move) % 2 else near, [(turn, 0.81) for turn in turns])


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "shape-mod:cube,axis=URF,degrees=60"])
def test_so_does_a_middle_slab_drawn_as_two_slabs_that_turn_at_once(name):
    puzzle = load(name)
    turns = puzzle.settled("M")[0]
    assert len(turns) == 2
    check(puzzle, scrambled(puzzle, 4), cameras(puzzle)[0], [(turn, 0.35) for turn in turns])


def test_from_anywhere():
    puzzle = load("shape-mod:cube,axis=UR,degrees=45")
    rng = np.random.default_rng(8)
    for direction in rng.normal(size=(6, 3)):
        camera = Camera(direction / np.linalg.norm(direction), 9.0)
        check(puzzle, scrambled(puzzle, 9), camera, [(puzzle.turns["F"], 0.4)])


def test_the_comparison_notices_a_wrong_order(monkeypatch):
    puzzle = load("shape-mod:cube,axis=U,degrees=45")
    monkeypatch.setattr("oddswap.showing.ink.scene.painters_order", lambda cells, *_: np.arange(len(cells)))
    with pytest.raises(AssertionError):
        check(puzzle, scrambled(puzzle, 1), cameras(puzzle)[0])


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8"])
def test_a_turn_that_is_done_looks_as_the_arrangement_after_it(name):
    puzzle = load(name)
    camera, turn = cameras(puzzle)[0], puzzle.turns["R'"]
    done = {
        (panel.role, panel.paint, frozenset(map(tuple, panel.vertices.round(6) + 0.0)))
        for panel in scene(puzzle, puzzle.solved, camera, [(turn, 1.0)]).panels
        if panel.role == "sticker"
    }
    after = {
        (panel.role, panel.paint, frozenset(map(tuple, panel.vertices.round(6) + 0.0)))
        for panel in scene(puzzle, puzzle.follow("R'"), camera).panels
        if panel.role == "sticker"
    }
    assert done == after


@pytest.mark.parametrize(("name", "n"), [("cube:3", 3), ("cube:4", 4), ("cube:7", 7)])
def test_cuts_that_lie_against_each_other_are_left_out(name, n):
    """At rest a cube of n slabs shows 3 n² faces and no cut; with a layer begun, the n² cuts below it."""
    puzzle = load(name)
    camera = cameras(puzzle)[0]
    roles = [panel.role for panel in scene(puzzle, puzzle.solved, camera).open().panels]
    assert roles.count("body") == 3 * n * n and "cut" not in roles
    begun = scene(puzzle, puzzle.solved, camera, [(puzzle.turns["U"], 0.3)]).open()
    cuts = [panel for panel in begun.panels if panel.role == "cut"]
    assert len(cuts) == n * n and not any(panel.moving for panel in cuts)


def test_where_a_piece_is_missing_the_cuts_round_it_stay():
    """Six holes, each with four walls, of which two look towards the eye."""
    puzzle = load("cube:3,centres=none")
    cuts = [p for p in scene(puzzle, puzzle.solved, cameras(puzzle)[0]).open().panels if p.role == "cut" and p.slot is not None]
    assert len(cuts) == 6 * 2


def test_a_clockwise_turn_of_r_takes_the_front_up():
    """WCA Regulations, Article 12a: R is clockwise as seen from R, so what was in front shows above."""
    puzzle = load("cube:3")
    panels = scene(puzzle, puzzle.follow("R"), cameras(puzzle)[0]).panels
    above = [p.facet for p in panels if p.role == "sticker" and (p.vertices[:, 1] > 0.999).all()]
    assert sorted(above) == ["F"] * 3 + ["U"] * 6


def test_each_piece_shows_its_stickers_on_its_faces_with_an_even_black_rim():
    puzzle = load("cube:3")
    for panel in scene(puzzle, puzzle.solved, cameras(puzzle)[0]).panels:
        if panel.role == "sticker":
            size = panel.vertices.max(axis=0) - panel.vertices.min(axis=0)
            assert sorted(size.round(6)) == pytest.approx([0.0, 2 / 3 - 0.1, 2 / 3 - 0.1])


def test_an_appearance_shows_as_any_arrangement_that_looks_like_it():
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    camera, arrangement = cameras(puzzle)[0], scrambled(puzzle, 6)

    def pictured(shown):
        return sorted(
            (p.role, p.paint or "", p.vertices.mean(axis=0).round(6).tolist())
            for p in scene(puzzle, shown, camera).panels
            if p.role == "sticker"
        )

    assert pictured(puzzle.appearance(arrangement)) == pictured(arrangement)


def paints_at(view, puzzle, slot):
    return {p.facet: p.paint for p in view.panels if p.role == "sticker" and p.slot == puzzle.slot(slot)}


def test_of_an_uncertain_slot_only_what_all_its_looks_agree_on_is_painted():
    puzzle = load("cube:3,centres=marked")
    sights = list(puzzle.appearance(puzzle.solved).sights)
    sights[puzzle.slot("UFR")] = frozenset(range(24))
    sights[puzzle.slot("F")] = frozenset({0, 2})
    swapped = puzzle.appearance(puzzle.arrangement(puzzle.turns["U2"].permutation))
    sights[puzzle.slot("UF")] |= swapped.sights[puzzle.slot("UF")]
    view = scene(puzzle, Appearance(puzzle.name, tuple(sights)), cameras(puzzle)[0])
    assert paints_at(view, puzzle, "UFR") == {"U": None, "F": None, "R": None}
    assert paints_at(view, puzzle, "F") == {"F": "F"}
    assert paints_at(view, puzzle, "UF") == {"U": "U", "F": None}
    marked = {panel.slot for panel in view.panels if panel.role == "mark"}
    assert marked == {puzzle.slot("U"), puzzle.slot("R")}


def test_what_no_piece_can_show_is_left_blank():
    puzzle = load("cube:3")
    sights = list(puzzle.appearance(puzzle.solved).sights)
    sights[puzzle.slot("UF")] = frozenset()
    view = scene(puzzle, Appearance(puzzle.name, tuple(sights)), cameras(puzzle)[0])
    assert paints_at(view, puzzle, "UF") == {"U": None, "F": None}


def test_colours_that_were_read_show_where_no_piece_has_them():
    puzzle = load("cube:3")
    table = stickers(puzzle)
    read = [frozenset({face}) for _, face in table.places]
    slot = puzzle.slot("UFR")
    for face, paints in (("U", {"F"}), ("F", {"U"}), ("R", {"R", "B"})):
        read[table.at[slot, face]] = frozenset(paints)
    appearance = seen_stickers(puzzle, tuple(read))
    assert appearance.foreign == (slot,)
    view = scene(puzzle, appearance, cameras(puzzle)[0])
    assert paints_at(view, puzzle, "UFR") == {"U": "F", "F": "U", "R": None}
    assert paints_at(view, puzzle, "UF") == {"U": "U", "F": "F"}


def shares_seen(puzzle, arrangement, camera, places, seed, count=120):
    """Of each sticker's face the share that straight rays reach, from random points on it."""
    faces = list(all_faces(puzzle, arrangement, ()))
    owns, points = [], []
    for slot, facet in places:
        placing = placings_of(puzzle, arrangement)[slot]
        body, matrix = puzzle.geometry.bodies[placing.piece], puzzle.geometry.mechanism.rotations.matrices[placing.rotation]
        corners = next(face.vertices for face in body.faces if face.facet == facet) @ matrix.T
        owns.append(next(i for i, (s, v) in enumerate(faces) if s == slot and np.array_equal(v, corners)))
        points.append(np.random.default_rng(seed).dirichlet(np.ones(len(corners)), size=count) @ corners)
    rays = ray(camera, camera.project(np.concatenate(points)))
    hits = nearest_hits([vertices for _, vertices in faces], camera.eye, rays).reshape(-1, count)
    return (hits == np.array(owns)[:, None]).mean(axis=1)


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:cube,axis=U,degrees=45", "shape-mod:cube,axis=URF,degrees=60"])
def test_a_sticker_counts_as_seen_when_rays_reach_enough_of_it(name):
    puzzle = load(name)
    arrangement = scrambled(puzzle, 12)
    every = sight.stickers(puzzle, arrangement)
    for camera in cameras(puzzle):
        seen = seen_by(puzzle, arrangement, camera, every)
        places = sorted(every)
        for place, share in zip(places, shares_seen(puzzle, arrangement, camera, places, seed=1), strict=True):
            assert place in seen or share < ENOUGH + 0.25 or _is_from_the_side(puzzle, arrangement, camera, place)
            assert place not in seen or share > ENOUGH - 0.2


def _is_from_the_side(puzzle, arrangement, camera, place):
    panel = next(p for p in scene(puzzle, arrangement, camera).panels if (p.role, p.slot, p.facet) == ("body", *place))
    normal = np.cross(panel.vertices[1] - panel.vertices[0], panel.vertices[2] - panel.vertices[0])
    sight = camera.eye - panel.vertices.mean(axis=0)
    return normal @ sight < 1.01 * SQUARE * np.linalg.norm(normal) * np.linalg.norm(sight)


@pytest.mark.parametrize("name", [*SOLIDS, *SLABS])
def test_a_slabs_arrow_hides_behind_nothing(name):
    puzzle = load(name)
    arrangement = scrambled(puzzle, 2)
    for turn in [puzzle.turns[move] for move in SLABS.get(name, puzzle.turns)]:
        turning = [(turn, 0.15)]
        faces = [vertices for _, vertices in all_faces(puzzle, arrangement, turning)]
        for camera in cameras(puzzle):
            points = arc(puzzle, arrangement, turn, camera)
            hits = nearest_hits(faces, camera.eye, ray(camera, camera.project(points)))
            met = hits >= 0
            depth = [
                (faces[hit][0] - camera.eye) @ normal / (sight_line @ normal)
                for hit, sight_line in zip(hits[met], ray(camera, camera.project(points))[met], strict=True)
                for normal in [np.cross(faces[hit][1] - faces[hit][0], faces[hit][2] - faces[hit][0])]
            ]
            assert (np.linalg.norm(points[met] - camera.eye, axis=1) < np.array(depth)).all()
