"""What a shape decides alone, before the laws do: that it is not seen, that no turning gives it, or neither."""

from oddswap.errors import BadTicket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import FAR, Shaped
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, Diagnosis, TurnsAsked
from oddswap.values.position import Appearance

AGAIN = {"outline": "tell again which pieces stick out, and where", "shape": "look again where each of its parts lies"}
"""What to do, by the word for the shape."""


class SlotUnsure(Finding):
    """A slot of the puzzle may show so many ``looks``, of filled cells and of empty ones, so that its outline is not known."""

    puzzle: str
    slot: str
    looks: int


class ShapeUnsure(Finding):
    """What is seen in these slots leaves open which ``shape`` the puzzle has."""

    puzzle: str
    slots: tuple[str, ...]


class TooFarOut(Finding):
    """No way from this outline to that of the closed box was found, which proves nothing."""


class TooFarAway(Finding):
    """No way from this shape to that at home was found, which proves nothing."""


class EverySideAsked(Finding):
    """What to ask for: photographs of every side of the box as it stands."""


class AllRoundAsked(Finding):
    """What to ask for: photographs of every side of the puzzle as it stands."""


def judged_by_shape(
    puzzle: Shaped | Puzzle, appearance: Appearance, assumed: tuple[Finding, ...], clock: Clock
) -> Diagnosis | None:
    """*Cannot tell yet* where the shape is not known, or no way home from it is; else ``None``, as the laws decide.

    `BadTicket` for a shape that no turning gives; of a copy that makes few turns, others may.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> judged_by_shape(box, box.appearance(box.follow("U 2F2")), (), Budget().start())
    """
    box, again = puzzle.leaves_outline, AGAIN[puzzle.shape_word]
    if slots := puzzle.unsure(appearance):
        names = tuple(puzzle.slots[slot] for slot in slots)
        unsure = SlotUnsure(puzzle.name, names[0], len(appearance.sights[slots[0]])) if box else ShapeUnsure(puzzle.name, names)
        return Diagnosis(CANNOT_TELL, assumed, asked=(EverySideAsked() if box else AllRoundAsked(),), findings=(unsure,))
    if reason := puzzle.torn(appearance):
        raise BadTicket(f"{reason}: {again}")
    held = [
        whole[image] for image in puzzle.standing(appearance) for _, whole in holdings(puzzle)[: None if puzzle.chosen else 1]
    ]
    sizes = (STAGES[1], FAR) if clock.compiles else STAGES[1:2]
    if any(puzzle.homeward(image, most) is not None for most in sizes for image in held):
        return None
    if not all(map(puzzle.never_home, held)):
        return Diagnosis(CANNOT_TELL, assumed, asked=(TurnsAsked(),), findings=(TooFarOut() if box else TooFarAway(),))
    if puzzle.chosen and held:
        return None
    known = around_home(puzzle, STAGES[1])
    several = f", of the {len(known)} that {puzzle.name} has" if known.whole else ""
    raise BadTicket(f"no turning gives the {puzzle.shape_word} that is described{several}: {again}")
