"""What is fetched on use, so that no room names a later one: methods that forward, and the names of public modules.

Methods stand in one table *class.name → module:function*.

A class takes its entries with `forwarded`. Each function gets the value first; what stands in ``PROPERTIES`` is read like a
field, what stands in ``METHODS`` is called, with further arguments. No module before the colon: a public name of ``oddswap``.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from inspect import isclass

METHODS: dict[str, str] = {
    "Answer.__repr__": "words.answers:answer_repr",
    "Answer.__str__": "words.answers:answer_text",
    "Answer._repr_html_": "showing.pages.in_notebooks:answer_html",
    "Appearance._repr_html_": "showing.pages.in_notebooks:position_html",
    "Arrangement._repr_html_": "showing.pages.in_notebooks:position_html",
    "Diagnosis.__repr__": "words.answers:diagnosis_repr",
    "Diagnosis.__str__": "words.answers:diagnosis_text",
    "Diagnosis._repr_html_": "showing.pages.in_notebooks:diagnosis_html",
    "Law.__repr__": "words.answers:law_repr",
    "Law.__str__": "words:say",
    "Law._repr_html_": "showing.pages.in_notebooks:text_html",
    "LawBook.__repr__": "words.answers:book_repr",
    "LawBook.__str__": "words.answers:book_text",
    "LawBook._repr_html_": "showing.pages.in_notebooks:book_html",
    "Puzzle._repr_html_": "showing.pages.in_notebooks:puzzle_html",
    "Puzzle.answer": ":answer",
    "Puzzle.changed": ":changed",
    "Puzzle.diagnose": ":diagnose",
    "Puzzle.draw": ":draw_prints",
    "Puzzle.find_way": ":find_way",
    "Puzzle.tally": ":tally",
    "Route.__str__": "words.answers:way_text",
    "Route._repr_html_": "showing.pages.in_notebooks:text_html",
    "Ticket.__repr__": "describing.tickets:ticket_repr",
    "Way.__str__": "words.answers:way_text",
    "Way._repr_html_": "showing.pages.in_notebooks:text_html",
}
PROPERTIES: dict[str, str] = {
    "Culprit.words": "words:say",
    "Diagnosis.ask_next": "words.findings:asked_of",
    "Diagnosis.assumptions": "words.findings:assumptions_of",
    "Diagnosis.notes": "words.findings:notes_of",
    "LawFamily.words": "words.alarms:changes_words",
    "Law.name": "words:name_of",
    "Law.statement": "words:say",
    "LawBook.appearances": "reasoning.laws.by_eye:appearances",
    "LawBook.appearances_up_to_rotation": "reasoning.laws.by_eye:appearances_up_to_rotation",
    "LawBook.seen_index": "reasoning.laws.by_eye:seen_index",
    "Mistake.words": "words:say",
    "Phase.words": "words:say",
    "Puzzle.alarms": "reasoning.verdicts.alarms:alarms",
    "Puzzle.generators": "puzzles.base.whole_turns:generators",
    "Puzzle.laws": ":law_book",
    "Quantity.name": "words:name_of",
    "Repair.cautions": "words.culprits:cautions",
    "Repair.others": "words.culprits:as_well_words",
    "Repair.words": "words:say",
    "Slip.words": "words:say",
    "Route.counting": "words.searches:counting_words",
    "Route.reason": "words.searches:reason_words",
    "Tool.words": "words:say",
    "Trouble.words": "words:say",
    "View.words": "words:say",
    "Way.counting": "words.searches:counting_words",
    "Way.reason": "words.searches:reason_words",
}


def forwarded(cls: type) -> type:
    """Give a class the methods and properties that the tables name for it, and return it."""
    for table, wrap in ((METHODS, lambda function: function), (PROPERTIES, property)):
        for entry, target in table.items():
            owner, _, name = entry.partition(".")
            if owner == cls.__name__:
                setattr(cls, name, wrap(fetched(target, name)))
    return cls


def fetched(target: str, name: str = "") -> Callable:
    """A function that stands for ``module:function`` and loads it when it is called first."""
    module, _, function = target.partition(":")
    path = f"oddswap.{module}".rstrip(".")

    def forward(*arguments, **options):
        return getattr(import_module(path), function)(*arguments, **options)

    forward.__name__ = name or function
    forward.__doc__ = f"See ``{path}.{function}``."
    return forward


def surface(package: str, where: Mapping[str, str]) -> tuple[list[str], Callable[[str], object], Callable[[], list[str]]]:
    """A public module's ``__all__``, ``__getattr__`` and ``__dir__``: its names, by the modules that they are fetched from.

    Each is fetched on first use, functions with a door.
    """
    home = {name: module for module, names in where.items() for name in names.split()}

    @cache
    def fetch(name: str) -> object:
        if name not in home:
            raise AttributeError(f"{package} has no {name!r}")
        value = getattr(import_module(f"oddswap.{home[name]}"), name)
        if callable(value) and not isclass(value):
            value = import_module("oddswap.describing.doors").door(value)
            value.__module__, value.__name__, value.__qualname__ = package, name, name
        return value

    return sorted(home), fetch, lambda: sorted(home)
