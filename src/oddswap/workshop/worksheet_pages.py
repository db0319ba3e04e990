"""Worksheets to print, one question a page, with keys that show the proof and strips that set the positions up.

Stickers are grey and bear letters, so that a sheet can be copied without colour and fits copies of any colours. On the wall,
in colour: a question to show hands for, and after it the same with its answer.
"""

from collections.abc import Iterator, Sequence

from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.as_seen import pieces_that_look_right
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.ways.commutators import shows
from oddswap.showing.ink.camera import cameras, looking_at
from oddswap.showing.ink.canvas import EDGE, INCHES, Paper, height_of, sheet, wrapped, write
from oddswap.showing.ink.painting import Inks, letter_of
from oddswap.showing.ink.palette import BODY, FAINT_INK, PAPER, colours_for, tones_for
from oddswap.showing.pictures.strip import lay_turn, strip_height
from oddswap.story.handout import lay_both_sides, lay_strip, lay_views
from oddswap.values.grammar import capital
from oddswap.values.orbits import gathered
from oddswap.values.position import Arrangement
from oddswap.words.products import worksheets as words
from oddswap.words.products.worksheets import SAYS
from oddswap.words.to_visitors.moves import letters_explained
from oddswap.workshop.worksheets import Question, Worksheet

LETTERS = "abcdefgh"
SIDE, TICK, LINE = 2.2, 0.18, 0.3
"""The side of one picture of a question, of a box to tick, and how far apart lines to write on are, in units of the sheet."""
INDENT, AFTER, LEFT_OVER = TICK + 0.12, 0.07, 1.4
"""How far what is chosen from stands in and apart, and what counts, words below pictures and two lines to write on take."""
WORDS, CHOICE, ASKED, LARGE = 11, 13, 20, 24
"""Points of the words, of what is chosen from, of the question, and of turns to read at a table."""
PICTURED, ONE_ROW, PER_ROW, PER_STRIP, ABREAST = 12, 8, 6, 5, 3
"""So many turns have pictures in the key, in one row or in rows of so many; so many pictures of a strip, and counts, stand in a
row."""
COUNTED = 0.4
"""How high a row of counts is."""


def sheet_pages(sheet: Worksheet, paper: str = "A4") -> list[Figure]:
    """A question a page, the key to the turns on each, and on the first a box for the colours of the copies."""
    puzzle, page = load(sheet.puzzle), Paper(paper)
    for number, question in enumerate(sheet.questions, 1):
        if number > 1:
            page.turn()
        page.text(SAYS.sheet.format(sheet.number, puzzle.title), WORDS, after=0.04)
        write(page.ax, page.width - EDGE, page.height - EDGE, SAYS.name, ha="right", va="top", size=WORDS)
        page.rule()
        page.y -= 0.12
        top = _foot(page, puzzle, number == 1)
        _question(page, puzzle, question, number, top)
        write(page.ax, EDGE, page.y - LINE, SAYS.because, ha="left", va="bottom", size=CHOICE)
        left = EDGE + 0.8
        while page.y - LINE > top + 0.1:
            page.y -= LINE
            page.rule(left)
            left = EDGE
    return page.pages


def _question(page: Paper, puzzle: Puzzle, question: Question, number: int, low: float) -> None:
    """A question above the foot, which begins at ``low``: its pictures take what choices and a few lines leave them."""
    page.text(f"{number} {words.QUESTIONS[question.sort]}", ASKED, weight="bold", after=0.12)
    counts = words.counted_words(_turned_families(puzzle)) if question.sort in ("possible", "law") else ()
    said = [(f"{letter}) {choice}", CHOICE, INDENT) for letter, choice in zip(LETTERS, question.choices, strict=False)]
    said += [(text, WORDS, 0.0) for text in words.names_explained(puzzle, question)]
    high = sum(height_of(wrapped(text, page.inner - indent, size), size) + AFTER for text, size, indent in said)
    high += (len(counts) - 1) // ABREAST * COUNTED
    lay_views(page, puzzle, question.position, Inks(tones_for(puzzle), letters=True), min(SIDE, page.y - low - high - LEFT_OVER))
    if counts:
        write(page.ax, EDGE, page.y - 0.14, SAYS.count_first, ha="left", size=WORDS, weight="bold")
    for row in (counts[start : start + ABREAST] for start in range(0, len(counts), ABREAST)):
        for i, what in enumerate(row, 1):
            x = EDGE + 1.0 + i * (page.inner - 1.0) / len(row)
            _box(page, x - 0.3, page.y - 0.02, 0.25)
            write(page.ax, x - 0.36, page.y - 0.14, what, ha="right", size=WORDS)
        page.y -= COUNTED
    for text, size, indent in said:
        if indent:
            _box(page, EDGE, page.y - 0.02, TICK)
        page.text(text, size, indent=indent, after=AFTER)


def _box(page: Paper, left: float, top: float, side: float) -> None:
    page.ax.add_patch(Rectangle((left, top - side), side, side, facecolor="none", edgecolor=BODY, lw=0.8))


