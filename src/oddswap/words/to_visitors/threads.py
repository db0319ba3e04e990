"""Where a visitor is on the way that they were sent, said to them."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.in_hand import said_from
from oddswap.reasoning.threads import OnTheWay, SeveralPlaces
from oddswap.values.grammar import counted_words, listed, number_word
from oddswap.words.reader import Reader
from oddswap.words.to_visitors.moves import moves_word
from oddswap.words.to_visitors.places import place_words

AGAIN = "Thank you for writing again."
ELSEWHERE = "What you see now does not lie on the way that we sent. That does no harm: here is a way from where you are."
WHICH = "What you see fits {places} places on the way that we sent. Please tell us what you see at {looks}, too."
WAIT = "Until then turn nothing."
THEN = "Then compare it with the picture. Write to us if it looks otherwise; if not, {left} {remain}, and we send the next."
LAST = "Then it is done."
SOON = "That is soon put right: we begin with it."
WENT_WRONG = {
    "left out": "turn {at} was left out",
    "reversed": "turn {at} went the other way round",
    "by another amount": "turn {at} went too far, or not far enough",
    "on another slab": "another layer was turned in place of turn {at} ({made})",
    "reversed on the opposite slab": "the opposite layer was turned in place of turn {at} ({made})",
    "made twice": "turn {before} was made twice",
    "added": "{made} was added before turn {at}",
}


def where_words(puzzle: Puzzle, where: OnTheWay, reader: Reader) -> str:
    """Where they are, and what went wrong."""
    here = f"You have made {counted_words(where.done, moves_word(puzzle))}" if where.done else "You are at the beginning"
    if not where.mistakes:
        return f"{here}, and all is well."
    wrong = listed(_went_wrong(puzzle, mistake, reader) for mistake in where.mistakes)
    return f"{here}. Something went otherwise on the way: {wrong}. {SOON}"


def _went_wrong(puzzle: Puzzle, mistake: Mistake, reader: Reader) -> str:
    made = " ".join(said_from(puzzle, name, reader.holding) for name in mistake.made)
    words = WENT_WRONG[mistake.sort] if mistake.turn is not None else "{made} was added at the end"
    return words.format(at=number_word(mistake.at + 1), before=number_word(mistake.at), made=made)


def which_words(puzzle: Puzzle, where: SeveralPlaces, reader: Reader) -> str:
    """What to look at, where what is seen does not tell."""
    looks = listed(place_words(puzzle, slot, reader.holding) for slot in where.look_at[:2]) if where.look_at else "every side"
    return WHICH.format(places=number_word(where.places), looks=looks)


def what_follows(puzzle: Puzzle, left: int) -> str:
    """What to do after the next turns, when so many are left."""
    return THEN.format(left=counted_words(left, moves_word(puzzle)), remain="remain" if left > 1 else "remains") if left else LAST
