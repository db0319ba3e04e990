"""One picture of a clip: a print seen close, the puzzle large on it, what is spoken of marked, a few large words beside it.

The white foot of the print stays free for captions. What does not change within a shot is drawn once.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache, cached_property, partial
from itertools import product

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.space import turn_matrix
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.arrows import THICK, arc, corners_of, draw_arrows, draw_flat_arrows, ribbon
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.canvas import sheet
from oddswap.showing.ink.flat import centred, colours_by_paint, extent, lay_flat
from oddswap.showing.ink.painting import Inks, Spot, hatched_pieces, lay_dashes, paint, with_tape
from oddswap.showing.ink.palette import BACKDROP, PAPER
from oddswap.showing.ink.scene import outer_faces, scene
from oddswap.showing.ink.sight import Examples, examples, on_plain, plain_of
from oddswap.story.large_words import MARGIN, SMALLEST, Box, Format, foot_with, lay_below_pair, lay_turns, lay_words
from oddswap.story.telling.captions import Cue
from oddswap.story.telling.timeline import Shot, Timeline
from oddswap.story.telling.views import between, lifted_scenes, lifts_of
from oddswap.values.position import Arrangement
from oddswap.words.products.stories import PLAIN_TWIN, YOURS, example_words, turn_of

ABOVE, SAMPLES = 50, 9
"""How far above everything else the puzzle lies, and at how many moments of a turn it is asked how far that reaches."""


class Stage:
    """Draws the pictures of a timeline. ``colours`` are the visitor's, by facet; the story says whether they are used."""

    def __init__(self, answer: Answer, times: Timeline, layout: Format, colours: Mapping[str, str] | None, height: int):
        self.answer, self.times, self.layout = answer, times, layout
        self.puzzle: Puzzle = answer.turning
        self.own = dict(colours or {}) if times.story.colours == "visitor" else {}
        self.colours = colours_by_paint(self.puzzle, self.own)
        self.dots = height / layout.height
        self._drawn: tuple | None = None
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
        if self._is_pair(beat.picture):
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
        names = self.times.names[shot.beat]
        if names and self.layout.picture:
            told = turn_of(self.puzzle, shot.move + 1, len(names)) if shot.move >= 0 else ""
            lay_turns(ax, self.layout, names, shot.move, told, back)

    def _is_pair(self, picture: str) -> bool:
        """Whether two puzzles stand beside each other."""
        return picture == "plain" and self.twin is not None or picture == "law" and self.examples is not None

    @cached_property
    def twin(self) -> Puzzle | None:
        """The plain puzzle that works like this one, where pieces can be followed."""
        return plain_of(self.puzzle) if isinstance(self.times.shots[0].shown, Arrangement) else None

    def _inks(self, shot: Shot, frame: int) -> Inks:
        hatched = self.times.story.beats[shot.beat].picture in ("xray", "lift") and self.culprits
        pieces = getattr(shot.shown, "pieces", range(len(self.puzzle.slots)))
        strong = shot.inked(frame)
        marked = {slot: strong[piece] for slot, piece in enumerate(pieces) if piece in strong}
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
            self._flat(ax, shot, inks, frame, self.layout.puzzle)
        elif picture == "plain" and self.twin and self.layout.pair:
            ours, plain = self.layout.pair
            self._solid(ax, self.puzzle, shot, frame, inks, ours)
            painted = {facet: colour for facet, colour in self.colours.items() if facet in self.twin.geometry.paints}
            twin = replace(inks, colours=colours_by_paint(self.twin, painted))
            self._solid(ax, self.twin, replace(shot, shown=on_plain(self.twin, shot.shown)), frame, twin, plain)
        else:
            taped = picture == "way" and self.lifts
            self._solid(ax, self._taped if taped else self.puzzle, shot, frame, inks, self.layout.puzzle)

    def _solid(self, ax: Axes, puzzle: Puzzle, shot: Shot, frame: int, inks: Inks, box: Box) -> None:
        camera, spot = shot.seen_from(frame), self._spot(puzzle, box)
        turning = [(turn, shot.done(frame)) for turn in shot.turns] if shot.moving else []
        seen = scene(puzzle, shot.shown, camera, turning)
        out = shot.lifted(frame) if self.lifts else 0.0
        if 0 < out < 3:
            gone = {shot.shown.pieces.index(lift.piece) for lift in self.lifts}
            paint(ax, seen.without(gone), replace(inks, marked={}), spot, zorder=4.0, size=self.letters)
            alone = [*lifted_scenes(puzzle, self.lifts, out, camera, self._aside(camera, spot))]
            spot = self._on_the_print(spot, np.concatenate([outline for one in alone for outline in one.outlines()]))
            for one in alone:
                paint(ax, one, replace(inks, marked=dict.fromkeys(gone, 1.0)), spot, zorder=5.0, size=self.letters)
            return
        paint(ax, seen.open(), inks, spot, zorder=4.0, size=self.letters)
        for slot, strength in inks.marked.items():
            faces = outer_faces(puzzle, shot.shown, slot, turning)
            lay_dashes(ax, [spot.place(camera.project(face)) for face in faces], strength, zorder=5.0)
        if not shot.moving and shot.turns:
            draw_arrows(ax, puzzle, shot.shown, shot.turns, camera, spot, zorder=6.0)

    def _aside(self, camera: Camera, spot: Spot) -> np.ndarray:
        """The way (3,) of a piece that is taken out, to where it stays on the print beside the words, or on their right."""
        x, y, wide, high = self.layout.words
        faces = [face for lift in self.lifts for face in self.puzzle.geometry.bodies[lift.slot].faces]
        here = camera.project(np.mean([face.vertices.mean(axis=0) for face in faces], axis=0))
        there = x + (0.2 if self.layout.lines < 3 else 0.7) * wide, y + 0.3 * high
        across, up = (np.array(there) - (spot.x, spot.y)) / spot.scale - here
        return across * camera.right + up * camera.up

    def _on_the_print(self, spot: Spot, points: np.ndarray) -> Spot:
        """A spot near the given one where what lies at these points (k, 2) of its picture stays on the print, below the words."""
        (x, y, wide, high), seen = self.layout.picture or self.layout.puzzle, spot.place(points)
        top = min(y + high, self.layout.below_words) - MARGIN
        low = np.maximum((x + MARGIN, y + MARGIN) - seen.min(axis=0), 0.0)
        across, up = low + np.minimum((x + wide - MARGIN, top) - seen.max(axis=0), 0.0)
        return replace(spot, x=spot.x + across, y=spot.y + up)

    def _spot(self, puzzle: Puzzle, box: Box) -> Spot:
        """Where the puzzle stands: it fills the box at rest, and stays within the box's field all through every turn."""
        key = (puzzle.name, box)
        if key not in self._spots:
            rest, swung = self.reach if puzzle.name == self.puzzle.name else self._at_rest(puzzle)
            x, y, wide, tall = field = self.layout.field if box == self.layout.puzzle else box
            sizes = np.concatenate([np.divide(box[2:], np.ptp(rest, axis=0)), np.divide(field[2:], np.ptp(swung, axis=0))])
            middle = sizes.min() * swung.mean(axis=0)
            self._spots[key] = Spot(x + wide / 2 - middle[0], y + tall / 2 - middle[1], float(sizes.min()))
        return self._spots[key]

    @cached_property
    def _spots(self) -> dict[tuple, Spot]:
        return {}

    def _at_rest(self, puzzle: Puzzle) -> np.ndarray:
        """As `reach`, of another puzzle in its first picture."""
        seen = cameras(puzzle, self.times.holding)[0].project(np.concatenate([*corners_of(puzzle, puzzle.solved).values()]))
        return np.array([_bounds(seen)] * 2)

    @cached_property
    def reach(self) -> np.ndarray:
        """Between which corners (2, 2) the puzzle is seen in all shots, at rest and with what is on its way."""
        if self.puzzle.geometry is None:
            return np.empty(0)
        rest, swung, corners_at = [], [], cache(partial(corners_of, self.puzzle))
        for shot in self.times.shots:
            corners = corners_at(shot.shown)
            whole, shares = np.concatenate([*corners.values()]), np.linspace(0, 1, SAMPLES)
            rest.append(shot.camera.project(whole))
            swung += (between(shot.camera, shot.towards, share).project(whole) for share in shares if shot.towards)
            if not shot.moving:
                arrows = (shot.camera.project(arc(self.puzzle, shot.shown, turn, shot.camera)) for turn in shot.turns)
                swung += (ribbon(path, THICK * reach(self.puzzle)) for path in arrows)
            for turn, share in product(shot.turns, shares if shot.moving else ()):
                moved = [corners[slot] for slot in turn.slots if slot in corners]
                swung.append(shot.camera.project(np.concatenate(moved) @ turn_matrix(turn.axis, share * turn.angle).T))
        return np.array([_bounds(np.concatenate(rest)), _bounds(np.concatenate([*rest, *swung]))])

    def _examples(self, ax: Axes) -> None:
        """The law, kept and broken."""
        found, puzzle = self.examples, self.examples.puzzle
        facets = puzzle.geometry.paints if puzzle.geometry else {}
        colours = colours_by_paint(
            puzzle, {facet: ink for facet, ink in self.colours.items() if facet in facets} if facets else None
        )
        for box, state in zip(self.layout.pair, (found.kept, found.broken), strict=True):
            inks = Inks(
                colours,
                marked=dict.fromkeys(state.displaced(), 1.0),
                highlight=state.displaced() if puzzle.geometry is None else frozenset(),
            )
            if puzzle.geometry is None:
                x, y, wide, tall = box
                lay_flat(ax, puzzle, state, inks, centred(puzzle.flat, x + wide / 2, y + tall / 2, _scale(puzzle, box)))
            else:
                camera = cameras(puzzle, self.times.holding)[0]
                paint(ax, scene(puzzle, state, camera).open(), inks, self._spot(puzzle, box), zorder=4.0, size=self.letters)

    def _swapped(self, shot: Shot) -> np.ndarray:
        """Where the marked pieces go that change places unseen."""
        slots = [slot for slot, piece in enumerate(shot.shown.pieces) if piece in shot.marked]
        target = np.arange(len(self.puzzle.slots))
        target[slots] = slots[::-1]
        return target

    def _flat(self, ax: Axes, shot: Shot, inks: Inks, frame: int, box: Box) -> None:
        x, y, wide, tall = box
        spot = centred(self.puzzle.flat, x + wide / 2, y + tall / 2, _scale(self.puzzle, box))
        moving = {slot for turn in shot.turns for slot in turn.slots}
        faded = frozenset(range(len(self.puzzle.slots))) - moving if moving else frozenset()
        if shot.moving or shot.lifting:
            target = _taken_by(self.puzzle, shot.turns) if shot.moving else self._swapped(shot)
            done = shot.done(frame) if shot.moving else min(max(shot.lifted(frame) - 1.0, 0.0), 1.0)
            lay_flat(ax, _on_its_way(self.puzzle, target, done), shot.shown, inks, spot)
            return
        lay_flat(ax, self.puzzle, shot.shown, replace(inks, faded=faded), spot)
        if shot.turns:
            draw_flat_arrows(ax, self.puzzle, shot.shown, shot.turns, spot, zorder=6)


def _bounds(points: np.ndarray) -> np.ndarray:
    return np.array([points.min(axis=0), points.max(axis=0)])


def _scale(puzzle: Puzzle, box: Box) -> float:
    across, up = extent(puzzle.flat)
    return min(box[2] / 2 / across, box[3] / 2 / up)


def _taken_by(puzzle: Puzzle, turns: tuple[Turn, ...]) -> np.ndarray:
    """Where turns take what lies in each slot of a flat puzzle."""
    target = np.arange(len(puzzle.slots))
    for turn in turns:
        target = puzzle.slots_of(turn.permutation[puzzle.base_label])[target]
    return target


def _on_its_way(puzzle: Puzzle, target: np.ndarray, done: float) -> Puzzle:
    """A flat puzzle whose places are moved towards their targets; the blank stays."""
    places = puzzle.flat.positions
    return replace(puzzle, flat=replace(puzzle.flat, positions=places + done * (places[target] - places)))
