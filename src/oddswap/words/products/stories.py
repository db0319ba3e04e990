"""What is said in a story, beat by beat, and beside it: how long its script is, what each shot shows, where no clip was made."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import lowered
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand
from oddswap.reasoning.opening.outside import ChangeOutside, CloseBox, FinishInside, LeaveBox
from oddswap.reasoning.teaching.phases import PlaceInStage
from oddswap.reasoning.verdicts.exchanges import HiddenTurn
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.verdicts.views import View
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.grammar import capital, listed, number_word, singular
from oddswap.values.position import Arrangement
from oddswap.words.products.in_a_clip import in_short, move_word, pointed, spoken, two_places
from oddswap.words.table import Reader
from oddswap.words.to_visitors.heard import heard, piece_names, side_words
from oddswap.words.to_visitors.moves import SIDES, names_explained
from oddswap.words.to_visitors.places import family_words, hold_words, seen_sentences
from oddswap.words.verdicts import LOOK_TWICE, OPENED, WORDINGS, Wording

SHOWN = {
    "seen": "the position",
    "plain": "the puzzle, and beside it a plain one that works like it",
    "law": "two positions: one that the law allows, one that it does not",
    "lift": "a piece on its way out, over, and back",
    "xray": "the pieces that may be the culprit, hatched",
    "way": "the moves, one by one",
}
"""What is to be seen, by what a beat shows."""
TO_BE_SEEN = "To be seen: {}."
TRANSCRIPT = "All that is said in the clip, what is to be seen, and every move in words."
"""What is said of a picture to those who do not see it, and at the top of a clip as a page."""
HATCHED = "hatched: one of these may be the culprit"
YOURS, PLAIN_TWIN = "this one", "a plain one"
PACE = "{} minutes, {} words at {} words a minute."
"""How long a clip is, and how fast its words are spoken."""
EARLIER, LATER, PLAY, LONG = "Earlier", "Later", "Play", "{} minutes, {} beats."
"""On the board where a story is edited."""
LEFT_OUT = "This clip is left out: {}."
CONSENT = "Place, device and date of your recordings are left out; ask everybody whose face, hands or voice is in them first."
"""What is said when somebody's voice or footage was used."""
SOME, SEVERAL, SHORT_HEAD, SAID = 3, 4, 6, 10
"""So many findings are said, so many pieces counted, so many words stand in a headline, and fewer name pieces."""
NO_FORCE = "Never force what sticks."
IF_THEY_STICK = "Other turns can.", "If a layer sticks, do not force it.", "Your copy may not make these turns."
OUT_OF_SHAPE = "Other turns lead there, through other shapes.", "After each turn, compare yours with the picture."
NOT_FOUND_YET = ("There is a way out: that is proved.", "It was not found in the time that was given. Give it more time.")
"""What is said of a way out of which only the proof is known."""


HEADLINES = {
    ORDINARY: ("Can this be?", "Yes. Count first."),
    LOOKALIKE: ("This can't be.", "Colours lie. Count pieces."),
    OTHER_TURNS: ("This can't be.", "Ask which turns it had."),
    NOT_BY_TURNING: ("Can this be?", "No. One law is enough."),
    CANNOT_TELL: ("Can this be?", "Look again. Then count."),
}
"""The headline over the sight, and over what to remember, by verdict."""
EXAMPLES = {
    "flips": ("two: yes", "one: never"),
    "twists": ("two: yes", "one: never"),
    "pairs": ("two pairs: yes", "one pair: never"),
    "rings": ("three round: yes", "two: never"),
}
"""What stands below the law kept and the law broken, by the sort of the law."""
PHASES = {
    LeaveBox: ("Out of shape.", "Leave the box."),
    ChangeOutside: ("The hard part.", "Out here, what never changes inside can change."),
    CloseBox: ("Close it.", "Close it. Now it is a box again."),
    FinishInside: ("And home.", "Turns inside the box do the rest."),
    "begin": ("Get ready.", "First we bring everything to where we can work."),
    "set up": ("Set it up.", "First we carry the pieces together."),
    "exchange": ("The hard part.", "Now the hard part. Watch closely."),
    "undo": ("Back again.", "Now the first part backwards."),
    "finish": ("And home.", "A few turns more, and everything is home."),
}
"""The headline of a part of the way, and its one sentence."""
SEND_ONE, CATCH = "Send one photograph.", "It may catch there: line it up, do not push."
STAGE = "As always.", "Next: the {}."
BACK = "Back to it.", "Back to the {}.", "There it goes in, the other way round."
"""As in ``PHASES``, of the stages of a plan."""
HALF_SEEN = "The grey places decide.", "It may be fine, or not: we have to look."
SEND, YOURS_PLEASE = "Have you one that cannot be?", "Send me yours."
WHO = ("Inside, a plain one: the same turns move the same piece.",)
HEADS = {
    "Why it can happen": "Turning can do this.",
    "What everyone knows": "This never changes.",
    "What is not seen decides": "Not yet.",
    "What to look at next": "Look here.",
    "What to measure": "Measure it.",
    "Who did it": "Not these turns.",
    "Which turns it takes": "Other turns can.",
    "Look once more": "Look once more.",
    "What was found": "How odd.",
    "The repair by hand": "Put it right.",
    "Before you open anything": "With care.",
}
"""The headline of a beat that has none of its own, by chapter."""
SAME = "You see no change."
OVER = {
    "flip": ("Turn it over.", "This piece comes out.", "Turn it over, and put it back.", SAME),
    "turn": ("Turn it.", "This piece comes out.", "Turn it, and put it back.", SAME),
    "swap": ("Swap them.", "These two look the same.", "Let them change places.", SAME),
}
"""What one can't see, below its headline: of a piece with two ways or with more, and of two that change places."""
NO_TRACE = "No trace."
BY_SIGHT, INNOCENT, HAPPENS = "It was put in by sight, and looked right.", "Nobody took it apart.", "It happens."
GREY, CLOSELY, HOME = "Grey: not seen.", "Look closely.", "{} {} home."
HELD, SLOWLY = "Hold it as you see it here.", "Take your time."
TAPE, SAY = "Tape marks {} now.", "Say that it is {}."


