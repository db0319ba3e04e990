"""Pictures beside each other, with words beneath: boards, strings, lifted letters; cards of verdicts, x-rays, ways, a shelf."""

import textwrap
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache, partial

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.describing.doors import puzzle_of
from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import Token
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.lookalikes import first_sight, lookalikes
from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.canvas import INCHES, lay_polygons, sheet, write
from oddswap.showing.ink.cards import MARGIN, Card, PaperCard, draw_cards
from oddswap.showing.ink.flat import draw_flat, placed, token_colours
from oddswap.showing.ink.painting import Spot, hatched_pieces
from oddswap.showing.ink.palette import BLACK, BODY, FAINT_INK, HIGHLIGHT, INK, PAPER, TABLE, ink_on
from oddswap.showing.pictures.strings import board_strings
from oddswap.values.grammar import capital, counted, listed
from oddswap.values.numbers import AtLeastOne
from oddswap.values.position import Appearance, Arrangement
from oddswap.words.open_boxes import family_words, length_words

FOOT = 0.36
"""The height of the words beneath, on the sheet."""


def draw_beside(parts: Mapping[str, Callable[..., object]]) -> Figure:
    """Each of ``parts`` is called with ``ax``, axes to draw on, as every picture takes it; its key is written beneath.

    >>> from functools import partial
    >>> from oddswap import draw
    >>> figure = draw.draw_beside(
    ...     {moves: partial(draw.draw_flat, "tiles:2x3", moves) for moves in ("r2c2", "r1c3")}
    ... )
    """
    if not parts:
        raise BadOption("there is nothing to draw here: give one thing or more, each by its words")
    figure = Figure(facecolor=TABLE)
    drawn = []
    for words, draw in parts.items():
        ax = figure.add_axes((0, 0, 1, 1), label=words)
        draw(ax=ax)
        drawn.append((words, ax, ax.get_xlim()[1], ax.get_ylim()[1]))
    width, height = sum(w for _, _, w, _ in drawn), FOOT + max(h for *_, h in drawn)
    figure.set_size_inches(width * INCHES, height * INCHES)
    page = sheet(width, height, figure.add_axes((0, 0, 1, 1), label="words", zorder=-1))
    left = 0.0
    for words, ax, w, h in drawn:
        ax.set_position((left / width, (FOOT + (height - FOOT - h) / 2) / height, w / width, h / height))
        write(page, left + w / 2, FOOT * 0.62, words, size=10)
        left += w
    return figure


def draw_boards(
    boards: Mapping[str, tuple[Puzzle, Arrangement | Appearance]], *, highlight: Iterable[str] = (), xray: bool = False
) -> Figure:
    """Flat puzzles beside each other. The pieces in the slots of ``highlight`` are outlined in each.

    >>> from oddswap import draw
    >>> figure = draw.draw_boards({"at home": ("tiles:2x3", []), "one slide": ("tiles:2x3", "r2c2")})
    """
    drawer = partial(draw_flat, highlight=tuple(highlight), xray=xray)
    return draw_beside({words: partial(drawer, puzzle, shown) for words, (puzzle, shown) in boards.items()})


def draw_board_and_strings(puzzle: Puzzle, state: Arrangement) -> Figure:
    """A flat puzzle, and beside it the strings from solved to ``state``.

    >>> from oddswap import draw
    >>> figure = draw.draw_board_and_strings("tiles:3x3", "r3c2 r2c2")
    """
    parts = {"as it lies": draw_flat, "its strings": board_strings}
    return draw_beside({words: partial(draw, puzzle, state) for words, draw in parts.items()})


LID, ASIDE, TILT = 0.6, np.array([0.26, 0.34]), 12.0
"""The lifted letter: its size beside that of a piece, how far it is moved, in steps, and how far turned, in degrees."""
NUMBER = np.array([-0.15, -0.14])
SEEN, LIFTED = "what is seen", "with the letters of the twins lifted"


def draw_lifted_letters(puzzle: Puzzle, state: Arrangement) -> Figure:
    """What is seen of ``state``, and beside it the same with the letters of all twins lifted.

    Outlined is what is out of place: to the left what seems so, to the right what is so.

    >>> from oddswap import draw
    >>> figure = draw.draw_lifted_letters("tiles:2x3,letters=NOONS", "swap r1c2 r1c3, swap r1c1 r2c1")
    """
    seeming = first_sight(puzzle, puzzle.appearance(state))[0].displaced()
    as_seen = partial(draw_flat, puzzle, state, letters=True, highlight=seeming)
    return draw_beside({SEEN: as_seen, LIFTED: partial(draw_lifted, puzzle, state)})


