"""The desk: one widget, whose sheet says at once what is known of what is seen, while a way out is sought.

Its script sends what a hand did as small messages, the table of which is `ACTS`; what came of it goes back as plain data.
"""

from collections.abc import Callable, Iterable
from dataclasses import replace
from importlib.resources import files
from json import dumps
from math import inf
from pathlib import Path
from threading import Thread
from time import process_time

import traitlets

from oddswap.describing.photographs.picture import LARGEST
from oddswap.describing.sights import every_look, own_look
from oddswap.describing.ticket import Ticket
from oddswap.describing.tickets import Letter, parse_ticket, ticket_in, ticket_of, write_ticket
from oddswap.desk.paper_ticket import write_paper_ticket
from oddswap.desk.photographed import Photographed, goes_where
from oddswap.desk.seeing import as_touched, shown
from oddswap.desk.sheet import ACROSS, about, sheet, tickable
from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.puzzles.catalogue import load, without_turns
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.kept_files import write_whole
from oddswap.reasoning.ticket_answers import answer_to, doubts_of, first_answer_to, noting
from oddswap.reasoning.verdicts.diagnosis import OTHER_TURNS, diagnose
from oddswap.showing.ink.palette import coloured
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.ink.widgets import OwnWidget, address_of, small_png
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.viewer.widget import module
from oddswap.values.grammar import listed
from oddswap.values.position import Appearance
from oddswap.values.text_file import read_bytes
from oddswap.words.products.desk import SAYS, on_the_table, searching_words
from oddswap.words.table import reader_of

PATIENCE = Budget(seconds=30.0, bytes=1_000_000_000)
"""How long a way out is sought for somebody at the desk."""
ASIDE = "picture", "seek", "stand"
"""What the script asks by itself: it leaves standing what was said."""
PARTS = ("desk.css", "edge.js", "hands.js", "own.js", "shot.js", "photographs.js", "desk.js")
SMALL = 40
"""Dots an inch of a small picture."""


def script() -> str:
    """The desk's ES module: that of the viewer, with the desk around it."""
    style, *parts = ((files("oddswap.desk") / name).read_text("utf-8") for name in PARTS)
    viewer = module().replace("export default { render };", "")
    return "\n".join([viewer, f"const DESK_STYLE = {dumps(coloured(style))};", *parts])


