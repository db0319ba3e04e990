from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from matplotlib.colors import is_color_like

from oddswap.describing.stickers import stickers
from oddswap.describing.tickets import LARGEST, parse_ticket, read_ticket, write_ticket
from oddswap.errors import (
    BadOption,
    BadRows,
    BadTicket,
    ContradictoryTicket,
    NotationError,
    OddswapError,
    UnknownColour,
    UnknownMove,
    UnknownPuzzle,
    UnknownSlot,
)
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, diagnose
from tests.describing.rows import mixed, rows_of

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets"
FILES = sorted(FOLDER.glob("*.toml"))

# The practice rows (common practice, no source) and the shapes rows (derived from congruent pieces) that these rest on:
# two pieces alone never change places, nor is one alone turned over, on a cube where no pieces look alike; on an
# octagonal prism whose narrow sides just fill the corners the four middle edges look the same either way round, and
# with those sides painted alike they are twins; of marked centres one alone turns by half but not by a quarter.
TWINS = (("UFL", "UFR", "UBL", "UBR"), ("DFL", "DFR", "DBL", "DBR"), ("FL", "FR", "BL", "BR"))
VERDICTS = {
    "01_told_row_by_row": (ORDINARY, []),
    "02_cube_two_edges_over": (NOT_BY_TURNING, []),
    "03_painted_octagon_two_edges_over": (LOOKALIKE, [pair for twins in TWINS for pair in combinations(twins, 2)]),
    "04_octagon_one_edge_flipped": (LOOKALIKE, [("FL",), ("FR",), ("BL",), ("BR",)]),
    "05_shallow_octagon_one_edge_flipped": (NOT_BY_TURNING, []),
    "06_picture_cube_quarter_turn": (NOT_BY_TURNING, []),
    "07_picture_cube_half_turn": (ORDINARY, []),
    "08_slanted_cube_centre_turned": (LOOKALIKE, [("U",), ("D",)]),
    "09_cube_one_photograph_turned": (NOT_BY_TURNING, []),
    "10_cube_new_stickers": (NOT_BY_TURNING, []),
    "11_small_cube_held_anyhow": (ORDINARY, []),
    "12_pointed_cube_corner_twisted": (NOT_BY_TURNING, []),
}


def of_table(name):
    return read_ticket(FOLDER / f"{name}.toml")


def test_the_table_has_its_twelve_tickets():
    assert [path.stem for path in FILES] == list(VERDICTS)
    assert len({read_ticket(path).puzzle.name for path in FILES}) >= 5


@pytest.mark.parametrize("name", VERDICTS)
def test_verdicts_of_the_tickets(name):
    ticket, (verdict, culprits) = of_table(name), VERDICTS[name]
    found = diagnose(ticket.puzzle, ticket.appearance)
    assert (found.verdict, [culprit.pieces for culprit in found.culprits]) == (verdict, culprits)
    opening = " ".join(line.removeprefix("# ") for line in ticket.source.read_text("utf-8").split("\n") if "# " in line[:2])
    assert f"Expected: {verdict}" in opening


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_tickets_of_the_table_can_be_written_and_drawn(path):
    ticket = read_ticket(path)
    assert ticket.name == path.stem and ticket.note and ticket.source == path
    assert parse_ticket(write_ticket(ticket), ticket.name) == ticket
    assert eval(repr(ticket)) == ticket and str(ticket) == f"{path.stem}: {ticket.puzzle.title}"
    assert all(is_color_like(colour) for colour in ticket.colours.values())


def test_what_the_rows_of_the_table_tell():
    mixed_by = {"01_told_row_by_row": "F' L2 U B R2 D' L F2 U'", "11_small_cube_held_anyhow": "R U2 F' R2 U F R' x y'"}
    for name, moves in mixed_by.items():
        ticket = of_table(name)
        assert ticket.appearance.sights == ticket.puzzle.appearance(ticket.puzzle.follow(moves)).sights
    assert of_table("01_told_row_by_row").held == "x y'"


