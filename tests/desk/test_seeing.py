"""From touches to an appearance and back, judged against what the same puzzle shows by its own stickers."""

import pytest

from oddswap.describing.stickers import paints_of, stickers
from oddswap.describing.tickets import parse_ticket
from oddswap.desk.seeing import as_touched, checked, shown
from oddswap.puzzles.catalogue import load
from oddswap.showing.viewer.pack import labels_of

CUBE = load("cube:3")


def told_of(arrangement, unseen=()):
    places = zip(stickers(CUBE).places, paints_of(CUBE, arrangement), strict=True)
    return {f"{CUBE.slots[slot]}|{face}": paint for (slot, face), paint in places if (CUBE.slots[slot], face) not in unseen}


def test_every_sticker_told_is_the_arrangement_that_shows_them():
    turned = CUBE.follow("R U F2 L'")
    seen = as_touched(CUBE, [], told_of(turned), CUBE.appearance(CUBE.solved))
    assert seen.sights == CUBE.appearance(turned).sights and checked(CUBE, seen)[0] == ()


def test_of_a_sticker_that_was_not_told_anew_this_or_that_stays():
    ticket = parse_ticket('puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "F|R U U"]')
    told = shown(ticket)["told"]
    assert told and "UFL|U" not in told
    seen = as_touched(CUBE, [], {**told, "F|F": "F"}, ticket.appearance)
    place = stickers(CUBE).at[CUBE.slot("UFL"), "U"]
    assert seen.stickers[place] == {"F", "R"} and seen.stickers[stickers(CUBE).at[CUBE.slot("F"), "F"]] == {"F"}


def test_what_one_cannot_see_is_open_and_said_so():
    seen = as_touched(CUBE, [], told_of(CUBE.solved, {("UF", "F")}), CUBE.appearance(CUBE.solved))
    slot = CUBE.slot("UF")
    assert len(seen.sights[slot]) == 4, "four edges have a U sticker"
    complaints, left = checked(CUBE, seen)
    assert not complaints and "one slot is open" in left


def test_a_piece_told_twice_and_one_that_there_is_not_are_complained_of():
    twice = as_touched(CUBE, [], {**told_of(CUBE.solved), "UR|R": "F"}, CUBE.appearance(CUBE.solved))
    assert checked(CUBE, twice)[0] and "UF" in checked(CUBE, twice)[0][0]
    strange = as_touched(CUBE, [], {**told_of(CUBE.solved), "UR|R": "D"}, CUBE.appearance(CUBE.solved))
    assert checked(CUBE, strange)[0] and "UR" in checked(CUBE, strange)[0][0]


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "tiles:3x3", "dodecahedron", "cuboid:2x3x4"])
def test_a_turned_puzzle_is_shown_as_it_lies(name):
    puzzle = load(name)
    turn = next(iter(puzzle.legal(puzzle.solved))) if puzzle.blank is not None else next(iter(puzzle.turns))
    turn = turn.name if puzzle.blank is not None else turn
    there = puzzle.follow(turn)
    ticket = parse_ticket(f'puzzle = "{name}"\nafter = "{turn}"')
    found = shown(ticket)
    assert puzzle.appearance(puzzle.arrangement(found["labels"])) == puzzle.appearance(there)
    assert not found["told"] and not found["covered"] and len(found["labels"]) == len(labels_of(puzzle, there))


def test_what_is_not_seen_is_covered_and_what_no_piece_shows_is_told_by_colours():
    half = parse_ticket('puzzle = "cube:3"\n[slots]\nUF = "UR flipped"\nUR = "?"')
    assert shown(half)["covered"] == ["UR"] and not shown(half)["told"]
    rows = 'rows = ["U U U", "U U U", "U D U"]\n'
    strange = parse_ticket(
        f'puzzle = "cube:3"\nelsewhere = "in place"\n[seen.U]\n{rows}[seen.D]\nrows = ["D D D", "D D D", "D D D"]'
    )
    assert (shown(strange)["told"] or {}).get("UF|U") == "D"
