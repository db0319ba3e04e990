"""The laws of a puzzle as a page to read, and as plain data."""

from __future__ import annotations

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.laws import LawBook, law_book
from oddswap.reasoning.lookalikes import lookalikes
from oddswap.reasoning.statements import listed
from oddswap.reasoning.tally import move_table
from oddswap.showing.report import law_data


def laws_data(puzzle: Puzzle) -> dict:
    """The law book as plain data, by ``schemas/laws.json``; orders are decimal strings."""
    book, alike = law_book(puzzle), lookalikes(puzzle)
    kinds = [
        {
            "name": kind.name,
            "slots": len(kind.slots),
            "twist": kind.twist,
            "twins": [[puzzle.slots[p] for p in family] for family in alike.twins if family[0] in kind.places],
            "hidden_turns": [puzzle.slots[p] for p in alike.hidden_turns if p in kind.places],
        }
        for kind in puzzle.kinds
    ]
    notes = list(puzzle.notes)
    rotations = _holdings(puzzle)
    if rotations == 1:
        notes.append("the holding is fixed, so appearances_up_to_rotation equals appearances")
    return {
        "puzzle": puzzle.name,
        "turns": list(puzzle.turns),
        "kinds": kinds,
        "order": str(book.order),
        "assembly_order": str(book.assembly_order),
        "index": str(book.index),
        "index_wide": str(book.index_wide),
        "complete": book.complete,
        "unexplained": str(book.unexplained),
        "appearances": str(book.appearances),
        "appearances_up_to_rotation": str(book.appearances // rotations),
        "seen_index": str(book.seen_index),
        "laws": [law_data(law) for law in book.laws],
        "notes": notes,
    }


def laws_markdown(puzzle: Puzzle) -> str:
    """The law book in words, with the table of what each turn does, which proves that every law holds."""
    book = law_book(puzzle)
    parts = [f"# What never changes: {puzzle.title}", _pieces(puzzle)]
    if book.laws:
        parts.append("## The laws")
        parts.append("\n".join(f"{i}. {law.statement}{_seen(law)}" for i, law in enumerate(book.laws, 1)))
        parts += ["## Why they hold", "What each turn does to what the laws count:", _table(puzzle)]
    else:
        parts += ["## The laws", "None: every way to put the pieces into their slots can be reached."]
    parts += ["## Is that all?", _certificate(book)]
    if puzzle.notes:
        parts.append("\n".join(f"- {note}" for note in puzzle.notes))
    return "\n\n".join(parts) + "\n"


def _holdings(puzzle: Puzzle) -> int:
    """In how many ways the whole puzzle can be held, where nothing fixes it: else 1."""
    if not puzzle.rotations:
        return 1
    return len(puzzle.geometry.mechanism.rotations)


def _pieces(puzzle: Puzzle) -> str:
    alike = lookalikes(puzzle)
    families: dict[str, int] = {}
    for kind in puzzle.kinds:
        families[kind.family] = families.get(kind.family, 0) + len(kind.slots)
    words = [f"Its pieces are {listed(f'{count} {family}' for family, count in families.items())}."]
    if alike.twins:
        sets = [f"{{{' '.join(puzzle.slots[p] for p in family)}}}" for family in alike.twins]
        words.append(f"Twins, which look alike: {listed(sets)}.")
    if alike.hidden_turns:
        words.append(f"Hidden turns: {' '.join(puzzle.slots[p] for p in alike.hidden_turns)} can turn without showing it.")
    if not alike.twins and not alike.hidden_turns:
        words.append("No two look alike, and every turn of a piece shows.")
    return " ".join(words)


def _seen(law) -> str:
    return "" if law.seen else " *(Lookalikes hide this one: it can seem broken when it is not.)*"


def _table(puzzle: Puzzle) -> str:
    turns = tuple(turn for turn in puzzle.turns.values() if turn.step.amount == 1 or turn.step.order == 2)
    turns = turns or tuple(puzzle.turns.values())
    names, rows = move_table(puzzle, turns)
    gathered: dict[tuple[str, ...], list[str]] = {}
    for turn, row in zip(turns, rows, strict=True):
        gathered.setdefault(row, []).append(turn.name)
    lines = ["| turn | " + " | ".join(names) + " |", "|---" * (len(names) + 1) + "|"]
    lines += [f"| {' '.join(turned)} | " + " | ".join(row) + " |" for row, turned in gathered.items()]
    return "\n".join(lines)


def _certificate(book: LawBook) -> str:
    if book.complete:
        return (
            f"Yes, and it is proved. Hands could put the pieces together in {book.assembly_order} ways; the laws allow one in "
            f"{book.index}; the turns reach {book.order}, which is exactly as many. "
            f"By eye, one can tell {book.seen_index} classes apart, and {book.appearances} appearances can be reached."
        )
    return (
        f"No. The laws allow {book.allowed} arrangements and the turns reach {book.order}: a factor {book.unexplained} "
        "is left unexplained, and whether a position can be reached is decided by sifting."
    )