def draw_explanations(puzzle: Puzzle, states: Mapping[str, Arrangement]) -> Figure:
    """Several arrangements beside each other, each with its words and with the letters of the twins lifted.

    >>> from oddswap import draw
    >>> figure = draw.draw_explanations(
    ...     "tiles:2x3,letters=NOONS", {"at home": [], "twins swapped": "swap r1c2 r1c3"}
    ... )
    """
    return draw_beside({words: partial(draw_lifted, puzzle, state) for words, state in states.items()})


def draw_lifted(puzzle: Puzzle, state: Arrangement, *, ax: Axes | None = None) -> Figure:
    """One arrangement of a flat puzzle with the letters of all twins lifted; what is out of place is outlined.

    The number beneath a letter is that of the slot where the piece belongs, counted from 1 in the order of the slots. Nobody
    can see it; a real puzzle need not even have it.

    >>> from oddswap import draw
    >>> figure = draw.draw_lifted("tiles:2x3,letters=NOONS", "swap r1c2 r1c3")
    """
    figure = draw_flat(puzzle, state, letters=True, highlight=state.displaced(), ax=ax)
    ax = ax or figure.axes[0]
    spot, layout, colours = placed(puzzle.flat)[0], puzzle.flat, token_colours(puzzle.flat)
    twins = {piece for pieces in lookalikes(puzzle).twins for piece in pieces}
    for slot, piece in enumerate(state.pieces):
        if piece in twins:
            token, at = layout.tokens[puzzle.base_label[piece]], Spot(*spot.place(layout.positions[slot]), spot.scale)
            _bare(ax, at, layout.outline, str(piece + 1), HIGHLIGHT if piece != slot else BODY)
            _lid(ax, at, layout.outline, token, colours[token.paint])
    return figure


def _bare(ax: Axes, at: Spot, outline: np.ndarray, number: str, edge: str) -> None:
    """A piece without its letter."""
    width = 72 * INCHES * at.scale * (0.075 if edge == HIGHLIGHT else 0.03)
    lay_polygons(ax, [at.place(outline)], facecolors=PAPER, edgecolors=edge, linewidths=width, zorder=4)
    size = 72 * INCHES * at.scale * (0.36 if len(number) < 2 else 0.3)
    write(ax, *at.place(NUMBER), number, size=size, weight="bold", color=INK, zorder=4.1)


def _lid(ax: Axes, at: Spot, outline: np.ndarray, token: Token, colour: str) -> None:
    """The letter, held above its piece."""
    for aside, face, edge, zorder in ((ASIDE + (0.06, -0.1), BLACK + "33", "none", 4.2), (ASIDE, colour, BODY, 4.3)):
        lid = Spot(*at.place(aside), LID * at.scale, TILT)
        lay_polygons(ax, [lid.place(outline)], facecolors=face, edgecolors=edge, linewidths=1.0, zorder=zorder)
    size = 72 * INCHES * at.scale * LID * 0.5
    write(ax, *at.place(ASIDE), token.text, size=size, color=ink_on(colour), rotation=TILT, zorder=4.4)


CARD = PaperCard(side=2.0, pad=0.09, foot=0.78)
LINES = 34
"""How many letters of a title fit on a line."""


def draw_verdicts(
    sights: Iterable[tuple[Puzzle, Arrangement]], *, highlight: Iterable[str] = (), ax: Axes | None = None
) -> Figure:
    """A card for each puzzle with an arrangement of it: the picture, what it is, and the verdict on what is seen.

    The pieces in the slots of ``highlight`` are outlined.

    >>> from oddswap import draw
    >>> figure = draw.draw_verdicts(
    ...     [(name, "flip UF") for name in ("cube:3", "shape-mod:prism8")], highlight=["UF"]
    ... )
    """
    cards, highlight = list(sights), list(highlight)
    ax, corners = CARD.in_rows(len(cards), len(cards), 0.2, ax)
    for (puzzle, shown), corner in zip(cards, corners, strict=True):
        spot = CARD.picture(ax, corner, puzzle, shown, highlight=frozenset(map(puzzle.slot, highlight)))
        title = textwrap.fill(puzzle.title, LINES)
        write(ax, spot.x, MARGIN + 0.51, title, size=8.5, color=FAINT_INK, linespacing=1.2)
        write(ax, spot.x, MARGIN + 0.15, verdict_of(puzzle, shown), size=11, weight="bold", color=HIGHLIGHT)
    return ax.figure