def test_the_slips_and_findings_of_the_table():
    turned = of_table("09_cube_one_photograph_turned")
    found = diagnose(turned.puzzle, turned.appearance)
    assert found.slips[0].words == "the face L was read turned by a quarter turn anticlockwise"
    meant = turned.puzzle.appearance(turned.puzzle.follow("R2 B' U L D2 F R' U2 B"))
    assert found.slips[0].appearance.sights == meant.sights

    moved = of_table("10_cube_new_stickers")
    found = diagnose(moved.puzzle, moved.appearance)
    assert "seen more often than the puzzle has it: UB, DF" in found.notes
    assert "not seen anywhere: UF, DB" in found.notes
    meant = moved.puzzle.appearance(moved.puzzle.follow("D L' F2 R U' B2 L D' R2"))
    assert meant.sights in [slip.appearance.sights for slip in found.slips]


def cube(body, puzzle="cube:3"):
    return parse_ticket(f'puzzle = "{puzzle}"\n{body}')


def seen(rows, **more):
    """The [seen] tables of a ticket; ``more`` are rows of single faces."""
    return "".join(f"[seen.{face}]\nrows = {told}\n" for face, told in (rows | more).items())


def test_three_ways_to_tell_the_same():
    text, state = mixed(3, 12, "three ways")
    by_turns = cube(f'after = "{text}"')
    by_rows = cube(seen(rows_of(state)))
    assert by_turns.appearance.sights == by_rows.appearance.sights
    assert by_turns.appearance.stickers == () and len(by_rows.appearance.stickers) == 54
    by_slots = parse_ticket(write_ticket(by_turns))
    assert "[slots]" in write_ticket(by_turns) and by_slots.appearance == by_turns.appearance
    assert cube('after = "R U"\nchanges = ["flip UF"]').appearance == cube('after = "R U x"\nchanges = ["flip FU"]').appearance


def test_visitors_colours_and_letters_stand_for_the_same():
    rows = {"U": ["U U U", "U U U", "U F U"]}
    own = {"U": ["Ivory ivory U", "ivory ivory U", ["ivory", "deep sea", "U"]]}
    colours = '[colours]\nU = "ivory"\nF = "deep  sea"\n'
    assert cube(seen(rows)).appearance == cube(colours + seen(own)).appearance
    assert cube(colours + seen(own)).colours == {"U": "ivory", "F": "deep sea"}


def counts(ticket):
    return {slot: len(sight) for slot, sight in zip(ticket.puzzle.slots, ticket.appearance.sights, strict=True)}


def test_what_is_not_mentioned_is_in_place_or_turned():
    slots = '[slots]\nUF = "UB"\n'
    assert set(counts(cube(slots)).values()) == {1}
    turned = counts(cube('elsewhere = "turned"\n' + slots))
    assert (turned["UF"], turned["UB"], turned["UFR"]) == (1, 24, 24)

    top = seen({"U": ["U U U", "U U U", "U F ?"]})
    unseen = counts(cube(top))
    assert (unseen["UFL"], unseen["UF"], unseen["UFR"], unseen["DF"]) == (4, 4, 24, 24)
    in_place = cube('elsewhere = "in place"\n' + top)
    assert in_place.appearance.foreign == (in_place.puzzle.slot("UF"),)
    assert (counts(in_place)["UFR"], counts(in_place)["DF"]) == (1, 1)
    assert cube('elsewhere = "turned"\n' + top) == cube(top) != in_place


SOLVED_ROWS = {face: [f"{face} {face} {face}"] * 3 for face in "UDFBLR"}


def test_slots_add_what_colours_do_not_tell():
    half = '[slots]\nF = "F turned half"\n' + seen(SOLVED_ROWS)
    told = cube('elsewhere = "in place"\n' + half, "cube:3,centres=marked")
    assert told.appearance.sights == cube('changes = ["turn F half"]', "cube:3,centres=marked").appearance.sights
    left_open = counts(cube(half, "cube:3,centres=marked"))
    assert (left_open["F"], left_open["U"], left_open["UF"]) == (1, 4, 1)
    unseen = cube('elsewhere = "in place"\n[slots]\nF = "?"\n' + seen(SOLVED_ROWS), "cube:3,centres=marked")
    assert (counts(unseen)["F"], counts(unseen)["U"]) == (4, 1)


