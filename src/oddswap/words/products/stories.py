"""What is said in a story, beat by beat, and beside it: how long its script is, what each shot shows, where no clip was made."""

from collections.abc import Iterable

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand
from oddswap.reasoning.teaching.phases import PlaceInStage
from oddswap.reasoning.verdicts.exchanges import HiddenTurn
from oddswap.reasoning.verdicts.findings import ORDINARY, OTHER_TURNS, SlotAsked
from oddswap.reasoning.verdicts.views import View
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.grammar import capital, counted_words, listed, number_word
from oddswap.values.position import Holding
from oddswap.words.products.in_a_clip import BREATH, CODE, TEXTS, in_short, move_word, pointed, spoken, words_in
from oddswap.words.products.sights import is_strange
from oddswap.words.table import Reader
from oddswap.words.to_visitors.heard import heard, side_words
from oddswap.words.to_visitors.moves import SIDES, names_explained
from oddswap.words.to_visitors.places import family_words, hold_sentences, place_words
from oddswap.words.verdicts import LOOK_TWICE, OPENED, SOLVED, WORDINGS, Wording

SHOWN, HEADS, OVER = (TEXTS[part] for part in ("shown", "heads", "over"))
TRANSCRIPT = "All that is said in the clip, what is to be seen, and every move in words."
"""What stands at the top of a clip as a page."""
HATCHED = "hatched: one of these may be the culprit"
YOURS, PLAIN_TWIN = "this one", "a plain one"
PACE = "{} minutes, {} words at {} words a minute."
"""How long a clip is, and how fast its words are spoken."""
EARLIER, LATER, PLAY, LONG = "Earlier", "Later", "Play", "{} minutes, {} beats."
"""On the board where a story is edited."""
LEFT_OUT = "This clip is left out: {}."
CONSENT = "Place, device and date of your recordings are left out; ask everybody whose face, hands or voice is in them first."
"""What is said when somebody's voice or footage was used."""
SOME, SHORT_HEAD = 2, 6
"""So many findings are said, and so many words stand in a headline."""
FAST = "{} {}s, in fast motion."
"""What is said of many moves."""
NO_FORCE = "Never force what sticks."
IF_THEY_STICK = "If a layer sticks, do not force it.", "Your copy may not make these turns."
OUT_OF_SHAPE = "Other turns lead there, through other shapes.", "After each turn, compare yours with the picture."
NOT_FOUND_YET = ("There is a way out: that is proved.", "It was not found in the time that was given. Give it more time.")
"""What is said of a way out of which only the proof is known."""


SEND_ONE, CATCH = "Send one photograph.", "It may catch there: line it up, do not push."
STAGE = "As always.", "Next: the {}."
BACK = "Back to it.", "Back to the {}.", "There it goes in, the other way round."
"""As a part of the way is said, of the stages of a plan."""
HALF_SEEN = "The grey places decide.", "It may be fine, or not: we have to look."
SEND, YOURS_PLEASE = "Have you one that cannot be?", "Send me yours."
WHO = ("Inside, it is a plain one: the same turn, the same piece.",)
NO_TRACE = "No trace."
HERE = "What do you see here?"
BY_HAND = "It was put together so by hand."
BY_SIGHT, INNOCENT, HAPPENS = "It was put in by sight, and looked right.", "Nobody took it apart.", "It happens."
GREY, CLOSELY, HOME = "Grey: not seen.", "Look closely.", "{} home."
HELD, SLOWLY = "Hold it as you see it here.", "Take your time."
TAPE, SAY = "Tape marks {} now.", "Let it be {}."


def turn_of(puzzle: Puzzle, number: int, count: int) -> str:
    """Which turn it is of how many."""
    return f"{move_word(puzzle)} {number} of {count}"


def example_words(sort: str) -> tuple[tuple[str, str], ...]:
    """The sign and the words below a law that is kept, and below one that is broken."""
    return tuple(zip(("✓", "✗"), TEXTS["examples"][sort], strict=True))


def to_be_seen(puzzle: Puzzle, picture: str, marked: Iterable[str], holding: Holding) -> str:
    """What a picture shows, and which places are marked on it, for those who do not see it."""
    places = [place_words(puzzle, slot, holding) for slot in marked]
    return f"To be seen: {SHOWN[picture]}{f'; marked: {listed(places)}' if places else ''}."


def wording_of(answer: Answer) -> Wording:
    """How the verdict is worded; of the ordinary one, also where it looks solved, or is a box that no law proves it of."""
    if answer.verdict == ORDINARY and answer.way_out and answer.way_out.moves == "":
        return SOLVED
    return OPENED if answer.verdict == ORDINARY and answer.puzzle.leaves_outline else WORDINGS[answer.verdict]


def title_words(answer: Answer) -> str:
    return f"{capital(answer.puzzle.title)}: {wording_of(answer).title}"


def episode_title(letters: int) -> str:
    """The title of an episode of several letters."""
    return f"{capital(number_word(letters))} letters"


def came_sentences(answer: Answer) -> tuple[str, ...]:
    """How it came to that."""
    stage = answer.came_about.stage
    placed = f"It went in with the {stage}, by sight." if stage else BY_SIGHT
    return tuple(in_short(placed))


def other_turns_sentences(answer: Answer) -> tuple[str, ...]:
    """What the turns of this copy cannot do, where no others can; else what is to be minded with these."""
    if answer.diagnosis.has(MadeByHand):
        return (*WORDINGS[OTHER_TURNS].captions, BY_HAND)
    return OUT_OF_SHAPE if answer.outside else IF_THEY_STICK


