"""A random token in place of every text that `words` makes, for tests: texts of findings, of its functions and of its tables."""

import ast
import inspect
import sys
from dataclasses import fields, is_dataclass, replace
from functools import wraps
from importlib import import_module
from pkgutil import walk_packages
from secrets import token_hex
from types import SimpleNamespace

import pytest

import oddswap.words
from oddswap.words import table

NO_PROSE = {"oddswap.words.table", "oddswap.words.texts"}
"""The files of the room that hold machinery alone."""


class Token(str):
    """What stands for a sentence or a name: new each time that it is asked for."""


def token() -> Token:
    return Token(token_hex(8).upper())


def put_tokens_everywhere(put: pytest.MonkeyPatch) -> None:
    """Let `words` say nothing but tokens, in whatever module its functions and tables are already known."""
    put.setattr(table, "_words_of", lambda *_: lambda *_: token())
    put.setattr(table._Fields, "format", lambda *_: token())
    replaced = {}
    for module in walk_packages(oddswap.words.__path__, "oddswap.words."):
        for _, value in texts_of(import_module(module.name)):
            replaced[id(value)] = (value, with_tokens(value))
    for module in [module for name, module in sys.modules.items() if name.startswith("oddswap.")]:
        for name, value in list(vars(module).items()):
            if id(value) in replaced and replaced[id(value)][0] is value:
                put.setattr(module, name, replaced[id(value)][1])


def texts_of(module) -> list[tuple[str, object]]:
    """The functions of a file that return texts, and its tables of texts."""
    if module.__name__ in NO_PROSE:
        return []
    body = ast.parse(inspect.getsource(module)).body
    functions = [node.name for node in body if isinstance(node, ast.FunctionDef) and "str" in ast.unparse(node.returns)]
    tables = [to.id for node in body if isinstance(node, ast.Assign) for to in node.targets if isinstance(to, ast.Name)]
    return [(name, getattr(module, name)) for name in (*functions, *tables) if name[0] != "_"]


def with_tokens(value):
    """A text, a function that makes texts, or a table of them, with a token for each text of more than one word."""
    if isinstance(value, str):
        return token() if " " in value else value
    if isinstance(value, dict):
        return {key: with_tokens(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return type(value)(map(with_tokens, value))
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{field.name: with_tokens(getattr(value, field.name)) for field in fields(value)})
    if isinstance(value, SimpleNamespace):
        return SimpleNamespace(**with_tokens(vars(value)))
    if inspect.isfunction(value):
        return wraps(value)(lambda *given, **named: with_tokens(value(*given, **named)))
    return with_tokens(list(value)) if inspect.isgenerator(value) else value