def test_slots_narrow_what_stickers_leave_open():
    rows = seen(SOLVED_ROWS, F=["F ? F", "F F F", "F F F"])
    assert counts(cube(rows))["UF"] == 4
    assert counts(cube('[slots]\nUF = "UF|UB|DF"\n' + rows))["UF"] == 2
    assert cube('[slots]\nUF = "foreign"\n' + rows).appearance.foreign == (8,)


def test_a_piece_that_the_puzzle_does_not_have_is_a_finding():
    assert cube('[slots]\nUF = "UD"').appearance.foreign == (8,)
    assert cube(seen(SOLVED_ROWS, U=["U U U", "U U U", "U B U"])).appearance.foreign == (8,)


def test_a_copy_that_makes_fewer_turns():
    assert cube('turns = "half"\nafter = "R2"').puzzle.name == "cube:3,turns=half"
    assert list(cube('turns = ["R2", "U"]\nafter = ""').puzzle.turns) == ["U", "U2", "U'", "R2"]
    assert cube('turns = "all"\nafter = ""').puzzle is cube('after = ""').puzzle
    few = cube('turns = ["R2", "U"]\n[slots]\nUF = "UB"')
    assert parse_ticket(write_ticket(few)) == few


def test_held_and_source_do_not_count_when_tickets_are_compared():
    _, state = mixed(3, 8, "held")
    rows = rows_of(state)
    ticket = cube(seen(rows))
    spin = {"F": "L", "L": "B", "B": "R", "R": "F"}  # y: what is at R comes to F
    words = "\n".join(f"[seen.{spin[face]}]\nrows = {rows[face]}" for face in spin)
    around = {  # U turned clockwise, D anticlockwise, as they are looked at
        "U": [" ".join(row) for row in zip(*(r.split() for r in rows["U"][::-1]), strict=True)],
        "D": [" ".join(row) for row in zip(*(r.split() for r in rows["D"]), strict=True)][::-1],
    }
    other = cube(words + "\n" + seen(around))
    assert other.held == "y" and ticket.held == ""
    assert other == ticket and hash(other) == hash(ticket)
    assert parse_ticket(write_ticket(other)).held == ""


def test_notes_and_colours_of_any_characters_that_can_be_seen_are_kept():
    ticket = cube('after = ""\nnote = "He said \\"no\\\\way\\"\\n\\u05d0\\u200c𝔘🧩\\r\\n"\n[colours]\nU = "🧩 é"')
    assert ticket.note == 'He said "no\\way"\n\u05d0\u200c𝔘🧩\n' and ticket.colours["U"] == "🧩 é"
    assert parse_ticket(write_ticket(ticket)) == ticket


R3 = '["U U U", "U U U", "U U U"]'