def turn_of(puzzle: Puzzle, number: int, count: int) -> str:
    """Which turn it is of how many."""
    return f"{move_word(puzzle)} {number} of {count}"


def example_words(sort: str) -> tuple[tuple[str, str], ...]:
    """The sign and the words below a law that is kept, and below one that is broken."""
    return tuple(zip(("✓", "✗"), EXAMPLES[sort], strict=True))


def wording_of(answer: Answer) -> Wording:
    """How the verdict is worded; on a box that may leave its outline no law proves the ordinary one."""
    boxed = answer.verdict == ORDINARY and answer.puzzle.leaves_outline
    return OPENED if boxed else WORDINGS[answer.verdict]


def title_words(answer: Answer) -> str:
    return f"{capital(answer.puzzle.title)}: {wording_of(answer).title}"


def episode_title(letters: int) -> str:
    """The title of an episode of several letters."""
    return f"{capital(number_word(letters))} letters"


def sight_words(answer: Answer) -> tuple[str, ...]:
    """The headline over the sight, and in a few words what is seen where that is little."""
    head, what = HEADLINES[answer.verdict][0], _in_few_words(answer)
    return (head, what) if what else (head,)


def sight_sentence(answer: Answer) -> str:
    """One sentence with which the sight is shown."""
    return "Can its own moves do this?" if _in_few_words(answer) in ("", MIXED) else "All the rest is home. How can that be?"


MIXED = "Well mixed."


def _in_few_words(answer: Answer) -> str:
    """What is seen: *One edge, flipped.*"""
    puzzle, first = answer.puzzle, first_look(answer)
    if first is None or first.puzzle != puzzle.name or answer.appearance.uncertain:
        return ""
    out = sorted(first.displaced())
    if not out:
        return ""
    kinds = {puzzle.kind_of[slot] for slot in out}
    families = {family_words(puzzle, kind.family) for kind in kinds}
    if len(out) > SEVERAL:
        return MIXED
    words = families.pop() if len(families) == 1 else "pieces"
    one = f"{capital(number_word(len(out)))} {words if len(out) > 1 else singular(words)}"
    if all(first.pieces[slot] == slot for slot in out):
        twist = {kind.twist for kind in kinds}
        return f"{one}, {'flipped' if twist == {2} else 'twisted' if twist == {3} else 'turned'}."
    return f"{one}, {'swapped' if len(out) == 2 else 'out of place'}."


def first_look(answer: Answer) -> Arrangement | None:
    """What is seen at face value, on the closed box where it was found on one that opens."""
    first, puzzle, turning = answer.diagnosis.first, answer.puzzle, answer.turning
    return lowered(puzzle, turning, first) if first and turning.leaves_outline and puzzle.steady else first


def seen_in_short(answer: Answer, reader: Reader) -> list[list[str]]:
    """What looks wrong on the puzzle, in short sentences for each place; in one, where two pieces of a kind are swapped."""
    if two := swapped_two(answer):
        return [[f"{capital(two_places(answer.puzzle, two, reader))} are swapped."]]
    return [in_short(sentence) for sentence in seen_sentences(answer.puzzle, answer.appearance, reader)]


def swapped_two(answer: Answer) -> tuple[str, ...]:
    """The slots of the two pieces that look swapped, where all else looks right."""
    first, few = first_look(answer), _in_few_words(answer)
    return tuple(answer.puzzle.slots[slot] for slot in sorted(first.displaced())) if few.endswith(", swapped.") else ()


def came_sentences(answer: Answer) -> tuple[str, ...]:
    """How it came to that."""
    stage = answer.came_about.stage
    placed = f"It went in with the {stage}, by sight." if stage else BY_SIGHT
    return tuple(in_short(placed))


