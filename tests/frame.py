"""The frame of a lesson: what every notebook has, in which order, and how small it stays. Each rule returns complaints."""

from __future__ import annotations

import ast
import re

import oddswap
from oddswap import draw, lessons
from oddswap.edition.pages import alts
from oddswap.lessons.machinery.course import lessons as course
from oddswap.lessons.machinery.course import plain_prose, words

SURFACES = {module.__name__: set(module.__all__) for module in (oddswap, draw, lessons)}
"""What a notebook may import from the package, by the module."""

SECTIONS = {
    "Do, learn, need": ["imports"],
    "Look": ["picture"],
    "Guess": ["guess"],
    "One knob": ["picture", "knob"],
    "The surprise": ["compare"],
    "Why, in words": [],
    "Why, in ten lines": ["argument"],
    "Every case": ["every-case"],
    "Play": ["picture", "widget"],
    "On your own": ["exercise", "exercise", "exercise"],
    "Key points": [],
    "Answers": ["answer"],
}
"""The headings of the second level in their order, and the tags of code cells that must follow one another beneath each."""

TAGS = {tag for tags in SECTIONS.values() for tag in tags} | {"nbval-ignore-output", "folded"}
"""All that a cell may be tagged with; `folded` goes with the metadata that hides a cell's source in JupyterLab."""

FEWEST_CELLS, MOST_CELLS = 20, 45
MOST_WORDS, MOST_WORDS_IN_A_SENTENCE, MOST_NEW_WORDS = 1500, 30, 5
WORD = re.compile(r"\w[\w'’,.-]*")
WORDS_A_MINUTE, MINUTES_AN_EXERCISE = 150, 2
"""Slow reading, with pictures to look at; a guess at how long an exercise takes."""
MOST_IMPORTS, BROADEST = 2, 100
"""Lines of imports that a reader sees, and letters in a line of code: what a window of 1280 pixels shows beside the files."""
MOST_LINES, MOST_LINES_IN_A_CELL, MOST_LINES_IN_ARGUMENT = 100, 15, 10
SECONDS = 16.0
"""The processor time that a whole notebook may use, with the start of its kernel: ten seconds on a quiet machine, and more than
half as much again, because two who share a processor's memory slow each other down (6.2 s became 10.4 s)."""

UNSTABLE = ("interact", "interactive", "interactive_output", "Output", "clear_output", "update_display", "sleep", "time")
NETWORK = {"urllib", "requests", "http", "socket", "ftplib", "aiohttp", "httpx"}
CHANCE = {"random", "secrets", "uuid"}


def source(cell) -> str:
    return "".join(cell.source)


def tags(cell) -> list[str]:
    return list(cell.metadata.get("tags", []))


def code_cells(notebook) -> list:
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def code_lines(cell) -> int:
    return sum(bool(line.strip()) for line in source(cell).splitlines())


def headings(notebook, level: int) -> list[str]:
    mark = "#" * level + " "
    lines = [line for c in notebook.cells if c.cell_type == "markdown" for line in source(c).splitlines()]
    return [line.removeprefix(mark).strip() for line in lines if line.startswith(mark)]


def by_section(notebook) -> dict[str, list]:
    """The code cells beneath each heading of the second level; what stands above the first is under ''."""
    found, current = {"": []}, ""
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            for line in source(cell).splitlines():
                if line.startswith("## "):
                    current = line.removeprefix("## ").split(":")[0].strip()
                    found.setdefault(current, [])
        elif cell.cell_type == "code":
            found[current].append(cell)
    return found


def one_question_as_title(notebook):
    titles = headings(notebook, 1)
    if len(titles) != 1 or not source(notebook.cells[0]).startswith("# ") or not titles[0].endswith("?"):
        yield f"the first cell starts with the only title, one question, not {titles}"


def sections_in_order(notebook):
    found = [heading.split(":")[0].strip() for heading in headings(notebook, 2)]
    if found != list(SECTIONS):
        yield f"the headings are {found}"


def do_learn_need(notebook):
    text = "\n".join(source(cell) for cell in notebook.cells if cell.cell_type == "markdown").split("## Look")[0]
    for word in ("**Do**", "**Learn**", "**Need**", "minutes"):
        if word not in text:
            yield f"{word} is missing before the first picture"


def cells_that_each_section_needs(notebook):
    sections = by_section(notebook)
    for section, wanted in SECTIONS.items():
        have = iter([tag for cell in sections.get(section, []) for tag in tags(cell)])
        for tag in wanted:
            if tag not in have:
                yield f"{section!r} lacks a code cell tagged {tag!r}, or has it out of order"


def small(notebook):
    count = len(notebook.cells)
    if not FEWEST_CELLS <= count <= MOST_CELLS:
        yield f"{count} cells, not {FEWEST_CELLS} to {MOST_CELLS}"
    total = sum(map(code_lines, code_cells(notebook)))
    if total >= MOST_LINES:
        yield f"{total} lines of code, not fewer than {MOST_LINES}"
    for cell in code_cells(notebook):
        most = MOST_LINES_IN_ARGUMENT if "argument" in tags(cell) else MOST_LINES_IN_A_CELL
        if code_lines(cell) > most and "folded" not in tags(cell):
            yield f"a cell of {code_lines(cell)} lines, more than {most}: {source(cell)[:40]!r}"


