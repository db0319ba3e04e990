"""Boxes that leave their outline. *A box again* is not *the same box again*: the shape is, and what is in it need not be.

The eight corners of a box, black and white like the squares of a chessboard, are two fours. Half a turn takes a corner
diagonally across a face, so from black to black or from white to white; and where it takes four corners along, it swaps two
black ones and two white ones. So the two fours are always rearranged both evenly or both oddly.

In and out: a box leaves its outline and comes back, and the pieces that have ended elsewhere are inked. Walks from shape to
shape: turn by turn with buttons, and what the law of the closed box says where the shape is home again. A turn that the shape
does not allow has a button that cannot be pressed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import ipywidgets as widgets
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OddswapError
from oddswap.lessons.machinery.exercises import slot_names, written, written_number
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.puzzles.boxes.box import BoxPuzzle, lifted, lowered
from oddswap.puzzles.catalogue import kept_in_the_box, load, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.arrows import draw_arrows
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.cards import Card, PaperCard, draw_cards
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT
from oddswap.showing.ink.widgets import Note, Sheet, kindly, png, undisturbed
from oddswap.showing.pictures.shape_maps import LONGEST, Told, draw_walk
from oddswap.showing.pictures.strip import states_along
from oddswap.values.grammar import counted
from oddswap.values.numbers import AtLeastOne
from oddswap.values.permutation import sign
from oddswap.values.position import Arrangement

BLACK_CORNERS, WHITE_CORNERS = ("UFL", "UBR", "DFR", "DBL"), ("UFR", "UBL", "DFL", "DBR")


def signs_of_fours(puzzle: Puzzle, state: Arrangement) -> tuple[str, str] | None:
    """``even`` or ``odd`` for the black corners and for the white; ``None`` where they are not all among their own.

    >>> from oddswap import load
    >>> box = load("cuboid:2x3x4")
    >>> signs_of_fours(box, box.follow("U2")), signs_of_fours(box, box.follow("U2 L2"))
    (('odd', 'odd'), ('even', 'even'))
    """
    slots = [[puzzle.slot(name) for name in four] for four in (BLACK_CORNERS, WHITE_CORNERS)]
    if any({state.pieces[slot] for slot in four} != set(four) for four in slots):
        return None
    black, white = (sign([four.index(state.pieces[slot]) for slot in four]) for four in slots)
    return "odd" if black < 0 else "even", "odd" if white < 0 else "even"


def told_fours(puzzle: Puzzle, state: Arrangement) -> str:
    """One line about the two fours, or why nothing can be said of them."""
    if puzzle.leaves_outline and not puzzle.closed(state):
        return "out of its outline"
    signs = signs_of_fours(puzzle, state)
    return "a black corner sits among the white ones" if signs is None else f"black corners {signs[0]}, white corners {signs[1]}"


def draw_fours(puzzle: Puzzle, states: Mapping[str, Arrangement], *, per_row: AtLeastOne = 3) -> Figure:
    """A card for each state, under its headline, with the black corners outlined and what is said of the two fours.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_fours("cuboid:2x3x4", {"half a turn": "U2", "two of them": "U2 L2"})
    """
    black = {puzzle.slot(name) for name in BLACK_CORNERS}
    cards = []
    for headline, state in states.items():
        outlined = frozenset(slot for slot, piece in enumerate(state.pieces) if piece in black)
        cards.append(Card(puzzle, state, headline, told_fours(puzzle, state), highlight=outlined))
    return draw_cards(cards, per_row=per_row)


CARD = PaperCard(side=2.0, pad=0.09, foot=0.54)
PER_ROW, MOST = 3, 11


def draw_in_and_out(box: BoxPuzzle, moves: str, start: Arrangement | None = None) -> Figure:
    """The box from ``start`` on (home when left out): as it is, and after each turn, with the arrow of the next.

    Pieces that have ended elsewhere are outlined on every picture. If the box is closed in the end, they are in full ink with
    letters on the last picture, and all else is pale. At most ``MOST`` turns: `BadOption`.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_in_and_out("cuboid:2x3x4,turns=all", "U 2F2 RR2 2F2 U'")
    """
    start = start or box.solved
    turns = box.settled(moves, start)[0]
    if len(turns) > MOST:
        raise BadOption(f"{len(turns)} turns are too many for one sheet: write at most {MOST}")
    states = states_along(box, start, zip(turns))
    inked = ended_elsewhere(box, states[0], states[-1])
    ax, corners = CARD.in_rows(len(states), PER_ROW, 0.16)
    for i, (state, (left, low)) in enumerate(zip(states, corners, strict=True)):
        slots = frozenset(slot for slot, piece in enumerate(state.pieces) if piece in inked)
        inks = {"highlight": slots} if len(inked) < sum(box.filled) / 2 else {}
        if i == len(turns) and inked and box.closed(state):
            inks |= {"letters": slots, "faded": frozenset(range(len(box.slots))) - slots}
        spot = CARD.picture(ax, (left, low), box, state, size=6.5, **inks)
        draw_arrows(ax, box, state, turns[i : i + 1], cameras(box)[0], spot, zorder=3)
        headline, words = _words(box, states, i, turns, inked)
        write(ax, spot.x, low + 0.38, headline, size=9.5, weight="bold", color=FAINT_INK if box.closed(state) else HIGHLIGHT)
        write(ax, spot.x, low + 0.16, words, size=8, color=FAINT_INK)
    return ax.figure


def ended_elsewhere(box: BoxPuzzle, start: Arrangement, end: Arrangement) -> frozenset[int]:
    """The coloured pieces, by the slots where they belong, that are in another slot or turned otherwise than at the start.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> [box.slots[piece] for piece in sorted(ended_elsewhere(box, box.solved, box.follow("U 2F2 RR2 2F2 U'")))]
    ['UFR', 'UBL']
    """
    pieces = zip(start.pieces, start.twists, end.pieces, end.twists, strict=True)
    moved = {after for before, way, after, other in pieces if (before, way) != (after, other)}
    return frozenset(piece for piece in moved if box.filled[piece] and not box.blank_inside[piece])


def _words(box: BoxPuzzle, states: list[Arrangement], i: int, turns: tuple[Turn, ...], inked: frozenset[int]) -> tuple[str, str]:
    """A headline for a picture and the words beneath it."""
    shut = box.closed(states[i])
    shape = ("the box" if i == 0 else "a box again" if not box.closed(states[i - 1]) else "still a box") if shut else "out"
    headline = f"after {turns[i - 1].name}: {shape}" if i else shape if shut else "out of its outline"
    if i < len(turns):
        return headline, f"next: {turns[i].name}"
    if not shut:
        return headline, _out(box, states[i])
    if not inked:
        return headline, "every piece is where it was" if turns else ""
    return headline, f"elsewhere now: {slot_names(box, inked) if len(inked) <= 4 else f'{len(inked)} pieces'}"


EXAMPLE = "turns such as: U 2F2 RR2 2F2 U'"


@kindly
def check_home(moves: str, changes: Sequence[str], name: str = "cuboid:2x3x4") -> Note:
    """Whether turns bring the box home from ``changes`` by hand, on a copy that may leave its outline.

    >>> check_home("U 2F2 RR2 2F2 U'", ["swap UFR UBL"])
    Yes: all is home again.
    """
    puzzle = load(name)
    box = with_turns_out_of_the_box(puzzle)
    asked = EXAMPLE if "2F2" in box.turns else "turns such as: U F2 U'"
    try:
        end = box.follow(written(moves, asked), lifted(puzzle, box, changed(puzzle, changes)))
    except OddswapError as error:
        return Note(f"That cannot be turned yet: {error}.")
    if not box.closed(end):
        told = f"The box is still out of its outline: {_out(box, end)}. Undo what you did, the last turn first."
        return Note(f"Not yet. {told}")
    if looks_solved(box, box.appearance(end)):
        return Note("Yes: all is home again.")
    astray = ended_elsewhere(box, box.solved, end)
    away = f"{len(astray)} pieces are" if len(astray) > 6 else f"{slot_names(box, astray)} {'is' if len(astray) == 1 else 'are'}"
    return Note(f"Not yet. It is a box again, but {away} not at home. {_law(box, end)}")


def _out(box: BoxPuzzle, state: Arrangement) -> str:
    return f"{int((box.outline(state) & ~box.filled).sum())} pieces stand out"


def _law(box: BoxPuzzle, end: Arrangement) -> str:
    if not set(BLACK_CORNERS) <= set(box.slots):
        return "Go there, act, come back: in a layer of few blocks a turn does little."
    signs = signs_of_fours(box, end)
    if signs and signs[0] != signs[1]:
        told = f"The black corners are {signs[0]} and the white ones {signs[1]}"
        return f"{told}, and no half turn of a whole layer will change that: leave the outline."
    return "Go there, act, come back: first bring the two corners to where you can swap them, and undo that at the end."


def law_at_home(box: BoxPuzzle, state: Arrangement) -> str:
    """What the laws of the turns that keep the outline say of a box that is closed again, or why they say nothing.

    >>> from oddswap import load
    >>> box = load("cuboid:1x3x3,turns=all")
    >>> [law_at_home(box, box.follow(moves)) for moves in ("U2", "B F' U2 F B'", "U")]
    ['1 flipped, corners odd: law kept', '1 flipped, corners even: law BROKEN', 'not at home: no law']
    """
    closed = kept_in_the_box(box)
    seen = lowered(closed, box, state)
    if seen is None:
        return "as no half turn leaves it: no law" if box.closed(state) else "not at home: no law"
    corners = [slot for slot in seen.pieces if closed.kind_of[slot].family == "corners"]
    first = min(corners)
    order = "even" if sign([piece - first for piece in corners]) > 0 else "odd"
    laws = law_book(closed)
    verdict = ("law BROKEN" if laws.broken(seen) else "law kept") if laws.laws else "no law"
    return f"{sum(seen.twists)} flipped, corners {order}: {verdict}"


class Walk(Sheet):
    """A button for each turn; the last turns of the walk beneath, with what ``told`` says wherever it comes home."""

    def __init__(self, puzzle: Shaped, told: Told | None):
        self.puzzle, self.told, self.path = puzzle, told, ()
        self.buttons = {name: widgets.Button(description=name, layout={"width": "62px"}) for name in puzzle.turns}
        self.back, self.again = (widgets.Button(description=words) for words in ("One turn back", "Home, start again"))
        for name, button in self.buttons.items():
            button.on_click(lambda _, name=name: self._walked((*self.path, name)))
        self.back.on_click(lambda _: self._walked(self.path[:-1]))
        self.again.on_click(lambda _: self._walked(()))
        fitting = {"max_width": "100%", "object_fit": "contain", "align_self": "flex-start"}
        self._picture = widgets.Image(format="png", layout=fitting)
        self._words = widgets.HTML()
        turns = widgets.Box([*self.buttons.values()], layout={"flex_flow": "row wrap", "max_width": "620px"})
        super().__init__([turns, widgets.HBox([self.back, self.again]), self._picture, self._words])
        self._walked(())

    @undisturbed()
    def _walked(self, path: tuple[str, ...]) -> None:
        self.path = path
        allowed = {turn.name for turn in self.puzzle.legal(self.state)}
        for name, button in self.buttons.items():
            button.disabled = name not in allowed
        before = self.puzzle.follow(" ".join(path[:-LONGEST]))
        figure = draw_walk(self.puzzle, " ".join(path[-LONGEST:]), before, told=self.told)
        self._picture.value, self._picture.layout.width = png(figure, 110), f"{85 * figure.get_figwidth():.0f}px"
        self._words.value = Note(self.words)._repr_html_()

    @property
    def state(self) -> Arrangement:
        return self.puzzle.follow(" ".join(self.path))

    @property
    def words(self) -> str:
        """The turns so far, how many can be made now, and what is said of the arrangement."""
        way, possible = " ".join(self.path) or "no turn yet", counted(len(self.puzzle.legal(self.state)), "turns")
        return f"{way}. {possible} can be made here" + (f". {self.told(self.puzzle, self.state)}" if self.told else "")

    def __repr__(self) -> str:
        return self.words


def walk(puzzle: Shaped, told: Told | None = None) -> Walk:
    """A walk from home to take by clicking on turns; ``told`` says something of the puzzle and its arrangement.

    >>> from oddswap import lessons
    >>> lessons.walk("cuboid:1x3x3,turns=all", lessons.law_at_home)
    no turn yet. 12 turns can be made here. 0 flipped, corners even: law kept
    """
    return Walk(puzzle, told)


@kindly
def check_shapes(answer: object, name: str) -> Note:
    """Whether somebody counted the shapes that the turns of a puzzle lead to.

    >>> check_shapes("4", "cuboid:1x2x5,turns=all")
    Yes: 4 shapes, of which 2 are one turn from home.
    """
    given, shapes = written_number(answer, "70."), around_home(load(name), STAGES[0])
    if given == len(shapes):
        return Note(f"Yes: {len(shapes)} shapes, of which {shapes.levels[1]} are one turn from home.")
    hint = "Is one missing that needs two turns?" if given < len(shapes) else "Is one there twice, in other colours?"
    return Note(f"Not yet. Make every turn from every shape until nothing new comes, home included. {hint}")
