"""A story: what explains one ticket, beat by beat. Data first, so that the explainer can edit it; pictures come later.

Every beat has a chapter, what is said, a picture, and the moves that are made in it. Nothing of a visitor's note is in it.
"""

from dataclasses import dataclass, replace
from hashlib import sha256

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand, in_hand
from oddswap.reasoning.teaching.tool_ways import TaughtWay
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import capital, number_word
from oddswap.words.reader import VISITOR, Reader
from oddswap.words.spoken import introduced, spoken
from oddswap.words.to_visitors.heard import heard, piece_names
from oddswap.words.to_visitors.holds import hold_words
from oddswap.words.to_visitors.measured import measuring_for_anybody
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.to_visitors.seen import seen_sentences
from oddswap.words.to_visitors.why import law_and_seen, why_sentences
from oddswap.words.verdicts import LOOK_TWICE, OPENED, WORDINGS

PICTURES = ("seen", "law", "xray", "way", "card")
"""What a beat shows: the position; it with the tally; it with the culprits hatched; the moves; words alone."""
COLOURS = ("visitor", "lesson")
SOME = 3
"""So many findings are said."""


@dataclass(frozen=True)
class Beat:
    """One step of a story. ``says`` are sentences; ``moves`` are made after they were said."""

    chapter: str
    picture: str
    says: tuple[str, ...]
    moves: str = ""


@dataclass(frozen=True)
class Story:
    """``position`` is a fingerprint of what is seen, so that a story is not told of another ticket by mistake.

    ``held`` are the whole-puzzle rotations that lead from how its slots are named to how it is held for the moves and pictures.
    ``culprit`` names the pieces that are taken for the culprit, by home slot; empty where there is none. ``words_a_minute``
    is the pace of speech, ``seconds_a_turn`` how long a quarter turn takes on the screen.
    """

    title: str
    puzzle: str
    position: str
    beats: tuple[Beat, ...]
    culprit: tuple[str, ...] = ()
    held: str = ""
    colours: str = "visitor"
    words_a_minute: int = 140
    seconds_a_turn: float = 0.8

    @property
    def moves(self) -> str:
        """All moves of the story, in order."""
        return " ".join(beat.moves for beat in self.beats if beat.moves)


def story_of(answer: Answer, told: TaughtWay | None = None, reader: Reader = VISITOR) -> Story:
    """The story of an answer, ready to be edited. ``told`` is the way out that is shown: by default the easiest to follow.

    Its moves are those of the hands that hold the puzzle as the ``reader`` does.

    >>> from oddswap import answer, changed, load
    >>> prism = load("shape-mod:prism8")
    >>> story = story_of(answer(prism, prism.appearance(changed(prism, ["flip UF"]))))
    >>> [beat.chapter for beat in story.beats][:3]
    ['What is seen', 'Why it looks impossible', 'Where the culprit can hide']
    """
    found, puzzle = answer.diagnosis, answer.puzzle
    beats = [Beat("What is seen", "seen", (introduced(puzzle), *seen_sentences(puzzle, answer.appearance, reader)))]
    done = in_hand(replace(answer, told=(told,)) if told else answer, reader.holding)
    way = _way(done, reader)
    wording = OPENED if found.verdict == ORDINARY and isinstance(puzzle, BoxPuzzle) else WORDINGS[found.verdict]
    if found.verdict == ORDINARY:
        beats += [Beat("Why it can happen", "law", wording.captions), *way]
    elif found.verdict == LOOKALIKE:
        beats += _lookalike(answer, way, reader)
    elif found.verdict == OTHER_TURNS:
        beats += _other_turns(answer, way, reader)
    elif found.verdict == NOT_BY_TURNING:
        beats += _not_by_turning(answer, reader)
    else:
        beats += _cannot_tell(answer, reader)
    strange = found.verdict == NOT_BY_TURNING and not found.broken
    lesson = LOOK_TWICE if strange else wording.remember
    beats.append(Beat("What to remember", "card", (lesson, "Count before you move anything, and never force what sticks.")))
    culprit = found.culprits[0].pieces if found.culprits else ()
    title, position = f"{capital(puzzle.title)}: {wording.title}", fingerprint(answer.appearance)
    return Story(title, puzzle.name, position, tuple(beats), culprit, done.held)


def fingerprint(appearance: Appearance) -> str:
    """A short name for what is seen on a puzzle."""
    text = repr((appearance.puzzle, [sorted(sight) for sight in appearance.sights]))
    return sha256(text.encode()).hexdigest()[:16]


