"""What `repr` and `str` say of what was found: one line to recognise it by, and a few plain lines to read."""

from collections.abc import Iterable, Iterator

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.search.shortest import Way
from oddswap.reasoning.verdicts.findings import Diagnosis
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.grammar import read_number
from oddswap.words.law_books import at_home
from oddswap.words.searches import proved_words
from oddswap.words.table import name_of

MOST = 6
"""So many lines of one sort are said; the rest are counted."""


def book_repr(book: LawBook) -> str:
    return f"{book.puzzle!r}.laws"


def book_text(book: LawBook) -> str:
    """The laws of a puzzle, and whether they are all."""
    laws = _some("", (law.statement for law in book.laws))
    whole = ", all that the laws allow" if book.complete else "; the laws allow more, which is not settled"
    reached = f"The turns reach {read_number(book.order)} arrangements{at_home(book)}{whole}."
    return "\n".join([f"{book.puzzle.title}, laws: {len(book.laws)}", *laws, reached])


def law_repr(law: Law) -> str:
    return f"<law: {name_of(law)}>"


def diagnosis_repr(found: Diagnosis) -> str:
    counts = {"laws broken": len(found.broken), "culprits": len(found.culprits), "likely slips": len(found.slips)}
    words = [f"{what}: {count}" for what, count in counts.items() if count]
    return f"<diagnosis: {', '.join([found.verdict, *words])}>"


def diagnosis_text(found: Diagnosis) -> str:
    """The verdict, what is broken, who can be the culprit, what to look at or to mend."""
    lines = [
        found.verdict,
        *_some("broken at first sight: ", (law.statement for law in found.broken)),
        *_some("culprit: ", (culprit.words for culprit in found.culprits)),
        *_some("look again: ", (slip.words for slip in found.slips)),
        *_some("ask for: ", found.ask_next),
        *([f"repair: {found.repair.words}"] if found.repair else []),
    ]
    return "\n".join(lines)


def answer_repr(answer: Answer) -> str:
    way = f", way out {answer.way_out.moves!r}" if answer.way_out and answer.way_out.moves is not None else ""
    return f"<answer for {answer.puzzle.name}: {answer.verdict}{way}>"


def answer_text(answer: Answer) -> str:
    """The diagnosis, and the way out and set-up where there are any."""
    lines = [str(answer.diagnosis)]
    if answer.way_out is not None:
        lines.append(f"way out: {answer.held + ' first, then ' if answer.held else ''}{answer.way_out}")
    if answer.set_up:
        lines.append(f"set-up: {answer.set_up}")
    return "\n".join(lines)


def way_text(way: Route | Way) -> str:
    """The moves, with what was proved of their number."""
    if way.moves is None:
        return f"none found: {way.reason}"
    return f"{way.moves} ({way.length} {'turn' if way.length == 1 else 'turns'}, {proved_words(way)}; {way.counting})".lstrip()


def _some(head: str, lines: Iterable[str]) -> Iterator[str]:
    """The first few lines, each with a head, and how many more there are."""
    every = list(lines)
    yield from (f"  {head}{line}" for line in every[:MOST])
    if len(every) > MOST:
        yield f"  and {len(every) - MOST} more"
