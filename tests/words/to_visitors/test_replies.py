"""How replies read to whoever gets them: not too long, in no words of ours, with the cautions where hands can be hurt."""

import re
from itertools import product
from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.pages.report import reply_text
from oddswap.words.table import reader_of

TICKETS = sorted((Path(__file__).parents[3] / "notebooks" / "tickets").rglob("*.toml"))
FEWEST, MOST = 100, 180
"""Words of a reply, its moves left out."""
JARGON = re.compile(
    r"\b(ticket does|slab|slot|parity|law|wings|centres? [UDFBLR]|first sight|exchange|[UDFBLR]{2,3} (?:edge|corner))"
)


@pytest.mark.parametrize("path", TICKETS, ids=lambda path: path.stem)
def test_a_reply_is_short_and_plain(path):
    ticket = read_ticket(path)
    found = answer(ticket.puzzle, ticket.appearance, Budget(1.0), copy=ticket.limit)
    text = reply_text(found, reader_of(ticket))
    words = re.sub(r"^`.*`$", "", text, flags=re.MULTILINE).split()
    assert (FEWEST <= len(words) or "not found a way out yet" in text) and len(words) <= MOST, f"{len(words)} words\n{text}"
    assert not JARGON.search(text), text
    assert "not found a way out yet" in text or re.search(r"(?i)do not (?:force|push|open)|stop and send", text), text
    if "Why:" in text:
        reasons = re.search(r"Why: (.*)", text)[1]
        assert len(re.findall(r"[.!?](?= [A-Z]|$)", reasons)) <= 3, reasons


LONE = {
    "edges count, and corners are hidden": (
        'slots = { UF = "UF flipped", UFL = "?", UBR = "?", UFR = "?" }',
        "top front edge",
        True,
    ),
    "the other sort is hidden, upside down": (
        'held = "D up, F in front"\nslots = { UF = "UR", UR = "UF", DFL = "?" }',
        "bottom front edge and the bottom left edge",
        False,
    ),
}
"""A lone flip and a lone swap: the ticket, what to look at again, and whether the rule counts nothing that is hidden."""


@pytest.mark.parametrize("case", LONE)
def test_where_much_is_hidden_the_reply_says_why_that_cannot_help_and_what_to_look_at(case):
    told, places, aside = LONE[case]
    read = parse_ticket(f'puzzle = "cube:3"\n{told}')
    text = reply_text(answer(read.puzzle, read.appearance, Budget(2.0)), reader_of(read))
    assert f"Please look at the {places} again" in text, text
    assert ("you can see one" in text, "You see every piece that this rule counts" in text) == (aside, aside), text
    assert ("We counted every way in which the pieces that we cannot see can lie" in text) != aside, text


def test_what_a_reply_says_of_hidden_pieces_holds_however_they_lie():
    """Each way to lay the hidden corners of a small cube is gone through by hand: every one is judged alike when it is seen."""
    cube = load("cube:3")
    read = parse_ticket('puzzle = "cube:3"\nslots = { UF = "UF flipped", UFR = "?", UBL = "?" }')
    assert "makes no difference how the hidden ones lie" in reply_text(answer(cube, read.appearance), reader_of(read))
    ways = set()
    for here, there, swapped in product(("", "twist UFR cw", "twist UFR ccw"), ("", "twist UBL cw", "twist UBL ccw"), (0, 1)):
        changes = ["flip UF", *filter(None, (here, there)), *(["swap UFR UBL"] * swapped)]
        whole = cube.appearance(changed(cube, changes))
        assert judged(cube, whole).verdict == "not by turning"
        ways.add(whole)
    assert len(ways) == 18


def test_a_sticker_that_no_piece_can_show_is_named_by_its_place():
    rows = ["U U U", "U U U", "L L L"]
    read = parse_ticket(f'puzzle = "cube:3"\n[seen]\nU.rows = {rows}\nF.rows = ["R F F", "F F F", "F F F"]\n')
    text = reply_text(answer(read.puzzle, read.appearance, Budget(2.0)), reader_of(read))
    assert "no piece of your cube looks like what you describe at the top front left corner, however" in text, text
    twice = parse_ticket('puzzle = "cube:3"\nslots = { UF = "UR" }\n[colours]\nU = "white"\nR = "navy"\nF = "tomato"')
    text = reply_text(answer(twice.puzzle, twice.appearance, Budget(2.0)), reader_of(twice))
    assert "Why: you describe the navy and white edge too many times." in text, text


def told(name, *changes):
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(changed(puzzle, list(changes))), Budget(1.0))
    return found, reply_text(found)