def _broken(answer: Answer, reader: Reader) -> list[Beat]:
    """The law that what is seen seems to break; nothing if there is none."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if not found.broken:
        return []
    says = [f"{capital(law_and_seen(answer, reader))}.", f"No {_move(puzzle)} can change that."]
    if more := len(found.broken) - 1:
        says.append(
            f"And {number_word(more)} more law{'s' if more > 1 else ''} of the kind {'are' if more > 1 else 'is'} broken."
        )
    return [Beat("Why it looks impossible", "law", tuple(says))]


def _noted(answer: Answer, reader: Reader) -> list[str]:
    """What was found beside the verdict, in sentences that can be spoken."""
    heard_of = filter(None, (heard(answer.puzzle, finding, reader) for finding in answer.diagnosis.findings))
    return [sentence for note in list(heard_of)[:SOME] for sentence in spoken(note)]


def _move(puzzle: Puzzle) -> str:
    return "turn" if puzzle.blank is None else "slide"


def _lookalike(answer: Answer, way: list[Beat], reader: Reader) -> list[Beat]:
    found, puzzle = answer.diagnosis, answer.puzzle
    one, many = "several swaps at once, too many to be told apart", len(found.culprits)
    if many:
        one = heard(puzzle, found.culprits[0], reader, found.first)
    hidden = [*WORDINGS[LOOKALIKE].captions, f"{capital(one)}." if many < 2 else f"For instance: {one}."]
    if many > 1:
        several = capital(number_word(many))
        hidden.append(f"{several} culprits would explain it: you cannot see which it is, and need not know.")
    beats = [*_broken(answer, reader), Beat("Where the culprit can hide", "xray", tuple(hidden)), *way]
    if any(beat.moves for beat in way):
        more = dict.fromkeys(piece for change in answer.easiest.leaves for piece in change.touched)
        why = (
            "The way out has put right what we saw, and with it something that nobody can see.",
            f"The two together keep every law. That is why {_move(puzzle).removesuffix('e')}ing could do it.",
            *([f"Unseen, it has changed {piece_names(puzzle, tuple(more), reader)} as well."] if more else []),
        )
        beats.append(Beat("Why it worked", "law", why))
    return beats


def _other_turns(answer: Answer, way: list[Beat], reader: Reader) -> list[Beat]:
    words = (*WORDINGS[OTHER_TURNS].captions, *_noted(answer, reader))
    if answer.diagnosis.has(MadeByHand):
        return [*_broken(answer, reader), Beat("Who did it", "card", words)]
    warning = "If a layer does not want to turn, do not force it: a copy may not make these turns at all."
    return [*_broken(answer, reader), Beat("Which turns it takes", "card", (*words, warning)), *way]


def _not_by_turning(answer: Answer, reader: Reader) -> list[Beat]:
    found, puzzle = answer.diagnosis, answer.puzzle
    beats = _broken(answer, reader)
    looked = [f"{capital(heard(puzzle, slip, reader))}." for slip in found.slips[:2]]
    if looked:
        beats.append(Beat("Look once more", "card", ("A slip in the description would explain it. For instance:", *looked)))
    if noted := _noted(answer, reader):
        more = len(found.findings) - SOME
        beats.append(
            Beat("What was found", "card", (*noted, *([f"And {number_word(more)} more of the kind."] if more > 0 else [])))
        )
    if repair := answer.repair:
        says = (
            *WORDINGS[NOT_BY_TURNING].captions,
            f"The smallest repair by hand: {heard(puzzle, repair, reader)}.",
            *(f"{capital(caution).rstrip('.')}." for caution in repair.cautions),
        )
        beats.append(Beat("The repair by hand", "seen", says))
    return beats


def _cannot_tell(answer: Answer, reader: Reader) -> list[Beat]:
    if answer.diagnosis.hangs_on_measuring:
        return [Beat("What to measure", "card", tuple(measuring_for_anybody(answer, reader)))]
    says, asked = why_sentences(answer, reader), answer.diagnosis.asked
    beats = [Beat("What is not seen decides", "card", says)] if says else []
    if asked:
        ask, *then = (heard(answer.puzzle, view, reader) for view in asked[:2])
        more = tuple(f"Next best: {view}." for view in then)
        beats.append(Beat("What to look at next", "seen", (f"What would tell most: {ask}.", *more)))
    return beats


def _way(done: InHand, reader: Reader) -> list[Beat]:
    """The way out, a beat for each of its phases."""
    answer, told = done.answer, done.answer.easiest
    way, puzzle = answer.way_out, answer.turning
    if way is None:
        return []
    if way.moves is None:
        says = ("There is a way out: that is proved.", "It was not found in the time that was given. Give it more time.")
        return [Beat("The way out", "card", says)]
    if told is None:
        return []
    parts = [(step.name.replace("stage", ""), heard(puzzle, step.aim, reader), step.moves) for step in told.phases]
    parts = parts or [("", "", told.turns)]
    length = told.length
    if length == way.length and way.shortest:
        proved = f"and no way is shorter, each {_move(puzzle)} counted as one"
    else:
        known = f"; the shortest that is known takes {number_word(way.length)}, but this one is easier to follow"
        proved = known if length > way.length else "though a shorter one may exist"
    start = f"The way out takes {number_word(length)} {_move(puzzle)}s" + (proved if proved[0] == ";" else f", {proved}") + "."
    hidden = told.mends and piece_names(puzzle, told.mends.pieces, reader)
    counted = (f"From here on the tally counts what is hidden, too: {hidden}.",) if hidden else ()
    named = filter(None, [names_explained(puzzle, [told.turns])])
    hold = "Hold it as you see it here, and turn slowly." if puzzle.geometry is not None else "Take your time."
    if reader.colours and not done.first:
        hold = f"{hold_words(answer.puzzle, answer.appearance, done.holding, reader.colours)}, and turn slowly."
    if len(parts) == 1:
        return [Beat("The way out", "way", (start, *counted, hold, *named), parts[0][2])]
    beats = []
    for place, (name, words, moves) in enumerate(parts, 1):
        first = (start, *counted, f"It comes in {number_word(len(parts))} parts.", hold, *named) if place == 1 else ()
        chapter = f"The way out, part {place}" + (f": {name}" if name else "")
        beats.append(Beat(chapter, "way", (*first, *spoken(words)), moves))
    return beats
