"""Every notebook keeps to the frame of `tests/frame.py`, and every rule of the frame catches what it is for."""

import copy
from pathlib import Path

import nbformat
import pytest

from oddswap.words.verdicts import WORDINGS
from tests.frame import (
    APPENDIX_RULES,
    NEW_RULES,
    RULES,
    SECTIONS,
    code_cells,
    little_code_in_sight,
    one_question_as_title,
    sentences,
    short,
    something_to_build_and_to_explain,
    source,
    tags,
)

FOLDER = Path(__file__).parents[1] / "notebooks"
LESSONS = sorted(FOLDER.glob("[0-9][0-9]_*.ipynb"))
APPENDICES = sorted(FOLDER.glob("appendix_*.ipynb"))


def read(path: Path):
    return nbformat.read(path, as_version=4)


def test_there_are_lessons():
    assert LESSONS


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_a_lesson_keeps_to_the_frame(path, rule):
    assert list(rule(read(path))) == []


@pytest.mark.parametrize("rule", NEW_RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_a_lesson_is_short_and_linked_and_asks_for_something_of_ones_own(path, rule):
    assert list(rule(read(path))) == []


@pytest.mark.parametrize("rule", [one_question_as_title, short, little_code_in_sight, something_to_build_and_to_explain])
def test_the_template_is_a_small_lesson(rule):
    assert list(rule(read(FOLDER / "appendix_template_of_a_lesson.ipynb"))) == []


@pytest.mark.parametrize("rule", APPENDIX_RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize("path", APPENDICES, ids=lambda path: path.stem)
def test_an_appendix_keeps_to_what_is_asked_of_it(path, rule):
    assert list(rule(read(path))) == []


def test_every_notebook_is_a_lesson_or_an_appendix():
    assert sorted(FOLDER.glob("*.ipynb")) == LESSONS + APPENDICES


@pytest.mark.parametrize("path", LESSONS + APPENDICES, ids=lambda path: path.stem)
def test_a_notebook_is_valid_and_in_plain_letters(path):
    nbformat.validate(read(path))
    assert path.stem == path.stem.lower()


def test_the_key_points_of_the_first_lesson_name_every_verdict():
    (points,) = (source(cell) for cell in read(LESSONS[0]).cells if source(cell).startswith("## Key points"))
    assert [verdict for verdict in WORDINGS if verdict not in points] == []


@pytest.fixture
def lesson():
    """The smallest notebook that keeps to the frame."""
    cells = [nbformat.v4.new_markdown_cell("# Why?")]
    for section, wanted in SECTIONS.items():
        cells.append(nbformat.v4.new_markdown_cell(f"## {section}\n**Do** **Learn** **Need** 15 minutes"))
        for tag in wanted:
            code = {"imports": "import math", "every-case": "assert math.pi > 3"}.get(tag, "1 + 1")
            count = 1 + sum(cell.cell_type == "code" for cell in cells)
            cells.append(nbformat.v4.new_code_cell(code, metadata={"tags": [tag]}, execution_count=count))
    return nbformat.v4.new_notebook(cells=cells)


def complaints(notebook) -> set[str]:
    return {rule.__name__ for rule in RULES if list(rule(notebook))}


def first(notebook, tag):
    return next(cell for cell in code_cells(notebook) if tag in tags(cell))


def test_the_smallest_lesson_keeps_to_the_frame(lesson):
    assert complaints(lesson) == set()


def cut_last_cell(nb):
    nb.cells.pop()


def swap_sections(nb):
    nb.cells[-2:] = []
    nb.cells[-1].source = "## Answers"


def one_tag_too_few(nb):
    first(nb, "knob").metadata.tags = []


def knob_before_its_picture(nb):
    a, b = nb.cells.index(first(nb, "knob")), nb.cells.index(first(nb, "knob")) - 1
    nb.cells[a], nb.cells[b] = nb.cells[b], nb.cells[a]


def set_source(tag, text):
    def spoil(nb):
        first(nb, tag).source = text

    spoil.__name__ = f"{tag}: {text[:30]!r}"
    return spoil


def leave_a_warning(nb):
    first(nb, "knob").outputs = [nbformat.v4.new_output("stream", name="stderr", text="Warning")]


def leave_an_error(nb):
    first(nb, "knob").outputs = [nbformat.v4.new_output("error", ename="E", evalue="", traceback=[])]


def never_executed(nb):
    first(nb, "knob").execution_count = None


def keep_times(nb):
    first(nb, "knob").metadata["execution"] = {"iopub.status.busy": "2026-01-01"}


def keep_widgets(nb):
    nb.metadata["widgets"] = {}


def misspell_a_tag(nb):
    first(nb, "knob").metadata.tags.append("nbval-skp")


def hide_a_source_silently(nb):
    first(nb, "knob").metadata["jupyter"] = {"source_hidden": True}


def title_without_question(nb):
    nb.cells[0].source = "# Because"


def second_title(nb):
    nb.cells[1].source += "\n# Why not?"


def forget_the_time(nb):
    for cell in nb.cells:
        cell.source = source(cell).replace("minutes", "")


def picture_from_afar(nb):
    nb.cells[1].source += "\n![x](https://example.org/x.png)"


def too_many_cells(nb):
    nb.cells += [nbformat.v4.new_markdown_cell("text")] * 20


def too_many_lines(nb):
    for cell in code_cells(nb):
        if "imports" not in tags(cell):
            cell.source += "\nx = 1" * 9


@pytest.mark.parametrize(
    ("spoil", "rule"),
    [
        (title_without_question, "one_question_as_title"),
        (second_title, "one_question_as_title"),
        (swap_sections, "sections_in_order"),
        (forget_the_time, "do_learn_need"),
        (cut_last_cell, "cells_that_each_section_needs"),
        (one_tag_too_few, "cells_that_each_section_needs"),
        (knob_before_its_picture, "cells_that_each_section_needs"),
        (too_many_cells, "small"),
        (too_many_lines, "small"),
        (set_source("knob", "x = 1\n" * 16), "small"),
        (set_source("argument", "x = 1\n" * 11), "small"),
        (misspell_a_tag, "known_tags"),
        (hide_a_source_silently, "known_tags"),
        (set_source("knob", "import math"), "imports_in_one_cell"),
        (set_source("knob", "def f():\n    from math import pi"), "imports_in_one_cell"),
        (set_source("imports", "from oddswap.values.permutation import sign"), "public_names"),
        (set_source("imports", "from oddswap import values"), "public_names"),
        (set_source("imports", "import oddswap.lessons.machinery.controls"), "public_names"),
        (set_source("every-case", "math.pi > 3"), "exhaustive_assert"),
        (set_source("imports", "from urllib.request import urlopen"), "no_network"),
        (set_source("knob", "x = 'https://example.org'"), "no_network"),
        (picture_from_afar, "no_network"),
        (set_source("imports", "import random"), "seeded"),
        (set_source("knob", "rng = np.random.default_rng()"), "seeded"),
        (set_source("knob", "np.random.shuffle(x)"), "seeded"),
        (set_source("knob", "plot();"), "stable"),
        (set_source("knob", "widgets.interact(f, x=1)"), "stable"),
        (set_source("knob", "out = Output()"), "stable"),
        (leave_a_warning, "executed"),
        (leave_an_error, "executed"),
        (never_executed, "executed"),
        (keep_times, "executed"),
        (keep_widgets, "executed"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.__name__,
)
def test_each_rule_catches(lesson, spoil, rule):
    spoilt = copy.deepcopy(lesson)
    spoil(spoilt)
    assert rule in complaints(spoilt)


def add_words(text):
    def spoil(nb):
        nb.cells[2].source += "\n\n" + text

    spoil.__name__ = f"{text[:20]!r}"
    return spoil


def ask_for_no_code(nb):
    for cell in code_cells(nb):
        cell.source = source(cell).replace("check_code", "check_count")


def unlink(nb):
    nb.cells[-1].source = "Next"


def take_words_from_a_picture(nb):
    for cell in nb.cells:
        cell.source = source(cell).replace("The picture in words", "Words")


@pytest.mark.parametrize(
    ("spoil", "rule"),
    [
        (add_words("word " * 31 + "."), "short"),
        (add_words("A word. " * 760), "short"),
        (add_words("Five more words stand here. " * 100), "minutes_measured"),
        (set_source("imports", "import math\nimport ast\nimport oddswap"), "little_code_in_sight"),
        (set_source("imports", "from oddswap import (\n    load,\n)"), "little_code_in_sight"),
        (set_source("knob", "x = 1\nassert x"), "little_code_in_sight"),
        (set_source("knob", f"x = {'1' * 100}"), "little_code_in_sight"),
        (ask_for_no_code, "something_to_build_and_to_explain"),
        (unlink, "linked_to_its_neighbours"),
        (take_words_from_a_picture, "pictures_in_words"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.__name__,
)
def test_each_new_rule_catches(spoil, rule):
    spoilt = read(LESSONS[0])
    spoil(spoilt)
    assert rule in {found.__name__ for found in NEW_RULES if list(found(spoilt))}


def test_a_sentence_ends_where_a_reader_takes_breath():
    text = "One. Two (a note.) Three: four; five.\n\n- Six\n- Seven\n\n1. Eight"
    assert sentences(text) == ["One.", "Two (a note.", "Three: four; five.", "Six", "Seven", "Eight"]


def test_a_seeded_draw_is_allowed(lesson):
    first(lesson, "knob").source = "rng = np.random.default_rng(7)"
    assert complaints(lesson) == set()
