"""The repair table as a widget: choose a ticket, see it, read the verdict, walk along the strip, change the ticket."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

import ipywidgets as widgets

from oddswap.errors import BadOption, OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.diagnosis import diagnose
from oddswap.reasoning.search import Budget
from oddswap.showing.notes import Note
from oddswap.showing.palette import HIGHLIGHT
from oddswap.showing.table import (
    Case,
    TicketLike,
    answer_sections,
    case_of,
    draw_stop,
    draw_way,
    frames_of,
    moves_of,
    stop_words,
)
from oddswap.showing.widgets import Sheet, coded, png

OWN = "as the ticket says"
PATIENCE = Budget(seconds=30.0, memory_bytes=1_000_000_000)
"""How long somebody at the table waits for a way out."""
WAIT = "Looking for the shortest way out: half a minute at most …"
ONE_OVER_THE_OTHER = {"grid_template_areas": '"strip"', "grid_template_columns": "100%"}
CLOSE_SET = (
    "<style>.oddswap-answer { line-height: 1.4 } .oddswap-answer p, .oddswap-answer ul { margin: 0.3em 0 0.5em }"
    " .oddswap-answer ul { padding-left: 1.3em }</style>"
)
TALL = "26em"
FIRST = ("", "Which piece is not what it seems")
CLOSED = ("A way out", "To set it up on your own copy", "What was taken for granted")
"""The parts of an answer that open by a click; the others are open from the start."""


class RepairTable(Sheet):
    """The table with its tickets. The pure functions behind it are those of `oddswap.showing.table`."""

    def __init__(self, tickets: Iterable[TicketLike], puzzles: Iterable[str] = ()):
        self._tickets = {ticket.name: ticket for ticket in tickets}
        names = dict.fromkeys([*puzzles, *(t.puzzle.name for t in self._tickets.values())])
        style = {"description_width": "9em"}
        self.ticket = widgets.Dropdown(options=list(self._tickets), description="Ticket", style=style)
        self.puzzle = widgets.Dropdown(options=[OWN, *names], description="On puzzle", style=style)
        self.changes = widgets.Text(
            placeholder="such as: flip UF, swap UR UB", description="Change by hand", continuous_update=False, style=style
        )
        self.ticket.layout.width, self.puzzle.layout.width, self.changes.layout.width = "60%", "50%", "50%"
        self.step = widgets.IntSlider(min=0, max=0, description="Step", style=style, readout=False, layout={"flex": "1 1 auto"})
        self.where = widgets.HTML(layout={"width": "17em"})
        self.picture = widgets.Image(format="png", layout={"width": "55%", "object_fit": "contain", "align_self": "flex-start"})
        self.panel = widgets.HTML(layout={"width": "45%", "max_height": TALL, "overflow": "auto", "padding": "0 0 0 1em"})
        self.strip = widgets.HTML(layout={"grid_area": "strip", "width": "100%", "margin": "0"})
        self.marker = widgets.HTML(layout={"grid_area": "strip", "width": "100%", "margin": "0"})
        self._walk = widgets.HBox([self.step, self.where])
        self.case: Case | None = None
        self.answer: Answer | None = None
        self._answers: dict[Case, Answer] = {}
        self._taking = False
        super().__init__(
            [
                self.ticket,
                widgets.HBox([self.puzzle, self.changes]),
                widgets.HBox([self.picture, self.panel]),
                self._walk,
                widgets.GridBox([self.strip, self.marker], layout=ONE_OVER_THE_OTHER),
            ]
        )
        self.ticket.observe(lambda _: self._taken(), "value")
        self.puzzle.observe(lambda _: self._laid(), "value")
        self.changes.observe(lambda _: self._laid(), "value")
        self.step.observe(lambda _: self._stepped(), "value")
        self._laid()

    def _taken(self) -> None:
        """Another ticket: it is told as it stands."""
        self._taking = True
        self.puzzle.value, self.changes.value = OWN, ""
        self._taking = False
        self.case = None
        self._laid()

    def _laid(self) -> None:
        if self._taking:
            return
        ticket, told_of = self._tickets[self.ticket.value], self.puzzle.value
        try:
            case = case_of(ticket, self.changes.value, None if told_of == OWN else load(told_of))
            if case == self.case:
                self.panel.value = panel_html(case, self.answer)
                return
            found = Answer(case.puzzle, case.appearance, diagnose(case.puzzle, case.appearance), None, None)
            picture = png(draw_stop(case, found))
        except OddswapError as error:
            self.panel.value = Note(f"That cannot be laid on the table yet: {error}.")._repr_html_()
            return
        self.case, self.answer, self._pictures = case, found, {0: picture}
        self.step.max, self._walk.layout.display = 0, None
        self.strip.value = self.marker.value = ""
        self._stepped()
        if found.diagnosis.explanation is not None:
            self.panel.value = panel_html(case, found, WAIT)
            self.answer = self._answered(case)
        self._roll_out()
        self.panel.value = panel_html(case, self.answer)

    def _answered(self, case: Case) -> Answer:
        if case not in self._answers:
            self._answers[case] = answer(case.puzzle, case.appearance, PATIENCE, self._tell)
        return self._answers[case]

    def _tell(self, bound: int, states: int, seconds: float) -> None:
        self.where.value = f"fewer than {bound} moves: excluded"

    def _roll_out(self) -> None:
        """The strip of the way out beneath, and the slider along it."""
        strip = draw_way(self.case, self.answer)
        self._walk.layout.display, self.panel.layout.max_height = ("none", None) if strip is None else (None, TALL)
        if strip is not None:
            self._frames, (width, height) = frames_of(strip), strip.get_size_inches()
            self._sheet = 1000, round(1000 * height / width)
            source = f"data:image/png;base64,{coded(strip)}"
            self.strip.value = f'<img style="width:100%;display:block" alt="the way out" src="{source}">'
            self.step.max = len(moves_of(self.answer)) + 1
        self._stepped()

    def _stepped(self) -> None:
        if self.case is None:
            return
        stop = self.step.value
        if stop not in self._pictures:
            self._pictures[stop] = png(draw_stop(self.case, self.answer, stop))
        self.picture.value = self._pictures[stop]
        self.where.value = escape(stop_words(self.answer, stop))
        self.marker.value = self._mark(stop) if stop else ""

    def _mark(self, stop: int) -> str:
        width, height = self._sheet
        x, y, w, h = self._frames[stop - 1]
        box = f'x="{x * width:.0f}" y="{y * height:.0f}" width="{w * width:.0f}" height="{h * height:.0f}"'
        return (
            f'<svg viewBox="0 0 {width} {height}" style="width:100%;display:block;pointer-events:none">'
            f'<rect {box} fill="none" stroke="{HIGHLIGHT}" stroke-width="5"/></svg>'
        )

    def __repr__(self) -> str:
        lines = [f"The repair table: {len(self._tickets)} tickets; on the table is {self.ticket.value!r}."]
        if self.case is not None:
            lines.append(f"It is a {self.case.puzzle.title}. Verdict: {self.answer.verdict}.")
            lines.append(f"Way out: {' '.join(moves_of(self.answer)) or 'none by turning'}.")
        return "\n".join(lines)


def panel_html(case: Case, found: Answer, wait: str = "") -> str:
    """What is known of the ticket, and the answer with its longer parts folded; ``wait`` says what is still to come."""
    parts = [f"<p><i>{escape(case.note)}</i></p>"] if case.note else []
    for heading, body in sorted(answer_sections(found), key=lambda section: section[0] not in FIRST):
        if heading in CLOSED:
            parts.append(f"<details><summary><b>{escape(heading)}</b></summary>{body}</details>")
        else:
            parts.append((f"<b>{escape(heading)}</b>" if heading else "") + body)
    return f'{CLOSE_SET}<div class="oddswap-answer">{"".join(parts)}{escape(wait)}</div>'


def repair_table(tickets: Iterable[TicketLike], puzzles: Iterable[str] = ()) -> RepairTable:
    """Lay ``tickets`` out; ``puzzles`` are further names that a ticket may be told of. `BadOption` for no ticket at all."""
    tickets = list(tickets)
    if not tickets:
        raise BadOption("there is no ticket to lay on the table: put some into the folder tickets")
    return RepairTable(tickets, puzzles)
