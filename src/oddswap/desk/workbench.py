"""The workbench of the repair table: what is seen, the verdict with its proof, the culprits and the way out side by side.

On the left *What I see* with the puzzle; on the right what is to be said of it. The strip of the way out lies below the puzzle,
so that nobody has to scroll between a puzzle and its explanation.
"""

from collections.abc import Iterable
from html import escape

import ipywidgets as widgets

from oddswap.describing.copies import OwnCopy
from oddswap.describing.tickets import Ticket
from oddswap.desk.intake import Intake
from oddswap.desk.retelling import retell
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.tally import tally
from oddswap.reasoning.ticket_answers import answer_to, doubts_of, first_answer_to, noting
from oddswap.reasoning.verdicts.diagnosis import OTHER_TURNS, diagnose
from oddswap.showing.ink.widgets import Sheet, address_of, small_png
from oddswap.showing.pages.markdown import as_html
from oddswap.showing.pages.report import details_sections, verdict_sections
from oddswap.showing.pictures.tallies import draw_tally
from oddswap.words.products.desk import WAIT, on_the_table, searching_words
from oddswap.words.reader import Reader
from oddswap.words.verdicts import HEADINGS

PATIENCE = Budget(seconds=30.0, bytes=1_000_000_000)
"""How long somebody at the table waits for a way out."""
OWN, AS_TOLD = "a ticket of my own", "as the ticket says"
STYLE = (
    "<style>.oddswap-answer { line-height: 1.35; font-size: 13px } .oddswap-answer h3 { margin: 0.3em 0 0 }"
    " .oddswap-answer p, .oddswap-answer ul { margin: 0.25em 0 0.4em } .oddswap-answer ul { padding-left: 1.3em }</style>"
)
TALL = "30em"
FIRST, CLOSED = ("head", "culprits"), ("way out", "set-up", "assumed")
"""The sections of an answer that come first, and those that open by a click; the others are open from the start."""


