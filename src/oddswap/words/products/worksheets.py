"""What stands on a worksheet and on its key: the questions, the proofs, how positions were made, and hints for scissors."""

from collections.abc import Sequence

from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.verdicts.findings import ORDINARY, Culprit, Diagnosis
from oddswap.values.grammar import capital, listed
from oddswap.words.alarms import law_statements
from oddswap.words.table import name_of, say

QUESTIONS = {
    "possible": "Can this come by turning?",
    "law": "No turning leads there. Which law is broken?",
    "culprit": "It looks impossible, and yet it was turned. Which of these pieces can be the culprit?",
    "ways": "Just one of these four leads home. Which one?",
}
"""What is asked, by the sort of the question."""
WAYS_PROOF = "Turned one after the other, it ends with everything at home; each of the others was turned, too, and does not."
CUT = "Cut along the outline, fold along the lines between the faces, and tape the edges from inside."
COLOUR_IN = "Colour in what you see, face by face: U with B at the top, D with F, the others with U."
TILES = "A board of four by four: fifteen numbered tiles, and two more that bear the same letter."
HOLD = {"set-up": "Start with a solved copy, held as in the first picture.", "reset": "Hold it as in the first picture."}
COPIES = "For every copy at this table: {}."
LOOP_TITLE = "A law lives only at home"
LOOP_CARD = (
    "Above is a loop: out of the shape, and home by other turns. Make it, turn by turn. At home, what has changed?",
    "Now your own. Go out along the lines of the poster, make one more turn, and go home along the lines. Write the turns down.",
    "On the way no law can be asked, for its places are not there. At home ask: does your loop keep the law?",
    "Make two loops one after the other: that is a loop. Make one backwards: that undoes it. A law must be kept by every loop.",
)
"""What stands on the card that goes with a map of shapes."""
CARE = "If a layer catches, line it up first; never push. House rules come first."


def possible_proof(found: Diagnosis) -> str:
    """Why a position can come by turning, cannot, or can only with lookalikes that are not what they seem."""
    if found.verdict == ORDINARY:
        return "No law is broken, and no law is missing."
    here = f"Here {'that is' if len(found.broken) == 1 else 'these are'} broken"
    proof = f"{law_statements(found.broken)} {here}" if found.broken else "One law or another is broken"
    return proof + (f", unless {say(found.culprits[0])}." if found.culprits else ", and nothing hidden can mend it.")


def law_proof(broken: Law, changes: Sequence[str], kept: Sequence[Law]) -> str:
    """Why it is this law that is broken, by what was changed by hand, and none of the others."""
    return (
        f"The law of {name_of(broken)}: what was changed is {listed(changes)}. The law of {listed(map(name_of, kept))} is kept."
    )


def culprit_proof(culprit: Culprit) -> str:
    """Why it is this piece that can be the culprit, and none of the others that are named."""
    return f"{capital(say(culprit))}. The others cannot: their turns show, or change no law that is broken here."


def made_words(moves: str, changes: Sequence[str]) -> str:
    """How a position is made from solved: by turns, by hand, or both."""
    made = [f"turns from solved: {moves}"] if moves else []
    made += [f"by hand: {', '.join(changes)}"] if changes else []
    return f"The position: {'; then '.join(made)}."
