"""One picture of a clip: the puzzle large, its other side as a second print, the chapter, the moves and the tally.

The lower part of the picture stays free for captions. What does not change within a shot is drawn once.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Polygon, Rectangle

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import said_from
from oddswap.showing.ink.arrows import draw_arrows
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.flat import centred, colours_by_paint, extent, lay_flat
from oddswap.showing.ink.flat_arrows import draw_flat_arrows
from oddswap.showing.ink.keys import MEANINGS, meanings_of
from oddswap.showing.ink.marking import hatched_pieces
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, BLACK, FAINT_INK, INK, PAPER
from oddswap.showing.ink.scene import scene
from oddswap.story.captions import Cue
from oddswap.story.stage_tally import lay_tally, rows_worth, tally_of
from oddswap.story.timeline import Shot, Timeline
from oddswap.values.appearance import Appearance
from oddswap.values.arrangement import Arrangement
from oddswap.words.to_visitors.seen import FEW

ABOVE = 50
"""How far above everything else the puzzle lies."""
ROWS = 2
"""So many rows of moves are listed at once."""


@dataclass(frozen=True)
class Format:
    """Where things go, in units: sizes of the sheet, and boxes (x, y, width, height) from the lower left corner."""

    width: float
    height: float
    puzzle: tuple[float, float, float, float]
    other: tuple[float, float, float, float] | None = None
    words: tuple[float, float, float, float] | None = None
    chapter: tuple[float, float] | None = None


WIDE = Format(16.0, 9.0, (0.6, 1.75, 6.4, 6.4), (7.2, 1.75, 2.9, 2.9), (7.4, 4.9, 8.0, 3.25), (0.6, 8.55))
TALL = Format(9.0, 16.0, (0.5, 7.1, 6.0, 7.6), (6.2, 7.1, 2.5, 2.9), (0.6, 2.9, 7.8, 3.9), (0.5, 15.3))


CLEAR = Format(9.0, 9.0, (0.0, 0.0, 9.0, 9.0))
"""The puzzle alone on a transparent ground, to be laid over one's own footage."""