class Workbench(Photographed, OwnWidget):
    """The widget, which saves its tickets in ``folder``: ``ticket`` lies on its sheet, and ``answer`` is the one to it."""

    _esm = script()

    about = traitlets.Dict().tag(sync=True)
    sight = traitlets.Dict().tag(sync=True)
    sheet = traitlets.Dict().tag(sync=True)
    sought = traitlets.Unicode().tag(sync=True)
    said = traitlets.Unicode().tag(sync=True)
    heard = traitlets.Int().tag(sync=True)
    letters = traitlets.List().tag(sync=True)
    puzzles = traitlets.List().tag(sync=True)
    lessons = traitlets.Unicode().tag(sync=True)
    asks = traitlets.Unicode().tag(sync=True)
    working = traitlets.Unicode(SAYS.working).tag(sync=True)

    def __init__(self, letters: Iterable[Letter | Ticket], puzzles: Iterable[str | list], folder: Path, lessons: str = ""):
        self._letters = {letter.name: letter for letter in letters}
        self._folder, self._own = folder, {}
        self._answers: dict[tuple, Answer] = {}
        self._search: Thread | None = None
        self._serial = 0
        waiting = [[name, SAYS.waiting] for name in self._letters]
        super().__init__(puzzles=list(puzzles), letters=waiting, lessons=lessons, asks=goes_where())
        self.on_msg(lambda _, content, __: self.hear(content))
        if self._letters:
            self.hear({"act": "open", "letter": next(iter(self._letters))})
        if not self.sheet:
            self._choose(self.puzzles[0])

    def hear(self, did: dict) -> None:
        """What a hand did at the desk, one of `ACTS`: what cannot be is said in one sentence, and all stays as it was."""
        try:
            if did["act"] not in ASIDE:
                self.said = ""
            ACTS[did["act"]](self, **{name: value for name, value in did.items() if name != "act"})
        except (OddswapError, OSError) as error:
            self.said = str(error)
        self.heard += 1

    # What is told

    @property
    def ticket_text(self) -> str:
        """The ticket as its file has it. An `OddswapError` says what does not fit."""
        return _text_of(self.ticket)

    def lay(self, ticket: Ticket) -> None:
        """Lay a ticket on the sheet; one of another puzzle brings that puzzle along."""
        with self.hold_sync():
            self._answer(ticket)
            self._show()

    def _show(self) -> None:
        laid = self.ticket.puzzle, reader_of(self.ticket).holding
        if not self.about or laid != self._laid:
            self.about, self._laid = about(*laid), laid
        self.sight = {**shown(replace(self.ticket, appearance=self.answer.appearance)), "serial": self._serial}

    def _choose(self, puzzle: str) -> None:
        self.lay(_solved(puzzle))

    def _seen(self, appearance: Appearance) -> Ticket:
        held = self.ticket.held_last
        return replace(self.ticket, appearance=appearance, doubt=None, otherwise=None, held=held, thread=())

    def _see(self, sights: list[list[int]], told: dict[str, str]) -> None:
        self._answer(self._seen(as_touched(self.ticket.puzzle, sights, told, self.ticket.appearance)))

    def _done(self, layers: list[str]) -> None:
        """These layers are solved, and nothing else is seen."""
        puzzle = self.ticket.puzzle
        looks = (own_look if set(layers) & set(name.partition(".")[0]) else every_look for name in puzzle.slots)
        self.lay(self._seen(Appearance(puzzle.name, tuple(look(puzzle, b) for b, look in enumerate(looks)))))

    def _afresh(self) -> None:
        self.lay(self._seen(self.ticket.puzzle.appearance(self.ticket.puzzle.solved)))

    def _name(self, colours: dict[str, str], note: str) -> None:
        named = {facet: word.strip() for facet, word in colours.items() if word.strip()}
        ticket = replace(self.ticket, colours=named, note=note.strip())
        _text_of(ticket)
        self.lay(ticket)

    def _limit(self, turns: list[str]) -> None:
        """The same puzzle with other turns: what was told stays."""
        whole = load(without_turns(self.ticket.puzzle))
        puzzle = whole if len(turns) == len(tickable(whole)) else load(f"{whole.name},turns={'+'.join(turns)}")
        self.lay(replace(self.ticket, puzzle=puzzle, appearance=replace(self.ticket.appearance, puzzle=puzzle.name)))

    def _hold(self, tallest: str) -> None:
        *sizes, longest = sorted(map(int, without_turns(self.ticket.puzzle).removeprefix("cuboid:").split("x")))
        sizes.insert(ACROSS[tallest], longest)
        self._choose(f"cuboid:{'x'.join(map(str, sizes))}")

    # Letters, files, pictures

    def _ticket(self, letter: str) -> Ticket:
        found = self._letters[letter]
        return found if isinstance(found, Ticket) else ticket_of(found)

    def _open(self, letter: str) -> None:
        self._album = None
        try:
            self.lay(self._ticket(letter))
            self._mark(letter, self.sheet["verdict"])
        except OddswapError as error:
            self._mark(letter, str(error))
            raise

    def _mark(self, letter: str, words: str) -> None:
        self.letters = [[name, words if name == letter else said] for name, said in self.letters]

    def _take(self, text: str) -> None:
        self.lay(ticket_in(text))
        self._album = None
        self.said = SAYS.taken

    def _save(self, file: str, photographs: bool = False) -> None:
        path = self._folder / Path(file).name
        pictures, lines = self._album.files(path.stem) if photographs and self._album else ({}, "")
        files = {path.with_name(name): data for name, data in pictures.items()} | {path: f"{self.ticket_text}{lines}".encode()}
        for own in files:
            if own.exists() and read_bytes(own, LARGEST) != self._own.get(own):
                raise BadOption(f"{quoted(own.name)} is there already and was not saved from here: give another name")
        for own, data in files.items():
            write_whole(own, data)
        self._own |= files
        self.said = SAYS.saved.format(listed(own.name for own in files), path.parent.name)

    def _print(self) -> None:
        path = write_paper_ticket(self.ticket.puzzle, self._folder / "ticket_to_colour_in.pdf")
        self.said = SAYS.printed.format(path.name, path.parent.name)

    def _picture(self, what: str, name: str) -> None:
        """Send a small picture of a puzzle, or of what a letter describes; one at a time, so that no touch waits for many."""
        title, address = name, ""
        try:
            ticket = self._ticket(name) if what == "letter" else _solved(name)
            reader = reader_of(ticket)
            how = {"colours": stand_ins(reader.colours) or None, "holding": reader.holding, "caption": False}
            drawn = draw_prints(ticket.puzzle, ticket.appearance, **how)
            title, address = ticket.puzzle.title, address_of(small_png(drawn, SMALL))
        except OddswapError as error:
            self._mark(name, str(error))
        self.send({"picture": [what, name, title, address]})

    # The answer

    def _answer(self, ticket: Ticket) -> None:
        """Say at once what is known of a ticket; a way out that was found before comes along."""
        self._serial += 1
        if self._search:
            self._search.join()
            self._search = None
        known = self._answers.get(_key(ticket))
        self.answer, self.ticket = known or _at_once(ticket), ticket
        self._write(known is None and (self.answer.diagnosis.explanation is not None or self.answer.untried))

    def _write(self, seeking: bool) -> None:
        with self.hold_sync():
            self.sought = SAYS.seeking if seeking else ""
            self.sheet = {**sheet(self.ticket, self.answer, seeking), "serial": self._serial}

    def seek(self) -> None:
        """Begin to look for a way out of what lies on the sheet; what else is laid there ends the search."""
        if not self.sheet["seeking"] or self._search:
            return
        ticket, serial = self.ticket, self._serial

        def now() -> float:
            return process_time() if serial == self._serial else inf

        def tell(*reached) -> None:
            self.sought = searching_words(*reached)

        def look() -> None:
            try:
                found = answer_to(ticket, PATIENCE.start(now), tell)
            except OddswapError as error:
                self.said = str(error)
                return
            if serial == self._serial:
                self.answer = self._answers[_key(ticket)] = found
                self._write(False)

        self._search = Thread(target=look, daemon=True)
        self._search.start()

    def wait(self) -> None:
        """Look for a way out, and wait for what comes of it."""
        self.seek()
        if self._search:
            self._search.join()

    def __repr__(self) -> str:
        return on_the_table(len(self._letters), self.ticket.name, self.answer.puzzle.title, self.answer.verdict)


