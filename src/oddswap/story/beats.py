"""A story: what explains one ticket, beat by beat. Data first, so that the explainer can edit it; pictures come later.

Every beat has a chapter, what is said, a picture, and the moves that are made in it. Nothing of a visitor's note is in it.
"""

from dataclasses import dataclass, replace
from hashlib import sha256

from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.in_hand import InHand, in_hand
from oddswap.reasoning.teaching.tool_ways import TaughtWay
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, ORDINARY, OTHER_TURNS
from oddswap.values.appearance import Appearance
from oddswap.words.products import stories
from oddswap.words.reader import VISITOR, Reader
from oddswap.words.spoken import spoken
from oddswap.words.to_visitors.heard import heard
from oddswap.words.to_visitors.measured import measuring_for_anybody
from oddswap.words.to_visitors.why import why_sentences

PICTURES = ("seen", "law", "xray", "way", "card")
"""What a beat shows: the position; it with the tally; it with the culprits hatched; the moves; words alone."""
COLOURS = ("visitor", "lesson")


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
    done = in_hand(replace(answer, told=(told,)) if told else answer, reader.holding)
    beats = [
        Beat("What is seen", "seen", stories.position_sentences(answer, reader)),
        *_by_verdict(answer, _way(done, reader), reader),
        Beat("What to remember", "card", stories.lesson_sentences(answer)),
    ]
    said, culprits = tuple(beat for beat in beats if beat.says), answer.diagnosis.culprits
    culprit = culprits[0].pieces if culprits else ()
    return Story(stories.title_words(answer), answer.puzzle.name, fingerprint(answer.appearance), said, culprit, done.held)


def fingerprint(appearance: Appearance) -> str:
    """A short name for what is seen on a puzzle."""
    text = repr((appearance.puzzle, [sorted(sight) for sight in appearance.sights]))
    return sha256(text.encode()).hexdigest()[:16]


def _by_verdict(answer: Answer, way: list[Beat], reader: Reader) -> list[Beat]:
    """The beats of the verdict; there is nothing to say in those that are left out."""
    found = answer.diagnosis
    if found.verdict == ORDINARY:
        return [Beat("Why it can happen", "law", stories.wording_of(answer).captions), *way]
    if found.hangs_on_measuring:
        return [Beat("What to measure", "card", tuple(measuring_for_anybody(answer, reader)))]
    if found.verdict == CANNOT_TELL:
        unseen = Beat("What is not seen decides", "card", why_sentences(answer, reader))
        return [unseen, Beat("What to look at next", "seen", stories.asked_sentences(answer, reader))]
    law = Beat("Why it looks impossible", "law", stories.law_sentences(answer, reader))
    if found.verdict == LOOKALIKE:
        hidden = Beat("Where the culprit can hide", "xray", stories.culprit_sentences(answer, reader))
        mended = stories.mended_sentences(answer, reader) if any(beat.moves for beat in way) else ()
        return [law, hidden, *way, Beat("Why it worked", "law", mended)]
    if found.verdict == OTHER_TURNS:
        words, by_hand = stories.other_turns_sentences(answer, reader), found.has(MadeByHand)
        return [law, Beat("Who did it", "card", words)] if by_hand else [law, Beat("Which turns it takes", "card", words), *way]
    return [
        law,
        Beat("Look once more", "card", stories.slip_sentences(answer, reader)),
        Beat("What was found", "card", stories.finding_sentences(answer, reader)),
        Beat("The repair by hand", "seen", stories.repair_sentences(answer, reader)),
    ]


def _way(done: InHand, reader: Reader) -> list[Beat]:
    """The way out, a beat for each of its phases."""
    way, told = done.answer.way_out, done.answer.easiest
    if way is not None and way.moves is None:
        return [Beat("The way out", "card", stories.NOT_FOUND_YET)]
    if way is None or told is None:
        return []
    says, parts = stories.way_sentences(done, reader), told.phases
    if len(parts) < 2:
        return [Beat("The way out", "way", says, parts[0].moves if parts else told.turns)]
    beats = []
    for number, part in enumerate(parts, 1):
        aim = spoken(heard(done.answer.turning, part.aim, reader))
        beats.append(Beat(stories.part_words(number, part), "way", tuple(aim if number > 1 else [*says, *aim]), part.moves))
    return beats
