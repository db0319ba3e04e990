"""One picture of a clip: a print seen close, the puzzle large on it, what is spoken of marked, a few large words beside it.

The white foot of the print stays free for captions. What does not change within a shot is drawn once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache, cached_property

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle, carried
from oddswap.puzzles.base.space import turn_matrix
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.arrows import corners_of, draw_arrows, draw_flat_arrows
from oddswap.showing.ink.camera import Camera, cameras
from oddswap.showing.ink.canvas import sheet
from oddswap.showing.ink.flat import colours_by_paint, lay_flat, spot_within
from oddswap.showing.ink.painting import Inks, Spot, hatched_pieces, lay_dashes, paint, with_tape
from oddswap.showing.ink.palette import BACKDROP, PAPER
from oddswap.showing.ink.scene import outer_faces, scene
from oddswap.showing.ink.sight import Examples, examples, on_plain, plain_of, slots_where
from oddswap.showing.pictures.strings import row_of
from oddswap.story.framing import on_the_print, reach_of, spot_in
from oddswap.story.large_words import SMALLEST, Box, Format, foot_with, lay_below_pair, lay_turns, lay_words
from oddswap.story.telling.captions import Cue
from oddswap.story.telling.timeline import Shot, Timeline
from oddswap.story.telling.views import bounds, lifted_scenes, lifts_of
from oddswap.values.position import Arrangement
from oddswap.words.products.stories import PLAIN_TWIN, YOURS, example_words, turn_of

ABOVE = 50
"""How far above everything else the puzzle lies."""


class Stage:
    """Draws the pictures of a timeline. ``colours`` are the visitor's, by facet; the story says whether they are used."""

    def __init__(self, answer: Answer, times: Timeline, layout: Format, colours: Mapping[str, str] | None, height: int):
        self.answer, self.times, self.layout = answer, times, layout
        self.puzzle: Puzzle = answer.turning
        self.own = dict(colours or {}) if times.story.colours == "visitor" else {}
        self.colours = colours_by_paint(self.puzzle, self.own)
        self.dots = height / layout.height
        self._drawn: tuple | None = None
        self._spot = cache(self._spot)
        self.letters = 72 * layout.height / SMALLEST
        self.culprits = sorted({piece for culprit in answer.diagnosis.culprits for piece in culprit.pieces})
        self.lifts = lifts_of(answer, times.story.culprit)
        law = next(iter(answer.diagnosis.broken), None)
        self.examples: Examples | None = law and examples(answer.puzzle, law, times.holding)

    def picture(self, shot: Shot, frame: int) -> np.ndarray:
        """The picture at a frame of a shot, as RGBA (height, width, 4); it is overdrawn when the next one is asked for."""
        canvas = self._canvas
        if self._drawn is None or self._drawn[0] is not shot:
            self._drawn = None
            ax = self._ground(shot, canvas.figure.axes[0])
            canvas.draw()
            self._drawn = shot, canvas.copy_from_bbox(canvas.figure.bbox), set(ax.get_children())
        _, ground, fixed = self._drawn
        ax = canvas.figure.axes[0]
        canvas.restore_region(ground)
        self._puzzle(ax, shot, frame)
        fresh = [artist for artist in ax.get_children() if artist not in fixed]
        for artist in sorted(fresh, key=lambda artist: artist.get_zorder()):
            ax.draw_artist(artist)
            artist.remove()
        return np.asarray(canvas.buffer_rgba())

    def caption(self, cue: Cue) -> np.ndarray:
        """The foot of a print with a cue on it: RGBA, to be laid over the lower edge of a picture."""
        canvas = FigureCanvasAgg(foot_with(self.layout, cue.text, self.dots))
        canvas.draw()
        return np.asarray(canvas.buffer_rgba())

    def figure(self, shot: Shot, frame: int) -> Figure:
        """The same picture as a figure, for a still."""
        ax = self._ground(shot)
        before = set(ax.get_children())
        self._puzzle(ax, shot, frame)
        for artist in set(ax.get_children()) - before:
            artist.set_zorder(artist.get_zorder() + ABOVE)
        return ax.figure

    @cached_property
    def _canvas(self) -> FigureCanvasAgg:
        """The one on which all pictures are drawn: figures are freed late, and one takes 16 MB."""
        return FigureCanvasAgg(sheet(self.layout.width, self.layout.height, None, inches=1.0).figure)

    def _ground(self, shot: Shot, ax: Axes | None = None) -> Axes:
        """Everything but the puzzle, on a new figure or on axes that are emptied for it."""
        layout, beat = self.layout, self.times.story.beats[shot.beat]
        if ax is not None:
            ax.clear()
        ax = sheet(layout.width, layout.height, ax, inches=1.0)
        ax.figure.set_dpi(self.dots)
        ax.figure.patch.set_facecolor(PAPER)
        if layout.picture is None:
            ax.figure.patch.set_alpha(0)
            return ax
        x, y, wide, high = layout.picture
        ax.add_patch(Rectangle((x, y), wide, high, facecolor=BACKDROP, lw=0, zorder=0.5))
        if beat.picture == "plain" and self.twin or beat.picture == "law" and self.examples:
            below = example_words(self.examples.sort) if beat.picture == "law" else (("", YOURS), ("", PLAIN_TWIN))
            lay_below_pair(ax, layout, below)
            return ax
        beside, above = beat.picture == "lift" and bool(self.lifts), bool(self.times.names[shot.beat])
        lay_words(ax, layout, beat.large, beside=beside, above=above)
        if not shot.sliding:
            self._turns(ax, shot)
        return ax

    def _turns(self, ax: Axes, shot: Shot, back: float = 0.0) -> None:
        """The strip of the moves of a beat; on its way to the next one, it has a share to go."""
        names = self._signs(shot.beat)
        if names and self.layout.picture:
            told = turn_of(self.puzzle, shot.move + 1, len(names)) if shot.move >= 0 else ""
            lay_turns(ax, self.layout, names, shot.move, told, back)

    def _signs(self, beat: int) -> Sequence[str]:
        """The moves of a beat as the strip has them: by their names, or by what is written on what slides."""
        names = self.times.names[beat]
        if self.puzzle.blank is None:
            return names
        begun = {shot.move: shot.shown for shot in reversed(self.times.shots) if shot.beat == beat and shot.turns}
        return [row_of(self.puzzle, begun[i])[self.puzzle.slot(name)] for i, name in enumerate(names)]

    @cached_property
    def twin(self) -> Puzzle | None:
        """The plain puzzle that works like this one, where pieces can be followed."""
        return plain_of(self.puzzle) if isinstance(self.times.shots[-1].shown, Arrangement) else None

    def _inks(self, shot: Shot, frame: int) -> Inks:
        hatched = self.times.story.beats[shot.beat].picture in ("xray", "lift") and self.culprits
        strong = shot.inked(frame)
        marked = dict(zip(slots_where(shot.shown, strong), strong.values(), strict=True))
        flat = self.puzzle.geometry is None
        return Inks(
            self.colours,
            hatched=hatched_pieces(self.puzzle, self.culprits) if hatched else {},
            marked={} if flat else marked,
            highlight=frozenset(marked) if flat else frozenset(),
        )

    @cached_property
    def _taped(self) -> Puzzle:
        """The puzzle with tape on the pieces that are taken for the culprit."""
        geometry, taken = self.puzzle.geometry, {self.puzzle.slot(name) for name in self.times.story.culprit}
        bodies = tuple(with_tape(body) if b in taken else body for b, body in enumerate(geometry.bodies))
        return replace(self.puzzle, geometry=replace(geometry, bodies=bodies))

    def _puzzle(self, ax: Axes, shot: Shot, frame: int) -> None:
        picture, inks = self.times.story.beats[shot.beat].picture, self._inks(shot, frame)
        if shot.sliding:
            self._turns(ax, shot, 1 - shot.eased(frame))
        if picture == "law" and self.examples and self.layout.pair:
            self._examples(ax)
        elif self.puzzle.geometry is None:
            self._flat(ax, shot, inks, frame)
        elif picture == "plain" and self.twin and self.layout.pair:
            ours, plain = self.layout.pair
            self._solid(ax, self.puzzle, shot, frame, inks, ours)
            twin = replace(inks, colours=self._colours_on(self.twin))
            self._solid(ax, self.twin, replace(shot, shown=on_plain(self.twin, shot.shown)), frame, twin, plain)
        else:
            taped = picture == "way" and self.lifts
            self._solid(ax, self._taped if taped else self.puzzle, shot, frame, inks, self.layout.puzzle)

    def _solid(self, ax: Axes, puzzle: Puzzle, shot: Shot, frame: int, inks: Inks, box: Box) -> None:
        camera, spot, before = shot.seen_from(frame), self._spot(puzzle, box), {*ax.get_children()}
        turning = [(turn, shot.done(frame)) for turn in shot.turns] if shot.moving else []
        seen = scene(puzzle, shot.shown, camera, turning)
        out = shot.lifted(frame) if self.lifts else 0.0
        if 0 < out < 3:
            gone = {*slots_where(shot.shown, (lift.piece for lift in self.lifts))}
            paint(ax, seen.without(gone), replace(inks, marked={}), spot, zorder=4.0, size=self.letters)
            alone = [*lifted_scenes(puzzle, self.lifts, out, camera, self._aside(camera, spot))]
            spot = on_the_print(self.layout, spot, np.concatenate([outline for one in alone for outline in one.outlines()]))
            for one in alone:
                paint(ax, one, replace(inks, marked=dict.fromkeys(gone, 1.0)), spot, zorder=5.0, size=self.letters)
            return
        paint(ax, seen.open(), inks, spot, zorder=4.0, size=self.letters)
        for slot, strength in inks.marked.items():
            faces = outer_faces(puzzle, shot.shown, slot, turning)
            lay_dashes(ax, [spot.place(camera.project(face)) for face in faces], strength, zorder=5.0)
        if not shot.moving and shot.turns:
            draw_arrows(ax, puzzle, shot.shown, shot.turns, camera, spot, zorder=6.0)
        if camera.zoom > 1:
            x, y, wide, high = self.layout.field
            near = {*ax.get_children()} - before
            frame = Rectangle((x, y), wide, high, fill=False, edgecolor=PAPER, lw=6.0 * min(camera.zoom - 1, 1), zorder=7.0)
            frame = ax.add_patch(frame)
            for artist in near:
                artist.set_clip_path(frame)

    def _aside(self, camera: Camera, spot: Spot) -> np.ndarray:
        """The way (3,) of a piece that is taken out, to where it stays on the print beside the words, or on their right."""
        x, y, wide, high = self.layout.words
        faces = [face for lift in self.lifts for face in self.puzzle.geometry.bodies[lift.slot].faces]
        here = camera.project(np.mean([face.vertices.mean(axis=0) for face in faces], axis=0))
        there = x + (0.2 if self.layout.lines < 3 else 0.7) * wide, y + 0.3 * high
        across, up = (np.array(there) - (spot.x, spot.y)) / spot.scale - here
        return across * camera.right + up * camera.up

    def _spot(self, puzzle: Puzzle, box: Box) -> Spot:
        """Where a puzzle stands, the same in every shot in which it stands in this box."""
        alone = box == self.layout.puzzle
        return spot_in(box, self.layout.field, self.reach) if alone else spot_in(box, box, self._reach(puzzle, pair=True))

    @cached_property
    def reach(self) -> np.ndarray:
        """How far the puzzle reaches where it stands alone, see `reach_of`; empty for what lies flat."""
        return np.empty(0) if self.puzzle.geometry is None else self._reach(self.puzzle, pair=False)

    def _reach(self, puzzle: Puzzle, pair: bool) -> np.ndarray:
        """How far a puzzle reaches alone or as one of a ``pair``; one that is not this story's, as it is at first."""
        beats = self.times.story.beats
        shots = [shot for shot in self.times.shots if (beats[shot.beat].picture == "plain") == pair]
        if shots and puzzle.name == self.puzzle.name:
            return reach_of(puzzle, shots)
        corners = np.concatenate([*corners_of(puzzle, puzzle.solved).values()])
        return np.array([bounds(cameras(puzzle, self.times.holding)[0].project(corners))] * 2)

    def _examples(self, ax: Axes) -> None:
        """The law, kept and broken."""
        found, puzzle = self.examples, self.examples.puzzle
        colours = self._colours_on(puzzle) if puzzle.geometry else colours_by_paint(puzzle, None)
        for box, state in zip(self.layout.pair, (found.kept, found.broken), strict=True):
            if puzzle.geometry is None:
                lay_flat(ax, puzzle, state, Inks(colours, highlight=state.displaced()), spot_within(puzzle, box))
            else:
                camera, inks = cameras(puzzle, self.times.holding)[0], Inks(colours, marked=dict.fromkeys(state.displaced(), 1.0))
                paint(ax, scene(puzzle, state, camera).open(), inks, self._spot(puzzle, box), zorder=4.0, size=self.letters)

    def _colours_on(self, puzzle: Puzzle) -> Mapping[str, str]:
        """The colours of this story's puzzle on another solid."""
        return colours_by_paint(puzzle, {facet: ink for facet, ink in self.colours.items() if facet in puzzle.geometry.paints})

    def _swapped(self, shot: Shot) -> np.ndarray:
        """Where the marked pieces go that change places unseen."""
        slots = slots_where(shot.shown, shot.marked)
        target = np.arange(len(self.puzzle.slots))
        target[slots] = slots[::-1]
        return target

    def _flat(self, ax: Axes, shot: Shot, inks: Inks, frame: int) -> None:
        spot = spot_within(self.puzzle, self.layout.puzzle)
        moving = {slot for turn in shot.turns for slot in turn.slots}
        faded = frozenset(range(len(self.puzzle.slots))) - moving if moving else frozenset()
        if shot.moving or shot.lifting:
            target = self.puzzle.slots_of(carried(self.puzzle.base_label, shot.turns)) if shot.moving else self._swapped(shot)
            done = shot.done(frame) if shot.moving else min(max(shot.lifted(frame) - 1.0, 0.0), 1.0)
            lay_flat(ax, _on_its_way(self.puzzle, target, done), shot.shown, inks, spot)
            return
        lay_flat(ax, self.puzzle, shot.shown, replace(inks, faded=faded), spot)
        if shot.turns:
            draw_flat_arrows(ax, self.puzzle, shot.shown, shot.turns, spot, zorder=6)


