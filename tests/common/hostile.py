"""Text that would be more than text: tags, Markdown, mathematics, captions, templates; and files that have it everywhere.

Each text has a core, such as ``zq.07``, by which it is found again in whatever was made of it. ``plain`` files have the
cores alone: what was made of them shows how many tags, links and lines there are when all text is harmless.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import tomli_w

from oddswap.commands.answered import kept
from oddswap.describing.ticket import Ticket
from oddswap.describing.tickets import read_ticket
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.teaching.plans import LAYERS
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.story_file import write_story

CORE = re.compile(r"zq\.\d\d")
THEMES = {
    "tags": (
        "<img src=x onerror=ZQ()>",
        "</script><script>ZQ()</script>",
        "&lt;b&gt;ZQ&amp;&#x202e;",
        '" onfocus="ZQ()" x=\'',
        "'><b>ZQ</b>",
        "<!-- ZQ",
        "--> ZQ ]]>",
        "</title><u>ZQ</u>",
        "<https://ZQ.example/>",
        "<v ZQ>said",
        "{\\an8}ZQ{b}",
        "00:01 --> 00:02 ZQ",
    ),
    "marks": (
        "[ZQ](https://a.example)",
        "![ZQ](a.png) [^1]",
        "**ZQ** ~~b~~ _c_ ==d==",
        "`ZQ` ```",
        "https://ZQ.example/a www.b.example",
        "ZQ@mail.example",
        "- ZQ",
        "1. ZQ",
        "# ZQ |- a | b",
        "\\ZQ\\ \\*a\\* ~a~ ^b^ {ZZ}`c`",
        "+ [ ] ZQ",
        "=== ZQ",
    ),
    "templates": (
        "$ZQ^2$ and $$b_1$$",
        "$\\frac{ZQ}{2}$",
        "$\\ZQ$ 10$",
        "{{title}} ZQ %s %(a)s",
        "{{measured}} ZQ {0}",
        "{{story}} ZQ",
        "\"\"\" ZQ '''",
        "\\u003cb\\u003e ZQ \\x41",
        "[bold]ZQ[/] [/b] :warning:",
        "[link=https://a.example]ZQ[/link]",
        ":::{ZQ} :a:`b`",
        "% ZQ ;#=",
    ),
}


@dataclass(frozen=True)
class Words:
    """The texts of a theme, or their cores alone; ``folder`` is where files go."""

    theme: str
    plain: bool
    folder: Path

    def __getitem__(self, number: int) -> str:
        """A text by its number, with its core."""
        core = f"zq.{number:02}"
        return core if self.plain else THEMES[self.theme][number].replace("ZQ", core)

    def dirty(self, number: int) -> str:
        """The same with what nobody sees before and after it, where it is to be cleaned."""
        return self[number] if self.plain else "\x1b\u202e" + self[number] + "\u2066\x07\u061c"

    def file(self, name: str, data: dict) -> Path:
        """A file with these data, under a name that has the last text in it as far as names of files can."""
        stem = re.sub(r"[/\0]", "", self[11])
        path = self.folder / f"{name} {stem}.toml"
        path.write_text(tomli_w.dumps(data), "utf-8")
        return path


def wheels(words: Words) -> str:
    """Two wheels of moves: pieces of six kinds and laws of many sorts; twins with looks of their own."""
    letters = "ABCDEF"
    sizes = dict(zip(letters, (5, 5, 3, 5, 5, 3), strict=True))
    slots = {letter: [f"{letter}{i}" for i in range(1, size + 1)] for letter, size in sizes.items()}
    kinds = [{"name": words[i], "slots": " ".join(slots[letter])} for i, letter in enumerate(letters)]
    kinds[1]["twist"] = 2
    kinds[3]["looks"] = {"D1": words[7], "D2": words[7], "D3": words[8]}
    moves = {
        "_a_": "(A1 A2 A3)(B1 B2+1 B3+1)(C1 C2)(D1 D3 D2)",
        "b": "(A3 A4 A5)(B3 B4 B5)(C2 C3)(E1 E2 E3)",
        "c": "(D3 D4 D5)(E3 E4 E5)(F1 F2 F3)",
    }
    data = {"title": words[6], "moves": moves, "kind": kinds, "colours": {words[8]: "#D55E00"}}
    return f"custom:{words.file('wheels', data)}"


def pair(words: Words) -> str:
    """Beads of which three go round at a time, and two look alike."""
    kinds = [{"name": words[0], "slots": "A1 A2 A3 A4 A5", "looks": {"A1": words[7], "A2": words[7]}}]
    kinds.append({"name": words[1], "slots": "B1 B2 B3", "twist": 3})
    moves = {"_a_": "(A1 A2 A3)(B1 B1+1 B1+2)", "b": "(A3 A4 A5)(B1 B2 B3)"}
    return f"custom:{words.file('pair', {'title': words[2], 'moves': moves, 'kind': kinds})}"


def graph(words: Words, other: int = 0) -> str:
    """A blank on a ladder, where two pieces look alike unless one of them shows an ``other`` text."""
    edges = "a-b c-d d-e a-c b-d e-f f-b"
    looks = {"a": words[0], "b": words[other], "c": words[1]}
    data = {"title": words[6], "graph": {"edges": edges, "blank": "e", "looks": looks}}
    return f"custom:{words.file(f'graph {other}', data)}"


def cut(words: Words) -> str:
    """A cube of which three faces turn, down to the middle."""
    facets = [{"name": name, "normal": normal.tolist(), "offset": 1} for name, normal in DIRECTIONS.items()]
    cuts = [{"name": name, "normal": DIRECTIONS[name].tolist(), "offset": 0, "turns": 4} for name in "URF"]
    return f"custom:{words.file('cut', {'title': words[6], 'facet': facets, 'cut': cuts})}"


def solid(words: Words) -> str:
    """Half-spaces in whose file's name the text stands."""
    planes = [{"name": name, "normal": normal.tolist(), "offset": 1} for name, normal in DIRECTIONS.items()]
    return f"shape-mod:{words.file('solid', {'half_space': planes})}"