def known_tags(notebook):
    for cell in notebook.cells:
        for tag in tags(cell):
            if tag not in TAGS:
                yield f"the tag {tag!r} is not on the list"
        if ("folded" in tags(cell)) != bool(cell.metadata.get("jupyter", {}).get("source_hidden")):
            yield f"a cell is tagged 'folded' if and only if its source is hidden: {source(cell)[:40]!r}"


def imports_in_one_cell(notebook):
    for cell in code_cells(notebook):
        loads = any(isinstance(node, ast.Import | ast.ImportFrom) for node in ast.walk(tree(cell)))
        if loads != ("imports" in tags(cell)) and not (loads and "folded" in tags(cell)):
            yield f"imports stand in the cell tagged 'imports', or folded away: {source(cell)[:40]!r}"


def public_names(notebook):
    for cell in code_cells(notebook):
        for node in ast.walk(tree(cell)):
            if isinstance(node, ast.Import):
                pairs = [(alias.name, "") for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                pairs = [(node.module, alias.name) for alias in node.names]
            else:
                continue
            for module, name in pairs:
                public = {"", *SURFACES[module]} if module in SURFACES else set()
                if f"{module}.{name}" in SURFACES:
                    continue
                if module.split(".")[0] == "oddswap" and name not in public:
                    yield f"{module} {name} is no public name: notebooks import from {', '.join(SURFACES)} alone"


def asserts(cell) -> bool:
    return any(isinstance(node, ast.Assert) for node in ast.walk(tree(cell)))


def exhaustive_assert(notebook):
    if not any(map(asserts, by_section(notebook).get("Every case", []))):
        yield "nothing is asserted under 'Every case'"


def no_network(notebook):
    for cell in code_cells(notebook):
        for name in imported(cell):
            if name.split(".")[0] in NETWORK:
                yield f"{name} reaches for the network"
        if "://" in source(cell):
            yield f"an address in code: {source(cell)[:40]!r}"
    for cell in notebook.cells:
        if cell.cell_type == "markdown" and re.search(r"(!\[[^\]]*\]\(|<img[^>]*src=.)\s*\w+://", source(cell)):
            yield f"a picture from the network: {source(cell)[:40]!r}"


def seeded(notebook):
    for cell in code_cells(notebook):
        for name in imported(cell):
            if name.split(".")[0] in CHANCE:
                yield f"{name} draws without a seed of ours: use numpy.random.default_rng(number)"
        for node in ast.walk(tree(cell)):
            if isinstance(node, ast.Call) and called(node) == "default_rng" and not node.args:
                yield "default_rng() without a seed"
            if isinstance(node, ast.Attribute) and ast.unparse(node).startswith(("np.random.", "numpy.random.")):
                if node.attr not in ("default_rng", "random"):
                    yield f"{ast.unparse(node)} draws from the shared state: use default_rng(number)"


def stable(notebook):
    for cell in code_cells(notebook):
        if source(cell).rstrip().endswith(";"):
            yield f"a trailing semicolon hides nothing from nbval: {source(cell)[:40]!r}"
        for node in ast.walk(tree(cell)):
            if isinstance(node, ast.Call) and called(node) in UNSTABLE:
                yield f"{called(node)}() gives outputs that differ from run to run"


def executed(notebook):
    counts = [cell.execution_count for cell in code_cells(notebook)]
    if counts != list(range(1, len(counts) + 1)):
        yield f"the cells were not executed once from top to bottom: {counts}"
    for cell in code_cells(notebook):
        for output in cell.outputs:
            if output.output_type == "error" or output.get("name") == "stderr":
                yield f"an error or a warning was left in the outputs: {source(cell)[:40]!r}"
        if "execution" in cell.metadata:
            yield "the times of a run are recorded: execute with record_timing=False"
    if "widgets" in notebook.metadata:
        yield "the state of widgets is stored: execute with store_widget_state=False"


def tree(cell) -> ast.AST:
    """The cell's code; lines that start with % or ! are left out."""
    lines = [line for line in source(cell).splitlines() if not line.lstrip().startswith(("%", "!"))]
    return ast.parse("\n".join(lines))


def imported(cell) -> list[str]:
    nodes = list(ast.walk(tree(cell)))
    names = [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]
    return names + [node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)]


def called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def prose(notebook) -> str:
    """What a reader reads: without code, formulas, links' targets, tables, and pictures in words."""
    told = [source(cell) for cell in notebook.cells if cell.cell_type == "markdown" and cell.id != "neighbours"]
    text = re.sub(r"</?span[^>]*>", "", "\n\n".join(told))
    return plain_prose(re.sub(r"<details>.*?</details>|^\|.*$", "", text, flags=re.DOTALL | re.MULTILINE))


