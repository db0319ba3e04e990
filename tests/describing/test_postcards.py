"""Postcards: exact there and back, short, refused when changed, mended after mail programs, and without what is private."""

import base64
import random
import subprocess
import sys
import zlib
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest
from matplotlib.colors import CSS4_COLORS

from oddswap.describing.habits import Habits
from oddswap.describing.postcards import is_postcard, read_postcard, write_postcard
from oddswap.describing.sights import every_look
from oddswap.describing.stickers import paints_of, seen_stickers, stickers
from oddswap.describing.tickets import IN_PLACE, TURNED, Ticket, parse_ticket, read_ticket, ticket_in
from oddswap.errors import BadTicket, UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.made_up import puzzle as made_up
from oddswap.values.position import Appearance
from tests.showing.sample import SAMPLE

TICKETS = sorted((Path(__file__).parents[2] / "notebooks" / "tickets").rglob("*.toml"))
PUZZLES = [*SAMPLE, "cuboid:3x4x5", "cuboid:2x3x4,turns=all", "cube:5", "shape-mod:cube,shift=0.3/0/0.1"]
WORDS = ["gold", "teal", "#0a1b2c", "the colour of old paper", "Weiß", "navy", "IVORY", "rebeccapurple"]


def drawn(puzzle, dice) -> Ticket:
    """A ticket with anything in it: a position, some of it hidden or doubtful or foreign, told by stickers or by slots."""
    image = puzzle.permutation(puzzle.solved)
    for _ in range(dice.randrange(12)):
        image = puzzle.generators[dice.randrange(len(puzzle.generators))][image]
    state = puzzle.arrangement(image)
    dim = dice.choice((0, 0, 0.2, 1))
    if stickers(puzzle) and dice.random() < 0.5:
        paints = sorted(set(puzzle.geometry.paints.values()))
        told = tuple(
            frozenset(dice.sample(paints, dice.randint(0, min(3, len(paints))))) if dice.random() < dim else frozenset((paint,))
            for paint in paints_of(puzzle, state)
        )
        seen = seen_stickers(puzzle, told)
    else:
        sights = puzzle.appearance(state).sights
        options = [every_look(puzzle, number) for number in range(len(sights))]
        seen = Appearance(
            puzzle.name,
            tuple(
                frozenset(dice.sample(sorted(all_looks), dice.randint(0, len(all_looks)))) if dice.random() < dim else sight
                for sight, all_looks in zip(sights, options, strict=True)
            ),
        )
    facets = list(puzzle.geometry.paints) if puzzle.geometry else []
    colours = {facet: word for facet, word in zip(facets, dice.sample(WORDS, len(WORDS)), strict=False) if dice.random() < 0.5}
    copy = dice.choice(("", "half", "R2+U"))
    habits = dice.choice((Habits(), Habits(("i",), "slab"), Habits(("°", "−"), ""), Habits((), "twice")))
    return Ticket("letter", puzzle, seen, colours, dice.choice((IN_PLACE, TURNED)), copy, "for me alone", habits)


def test_every_ticket_of_the_repair_table_comes_back():
    for path in TICKETS:
        ticket = replace(read_ticket(path), otherwise=None)
        read = read_postcard(write_postcard(ticket))
        assert replace(read, name=ticket.name, note=ticket.note) == ticket and read.held == ticket.held, path


