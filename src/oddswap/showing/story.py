"""A story: what explains one ticket, beat by beat. Data first, so that the explainer can edit it; pictures come later.

Every beat has a chapter, what is said, a picture, and the moves that are made in it. Nothing of a visitor's note is in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256

from oddswap.puzzles.puzzle import Puzzle
from oddswap.puzzles.sights import sight_words
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.diagnosis import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.statements import capital, listed
from oddswap.values.appearance import Appearance

PICTURES = ("seen", "law", "xray", "way", "card")
"""What a beat shows: the position; it with the tally; it with the culprits hatched; the moves; words alone."""
COLOURS = ("visitor", "lesson")
FEW = 4
"""So many slots that look wrong are named one by one."""
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

    ``culprit`` names the pieces that are taken for the culprit, by home slot; empty where there is none. ``words_a_minute``
    is the pace of speech, ``seconds_a_turn`` how long a quarter turn takes on the screen.
    """

    title: str
    puzzle: str
    position: str
    beats: tuple[Beat, ...]
    culprit: tuple[str, ...] = ()
    colours: str = "visitor"
    words_a_minute: int = 140
    seconds_a_turn: float = 0.8

    @property
    def moves(self) -> str:
        """All moves of the story, in order."""
        return " ".join(beat.moves for beat in self.beats if beat.moves)


def story_of(answer: Answer) -> Story:
    """The story of an answer, ready to be edited.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.puzzles.changes import changed
    >>> from oddswap.reasoning.answers import answer
    >>> prism = load("shape-mod:prism8")
    >>> story = story_of(answer(prism, prism.appearance(changed(prism, ["flip UF"]))))
    >>> [beat.chapter for beat in story.beats][:3]
    ['What is seen', 'Why it looks impossible', 'Where the culprit can hide']
    """
    found, puzzle = answer.diagnosis, answer.puzzle
    named = capital(puzzle.title)
    beats = [Beat("What is seen", "seen", (f"{named}.", *seen_sentences(puzzle, answer.appearance)))]
    beats += {
        ORDINARY: _ordinary,
        LOOKALIKE: _lookalike,
        OTHER_TURNS: _other_turns,
        NOT_BY_TURNING: _not_by_turning,
        CANNOT_TELL: _cannot_tell,
    }[found.verdict](answer)
    culprit = found.culprits[0].pieces if found.culprits else ()
    title, position = f"{named}: {found.verdict}", fingerprint(answer.appearance)
    return Story(title, puzzle.name, position, tuple(beats), culprit)


def fingerprint(appearance: Appearance) -> str:
    """A short name for what is seen on a puzzle."""
    text = repr((appearance.puzzle, [sorted(sight) for sight in appearance.sights]))
    return sha256(text.encode()).hexdigest()[:16]


def seen_sentences(puzzle: Puzzle, appearance: Appearance) -> tuple[str, ...]:
    """What looks wrong, slot by slot where that is little."""
    solved = puzzle.appearance(puzzle.solved).sights
    unseen = len(appearance.uncertain)
    wrong = [b for b, sight in enumerate(appearance.sights) if len(sight) < 2 and sight != solved[b]]
    rest = "everything else looks right" if not unseen else f"{_number(unseen)} more slots were not seen for certain"
    if not wrong:
        return ("What is seen looks solved." if not unseen else f"Nothing that is seen looks wrong; {rest}.",)
    if len(wrong) > FEW:
        return (f"{capital(_number(len(wrong)))} slots do not look as they should, and {rest}.",)
    told = [_told(puzzle, b, sight_words(puzzle, b, appearance.sights[b])) for b in wrong]
    return (*(f"{capital(words)}." for words in told), f"{capital(rest)}.")


def _told(puzzle: Puzzle, slot: int, words: str) -> str:
    name = puzzle.slots[slot]
    piece, _, way = words.partition(" ")
    if words == "foreign":
        return f"at {name} is something that no piece of the puzzle can show"
    if piece == name:
        return f"the piece at {name} is in its place, but {way or 'not as it should be'}"
    return f"at {name} sits the {piece} piece" + (f", {way}" if way else "")


def _number(count: int) -> str:
    names = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return names[count] if count < len(names) else str(count)


