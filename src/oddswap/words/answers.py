"""An answer as a whole: its first line, reasons and culprits, and what `repr` and `str` say of what was found."""

from collections.abc import Iterable, Iterator

from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.opening.outside import OnlySearchedOutside
from oddswap.reasoning.search.shortest import Way
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, Diagnosis
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.grammar import capital, listed, read_number
from oddswap.words.culprits import hidden_change
from oddswap.words.law_books import at_home
from oddswap.words.searches import proved_words
from oddswap.words.table import name_of
from oddswap.words.texts import TEXTS
from oddswap.words.verdicts import BOTH_READINGS, BY_HAND, SEARCHED, STRANGE, TO_MEASURE, UNTRIED, WORDINGS, wording_of

LEADS = TEXTS["leads"]
"""What stands before the list or the moves of a section of an answer, by the code of the section."""
IF_SLIPPED = "If {}, its verdict is {}:"
"""What the verdict is if a slip was made; both as they are shown."""
NEXT_VIEW = "The picture that comes with this shows where to stand, and what will then be in sight."
STAYS_BROKEN = "Whatever moves you make, this stays broken:"
"""Stands over the laws that no turn on a page mends."""
CHECK_HERE = "Let this page check the answer"
CHECKED = TEXTS["checked"]
"""What a page says of a proof that it checked, by the part of the file, and what it cannot say."""
STEP_BY_STEP = "Each small picture is one move. Tap the marked one to make it, or any other to go there."


def headline(answer: Answer) -> str:
    """What is said first: what was proved, and no more."""
    found = answer.diagnosis
    if answer.untried:
        return UNTRIED
    if found.has(OnlySearchedOutside):
        return SEARCHED
    if found.has(MadeByHand):
        return BY_HAND
    halves = answer.puzzle.alphabet.is_box and all(abs(turn.step.amount) == 2 for turn in answer.puzzle.turns.values())
    turns = "half turns" if halves else "the turns on the ticket" if answer.puzzle.chosen else "the turns that keep its shape"
    return TO_MEASURE if found.hangs_on_measuring else wording_of(found).headline.format(turns=turns)


def proof_lines(answer: Answer) -> Iterator[str]:
    """The reasons for the verdict, one sentence each, from the laws and their certificate."""
    found, verdict = answer.diagnosis, answer.verdict
    if verdict == CANNOT_TELL:
        yield BOTH_READINGS if found.hangs_on_measuring else wording_of(found).proof
        return
    book = answer.puzzle.laws
    yield from (f"What you see breaks this law: {law.statement}" for law in found.broken)
    if found.broken:
        law = "that law" if len(found.broken) == 1 else "those laws"
        yield f"The allowed turns keep {law}, so they cannot lead here if every piece is what it seems."
    if verdict == ORDINARY:
        yield WORDINGS[verdict].proof.format(held=f", held as after {answer.held}" if answer.held else "")
    if found.broken_by_some:
        yield "Pieces that look alike can have come here in several ways: some of these break a law, others do not."
    if verdict == LOOKALIKE:
        yield WORDINGS[verdict].proof
    if verdict == NOT_BY_TURNING and found.broken and book.hidden.generators():
        yield "No hidden turn or swap of twins can mend it."
    if verdict == NOT_BY_TURNING and not found.broken:
        yield STRANGE if found.first is None else WORDINGS[verdict].proof
    if book.complete:
        allowed = f"one in {read_number(book.index_wide)}" if book.index_wide > 1 else "all"
        yield (
            f"No law is missing: the laws allow {allowed} of what hands can put together, and turns reach as many: "
            f"{read_number(book.order)} arrangements{at_home(book)}."
        )


def culprit_lines(answer: Answer) -> list[str]:
    """Everybody who can be the culprit; swaps among the same twins are said once."""
    puzzle, alike, culprits = answer.puzzle, lookalikes(answer.puzzle), answer.diagnosis.culprits
    if len(culprits) == 1:
        return [f"{capital(culprits[0].words)}. No other hidden change as small explains it."]
    lines: dict[object, str] = {}
    for culprit in culprits:
        (family, *others) = {alike.family_of[puzzle.slot(name)] for name in culprit.pieces}
        if len(culprit.pieces) == 2 and not others and len(family.pieces) > 2:
            names = listed(puzzle.slots[p] for p in family.pieces)
            lines[family] = f"two of the twin {family.kind.family} {names} have changed places, and they look the same"
        else:
            lines[culprit] = culprit.words
    return list(lines.values())


def tally_words(answer: Answer) -> str:
    """Which way the tally of an answer is that of, and what it counts that nobody sees; empty where nothing is hidden."""
    mended = answer.easiest and answer.easiest.mends
    if not mended:
        return ""
    hidden = listed(map(hidden_change, mended.changes))
    return f"The tally is that of the easiest way. It counts what is hidden, too, from the start: here {hidden}."


MOST = 6
"""So many lines of one sort are said; the rest are counted."""


def book_repr(book: LawBook) -> str:
    return f"{book.puzzle!r}.laws"


def book_text(book: LawBook) -> str:
    """The laws of a puzzle, and whether they are all."""
    laws = _some("", (law.statement for law in book.laws))
    whole = ", all that the laws allow" if book.complete else "; the laws allow more, which is not settled"
    noun = "arrangements" if book.order > 1 else "arrangement"
    reached = f"The turns reach {read_number(book.order)} {noun}{at_home(book)}{whole}."
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
