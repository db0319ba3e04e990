"""From a puzzle's name to the puzzle: ``family:size,option=value``.

===========================================  =======================================================================
``cube:2`` … ``cube:25``                     the cube cut into so many slabs each way
``cube:3,centres=marked``                    with marks that tell every centre piece and its turn
``cube:3,centres=none``                      without visible centres
``cuboid:3x4x5``                             the box of width L–R, height D–U, depth B–F, each side 1 to 7
``shape-mod:cube,axis=U,degrees=45``         the three-slab mechanism inside a cube turned against its cuts
``shape-mod:prism8``                         the three-slab mechanism inside a regular prism (3 to 12 sides)
``shape-mod:box2x2x3``                       the three-slab mechanism inside a box with such sides, at most as 1 to 3
``shape-mod:solid.toml``                     the three-slab mechanism inside half-spaces read from a file
``shape-mod:prism8,slabs=4``                 the two-, four- or five-slab mechanism inside any of these
``shape-mod:prism6,mechanism=corner-cube``   that of the corner-turning cube
``tetrahedron`` ``tetrahedron,tips=no``      the face-turning tetrahedron
``octahedron`` ``dodecahedron``              face-turning
``corner-cube``                              the cube of which half turns about a corner
``loop:20,window=4``                         beads on a loop, and a window that turns those in it end over end
``rings:7+7,cross=2`` ``rings:8+8+8``        two or three rings of beads that cross; ``beads=6+6``: equally coloured ones
``tiles:4x4`` ``tiles:3x3,letters=…``        sliding tiles; equal letters are twins; ``blank=r1c1``: its home
``wedges:12,middle=halves``                  two layers of wedges that lock: see `oddswap.puzzles.shaped.wedges` for options
``graph:2+1+2``                              a blank on two junctions joined by paths with so many nodes between
``custom:FILE.toml``                         moves in cycle notation, or a graph, from a file: see `oddswap.puzzles.files.custom`
===========================================  =======================================================================

Options of a shape mod: ``axis`` (U, UR, URF …) with ``degrees``; ``cut`` (where the outer planes lie, a fraction of the half-edge
or inradius; ``cut=0.6/0.2`` on five slabs, the outermost first); ``shift=x/y/z`` (half-edges; then the solid has one colour and
every piece its own shape); ``paint=FR+FL/U+D`` (facets joined by + share a colour). Where only measuring tells pieces apart,
``measured=alike`` or ``measured=apart`` says what it showed. Boxes and shape mods take ``turns=half``, ``turns=box`` (all turns
that keep the outline, the default) or a list such as ``turns=R2+U+F`` of what this copy makes. A cuboid with two different sides
of one parity also takes ``turns=all``, and its list may name turns that leave the outline: see `oddswap.puzzles.boxes.box`.

``joined=UF-UFR/DB-DBL`` joins pieces of any solid, and layers that they join turn together: see `oddswap.puzzles.shaped.joined`.

A copy may make fewer turns: see `with_turns`.
"""

import copyreg
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.forwards import fetched
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.puzzle_names import FAMILIES, checked_name, nearest
from oddswap.puzzles.solids.looks import as_measured
from oddswap.values.text_file import unseen, unseen_reason

why_not = fetched("puzzles.boxes.outlines:why_not")


def with_turns(puzzle: Puzzle, wanted: str) -> Puzzle:
    """The puzzle with ``half`` turns only, with all that it has (``box``, ``all``), or with those of a list joined by +.

    A turn on the list brings what repeating it gives: R brings R2 and R'. Kinds and looks stay those of the widest set.
    Turns are named as the puzzle is held when it looks solved; where nothing fixes that, a position is tried in every holding.

    >>> from oddswap.puzzles.catalogue import load
    >>> list(load("cube:3,turns=R2+U").turns)
    ['U', 'U2', "U'", 'R2']
    """
    if wanted in ("box", "all"):
        return puzzle
    if wanted == "half":
        kept = {name: turn for name, turn in puzzle.turns.items() if 2 * abs(turn.step.amount) == turn.step.order}
        title = f"{puzzle.title}, half turns only"
    else:
        kept = _listed(puzzle, wanted.split("+"))
        title = f"{puzzle.title}, turns {wanted.replace('+', ' ')} only"
    if not kept:
        raise BadOption(f"turns={wanted} leaves nothing to turn: write half, box, all or a list such as R2+U")
    return replace(puzzle, title=title, turns=MappingProxyType(kept), chosen=len(kept) < len(puzzle.turns))


def _listed(puzzle: Puzzle, names: list[str]) -> dict[str, Turn]:
    kept = set()
    for name in names:
        if name not in puzzle.turns:
            reason = why_not(name, puzzle.alphabet.layers)
            near = nearest(name, ("half", "box", "all", *puzzle.turns))
            right = f"{reason}; " if reason else f"write {near}; " if near else ""
            raise BadOption(f"{quoted(name)} is no turn of {puzzle.title}: {right}its turns are {' '.join(puzzle.turns)}")
        step = puzzle.turns[name].step
        multiples = (step.amount * k % step.order for k in range(1, step.order))
        kept |= {str(step.turned(amount)) for amount in multiples if amount}
    return {name: turn for name, turn in puzzle.turns.items() if name in kept}


