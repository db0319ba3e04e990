"""Worksheets to print, with keys that show the proof; envelopes for the tables; nets and tile cards to cut out."""

from collections.abc import Iterable, Sequence
from random import Random

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.describing.stickers import stickers
from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.canvas import wrapped, write
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import BODY, FAINT_INK, colours_for, ink_on
from oddswap.showing.ink.paper import EDGE, Paper, height_of
from oddswap.story.handout import lay_both_sides, lay_strip
from oddswap.words.products.worksheets import CARE, COLOUR_IN, COPIES, CUT, HOLD, QUESTIONS, TILES, made_words
from oddswap.words.to_visitors.moves import names_explained
from oddswap.workshop.worksheets import TRIES, WAYS, Question, Worksheet, can_be_made

LETTERS = "abcdefgh"
SIDE, COLUMNS, ROWS = 1.22, 2, 3
"""The side of one picture on a sheet; the questions of a page stand in so many columns and rows."""


def sheet_pages(sheet: Worksheet, paper: str = "A4") -> list[Figure]:
    """The questions, six on a page, with letters on the stickers so that they can be read in black and white."""
    puzzle, page = load(sheet.puzzle), Paper(paper)
    inks = Inks(colours_for(puzzle), letters=True)
    each = COLUMNS * ROWS
    for start in range(0, len(sheet.questions), each):
        if start:
            page.turn()
        page.text(f"{_title(sheet)} · name: ______________________", 11, weight="bold", after=0.15)
        ways = (choice for question in sheet.questions if question.sort == "ways" for choice in question.choices)
        _explain(page, puzzle, ways)
        high = (page.y - EDGE) / ROWS
        for place, question in enumerate(sheet.questions[start : start + each]):
            left = EDGE + place % COLUMNS * page.inner / COLUMNS
            top = page.y - place // COLUMNS * high
            _question(page.ax, puzzle, question, start + place + 1, inks, left, top, page.inner / COLUMNS - 0.25)
    return page.pages


def key_pages(sheet: Worksheet, paper: str = "A4") -> list[Figure]:
    """The right answers with their proofs, and how each position is made."""
    page, puzzle = Paper(paper), load(sheet.puzzle)
    page.text(f"{_title(sheet)} · key", 14, weight="bold", after=0.2)
    _explain(page, puzzle, [question.moves for question in sheet.questions])
    for number, question in enumerate(sheet.questions, 1):
        page.heading(f"{number} {LETTERS[question.right]}) {question.choices[question.right]}", 10.5)
        page.text(question.proof, 10, indent=0.25, after=0.04)
        page.text(made_words(question.moves, question.changes), 9, indent=0.25, after=0.16)
    return page.pages


def _explain(page: Paper, puzzle: Puzzle, moves: Iterable[str]) -> None:
    """What the names of inner layers mean, in small print, if there are any."""
    if named := names_explained(puzzle, moves):
        page.text(named, 9, after=0.08)


def envelope_pages(puzzles: Sequence[Puzzle], level: int, seed: int, table: int, paper: str = "A4") -> list[Figure]:
    """A strip to set a position up and, on a page of its own, one to reset it: the same turns on every copy at the table.

    `BadOption` where the puzzles have no turns in common that would do.
    """
    word, back = table_word(puzzles, level, seed, table)
    page, lead = Paper(paper), puzzles[0]
    for head, moves, start in (("set-up", word, lead.solved), ("reset", back, lead.follow(word))):
        if head == "reset":
            page.turn()
        page.text(f"Table {table} · {head} strip", 16, weight="bold")
        page.text(COPIES.format("; ".join(puzzle.title for puzzle in puzzles)), 10)
        page.text(moves, 18, weight="bold", after=0.2)
        _explain(page, lead, [moves])
        lay_strip(page, lead, start, moves)
        page.y -= 0.2
        page.text(HOLD[head], 10)
        page.text(CARE, 10)
    return page.pages


def table_word(puzzles: Sequence[Puzzle], level: int, seed: int, table: int) -> tuple[str, str]:
    """Turns that every one of the puzzles makes, after which none of them looks solved, and the turns that undo them."""
    common = [name for name, turn in puzzles[0].turns.items() if all(_has(puzzle, turn) for puzzle in puzzles)]
    stems = {puzzles[0].turns[name].step.name for name in common}
    if len(stems) < 2:
        raise BadOption("these puzzles have no two slabs in common that turn alike: put copies of one mechanism on a table")
    rng = Random(f"table {table} {level} {seed} {[puzzle.name for puzzle in puzzles]}")
    for _ in range(TRIES):
        word: list[str] = []
        while len(word) < WAYS[level][1]:
            name = rng.choice(common)
            fresh = not word or puzzles[0].turns[name].step.name != puzzles[0].turns[word[-1]].step.name
            if fresh and all(can_be_made(puzzle, " ".join([*word, name])) for puzzle in puzzles):
                word.append(name)
        moves = " ".join(word)
        back = str(puzzles[0].read(moves).inverse())
        if all(_works(puzzle, moves, back) for puzzle in puzzles):
            return moves, back
    raise BadOption(f"none of {TRIES} sequences leaves every one of these puzzles unsolved: put others on a table")