@lru_cache(maxsize=1024)
def verdict_of(puzzle: Puzzle, shown: Arrangement) -> str:
    """The verdict on what is seen of an arrangement, kept for the next time that a control comes back to it.

    >>> from oddswap import draw
    >>> draw.verdict_of("cube:3", "flip UF"), draw.verdict_of("shape-mod:prism8", "flip UF")
    ('not by turning', 'lookalike')
    """
    return judged(puzzle, puzzle.appearance(shown)).verdict


def draw_xrays(shapes: Iterable[tuple[str, Puzzle]], *, per_row: AtLeastOne = 3, ax: Axes | None = None) -> Figure:
    """A card for each ``(headline, puzzle)``: the solved puzzle with its lookalikes hatched, and how many of which sort.

    >>> from oddswap import draw
    >>> shapes = [(name, name) for name in ("cube:2", "shape-mod:prism8")]
    >>> figure = draw.draw_xrays(shapes)
    """
    pairs = [(headline, puzzle_of(puzzle)) for headline, puzzle in shapes]
    cards = [Card(p, p.solved, headline, lookalikes_counted(p), hatched=hatched_pieces(p, True)) for headline, p in pairs]
    return draw_cards(cards, per_row=per_row, ax=ax)


def lookalikes_counted(puzzle: Puzzle) -> str:
    """How many pieces of each family have hidden turns, and how many have twins, on a line each.

    >>> from oddswap.puzzles.catalogue import load
    >>> print(lookalikes_counted(load("shape-mod:prism8")))
    hidden turns: 4 edges and 6 centres
    twins: none
    """
    alike = lookalikes(puzzle)
    sorts = {"hidden turns": alike.hidden_turns, "twins": [piece for pieces in alike.twins for piece in pieces]}
    return "\n".join(f"{sort}: {_families(puzzle, pieces)}" for sort, pieces in sorts.items())


def _families(puzzle: Puzzle, pieces: Iterable[int]) -> str:
    numbers = Counter(puzzle.kind_of[piece].family for piece in sorted(pieces))
    words = [counted(n, family) for family, n in numbers.items()]
    return listed(words) if words else "none"


MOST = 12
"""So many families have room on the sheet; those with the shortest excursions come first."""


def draw_ways(found: WaysMap, *, ax: Axes | None = None) -> Figure:
    """A card for each family, those with the shortest excursions first; `BadOption` where there is none.

    It shows the closed box as it is afterwards, with what looks wrong marked.

    >>> import oddswap
    >>> from oddswap import draw
    >>> figure = draw.draw_ways(oddswap.ways_map("cuboid:2x3x4", 4))
    """
    if not found.ways:
        raise BadOption(f"{found.puzzle.title} has no families to draw: turns that keep the outline lead everywhere")
    shown = sorted(found.ways, key=lambda way: (way.moves is None, way.at_least or 0))[:MOST]
    return draw_cards([_card(found, way) for way in shown], per_row=4, ax=ax)


def _card(found: WaysMap, way: MapEntry) -> Card:
    """Families that no few changes by hand lead to are shown as their excursion leaves the box, or as it was."""
    box, moves = found.box, " ".join(way.moves or ())
    after = box.follow(moves) if way.family.changes is None else changed(box, way.family.changes)
    words = "\n".join(filter(None, [capital(family_words(way)), moves]))
    return Card(box, after, length_words(way), words, highlight=frozenset(after.displaced()))


def draw_shelf(names: Iterable[str], *, per_row: AtLeastOne = 4, ax: Axes | None = None) -> Figure:
    """A card for each puzzle: its picture, what it is, and the name by which tickets and commands call it.

    >>> from oddswap import draw
    >>> figure = draw.draw_shelf(["cube:4", "shape-mod:prism6,slabs=4", "corner-cube"])
    """
    puzzles = [(name, load(name)) for name in names]
    cards = [Card(p, p.solved, capital(p.title.split(", turned")[0]), name) for name, p in puzzles]
    return draw_cards(cards, per_row=per_row, ax=ax)
