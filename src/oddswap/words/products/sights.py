"""The sight with which a clip begins, in few words: what looks wrong, at one place or at how many, and what was not seen."""

from oddswap.puzzles.boxes.box import lowered
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.verdicts.findings import NOT_BY_TURNING
from oddswap.values.grammar import capital, number_word, singular
from oddswap.words.products.in_a_clip import CODE, TEXTS, in_short, pointing, these_places
from oddswap.words.table import Reader
from oddswap.words.to_visitors.places import FEW, all_words, family_words, seen_sentences, wrong_slots

TWICE = "Pens slip."
"""Over what to remember where no law is broken."""


def sight_words(answer: Answer) -> tuple[str, ...]:
    """The headline over the sight, and in a few words what is seen where that is little."""
    head, what = TEXTS["headlines"][answer.verdict][0], _in_few_words(answer)
    return (head, what) if what else (head,)


def sight_sentence(answer: Answer) -> str:
    """One sentence with which the sight is shown."""
    return "Can its own moves do this?" if _in_few_words(answer) in ("", MIXED) else "All the rest is home. How can that be?"


MIXED, SWAPPED = "Well mixed.", "swapped."


def _in_few_words(answer: Answer) -> str:
    """What is seen: *One edge, flipped.*"""
    puzzle, turning, first = answer.puzzle, answer.turning, answer.diagnosis.first
    if first and turning.leaves_outline and puzzle.steady:
        first = lowered(puzzle, turning, first)
    if first is None or len(first.pieces) != len(puzzle.slots) or answer.appearance.uncertain:
        return ""
    out = [slot for slot in sorted(first.displaced()) if first.pieces[slot] not in puzzle.void]
    if not out:
        return ""
    kinds = {puzzle.kind_of[slot] for slot in out}
    families = {family_words(puzzle, kind.family) for kind in kinds}
    if len(out) > FEW:
        return MIXED
    words = families.pop() if len(families) == 1 else "pieces"
    one = f"{capital(number_word(len(out)))} {words if len(out) > 1 else singular(words)}"
    if all(first.pieces[slot] == slot for slot in out):
        twist = {kind.twist for kind in kinds}
        return f"{one}, {'flipped' if twist == {2} else 'twisted' if twist == {3} else 'turned'}."
    return f"{one}, {SWAPPED if len(out) == 2 else 'out of place.'}"


def seen_in_short(answer: Answer, reader: Reader) -> list[list[str]]:
    """What looks wrong on the puzzle, in short sentences, and what was not seen; where several places do, how many."""
    puzzle, wrong = answer.puzzle, wrong_places(answer)
    if len(wrong) == 2 and _in_few_words(answer).endswith(SWAPPED):
        return [[f"{capital(these_places(puzzle, tuple(wrong), reader))} are swapped."]]
    told = seen_sentences(puzzle, answer.appearance, reader)
    if not wrong:
        return [in_short(*told)]
    grey = [in_short(told[-1])[-1:]] if answer.appearance.uncertain else []
    families = {family_words(puzzle, puzzle.kind_of[puzzle.slot(slot)].family) for slot in wrong}
    family = families.pop() if len(families) == 1 else "places"
    if len(wrong) > 1:
        what = family if len(wrong) <= FEW else f"of {all_words(puzzle)}"
        return [[f"{capital(number_word(len(wrong)))} {what} do not look right."], *grey]
    said = in_short(pointing(puzzle, told[0], wrong[0], reader))
    if CODE.search(" ".join(said)):
        gap = puzzle.slot(wrong[0]) == puzzle.blank
        said = [f"A {singular(family)} sits where the gap belongs." if gap else f"Another {singular(family)} sits here."]
    return [said, *grey]


def wrong_places(answer: Answer) -> list[str]:
    """The slots that look wrong."""
    return [answer.puzzle.slots[slot] for slot in wrong_slots(answer.puzzle, answer.appearance)]


def is_strange(answer: Answer) -> bool:
    """Whether what is seen cannot be, though it breaks no law."""
    return answer.verdict == NOT_BY_TURNING and not answer.diagnosis.broken


def lesson_words(answer: Answer) -> str:
    """The headline over what to remember."""
    return TWICE if is_strange(answer) else TEXTS["headlines"][answer.verdict][1]
