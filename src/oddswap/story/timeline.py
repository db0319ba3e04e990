"""When everything happens in a story, in whole frames: what is said, what is seen, and every turn on its way."""

from __future__ import annotations

from dataclasses import dataclass, replace

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.reasoning.answers import Answer
from oddswap.showing.pictures.strip import after_turns, made_by
from oddswap.story.beats import Story
from oddswap.story.captions import Cue, frames_of, pieces_of
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement
from oddswap.values.holding import START, Holding

LEAD, PAUSE, AFTER = 0.5, 0.2, 0.9
"""Seconds before the first word of a beat, between sentences, and after the last thing of a beat."""
ARROW, REST = 0.5, 0.2
"""Seconds that an arrow shows before its turn, and that the puzzle rests after it."""


@dataclass(frozen=True, eq=False)
class Shot:
    """What is on the screen from frame ``first`` until before ``last``.

    ``turns`` are on their way if ``moving``; else, if there are any, their arrow is shown. ``move`` counts the moves of the beat
    (-1 before the first), ``made`` the turns of single slabs that are done in the whole story.
    """

    first: int
    last: int
    beat: int
    shown: Arrangement | Appearance
    turns: tuple[Turn, ...] = ()
    moving: bool = False
    move: int = -1
    made: int = 0

    def done(self, frame: int) -> float:
        """How far the turns are at a frame, 0 to 1, eased in and out (no jerk at either end)."""
        if not self.moving:
            return 0.0
        t = (frame - self.first + 1) / (self.last - self.first + 1)
        return t * t * t * (10 - 15 * t + 6 * t * t)


@dataclass(frozen=True, eq=False)
class Timeline:
    """``shots`` follow each other without gaps; ``cues`` are what is said; ``starts`` the first frame of each beat.

    ``spoken[i]``: the cues of each sentence of beat i; ``names[i]``: the moves of beat i as they are written,
    by hands that hold the puzzle as in ``holding``.
    """

    story: Story
    frames_a_second: int
    shots: tuple[Shot, ...]
    cues: tuple[Cue, ...]
    starts: tuple[int, ...]
    spoken: tuple[tuple[tuple[Cue, ...], ...], ...]
    names: tuple[tuple[str, ...], ...]
    holding: Holding = START

    @property
    def frames(self) -> int:
        return self.shots[-1].last

    @property
    def seconds(self) -> float:
        return self.frames / self.frames_a_second

    def shot_at(self, frame: int) -> Shot:
        return next(shot for shot in self.shots if shot.first <= frame < shot.last)

    def only(self, beats: set[int]) -> Timeline:
        """The part of the timeline in which these beats are, from frame 0 on."""
        shots, cues, starts, at = [], [], [], 0
        for shot in self.shots:
            if shot.beat in beats:
                move = at - shot.first
                shots.append(replace(shot, first=at, last=shot.last + move))
                said = (cue for cue in self.cues if shot.first <= cue.first < shot.last)
                cues += [replace(cue, first=cue.first + move, last=cue.last + move) for cue in said]
                at += shot.last - shot.first
                starts.append(shots[-1].first)
        return replace(self, shots=tuple(shots), cues=tuple(cues), starts=tuple(starts))


def timeline(story: Story, answer: Answer, frames_a_second: int = 30) -> Timeline:
    """The story of an answer laid out in time.

    >>> import oddswap
    >>> found = oddswap.answer("cube:2", "R U")
    >>> round(timeline(oddswap.story_of(found), found).seconds)
    51
    """
    seconds = lambda s: max(1, round(s * frames_a_second))  # noqa: E731
    puzzle: Puzzle = answer.turning
    holding = puzzle.settled(story.held)[1] if story.held else START
    explanation = _explanation(story, answer)
    shown: Arrangement | Appearance = answer.appearance if explanation is None else explanation
    at, made = 0, 0
    shots: list[Shot] = []
    spoken, names, starts = [], [], []
    for number, beat in enumerate(story.beats):
        starts.append(at)
        first, at = at, at + seconds(LEAD)
        sentences = []
        for sentence in beat.says:
            cues = []
            for lines in pieces_of(sentence):
                long = frames_of(lines, story.words_a_minute, frames_a_second)
                cues.append(Cue(at, at + long, lines))
                at += long
            at += seconds(PAUSE)
            sentences.append(tuple(cues))
        spoken.append(tuple(sentences))
        shots.append(Shot(first, at, number, shown, made=made))
        steps = puzzle.read(beat.moves).steps if beat.moves else ()
        turnings = made_by(puzzle, steps, shown, holding)[0] if steps else []
        slides = bool(steps) and puzzle.blank is not None
        names.append(tuple(puzzle.spelled(beat.moves, shown).split()) if slides else tuple(map(str, steps)))
        for move, turns in enumerate(turnings):
            amount = max((abs(turn.step.amount) for turn in turns), default=0)
            long = seconds(story.seconds_a_turn * (1 + 0.5 * (amount > 1))) if turns else seconds(REST)
            shots.append(Shot(at, at + seconds(ARROW), number, shown, turns, False, move, made))
            at += seconds(ARROW)
            shots.append(Shot(at, at + long, number, shown, turns, bool(turns), move, made))
            at += long
            shown, made = after_turns(puzzle, shown, turns), made + len(turns)
            shots.append(Shot(at, at + seconds(REST), number, shown, (), False, move, made))
            at += seconds(REST)
        shots.append(Shot(at, at + seconds(AFTER), number, shown, (), False, len(steps) - 1, made))
        at += seconds(AFTER)
    cues = tuple(cue for sentences in spoken for sentence in sentences for cue in sentence)
    return Timeline(story, frames_a_second, tuple(shots), cues, tuple(starts), tuple(spoken), tuple(names), holding)


def _explanation(story: Story, answer: Answer) -> Arrangement | None:
    """The arrangement that the story's culprit gives, if there is one."""
    for culprit in answer.diagnosis.culprits:
        if culprit.pieces == story.culprit:
            return culprit.arrangement
    return answer.diagnosis.explanation
