"""What stands on a worksheet and on its key: the questions, the proofs, how positions were made, and hints for scissors."""

from collections.abc import Iterable, Sequence

from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.findings import ORDINARY, Culprit, Diagnosis
from oddswap.values.grammar import capital, listed, number_word
from oddswap.words.alarms import law_statements
from oddswap.words.table import name_of, say

QUESTIONS = {
    "possible": "Can this come by turning?",
    "law": "No turning leads there. Which law is broken?",
    "culprit": "It looks impossible, yet it was turned. Which of these pieces can be the culprit?",
    "ways": "Just one of these leads home. Which one?",
}
"""What is asked, by the sort of the question."""
SHORT = {"possible": "can it be?", "law": "which law?", "culprit": "which culprit?", "ways": "which way home?"}
"""The sorts of question in a table."""
SHEET, KEY, NAME, BECAUSE = "Sheet {} · {}", "Key to sheet {} · {}", "name _________________", "Because"
STRIPS, BACK = "Strips for sheet {} · {}", "Back home: {}"
STAYS = "Question {} stays on paper: no turning leads there, so no copy can be set up for it."
OWN = "On our copies, the side that these sheets call"
SEE_FIRST = "U, F and the other letters stand for the colours in the box on the first page."
BEHIND = "from behind"
COUNT_FIRST = "Count first:"
WAYS_PROOF = "These turns end with everything at home. We made the turns of each other choice, too: none of them does."
CUT = "Cut along the outline, fold along the lines, and glue the tabs inside. Scissors only while somebody watches."
COLOUR_IN = "Colour in what you see, side by side: each bears its letter."
NET, BLOCKS_TITLE, BOARD_TITLE, TILES_TITLE = (
    "A net to cut out: {}",
    "Two blocks to fold",
    "A board for tiles",
    "Tiles to cut out",
)
BOARD = "Lay fifteen tiles on it and leave one place free. A tile slides into the free place; nothing else may move."
TILES = "Fifteen numbered tiles, and two more that bear the letter A: put these in place of 14 and 15."
BLOCKS = (
    "Hatched sides show, and the others lie inside the puzzle. Colour each hatched side of a block in a colour of its own. Then, "
    "behind a book, turn a block upside down, or do not. Who can tell? One of the two can be turned over unseen."
)
HOLD = "Start with a solved copy, held as in the first picture."
HERO = "The hero copy: {}"
HERO_WAY = "Turn it so before people come, by turning alone: open nothing."
COUNT_TITLE, COUNT_AFTER = "Count the flips", "After {}: ______"
COUNT_RULE = (
    "Each of the {} has a mark, and the first picture shows the marks at home. Wherever a mark lies on another side of its place "
    "than the mark at home did, the piece there is flipped. Look at every place: how many are flipped?"
)
COUNT_LAST = "Which numbers came up? Make turns of your own, and count again. Which numbers never come?"
LOOP_TITLE = "A law lives only at home"
LOOP_CARD = (
    "Above is a loop: out of the shape, and home by other turns. Make it, turn by turn. At home, what has changed?",
    "Now your own. Go out along the lines of the poster, make one more turn, and go home along the lines. Write the turns down.",
    "On the way no law can be asked, for its places are not there. At home ask: does your loop keep the law?",
    "Make two loops one after the other: that is a loop. Make one backwards: that undoes it. A law must be kept by every loop.",
)
"""What stands on the card that goes with a map of shapes."""
CARE = "If a layer catches, line it up first; never push. House rules come first."
HANDS, TALLY = "Hands up for each answer. Write the numbers down.", "____ hands"


COUNTING = (
    "What does one turn do? The sheet Count the flips (page {}), on a {}; it comes to {}. Nobody finds an odd number. Why not?"
)
SURPRISE = "Then lay tape on a piece of which nobody sees whether it has turned; turn; look."
NO_SURPRISE = "Then ask: which single piece, changed by hand, would no turning put right? The posters say."
NO_COUNTING = "What does one turn do? Each counts how many pieces one turn moves, and in what circles. Compare with the posters."


def asked_words(question) -> str:
    """What a question asks, for a table, and whether a copy can be set up for it."""
    return f"{SHORT[question.sort]} {'Paper' if question.changes else 'Strip'}"


def card_words(sheet: int, number: int, ways: int) -> str:
    """A task for the fast, on a question of ways home."""
    return f"Fast, sheet {sheet}, question {number}: one of the {ways} ways leads home. Where does each other way first go wrong?"


def hero_words(title: str, found: Diagnosis) -> str:
    """What the opening position is, for whoever leads the evening."""
    if found.culprits:
        return f"It is the {title}. {possible_proof(found)} So it looks impossible, and turning made it."
    return f"It is the {title}. {possible_proof(found)} So it looks odd, and turning made it."


def tables_words(tables: Sequence[int]) -> str:
    """Which tables something is for."""
    return f"table{'s' * (len(tables) > 1)} {listed(map(str, tables))}" if tables else "in reserve"


def counted_words(families: Iterable[tuple[str, int]]) -> tuple[str, ...]:
    """What is counted on a sheet: the pieces of each family that are turned, by how many ways round they have, and the rest."""
    turned = (f"{family} {'flipped' if twist == 2 else 'twisted'}" for family, twist in families)
    return (*turned, "pieces elsewhere")


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
