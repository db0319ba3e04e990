"""A board on which a story is edited: a still of each beat, its words, its place, and the beat played alone."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from html import escape
from io import BytesIO

import ipywidgets as widgets
from IPython.display import Image as Loop
from PIL import Image

from oddswap.errors import BadStory
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.widgets import Sheet
from oddswap.story.clip import Film, loop_of, name_of_beat
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import Story, story_of
from oddswap.story.telling.captions import clock
from oddswap.story.telling.story_file import fitting
from oddswap.story.telling.timeline import timeline
from oddswap.words.products.stories import EARLIER, LATER, LONG, PLAY

HIGH, RATE = 180, 8
"""How many pixels high a picture on the board is, and its frames a second."""


class Storyboard(Sheet):
    """A story as a board, a row a beat: its still, its words, a sentence a line, and buttons that move it and play it alone.

    ``story`` is what stands there, as long as it fits its answer; ``said`` is how long it is, or the one sentence that says what
    does not fit. Only what changed is drawn again.

    >>> import oddswap
    >>> from oddswap import draw
    >>> board = draw.Storyboard(oddswap.answer("cube:2", "R U"))
    >>> board.rows[0].words.value = "Is this one broken?"
    >>> board.story.beats[0].says
    ('Is this one broken?',)
    """

    def __init__(self, answer: Answer, story: Story | None = None, colours: Mapping[str, str] | None = None):
        self.story, self._answer, self._colours = story or story_of(answer), answer, colours
        self._begun, self._beats, self._made = self.story, list(self.story.beats), {}
        self.rows, self._said = [_Row() for _ in self._beats], widgets.HTML()
        super().__init__([*self.rows, self._said])
        for number, row in enumerate(self.rows):
            row.words.observe(partial(self._write, number), "value")
            row.earlier.on_click(lambda _, number=number: self._move(number - 1))
            row.later.on_click(lambda _, number=number: self._move(number))
            row.play.on_click(lambda _, number=number: self._play(number))
        self.rows[0].earlier.disabled = self.rows[-1].later.disabled = True
        self._show()

    @property
    def said(self) -> str:
        return self._said.value

    def __repr__(self) -> str:
        return "\n".join([*(f"{beat.chapter}: {' '.join(beat.says)}" for beat in self.story.beats), self.said])

    def _write(self, number: int, change: Mapping) -> None:
        says = tuple(" ".join(line.split()) for line in change["new"].splitlines() if line.strip())
        if says != self._beats[number].says:
            self._beats[number] = replace(self._beats[number], says=says)
            self._show()

    def _move(self, number: int) -> None:
        """Exchange a beat with the one after it."""
        self._beats[number : number + 2] = self._beats[number : number + 2][::-1]
        self._show()

    def _show(self) -> None:
        for row, beat in zip(self.rows, self._beats, strict=True):
            row.chapter.value, row.words.value = f"<b>{escape(beat.chapter)}</b>", "\n".join(beat.says)
        try:
            self.story = fitting(replace(self.story, beats=tuple(self._beats)), self._answer, self._begun)
            film = self._film()
        except BadStory as error:
            self._said.value = escape(f"{error}.")
            return
        stage = film.stage()
        for number, row in enumerate(self.rows):
            row.name = name_of_beat(film, stage, number)
            row.picture.value = self._once(row.name, partial(_still, film, stage, number))
        self._said.value = LONG.format(clock(film.times.frames, RATE), len(self.rows))

    def _film(self) -> Film:
        return Film(self._answer, timeline(self.story, self._answer, RATE), "wide", HIGH, self._colours)

    def _play(self, number: int) -> None:
        film, row = self._film(), self.rows[number]
        loop = self._once(f"loop {row.name}", lambda: loop_of(replace(film, times=film.times.only({number}))))
        if isinstance(loop, Loop):
            row.picture.value = loop.data
        else:
            self._said.value = escape(loop.text)

    def _once(self, name: str, make: Callable[[], object]):
        """What was made under this name, or is made now."""
        if name not in self._made:
            self._made[name] = make()
        return self._made[name]


class _Row(widgets.HBox):
    """A beat on the board."""

    def __init__(self):
        self.name, self.picture = "", widgets.Image(format="png", width=HIGH * 16 // 9, height=HIGH)
        self.chapter, self.words = widgets.HTML(), widgets.Textarea(continuous_update=False, rows=4, layout={"width": "30em"})
        self.earlier, self.later, self.play = (
            widgets.Button(description=text, layout={"width": "6em"}) for text in (EARLIER, LATER, PLAY)
        )
        buttons = widgets.HBox([self.earlier, self.later, self.play])
        super().__init__([self.picture, widgets.VBox([self.chapter, self.words, buttons])])


def _still(film: Film, stage: Stage, number: int) -> bytes:
    """A beat's picture as PNG: the first on which something is marked, else its last."""
    shots, held = [shot for shot in film.times.shots if shot.beat == number], BytesIO()
    shot = next((shot for shot in shots if shot.marked and not shot.animated), shots[-1])
    Image.fromarray(stage.picture(shot, shot.last - 1)[..., :3].copy()).save(held, format="png")
    return held.getvalue()
