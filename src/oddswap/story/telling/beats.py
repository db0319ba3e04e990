"""A story: what explains one ticket, beat by beat. Data first, so that the explainer can edit it; pictures come later.

Every beat has a chapter, what is said, a picture, and the moves that are made in it. Nothing of a visitor's note is in it.
"""

from dataclasses import dataclass, replace
from hashlib import sha256
from itertools import groupby

import numpy as np

from oddswap.errors import BadStory
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand, in_hand
from oddswap.reasoning.teaching.phases import PlaceInStage
from oddswap.reasoning.teaching.tool_ways import THROUGH, TaughtWay
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, ORDINARY, OTHER_TURNS, Culprit
from oddswap.reasoning.verdicts.repairs import HandSwap
from oddswap.showing.ink.sight import examples, plain_of, sort_of
from oddswap.showing.pictures.strip import made_by, states_along
from oddswap.story.telling.captions import FASTEST
from oddswap.values.grammar import capital
from oddswap.values.position import Appearance, Arrangement
from oddswap.words.products import in_a_clip, sights, stories
from oddswap.words.products.in_a_clip import in_short
from oddswap.words.table import VISITOR, Reader
from oddswap.words.to_visitors.moves import moving_word
from oddswap.words.to_visitors.places import FEW
from oddswap.words.to_visitors.why import measuring_for_anybody

PICTURES = ("seen", "plain", "law", "lift", "xray", "way")
"""What a beat shows: the position; a plain puzzle beside it; the law kept and broken; a piece taken out, turned over and put
back; the culprits hatched; the moves."""
COLOURS, HARD_SPACE = ("visitor", "lesson"), "\xa0"
"""In whose colours; and what stands in a colour's name, so that no sentence is cut there."""
MARKED, HARD, QUICK, UNSEEN = 2, "exchange", 20, "?"
"""So many pieces are marked at once, the part of a way in which the hard turn is, more moves than so many are shown fast, and the
mark for what was not seen."""


