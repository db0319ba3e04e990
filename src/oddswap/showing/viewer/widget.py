"""The viewer: a puzzle in the notebook that can be looked round, turned and undone, and that Python follows.

One ES module, joined here from hand-written files, draws with WebGL and fetches nothing. The state that goes to and fro
is a label permutation; the geometry goes once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

import traitlets

from oddswap.describing.doors import door
from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.flat import colours_by_paint
from oddswap.showing.ink.painting import slot_numbers
from oddswap.showing.ink.palette import coloured, read_colour
from oddswap.showing.ink.widgets import OwnWidget
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.pictures.strip import made_by, names_of
from oddswap.showing.viewer.pack import labels_of, packed, turns_of
from oddswap.values.position import START, Arrangement, Holding
from oddswap.values.sequence import Sequence

NAMES = ("state", "sight", "shaders", "draw", "page", "inked", "turning", "hands", "strip", "viewer", "laws", "telling")
PARTS = tuple(f"{name}.js" for name in NAMES)
Groups = list[list[int]]
"""Turns by their number in `turns_of` plus one, those in a group at once."""
Sticker = tuple[str, str] | str
"""Home slot and facet; on a flat puzzle the home slot alone."""


def module() -> str:
    """The viewer's ES module: its parts one after the other."""
    here = files("oddswap.showing.viewer")
    return coloured("\n".join((here / part).read_text("utf-8") for part in PARTS))


def groups_of(puzzle: Puzzle, moves: str | Sequence, start: Arrangement) -> Groups:
    """What each move turns, seen from the core, and at the end what turns the whole puzzle where the holding is free."""
    sequence = puzzle.read(moves)
    number = {turn.name: i + 1 for i, turn in enumerate(turns_of(puzzle))}
    groups = [[number[turn.name] for turn in turns] for turns in made_by(puzzle, sequence.steps, start)[0]]
    whole = [[number[turn.name]] for turn in puzzle.settled(sequence, start)[0] if turn.whole]
    return [*groups, *whole]


def strip_of(puzzle: Puzzle, moves: str | Sequence, start: Arrangement, holding: Holding = START) -> dict:
    """The strip of a sequence as the viewer shows it: its start, and for each move its name and what it turns; empty for none.

    ``moves`` are as hands say them that hold the puzzle as in ``holding``.
    """
    steps = puzzle.read(moves).steps
    made, _ = made_by(puzzle, steps, start, holding)
    number = {turn.name: i + 1 for i, turn in enumerate(turns_of(puzzle))}
    names = names_of(puzzle, start, steps, made, holding)
    frames = [
        {"name": name, "aside": aside, "group": [number[turn.name] for turn in turns]}
        for (name, aside), turns in zip(names, made, strict=True)
    ]
    return {"start": labels_of(puzzle, start), "frames": frames} if frames else {}