OWN = "choose open take see show done afresh name limit hold stand read correct save print picture".split()
ACTS: dict[str, Callable[..., None]] = {name: getattr(Workbench, f"_{name}") for name in OWN} | {"seek": Workbench.seek}
"""What a hand can do, by its name in the script."""


def _text_of(ticket: Ticket) -> str:
    """A ticket as its file has it; an `OddswapError` says what does not fit."""
    text = write_ticket(ticket)
    parse_ticket(text)
    return text


def _solved(name: str) -> Ticket:
    puzzle = load(name)
    return Ticket("what I see", puzzle, puzzle.appearance(puzzle.solved))


def _key(ticket: Ticket) -> tuple:
    """What the answer to a ticket hangs on."""
    return ticket.puzzle.name, ticket.appearance.sights, ticket.copy, ticket.mine, ticket.doubt, ticket.thread


def _at_once(ticket: Ticket) -> Answer:
    """The answer without a search of what takes a box out of its outline, and with what its turns leave in doubt."""
    puzzle, seen = ticket.puzzle, ticket.appearance
    if ticket.thread:
        return first_answer_to(ticket, PATIENCE)
    found = diagnose(puzzle, seen)
    if found.verdict == OTHER_TURNS and ticket.copy:
        return first_answer_to(ticket, PATIENCE)
    return noting(Answer(puzzle, seen, found, copy=ticket.limit), *doubts_of(ticket, found.verdict))