contents_of = fetched("puzzles.files.puzzle_file:contents_of")
joined = fetched("puzzles.shaped.joined:joined")

_KEPT: dict[str, tuple[Puzzle, Callable[[str, dict], Puzzle], dict]] = {}
"""The puzzles that come from no name, by their own, each with what made it of what was told."""


def load(name: str) -> Puzzle:
    """The puzzle of that name: the same each time, until the file that describes it says something else.

    >>> load("cube:3").kinds[0].slots[:3]
    ('UFL', 'UFR', 'UBL')
    """
    if not isinstance(name, str):
        raise UnknownPuzzle(f"a puzzle is called by a text such as cube:3, not {quoted(name)}")
    if name in _KEPT:
        return _KEPT[name][0]
    if character := unseen(name):
        raise UnknownPuzzle(unseen_reason(name, character))
    path = name.partition(",")[0].partition(":")[2].strip()
    return _load(name, contents_of(Path(path)) if path.endswith(".toml") else None)


@lru_cache(maxsize=1024)
def _load(name: str, contents: bytes | None) -> Puzzle:
    family, size, options = checked_name(name)
    turns = options.get("turns", "box")
    measured, joints = (options.pop(option, None) for option in ("measured", "joined"))
    puzzle = with_turns(FAMILIES[family].make(name, size, options), turns)
    if measured is not None:
        puzzle = _measured(puzzle, measured)
    if joints is not None:
        puzzle = joined(puzzle, joints)
    copyreg.pickle(type(puzzle), _by_name)
    return puzzle


def _measured(puzzle: Puzzle, showed: str) -> Puzzle:
    if showed not in ("alike", "apart"):
        raise BadOption(f"{quoted(f'measured={showed}')} is no result: write measured=alike or measured=apart")
    if not puzzle.nearly:
        raise BadOption(f"every eye tells the pieces of {puzzle.title} apart, or none does: leave measured out of the name")
    return as_measured(puzzle, showed == "alike")


def keep(name: str, make: Callable[[str, dict], Puzzle], told: dict) -> Puzzle:
    """The puzzle that ``make`` makes of what is told, for `load` to find by its name; the same one while that is equal."""
    if name not in _KEPT or _KEPT[name][2] != told:
        _KEPT[name] = make(name, told), make, told
        copyreg.pickle(type(_KEPT[name][0]), _by_name)
    return _KEPT[name][0]


def _by_name(puzzle: Puzzle) -> tuple[Callable[..., Puzzle], tuple]:
    """How a puzzle is pickled: by its name, or what it is made of. `TypeError` for one that was changed since."""
    kept, *made_of = _KEPT.get(puzzle.name, (None,))
    if kept is puzzle:
        return keep, (puzzle.name, *made_of)
    if load(puzzle.name) is not puzzle:
        raise TypeError(f"{puzzle.name} was changed by hand and cannot be pickled: pickle what it was made from")
    return load, (puzzle.name,)


def with_all_turns(puzzle: Puzzle) -> Puzzle | None:
    """The same puzzle with every turn, that keeps its outline if it does; ``None`` where it has them already.

    >>> with_all_turns(load("cube:3,turns=half"))
    load('cube:3')
    """
    name = without_turns(puzzle) + (",turns=all" if puzzle.leaves_outline else "")
    return None if name == puzzle.name else load(name)


def with_turns_out_of_the_box(puzzle: Puzzle) -> Puzzle | None:
    """The same cuboid with every turn that closes; ``None`` where these keep the outline, or are too many cells to follow.

    >>> with_turns_out_of_the_box(load("cuboid:2x2x4"))
    load('cuboid:2x2x4,turns=all')
    """
    if not puzzle.name.strip().startswith("cuboid:"):
        return None
    try:
        wide = load(f"{without_turns(puzzle)},turns=all")
    except UnknownPuzzle:
        return None
    return wide if wide.leaves_outline else None


def kept_in_the_box(box: Puzzle) -> Puzzle | None:
    """The same cuboid with those of its turns that keep the outline; ``None`` where it has none of these.

    >>> kept_in_the_box(load("cuboid:2x3x4,turns=U+U2+2F2+RR2"))
    load('cuboid:2x3x4,turns=U2+2F2')
    """
    whole = load(without_turns(box))
    names = [name for name in whole.turns if name in box.turns]
    if len(names) == len(whole.turns):
        return whole
    return load(f"{whole.name},turns={'+'.join(names)}") if names else None


def without_turns(puzzle: Puzzle) -> str:
    """The name of a puzzle as if its copy made all turns that it is made for."""
    head, *pairs = puzzle.name.split(",")
    return ",".join([head, *(pair for pair in pairs if not pair.strip().startswith("turns="))])


def restricted(puzzle: Puzzle, turns: str) -> Puzzle:
    """The same puzzle with other turns: half, box, all, or a list joined by +; `BadOption` if that changes which slots it has."""
    if not turns.strip() or set(turns) & set(",="):
        raise BadOption(f"{quoted(turns)} names no turns: write half, box, all or a list such as R2+U")
    other = load(f"{without_turns(puzzle)},turns={turns}")
    if other.leaves_outline != puzzle.leaves_outline:
        raise BadOption(f"either {quoted(turns)} or the ticket's own turns leave the outline: let both do so, or neither")
    return other