@dataclass(frozen=True)
class Beat:
    """One step of a story. ``says`` are sentences; ``moves`` are made after they were said.

    ``large`` are a headline and a second line beside the puzzle. ``marks`` name the pieces, by home slot, that each sentence
    speaks of; ``?`` is all that was not seen: that is looked at, and has no mark. ``demo`` are moves that are only shown and lead
    back. The move of number ``hard``, from 1, is made slowly and then shown again; 0 for none.
    """

    chapter: str
    picture: str
    says: tuple[str, ...]
    moves: str = ""
    large: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    demo: str = ""
    hard: int = 0


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
    words_a_minute: int = FASTEST
    seconds_a_turn: float = 0.6

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
    ['What is seen', 'What is wrong', 'Who is who']
    """
    whole = {paint: word.replace(" ", HARD_SPACE) for paint, word in reader.colours.items()}
    reader, done = replace(reader, colours=whole), in_hand(replace(answer, told=(told,)) if told else answer, reader.holding)
    mended = done.answer.easiest and done.answer.easiest.mends
    culprit = mended or next(iter(done.answer.diagnosis.culprits), None)
    beats = [*_sight(answer, reader), *_by_verdict(done, culprit, reader), *_end(answer, reader)]
    said, pieces = tuple(_headed(beat, answer.puzzle) for beat in beats if beat.says), culprit.pieces if culprit else ()
    return Story(stories.title_words(answer), answer.puzzle.name, fingerprint(answer.appearance), said, pieces, done.held)


def _headed(beat: Beat, puzzle: Puzzle) -> Beat:
    """A beat with a headline, if there is room for one, and names of colours as they are written."""
    beat = replace(beat, says=tuple(said.replace(HARD_SPACE, " ") for said in beat.says))
    head = stories.HEADS.get(beat.chapter, "").format(capital(moving_word(puzzle)))
    return replace(beat, large=(head,)) if head and not beat.large and beat.picture not in ("law", "plain") else beat


def layer_story_of(answer: Answer, reader: Reader = VISITOR) -> Story:
    """The story for those who solve in layers: on to the false parity, back to the stage where it began, and to the end.

    `BadStory` where the layer method meets none.
    """
    through = next((way for way in answer.told if THROUGH in way.sorts), None)
    if through is None:
        raise BadStory("the layer method meets no false parity here: tell this story without --audience layers")
    same = groupby(through.phases, lambda part: replace(part.aim, slots=()) if isinstance(part.aim, PlaceInStage) else part)
    parts = [[*some] for _, some in same]
    stages = tuple(replace(some[0], moves=" ".join(part.moves for part in some)) for some in parts)
    return story_of(answer, replace(through, phases=stages), reader)


def _wrong(answer: Answer) -> list[str]:
    """The pieces that look wrong, by where they are at home, if they are few."""
    told, turning, wrong = answer.diagnosis.explanation, answer.turning, sights.wrong_places(answer)
    names = wrong if len(wrong) <= FEW else []
    return [turning.slots[told.pieces[turning.slot(name)]] for name in names] if told else names


def _sight(answer: Answer, reader: Reader) -> list[Beat]:
    large, wrong = sights.sight_words(answer), _wrong(answer)
    marks = (" ".join(wrong[:MARKED]),)
    first, *rest = sights.seen_in_short(answer, reader)
    unseen = [one for some in rest for one in some]
    said, named = (*first, *unseen), (" ".join(wrong),) * len(first) + (UNSEEN,) * len(unseen)
    grey = stories.GREY if answer.appearance.uncertain else stories.CLOSELY
    hook = Beat("What is seen", "seen", (sights.sight_sentence(answer),), large=large, marks=marks)
    beats = [hook, Beat("What is wrong", "seen", said, large=large[1:] or (grey,), marks=named)]
    if wrong and answer.verdict == LOOKALIKE and plain_of(answer.turning):
        demo = _demo(answer.turning, wrong[0])
        beats.append(Beat("Who is who", "plain", stories.WHO, marks=(wrong[0],) * len(stories.WHO), demo=demo))
    return beats


def _demo(puzzle: Puzzle, piece: str) -> str:
    """A turn that carries a piece along, there and back."""
    slot = puzzle.slot(piece)
    turn = next((turn.name for turn in puzzle.turns.values() if slot in turn.slots), "")
    return f"{turn} {puzzle.undone(turn)}" if turn else ""


def _end(answer: Answer, reader: Reader) -> list[Beat]:
    (pieces, left), large = stories.left_unseen(answer, reader), sights.lesson_words(answer)
    said = (*left, stories.NO_FORCE) if left else stories.lesson_sentences(answer)
    return [
        Beat("What to remember", "seen", said, large=(large,), marks=(pieces,) if pieces else ()),
        Beat("Send me yours", "seen", (stories.SEND,), large=(stories.YOURS_PLEASE,)),
    ]


def fingerprint(appearance: Appearance) -> str:
    """A short name for what is seen on a puzzle."""
    text = repr((appearance.puzzle, [sorted(sight) for sight in appearance.sights]))
    return sha256(text.encode()).hexdigest()[:16]


def _by_verdict(done: InHand, culprit: Culprit | None, reader: Reader) -> list[Beat]:
    """The beats of the verdict; there is nothing to say in those that are left out."""
    answer, found = done.answer, done.answer.diagnosis
    way = _way(done, culprit, reader)
    if found.verdict == ORDINARY:
        return [Beat("Why it can happen", "seen", tuple(in_short(*stories.wording_of(answer).captions))), *way]
    if found.hangs_on_measuring:
        return [Beat("What to measure", "seen", tuple(in_short(*measuring_for_anybody(answer, reader))))]
    if found.verdict == CANNOT_TELL:
        asked, corner = stories.asked_sentences(answer, reader), stories.place_asked(answer)
        unseen = Beat("What is not seen decides", "seen", stories.HALF_SEEN, marks=(UNSEEN,) * len(stories.HALF_SEEN))
        return [unseen, Beat("What to look at next", "seen", asked, marks=(corner,) * len(asked))]
    shown = examples(answer.puzzle, found.broken[0], done.eye) if found.broken else None
    said = in_a_clip.law_sentences(answer, reader, sort_of(found.broken[0]) if found.broken else "")
    law = Beat("What everyone knows", "law" if shown else "seen", said)
    if found.verdict == LOOKALIKE:
        parts = answer.easiest.phases if answer.easiest else ()
        before = next((n for n, part in enumerate(parts, 1) if isinstance(part.aim, PlaceInStage) and part.aim.again), 1)
        met = []
        if before > 1:  # the tape comes on when the culprit is known
            tape, *said = way[0].says
            met = [replace(way[0], says=tuple(said), marks=()), *way[1:before]]
            way = [replace(way[before], says=(tape, *way[before].says), marks=way[0].marks), *way[before + 1 :]]
        named = (" ".join(culprit.pieces) if culprit else "",)
        said = stories.came_sentences(answer)
        came = Beat("How it came to that", "seen", said, large=(stories.INNOCENT,), marks=named * len(said))
        return [*met, law, *_hidden(answer, culprit, reader), *way, came]
    if found.verdict == OTHER_TURNS:
        chapter = "Who did it" if found.has(MadeByHand) else "Which turns it takes"
        return [law, Beat(chapter, "seen", stories.other_turns_sentences(answer)), *way]
    return [
        law,
        Beat("Look once more", "seen", stories.slip_sentences(answer, reader), marks=(" ".join(_wrong(answer)[:MARKED]),)),
        Beat("What was found", "seen", stories.finding_sentences(answer, reader)),
        *_repair(answer, reader),
    ]


def _repair(answer: Answer, reader: Reader) -> list[Beat]:
    """How it may have come to that, the cautions, and the smallest repair with what it touches marked."""
    came, repair, cautions = in_a_clip.repair_sentences(answer, reader)
    by_hand = answer.repair.by_hand if answer.repair else ()
    touched = " ".join(" ".join(change.slots) if isinstance(change, HandSwap) else change.slot for change in by_hand)
    return [
        Beat("How it came to that", "seen", came, large=(stories.HAPPENS,)),
        Beat("Before you open anything", "seen", cautions),
        Beat("The repair by hand", "seen", repair, marks=(touched,) * len(repair)),
    ]


def _hidden(answer: Answer, culprit: Culprit | None, reader: Reader) -> list[Beat]:
    """What one can't see, and who could be the culprit."""
    named, said = " ".join(culprit.pieces) if culprit else "", in_a_clip.culprit_sentences(answer, reader, culprit)
    who = Beat("Who could be the culprit", "xray", said, large=in_a_clip.culprit_words(answer), marks=(named, named))
    if culprit is None or len(culprit.pieces) > MARKED:
        return [who]
    twist = answer.turning.kind_of[answer.turning.slot(culprit.pieces[0])].twist
    head, *said = stories.OVER["swap" if len(culprit.pieces) > 1 else "flip" if twist == 2 else "turn"]
    return [Beat("What one can't see", "lift", tuple(said), large=(head, stories.NO_TRACE), marks=(named, named)), who]