@pytest.mark.parametrize(
    "text, error, words",
    [
        ("", BadTicket, "names no puzzle"),
        ("puzzle = ", BadTicket, "the ticket, line 1: this is not TOML: Invalid value"),
        ("puzzle = 1\na = " + "[" * 5000, BadTicket, "the ticket, line 2: brackets are nested more than 32 deep"),
        ("puzzle = 1" + "0" * 5000, BadTicket, "line 1: a number or word has more than 100 characters"),
        ("#" * (LARGEST + 1), BadTicket, "longer than 64000 bytes"),
        ("puzzle = 3", BadTicket, "puzzle is of the wrong type: give it a text such as 'cube:3'"),
        ('puzle = "cube:3"', BadTicket, "`puzle` is no key of a ticket: write puzzle (it knows puzzle, turns, after"),
        ('puzzle = "cube:1"\nafter = ""', UnknownPuzzle, "from 2 to 25"),
        ('puzzle = "pyramid"\nafter = ""', UnknownPuzzle, "choose from cube"),
        ('puzzle = "cube:3,size=4"\nafter = ""', BadOption, "it knows centres, joined, turns"),
        ('puzzle = "cube:3"', BadTicket, "does not tell what is seen: add after and changes, or [seen.U]"),
        ('puzzle = "cube:3"\nturns = "most"\nafter = ""', BadOption, "`most` is no turn"),
        ('puzzle = "cube:3"\nturns = ["U,x=1"]\nafter = ""', BadTicket, "turns: `U,x=1` is no turn"),
        ('puzzle = "cube:3"\nturns = []\nafter = ""', BadTicket, "turns: the list is empty"),
        ('puzzle = "cube:3"\nafter = "R q"', NotationError, "column 3: `q` is not a move of this puzzle"),
        ('puzzle = "cube:3,turns=half"\nafter = "R2 R"', UnknownMove, "after: cube:3,turns=half does not make the turn R;"),
        (
            'puzzle = "cube:3,turns=half"\nheld = "D on top, F in front"\nafter = "U2 U"',
            UnknownMove,
            "after: U, as it is held then: cube:3,turns=half does not make the turn D;",
        ),
        ('puzzle = "cube:3"\nafter = "(R U)6000"', BadOption, "after: the sequence comes to 12000 moves: write at most 10000"),
        ('puzzle = "cube:3"\nchanges = "flip UF"', BadTicket, "changes is of the wrong type: give it a list such as ['flip UF']"),
        ('puzzle = "cube:3"\nchanges = [1]', BadTicket, "changes: number 1 is of the wrong type"),
        ('puzzle = "cube:3"\nchanges = ["flip UX"]', UnknownSlot, "change `flip UX`: cube:3 has no slot called"),
        ('puzzle = "cube:3"\nchanges = ' + str(["flip UF"] * 101), BadTicket, "changes: these are more than 100"),
        ('puzzle = "cube:3"\nafter = "R"\n[seen.U]\nrows = []', ContradictoryTicket, "and so does seen"),
        ('puzzle = "cube:3"\nchanges = []\n[slots]', ContradictoryTicket, "and so does slots"),
        ('puzzle = "cube:3"\nafter = ""\nelsewhere = "turned"', ContradictoryTicket, "and so does elsewhere"),
        ('puzzle = "cube:3"\nelsewhere = "here"\n[slots]', BadTicket, "elsewhere: `here` is not offered: write in place or"),
        ('puzzle = "cube:3"\n[seen]\nU = "UUU"', BadTicket, "[seen] `U` needs one key, rows"),
        ('puzzle = "cube:3"\n[seen.U]\nrow = []', BadTicket, "[seen] `U` needs one key, rows"),
        ('puzzle = "cube:3"\n[seen.U]\nrows = "U"', BadTicket, "[seen] `U` needs one key, rows"),
        ('puzzle = "cube:3"\n[seen.U]\nrows = ["U"]', BadRows, "[seen.U] has 1 rows: give 3"),
        ('puzzle = "cube:3"\n[seen.U]\nrows = ["U W U", "", ""]', UnknownColour, "[seen.U] row 1, sticker 2: `W` is no"),
        ('puzzle = "shape-mod:prism8"\n[seen.U]\nrows = []', BadTicket, "write [slots]"),
        ('puzzle = "cube:3"\n[slots]\nUF = 1', BadTicket, "[slots] `UF`: this is of the wrong type"),
        ('puzzle = "cube:3"\n[slots]\nUG = "UF"', UnknownSlot, "[slots] `UG`: cube:3 has no slot called"),
        ('puzzle = "cube:3"\n[slots]\nUF = "UFR"', BadTicket, "[slots] `UF`: `UFR`: a piece of the corners is never at UF"),
        ('puzzle = "cube:3"\n[slots]\nUF = "UF"\nFU = "UF"', ContradictoryTicket, "[slots] `FU`: this slot is told twice"),
        (f'puzzle = "cube:3"\n[slots]\nUF = "DB"\n[seen.U]\nrows = {R3}', ContradictoryTicket, "[slots] UF: its stickers"),
        (f'puzzle = "cube:3"\n[seen.D]\nrows = {R3}', BadTicket, "add a face beside"),
        ('puzzle = "cube:3"\nafter = ""\n[colours]\nX = "red"', BadTicket, "[colours] `X`: cube:3 has no such facet, only U, D"),
        ('puzzle = "cube:3"\nafter = ""\n[colours]\nU = 1', UnknownColour, "[colours] U: `1` is no colour"),
        ('puzzle = "cube:3"\nafter = ""\n[colours]\nU = "a|b"', UnknownColour, "[colours] U: `a|b` is no colour"),
        ('puzzle = "cube:3"\nafter = ""\n[colours]\nU = "b"', ContradictoryTicket, "[colours] U: `b` is also the name of"),
        ('puzzle = "cube:3"\nafter = ""\n[colours]\nU = "red"\nF = "Red"', ContradictoryTicket, "[colours] F: `Red` is"),
        (
            'puzzle = "shape-mod:cube,paint=U+D"\nafter = ""\n[colours]\nU = "red"\nD = "blue"',
            ContradictoryTicket,
            "[colours] D: facets that share a colour",
        ),
    ],
)
def test_a_ticket_that_cannot_be_used_is_explained(text, error, words):
    with pytest.raises(error) as caught:
        parse_ticket(text)
    assert words in str(caught.value)
    assert "\n" not in str(caught.value) and len(str(caught.value)) < 400


