"""Sketches: what is turned, told and painted, against the appearances that ticket files give."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.reading import read_ticket
from oddswap.describing.stickers import paints_of, stickers
from oddswap.describing.tickets import parse_ticket
from oddswap.desk.sketch import Sketch, check_sketch, facet_at, place_of, sketch_of
from oddswap.errors import BadTicket
from oddswap.puzzles.catalogue import load

TICKETS = sorted((Path(__file__).parents[2] / "notebooks" / "tickets").glob("*.toml"))
CUBE, PRISM = load("cube:3"), load("shape-mod:prism8")


@pytest.mark.parametrize("path", TICKETS, ids=lambda path: path.stem)
def test_a_sketch_of_a_ticket_looks_as_the_ticket_does(path):
    ticket = read_ticket(path)
    assert sketch_of(ticket.puzzle, ticket.appearance).appearance.sights == ticket.appearance.sights


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cube:4", "cuboid:2x3x4"])
def test_painting_everything_gives_what_the_colours_tell(name):
    """Sticker by sticker over a covered puzzle, in any order, ends in the appearance of the arrangement."""
    puzzle, rng = load(name), Random(name)
    arrangement = puzzle.follow(" ".join(rng.choices(list(puzzle.turns), k=9)))
    places = list(zip(stickers(puzzle).places, paints_of(puzzle, arrangement), strict=True))
    rng.shuffle(places)
    sketch = Sketch(puzzle, puzzle.solved).nothing_seen()
    left = check_sketch(sketch).count.total
    for number, ((slot, face), paint) in enumerate(places):
        sketch = sketch.paint(puzzle.slots[slot], face, [paint])
        if number % 9 == 0:
            now = check_sketch(sketch).count.total
            assert 0 < now <= left
            left = now
    assert sketch.appearance.sights == puzzle.appearance(arrangement).sights
    assert check_sketch(sketch).left == "everything is told"


def test_what_is_told_is_what_changes_say():
    sketch = Sketch(CUBE, CUBE.solved).exchanged("UF", "UR").twisted("UFR").twisted("DF")
    assert sketch.arrangement == changed(CUBE, ["swap UF UR", "twist UFR cw", "flip DF"])


def test_covered_slots_can_be_seen_again_and_paint_there_goes():
    sketch = Sketch(CUBE, CUBE.solved).paint("UF", "U", ["R"]).cover(["UF", "UR"])
    assert {CUBE.slots[b] for b in sketch.appearance.uncertain} == {"UF", "UR"} and not sketch.painted
    assert not sketch.cover(["UF", "UR"]).appearance.uncertain


def test_this_or_that_leaves_both():
    sketch = Sketch(CUBE, CUBE.solved).nothing_seen().paint("UF", "U", ["U"]).paint("UF", "F", ["F", "R"])
    seen = sketch.appearance.sights[CUBE.slot("UF")]
    told = parse_ticket('puzzle = "cube:3"\n[slots]\nUF = "UF | UR"')
    assert seen == told.appearance.sights[CUBE.slot("UF")]


def test_complaints_say_where():
    alone = check_sketch(Sketch(CUBE, CUBE.solved).paint("UF", "F", ["U"]))
    assert alone.complaints == ("no piece of this puzzle looks like what is at UF",) and "no way" in alone.left
    twice = check_sketch(Sketch(CUBE, CUBE.solved).paint("UF", "F", ["R"]))
    assert twice.complaints == ("seen more often than the puzzle has it: UR",)


@pytest.mark.parametrize("name", ["cube:3", "cuboid:2x3x4", "cube:3,centres=marked"])
def test_every_sticker_of_a_turned_puzzle_is_found_by_its_facet(name):
    puzzle = load(name)
    arrangement = puzzle.follow(" ".join(list(puzzle.turns)[:5]))
    paints = paints_of(puzzle, arrangement)
    for (slot, face), paint in zip(stickers(puzzle).places, paints, strict=True):
        facet = facet_at(puzzle, arrangement, slot, face)
        assert puzzle.geometry.paints[facet] == paint
        assert place_of(puzzle, arrangement, slot, facet) == (slot, face)


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: Sketch(CUBE, CUBE.solved).exchanged("UF", "UF"), "picked twice"),
        (lambda: Sketch(load("cube:4"), load("cube:4").solved).twisted("UF.l2"), "one way round only"),
        (lambda: Sketch(PRISM, PRISM.solved).paint("UF", "U", ["U"]), "told by its pieces"),
        (lambda: Sketch(CUBE, CUBE.solved).paint("UF", "R", ["U"]), "no sticker on"),
        (lambda: Sketch(CUBE, CUBE.solved).paint("UF", "U", ["mauve"]), "no colour of this puzzle"),
    ],
)
def test_what_does_not_fit_is_one_sentence(act, says):
    with pytest.raises(BadTicket, match=says):
        act()
