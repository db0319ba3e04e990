"""What is fetched on use, so that no room names a later one: methods that forward, and the names of public modules.

Methods stand in one table *module:function → class.name*, by the functions that they forward to.

A class takes its entries with `forwarded`. Each function gets the value first; what stands in ``PROPERTIES`` is read like a
field, what stands in ``METHODS`` is called, with further arguments. No module before the colon: a public name of ``oddswap``.
"""

from collections.abc import Callable, Mapping
from functools import cache
from importlib import import_module
from inspect import isclass

METHODS = {
    ":answer": "Puzzle.answer",
    ":changed": "Puzzle.changed",
    ":diagnose": "Puzzle.diagnose",
    ":draw_prints": "Puzzle.draw",
    ":find_way": "Puzzle.find_way",
    ":tally": "Puzzle.tally",
    "describing.tickets:ticket_repr": "Ticket.__repr__",
    "showing.pages.in_notebooks:answer_html": "Answer._repr_html_",
    "showing.pages.in_notebooks:book_html": "LawBook._repr_html_",
    "showing.pages.in_notebooks:diagnosis_html": "Diagnosis._repr_html_",
    "showing.pages.in_notebooks:position_html": "Appearance._repr_html_ Arrangement._repr_html_",
    "showing.pages.in_notebooks:puzzle_html": "Puzzle._repr_html_",
    "showing.pages.in_notebooks:text_html": "Law._repr_html_ Route._repr_html_ Way._repr_html_",
    "words.answers:answer_repr": "Answer.__repr__",
    "words.answers:answer_text": "Answer.__str__",
    "words.answers:book_repr": "LawBook.__repr__",
    "words.answers:book_text": "LawBook.__str__",
    "words.answers:diagnosis_repr": "Diagnosis.__repr__",
    "words.answers:diagnosis_text": "Diagnosis.__str__",
    "words.answers:law_repr": "Law.__repr__",
    "words.answers:way_text": "Route.__str__ Way.__str__",
    "words:say": "Law.__str__",
}
PROPERTIES = {
    ":law_book": "Puzzle.laws",
    "puzzles.base.whole_turns:generators": "Puzzle.generators",
    "reasoning.laws.by_eye:appearances": "LawBook.appearances",
    "reasoning.laws.by_eye:appearances_up_to_rotation": "LawBook.appearances_up_to_rotation",
    "reasoning.laws.by_eye:seen_index": "LawBook.seen_index",
    "reasoning.verdicts.alarms:alarms": "Puzzle.alarms",
    "words.alarms:changes_words": "LawFamily.words",
    "words.culprits:as_well_words": "Repair.others",
    "words.culprits:cautions": "Repair.cautions",
    "words.findings:asked_of": "Diagnosis.ask_next",
    "words.findings:assumptions_of": "Diagnosis.assumptions",
    "words.findings:notes_of": "Diagnosis.notes",
    "words.searches:counting_words": "Route.counting Way.counting",
    "words.searches:reason_words": "Route.reason Way.reason",
    "words.laws:law_latex": "Law.latex",
    "words:name_of": "Law.name Quantity.name",
    "words:say": "Culprit.words Law.statement Mistake.words Phase.words Repair.words Slip.words "
    "Tool.words Trouble.words View.words",
}


def forwarded(cls: type) -> type:
    """Give a class the methods and properties that the tables name for it, and return it."""
    for table, wrap in ((METHODS, lambda function: function), (PROPERTIES, property)):
        for target, entries in table.items():
            for owner, name in (entry.split(".") for entry in entries.split()):
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


door = fetched("describing.doors:door")


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
            value = door(value)
            value.__module__, value.__name__, value.__qualname__ = package, name, name
        return value

    return sorted(home), fetch, lambda: sorted(home)