def test_two_equal_tiles_are_said_to_be_two_pieces():
    """A swap that can be seen takes another, of the only two that are equal: two pieces and not one."""
    found, text = told("tiles:3x3,letters=aabcdefg", "swap r1c3 r2c1")
    assert found.verdict == "lookalike" and [len(culprit.pieces) for culprit in found.diagnosis.culprits] == [2]
    assert "at least two more pieces are not what they seem" in text and "at least one more piece" not in text
    assert "at least one more piece is not what it seems" in told("shape-mod:prism8", "flip UF")[1]


@pytest.mark.parametrize("name", ["cube:3,joined=UFR-UR", "cube:3,joined=UF-UFR/DB-DBR"])
def test_where_the_shape_decides_a_broken_law_is_told_without_a_turn_that_proves_it(name):
    """A turn tells nothing by itself there: some lead out of the shape in which laws have a sense."""
    found, text = told(name, "swap DFL UBL")
    assert found.verdict == "not by turning" and found.diagnosis.broken[0].type == "sign"
    assert "number of swaps" in text and "three swaps each" not in text


def test_nobody_is_told_that_they_cannot_see_which_where_nothing_hidden_was_spoken_of():
    """Half turns alone keep corners in two sets; with all turns they change places, if twins among the centres do, too."""
    found, text = told("cube:4,turns=half", "swap UFR UFL")
    assert found.verdict == "other turns" and len(found.diagnosis.culprits) > 1 and found.way_out.moves
    assert "cannot see which" not in text and "If your copy makes these turns: hold it" in text


def test_corners_are_called_white_only_where_it_is_said_how_they_are_coloured():
    """The four corners that turn nothing else keep a sum of their own on the corner-turning cube."""
    found, text = told("corner-cube", "twist UFL cw")
    assert found.verdict == "not by turning" and "the white ones" in text
    assert text.index("black and white like a chessboard") < text.index("the white ones")


def test_sides_beyond_the_six_are_asked_for_by_the_names_that_the_visitor_used():
    """A prism of five sides in two layers: nothing fixes its holding, and its fifth side is none of the six of a box."""
    hidden = ", ".join(f'{slot} = "?"' for slot in ("UFL", "DBR", "UBR", "DFL"))
    read = parse_ticket(f'puzzle = "shape-mod:prism5,slabs=2"\nturns = "half"\nslots = {{ {hidden} }}')
    found = answer(read.puzzle, read.appearance, Budget(2.0))
    assert any("side5" in view.facets for view in found.diagnosis.asked)
    assert "the sides that you called U, F and side5 meet" in reply_text(found, reader_of(read))


def test_of_a_few_ways_a_visitor_hears_from_how_many_turning_leads_home_and_no_name_of_a_verdict():
    """An edge is flipped, another hidden in its own place, and a corner, too: one in 2 × 3 ways has both as they should be."""
    read = parse_ticket('puzzle = "cube:3"\nslots = { UF = "UF flipped", UB = "?", DFR = "?" }')
    text = reply_text(answer(read.puzzle, read.appearance, Budget(2.0)), reader_of(read))
    assert "turning leads home from one in six" in text and "not by turning" not in text and "ordinary" not in text, text


@pytest.mark.parametrize(
    "name, hidden",
    [("cuboid:3x3x4", "UFR UBR"), ("shape-mod:prism8", "FR FL"), ("shape-mod:prism8", "UR FR"), ("cuboid:2x3x3", "UFR DFR")],
)
def test_that_turning_leads_home_is_said_where_it_does_from_every_way_in_which_two_hidden_pieces_can_lie(name, hidden):
    """Each way is made by hand and judged by itself: the two swapped or not, and each turned as far as it can be."""
    puzzle, slots = load(name), hidden.split()
    twists = [puzzle.kind_of[puzzle.slot(slot)].twist for slot in slots]
    word = {1: "turn", 2: "flip", 3: "twist"}
    verdicts = set()
    for swapped, first, second in product(([], [f"swap {hidden}"]), range(twists[0]), range(twists[1])):
        turned = [
            f"{word[k]} {slot}" for slot, k, times in zip(slots, twists, (first, second), strict=True) for _ in range(times)
        ]
        verdicts.add(puzzle.diagnose([*swapped, *turned]).verdict)
    read = parse_ticket(f'puzzle = "{name}"\nslots = {{ {slots[0]} = "?", {slots[1]} = "?" }}')
    text = reply_text(answer(read.puzzle, read.appearance, Budget(2.0)), reader_of(read))
    home = "not by turning" not in verdicts
    assert ("alone leads to this, and out of it again" in text) == home, text
    assert f"It {'may well come' if home else 'comes'} right by" not in text, text