def _broken(answer: Answer) -> Beat:
    found = answer.diagnosis
    says = [law.statement for law in found.broken]
    says.append("No turn changes what that counts. As it looks, it is broken.")
    return Beat("Why it looks impossible", "law", tuple(says))


def _ordinary(answer: Answer) -> list[Beat]:
    words = (
        "It may look odd, but no law of this puzzle is broken.",
        "So turning alone leads to it, and turning alone leads out of it again.",
    )
    why = Beat("Why it can happen", "law", words)
    return [why, *_way(answer), _remember("An odd look is not yet a broken law: count first.")]


def _lookalike(answer: Answer) -> list[Beat]:
    found = answer.diagnosis
    one = found.culprits[0]
    many = len(found.culprits)
    hidden = [
        "But some pieces of this puzzle are not what they seem.",
        f"{capital(one.words)}." if many == 1 else f"For instance: {one.words}.",
    ]
    if many > 1:
        hidden.append(f"There are {_number(many)} such culprits, and nobody can see which one it is.")
    beats = [_broken(answer)] if found.broken else []
    beats.append(Beat("Where the culprit can hide", "xray", tuple(hidden)))
    why = (
        "The way out has done two things at once: what we saw, and what nobody can see.",
        "Together they break no law. That is why turning could do it.",
    )
    beats += [*_way(answer), Beat("Why it worked", "law", why)]
    return [*beats, _remember("A law counts pieces. You see shapes and colours.")]


def _other_turns(answer: Answer) -> list[Beat]:
    found = answer.diagnosis
    words = ["The turns that this copy makes cannot lead there.", *(f"{capital(note)}." for note in found.notes)]
    warning = "If a layer does not want to turn, do not force it: a copy may not make these turns at all."
    beats = [_broken(answer)] if found.broken else []
    beats += [Beat("Which turns it takes", "card", (*words, warning)), *_way(answer)]
    return [*beats, _remember("What is impossible depends on the turns that are allowed.")]


def _not_by_turning(answer: Answer) -> list[Beat]:
    found = answer.diagnosis
    beats = [_broken(answer)] if found.broken else []
    looked = [f"{capital(slip.words)}." for slip in found.slips[:2]]
    if looked:
        beats.append(Beat("Look once more", "card", ("A slip in the description would explain it. For instance:", *looked)))
    if found.notes:
        told = tuple(f"{capital(note)}." for note in found.notes[:SOME])
        more = (f"And {_number(len(found.notes) - SOME)} more of the kind.",) if len(found.notes) > SOME else ()
        beats.append(Beat("What was found", "card", told + more))
    if found.repair:
        says = (
            "If it is as it looks, a hand has put a piece in some other way, or a piece has twisted by itself.",
            "That happens by accident, and it is nobody's fault.",
            f"The smallest repair by hand: {found.repair.words}.",
            *(f"{capital(caution).rstrip('.')}." for caution in found.repair.cautions),
        )
        beats.append(Beat("The repair by hand", "seen", says))
    if found.broken:
        return [*beats, _remember("One broken law is proof enough: no turning can help, however long.")]
    return [*beats, _remember("Look twice before you open anything: a slip of the pen is likelier than a strange piece.")]


def _cannot_tell(answer: Answer) -> list[Beat]:
    found = answer.diagnosis
    says = tuple(f"{capital(note)}." for note in found.notes)
    ask = (f"So the next thing to send is {listed(found.ask_next[:2])}.",) if found.ask_next else ()
    return [Beat("What is not seen decides", "card", (*says, *ask)), _remember("Half a picture is half a proof.")]


def _way(answer: Answer) -> list[Beat]:
    way = answer.way_out
    if way is None or not way.moves:
        return []
    proved = "and no way is shorter, counting each turn of a slab as one" if way.shortest else "though a shorter one may exist"
    start = f"The way out takes {_number(way.length)} turns, {proved}."
    if not way.phases:
        return [Beat("The way out", "way", (start, "Hold it as you see it here, and turn slowly."), way.moves)]
    beats = []
    for number, (words, moves) in enumerate(way.phases, 1):
        says = (f"{capital(words)}.",) if number > 1 else (start, f"First: {words}.")
        beats.append(Beat(f"The way out, part {number}", "way", says, moves))
    return beats


def _remember(words: str) -> Beat:
    return Beat("What to remember", "card", (words, "Count, before you turn. And never force a layer that sticks."))