def _has(puzzle: Puzzle, turn: Turn) -> bool:
    """Whether a puzzle has a turn of that name about the same axis and as far."""
    other = puzzle.turns.get(turn.name)
    return other is not None and np.allclose((*other.axis, other.angle), (*turn.axis, turn.angle))


def _works(puzzle: Puzzle, moves: str, back: str) -> bool:
    if not can_be_made(puzzle, moves):
        return False
    there = puzzle.follow(moves)
    home = puzzle.follow(back, there)
    return not looks_solved(puzzle, puzzle.appearance(there)) and looks_solved(puzzle, puzzle.appearance(home))


def cut_out_pages(puzzle: Puzzle, paper: str = "A4") -> list[Figure]:
    """A net of the puzzle's six faces in colour and one to colour in, where it has such faces; and tile cards."""
    pages: list[Figure] = []
    if stickers(puzzle) is not None:
        for filled in (True, False):
            page = Paper(paper)
            page.text(f"A net to cut out: {puzzle.title}", 14, weight="bold")
            page.text(CUT if filled else COLOUR_IN, 10)
            lay_net(page, puzzle, filled)
            pages += page.pages
    page = Paper(paper)
    page.text("Tile cards to cut out", 14, weight="bold")
    page.text(TILES, 10)
    _tiles(page)
    return pages + page.pages


def _title(sheet: Worksheet) -> str:
    return f"Level {sheet.level} · {load(sheet.puzzle).title} · sheet {sheet.number} (seed {sheet.seed})"


def _question(
    ax: Axes, puzzle: Puzzle, question: Question, number: int, inks: Inks, left: float, top: float, wide: float
) -> None:
    lines = wrapped(f"{number} {QUESTIONS[question.sort]}", wide, 9.5, "bold")
    write(ax, left, top, lines, ha="left", va="top", size=9.5, weight="bold")
    y = top - height_of(lines, 9.5) - 0.04
    lay_both_sides(ax, puzzle, question.position, inks, left + wide / 2, y - SIDE / 2, SIDE)
    y -= SIDE + 0.1
    for letter, choice in zip(LETTERS, question.choices, strict=False):
        text = wrapped(f"{letter}) {choice}", wide - 0.22, 8.5)
        ax.add_patch(Rectangle((left, y - 0.12), 0.11, 0.11, facecolor="none", edgecolor=BODY, lw=0.8))
        write(ax, left + 0.2, y, text, ha="left", va="top", size=8.5)
        y -= height_of(text, 8.5) + 0.03


def lay_net(page: Paper, puzzle: Puzzle, filled: bool) -> None:
    """The six faces of a puzzle unfolded, in colour or to colour in, below what is on a page."""
    table, colours, paints = stickers(puzzle), colours_for(puzzle), puzzle.geometry.paints
    rows = {face: len(grid) for face, grid in table.grid.items()}
    wide = {face: len(grid[0]) for face, grid in table.grid.items()}
    around = "LFRB"
    lefts = {face: sum(wide[other] for other in around[:i]) for i, face in enumerate(around)}
    lefts |= {"U": wide["L"], "D": wide["L"]}
    tops = {"U": 0, "D": rows["U"] + rows["F"], **dict.fromkeys(around, rows["U"])}
    across, down = sum(wide[face] for face in around), rows["U"] + rows["F"] + rows["D"]
    cell = min(page.inner / across, (page.y - EDGE) / down, 0.55)
    for face in "ULFRBD":
        x, y = EDGE + lefts[face] * cell, page.y - tops[face] * cell
        for r in range(rows[face]):
            for c in range(wide[face]):
                colour = colours[paints[face]] if filled else "none"
                corner = (x + c * cell, y - (r + 1) * cell)
                page.ax.add_patch(Rectangle(corner, cell, cell, facecolor=colour, edgecolor=BODY, lw=0.8))
        size = wide[face] * cell, rows[face] * cell
        page.ax.add_patch(Rectangle((x, y - size[1]), *size, facecolor="none", edgecolor=BODY, lw=2))
        ink = ink_on(colours[paints[face]]) if filled else FAINT_INK
        write(page.ax, x + size[0] / 2, y - size[1] / 2, face, size=20, weight="bold", color=ink)


def _tiles(page: Paper) -> None:
    side = page.inner / 4.4
    for number, text in enumerate([*map(str, range(1, 16)), "A", "A"]):
        x, y = EDGE + number % 4 * side * 1.08, page.y - number // 4 * side * 1.08
        page.ax.add_patch(Rectangle((x, y - side), side, side, facecolor="none", edgecolor=BODY, lw=1.2, linestyle=(0, (4, 2))))
        write(page.ax, x + side / 2, y - side / 2, text, size=40, weight="bold")
