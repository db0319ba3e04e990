"""*What I see*: a widget that makes a ticket without typing. The pure part of it is `oddswap.desk.sketch`.

Choose the puzzle by its picture and tick the turns that this copy makes. Then turn it there, say what is off, or paint what you
see; the three ways mix. It checks as you go and says how many explanations remain.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from html import escape
from pathlib import Path

import ipywidgets as widgets

from oddswap.describing.reading import ticket_in
from oddswap.describing.stickers import stickers
from oddswap.describing.tickets import Ticket, parse_ticket, write_ticket
from oddswap.desk.inked import inked
from oddswap.desk.intake_controls import PAINT, SAY, TURN, IntakeControls
from oddswap.desk.paper_ticket import write_paper_ticket
from oddswap.desk.sketch import Sketch, SketchCheck, check_sketch, place_of, sketch_of
from oddswap.desk.which_puzzle import WhichPuzzle
from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.search.kept_files import write_whole
from oddswap.reasoning.ticket_answers import doubts_of
from oddswap.reasoning.verdicts.diagnosis import QUICK, judged
from oddswap.showing.ink.palette import colours_for
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.viewer.widget import Viewer
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import capital
from oddswap.values.text_file import read_bytes
from oddswap.words import say

EITHER, COVERED = "this or that", "can't see"


class Intake(IntakeControls):
    """The widget, which saves its tickets in ``folder``.

    ``sketch`` is what was entered so far, ``check`` what is known of it; ``changed`` are called after every change.
    """

    def __init__(self, puzzles: Iterable[str], folder: Path):
        self._folder = folder
        self.changed: list[Callable[[Intake], None]] = []
        self.walk: frozenset[Arrangement] = frozenset()
        """Where the puzzle may stand while somebody goes along a strip: that is no new sight."""
        self._past: list[Sketch] = []
        self._picked: list[str] = []
        self._own: dict[Path, bytes] = {}
        self._laid, self._busy = None, False
        super().__init__(WhichPuzzle(puzzles, self._begun, self._limited, self._refused))
        self.sketch = Sketch(self.which.puzzle, self.which.puzzle.solved)
        for button, act in (
            (
                self.exchange,
                lambda: self.sketch.exchanged(*self._chosen("pick two pieces on the picture first, then exchange them", 2)),
            ),
            (self.twist, lambda: self.sketch.twisted(*self._chosen("pick one piece on the picture first", 1))),
            (self.cover, lambda: self.sketch.cover(self._chosen("pick one piece or two on the picture first", 1, 2))),
            (self.empty, lambda: self.sketch.nothing_seen()),
            (self.afresh, lambda: Sketch(self.sketch.puzzle, self.sketch.puzzle.solved)),
        ):
            button.on_click(lambda _, act=act: self._step(act))
        self.back.on_click(lambda _: self._undone())
        self.save.on_click(lambda _: self._saved())
        self.paper.on_click(lambda _: self._printed())
        self.load.observe(lambda _: self._opened(), "value")
        self.postcard.observe(lambda change: change["new"] and self.take(change["new"]), "value")
        self.way.observe(lambda _: self._way_chosen(), "value")
        self.layers.observe(lambda _: self._layers_chosen(), "value")
        self._begun(self.sketch.puzzle)

    # What is entered

    @property
    def colours(self) -> dict[str, str]:
        """The visitor's words for colours, by facet."""
        return {row.description: row.value.strip() for row in self.names.children if row.value.strip()}

    @property
    def ticket_text(self) -> str:
        """The ticket as its file has it. An `OddswapError` says what does not fit."""
        text = write_ticket(replace(self.ticket, colours=self.colours, note=self.note.value.strip()))
        parse_ticket(text)
        return text

    @property
    def ticket(self) -> Ticket:
        """What was entered, with what the last ticket that was laid here says of copies and of how turns are written."""
        puzzle, seen, laid = self.sketch.puzzle, self.sketch.appearance, self._laid
        if laid is None or laid.puzzle is not puzzle:
            return Ticket("what I see", puzzle, seen)
        doubt = {"doubt": laid.doubt, "otherwise": laid.otherwise} if laid.appearance == seen else {}
        return Ticket("what I see", puzzle, seen, copy=laid.copy, habits=laid.habits, mine=laid.mine, **doubt)

    def _step(self, act: Callable[[], Sketch]) -> None:
        """Take a new sketch, or say why it cannot be and keep what was entered."""
        try:
            new = act()
        except OddswapError as error:
            self._refused(error)
            return
        self._past.append(self.sketch)
        self._show(new)

    def _undone(self) -> None:
        if self._past:
            self._show(self._past.pop())

    def _show(self, sketch: Sketch) -> None:
        self.sketch, self._picked, self._busy = sketch, [], True
        self.viewer.mark(())
        if self.viewer.arrangement != sketch.arrangement:
            self.viewer.arrangement = sketch.arrangement
        self._paint()
        self._busy = False
        self._report()

    def _report(self) -> None:
        self.check: SketchCheck = check_sketch(self.sketch)
        lines = [f"{escape(capital(sentence))}." for sentence in (*self.check.complaints, self.check.left)]
        if not self.check.complaints:
            found = judged(self.sketch.puzzle, self.sketch.appearance, QUICK)
            also = (*found.reached, *doubts_of(self.ticket, found.verdict))
            lines += [f"So far: <b>{escape(found.verdict)}</b>.", *(f"{escape(capital(say(one)))}." for one in also)]
        self.said.value = " ".join(lines)
        for call in self.changed:
            call(self)

    # The puzzle

    def _begun(self, puzzle: Puzzle) -> None:
        self._lay(puzzle, Sketch(puzzle, puzzle.solved))

    def _limited(self, puzzle: Puzzle) -> None:
        """The same puzzle with other turns: what was entered stays."""
        self._lay(puzzle, replace(self.sketch, puzzle=puzzle, arrangement=replace(self.sketch.arrangement, puzzle=puzzle.name)))

    def _refused(self, error: OddswapError) -> None:
        self.said.value = f"<b>{escape(str(error))}</b>"

    def _lay(self, puzzle: Puzzle, sketch: Sketch) -> None:
        """Another puzzle on the table."""
        if puzzle is not self.sketch.puzzle or not self.place.children:
            self._past = []
            self.viewer = Viewer(puzzle, puzzle.solved, size=236)
            self.viewer.layout.width = "100%"
            self.viewer.observe(lambda _: self._turned(), "arrangement")
            self.viewer.on_pick(lambda _, pick: self._pick(pick))
            self.place.children = [self.viewer]
            facets = list(puzzle.geometry.facets) if puzzle.geometry is not None else []
            self.names.children = [widgets.Text(description=facet, continuous_update=False) for facet in facets]
            for row in self.names.children:
                row.observe(lambda _: self._named(), "value")
            self.layers.options = [face for face in "UDFBLR" if any(face in slot for slot in puzzle.slots)] if facets else []
            self._brushes()
            self._way_chosen()
        self._show(sketch)

    # Turning

    def _turned(self) -> None:
        if not self._busy and self.viewer.arrangement not in {self.sketch.arrangement, *self.walk}:
            self._past.append(self.sketch)
            self.sketch = self.sketch.turned(self.viewer.arrangement)
            self._paint()
            self._report()

    def _way_chosen(self) -> None:
        way = self.way.value
        if way == PAINT and stickers(self.sketch.puzzle) is None:
            self.said.value = f"<b>{escape(self.sketch.puzzle.title)} is told by its pieces: say what is off.</b>"
        self.viewer.mode = "turn" if way == TURN else "pick"
        self.tools.children = {
            TURN: [self.afresh, self.back],
            SAY: [self.exchange, self.twist, self.cover, self.layers, self.back],
            PAINT: [self.brush, self.empty, self.back],
        }[way]
        self._picked = []

    # Picking

    def _pick(self, pick: dict) -> None:
        slot = pick["slot"]
        if self.way.value == PAINT:
            self._step(lambda: self._stroke(slot, pick["facet"]))
            return
        self._picked = [*self._picked, slot][-2:] if slot not in self._picked else [s for s in self._picked if s != slot]
        self.viewer.mark(self._picked)
        self.said.value = f"Picked: {escape(' and '.join(self._picked) or 'nothing')}."

    def _chosen(self, ask: str, *counts: int) -> list[str]:
        """The slots that are picked, if they are so many."""
        if len(self._picked) not in counts:
            raise _Pick(ask)
        return self._picked

    def _layers_chosen(self) -> None:
        if self._busy or not self.layers.value:
            return
        done = set(self.layers.value)
        puzzle = self.sketch.puzzle
        open_slots = [slot for slot in puzzle.slots if not done & set(slot.partition(".")[0])]
        self._step(lambda: Sketch(puzzle, puzzle.solved).cover(open_slots))

    # Painting

    def _brushes(self) -> None:
        puzzle = self.viewer.puzzle
        paints = dict.fromkeys(puzzle.geometry.paints.values()) if stickers(puzzle) is not None else {}
        words = self.colours
        self.brush.options = [(words.get(paint, paint), (paint,)) for paint in paints] + [(COVERED, ()), (EITHER, EITHER)]

    def _stroke(self, slot: str, facet: str | None) -> Sketch:
        sketch, brush = self.sketch, self.brush.value
        if facet is None:
            raise _Pick("that is a face which a cut has made: pick a sticker")
        number, face = place_of(sketch.puzzle, sketch.arrangement, sketch.puzzle.slot(slot), facet)
        if brush == EITHER:
            now = sketch.painted.get((number, face), frozenset())
            paints = list(dict.fromkeys(sketch.puzzle.geometry.paints.values()))
            last = self._last or paints[0]
            return sketch.paint(sketch.puzzle.slots[number], face, now | {last})
        self._last = brush[0] if brush else self._last
        return sketch.paint(sketch.puzzle.slots[number], face, brush)

    _last: str | None = None
    """The colour that was painted last: what *this or that* adds to a sticker."""

    def _paint(self) -> None:
        """Show on the viewer what is painted and what is covered."""
        if self.sketch.puzzle.geometry is not None:
            inks, _ = stand_ins(self.colours)
            self.viewer.colours = colours_for(self.sketch.puzzle, inks)
        self.viewer.paint(*inked(self.sketch, self.viewer.colours))

    def _named(self) -> None:
        if not self._busy:
            try:
                self._paint()
                self._brushes()
            except OddswapError as error:
                self._refused(error)

    # Files

    def _saved(self) -> None:
        path = self._folder / Path(self.file.value).name
        try:
            if path.exists() and read_bytes(path) != self._own.get(path):
                self.said.value = f"<b>{escape(path.name)} is there already and was not saved from here: give another name.</b>"
                return
            ticket = self.ticket_text.encode()
            write_whole(path, ticket)
            self._own[path] = ticket
            self.said.value = f"Saved as {escape(path.name)}."
        except (OddswapError, OSError) as error:
            self.said.value = f"<b>It was not saved: {escape(str(error))}</b>"

    def _printed(self) -> None:
        try:
            path = write_paper_ticket(self.sketch.puzzle, self._folder / "ticket_to_colour_in.pdf")
            self.said.value = f"To print: {escape(path.name)}."
        except (OddswapError, OSError) as error:
            self.said.value = f"<b>It was not made: {escape(str(error))}</b>"

    def _opened(self) -> None:
        for upload in self.load.value:
            self.take(bytes(upload["content"]).decode("utf-8", errors="replace"))

    def take(self, text: str) -> None:
        """Lay the ticket of a text on the table, or say what is wrong with it and keep what was entered."""
        try:
            self.lay(ticket_in(text))
        except OddswapError as error:
            self._refused(error)

    def lay(self, ticket: Ticket) -> None:
        """Lay a ticket on the table; one of another puzzle brings that puzzle along."""
        sketch = sketch_of(ticket.puzzle, ticket.appearance)
        if ticket.puzzle is not self.sketch.puzzle:
            self._begun(ticket.puzzle)
        self._busy = True
        self.which.show(ticket.puzzle.name)
        for row in self.names.children:
            row.value = dict(ticket.colours).get(row.description, "")
        self._busy = False
        self.note.value = ticket.note
        self._laid = ticket
        self._brushes()
        self._step(lambda: sketch)

    def __repr__(self) -> str:
        return f"What I see: {self.sketch.puzzle.title}. {capital(self.check.left)}."


class _Pick(OddswapError):
    """What has to be picked first."""