def _on_its_way(puzzle: Puzzle, target: np.ndarray, done: float) -> Puzzle:
    """A flat puzzle whose places are moved towards their targets; the blank stays.

    Two that swap go round each other. A row that is turned end over end is laid straight for that, so that all keep apart.
    """
    places = puzzle.flat.positions
    positions = places + done * (places[target] - places)
    moving = (target != np.arange(len(target))).nonzero()[0]
    swaps = moving[target[target[moving]] == moving]
    if puzzle.blank is None and len(swaps):
        middles = (places[swaps] + places[target[swaps]]) / 2
        halves = places[swaps] - middles
        if np.array_equal(target[swaps], swaps[::-1]):
            inner, lengths = len(swaps) // 2, np.linalg.norm(halves, axis=1, keepdims=True)
            straight = lengths[inner] + np.abs(np.arange(len(swaps)) - inner + 0.5)[:, None] - 0.5
            laid, done = min(3 * min(done, 1 - done), 1), min(max(3 * done - 1, 0), 1)
            middles = middles + laid * (middles[inner] - middles)
            halves = halves * (1 + laid * (straight / lengths - 1))
        positions[swaps] = middles + halves @ turn_matrix((0, 0, 1), np.pi * done)[:2, :2]
    return replace(puzzle, flat=replace(puzzle.flat, positions=positions))