class Workbench(Sheet):
    """The intake with its answer beside it. ``answer`` is the one to what is on the table now."""

    def __init__(self, tickets: Iterable[Ticket], intake: Intake, puzzles: Iterable[str] = ()):
        self._tickets = {ticket.name: ticket for ticket in tickets}
        self.intake = intake
        intake.which.selected_index = None
        self.ticket = widgets.Dropdown(options=[*self._tickets, OWN], description="Ticket", layout={"width": "28em"})
        self.told_of = widgets.Dropdown(options=[AS_TOLD, *puzzles], description="On puzzle", layout={"width": "24em"})
        self.find = widgets.Button(description="Find a way out", layout={"width": "auto"})
        self.panel = widgets.HTML(layout={"max_height": TALL, "overflow": "auto", "padding": "0 0 0 1em"})
        self.tally = widgets.HTML(layout={"padding": "0 0 0 1em"})
        left = widgets.VBox([intake], layout={"width": "52%"})
        right = widgets.VBox([self.find, self.panel, self.tally], layout={"width": "48%"})
        super().__init__([widgets.HBox([self.ticket, self.told_of]), widgets.HBox([left, right])])
        self._answers: dict[tuple, Answer] = {}
        self._walking = False
        self.ticket.observe(lambda _: self._taken(), "value")
        self.told_of.observe(lambda _: self._taken(), "value")
        self.find.on_click(lambda _: self._found())
        intake.changed.append(lambda _: self._laid())
        self._taken()

    def _taken(self) -> None:
        """Another ticket is laid on the table."""
        if self.ticket.value == OWN:
            self._laid()
            return
        ticket = self._tickets[self.ticket.value]
        try:
            other = None if self.told_of.value == AS_TOLD else load(self.told_of.value)
            self.intake.lay(ticket if other is None else retell(ticket, other))
        except OddswapError as error:
            self.panel.value = f"<b>{escape(str(error))}</b>"

    def _laid(self) -> None:
        """The verdict on what is on the table now; a way out that was found before comes along."""
        if self._walking:
            return
        self._on_table = ticket = self.intake.ticket
        key = _key(ticket)
        self._put_away()
        try:
            self.answer = self._answers.get(key) or _at_once(ticket)
        except OddswapError as error:
            self.panel.value = f"<b>{escape(str(error))}</b>"
            return
        self.panel.value = panel_html(self.answer, mine=ticket.mine)
        self.find.disabled = self.answer.diagnosis.explanation is None and not self.answer.untried
        pieces = {piece for culprit in self.answer.diagnosis.culprits for piece in culprit.pieces}
        self.intake.viewer.hatch(sorted(pieces))
        self.intake.viewer.xray = bool(pieces)
        if key in self._answers:
            self._roll_out()

    def _found(self) -> None:
        """Search, and lay the strip of the way out below the puzzle."""
        ticket = self._on_table
        key = _key(ticket)
        if key not in self._answers:
            self.panel.value = panel_html(self.answer, WAIT, ticket.mine)
            self._answers[key] = answer_to(ticket, PATIENCE, self._tell)
        self.answer = self._answers[key]
        self.panel.value = panel_html(self.answer, mine=ticket.mine)
        self._roll_out()

    def _tell(self, bound: int, states: int, seconds: float) -> None:
        self.tally.value = searching_words(bound, states, seconds)

    def _roll_out(self) -> None:
        way = self.answer.easiest
        if way is None or self.answer.turning is not self.answer.puzzle:
            return
        self._walking = True
        viewer, start = self.intake.viewer, self.answer.diagnosis.explanation
        moves = way.turns.split()
        stops = (" ".join(moves[:count]) for count in range(len(moves) + 1))
        self.intake.walk = frozenset(self.answer.puzzle.follow(stop, start) for stop in stops)
        viewer.arrangement = start
        viewer.walk(way.turns)
        self._walking = False
        table = tally(self.answer.puzzle, way.turns, start).in_full()
        if table.laws and way.length <= 40:
            picture = address_of(small_png(draw_tally(table, per_row=13), dpi=70))
            style = 'alt="the tally of the way out" style="max-width:100%"'
            self.tally.value = f'<img {style} src="{picture}">'

    def _put_away(self) -> None:
        self.tally.value = ""
        self.intake.walk = frozenset()
        if self.intake.viewer.strip:
            self.intake.viewer.strip = {}

    def __repr__(self) -> str:
        return on_the_table(len(self._tickets), self.ticket.value, self.answer.puzzle.title, self.answer.verdict)


def _key(ticket: Ticket) -> tuple:
    """What the answer to a ticket hangs on."""
    return ticket.puzzle.name, ticket.appearance.sights, ticket.copy, ticket.mine, ticket.doubt


def _at_once(ticket: Ticket) -> Answer:
    """The answer without a search of what takes a box out of its outline, and with what its turns leave in doubt."""
    puzzle, seen = ticket.puzzle, ticket.appearance
    found = diagnose(puzzle, seen)
    if found.verdict == OTHER_TURNS and ticket.copy:
        return first_answer_to(ticket, PATIENCE)
    return noting(Answer(puzzle, seen, found, copy=ticket.limit), *doubts_of(ticket, found.verdict))


def panel_html(found: Answer, wait: str = "", mine: OwnCopy | None = None) -> str:
    """The answer with its longer parts folded; ``wait`` says what is still to come, ``mine`` is the explainer's own copy."""
    parts = []
    sections = {**verdict_sections(found), **details_sections(found, reader=Reader(mine=mine or OwnCopy()))}
    for code in sorted(sections, key=lambda code: code not in FIRST):
        heading, body = HEADINGS.get(code, ""), as_html("\n\n".join(sections[code]))
        if code in CLOSED:
            parts.append(f"<details><summary><b>{escape(heading)}</b></summary>{body}</details>")
        else:
            parts.append((f"<b>{escape(heading)}</b>" if heading else "") + body)
    return f'{STYLE}<div class="oddswap-answer">{"".join(parts)}{escape(wait)}</div>'
