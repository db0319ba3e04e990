"""The errands of DEVELOPERS.md, *Where to go*: each is walked from what its row names, and no row names more than three files."""

import re
import shutil
import subprocess
import sys
from dataclasses import replace
from importlib import import_module
from pathlib import Path

import nbformat
import numpy as np
import pytest

from oddswap.__main__ import main
from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.lessons.machinery import course as course_of_lessons
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.flat.beads import bead_puzzle
from oddswap.reasoning.answers import answer
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Measure, Sector
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.folders import answer_html
from oddswap.showing.pages.law_page import alarms_markdown, laws_data, laws_markdown
from oddswap.showing.pages.report import answer_data, answer_markdown, reply_text
from oddswap.showing.pictures.alarm_poster import draw_alarms
from oddswap.showing.pictures.prints import draw_prints
from oddswap.story.telling.beats import story_of
from oddswap.values.permutation import sign
from oddswap.words import table
from tests.frame import RULES, SECTIONS

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "oddswap"
MOST = 3
"""So many files are opened at most for one errand."""


def rows() -> dict[str, dict[str, list[str]]]:
    """By errand, the files of its row, and the names that it gives in each."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("\n## Where to go\n")[1].split("\n## ")[0]
    cells = [line.strip("|").split("|") for line in text.splitlines() if line.startswith("| ")][1:]
    one = re.compile(r"`([^`]+\.(?:py|toml|ipynb))`(?: \(([^)]*)\))?")
    return {
        errand.strip(): {path: re.findall(r"`([\w.]+)`", names) for path, names in one.findall(files)}
        for errand, files, *_ in cells
    }


ROWS = rows()


def door(errand: str, name: str):
    """The module in which the row of an errand says that a name stands."""
    (path,) = [path for path, names in ROWS[errand].items() if name in names]
    return import_module(f"oddswap.{dotted(path)}")


def dotted(path: str) -> str:
    return path.removesuffix(".py").replace("/", ".")


def test_the_map_has_the_eight_errands():
    assert list(ROWS) == [
        "a new puzzle family",
        "a verdict's wording",
        "a law kind",
        "a colour",
        "a beat's timing",
        "why a way is called shortest",
        "a lesson",
        "a command",
    ]


@pytest.mark.parametrize("errand", ROWS)
def test_what_an_errand_names_is_there_and_in_few_files(errand):
    assert 1 <= len(ROWS[errand]) <= MOST
    for path, names in ROWS[errand].items():
        if "…" in path:
            assert list(ROOT.glob(path.replace("NN_…", "[0-9][0-9]_*")))
            continue
        (root,) = [root for root in (SOURCE, ROOT) if (root / path).is_file()]
        if path.endswith(".py"):
            module = import_module(dotted(path) if root == ROOT else f"oddswap.{dotted(path)}")
            assert names and [name for name in names if not hasattr(module, name)] == []


def test_a_new_puzzle_family(monkeypatch):
    """Five beads, a round of all and a round of three: together these generate the even permutations, of which there are 60."""

    def ferry(name, size, options):
        n = int(size)
        moves = {"tow": [*range(1, n), 0], "swing": [1, 2, 0, *range(3, n)]}
        places = np.stack([np.arange(n), np.zeros(n)], axis=1)
        return bead_puzzle(name, f"ferry of {n} beads", moves, options.pop("beads", None), ["deck"] * n, places)

    family = "a new puzzle family"
    names = door(family, "FAMILIES")
    monkeypatch.setitem(names.FAMILIES, "ferry", names.PuzzleFamily("ferry:5", ("beads",), ferry))
    puzzle = load("ferry:5")
    assert law_book(puzzle).order == 60 and law_book(puzzle).complete
    swapped = {name: load(name).appearance(changed(load(name), ["swap 3 4"])) for name in ("ferry:5", "ferry:5,beads=aabcd")}
    assert [diagnose(load(name), seen).verdict for name, seen in swapped.items()] == ["not by turning", "lookalike"]
    assert draw_prints(puzzle, puzzle.follow("tow swing")).axes
    with pytest.raises(BadOption, match="beads"):
        load("ferry:5,window=2")


def test_a_verdict_s_wording(monkeypatch):
    wordings = door("a verdict's wording", "WORDINGS").WORDINGS
    new = replace(
        wordings["ordinary"], headline="Oh yes, quite so.", reply="Oh yes, {noun}.", title="all is well", alarm="comes by itself"
    )
    monkeypatch.setitem(wordings, "ordinary", new)
    puzzle = load("cube:2")
    found = answer(puzzle, puzzle.appearance(puzzle.follow("R U2")))
    assert "Oh yes, cube." in reply_text(found) and answer_markdown(found).startswith("# Oh yes, quite so.")
    assert "<h1>Oh yes, quite so.</h1>" in answer_html(found) and story_of(found).title.endswith(": all is well")
    assert "## Comes by itself" in alarms_markdown(puzzle, puzzle.alarms)
    assert "Comes by itself" in [text.get_text() for text in draw_alarms(puzzle).axes[0].texts]


def test_a_law_kind(monkeypatch):
    """The stickers of the edges of a cube are rearranged evenly: exchanges do it twice, a flip once."""
    errand = "a law kind"
    base, words = door(errand, "laws_of_image"), door(errand, "law_name")

    class StickerLaw(base.Law):
        sector: Sector
        seen: bool
        type = "other"
        modulus = None

        @property
        def terms(self):
            return ((1, Measure(self.sector, "stickers", None)),)

        def value(self, permutation):
            labels = sorted(self.sector.place)
            return int(sign([labels.index(label) for label in permutation[labels].tolist()]) != 1)

    def read(image, unseen, before=base.laws_of_image):
        yield from before(image, unseen)
        yield from (StickerLaw(sector, True) for sector in image.parts if sector.kind.family == "edges")

    monkeypatch.setattr("oddswap.reasoning.laws.law_book.laws_of_image", read)
    for subject in table.SUBJECTS:
        import_module(f"oddswap.words.{subject}")
    for name in ("_SENTENCES", "_NAMES"):
        monkeypatch.setattr(table, name, dict(getattr(table, name)))
    words.says(StickerLaw)(lambda law: "The stickers of the edges are always rearranged evenly.")
    words.names(StickerLaw)(words.law_name)
    puzzle = load("cube:3")
    law_book.cache_clear()
    try:
        assert "The stickers of the edges are always rearranged evenly." in laws_markdown(puzzle)
        assert ("stickers of edges", "other") in [(law["name"], law["type"]) for law in laws_data(puzzle)["laws"]]
        for change, breaks in {"flip UF": True, "twist UFR cw": False}.items():
            broken = diagnose(puzzle, puzzle.appearance(changed(puzzle, [change]))).broken
            assert ("stickers of edges" in [law.name for law in broken]) == breaks
    finally:
        law_book.cache_clear()


COLOURS = """
from importlib.resources import files
from pathlib import Path
from oddswap.desk.workbench import script
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.palette import coloured
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.viewer.widget import module
cube = load("cube:2")
print(save(draw_prints(cube, cube.solved), Path("cube.svg")).read_text("utf-8").count("#fedcba"))
print(coloured((files("oddswap.edition") / "edition.css").read_text("utf-8")).count("#FEDCBA"))
print(module().count("#FEDCBA"), script().count("#FEDCBA"), sep="\\n")
"""


def test_a_colour(tmp_path):
    """In a copy of the package, white paper is made another colour in the one file."""
    (path,) = ROWS["a colour"]
    shutil.copytree(SOURCE, tmp_path / "oddswap", ignore=shutil.ignore_patterns("__pycache__"))
    file = tmp_path / "oddswap" / path
    text = file.read_text("utf-8")
    assert text.count('PAPER = "#FFFFFF"\n') == 1
    file.write_text(text.replace('PAPER = "#FFFFFF"\n', 'PAPER = "#FEDCBA"\n'), "utf-8")
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n{COLOURS}"
    counts = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True).stdout.split()
    assert len(counts) == 4 and all(int(count) for count in counts)


def test_a_beat_s_timing(monkeypatch):
    module = door("a beat's timing", "AFTER")
    puzzle = load("cube:2")
    found = answer(puzzle, puzzle.appearance(puzzle.follow("R U2")))
    story = story_of(found)
    before = module.timeline(story, found)
    slower = module.timeline(replace(story, seconds_a_turn=story.seconds_a_turn + 1), found)
    monkeypatch.setattr(module, "AFTER", module.AFTER + 2)
    after = module.timeline(story, found)
    assert after.seconds - before.seconds == pytest.approx(2 * len(story.beats))
    assert after.starts == tuple(start + 60 * number for number, start in enumerate(before.starts))
    assert slower.seconds > before.seconds + 1


def test_why_a_way_is_called_shortest(monkeypatch):
    """From the field of the data, by the route that holds it, to the search: what that says of its proof is what is printed."""
    errand = "why a way is called shortest"
    pages, routes, search = (door(errand, name) for name in ("way_data", "Route", "searched"))
    puzzle = load("cube:2")
    seen = puzzle.appearance(puzzle.follow("R U2"))
    found = answer(puzzle, seen)
    assert answer_data(found)["way_out"]["shortest"] is pages.way_data(found)["shortest"] is found.way_out.shortest is True
    assert isinstance(found.way_out, routes.Route) and "proved shortest" in answer_markdown(found)
    shorter = ["", *puzzle.turns]
    assert found.way_out.length == 2
    assert not any(looks_solved(puzzle, puzzle.appearance(puzzle.follow(f"R U2 {word}"))) for word in shorter)
    proved = search.searched
    monkeypatch.setattr(search, "searched", lambda *given: replace(proved(*given), shortest=False, lower_bound=1))
    doubted = answer(puzzle, seen)
    assert answer_data(doubted)["way_out"]["shortest"] is False
    assert "at least 1 are needed, so a shorter one may exist" in answer_markdown(doubted)


@pytest.fixture
def own_course(tmp_path, monkeypatch):
    """A copy of the course's two files, which is read in place of them."""
    monkeypatch.setattr(course_of_lessons, "files", lambda package: tmp_path)
    for cached in (course_of_lessons.lessons, course_of_lessons.words):
        cached.cache_clear()
    for path in ROWS["a lesson"]:
        if path.endswith(".toml"):
            shutil.copy(SOURCE / path, tmp_path)
    yield tmp_path
    for cached in (course_of_lessons.lessons, course_of_lessons.words):
        cached.cache_clear()