class Viewer(OwnWidget):
    """A puzzle to look at and to turn, by mouse, touch, keys or `play`; ``arrangement`` is where it stands now.

    Setting ``arrangement`` lays it out anew, with nothing to undo.
    Colours are the lessons' or, by facet, the visitor's ``colours``. ``observe(f, "arrangement")`` calls ``f`` after every
    change, wherever it was made; see also `on_turn` and `on_pick`. With ``mode`` "pick" a click picks a sticker; in the
    other modes it tells what is seen (`telling.js`): with "paint", that a sticker has the paint ``brush``: ``told`` holds it.

    >>> viewer = Viewer("cube:3")
    >>> viewer.play("R U R'")
    >>> viewer.moves, len(viewer.arrangement.displaced())
    ("R U R'", 9)
    """

    _esm = module()

    arrangement = traitlets.Instance(Arrangement)
    pack = traitlets.Dict().tag(sync=True)
    labels = traitlets.List().tag(sync=True)
    done = traitlets.List().tag(sync=True)
    played = traitlets.Dict().tag(sync=True)
    asked = traitlets.Int(0).tag(sync=True)
    heard = traitlets.Int(0).tag(sync=True)
    answers = traitlets.Bool(True).tag(sync=True)
    colours = traitlets.Dict().tag(sync=True)
    stickers = traitlets.Dict().tag(sync=True)
    words = traitlets.Dict().tag(sync=True)
    highlight = traitlets.List().tag(sync=True)
    hatched = traitlets.List().tag(sync=True)
    xray = traitlets.Bool(False).tag(sync=True)
    letters = traitlets.Bool(False).tag(sync=True)
    strip = traitlets.Dict().tag(sync=True)
    step = traitlets.Int(0).tag(sync=True)
    mode = traitlets.Enum(["turn", "pick", "paint", "swap", "twist", "cover"], "turn").tag(sync=True)
    brush = traitlets.Unicode("").tag(sync=True)
    told = traitlets.Dict().tag(sync=True)
    covered = traitlets.List().tag(sync=True)
    names = traitlets.Dict().tag(sync=True)
    picture = traitlets.Unicode("").tag(sync=True)
    size = traitlets.Int(320).tag(sync=True)

    @door
    def __init__(
        self,
        puzzle: Puzzle | str,
        arrangement: Arrangement | None = None,
        *,
        colours: Mapping[str, str] | None = None,
        letters: bool = False,
        xray: bool = False,
        size: int = 320,
    ):
        self.puzzle = puzzle
        self._own = dict(colours or {})
        start = arrangement or self.puzzle.solved
        super().__init__(
            pack=dict(packed(self.puzzle)),
            arrangement=start,
            labels=labels_of(self.puzzle, start),
            colours=colours_by_paint(self.puzzle, colours),
            letters=letters,
            xray=xray,
            size=size,
        )
        self._turn_calls: list[Callable[[Viewer, tuple[str, ...]], None]] = []
        self._pick_calls: list[Callable[[Viewer, dict], None]] = []
        self.on_msg(self._message)

    @property
    def moves(self) -> str:
        """The turns made so far and not undone, as seen from the core."""
        return " ".join(self._names(self.done))

    def play(self, moves: str | Sequence) -> None:
        """Make moves, in the browser turn by turn. `NotationError` or `UnknownMove` for what this puzzle does not make."""
        groups = groups_of(self.puzzle, moves, self.arrangement)
        self._play(groups, self.puzzle.follow(moves, self.arrangement), [*self.done, *groups])

    def undo(self) -> None:
        """Take back the last move; nothing if there is none."""
        if self.done:
            back = [[-number for number in reversed(self.done[-1])]]
            self._play(back, self._after(back), self.done[:-1])

    def walk(self, moves: str | Sequence) -> None:
        """Lay the strip of a sequence from here beneath the prints, to go along step by step. An empty one takes it away."""
        with self.hold_sync():
            self.done, self.step = [], 0
            self.strip = strip_of(self.puzzle, moves, self.arrangement)

    def paint(self, colours: Mapping[Sticker, str], words: Mapping[Sticker, str] | None = None) -> None:
        """Colour single stickers instead of by their paint, and put words on them.

        What was painted before and is not named now gets its paint back. `UnknownSlot`, `UnknownColour` or `BadOption` for what
        is not there.
        """
        inks = {self._key(sticker): read_colour(colour) for sticker, colour in colours.items()}
        said = {self._key(sticker): str(word) for sticker, word in (words or {}).items()}
        with self.hold_sync():
            self.stickers, self.words = inks, said

    def mark(self, slots: Iterable[str | int] = ()) -> None:
        """Outline the pieces that sit in these slots, and no others."""
        self.highlight = slot_numbers(self.puzzle, slots)

    def hatch(self, pieces: Iterable[str | int] = ()) -> None:
        """Let the x-ray hatch only these pieces, by their home slots; all that have lookalikes when none is named."""
        self.hatched = slot_numbers(self.puzzle, pieces)

    def on_turn(self, call: Callable[[Viewer, tuple[str, ...]], None]) -> None:
        """Call ``call(viewer, names)`` after each turn or undoing in the browser, with the names of all turns made so far."""
        self._turn_calls.append(call)

    def on_pick(self, call: Callable[[Viewer, dict], None]) -> None:
        """Call ``call(viewer, pick)`` when a sticker is picked.

        ``pick`` has ``slot``, where it is; ``piece``, its home slot; and ``facet``, that of its home, or ``None`` on a flat
        puzzle and on a face that a cut has made.
        """
        self._pick_calls.append(call)

    def _play(self, groups: Groups, end: Arrangement, done: Groups) -> None:
        played = {"serial": self.played.get("serial", 0) + 1, "from": self.labels, "groups": groups}
        with self.hold_sync():
            self.played, self.done, self.labels = played, done, labels_of(self.puzzle, end)

    def _after(self, groups: Groups) -> Arrangement:
        image, turns = self.puzzle.permutation(self.arrangement), turns_of(self.puzzle)
        for number in (number for group in groups for number in group):
            permutation = turns[abs(number) - 1].permutation
            image = permutation[image] if number > 0 else permutation.argsort()[image]
        return self.puzzle.arrangement(image)

    def _names(self, groups: Groups) -> tuple[str, ...]:
        turns = turns_of(self.puzzle)
        return tuple(turns[number - 1].name for group in groups for number in group)

    def _key(self, sticker: Sticker) -> str:
        slot, facet = (sticker, "") if isinstance(sticker, str) else sticker
        name, facets = self.puzzle.slots[self.puzzle.slot(slot)], self.pack["facets"]
        if facet not in (facets or [""]):
            right = f"('{name}', '{facets[0]}')" if facets else f"'{name}'"
            raise BadOption(f"{quoted(facet)} is no facet of {self.puzzle.title}: name a sticker such as {right}")
        return f"{name}|{facet}"

    @traitlets.validate("labels")
    def _permuted(self, proposal) -> list[int]:
        labels, puzzle = proposal["value"], self.puzzle
        try:
            fits = sorted(labels) == list(range(puzzle.degree)) and labels_of(puzzle, puzzle.arrangement(labels)) == labels
        except (ValueError, IndexError):
            fits = False
        if not fits:
            raise traitlets.TraitError(f"these labels are no arrangement of the {len(puzzle.slots)} pieces of {puzzle.title}")
        return labels

    @traitlets.observe("labels")
    def _labels_changed(self, change) -> None:
        self.arrangement = self.puzzle.arrangement(change["new"])

    @traitlets.observe("arrangement")
    def _arrangement_changed(self, change) -> None:
        labels = labels_of(self.puzzle, change["new"])
        if labels != self.labels:
            with self.hold_sync():
                self.labels, self.done = labels, []
        if self.picture:
            self.picture = self.still()

    @traitlets.observe("asked")
    def _asked_changed(self, change) -> None:
        self.heard = change["new"]
        for call in self._turn_calls:
            call(self, self._names(self.done))

    def _message(self, _, content: dict, __) -> None:
        if content.get("ask") == "picture":
            self.picture = self.still()
        elif "pick" in content:
            for call in self._pick_calls:
                call(self, content["pick"])

    def still(self) -> str:
        """The static picture of where it stands now, as SVG."""
        figure = draw_prints(self.puzzle, self.arrangement, colours=self._own or None, letters=self.letters, xray=self.xray)
        with TemporaryDirectory() as folder:
            return save(figure, Path(folder) / "still.svg").read_text("utf-8")

    def __repr__(self) -> str:
        return f"Viewer({self.puzzle!r}, moves={self.moves!r})"


def traits_of(
    puzzle: Puzzle, start: Arrangement, colours: Mapping[str, str] | None = None, holding: Holding = START
) -> dict[str, object]:
    """What the viewer's model holds on a page without Python: a puzzle that nobody has turned yet."""
    fresh = {name: trait.default() for name, trait in vars(Viewer).items() if getattr(trait, "metadata", {}).get("sync")}
    given = {"pack": packed(puzzle, holding), "labels": labels_of(puzzle, start), "colours": colours_by_paint(puzzle, colours)}
    return fresh | given | {"answers": False, "size": 340}