def test_facets_that_share_a_colour_may_be_told_alike():
    ticket = cube('after = ""\n[colours]\nU = "red"\nD = "Red"', "shape-mod:cube,paint=U+D")
    assert ticket.colours == {"U": "red", "D": "Red"}


def test_files_that_are_no_tickets(tmp_path):
    (tmp_path / "latin.toml").write_bytes('note = "é"'.encode("latin-1"))
    (tmp_path / "long.toml").write_bytes(b"#" * 2 * LARGEST)
    (tmp_path / "mark.toml").write_bytes(b'\xef\xbb\xbfpuzzle = "cube:3"\r\nafter = "R"\r\n')
    for name, words in (("latin", "no text in UTF-8 from line 1 on"), ("long", "longer than"), ("none", "cannot be read")):
        with pytest.raises(BadTicket, match=words):
            read_ticket(tmp_path / f"{name}.toml")
    for path in (tmp_path, "a\0b"):
        with pytest.raises(OddswapError, match="cannot be read"):
            read_ticket(path)
    assert read_ticket(str(tmp_path / "mark.toml")).name == "mark"


def test_rows_in_the_words_of_the_visitor_are_written_back():
    ticket = of_table("01_told_row_by_row")
    assert stickers(ticket.puzzle).grid.keys() == {"U", "D", "F", "B", "L", "R"}
    assert "plum" in write_ticket(ticket).partition("[seen")[2]


@pytest.mark.parametrize(
    "held, top, front",
    [("gold up, teal in front", "R", "B"), ("F up, D in front", "F", "D"), ("teal on top and gold towards me", "B", "R")],
)
def test_turns_are_those_of_a_hand_that_holds_it_so(held, top, front):
    ticket = parse_ticket(f'puzzle = "cube:3"\nafter = "R U"\nheld = "{held}"\n[colours]\nR = "gold"\nB = "teal"')
    across = np.cross(DIRECTIONS[top], DIRECTIONS[front])
    right = next(face for face in "UDFBLR" if np.array_equal(DIRECTIONS[face], across))
    cube = ticket.puzzle
    assert ticket.appearance == cube.appearance(cube.follow(f"{right} {top}"))
    assert [cube.settled(ticket.held)[1].own(face) for face in "UF"] == [top, front]


@pytest.mark.parametrize(
    "line, words",
    [
        ('held = "gold up"\nafter = "R"', "says no way to hold"),
        ('held = "U up, D in front"\nafter = "R"', "no way to hold cube:3: name the middles of two sides that meet"),
        ('held = "pink up, F in front"\nafter = "R"', "held: `pink` is no colour"),
        ('held = "U up, F in front"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]', "the rows of .seen. show how it is held"),
    ],
)
def test_a_holding_that_is_none_is_named(line, words):
    with pytest.raises(OddswapError, match=words):
        parse_ticket(f'puzzle = "cube:3"\n{line}')


def test_where_nothing_fixes_the_holding_it_is_told_as_it_is_held():
    with pytest.raises(BadTicket, match="nothing fixes how cube:2 is held: tell it as you hold it"):
        parse_ticket('puzzle = "cube:2"\nheld = "U up, F in front"\nafter = "R"')
