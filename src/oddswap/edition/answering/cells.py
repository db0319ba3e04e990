"""What a notebook's controls, guesses and exercises are on a page: its cells run once more, as far as these need them."""

import ast
import json
import linecache
from collections.abc import Set
from contextlib import chdir, redirect_stdout
from dataclasses import dataclass, field
from hashlib import sha256
from html import escape
from inspect import signature, unwrap
from io import BytesIO, StringIO
from pathlib import Path

from ipywidgets import Text
from matplotlib.figure import Figure
from nbformat import NotebookNode
from PIL import Image

from oddswap.edition.answering.asked import CONSTANTS, asked, check_gives, program
from oddswap.edition.answering.program import Program
from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.lessons.machinery.controls import Guess, Knob, compare
from oddswap.lessons.machinery.exercises import Judged
from oddswap.showing.ink.widgets import Note, reduced_png
from oddswap.values.grammar import listed
from oddswap.words.products.notebooks import ANSWER, CHECK, COVERED, EXERCISE, GIVES, LAY

LIVE = frozenset({"guess", "knob", "compare", "widget", "exercise"})
"""The tags of cells that do something on a page."""
LARGEST = 25_000
"""Bytes of a picture of a control."""
MOST, ASKED = 32, 8
"""Pictures of one control, and cases that a page asks for of an exercise in code."""
WIDE, FINEST, COARSEST = 100, 110, 40
"""Pixels an inch: as it is shown, and as it may be drawn."""


@dataclass
class Played:
    """HTML by the id of the cell in the place of whose output it stands, pictures by name, and what judges the exercises."""

    html: dict[str, str] = field(default_factory=dict)
    pictures: dict[str, bytes] = field(default_factory=dict)
    program: Program = field(default_factory=program)
    exercises: dict[str, dict] = field(default_factory=dict)


def played(cells: list[NotebookNode], folder: Path, tags: Set[str] = LIVE) -> Played:
    """Run the cells with these ``tags``, and those that they need, in their ``folder``.

    `BadOption` for a cell that stops, and for an exercise that a page cannot judge.
    """
    found, scope = Played(), {"__name__": "__main__"}
    guessed: dict[int, str] = {}
    with chdir(folder):
        for cell, tree in _needed(cells, tags):
            with redirect_stdout(StringIO()):
                value = _run(cell, tree, scope)
            last = tree.body[-1].value if tree.body and isinstance(tree.body[-1], ast.Expr) else None
            if isinstance(value, Knob):
                found.html[cell.id] = _knob(value, found.pictures)
            elif isinstance(value, Guess):
                guessed[id(value)] = cell.id
                found.html[cell.id] = _guess(value, cell.id)
            elif isinstance(last, ast.Call) and isinstance(value, Note) and _called(last, scope) is unwrap(compare):
                guess, outcome = (_value(each, scope) for each in last.args)
                found.html[cell.id] = _compared(guess, outcome, guessed[id(guess)])
            elif isinstance(last, ast.Call) and "exercise" in cell.metadata.get("tags", ()):
                _exercise(found, cell.id, last, value, scope, _model(cells, last))
    return found


def exercises_script(live: Played) -> str:
    """The exercises of a page, and the program that judges them, as a plain script."""
    exercises = {name: _packed(live.program, exercise) for name, exercise in live.exercises.items()}
    data = {"exercises": exercises, "program": live.program.finish()}
    return f"const EXERCISES = {json.dumps(data, separators=(',', ':'), ensure_ascii=False)};\n"


def _packed(into: Program, exercise: dict) -> dict:
    value = into.value
    return {
        "check": exercise["check"],
        "given": [each and {"value": value(each["value"])} for each in exercise["given"]],
        "named": {name: value(each) for name, each in exercise["named"].items()},
        "recorded": {key: value(each) if isinstance(each, list) else each for key, each in exercise["recorded"].items()},
    }


