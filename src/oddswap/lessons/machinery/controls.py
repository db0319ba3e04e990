"""Guess, then see: a control that holds a prediction, or a room's show of hands, and a kind comparison afterwards.

One knob: a control and what a plain function makes of its value, a picture or some words.

Why guess at all: observers who did not predict what they were about to see understood it no better than those who
saw nothing (Crouch, Fagen, Callan and Mazur, Am. J. Phys. 72 (2004) 835-838).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import ipywidgets as widgets
from matplotlib.figure import Figure

from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.showing.ink.widgets import Note, Sheet, be_kind, label, png, shown, undisturbed
from oddswap.words.products.notebooks import TO_RUN

MOST_HANDS = 999
ALONE, TOGETHER = "just me", "a show of hands"


def begin() -> None:
    """Make a notebook ready: figures are shown as pictures, and mistakes are answered by a kind sentence.

    >>> begin()
    """
    from IPython import get_ipython

    be_kind()
    if get_ipython() is not None:
        get_ipython().display_formatter.formatters["image/png"].for_type(Figure, shown)


@dataclass(frozen=True)
class Prediction:
    """A question with its choices, and how many hands went up for each: all 0 while nobody has answered."""

    question: str
    choices: tuple[str, ...]
    hands: tuple[int, ...]

    @property
    def total(self) -> int:
        return sum(self.hands)

    def __repr__(self) -> str:
        marks = [f"[{n or ' '}]" for n in self.hands]
        return "\n".join([self.question, *(f"  {m} {c}" for m, c in zip(marks, self.choices, strict=True))])


def compare(guessed: object, outcome: str) -> Note:
    """What was predicted beside what happened: without scolding, and without a word about a question left open.

    ``outcome`` is one of the choices. Anything else gets a kind sentence.

    >>> compare(guess("Heads or tails?", ["heads", "tails"], [1, 0]), "tails")
    You guessed "heads"; what happened is "tails". Good to know: now there is something to
    find out.
    """
    prediction = guessed.prediction if isinstance(guessed, Guess) else guessed
    if not isinstance(prediction, Prediction):
        return Note("There is no guess to compare with: run the guess cell first. It is no matter if you leave it open.")
    if outcome not in prediction.choices:
        choices = ", ".join(f'"{choice}"' for choice in prediction.choices)
        return Note(f"The outcome {quoted(outcome)} is none of the choices; they were {choices}.")
    if prediction.total == 0:
        return Note(f'What happened is "{outcome}".')
    if prediction.total == 1:
        choice = prediction.choices[prediction.hands.index(1)]
        if choice == outcome:
            return Note(f'You guessed "{choice}", and that is what happened.')
        return Note(f'You guessed "{choice}"; what happened is "{outcome}". Good to know: now there is something to find out.')
    return Note(_to_many(prediction, outcome))


def _to_many(prediction: Prediction, outcome: str) -> str:
    right = prediction.hands[prediction.choices.index(outcome)]
    were = f"{right} was" if right == 1 else f"{right} were"
    lines = [f'Of {prediction.total} hands, {were} for "{outcome}", which is what happened.']
    for choice, count in zip(prediction.choices, prediction.hands, strict=True):
        lines.append(f"  {count:>3}  {choice}")
    if 2 * right < prediction.total:
        lines.append("Let somebody from each side say why, before you read on.")
    return "\n".join(lines)


class Guess(Sheet):
    """The control of one `Prediction`: a choice for a reader alone, numbers for a room. It starts unanswered."""

    def __init__(self, asked: Prediction):
        self._asked = asked
        self._alone = widgets.RadioButtons(options=asked.choices, value=None, layout={"width": "auto"})
        small = {"min": 0, "max": MOST_HANDS, "layout": {"width": "4.5em"}}
        self._counts = [widgets.BoundedIntText(value=count, **small) for count in asked.hands]
        pairs, beside = zip(self._counts, asked.choices, strict=True), {"align_items": "center"}
        rows = [widgets.HBox([count, label(choice)], layout=beside) for count, choice in pairs]
        self._mode = widgets.ToggleButtons(options=[ALONE, TOGETHER], style={"button_width": "10em"})
        self._pages = widgets.VBox([self._alone], layout={"padding": "0.3em 0"}), widgets.VBox(rows)
        super().__init__([label(asked.question, strong=True), self._mode, self._pages[0]])
        self._mode.observe(self._turn_page, "value")
        if asked.total:
            self._mode.value = TOGETHER

    def _turn_page(self, change) -> None:
        self.children = (*self.children[:2], self._pages[change["new"] == TOGETHER])

    @property
    def prediction(self) -> Prediction:
        """What has been predicted so far."""
        if self._mode.value == TOGETHER:
            hands = tuple(count.value for count in self._counts)
        else:
            hands = tuple(int(choice == self._alone.value) for choice in self._asked.choices)
        return Prediction(self._asked.question, self._asked.choices, hands)

    def choose(self, choice: str) -> None:
        """Answer as a reader alone would by a click."""
        if choice not in self._asked.choices:
            raise BadOption(f"{quoted(choice)} is none of the choices: {', '.join(self._asked.choices)}")
        self._mode.value, self._alone.value = ALONE, choice

    def __repr__(self) -> str:
        return repr(self.prediction)


def guess(question: str, choices: Iterable[str], hands: Sequence[int] | None = None) -> Guess:
    """Ask before showing. ``hands`` may hold a show of hands, a number for each choice. `BadOption` says what does not fit.

    The control stays unanswered until somebody answers, and nothing depends on it but `compare`.

    >>> guess("Heads or tails?", ["heads", "tails"])
    Heads or tails?
      [ ] heads
      [ ] tails
    """
    choices = (choices,) if isinstance(choices, str) else tuple(map(str, choices))
    if len(choices) < 2 or len(set(choices)) < len(choices):
        raise BadOption("a guess needs two choices or more, all different")
    counts = tuple(hands) if hands is not None else (0,) * len(choices)
    if len(counts) != len(choices):
        raise BadOption(f"{len(choices)} choices need {len(choices)} numbers of hands, not {len(counts)}")
    for count in counts:
        if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= MOST_HANDS:
            raise BadOption(f"{quoted(count)} is no number of hands: write a whole number from 0 to {MOST_HANDS}")
    return Guess(Prediction(str(question), choices, counts))


class Knob(Sheet):
    """``show(control.value)`` beneath the control, made anew when that changes; every value is computed once."""

    def __init__(self, show: Callable, control: widgets.ValueWidget):
        self.control = control
        self._made = lru_cache(maxsize=64)(lambda value: _made(show, value))
        self._picture = widgets.Image(format="png", layout={"max_width": "100%", "align_self": "flex-start"})
        self._words = widgets.HTML()
        super().__init__([control, self._picture, self._words])
        control.observe(lambda _: self._turned(), "value")
        self._turned()

    @property
    def outcome(self) -> Figure | Note:
        """What is shown just now."""
        return self.made(self.control.value)

    def made(self, value) -> Figure | Note:
        """What is shown at a value of the control."""
        return self._made(value)[0]

    @undisturbed()
    def _turned(self) -> None:
        outcome, picture = self._made(self.control.value)
        shown, hidden = (self._picture, self._words) if picture else (self._words, self._picture)
        shown.value = picture or outcome._repr_html_()
        shown.layout.display, hidden.layout.display = None, "none"
        if picture:
            self._picture.layout.width = f"{100 * outcome.get_figwidth():.0f}px"

    def __repr__(self) -> str:
        told = self.outcome if isinstance(self.outcome, Note) else TO_RUN
        return f"{self.control.description}: {self.control.value}\n{told}"


def _made(show: Callable, value) -> tuple[Figure | Note, bytes]:
    """What a function makes of a value, with the picture's bytes if it is one."""
    try:
        made = show(value)
    except OddswapError as error:
        made = Note(f"That cannot be shown yet: {error}.")
    if isinstance(made, Figure):
        return made, png(made, 110)
    return made if isinstance(made, Note) else Note(str(made)), b""


def knob(show: Callable, control: widgets.ValueWidget | Sequence, name: str = "choose") -> Knob:
    """A knob round a pure function of one value that returns a figure, a `Note`, or a text.

    The ``control`` is a widget, or the values to choose from, the first to begin with: a slider for a ``range``, else a list.

    >>> knob(lambda n: f"{n} squared is {n * n}", range(3, 6), "n")
    n: 3
    3 squared is 9
    """
    if isinstance(control, range):
        control = widgets.IntSlider(value=control[0], min=min(control), max=max(control), step=control.step, description=name)
    elif not isinstance(control, widgets.ValueWidget):
        control = widgets.Dropdown(options=list(control), description=name)
    return Knob(show, control)
