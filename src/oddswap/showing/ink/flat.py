"""Puzzles without a solid, drawn flat: loops, rings, sliding tiles, graphs and those that a file describes."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.figure import Figure

from oddswap.errors import BadOption, UnknownColour, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import FlatLayout, Token, circle, on_circle
from oddswap.showing.ink import palette
from oddswap.showing.ink.arrows import FLAT_THICK, flat_paths, ribbon
from oddswap.showing.ink.canvas import INCHES, lay_polygons, sheet, write
from oddswap.showing.ink.cards import KEY_LINE, colour_key_lines, draw_colour_key, draw_hatch_key, meanings_of
from oddswap.showing.ink.outline import stripes
from oddswap.showing.ink.painting import FADED, HATCHES, Inks, Spot, hatched_pieces, slot_numbers
from oddswap.showing.ink.palette import BODY, mix
from oddswap.values.position import Appearance, Arrangement

STEP, WIDEST = 0.5, 6.5
"""The step from slot to slot on the sheet, unless the whole would then be wider than this."""
MARGIN, RIM = 0.85, 0.1
"""What is left free round the outermost slots, and the room for rims and shadows round what is drawn, in steps."""
FIRST = ("sky blue", "orange", "bluish green", "yellow", "reddish purple", "blue", "vermillion")
GROOVE = mix(palette.TABLE, BODY, 0.2)
HOLE = mix(palette.BACKDROP, BODY, 0.22)
KEY_WIDTH = 4.4
LONGEST = 6
"""How many letters of a word stand on a piece."""
UNSEEN, FOREIGN = Token("?", "not known"), Token("!", "not known")


def draw_flat(
    puzzle: Puzzle,
    shown: Arrangement | Appearance,
    *,
    colours: Mapping[str, str] | None = None,
    letters: bool = False,
    xray: bool | Iterable[str | int] = False,
    highlight: Iterable[str | int] = (),
    caption: bool = True,
    ax: Axes | None = None,
) -> Figure:
    """A puzzle with a flat layout, seen from above, in lesson colours or, with a key, in the visitor's own by paint.

    What stands on the pieces is always written. ``letters`` also names the colours of pieces that bear nothing else; where
    there are more of them than the palette has, that is always done.
    ``xray`` hatches the pieces that have lookalikes: all of them, or those at home in the slots given (names or numbers).
    The pieces that sit in the slots of ``highlight`` are outlined. Without a ``caption`` there is no key to colours. What is not
    known bears a question mark, and what no piece of the puzzle can show an exclamation mark. `BadOption` for a puzzle that is a
    solid.

    >>> from oddswap import draw
    >>> figure = draw.draw_flat("rings:4+4", "a b", letters=True)
    """
    layout = layout_of(puzzle)
    inks = Inks(
        colours=token_colours(layout, colours),
        hatched=hatched_pieces(puzzle, xray),
        highlight=frozenset(slot_numbers(puzzle, highlight)),
        letters=letters,
    )
    spot, width, height = placed(layout)
    lessons = token_colours(layout)
    colour_lines, hatch_lines = colour_key_lines(lessons) if colours and caption else 0, len(meanings_of(inks.hatched))
    key = KEY_LINE * (colour_lines + hatch_lines + 0.5) if colour_lines or hatch_lines else 0.0
    breadth = max(width, KEY_WIDTH if key else 0.0)
    ax = sheet(breadth, height + key, ax)
    lay_flat(ax, puzzle, shown, inks, Spot(spot.x + (breadth - width) / 2, spot.y + key, spot.scale))
    if colour_lines:
        draw_colour_key(ax, inks.colours, lessons, breadth / 2, KEY_LINE * (1 + hatch_lines))
    if inks.hatched:
        draw_hatch_key(ax, inks.hatched, breadth / 2, KEY_LINE)
    return ax.figure


def layout_of(puzzle: Puzzle) -> FlatLayout:
    """The layout of a flat puzzle; `BadOption` for a solid."""
    if puzzle.flat is None:
        raise BadOption(f"{puzzle.name} is a solid and has no flat layout: draw its prints")
    return puzzle.flat


def placed(layout: FlatLayout) -> tuple[Spot, float, float]:
    """Where `draw_flat` puts a layout when there is no key, so that ``spot.place(layout.positions)`` are the slots.

    With it the width and the height of the sheet.
    """
    middle, half = middle_and_half(layout)
    scale = min(STEP, WIDEST / max(2 * half))
    return Spot(*(scale * (half - middle)), scale), *(2 * scale * half)


def middle_and_half(layout: FlatLayout) -> tuple[np.ndarray, np.ndarray]:
    """The middle of a layout, and half the breadth and height that it takes with what is left free round it (2,), in steps."""
    everything = np.concatenate([layout.positions, *layout.plates, *layout.grooves])
    low, high = everything.min(axis=0), everything.max(axis=0)
    return (low + high) / 2, (high - low) / 2 + MARGIN


def spot_within(puzzle: Puzzle, box: tuple[float, float, float, float]) -> Spot:
    """Where a puzzle without a solid fills a ``box`` (x, y, width, height) with its pieces and the arrows of its turns."""
    low, high = _reach(puzzle)
    corner, room = np.reshape(box, (2, 2))
    scale = float((room / (high - low)).min())
    return Spot(*(corner + room / 2 - scale * (low + high) / 2), scale)


@lru_cache(maxsize=64)
def _reach(puzzle: Puzzle) -> tuple[np.ndarray, np.ndarray]:
    """The lower left and the upper right corner of all that is drawn of a puzzle; what slides into a blank needs no room."""
    layout, turns = puzzle.flat, puzzle.turns.values() if puzzle.blank is None else ()
    pieces = (layout.positions[:, None] + layout.outline).reshape(-1, 2)
    arrows = [ribbon(path, FLAT_THICK) for turn in turns for path in flat_paths(puzzle, puzzle.solved, (turn,))]
    everything = np.concatenate([pieces, *layout.plates, *layout.grooves, *arrows])
    return everything.min(axis=0) - RIM, everything.max(axis=0) + RIM


def lay_flat(ax: Axes, puzzle: Puzzle, shown: Arrangement | Appearance, inks: Inks, spot: Spot) -> None:
    """Lay a puzzle with a flat layout on a sheet, where ``spot.place(layout.positions)`` are its slots."""
    layout = puzzle.flat
    draw_ground(ax, layout, spot)
    wordless = {token.paint for token in layout.tokens if token is not None and token.text == token.paint}
    bare = len({inks.colours[paint] for paint in wordless}) < len(wordless)  # colours alone do not tell these apart
    for slot, (token, piece) in enumerate(_showings(puzzle, shown)):
        at = Spot(*spot.place(layout.positions[slot]), spot.scale)
        edge = palette.HIGHLIGHT if slot in inks.highlight else BODY
        edge = mix(edge, palette.PAPER, FADED) if slot in inks.faded else edge
        if token is None:
            lay_shapes(ax, at, [layout.outline * 0.92], [HOLE], edge, 2.0)
        else:
            colour = inks.colours[token.paint]
            colour = mix(colour, palette.PAPER, FADED) if slot in inks.faded else colour
            word = token.text if token.text != token.paint or bare or inks.lettered(slot) else ""
            _draw_piece(ax, at, layout.outline, token.marks, word, colour, inks.hatched.get(piece, ()), edge)


def colours_by_paint(puzzle: Puzzle, own: Mapping[str, str] | None = None) -> dict[str, str]:
    """``#RRGGBB`` for every paint, the ``own`` first: by facet on a solid, else by the paint's name."""
    return palette.colours_for(puzzle, own) if puzzle.geometry is not None else token_colours(puzzle.flat, own)


