"""What the outline of a box decides alone, before its laws do: that it is not seen, that no turning gives it, or neither."""

from oddswap.errors import BadTicket
from oddswap.puzzles.base.shapes import STAGES, around_home
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, Diagnosis, TurnsAsked
from oddswap.values.appearance import Appearance

AGAIN = "tell again which pieces stick out, and where"


class SlotUnsure(Finding):
    """A slot of the puzzle may show so many ``looks``, of filled cells and of empty ones, so that its outline is not known."""

    puzzle: str
    slot: str
    looks: int


class TooFarOut(Finding):
    """No way from this outline to that of the closed box was found, which proves nothing."""


class EverySideAsked(Finding):
    """What to ask for: photographs of every side of the box as it stands."""


def judged_by_outline(box: BoxPuzzle, appearance: Appearance, assumed: tuple[Finding, ...]) -> Diagnosis | None:
    """*Cannot tell yet* where the outline is not known, or no way home from it is; else ``None``, as the laws decide.

    `BadTicket` for an outline that no turning gives; of a copy that makes few turns, others may.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> judged_by_outline(box, box.appearance(box.follow("U 2F2")), ())
    """
    for slot in box.unsure(appearance):
        unsure = SlotUnsure(box.name, box.slots[slot], len(appearance.sights[slot]))
        return Diagnosis(CANNOT_TELL, assumed, asked=(EverySideAsked(),), findings=(unsure,))
    if not box.hangs_together(box.outline_seen(appearance)):
        raise BadTicket(f"the cells that the ticket tells do not touch by whole faces: {AGAIN}")
    held = [whole[image] for image in box.standing(appearance) for _, whole in holdings(box)[: None if box.chosen else 1]]
    if any(box.homeward(image) is not None for image in held):
        return None
    if not all(map(box.never_home, held)):
        return Diagnosis(CANNOT_TELL, assumed, asked=(TurnsAsked(),), findings=(TooFarOut(),))
    if box.chosen and held:
        return None
    known = around_home(box, STAGES[-1])
    several = f", of the {len(known)} that {box.name} has" if known.whole else ""
    raise BadTicket(f"no turning gives the outline that the ticket tells{several}: {AGAIN}")