def named(words: Words) -> str:
    """Half-spaces that have the texts for names."""
    normals = enumerate(DIRECTIONS.values())
    planes = [{"name": words[number], "normal": normal.tolist(), "offset": 1} for number, normal in normals]
    return f"shape-mod:{words.file('named', {'half_space': planes})}"


SEEN = {
    "U": {"rows": ["U U U", "U U U", "U F U"]},
    "F": {"rows": ["F U F", "F F F", "F F F"]},
    "R": {"rows": ["R R R", "R R R", "R R R"]},
}
TICKETS: dict[str, tuple[Callable[[Words], str], dict]] = {
    "a way in phases": (wheels, {"after": "_a_ b b _a_' b' b'"}),
    "twins": (pair, {"changes": ["swap A4 A5"]}),
    "a broken law": (wheels, {"changes": ["swap A1 A2", "flip B1"]}),
    "a blank": (graph, {"changes": ["swap c d"]}),
    "a cut": (cut, {"after": "R U R' U'"}),
    "half seen": (solid, {"seen": SEEN}),
    "a slip": (solid, {"changes": ["swap UF UR"]}),
    "own names": (named, {"changes": ["swap UF UR"]}),
    "a letter that goes on": (cut, {"after": "R U R' U'", "then": [{"did": "U R", "sent": "U R U' R'", "after": "R U R'"}]}),
}


def plan(words: Words) -> Path:
    """The layer method with stages and sequences of other names."""
    data = tomllib.loads(LAYERS.read_text("utf-8"))
    data["name"] = words[0]
    for number, stage in enumerate(data["stage"], 1):
        stage["name"] = words[number]
        sequences = enumerate(stage.get("sequences", {}).values())
        stage["sequences"] = {f"{words[(number + 1) % 12]} {i}": moves for i, moves in sequences}
    return words.file("plan", data)


@dataclass(frozen=True)
class Case:
    """A ticket whose texts are all from one theme, and what is told of it."""

    words: Words
    sort: str

    @cached_property
    def puzzle(self) -> str:
        return TICKETS[self.sort][0](self.words)

    @cached_property
    def file(self) -> Path:
        puzzle, told = TICKETS[self.sort]
        data = {"puzzle": self.puzzle, "note": self.words.dirty(9), **told}
        if puzzle in (cut, solid):
            data["colours"] = {face: self.words[number].replace("|", "") for number, face in enumerate("UDFBLR")}
            own = {face: self.words[number].replace("|", "") for number, face in enumerate("RLBFDU")}
            data["mine"] = {"colours": own}
        return self.words.file(f"ticket {self.sort}", data)

    @cached_property
    def ticket(self) -> Ticket:
        return read_ticket(self.file)

    @cached_property
    def answer(self) -> Answer:
        return answer(self.ticket.puzzle, self.ticket.appearance, Budget(5.0, 500_000_000))

    def edit_story(self, folder: Path) -> Path:
        """A folder with the answer's story, edited so that the texts stand wherever texts may."""
        folder.mkdir(parents=True, exist_ok=True)
        data = tomllib.loads(write_story(story_of(self.answer)))
        data["title"] = self.words.dirty(0)
        for number, beat in enumerate(data["beat"], 1):
            beat["chapter"] = self.words.dirty(number % 12) + " \n" + beat["chapter"]
            beat["says"].append(self.words.dirty((number + 6) % 12))
            beat["large"] = [self.words.dirty((number + 3) % 12)]
        (folder / "story.toml").write_text(tomli_w.dumps(data), "utf-8")
        return folder

    def answer_before(self, folder: Path) -> Path:
        """A folder with an answer to the same position that was kept under a name of this theme."""
        place = folder / self.words.dirty(3).replace("/", "").replace("\0", "")
        place.mkdir(parents=True)
        for name, text in kept(self.ticket, place).items():
            (place / name).write_text(text, "utf-8")
        return folder