def slip_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The likeliest slip of the description; empty where none is likely."""
    slips = [f"{capital(heard(answer.puzzle, slip, reader))}." for slip in answer.diagnosis.slips[:1]]
    return tuple(in_short("A slip in the description would explain it.", *slips)) if slips else ()


def asked_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What to look at next, best first; empty where nothing is asked for."""
    first = next(iter(answer.diagnosis.asked), None)
    if isinstance(first, View):
        sides, whence = side_words(answer.puzzle, first.facets, reader), heard(answer.puzzle, first, reader)
        if first.corner:
            return SEND_ONE, "From this corner." if CODE.search(sides) else f"From where {sides} meet."
        return SEND_ONE, f"{capital(whence.removeprefix('one photograph ').partition(', that')[0])}."
    return (HERE,) if first else ()


def place_asked(answer: Answer) -> str:
    """The slot that is asked for, or in the corner from which a photograph is; empty where that is no corner with a piece."""
    first, puzzle = next(iter(answer.diagnosis.asked), None), answer.puzzle
    if isinstance(first, SlotAsked):
        return first.slot
    if not isinstance(first, View) or not first.corner:
        return ""
    bodies = zip(puzzle.slots, puzzle.geometry.bodies, strict=True)
    return next((slot for slot, body in bodies if {*first.facets} <= {face.facet for face in body.faces}), "")


def lesson_sentences(answer: Answer) -> tuple[str, ...]:
    """What to remember."""
    said = LOOK_TWICE if is_strange(answer) else wording_of(answer).remember
    return tuple(in_short(said, *([] if answer.repair else [NO_FORCE])))


def way_sentences(done: InHand, reader: Reader) -> tuple[str, ...]:
    """Which culprit the way out mends, how long it is, and how to hold the puzzle for it."""
    answer, told = done.answer, done.answer.easiest
    hidden, puzzle = told.mends and pointed(answer.turning, told.mends.pieces, reader), answer.turning
    says = [(TAPE if puzzle.geometry else SAY).format(hidden)] if hidden else []
    held = hold_sentences(answer.puzzle, answer.appearance, done.holding, reader.colours)
    if reader.colours and not done.first and max(map(words_in, held)) <= BREATH:
        says += held
    elif not hidden or done.held:
        says.append(HELD if puzzle.geometry else SLOWLY)
    return (*says, *in_short(*filter(None, [names_explained(puzzle, [told.turns])])))


def way_headline(length: int, puzzle: Puzzle) -> str:
    """How long a way out is."""
    return HOME.format(capital(counted_words(length, f"{move_word(puzzle)}s")))


def left_unseen(answer: Answer, reader: Reader) -> tuple[str, tuple[str, ...]]:
    """The pieces that a way leaves changed, which nobody sees, and the sentence that names them; empty where it leaves none."""
    changes, puzzle = answer.easiest.leaves if answer.easiest else (), answer.turning
    pieces = tuple(dict.fromkeys(piece for change in changes for piece in change.touched))
    if not pieces:
        return "", ()
    orders = {change.order if isinstance(change, HiddenTurn) else 0 for change in changes}
    way = "flipped" if orders == {2} else "changed" if 0 in orders else "turned"
    ends = f"{'stay' if len(pieces) > 1 else 'stays'} {way}, unseen."
    return " ".join(pieces), (f"{capital(pointed(puzzle, pieces, reader))} {ends}",)


def phase_words(answer: Answer, part: Phase, reader: Reader) -> tuple[str, tuple[str, ...]]:
    """The headline of a part of the way, and what is said of it."""
    if isinstance(part.aim, PlaceInStage):
        if part.aim.again:
            return BACK[0], (BACK[1].format(part.aim.stage), *BACK[2:])
        return STAGE[0], (STAGE[1].format(part.aim.stage),)
    if told := TEXTS["phases"].get(part.aim.code) or TEXTS["phases"].get(part.name):
        kind = next((kind.family for kind in answer.turning.kinds if kind.name == getattr(part.aim, "kind", "")), "")
        turns = capital(counted_words(len(part.moves.split()), f"{move_word(answer.turning)}s"))
        return told[0], (told[1].format(family_words(answer.turning, kind), turns=turns),)
    aim = spoken(heard(answer.turning, part.aim, reader))
    return aim[0] if len(aim[0].split()) <= SHORT_HEAD else "", tuple(aim)


def fast_words(count: int, puzzle: Puzzle) -> tuple[str, ...]:
    """That so many moves are shown fast, if there are any."""
    return (FAST.format(number_word(count), move_word(puzzle)).capitalize(),) if count else ()


def outline_sentences(sides: tuple[str, ...]) -> tuple[str, ...]:
    """Beyond which sides an open box sticks out when a part of the way is made."""
    return (f"Then it sticks out at {listed(SIDES[side] for side in sides)}.",) if sides else ()


def part_words(number: int, part: Phase) -> str:
    """The chapter of a part of the way out."""
    name = part.aim.stage if isinstance(part.aim, PlaceInStage) else part.name.replace("stage", "")
    return f"The way out, part {number}" + (f": {name}" if name else "")


def finding_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """What was found beside the verdict, the first of each sort; empty where nothing was."""
    by_sort = {finding.code: finding for finding in reversed(answer.diagnosis.findings)}
    heard_of = list(filter(None, (heard(answer.puzzle, finding, reader) for finding in reversed(by_sort.values()))))
    return tuple(sentence for note in heard_of[:SOME] for sentence in spoken(note))