def _turned_families(puzzle: Puzzle) -> list[tuple[str, int]]:
    """The families of pieces that are counted, each with its ways round: of pieces with looks, and not all of hidden turns."""
    hidden = lookalikes(puzzle).hidden_turns
    kinds = (kind for kind in puzzle.kinds if kind.twist in (2, 3) and shows(puzzle, kind) and {*kind.places}.difference(hidden))
    return list(dict.fromkeys((kind.family, kind.twist) for kind in kinds))


def counts_of(puzzle: Puzzle, position: Arrangement) -> list[int]:
    """How many pieces of each family that is counted on a sheet look turned in their places, and how many are elsewhere."""
    first = judged(puzzle, puzzle.appearance(position)).first or position
    wrong = ~pieces_that_look_right(puzzle, puzzle.permutation(first))
    stays = {piece: puzzle.kind_of[piece] for slot, piece in enumerate(first.pieces) if slot == piece and wrong[piece]}
    turned = [sum((kind.family, kind.twist) == family for kind in stays.values()) for family in _turned_families(puzzle)]
    return [*turned, int(wrong.sum()) - sum(turned)]


def _foot(page: Paper, puzzle: Puzzle, first: bool) -> float:
    """At the foot of a page the key to the turns and, on the first, the box for colours; returns where it begins."""
    y = EDGE
    if first:
        facets = list(dict.fromkeys(puzzle.geometry.paints.values()))
        for start in range((len(facets) - 1) // PER_ROW * PER_ROW, -1, -PER_ROW):
            for i, facet in enumerate(facets[start : start + PER_ROW]):
                at = EDGE + 0.08 + i * page.inner / PER_ROW
                write(page.ax, at, y + 0.08, f"{letter_of(facet)} is _______", ha="left", va="bottom", size=WORDS, weight="bold")
            y += LINE
        write(page.ax, EDGE + 0.08, y + 0.05, SAYS.own, ha="left", va="bottom", size=WORDS)
        y += LINE
        page.ax.add_patch(Rectangle((EDGE, EDGE), page.inner, y - EDGE, facecolor="none", edgecolor=BODY, lw=1.6))
    else:
        write(page.ax, EDGE, y, SAYS.see_first, ha="left", va="bottom", size=WORDS)
        y += 0.2
    y = _pictured_turns(page, puzzle, y + 0.05)
    said = wrapped(letters_explained(puzzle, " ".join(puzzle.turns)), page.inner, WORDS)
    write(page.ax, EDGE, y, said, ha="left", va="bottom", size=WORDS, linespacing=1.35)
    return y + height_of(said, WORDS)


def _pictured_turns(page: Paper, puzzle: Puzzle, low: float) -> float:
    """A small picture of one turn of each slab, above ``low``; returns where the rows end."""
    at_home = [turn for turn in puzzle.turns.values() if any(puzzle.geometry.bodies[slot].faces for slot in turn.slots)]
    slabs = gathered(at_home, lambda turn: turn.step.name).values()
    turns = [min(slab, key=lambda turn: (abs(turn.step.amount), -turn.step.amount)) for slab in slabs]
    if len(turns) > PICTURED:
        return low
    per_row = max(len(turns), PER_ROW) if len(turns) <= ONE_ROW else PER_ROW
    rows, each = -(-len(turns) // per_row), page.inner / per_row
    side = min(0.85 if rows == 1 else 0.68, each - 0.05)
    for i, turn in enumerate(turns):
        left, y = EDGE + i % per_row * each, low + (rows - 1 - i // per_row) * (side + 0.2) + 0.16
        camera = looking_at(puzzle, turn.axis)
        inks = Inks(tones_for(puzzle), lifted=True)
        at = left + each / 2, y + side / 2
        lay_turn(page.ax, puzzle, puzzle.solved, [turn], inks, *at, side, camera=camera)
        write(page.ax, left + 0.02, y + side, turn.name, ha="left", va="top", size=CHOICE, weight="bold")
        behind = SAYS.behind if camera is not cameras(puzzle)[0] else ""
        write(page.ax, at[0], y - 0.02, behind, va="top", size=WORDS, color=FAINT_INK)
    return low + rows * (side + 0.2) + 0.02


def key_pages(sheet: Worksheet, tables: Sequence[int], paper: str = "A4") -> list[Figure]:
    """The right answers with their proofs and counts, and how each position is made."""
    page, puzzle = Paper(paper), load(sheet.puzzle)
    page.text(SAYS.key.format(sheet.number, words.tables_words(tables)), ASKED, weight="bold", after=0.06)
    page.text(SAYS.sheet.format(sheet.number, puzzle.title), WORDS, after=0.2)
    for number, question in enumerate(sheet.questions, 1):
        page.heading(f"{number} {LETTERS[question.right]}) {question.choices[question.right]}", CHOICE)
        page.text(question.proof, WORDS, indent=0.25, after=0.04)
        if question.sort in ("possible", "law"):
            counts = zip(words.counted_words(_turned_families(puzzle)), counts_of(puzzle, question.position), strict=True)
            told = ", ".join(f"{what} {many}" for what, many in counts)
            page.text(f"{SAYS.count_first} {told}.", WORDS, indent=0.25, after=0.04)
        page.text(words.made_words(question.moves, question.changes), WORDS, indent=0.25, after=0.16)
    return page.pages


def strip_pages(sheet: Worksheet, tables: Sequence[int], paper: str = "A4") -> list[Figure]:
    """A strip for every position of a sheet that turning leads to, with the turns back; what stays on paper is named."""
    page, puzzle = Paper(paper), load(sheet.puzzle)
    page.text(SAYS.strips.format(sheet.number, words.tables_words(tables)), ASKED, weight="bold")
    page.text(f"{SAYS.hold} {SAYS.care}", WORDS)
    page.text(letters_explained(puzzle, " ".join(puzzle.turns)), WORDS, after=0.2)
    for number, question in enumerate(sheet.questions, 1):
        if question.changes:
            page.text(SAYS.stays.format(number), CHOICE, after=0.2)
        else:
            lay_set_up(page, puzzle, question.moves, f"{number} {question.moves}")
    return page.pages


def lay_set_up(page: Paper, puzzle: Puzzle, moves: str, head: str) -> None:
    """The strip of some turns from solved, in tones with letters, and below it the turns that undo them, all on one page."""
    said = height_of(wrapped(head, page.inner, ASKED, "bold"), ASKED) + 0.5
    page.room(strip_height(puzzle, puzzle.solved, moves, PER_STRIP) * page.inner + said)
    page.text(head, ASKED, weight="bold")
    lay_strip(page, puzzle, puzzle.solved, moves, colours=dict(tones_for(puzzle)), per_row=PER_STRIP, points=WORDS)
    page.y -= 0.06
    page.text(SAYS.back.format(puzzle.undone(moves)), CHOICE, after=0.2)


def hero_pages(puzzle: Puzzle, moves: str, paper: str = "A4") -> list[Figure]:
    """The copy that opens the evening: how it looks, and the turns that set it up."""
    page = Paper(paper)
    page.text(SAYS.hero.format(puzzle.title), LARGE, weight="bold")
    lay_views(page, puzzle, puzzle.follow(moves), Inks(colours_for(puzzle), letters=True), SIDE)
    for line in (SAYS.hero_way, f"{SAYS.hold} {SAYS.care}", letters_explained(puzzle, moves)):
        page.text(line, WORDS)
    lay_set_up(page, puzzle, moves, moves)
    return page.pages


WALL, HEIGHT, MARGIN = 13.333 / INCHES, 7.5 / INCHES, 0.35
TITLE, TEXT, SMALLEST, LARGE_SIDE = 32, 24, 18, 2.4
"""Points of the question, and of all other words at most and at least; and the side of one picture."""


def slides(questions: Sequence[Question]) -> Iterator[Figure]:
    """Two slides for each question: first with all that can be chosen, then with what is right, and why."""
    for number, question in enumerate(questions, 1):
        for answered in (False, True):
            yield _slide(load(question.puzzle), question, number, answered)


def _slide(puzzle: Puzzle, question: Question, number: int, answered: bool) -> Figure:
    ax = sheet(WALL, HEIGHT)
    ax.figure.set_facecolor(PAPER)
    style = {"ha": "left", "va": "top", "linespacing": 1.35}
    title = wrapped(f"{number}  {words.QUESTIONS[question.sort]}", WALL - 2 * MARGIN, TITLE, "bold")
    write(ax, MARGIN, HEIGHT - MARGIN, title, size=TITLE, weight="bold", **style)
    top = HEIGHT - MARGIN - height_of(title, TITLE) - 0.05
    inks = Inks(colours_for(puzzle), letters=True)
    lay_both_sides(ax, puzzle, question.position, inks, MARGIN + 1.06 * LARGE_SIDE, top - LARGE_SIDE / 2, LARGE_SIDE)
    beside, below = [capital(puzzle.title)], [f"{a}) {choice}" for a, choice in zip(LETTERS, question.choices, strict=False)]
    if answered:
        below = [f"✓ {below[question.right]}", question.proof]
    else:
        beside += [*words.names_explained(puzzle, question), SAYS.hands]
    left, y = MARGIN + 2.3 * LARGE_SIDE, top - LARGE_SIDE - 0.15
    lines, size = _fitted(["\n".join(beside)], WALL - MARGIN - left, LARGE_SIDE)
    write(ax, left, top, lines[0], size=size, **style)
    lines, size = _fitted(below, WALL - 2 * MARGIN - 1.2, y - 0.1)
    for i, text in enumerate(lines):
        write(ax, MARGIN, y, text, size=size, weight="bold" if answered and not i else "normal", color=BODY, **style)
        if not answered:
            write(ax, WALL - MARGIN, y, SAYS.tally, size=size, **(style | {"ha": "right"}))
        y -= height_of(text, size) + AFTER
    return ax.figure


def _fitted(texts: Sequence[str], width: float, high: float) -> tuple[list[str], int]:
    """The texts in lines, and the points at which they all fit into that height."""
    for size in range(TEXT, SMALLEST - 1, -2):
        lines = [wrapped(text, width, size) for text in texts]
        if sum(height_of(each, size) + AFTER for each in lines) <= high:
            break
    return lines, size