def _needed(cells: list[NotebookNode], tags: Set[str]) -> list[tuple[NotebookNode, ast.Module]]:
    """The cells that end in something for a page, and those that make what these read, in order."""
    wanted, kept = set(), []
    for cell in reversed([cell for cell in cells if cell.cell_type == "code" and cell.source.strip()]):
        tree = ast.parse(cell.source)
        names = [node for node in ast.walk(tree) if isinstance(node, ast.Name)]
        made = {node.id for node in names if isinstance(node.ctx, ast.Store)}
        made |= {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
        made |= {a.asname or a.name for node in tree.body if isinstance(node, ast.Import | ast.ImportFrom) for a in node.names}
        if {*tags, "imports"} & set(cell.metadata.get("tags", ())) or made & wanted:
            wanted |= {node.id for node in names if isinstance(node.ctx, ast.Load)}
            kept.append((cell, tree))
    return kept[::-1]


def _run(cell: NotebookNode, tree: ast.Module, scope: dict) -> object:
    """What the last line of a cell gives; its source can be asked for, as in a notebook."""
    name = f"<{cell.id}>"
    linecache.cache[name] = (len(cell.source), None, cell.source.splitlines(True), name)
    body = list(tree.body)
    last = body.pop().value if body and isinstance(body[-1], ast.Expr) else None
    try:
        exec(compile(ast.Module(body, []), name, "exec"), scope)
        return _value(last, scope, name) if last else None
    except OddswapError:
        return None  # what a notebook answers by a kind sentence
    except Exception as error:
        told = f"{type(error).__name__}, {quoted(error, 80)}"
        raise BadOption(f"a cell stops with {told}: run the notebook anew and mend it") from None


def _value(node: ast.expr, scope: dict, file: str = "<cell>") -> object:
    return eval(compile(ast.Expression(node), file, "eval"), scope)


def _called(node: ast.Call, scope: dict) -> object:
    """The function that a call names, without what stands around it."""
    function = _value(node.func, scope)
    return unwrap(function) if callable(function) else function


def _picture(figure: Figure, pictures: dict[str, bytes], alt: str) -> str:
    """A figure as an image of at most ``LARGEST`` bytes, its colours as they are; equal ones are one file."""
    for dpi in range(FINEST, COARSEST, -10):
        held = BytesIO()
        drawn = Image.open(BytesIO(reduced_png(figure, dpi, lambda drawn: drawn.quantize(64, Image.Quantize.MEDIANCUT))))
        drawn.convert("RGB").save(held, "webp", lossless=True, method=4)
        if held.tell() <= LARGEST:
            break
    name = f"{sha256(held.getvalue()).hexdigest()[:16]}.webp"
    pictures[name] = held.getvalue()
    width = round(WIDE * figure.get_figwidth())
    return f'<img src="knobs/{name}" alt="{escape(alt)}" width="{width}">'


def _steps(control) -> list[tuple[str, object]]:
    """What a control can be turned to, each with its words: all of it, or as it stands where anything can be written."""
    if hasattr(control, "options"):
        pairs = getattr(control, "_options_full", None) or [(str(each), each) for each in control.options]
        return [(str(words), value) for words, value in pairs]
    if isinstance(control, Text):
        return [(control.value, control.value)]
    values = range(control.min, control.max + 1, control.step)
    if len(values) > MOST:
        values = sorted({values[i * (len(values) - 1) // (MOST - 2)] for i in range(MOST - 1)} | {control.value})
    return [(str(value), value) for value in values]


def _knob(knob: Knob, pictures: dict[str, bytes]) -> str:
    steps, frames = _steps(knob.control), []
    words = knob.control.description or ANSWER
    for label, value in steps:
        outcome = knob.made(value)
        shown = outcome._repr_html_() if isinstance(outcome, Note) else _picture(outcome, pictures, f"{words}: {label}")
        frames.append([label, shown])
    at = next(number for number, (_, value) in enumerate(steps) if value == knob.control.value)
    data = escape(json.dumps(frames, ensure_ascii=False))
    sort = "range" if isinstance(steps[0][1], int) and not hasattr(knob.control, "options") else "choice"
    told = f'<p><span class="label">{escape(words)}</span> <output>{escape(frames[at][0])}</output></p>'
    return (
        f'<div class="control knob" data-sort="{sort}" data-at="{at}" data-frames="{data}">{told}'
        f'<div class="frame">{frames[at][1]}</div></div>'
    )


def _guess(guess: Guess, name: str) -> str:
    asked = guess.prediction
    rows = "".join(f'<label><input type="radio" name="{escape(name)}"> {escape(each)}</label>\n' for each in asked.choices)
    return f'<fieldset class="guess" id="guess-{escape(name)}"><legend>{escape(asked.question)}</legend>\n{rows}</fieldset>'


def _compared(guess: Guess, outcome: str, name: str) -> str:
    """What happened, and for each choice what is answered to whoever made it."""
    before = guess.prediction
    texts = []
    for choice in before.choices:
        guess.choose(choice)
        texts.append(compare(guess, outcome)._repr_html_())
    told = escape(json.dumps(texts, ensure_ascii=False))
    return (
        f'<div class="note compared" data-guess="guess-{escape(name)}" data-covered="{escape(COVERED)}" data-told="{told}">'
        f"{compare(before, outcome)._repr_html_()}</div>"
    )


def _model(cells: list[NotebookNode], call: ast.Call) -> list[str]:
    """The answers of the notebook itself to an exercise, from its cell of answers; empty ones where there are none."""
    for cell in cells:
        for node in ast.walk(ast.parse(cell.source)) if "answer" in cell.metadata.get("tags", ()) else ():
            if isinstance(node, ast.Call) and _like(node, call):
                return [each.value for each, empty in zip(node.args, call.args, strict=True) if _empty(empty)]
    return ["" for each in call.args if _empty(each)]


def _empty(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value == ""


def _like(one: ast.Call, other: ast.Call) -> bool:
    """Whether two calls differ only in what the other leaves empty."""
    heads = [[len(call.args), *map(ast.dump, (call.func, *call.keywords))] for call in (one, other)]
    pairs = zip(one.args, other.args, strict=False)
    same = (isinstance(a, ast.Constant) if _empty(b) else ast.dump(a) == ast.dump(b) for a, b in pairs)
    return heads[0] == heads[1] and all(same)


def _exercise(found: Played, name: str, call: ast.Call, value: object, scope: dict, model: list[str]) -> None:
    """The form of an exercise, and its checker for the page; none for one that leaves no answer empty."""
    told = value.exercise if isinstance(value, Judged) else {}
    if told.get("kind") == "code":
        step = -(-len(told["cases"]) // ASKED)
        cases = [(case["given"], case["gives"]) for case in told["cases"][::step]]
        check, named = check_gives, {"cases": cases}
        given, model = [None] * len(cases), [gives for _, gives in cases]
        chosen = {gives for _, gives in cases} & set(CONSTANTS.values())
        labels = [GIVES.format(case, f" ({listed(sorted(chosen), 'or')})" if chosen else "") for case, _ in cases]
    else:
        check = _called(call, scope)
        given = [None if _empty(node) else _value(node, scope) for node in call.args]
        named = {each.arg: _value(each.value, scope) for each in call.keywords}
        names = [each.replace("_", " ") for each in signature(check).parameters]
        open_ = [i for i, each in enumerate(given) if each is None]
        labels = [ANSWER] if len(open_) == 1 else [f"{ANSWER}: {names[i]}" for i in open_]
    if not labels:
        return
    found.exercises[name] = asked(found.program, check, given, named, model)
    dealt = ((escape(card["card"]), escape(card["words"])) for card in told.get("cards", ()))
    cards = "".join(f'<li><button type="button" data-card="{one}">{one}</button> {words}</li>' for one, words in dealt)
    bare = 'autocapitalize="off" autocomplete="off" spellcheck="false" maxlength="2000"'
    rows = "".join(f"<p><label>{escape(label)} <input {bare}></label></p>" for label in labels)
    head = f"<p><strong>{EXERCISE.format(len(found.exercises))}</strong></p>" + (f"<p>{escape(told['ask'])}</p>" if told else "")
    head += f"<p>{LAY}</p><ul>{cards}</ul>" if cards else ""
    found.html[name] = (
        f'<form class="exercise" data-exercise="{escape(name)}">{head}{rows}<p><button>{CHECK}</button></p>'
        f'<output role="status"></output></form>'
    )
