"""What is said in a story, beat by beat, and beside it: how long its script is, what each shot shows, where no clip was made."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand
from oddswap.reasoning.verdicts.findings import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.grammar import capital, number_word
from oddswap.words.reader import Reader
from oddswap.words.spoken import introduced, spoken
from oddswap.words.to_visitors.heard import heard, piece_names
from oddswap.words.to_visitors.holds import hold_words
from oddswap.words.to_visitors.moves import moving_word, names_explained
from oddswap.words.to_visitors.seen import seen_sentences
from oddswap.words.to_visitors.why import law_and_seen
from oddswap.words.verdicts import LOOK_TWICE, OPENED, WORDINGS, Wording

SHOWN = {
    "seen": "the position, from both sides",
    "law": "the position and the tally",
    "xray": "the x-ray: the pieces that may be the culprit are hatched",
    "way": "the moves, one by one, with the tally",
    "card": "words on a card",
}
"""What is to be seen, by what a beat shows."""
TO_BE_SEEN = "To be seen: {}."
TRANSCRIPT = "All that is said in the clip, what is to be seen, and every move in words."
"""What is said of a picture to those who do not see it, and at the top of a clip as a page."""
HATCHED = "hatched: one of these may be the culprit"
PACE = "{} minutes, {} words at {} words a minute."
"""How long a clip is, and how fast its words are spoken."""
LEFT_OUT = "This clip is left out: {}."
CONSENT = "Place, device and date of your recordings are left out; ask everybody whose face, hands or voice is in them first."
"""What is said when somebody's voice or footage was used."""
SOME = 3
"""So many findings are said."""
COUNT_FIRST = "Count before you move anything, and never force what sticks."
IF_THEY_STICK = "If a layer does not want to turn, do not force it: a copy may not make these turns at all."
NOT_FOUND_YET = ("There is a way out: that is proved.", "It was not found in the time that was given. Give it more time.")
"""What is said of a way out of which only the proof is known."""


def wording_of(answer: Answer) -> Wording:
    """How the verdict is worded; on a box that may leave its outline no law proves the ordinary one."""
    boxed = answer.verdict == ORDINARY and answer.puzzle.leaves_outline
    return OPENED if boxed else WORDINGS[answer.verdict]


def title_words(answer: Answer) -> str:
    return f"{capital(answer.puzzle.title)}: {wording_of(answer).title}"


def position_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """Which puzzle it is, and what looks wrong on it."""
    return (introduced(answer.puzzle), *seen_sentences(answer.puzzle, answer.appearance, reader))


def law_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The law that is broken at first sight, and how many more are; empty where none is."""
    if not answer.diagnosis.broken:
        return ()
    says = (f"{capital(law_and_seen(answer, reader))}.", f"No {_move(answer.puzzle)} can change that.")
    if not (more := len(answer.diagnosis.broken) - 1):
        return says
    return (*says, f"And {number_word(more)} more law{'s' if more > 1 else ''} of the kind {'are' if more > 1 else 'is'} broken.")


def culprit_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """Who can be the culprit."""
    found, captions = answer.diagnosis, WORDINGS[LOOKALIKE].captions
    if not found.culprits:
        return (*captions, "Several swaps at once, too many to be told apart.")
    one, many = heard(answer.puzzle, found.culprits[0], reader, found.first), len(found.culprits)
    if many == 1:
        return (*captions, f"{capital(one)}.")
    unseen = f"{capital(number_word(many))} culprits would explain it: you cannot see which it is, and need not know."
    return (*captions, f"For instance: {one}.", unseen)


def mended_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """Why turning could do it after all."""
    puzzle = answer.puzzle
    why = (
        "The way out has put right what we saw, and with it something that nobody can see.",
        f"The two together keep every law. That is why {moving_word(puzzle)} could do it.",
    )
    more = tuple(dict.fromkeys(piece for change in answer.easiest.leaves for piece in change.touched))
    return (*why, f"Unseen, it has changed {piece_names(puzzle, more, reader)} as well.") if more else why


def other_turns_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What the turns of this copy cannot do, and which others can."""
    warning = () if answer.diagnosis.has(MadeByHand) else (IF_THEY_STICK,)
    return (*WORDINGS[OTHER_TURNS].captions, *_noted(answer, reader), *warning)