class Stage:
    """Draws the pictures of a timeline. ``colours`` are the visitor's, by facet; the story says whether they are used."""

    def __init__(self, answer: Answer, times: Timeline, layout: Format, colours: Mapping[str, str] | None, height: int):
        self.answer, self.times, self.layout = answer, times, layout
        self.puzzle: Puzzle = answer.turning
        own = colours if times.story.colours == "visitor" else None
        self.colours = colours_by_paint(self.puzzle, own)
        self.dots = height / layout.height
        found = answer.diagnosis
        start, moves = times.shots[0].shown, said_from(self.puzzle, times.story.moves, times.holding.inverse)
        self._drawn: tuple | None = None
        self.followed = _followed(answer, start)
        self.before = tally_of(answer.puzzle, "", found.first)
        self.table = tally_of(self.puzzle, moves, start if isinstance(start, Arrangement) else None)
        self.relevant = {*found.broken, *found.broken_by_some}

    def picture(self, shot: Shot, frame: int) -> np.ndarray:
        """The picture at a frame of a shot, as RGBA (height, width, 4); it is overdrawn when the next one is asked for."""
        if self._drawn is None or self._drawn[0] is not shot:
            canvas = self._ground(shot)
            canvas.draw()
            ax = canvas.figure.axes[0]
            self._drawn = shot, canvas, canvas.copy_from_bbox(canvas.figure.bbox), set(ax.get_children())
        _, canvas, ground, fixed = self._drawn
        ax = canvas.figure.axes[0]
        canvas.restore_region(ground)
        self._puzzle(ax, shot, shot.done(frame))
        fresh = [artist for artist in ax.get_children() if artist not in fixed]
        for artist in sorted(fresh, key=lambda artist: artist.get_zorder()):
            ax.draw_artist(artist)
            artist.remove()
        return np.asarray(canvas.buffer_rgba())

    def caption(self, cue: Cue) -> np.ndarray:
        """The lower part of a picture, with a cue on a dark ground: RGBA, to be laid over the lower edge where it is opaque."""
        layout = self.layout
        high = 1.6
        ax = sheet(layout.width, high, None, inches=1.0)
        ax.figure.set_dpi(self.dots)
        ax.figure.patch.set_alpha(0)
        text = "\n".join(cue.lines)
        patch = {"boxstyle": "square,pad=0.4", "facecolor": INK, "linewidth": 0}
        write(ax, layout.width / 2, high / 2, text, size=24, color=PAPER, linespacing=1.3, bbox=patch)
        canvas = FigureCanvasAgg(ax.figure)
        canvas.draw()
        return np.asarray(canvas.buffer_rgba())

    def figure(self, shot: Shot, frame: int) -> Figure:
        """The same picture as a figure, for a still."""
        figure = self._ground(shot).figure
        ax = figure.axes[0]
        before = set(ax.get_children())
        self._puzzle(ax, shot, shot.done(frame))
        for artist in set(ax.get_children()) - before:
            artist.set_zorder(artist.get_zorder() + ABOVE)
        return figure

    def _ground(self, shot: Shot) -> FigureCanvasAgg:
        """Everything but the puzzle."""
        layout, beat = self.layout, self.times.story.beats[shot.beat]
        ax = sheet(layout.width, layout.height, None, inches=1.0)
        ax.figure.set_dpi(self.dots)
        if layout.other is None:
            ax.figure.patch.set_alpha(0)
            return FigureCanvasAgg(ax.figure)
        number = f"{shot.beat + 1}/{len(self.times.story.beats)}"
        write(ax, *layout.chapter, beat.chapter, ha="left", size=26, weight="bold")
        write(ax, layout.width - 0.6, layout.chapter[1], number, ha="right", size=15, color=FAINT_INK)
        if beat.picture == "card":
            self._card(ax, beat.says)
        else:
            self._papers(ax)
            self._beside(ax, shot)
        return FigureCanvasAgg(ax.figure)

    def _card(self, ax: Axes, says: tuple[str, ...]) -> None:
        layout = self.layout
        left, low, high = 0.09 * layout.width, 0.2 * layout.height, 0.86 * layout.height
        ax.add_patch(Rectangle((left, low), layout.width - 2 * left, high - low, facecolor=PAPER, lw=0))
        size = 26.0
        while True:
            lines = [wrapped(sentence, (layout.width - 2.8 * left) / 1.3, size) for sentence in says]
            tall = sum(line.count("\n") + 1 for line in lines) * size * 1.5 / 72 + 0.35 * len(lines)
            if tall < high - low - 0.8 or size < 12:
                break
            size -= 1
        y = (low + high + tall) / 2
        for line in lines:
            count = line.count("\n") + 1
            write(ax, layout.width / 2, y - count * size * 0.75 / 72, line, size=size, linespacing=1.4)
            y -= count * size * 1.5 / 72 + 0.35

    def _papers(self, ax: Axes) -> None:
        for order, (x, y, wide, high) in enumerate(self._boxes()):
            for drop, alpha in ((0.09, 0.06), (0.05, 0.08), (0.02, 0.1)):
                shade = np.array([[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]]) + (drop / 2, -drop)
                ax.add_patch(Polygon(shade, color=BLACK, alpha=alpha, lw=0, zorder=1 + order))
            ax.add_patch(Rectangle((x, y), wide, high, facecolor=PAPER, lw=0, zorder=1.1 + order))
            edge = 0.14
            inner = (x + edge, y + edge)
            ax.add_patch(Rectangle(inner, wide - 2 * edge, high - 2 * edge, facecolor=BACKDROP, lw=0, zorder=1.2 + order))

    def _boxes(self) -> list[tuple[float, float, float, float]]:
        """Where the puzzle is drawn: a solid from both sides, unless it stands alone."""
        alone = self.puzzle.geometry is None or self.layout.other is None
        return [self.layout.puzzle] if alone else [self.layout.puzzle, self.layout.other]

    def _inks(self, shot: Shot) -> Inks:
        beat = self.times.story.beats[shot.beat]
        hatched = {}
        if beat.picture == "xray":
            pieces = {piece for culprit in self.answer.diagnosis.culprits for piece in culprit.pieces}
            hatched = hatched_pieces(self.puzzle, sorted(pieces))
        pieces = getattr(shot.shown, "pieces", range(len(self.puzzle.slots)))
        highlight = frozenset(b for b, piece in enumerate(pieces) if piece in self.followed)
        return Inks(self.colours, hatched=hatched, highlight=highlight)

    def _puzzle(self, ax: Axes, shot: Shot, done: float) -> None:
        if self.times.story.beats[shot.beat].picture == "card" and self.layout.other is not None:
            return
        inks = self._inks(shot)
        if self.puzzle.geometry is None:
            self._flat(ax, shot, inks, done)
            return
        turning = [(turn, done) for turn in shot.turns] if shot.moving else []
        for order, (camera, box) in enumerate(zip(cameras(self.puzzle, self.times.holding), self._boxes(), strict=False)):
            x, y, wide, high = box
            spot = Spot(x + wide / 2, y + high / 2, 0.9 * min(wide, high) / 2 / (1.14 * reach(self.puzzle)))
            paint(ax, scene(self.puzzle, shot.shown, camera, turning).open(), inks, spot, zorder=4.0 + 10 * order, size=11)
            if not shot.moving:
                draw_arrows(ax, self.puzzle, shot.shown, shot.turns, camera, spot, zorder=6.0 + 10 * order)

    def _flat(self, ax: Axes, shot: Shot, inks: Inks, done: float) -> None:
        x, y, wide, high = self.layout.puzzle
        spot = centred(self.puzzle.flat, x + wide / 2, y + high / 2, 0.9 * min(wide, high) / 2 / max(extent(self.puzzle.flat)))
        moving = {slot for turn in shot.turns for slot in turn.slots}
        faded = frozenset(range(len(self.puzzle.slots))) - moving if moving else frozenset()
        if shot.moving:
            lay_flat(ax, _on_its_way(self.puzzle, shot.turns, done), shot.shown, inks, spot)
            return
        lay_flat(ax, self.puzzle, shot.shown, replace(inks, faded=faded), spot)
        if shot.turns:
            draw_flat_arrows(ax, self.puzzle, shot.shown, shot.turns, spot, zorder=6)

    def _beside(self, ax: Axes, shot: Shot) -> None:
        beat = self.times.story.beats[shot.beat]
        x, y, wide, high = self.layout.words
        top = y + high
        label = self._label(shot)
        if label:
            text = wrapped(label, wide / 1.3, 21)
            write(ax, x, top, text, ha="left", va="top", size=21, linespacing=1.35)
            top -= (text.count("\n") + 1) * 21 * 1.5 / 72 + 0.2
        names = self.times.names[shot.beat]
        if names:
            top = self._moves(ax, names, shot.move, x, top, wide) - 0.15
        if beat.picture in ("law", "way"):
            table = self.table if shot.made or beat.picture == "way" else self.before
            if table is not None:
                written = [name for names in self.times.names for name in names]
                heads = ["start", *(written if len(written) == len(table.moves) else table.moves)]
                rows = rows_worth(table, self.relevant, int((top - y) / 0.46) - 1)
                lay_tally(ax, table, shot.made, heads, rows, x, top, wide)

    def _label(self, shot: Shot) -> str:
        """A few words that stay: the law that looks broken, or what the hatching means."""
        beat, found = self.times.story.beats[shot.beat], self.answer.diagnosis
        if beat.picture == "law" and not shot.made:
            return " ".join(law.statement for law in found.broken[:2])
        if beat.picture == "xray":
            return " ".join(f"Hatched: {MEANINGS[keys]}." for keys in meanings_of(self._inks(shot).hatched))
        return ""

    def _moves(self, ax: Axes, names: tuple[str, ...], current: int, x: float, top: float, wide: float) -> float:
        """The moves in rows, the current one on a dark ground; returns where they end below."""
        cell = max(0.85, 0.17 * max(map(len, names)) + 0.3)
        per_row = max(1, int(wide / cell))
        together = ROWS * per_row
        start = max(0, min(max(current, 0) // per_row * per_row - per_row, len(names) - together))
        shown = names[start : start + together]
        for i, name in enumerate(shown):
            left, low = x + i % per_row * cell, top - (i // per_row + 1) * 0.62
            now = start + i == current
            if now:
                ax.add_patch(Rectangle((left, low), cell - 0.08, 0.55, facecolor=INK, lw=0))
            colour = PAPER if now else FAINT_INK if start + i < current else INK
            write(ax, left + cell / 2 - 0.04, low + 0.27, name, size=18, weight="bold" if now else "normal", color=colour)
        return top - -(-len(shown) // per_row) * 0.62


def _on_its_way(puzzle: Puzzle, turns: tuple[Turn, ...], done: float) -> Puzzle:
    """A flat puzzle whose places are moved towards where turns take what lies in them; the blank stays."""
    places = puzzle.flat.positions
    target = np.arange(len(places))
    for turn in turns:
        target = puzzle.slots_of(turn.permutation[puzzle.base_label])[target]
    return replace(puzzle, flat=replace(puzzle.flat, positions=places + done * (places[target] - places)))


def _followed(answer: Answer, start: Arrangement | Appearance) -> frozenset[int]:
    """The pieces that look wrong at first, where they are few; they stay outlined for the whole story."""
    solved = answer.puzzle.appearance(answer.puzzle.solved).sights
    wrong = [b for b, sight in enumerate(answer.appearance.sights) if len(sight) < 2 and sight != solved[b]]
    pieces = getattr(start, "pieces", range(len(solved)))
    return frozenset(pieces[b] for b in wrong) if len(wrong) <= FEW else frozenset()
