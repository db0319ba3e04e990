"""The map of the ways against cells moved in integers, against itself when broken off, and with a damaged cache."""

from itertools import combinations, islice, permutations, product

import numpy as np
import pytest

from oddswap.errors import BadOption
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening import ways_map
from oddswap.reasoning.opening.box_levels import BoxLevels
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.opening.law_families import family_of
from oddswap.reasoning.opening.ways_map import BEYOND, FOUND, NEVER, OPEN, AllKnown, Looking, back_in_the_box
from oddswap.reasoning.opening.ways_map import ways_map as map_of
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.search.kept_files import ThrownAway
from oddswap.words import say
from tests.reasoning.box_sights import Box
from tests.reasoning.boxes import as_rows, times


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))
    return tmp_path


def told(found):
    return {way.family.words: (way.status, way.moves and len(way.moves), way.at_least) for way in found.ways}


def rotations():
    """The 24 rotations of the coordinate axes."""
    signs, units = product((1, -1), repeat=3), np.eye(3, dtype=int)
    every = (np.array(s)[:, None] * units[list(axes)] for s, axes in product(signs, permutations(range(3))))
    return [as_rows(matrix) for matrix in every if round(np.linalg.det(matrix)) == 1]


def first_odd(sides, depth):
    """The first of ``depth`` levels with a closed box, however it lies, every sticker on the axis where it belongs, whose
    corners are in an odd order; read off cells and colours alone."""
    box = Box(sides)
    closed, each = {cell for cell, _ in box.closed}, len(box.sights)
    turned = [m for m in rotations() if {times(m, cell) for cell in closed} <= set(box.cells)]
    for number, level in enumerate(islice(box.levels(), depth + 1)):
        for row in level.tolist():
            marks = [(box.cells[mark // each], box.sights[mark % each]) for mark in row]
            for m in turned:
                if {times(m, cell) for cell, _ in marks} != closed:
                    continue
                shown = [(times(m, cell), [(times(m, d), c) for d, c in sight]) for cell, sight in marks]
                if all(np.dot(d, c) for _, sight in shown for d, c in sight) and odd(corners(shown)):
                    return number
    return None


def corners(shown):
    """The corners, by the cell in which each is, called by the cell where its colours belong."""
    three = ((cell, [c for _, c in sight]) for cell, sight in shown if len(sight) == 3)
    return {cell: tuple(map(sum, zip(*colours, strict=True))) for cell, colours in three}


def odd(places):
    order = [places[cell] for cell in sorted(places)]
    return sum(a > b for a, b in combinations(order, 2)) % 2 == 1


def test_two_corners_change_places_by_as_few_turns_as_cell_by_cell():
    """On a box of 2 by 3 by 4, half turns keep the order of all corners even."""
    lengths = [len(way.moves) for way in map_of(load("cuboid:2x3x4"), 12).ways if "two corners" in way.family.words]
    assert min(lengths) == first_odd((2, 3, 4), 5) == 5


def test_all_families_of_a_box_and_each_excursion_breaks_laws_of_its_family():
    puzzle = load("cuboid:2x3x4")
    found, book = map_of(puzzle, 20), law_book(puzzle)
    assert found.ending == AllKnown() and {way.status for way in found.ways} == {FOUND}
    assert sum(way.family.classes for way in found.ways) + 1 == found.classes == book.seen_index
    for way in found.ways:
        outlines = found.box.outlines(" ".join(way.moves))
        assert (outlines[1] != found.box.filled).any() and len(outlines) == len(way.moves) + 1
        made = back_in_the_box(puzzle, found.box, way.moves)
        assert book.broken(made) and bool(way.family.broken)


def levels_alone(puzzle, depth):
    """The length of a shortest excursion to each family, from levels around the solved box as far as that, in any holding."""
    box = with_turns_out_of_the_box(puzzle)
    frame = frame_of(box, tuple(puzzle.turns))
    model, solid = frame.labelled, frame.labelled.puzzle.solid(frame.labelled.slots)
    at, names = np.arange(len(model.solved)), list(box.turns)
    levels, lengths = BoxLevels(frame, model.solved[None]), {}
    for length in range(1, depth + 1):
        levels.grow()
        for rotations_made, _ in holdings(box):
            rows = levels.edge
            for name in rotations_made:
                rows = model.apply(rows, name)
            for place in np.flatnonzero((solid[at, rows] == solid[at, model.solved]).all(axis=1)).tolist():
                made = back_in_the_box(puzzle, box, [names[move] for move in levels.word(place)])
                if made is not None:
                    lengths.setdefault(family_of(frame, puzzle, made), length)
    return lengths


@pytest.mark.parametrize(("name", "depth"), [("2x3x4", 6), ("1x3x5", 5), ("1x3x3", 6)])
def test_words_that_meet_give_the_lengths_of_levels_alone(name, depth):
    puzzle = load(f"cuboid:{name}")
    lengths = levels_alone(puzzle, depth)
    for way in map_of(puzzle, depth).ways:
        assert (way.moves and len(way.moves)) == lengths.get(way.family.number)


def test_what_was_broken_off_goes_on_and_comes_out_the_same(monkeypatch):
    puzzle = load("cuboid:2x3x4")
    parts = [map_of(puzzle, depth) for depth in (3, 5, 8)]
    assert [part.complete for part in parts] == [3, 5, 8]
    assert [told(part)["two corners like UFL swapped"] for part in parts] == [(BEYOND, None, 4), (FOUND, 5, 5), (FOUND, 5, 5)]
    with monkeypatch.context() as patch:
        patch.setattr(BoxLevels, "grow", None)
        patch.setattr(ways_map, "round_trips", None)
        assert map_of(puzzle, 8) == parts[-1]
        assert told(map_of(puzzle, 5)) == told(parts[1])
    monkeypatch.setenv(kept_files.VARIABLE, "")
    assert map_of(puzzle, 8) == parts[-1]


def test_a_damaged_file_is_thrown_away_and_the_map_made_anew(place):
    puzzle = load("cuboid:2x3x4")
    first = map_of(puzzle, 6)
    (file,) = place.iterdir()
    file.write_bytes(file.read_bytes()[:-100])
    again = map_of(puzzle, 6)
    assert told(again) == told(first) and ThrownAway in map(type, again.notes)
    assert told(map_of(puzzle, 6)) == told(first)


def test_where_time_or_memory_end_what_was_not_looked_at_is_open():
    puzzle = load("cuboid:3x4x5")
    for budget, words in ((Budget(1e-6), "time of 1e-06 s"), (Budget(60, 10**6), "more memory than 0.001 GB")):
        found = map_of(puzzle, 9, budget)
        assert words in say(found.ending) and found.complete < 9
        assert set(told(found).values()) == {(OPEN, None, found.complete + 1)}


def test_a_box_all_of_whose_states_are_seen_leaves_nothing_open(monkeypatch):
    monkeypatch.setattr(ways_map, "round_trips", lambda *_: ())
    found = map_of(load("cuboid:1x3x3"), 99)
    assert told(found) == {"two corners swapped": (NEVER, None, None)} and found.ending == AllKnown()


def test_nothing_to_map_where_turns_inside_lead_everywhere():
    found = map_of(load("cuboid:2x2x4"))
    assert found.ways == () and found.classes == 1


BAD = {
    "cube:3": "boxes with all their turns, such as cuboid:2x3x4",
    "cuboid:2x3x4,turns=half": "boxes with all their turns",
    "cuboid:2x2x3": "no turn leads out of `cuboid:2x2x3`",
}


@pytest.mark.parametrize("name", BAD)
def test_what_has_no_map_is_told_in_one_sentence(name):
    with pytest.raises(BadOption) as caught:
        map_of(load(name))
    assert BAD[name] in str(caught.value) and "\n" not in str(caught.value)


def test_progress_is_told():
    heard = []
    map_of(load("cuboid:2x3x4"), 5, tell=lambda looking, share: heard.append((looking, share)))
    assert heard and all(isinstance(looking, Looking) for looking, _ in heard)
    assert heard[0][1] == 0 and all(0 <= share < 1 for _, share in heard)
    assert [share for _, share in heard] == sorted(share for _, share in heard)