def token_colours(layout: FlatLayout, own: Mapping[str, str] | None = None) -> dict[str, str]:
    """``#rrggbb`` for every paint: the ``own`` by paint, else as the layout says, or the colour of that name, or the palette's.

    `UnknownColour` for a paint that the puzzle does not have.
    """
    paints = dict.fromkeys(token.paint for token in layout.tokens if token is not None)
    chosen: dict[str, str] = {paint: palette.read_colour(text) for paint, text in (own or {}).items()}
    for paint in chosen:
        if paint not in paints:
            raise UnknownColour(f"the puzzle has no {quoted(paint)} to colour: its colours are for {', '.join(paints)}")
    for paint in paints:
        try:
            chosen.setdefault(paint, layout.colours.get(paint) or palette.read_colour(paint))
        except UnknownColour:
            continue
    offered = [*(palette.PALETTE[name] for name in FIRST), *(colour for some in palette.FURTHER for colour in some)]
    used = chosen.values()
    free = [c for c in dict.fromkeys(offered) if all(palette.difference(c, one) >= palette.CLOSE for one in used)] or offered
    rest = [paint for paint in paints if paint not in chosen]
    chosen |= {paint: free[i % len(free)] for i, paint in enumerate(rest)}
    return {**{paint: chosen[paint] for paint in paints}, UNSEEN.paint: palette.UNKNOWN}