def test_a_lesson(own_course):
    """One line in each cell keeps to the frame; the entry makes a row of the table, and the word stands in the glossary."""
    cells = [nbformat.v4.new_markdown_cell("# Does a ferry turn round?")]
    for section, wanted in SECTIONS.items():
        cells.append(nbformat.v4.new_markdown_cell(f"## {section}\n**Do** **Learn** **Need** 15 minutes"))
        for tag in wanted:
            code = {"imports": "import oddswap", "every-case": "assert oddswap.load('cube:2')"}.get(tag, "1 + 1")
            number = 1 + sum(cell.cell_type == "code" for cell in cells)
            cells.append(nbformat.v4.new_code_cell(code, metadata={"tags": [tag]}, execution_count=number))
    path = own_course / "99_does_a_ferry_turn_round.ipynb"
    nbformat.write(nbformat.v4.new_notebook(cells=cells), path)
    assert [wrong for rule in RULES for wrong in rule(nbformat.read(path, as_version=4))] == []
    entry = 'question = "Does a ferry turn round?"\nminutes = 15\nneeds = ["07"]\nhelps = []\nplace = [6, 1]\n'
    word = 'word = "ferry"\ntheme = "Boats"\nlesson = "99"\nsaid = "A row of beads."\nexample = "Five beads are a ferry."\n'
    for name, text in (("course.toml", f"[{path.stem}]\n{entry}"), ("glossary.toml", f"[[word]]\n{word}")):
        (own_course / name).write_text(f"{(own_course / name).read_text('utf-8')}\n{text}", "utf-8")
    assert f"| 99 | [Does a ferry turn round?](notebooks/{path.stem}.ipynb) | 15 | 07 |" in course_of_lessons.index_table()
    assert {"07", "00", "03", "06"} <= course_of_lessons.known_before("99")
    assert "**ferry** | A row of beads." in course_of_lessons.glossary_table("Boats")
    assert "Does a ferry" in " ".join(text.get_text() for text in course_of_lessons.how_the_lessons_depend().axes[0].texts)


def test_a_command(monkeypatch, capsys):
    module = door("a command", "option")

    def greet(options):
        print(f"Good evening, {load(options.puzzle).title}!")
        return 0

    monkeypatch.setitem(module.COMMANDS, "greet", ("say good evening", greet, module.option("puzzle", metavar="PUZZLE")))
    assert main(["greet", "cube:2"]) == 0 and capsys.readouterr().out == "Good evening, cube of 2 layers!\n"
    assert main(["greet", "cube:1"]) == 2 and "cube" in capsys.readouterr().err
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert not stopped.value.code and re.search(r"greet\s+say good evening", capsys.readouterr().out)
