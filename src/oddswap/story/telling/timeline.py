"""When everything happens in a story, in whole frames: what is said and marked, from where it is seen, every turn on its way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.reasoning.answers import Answer
from oddswap.showing.pictures.strip import made_by, states_along
from oddswap.story.telling.beats import UNSEEN, Beat, Story, shown_fast
from oddswap.story.telling.captions import Cue, frames_of, split_sentence
from oddswap.story.telling.views import Lens, between, near, path, view_beside, view_on, views, views_of_turns
from oddswap.values.numbers import AtLeastOne
from oddswap.values.position import START, Appearance, Arrangement, Holding

LEAD, PAUSE, AFTER = 0.2, 0.1, 0.3
"""Seconds before the first word of a beat, between sentences, and after the last thing of a beat."""
ARROW, REST, FAST = 0.25, 0.1, 0.4
"""Seconds that an arrow shows before its turn, and that the puzzle rests after it; what share of all that many moves take."""
COMES, GOES = 0.2, 0.5
"""Seconds in which a mark comes, and in which it goes."""
CAMERA, OUT, OVER = 0.9, 0.8, 1.2
"""Seconds that a step of the camera takes, and that a piece takes on its way out or back, and over."""
SLOW, STILL, REWIND, AGAIN = 1.6, 0.8, 0.5, 1.0
"""Seconds of the hard turn, of the look at what it did, of its way back, and of its second time."""


@dataclass(frozen=True, eq=False)
class Shot:
    """What is on the screen from frame ``first`` until before ``last``.

    ``turns`` are on their way if ``moving``, back to their beginning if ``rewound``; else their arrow is shown.
    ``move`` counts the moves of the beat (-1 before the first), ``made`` the turns of single slabs that are done in the whole
    story; ``again`` where a turn is only shown once more. ``camera`` looks at a solid, and goes ``towards`` another meanwhile.
    ``marked`` are the pieces that are spoken of; ``fading`` are marks that come or go: a piece, how strong its mark is before,
    and in how many frames it changes. ``sliding``: the strip of moves goes on by a place. ``lift``: a piece is on its way out (0
    to 1), over (to 2) and back (to 3).
    """

    first: int
    last: int
    beat: int
    shown: Arrangement | Appearance
    turns: tuple[Turn, ...] = ()
    moving: bool = False
    move: int = -1
    made: int = 0
    camera: Lens | None = None
    towards: Lens | None = None
    marked: frozenset[int] = frozenset()
    lift: float = 0.0
    lifting: bool = False
    again: bool = False
    rewound: bool = False
    fading: tuple[tuple[int, float, int], ...] = ()
    sliding: bool = False

    @property
    def going(self) -> bool:
        """Whether something is on its way from the first frame to the last."""
        return self.moving or self.lifting or self.sliding or self.towards is not None

    @property
    def animated(self) -> bool:
        """Whether the picture differs from frame to frame."""
        return self.going or bool(self.fading)

    def inked(self, frame: int) -> dict[int, float]:
        """How strong the mark of each piece is at a frame, 0 to 1."""
        found = dict.fromkeys(self.marked, 1.0)
        for piece, before, frames in self.fading:
            done = min((frame - self.first + 1) / frames, 1.0)
            found[piece] = before + done * ((piece in self.marked) - before)
        return {piece: strength for piece, strength in found.items() if strength > 0}

    def later(self, frames: int) -> Shot:
        return replace(self, first=self.first + frames, last=self.last + frames)

    def eased(self, frame: int) -> float:
        """How far the shot is at a frame, 0 to 1, eased in and out (cubic)."""
        t = (frame - self.first + 1) / (self.last - self.first + 1)
        return 4 * t**3 if t < 0.5 else 1 - 4 * (1 - t) ** 3

    def done(self, frame: int) -> float:
        """How far the turns are at a frame, 0 to 1."""
        if not self.moving:
            return 0.0
        return 1 - self.eased(frame) if self.rewound else self.eased(frame)

    def seen_from(self, frame: int) -> Lens | None:
        """The camera at a frame; ``None`` for what lies flat."""
        return self.camera if self.towards is None else between(self.camera, self.towards, self.eased(frame))

    def lifted(self, frame: int) -> float:
        """How far a piece is out, over and back at a frame."""
        return self.lift + (self.eased(frame) if self.lifting else 0.0)


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

    def span(self, beat: int) -> tuple[int, int]:
        """The first frame of a beat, and the one after its last."""
        return self.starts[beat], (*self.starts[1:], self.frames)[beat]

    def moved(self, frames: int) -> Timeline:
        """The timeline so many frames later."""

        def later(one):
            return tuple(map(later, one)) if isinstance(one, tuple) else one.later(frames)

        starts = tuple(start + frames for start in self.starts)
        return replace(self, shots=later(self.shots), cues=later(self.cues), starts=starts, spoken=later(self.spoken))

    def only(self, beats: set[int]) -> Timeline:
        """The part of the timeline in which these beats are, from frame 0 on."""
        shots, cues, starts, at = [], [], [], 0
        for beat in sorted(beats):
            first, last = self.span(beat)
            starts.append(at)
            shots += [shot.later(at - first) for shot in self.shots if shot.beat == beat]
            cues += [cue.later(at - first) for cue in self.cues if first <= cue.first < last]
            at += last - first
        return replace(self, shots=tuple(shots), cues=tuple(cues), starts=tuple(starts))


def timeline(story: Story, answer: Answer, frames_a_second: AtLeastOne = 30) -> Timeline:
    """The story of an answer laid out in time.

    >>> import oddswap
    >>> found = oddswap.answer("cube:2", "R U")
    >>> round(timeline(oddswap.story_of(found), found).seconds)
    29
    """
    laid = _Laying(story, answer, frames_a_second)
    for number, beat in enumerate(story.beats):
        laid.lay(number, beat)
    cues = tuple(cue for sentences in laid.spoken for sentence in sentences for cue in sentence)
    parts = (tuple(part) for part in (laid.shots, cues, laid.starts, laid.spoken, laid.names))
    return Timeline(story, frames_a_second, *parts, laid.holding)


class _Laying:
    """Lays shot after shot: ``at`` is the frame where the next begins, ``now`` the view, and ``shown`` what is on the table."""

    def __init__(self, story: Story, answer: Answer, rate: int):
        self.story, self.rate = story, rate
        self.puzzle: Puzzle = answer.turning
        self.holding = self.puzzle.settled(story.held)[1] if story.held else START
        mended = (one.arrangement for one in answer.diagnosis.culprits if one.pieces == story.culprit)
        self.explanation = next(mended, answer.diagnosis.explanation)
        grey = self.explanation is None or answer.appearance.uncertain and answer.puzzle is self.puzzle
        self.shown: Arrangement | Appearance = answer.appearance if grey else self.explanation
        self.views = () if self.puzzle.geometry is None else views(self.puzzle, self.holding)
        self.camera = self.views[0] if self.views else None
        self.now, self.at, self.made, self.beat = 0, 0, 0, 0
        self.shots: list[Shot] = []
        self.starts: list[int] = []
        self.spoken: list[tuple[tuple[Cue, ...], ...]] = []
        self.names: list[tuple[str, ...]] = []

    def shot(self, seconds: float, **what) -> None:
        frames = max(1, round(seconds * self.rate))
        shot = Shot(self.at, self.at + frames, self.beat, self.shown, **{"camera": self.camera, "made": self.made, **what})
        self.at += frames
        before = self.shots[-1].inked(shot.first - 1) if self.shots else {}
        shot = replace(shot, fading=tuple(self._fading(before, shot.marked)))
        settled = shot.first + max((frames for *_, frames in shot.fading), default=frames)
        if not shot.going and settled < shot.last:
            self.shots.append(replace(shot, last=settled))
            shot = replace(shot, first=settled, fading=())
        self.shots.append(shot)

    def _fading(self, before: Mapping[int, float], marked: frozenset[int]) -> Iterator[tuple[int, float, int]]:
        """The marks that come or go, see `Shot`."""
        for piece in sorted({*before, *marked}):
            strength = before.get(piece, 0.0)
            if change := (1 - strength) * COMES if piece in marked else strength * GOES:
                yield piece, strength, max(1, round(change * self.rate))

    def look_from(self, view: int, **what) -> None:
        """Go there, step by step."""
        for step in path(self.now, view) if self.views else ():
            self.come(self.views[step], **what)
            self.now = step

    def come(self, camera: Lens | None, **what) -> None:
        """Go there, if the camera is elsewhere."""
        if camera is not self.camera:
            self.shot(CAMERA, towards=camera, **what)
            self.camera = camera

    def lay(self, number: int, beat: Beat) -> None:
        self.beat = number
        self.starts.append(self.at)
        if self.explanation and beat.picture != "seen" and not self.made:
            self.shown = self.explanation
        turnings, names = self._turnings(beat.moves)
        self.names.append(names)
        if self.views and beat.picture == "lift" and self.story.culprit and isinstance(self.shown, Arrangement):
            piece = self.puzzle.slot(self.story.culprit[0])
            self.look_from(view_beside(self.puzzle, self.shown, self.shown.pieces.index(piece), self.holding))
        elif beat.picture in ("law", "plain") or beat.picture == "seen" and not any(beat.marks):
            self.look_from(0)
        self.shot(LEAD)
        spoken = []
        for place, sentence in enumerate(beat.says):
            spoken.append(self._said(beat, place, sentence))
        self.spoken.append(tuple(spoken))
        if self.views:
            self.come(self.views[self.now])
        self._turned(beat, turnings)
        self.shot(AFTER, move=len(names) - 1)

    def _marks(self, beat: Beat, place: int) -> tuple[frozenset[int], list[int]]:
        """The pieces that a sentence speaks of, and what is looked at: these, or what was not seen."""
        named = beat.marks[place].split() if place < len(beat.marks) else ()
        marked = frozenset(self.puzzle.slot(name) for name in named if name in self.puzzle.slots)
        if isinstance(self.shown, Arrangement):
            return marked, sorted(marked)
        marked = frozenset(map(self.explanation.pieces.index, marked)) if self.explanation else marked
        return marked, sorted(marked) or [*self.shown.uncertain] * (UNSEEN in named)

    def _said(self, beat: Beat, place: int, sentence: str) -> tuple[Cue, ...]:
        """A sentence, and what is shown while it is said: the piece out with the first; over and back, or a demo, later."""
        (marked, at), lifted = self._marks(beat, place), 0.0
        if self.views and beat.picture in ("xray", "way", "seen"):
            self.look_from(view_on(self.puzzle, self.shown, at, self.now, self.holding))
        if self.views:
            close, here = self.beat and marked and not self.made and beat.picture in ("seen", "xray"), self.views[self.now]
            self.come(near(self.puzzle, self.shown, marked, here) if close else here, marked=marked)
        end, cues = self.at, []
        for text in split_sentence(sentence):
            cues.append(Cue(end, end + frames_of(text, self.story.words_a_minute, self.rate), (text,)))
            end = cues[-1].last
        if beat.picture == "lift":
            for lift, takes in (((0.0, OUT),), ((1.0, OVER), (2.0, OUT)), ())[min(place, 2)]:
                self.shot(takes, lift=lift, lifting=True, marked=marked)
            lifted = 1.0 if place == 0 else 0.0
        elif place + 1 == len(beat.says):
            self._turned(beat, self._turnings(beat.demo)[0], again=True, marked=marked)
        self.shot(max(end - self.at, 0) / self.rate + PAUSE, marked=marked, lift=lifted)
        return tuple(cues)

    def _turnings(self, moves: str) -> tuple[list[tuple[Turn, ...]], tuple[str, ...]]:
        """What each of the moves turns, and their names as they are written."""
        steps = self.puzzle.read(moves).steps if moves else ()
        turnings = made_by(self.puzzle, steps, self.shown, self.holding)[0] if steps else []
        slides = bool(steps) and self.puzzle.blank is not None
        return turnings, tuple(self.puzzle.spelled(moves, self.shown).split()) if slides else tuple(map(str, steps))

    def _turned(
        self, beat: Beat, turnings: list[tuple[Turn, ...]], again: bool = False, marked: frozenset[int] | None = None
    ) -> None:
        """Every turn, slowly and once more where it is hard; ``again`` for turns that are only shown and taken back."""
        states = states_along(self.puzzle, self.shown, turnings)
        if marked is None:
            marked = frozenset(self.puzzle.slot(name) for name in self.story.culprit if name in self.puzzle.slots)
        looks = views_of_turns(self.puzzle, turnings, states, sorted(marked), self.now, self.holding) if self.views else []
        pace = FAST if shown_fast(self.puzzle, beat.moves) else 1.0
        for number, turns in enumerate(turnings):
            now = {"move": -1 if again else number, "marked": marked, "again": again}
            if looks and turns and not again:
                self.look_from(looks[number], **now | {"move": number - 1})
            amount = max((abs(turn.step.amount) for turn in turns), default=0)
            long = pace * self.story.seconds_a_turn * (1 + 0.5 * (amount > 1)) * (1 + again) if turns else REST
            hard = bool(turns) and number + 1 == beat.hard
            if not again:
                self.shot(pace * ARROW, turns=turns, sliding=number > 0, **now)
            self.shot(SLOW if hard else long, turns=turns, moving=bool(turns), **now)
            self.shown, self.made = states[number + 1], self.made + len(turns) * (not again)
            self.shot(STILL if hard else pace * REST, **now)
            for rewound, takes, rests in ((True, REWIND, STILL / 2), (False, AGAIN, REST)) if hard else ():
                self.shown = states[number]
                self.shot(takes, turns=turns, moving=True, rewound=rewound, **now | {"again": True})
                self.shown = states[number + (not rewound)]
                self.shot(rests, **now)