def _showings(puzzle: Puzzle, shown: Arrangement | Appearance) -> list[tuple[Token | None, int | None]]:
    """For each slot its token, ``None`` for the blank, and the piece that is there or that looks the same."""
    tokens = puzzle.flat.tokens
    if isinstance(shown, Arrangement):
        labels = puzzle.base_label[list(shown.pieces)] + shown.twists
        return [(tokens[label], piece) for label, piece in zip(labels, shown.pieces, strict=True)]
    found = []
    for kind, sight in zip(puzzle.kind_of, shown.sights, strict=True):
        labels = [label for label in kind.labels if int(puzzle.looks[label]) in sight]
        paints = {tokens[label].paint if tokens[label] else None for label in labels}
        if len(sight) == 1 and labels:
            found.append((tokens[labels[0]], kind.start + (labels[0] - kind.first) // kind.twist))
        elif len(paints) == 1 and None not in paints:
            found.append((Token("?", paints.pop()), None))
        else:
            found.append((UNSEEN if labels else FOREIGN, None))
    return found


def draw_ground(ax: Axes, layout: FlatLayout, spot: Spot) -> None:
    """What lies beneath the pieces: plates and grooves."""
    plates = [spot.place(plate) for plate in layout.plates]
    lay_polygons(ax, plates, facecolors=palette.BACKDROP, edgecolors=BODY, linewidths=1.0, zorder=1)
    grooves = [spot.place(groove) for groove in layout.grooves]
    breadth = 72 * INCHES * spot.scale * 0.16
    ax.add_collection(
        LineCollection(grooves, colors=GROOVE, linewidths=breadth, capstyle="round", joinstyle="round", zorder=1.5), autolim=False
    )


def _draw_piece(
    ax: Axes,
    at: Spot,
    outline: np.ndarray,
    marks: tuple[float, ...],
    word: str,
    colour: str,
    hatching: tuple[str, ...],
    edge: str,
) -> None:
    """One piece: its shadow, its colour, its hatching, its marks and its word."""
    ink = palette.ink_on(colour)
    lay_shapes(ax, Spot(at.x + 0.04 * at.scale, at.y - 0.07 * at.scale, at.scale), [outline], [palette.BLACK + "26"], "none", 2.5)
    lay_shapes(ax, at, [outline], [colour], edge, 3.0)
    anticlockwise = np.column_stack([outline, np.zeros(len(outline))])[::-1]
    lines = [stripe[:, :2] for key in hatching for stripe in stripes(anticlockwise, HATCHES[key])]
    lay_shapes(ax, at, lines, [ink] * len(lines), "none", 3.1)
    if hatching and word:
        lay_shapes(ax, at, [circle(0.26)], [colour], "none", 3.2)
    wedges = [on_circle([mark, mark - 0.06, mark + 0.06], 0.4) * [[1.0], [0.7], [0.7]] for mark in marks]
    lay_shapes(ax, at, wedges, [ink] * len(wedges), "none", 3.3)
    if word:
        short = word if len(word) <= LONGEST else word[: LONGEST - 1] + "…"
        size = 72 * INCHES * at.scale * min(0.42, 0.95 / len(short)) * (0.7 if marks else 1.0)
        write(ax, at.x, at.y, short, size=size, color=ink, zorder=3.4)


def lay_shapes(ax: Axes, at: Spot, polygons: list[np.ndarray], faces: list[str], edge: str, zorder: float) -> None:
    """Lay polygons (k, 2), in steps from ``at``, with a ``face`` each and the same ``edge``."""
    width = 72 * INCHES * at.scale * (0.075 if edge == palette.HIGHLIGHT else 0.03)
    outlines = [at.place(polygon) for polygon in polygons]
    lay_polygons(ax, outlines, facecolors=faces, edgecolors=edge, linewidths=width, zorder=zorder, joinstyle="round")