def slip_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The likeliest slips of the description; empty where none is likely."""
    slips = [f"{capital(heard(answer.puzzle, slip, reader))}." for slip in answer.diagnosis.slips[:2]]
    return ("A slip in the description would explain it. For instance:", *slips) if slips else ()


def finding_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What was found beside the verdict, and how much more of it there is; empty where nothing was."""
    noted, more = _noted(answer, reader), len(answer.diagnosis.findings) - SOME
    return (*noted, f"And {number_word(more)} more of the kind.") if noted and more > 0 else noted


def repair_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The smallest repair by hand, with its cautions; empty where there is none."""
    if not answer.repair:
        return ()
    repair = f"The smallest repair by hand: {heard(answer.puzzle, answer.repair, reader)}."
    cautions = (f"{capital(caution).rstrip('.')}." for caution in answer.repair.cautions)
    return (*WORDINGS[NOT_BY_TURNING].captions, repair, *cautions)


def asked_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What to look at next, best first; empty where nothing is asked for."""
    leads = "What would tell most", "Next best"
    asked = zip(leads, answer.diagnosis.asked, strict=False)
    return tuple(f"{lead}: {heard(answer.puzzle, view, reader)}." for lead, view in asked)


def lesson_sentences(answer: Answer) -> tuple[str, ...]:
    """What to remember."""
    strange = answer.verdict == NOT_BY_TURNING and not answer.diagnosis.broken
    return (LOOK_TWICE if strange else wording_of(answer).remember, COUNT_FIRST)


def way_sentences(done: InHand, reader: Reader) -> tuple[str, ...]:
    """How long the way out is, which culprit it mends, in how many parts it comes, and how to hold the puzzle for it."""
    answer, told = done.answer, done.answer.easiest
    hidden, puzzle = told.mends and piece_names(answer.turning, told.mends.pieces, reader), answer.turning
    says = [_length(answer)]
    if hidden:
        says.append(f"Say that it is {hidden}: from here on we count that, too.")
    if len(told.phases) > 1:
        says.append(f"It comes in {number_word(len(told.phases))} parts.")
    if reader.colours and not done.first:
        says.append(f"{hold_words(answer.puzzle, answer.appearance, done.holding, reader.colours)}, and turn slowly.")
    else:
        says.append("Hold it as you see it here, and turn slowly." if puzzle.geometry else "Take your time.")
    return (*says, *filter(None, [names_explained(puzzle, [told.turns])]))


def part_words(number: int, part: Phase) -> str:
    """The chapter of a part of the way out."""
    name = part.name.replace("stage", "")
    return f"The way out, part {number}" + (f": {name}" if name else "")


def _length(answer: Answer) -> str:
    """How many moves the easiest way takes, and what is known of shorter ones."""
    way, length, move = answer.way_out, answer.easiest.length, _move(answer.turning)
    takes = f"The way out takes {number_word(length)} {move}s"
    if length > way.length:
        return f"{takes}; the shortest that is known takes {number_word(way.length)}, but this one is easier to follow."
    if length == way.length and way.shortest:
        return f"{takes}, and no way is shorter, each {move} counted as one."
    return f"{takes}, though a shorter one may exist."


def _noted(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What was found beside the verdict, in sentences that can be spoken."""
    heard_of = list(filter(None, (heard(answer.puzzle, finding, reader) for finding in answer.diagnosis.findings)))
    return tuple(sentence for note in heard_of[:SOME] for sentence in spoken(note))


def _move(puzzle: Puzzle) -> str:
    return "turn" if puzzle.blank is None else "slide"