def other_turns_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What the turns of this copy cannot do, and which others can."""
    by_hand, caption = answer.diagnosis.has(MadeByHand), WORDINGS[OTHER_TURNS].captions
    return (*caption, *(finding_sentences(answer, reader) if by_hand else OUT_OF_SHAPE if answer.outside else IF_THEY_STICK))


def slip_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The likeliest slips of the description; empty where none is likely."""
    slips = [f"{capital(heard(answer.puzzle, slip, reader))}." for slip in answer.diagnosis.slips[:2]]
    return tuple(in_short("A slip in the description would explain it.", *slips)) if slips else ()


def asked_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What to look at next, best first; empty where nothing is asked for."""
    first = next(iter(answer.diagnosis.asked), None)
    if isinstance(first, View) and first.corner:
        return SEND_ONE, f"From where {side_words(answer.puzzle, first.facets, reader)} meet."
    return tuple(in_short(*(f"Best: {heard(answer.puzzle, view, reader)}." for view in answer.diagnosis.asked[:1])))


def corner_asked(answer: Answer) -> str:
    """The slot in the corner from which a photograph is asked for; empty where it is from no corner with a piece."""
    first, puzzle = next(iter(answer.diagnosis.asked), None), answer.puzzle
    if not isinstance(first, View) or not first.corner:
        return ""
    bodies = zip(puzzle.slots, puzzle.geometry.bodies, strict=True)
    return next((slot for slot, body in bodies if {*first.facets} <= {face.facet for face in body.faces}), "")


def lesson_sentences(answer: Answer) -> tuple[str, ...]:
    """What to remember."""
    strange = answer.verdict == NOT_BY_TURNING and not answer.diagnosis.broken
    return tuple(in_short(LOOK_TWICE if strange else wording_of(answer).remember, NO_FORCE))


def way_sentences(done: InHand, reader: Reader) -> tuple[str, ...]:
    """Which culprit the way out mends, how long it is, and how to hold the puzzle for it."""
    answer, told = done.answer, done.answer.easiest
    hidden, puzzle = told.mends and pointed(answer.turning, told.mends.pieces, reader), answer.turning
    says = [(TAPE if puzzle.geometry else SAY).format(hidden)] if hidden else []
    held = f"{hold_words(answer.puzzle, answer.appearance, done.holding, reader.colours)}."
    says.append(held if reader.colours and not done.first else HELD if puzzle.geometry else SLOWLY)
    return (*says, *in_short(*filter(None, [names_explained(puzzle, [told.turns])])))


def way_headline(length: int, puzzle: Puzzle) -> str:
    """How long a way out is."""
    return HOME.format(capital(number_word(length)), f"{move_word(puzzle)}{'s' if length > 1 else ''}")


def left_unseen(answer: Answer, reader: Reader) -> tuple[str, tuple[str, ...]]:
    """The pieces that a way leaves changed, which nobody sees, and the sentence that names them; empty where it leaves none."""
    changes, puzzle = answer.easiest.leaves if answer.easiest else (), answer.turning
    pieces = tuple(dict.fromkeys(piece for change in changes for piece in change.touched))
    if not pieces:
        return "", ()
    orders = {change.order if isinstance(change, HiddenTurn) else 0 for change in changes}
    way = "flipped" if orders == {2} else "changed" if 0 in orders else "turned"
    ends = f"{'stay' if len(pieces) > 1 else 'stays'} {way}, unseen."
    names = piece_names(puzzle, pieces, reader)
    return " ".join(pieces), (f"{capital(names if len(names.split()) < SAID else pointed(puzzle, pieces, reader))} {ends}",)


def phase_words(answer: Answer, part: Phase, reader: Reader) -> tuple[str, tuple[str, ...]]:
    """The headline of a part of the way, and what is said of it."""
    if isinstance(part.aim, PlaceInStage):
        if part.aim.again:
            return BACK[0], (BACK[1].format(part.aim.stage), *BACK[2:])
        return STAGE[0], (STAGE[1].format(part.aim.stage),)
    if told := PHASES.get(type(part.aim)) or PHASES.get(part.name):
        return told[0], told[1:]
    aim = spoken(heard(answer.turning, part.aim, reader))
    return aim[0] if len(aim[0].split()) <= SHORT_HEAD else "", tuple(aim)


def outline_sentences(sides: tuple[str, ...]) -> tuple[str, ...]:
    """Beyond which sides an open box sticks out when a part of the way is made."""
    return (f"Then it sticks out at {listed(SIDES[side] for side in sides)}.",) if sides else ()


def part_words(number: int, part: Phase) -> str:
    """The chapter of a part of the way out."""
    name = part.aim.stage if isinstance(part.aim, PlaceInStage) else part.name.replace("stage", "")
    return f"The way out, part {number}" + (f": {name}" if name else "")


def finding_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What was found beside the verdict; empty where nothing was."""
    heard_of = list(filter(None, (heard(answer.puzzle, finding, reader) for finding in answer.diagnosis.findings)))
    return tuple(sentence for note in heard_of[:SOME] for sentence in spoken(note))