def _way(done: InHand, culprit: Culprit | None, reader: Reader) -> list[Beat]:
    """The way out, a beat for each of its phases."""
    way, told = done.answer.way_out, done.answer.easiest
    if way is not None and way.moves is None:
        return [Beat("The way out", "seen", stories.NOT_FOUND_YET)]
    if way is None or told is None or not told.turns:
        return []
    says, parts = stories.way_sentences(done, reader), told.phases
    large = (stories.way_headline(told.length, done.answer.turning),)
    marks = (" ".join(culprit.pieces),) if culprit and told.mends else ()
    if len(parts) < 2:
        moves = parts[0].moves if parts else told.turns
        says = (*says, *stories.fast_words(shown_fast(done.answer.turning, moves), done.answer.turning))
        hard = _hard(done, moves, _wrong(done.answer), culprit)
        return [Beat("The way out", "way", says, moves, large, marks, hard=hard)]
    beats, state = [Beat("The way out", "way", says, large=large, marks=marks)], done.answer.diagnosis.explanation
    catch, before = (stories.CATCH,), ()
    for number, part in enumerate(parts, 1):
        head, said = stories.phase_words(done.answer, part, reader)
        steps = done.answer.turning.read(part.moves).steps
        *_, state = states_along(done.answer.turning, state, made_by(done.answer.turning, steps, state, done.eye)[0])
        sides = (done.eye.hand(face) for face in sticking_out(done.answer.turning, state))
        if (outline := stories.outline_sentences(tuple(sides))) != before:
            said, catch, before = (*said, *outline, *(catch if outline else ())), () if outline else catch, outline
        said = (*said, *stories.fast_words(shown_fast(done.answer.turning, part.moves), done.answer.turning))
        hard = (len(steps) + 1) // 2 if part.name == HARD else 0
        beats.append(Beat(stories.part_words(number, part), "way", said, part.moves, large=(head,) if head else large, hard=hard))
    return beats


def shown_fast(puzzle: Puzzle, moves: str) -> int:
    """How many moves there are, if that is so many that they are shown fast; else 0."""
    count = len(puzzle.read(moves).steps) if moves else 0
    return count if count > QUICK else 0


def sticking_out(puzzle: Puzzle, state: Arrangement) -> tuple[str, ...]:
    """The sides beyond which cells of an open box lie, by the names that its slots have; none for all else."""
    if not puzzle.leaves_outline:
        return ()
    cells = np.array(puzzle.places)
    now, home = cells[puzzle.outline(state)], cells[puzzle.filled]
    return tuple(face for face, way in DIRECTIONS.items() if (now @ way).max() > (home @ way).max())


def _hard(done: InHand, moves: str, wrong: list[str], culprit: Culprit | None) -> int:
    """The number of the first move that carries along all that looks wrong and all that is, unseen; 0 for none."""
    puzzle, start = done.answer.turning, done.answer.diagnosis.explanation
    followed = [puzzle.slot(name) for name in (*wrong, *culprit.pieces)] if culprit and wrong else []
    made = made_by(puzzle, puzzle.read(moves).steps, start, done.eye)[0] if followed else ()
    moved = [{slot for turn in turns for slot in turn.slots} for turns in made]
    followed_to = ({*map(state.pieces.index, followed)} for state in states_along(puzzle, start, made))
    return next((number for number, (at, slots) in enumerate(zip(followed_to, moved, strict=False), 1) if at <= slots), 0)


STORIES = {"anybody": story_of, "layers": layer_story_of}
"""What makes a story, by whom it is told to."""