def test_ten_thousand_tickets_with_anything_in_them_come_back(cases):
    for name in PUZZLES:
        puzzle = load(name)
        for number in cases[: len(cases) * 3 // 5]:
            ticket = drawn(puzzle, random.Random(f"{name} {number}"))
            assert replace(read_postcard(write_postcard(ticket)), name="letter", note=ticket.note) == ticket, (name, number)


def test_a_cube_that_is_seen_whole_takes_sixty_characters_at_most_and_the_largest_box_of_the_table_120():
    words = ["navy", "ivory", "gold", "plum", "teal", "tomato"]
    for name, most in (("cube:3", 60), ("cuboid:3x3x5,turns=all", 120), ("cuboid:3x4x5", 120)):
        puzzle = load(name)
        for number in range(20):
            dice = random.Random(number)
            state = puzzle.solved
            for _ in range(30):
                state = puzzle.follow(dice.choice(["U2", "D2", "F2", "B2", "L2", "R2"]), state)
            told = tuple(frozenset((paint,)) for paint in paints_of(puzzle, state))
            colours = dict(zip(puzzle.geometry.paints, words, strict=True))
            ticket = Ticket("letter", puzzle, seen_stickers(puzzle, told), colours, TURNED, held="x y")
            assert len(write_postcard(ticket)) <= most, name
    assert max(len(write_postcard(replace(read_ticket(path), otherwise=None))) for path in TICKETS) <= 120


def test_the_format_is_as_it_is_described():
    """A reader of its own, from the description alone: the stickers of a cube that is seen whole."""
    names = 148
    puzzle = load("cube:3")
    paints = sorted("UDFBLR")
    state = puzzle.follow("R U F2 L'")
    told = tuple(frozenset((paint,)) for paint in paints_of(puzzle, state))
    line = write_postcard(Ticket("letter", puzzle, seen_stickers(puzzle, told), {"U": "gold", "F": "#0a1b2c"}, TURNED))
    version, name, text = line.split(";")
    data = base64.b32decode(text + "=" * (-len(text) % 8))
    assert (version, name) == ("odd1", "cube:3")
    assert data[-3:] == zlib.crc32(f"{version};{name}".encode() + data[:-3]).to_bytes(4, "big")[1:]
    number = int.from_bytes(data[:-3], "big")

    def digit(radix):
        nonlocal number
        number, value = divmod(number, radix)
        return value

    assert [digit(2), digit(24)] == [1, 0]  # turned; held as it is named
    assert [digit(2), digit(2)] == [0, 0]  # no copy, no habits
    assert digit(2) == 1
    colours = []
    for _ in "UDFBLR":
        colours.append(digit(names + 3))
        if colours[-1] == names + 1:
            colours[-1] = f"#{digit(1 << 24):06x}"
    assert colours == [colours[0], 0, "#0a1b2c", 0, 0, 0] and colours[0] == 1 + sorted(CSS4_COLORS).index("gold")
    assert digit(2) == 1 and digit(3) == 0  # told by stickers, each seen for certain
    assert [paints[digit(6)] for _ in told] == [paint for (paint,) in told]
    assert (digit(2), number) == (1, 0)  # the slots are as the stickers say


def test_one_changed_character_is_refused():
    line = write_postcard(read_ticket(TICKETS[0]))
    dice, refused = random.Random(1), 0
    for _ in range(3000):
        at = dice.randrange(len(line))
        other = dice.choice([c for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567odcube:;3 1" if c.upper() != line[at].upper()])
        try:
            read_postcard(line[:at] + other + line[at + 1 :])
        except (BadTicket, UnknownPuzzle):
            refused += 1
    assert refused == 3000


@pytest.mark.parametrize("cut", [1, 5, 20])
def test_a_postcard_that_is_cut_short_is_refused(cut):
    line = write_postcard(read_ticket(TICKETS[0]))
    with pytest.raises(BadTicket, match="cut short or changed .*: copy it again"):
        read_postcard(line[:-cut])


@pytest.mark.parametrize(
    "change",
    [
        lambda line: f"  {line}\n",
        lambda line: f"> {line[:30]}\r\n> {line[30:]}\r\n",
        lambda line: f"“{line}”",
        lambda line: f'"{line}".',
        lambda line: f"{line}\nBest wishes from the hill,\nnumber 7",
        lambda line: f"({line}), thanks!",
        lambda line: f"> {line[:20]}\n> {line[20:]}\n> See you.",
        lambda line: line.replace("odd1", "Odd1"),
        lambda line: f"{line[:25]}\u200b{line[25:]}",
        lambda line: line.replace("-", "‑"),
        lambda line: line.rpartition(";")[0] + ";" + line.rpartition(";")[2].lower(),
    ],
)
def test_what_a_mail_program_does_is_undone(change):
    ticket = parse_ticket('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]')
    line = write_postcard(ticket)
    assert is_postcard(change(line))
    assert read_postcard(change(line)).appearance == ticket.appearance


def test_a_postcard_is_found_wherever_it_stands_in_a_letter():
    flip, twist = (parse_ticket(f'puzzle = "cube:2"\nchanges = ["twist {corner} cw"]') for corner in ("UFR", "DBL"))
    one, other = map(write_postcard, (flip, twist))
    quoted = f"{one}\n\nOn Monday you wrote:\n> {one}"
    for text in (f"Dear table,\n\n{one}\n\nThanks!", f"Mine is {one}, what now?", quoted):
        assert ticket_in(text).appearance == flip.appearance
    with pytest.raises(BadTicket, match="there are 2 postcards in this text: give each of them alone"):
        ticket_in(f"{one}\n{other}")
    noted = f'puzzle = "cube:2"\nafter = "R"\nnote = """\nlike {one}\n"""'
    assert ticket_in(noted) == parse_ticket(noted) and ticket_in(noted).appearance != flip.appearance
    with pytest.raises(BadTicket, match="is cut short or changed"):
        ticket_in(f"Dear table,\n{one[:-3]}\nThanks!")
    for text in ("Dear table, mine is stuck.", "eggs, milk", "odd numbers; and more"):
        with pytest.raises(BadTicket, match="no ticket, which has a line such as puzzle = 'cube:3', and no postcard"):
            ticket_in(text)


def test_another_version_is_named():
    with pytest.raises(BadTicket, match="no postcard that this version reads: one begins with odd1;"):
        read_ticket("odd2;cube:3;AAAA")


def test_a_ticket_that_can_mean_two_things_is_asked_about_first():
    with pytest.raises(BadTicket, match="say leading_number"):
        write_postcard(parse_ticket('puzzle = "cube:4"\nafter = "2R"'))


def test_a_puzzle_from_a_file_travels_by_the_checksum_of_its_file(tmp_path):
    (tmp_path / "sent").mkdir()
    (tmp_path / "kept").mkdir()
    path = tmp_path / "sent" / "secret_name.toml"
    path.write_text('[[kind]]\nname = "beads"\nslots = "1 2 3 4"\n[moves]\na = "(1 2 3 4)"\nb = "(1 2)"\n', "utf-8")
    puzzle = load(f"custom:{path}")
    line = write_postcard(Ticket("letter", puzzle, puzzle.appearance(puzzle.follow("a b")), note="for me"))
    assert sha256(path.read_bytes()).hexdigest()[:10] in line and "secret" not in line and "sent" not in line
    with pytest.raises(BadTicket, match="put that file into this folder"):
        read_postcard(line, tmp_path / "kept")
    (tmp_path / "kept" / "mine.toml").write_bytes(path.read_bytes())
    read = read_postcard(line, tmp_path / "kept")
    assert read.appearance.sights == puzzle.appearance(puzzle.follow("a b")).sights


def test_a_puzzle_that_was_made_in_a_notebook_must_be_saved_first():
    puzzle = made_up("three", moves={"a": "(1 2 3)"})
    with pytest.raises(BadTicket, match="describe it in a file"):
        write_postcard(Ticket("letter", puzzle, puzzle.appearance(puzzle.solved)))


def test_the_names_of_colours_keep_their_order():
    """W3C, css-color-4, section 6.1: 148 names. Another order would give old postcards other colours."""
    line = write_postcard(
        parse_ticket('puzzle = "cube:2"\nafter = "R"\n[colours]\nU = "aliceblue"\nD = "yellowgreen"\nF = "navy"')
    )
    assert line == "odd1;cube:2;BGFQ3I5SJSWRCGQOZVAP5LOG"
    assert dict(read_postcard(line).colours) == {"U": "aliceblue", "D": "yellowgreen", "F": "navy"}


def test_nothing_private_travels():
    quiet = write_postcard(parse_ticket('puzzle = "cube:2"\nafter = "R"'))
    assert quiet == write_postcard(parse_ticket('puzzle = "cube:2"\nafter = "R"\nnote = "Mrs. Green"', "letter_from_green"))


def test_the_commands_read_postcards_and_standard_input(tmp_path):
    line = write_postcard(parse_ticket('puzzle = "cube:2"\nchanges = ["twist UFR cw"]'))
    runs = [("postcard", line), ("postcard", "-"), ("answer", line, "--seconds", "3"), ("check", "-", "R")]
    said = [
        subprocess.run([sys.executable, "-m", "oddswap", *run], input=line, capture_output=True, text=True, check=True).stdout
        for run in runs
    ]
    assert said[0] == said[1] == f"{line}\n"
    assert "not by turning" in said[2] and "R" in said[3]
