"""The checkers of exercises as data, so that a page can run them: their syntax trees, and what these name.

What a checker calls goes along, function by function and class by class; of a class only what some tree names. What the page
has in its own words (`NATIVE`, read from the scripts) ends the way. So each sentence and each rule stands in one place.
"""

import ast
import builtins
import inspect
import re
import sys
import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from functools import cached_property
from importlib.resources import files
from types import FunctionType, ModuleType

import numpy as np

from oddswap.edition.answering.facts import facts_of, still_name
from oddswap.errors import BadOption
from oddswap.puzzles.base.mechanism import Geometry
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still
from oddswap.puzzles.catalogue import load
from oddswap.words.table import worded

SCRIPTS = ("python.js", "built_in.js", "puzzles.js", "exercises.js")
LEFT_OUT = {"ctx", "annotation", "returns", "type_comment", "decorator_list", "kind", "simple", "is_async"}
LEFT_OUT |= {"posonlyargs", "cause"}
"""Fields of a syntax tree that say nothing to the page."""
SORTS = {"property": "property", "cached_property": "cached", "staticmethod": "static", "classmethod": "class"}
SORTS |= dict.fromkeys(("cache", "lru_cache"), "kept")
"""What the page calls decorators."""
SPECIAL = {"__init__", "__post_init__", "__str__", "__len__", "__iter__", "__add__", "__getitem__"}


def scripts() -> dict[str, str]:
    """What runs a program in a page, in order: plain scripts by name."""
    return {name: files(__package__).joinpath(name).read_text("utf-8") for name in SCRIPTS}


NATIVE = frozenset(re.findall(r"'([\w.]+:[\w.]+)'[:,\]]", "\n".join(scripts().values())))
"""What the page has of its own, as ``module:name``."""

CONSTANT = frozenset({"oddswap.lessons.machinery.exercises:Claim.wrong"})
"""Properties that are worked out beforehand."""


def judge_script() -> str:
    """What runs any program in a page, as one plain script: ``JUDGE.judged`` gives the sentence on an answer."""
    viewer = files("oddswap.showing.viewer")
    parts = [*(viewer.joinpath(name).read_text("utf-8") for name in ("state.js", "laws.js")), *scripts().values()]
    return f"const JUDGE = (() => {{\n{''.join(parts)}\nreturn {{ judged, use }};\n}})();\n"


