"""What stands on a worksheet and on its key: the questions, the proofs, how positions were made, and hints for scissors."""

import re
from collections.abc import Iterable, Iterator, Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.findings import ORDINARY, Culprit, Diagnosis
from oddswap.values.grammar import capital, listed, number_word
from oddswap.values.position import START
from oddswap.words.alarms import law_statements
from oddswap.words.table import name_of, say
from oddswap.words.texts import TEXTS, texts_of
from oddswap.words.to_visitors.places import place_words

SAYS = texts_of("worksheets")
QUESTIONS = TEXTS["questions"]
"""What is asked, by the sort of the question."""
SHORT = TEXTS["questions in short"]
"""The sorts of question in a table."""
LOOP_CARD = tuple(TEXTS["loop card"])
"""What stands on the card that goes with a map of shapes."""


def asked_words(question) -> str:
    """What a question asks, for a table, and whether a copy can be set up for it."""
    return f"{SHORT[question.sort]} {'Paper' if question.changes else 'Strip'}"


def card_words(sheet: int, number: int, ways: int) -> str:
    """A task for the fast, on a question of ways home."""
    return f"Fast, sheet {sheet}, question {number}: one of the {ways} ways leads home. Where does each other way first go wrong?"


def hero_words(title: str, found: Diagnosis) -> str:
    """What the opening position is, for whoever leads the evening."""
    looks = "impossible" if found.culprits else "odd"
    return f"It is the {title}. {possible_proof(found)} So it looks {looks}, and turning made it."


def tables_words(tables: Sequence[int]) -> str:
    """Which tables something is for."""
    return f"table{'s' * (len(tables) > 1)} {listed(map(str, tables))}" if tables else "in reserve"


def counted_words(families: Iterable[tuple[str, int]]) -> tuple[str, ...]:
    """What is counted on a sheet: the pieces of each family that are turned, by how many ways round they have, and the rest."""
    turned = (f"{family} {'flipped' if twist == 2 else 'twisted'}" for family, twist in families)
    return (*turned, "pieces elsewhere")


def names_explained(puzzle: Puzzle, question) -> Iterator[str]:
    """What *evenly* means in the laws to choose from, and the names of places in them or among the pieces to choose from."""
    chosen = " ".join(question.choices) if question.sort in ("law", "culprit") else ""
    if any(law.type in ("sign", "mixed") and law.statement in chosen for law in puzzle.laws.laws):
        yield SAYS.evenly
    slots = [name for name in dict.fromkeys(re.findall(r"\b[A-Z]+(?:\.[a-z]\d+)*\b", chosen)) if name in puzzle.slots]
    if slots and puzzle.alphabet.is_box:
        shown = slots if question.sort == "culprit" else [max(slots, key=len)]
        yield f"{listed([f'{slot} is {place_words(puzzle, slot, START)}' for slot in shown])}."
    elif slots:
        yield SAYS.named


def possible_proof(found: Diagnosis) -> str:
    """Why a position can come by turning, cannot, or can only with lookalikes that are not what they seem."""
    if found.verdict == ORDINARY:
        return "No law is broken, and no law is missing."
    broken = "this law is" if len(found.broken) == 1 else f"these {number_word(len(found.broken))} laws are"
    proof = f"Here {broken} broken: {law_statements(found.broken)}" if found.broken else "One law or another is broken."
    if found.culprits:
        return f"{proof} If {say(found.culprits[0])}, every law is kept."
    return f"{proof} Nothing hidden can mend that."


def law_proof(broken: Law, changes: Sequence[str], kept: Sequence[Law]) -> str:
    """Why it is this law that is broken, by what was changed by hand, and none of the others."""
    rest = "; ".join(name_of(law) for law in kept)
    return f"{say(broken)} The change by hand ({listed(changes)}) breaks it. Still kept: {rest}."


def culprit_proof(culprit: Culprit) -> str:
    """Why it is this piece that can be the culprit, and none of the others that are named."""
    return f"{capital(say(culprit))}. The others cannot: their turns show, or change no law that is broken here."


def made_words(moves: str, changes: Sequence[str]) -> str:
    """How a position is made from solved: by turns, by hand, or both."""
    made = [f"turns from solved: {moves}"] if moves else []
    made += [f"by hand: {', '.join(changes)}"] if changes else []
    return f"The position: {'; then '.join(made)}."
