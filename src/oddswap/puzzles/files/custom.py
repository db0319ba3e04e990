"""``custom:FILE.toml``: a puzzle that a file describes: its moves, a graph on which a blank slides, or a solid with cuts.

Moves on slots, whose names are letters, digits, ``_`` and ``.``::

    title = "two wheels that share two beads"

    [moves]                       # each as cycles: what is in slot 1 goes to slot 2, and so on
    a = "(1 2 3 4)"
    b = "(3 4 5 6)"

    [[kind]]                      # pieces of one kind can take each other's slots, if only by hand
    name = "beads"
    slots = "1 2 3 4 5 6"

    [kind.looks]                  # optional: pieces with the same look are twins; all others are told apart
    1 = "red"
    2 = "red"

A piece with several ways round has ``twist = 3``, say, in its kind. ``A+1`` is slot A with the piece one step round, ``A``
itself the way round that counts as 0, and ``(A B+1 C)`` takes A to B and turns it on by one step, then back on the way to
C; what is left unsaid goes with it, A+1 to B+2. ``(A A+1 A+2)`` only twists. A look is then a list with one word for each
way round, ``A = ["white", "black"]``, or a single word if no way round shows. ``hands = 6`` says that hands could put a piece
of the kind in six ways, of which the moves make ``twist``; the steps in ``A+1`` are then sixths, and moves take every second.

A graph, on which the piece at the other end of an edge slides into the blank::

    [graph]
    edges = "a-b b-c c-a c-d"
    blank = "d"                   # where the blank is at home
    looks = { a = "red", b = "red" }

A solid, cut by planes: what lies beyond each cut turns, ``turns`` times to the full circle. Lengths in any one unit::

    [[facet]]                     # the solid is normal . x <= offset for all of these
    name = "A"                    # one capital letter; optional: paint = "B", the facet whose colour it has
    normal = [0, 1, 0]
    offset = 1

    [[cut]]
    name = "A"
    normal = [0, 1, 0]
    offset = 0.3
    turns = 4

For the picture, moves and graphs may have ``[places]`` with ``1 = [0.5, 2]`` (x to the right, y up, any unit) for every slot, and
``[colours]`` with ``red = "#D55E00"`` for looks. Looks that are names of colours are drawn in them.
"""

from pathlib import Path

from oddswap.errors import UnknownPuzzle, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.files.custom_moves import moves_from, sliding_from
from oddswap.puzzles.files.custom_solid import solid_from
from oddswap.puzzles.files.puzzle_file import read_file

MAKERS = {"moves": moves_from, "graph": sliding_from, "cut": solid_from}
"""What makes the puzzle of a file, by the key that only such files have."""


def custom(name: str, size: str, options: dict[str, str]) -> Puzzle:
    """The puzzle that the file at the path ``size`` describes. `BadPuzzleFile` names the line of what is wrong."""
    if not size.endswith(".toml"):
        raise UnknownPuzzle(f"{quoted(f'custom:{size}')} is not offered: give the path of a file that ends in .toml")
    file = read_file(Path(size))
    chosen = [key for key in MAKERS if key in file.data]
    if len(chosen) != 1:
        raise file.error(f"a puzzle file has one of the tables {', '.join(MAKERS)}, and this has {len(chosen)}", *chosen[-1:])
    return MAKERS[chosen[0]](file, name)