class Program:
    """Functions and classes by ``module:name``, each with its tree and with what its free names stand for; and plain values."""

    def __init__(self):
        self.parts: dict[str, dict] = {}
        self.puzzles: dict[str, Puzzle] = {}
        self.named = {*re.findall(r"attribute\([^']*'(\w+)'\)", "\n".join(scripts().values())), *SPECIAL}
        self._classes: dict[str, type] = {}
        self.says: dict[str, str] = {}
        self._called: set[str] = set()
        self._size = 0
        self._raw: list[tuple[dict, str, object]] = []

    def add(self, value: object) -> str:
        """The name in this program under which the page has a function, a class or a value; `BadOption` where it cannot."""
        value = _unwrapped(value)
        key = f"{value.__module__}:{value.__qualname__}"
        if key in NATIVE or key in self.parts:
            return key
        if not value.__module__.startswith(("oddswap.", "difflib", "__main__", "tests.")):
            raise BadOption(f"a page cannot run {key}: write what calls it without it, or teach the page")
        tree = ast.parse(textwrap.dedent(inspect.getsource(value))).body[0]
        self.parts[key] = part = {}
        if isinstance(value, type):
            self._classes[key] = value
            tree.body = [node for node in tree.body if not isinstance(node, ast.FunctionDef)]
        self._fill(part, tree, value)
        return key

    def _fill(self, part: dict, tree: ast.AST, owner: type | FunctionType) -> None:
        packed = _packed(tree)
        if isinstance(tree, ast.ClassDef):
            packed["fields"] = is_dataclass(owner) or hasattr(owner, "_fields")
        self.named |= {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        part.setdefault("globals", {})
        self._size += 1
        if "tree" in part:
            part["tree"]["body"].append(packed)
        else:
            part["tree"] = packed
        around = getattr(owner, "__globals__", None) or vars(sys.modules[owner.__module__])
        for name in _loaded(tree):
            if name in around and name not in part["globals"]:
                part["globals"][name] = self._reference(part["globals"], name, around[name])

    def _reference(self, around: dict, name: str, value: object) -> object:
        if isinstance(value, ModuleType):
            return f"{value.__name__}:{name}"
        self._called |= {name} & {"say"}
        if isinstance(value, type | FunctionType) or hasattr(value, "__wrapped__") or inspect.isbuiltin(value):
            if getattr(value, "__module__", "") in ("typing", "collections.abc"):
                return None
            try:
                return self.add(value)
            except (BadOption, OSError, TypeError):
                return {"missing": f"{value.__module__}:{getattr(value, '__qualname__', name)}"}
        self._raw.append((around, name, value))
        return None

    def finish(self) -> dict:
        """All of it as plain data, once no class lacks a method that some tree names."""
        puzzles: dict[str, dict] = {}
        while self._more() or self._raw or len(puzzles) < len(self.puzzles):
            while self._raw and not self._more():
                around, name, value = self._raw.pop()
                around[name] = {"value": self.value(value)}
            for name, puzzle in [] if self._raw else list(self.puzzles.items())[len(puzzles) :]:
                puzzles[name] = self._own(puzzle) | {"facts": facts_of(puzzle)}
                for other in filter(None, map(puzzles[name]["facts"].get, ("out", "still"))):
                    self.puzzles.setdefault(other, held_still(puzzle) if other == still_name(puzzle) else load(other))
        return {"parts": self.parts, "puzzles": puzzles, "says": self.says}

    def _more(self) -> bool:
        before = self._size
        if "say" in self._called:
            for key, owner in list(self._classes.items()):
                words = worded(owner)
                if key not in self.says and isinstance(words, FunctionType) and words.__name__ != "<lambda>":
                    self.says[key] = self.add(words)
        for key, owner in list(self._classes.items()):
            part = self.parts[key]
            there = {node.get("name") for node in part["tree"]["body"]}
            for name, member in list(vars(owner).items()):
                if name not in self.named or name in there or f"{key}.{name}" in NATIVE | CONSTANT:
                    continue
                function = _function(member)
                written = function is not None and function.__code__.co_filename != "<string>"
                if written and function.__qualname__ == f"{owner.__qualname__}.{name}":
                    tree = ast.parse(textwrap.dedent(inspect.getsource(function))).body[0]
                    if isinstance(tree, ast.FunctionDef):
                        self._fill(part, tree, owner)
        return before != self._size

    def value(self, held: object) -> object:
        """Anything as JSON: texts and numbers as they are, all else tagged."""
        if isinstance(held, Puzzle):
            self.puzzles.setdefault(held.name, held)
            return {"puzzle": held.name}
        if held is None or isinstance(held, bool | int | float | str):
            return held
        if isinstance(held, re.Pattern):
            return {"pattern": held.pattern}
        if isinstance(held, np.generic):
            return held.item()
        if isinstance(held, np.ndarray):
            return {"numbers": held.tolist()} if held.ndim == 1 else {"list": [self.value(row) for row in held]}
        if isinstance(held, Mapping):
            return {"dict": [[self.value(key), self.value(each)] for key, each in held.items()]}
        if isinstance(held, set | frozenset):
            return {"set": [self.value(each) for each in sorted(held, key=repr)]}
        if isinstance(held, tuple | list | range):
            return [self.value(each) for each in held]
        if isinstance(held, Geometry):
            return {"native": {"mechanism": {"native": {"directions": self.value(dict.fromkeys(held.mechanism.directions))}}}}
        if isinstance(held, type | FunctionType):
            return {"part": self.add(held)}
        return self._own(held)

    def _own(self, thing: object) -> dict:
        """An instance: its class, and all that some tree names of it."""
        key = self.add(type(thing))
        while self._more():
            pass
        fields = set(getattr(type(thing), "__dataclass_fields__", ()))
        wanted = {name for name in dir(type(thing)) if name in self.named and not name.startswith("__")} | (fields & self.named)
        small = type(thing).__module__.startswith(("oddswap.values", "oddswap.puzzles.base.puzzle"))
        own = {}
        for name in sorted(wanted | fields if small and not isinstance(thing, Puzzle) else wanted):
            member = inspect.getattr_static(type(thing), name, None)
            if _function(member) is not None and (name not in fields) and not self._constant(type(thing), name, member):
                continue
            if isinstance(member, FunctionType | staticmethod | classmethod):
                continue
            try:
                own[name] = self.value(getattr(thing, name))
            except (AttributeError, NotImplementedError):
                continue
        return {"thing": key, "own": own}

    def _constant(self, owner: type, name: str, member: object) -> bool:
        """Whether a property is worked out beforehand: one that a class forwards, or whose tree the page does not have."""
        function = _function(member)
        if f"{owner.__module__}:{owner.__qualname__}.{name}" in CONSTANT:
            return True
        own = {f"{base.__qualname__}.{name}" for base in owner.__mro__}
        return isinstance(member, property | cached_property) and function.__qualname__ not in own


def _unwrapped(value: object) -> object:
    """A function itself: without what stands around it, and loaded where it is fetched on use."""
    if isinstance(value, FunctionType) and value.__qualname__ == "fetched.<locals>.forward":
        held = inspect.getclosurevars(value).nonlocals
        value = getattr(__import__(held["path"], fromlist=["_"]), held["function"])
    return inspect.unwrap(value) if callable(value) else value


def _function(member: object) -> FunctionType | None:
    member = getattr(member, "fget", None) or getattr(member, "func", None) or getattr(member, "__func__", member)
    member = inspect.unwrap(member) if callable(member) else member
    return member if isinstance(member, FunctionType) else None


def _loaded(tree: ast.AST) -> Iterable[str]:
    """The names that a tree reads, but for those in what the page leaves out."""
    for name, child in ast.iter_fields(tree):
        if name in LEFT_OUT and not (isinstance(tree, ast.ClassDef) and name == "bases"):
            continue
        for node in child if isinstance(child, list) else [child]:
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load) and not hasattr(builtins, node.id):
                yield node.id
            if isinstance(node, ast.AST):
                yield from _loaded(node)


def _packed(node: object) -> object:
    """A syntax tree as plain data."""
    if isinstance(node, list):
        return [_packed(each) for each in node]
    if not isinstance(node, ast.AST):
        return None if isinstance(node, bytes) else node
    found = {name: _packed(value) for name, value in ast.iter_fields(node) if name not in LEFT_OUT}
    if isinstance(node, ast.FunctionDef):
        names = [ast.unparse(each).partition("(")[0] for each in node.decorator_list]
        found["sort"] = next((SORTS[name] for name in names if name in SORTS), "")
        found["yields"] = any(isinstance(each, ast.Yield | ast.YieldFrom) for each in ast.walk(node))
        if isinstance(node.body[0], ast.Expr) and isinstance(node.body[0].value, ast.Constant):
            found["body"] = found["body"][1:]
    return {"_": type(node).__name__, **found}