def sentences(text: str) -> list[str]:
    """The sentences of some Markdown; a heading, a paragraph and an entry of a list end one, too."""
    parts = re.split(r"\n\s*\n|^\s*(?:[-*#]+|\d+\.) |(?<=[.?!:])[*)”\"]*\s+(?=[*(“\"]*[A-Z0-9])", text, flags=re.MULTILINE)
    return [" ".join(part.split()) for part in parts if part.split()]


def short(notebook):
    count = len(WORD.findall(prose(notebook)))
    if count > MOST_WORDS:
        yield f"{count} words, more than {MOST_WORDS}"
    for sentence in sentences(prose(notebook)):
        if len(WORD.findall(sentence)) > MOST_WORDS_IN_A_SENTENCE:
            yield f"a sentence of {len(WORD.findall(sentence))} words: {sentence!r}"


def few_new_words(notebook):
    new = [word.word for word in words() if word.lesson == number_of(notebook) and not word.everyday]
    if len(new) > MOST_NEW_WORDS:
        yield f"{len(new)} new words, more than {MOST_NEW_WORDS}: {', '.join(new)}"


def number_of(notebook) -> str:
    """The number of the lesson that asks this question; empty for one that is not in the course."""
    return next((lesson.number for lesson in course() if [lesson.question] == headings(notebook, 1)), "")


def neighbours(number):
    """The line of links that ends a lesson: to the one before and the one after it, and to the glossary."""
    here = [lesson.number for lesson in course()].index(number)
    linked = [f"[{lesson.number} {lesson.question}]({lesson.name}.ipynb)" for lesson in course()]
    parts = [f"Before: {linked[here - 1]}"] if here else []
    parts += [f"Next: {linked[here + 1]}"] if here + 1 < len(linked) else []
    return " · ".join([*parts, "[Glossary](appendix_glossary.ipynb)"])


def linked_to_its_neighbours(notebook):
    if number_of(notebook) and source(notebook.cells[-1]).strip() != neighbours(number_of(notebook)):
        yield f"the last cell is to be: {neighbours(number_of(notebook))}"


def minutes_measured(notebook):
    exercises = sum("exercise" in tags(cell) for cell in notebook.cells)
    wanted = -(-len(WORD.findall(prose(notebook))) // WORDS_A_MINUTE) + MINUTES_AN_EXERCISE * exercises
    if number_of(notebook) and re.findall(r"(\d+) minutes", prose(notebook))[:1] != [str(wanted)]:
        yield f"it takes {wanted} minutes, and says something else"


def little_code_in_sight(notebook):
    for cell in code_cells(notebook):
        lines = source(cell).splitlines()
        loads = [line for line in lines if re.match(r"\s*(import|from) ", line)]
        if "imports" in tags(cell) and (len(loads) > MOST_IMPORTS or any(line.endswith("(") for line in loads)):
            yield f"{len(loads)} lines of imports, more than {MOST_IMPORTS}, or one that goes on"
        for line in lines:
            if len(line) > BROADEST and "folded" not in tags(cell):
                yield f"a line of {len(line)} letters, more than {BROADEST}: {line[:40]!r}"
        if asserts(cell) and "folded" not in tags(cell):
            yield f"asserts are folded away: {source(cell)[:40]!r}"


def something_to_build_and_to_explain(notebook):
    calls = [
        called(node)
        for cell in code_cells(notebook)
        if "exercise" in tags(cell)
        for node in ast.walk(tree(cell))
        if isinstance(node, ast.Call)
    ]
    checks = [call for call in calls if call.startswith("check_") or call == "explain_back"]
    if not {"check_code", "check_law"} & set(checks):
        yield "no exercise asks for a piece of code: call check_code or check_law"
    if checks[-1:] != ["explain_back"]:
        yield "the last exercise is to be explain_back"


def pictures_in_words(notebook):
    """Beneath a picture that has words for those who do not see it, these stand in the next cell."""
    told = next((found for name, found in alts().items() if name[:2] == number_of(notebook)), {})
    for cell, after in zip(notebook.cells, [*notebook.cells[1:], None], strict=True):
        wanted = in_words(told.get(cell.id, ""))
        if wanted and (after is None or wanted not in source(after)):
            yield f"beneath the cell {cell.id} is to stand: {wanted}"
    missing = {cell.id for cell in code_cells(notebook) if "picture" in tags(cell)} - set(told)
    if number_of(notebook) and missing:
        yield f"edition/alts.toml has no words for the pictures {sorted(missing)}"


def in_words(told: str) -> str:
    return told and f"<details><summary>The picture in words</summary>\n\n{told}\n\n</details>"


NEW_RULES = (
    short,
    few_new_words,
    linked_to_its_neighbours,
    minutes_measured,
    little_code_in_sight,
    something_to_build_and_to_explain,
    pictures_in_words,
)
RULES = (
    one_question_as_title,
    sections_in_order,
    do_learn_need,
    cells_that_each_section_needs,
    small,
    known_tags,
    imports_in_one_cell,
    public_names,
    exhaustive_assert,
    no_network,
    seeded,
    stable,
    executed,
)

APPENDIX_RULES = (known_tags, imports_in_one_cell, public_names, no_network, seeded, stable, executed)
"""An appendix is looked things up in, and is no lesson: it has no question, no guess and no exercise."""
