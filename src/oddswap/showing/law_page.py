"""The laws of a puzzle as a page to read, and as plain data."""

from __future__ import annotations

import re

import numpy as np

from oddswap.puzzles.puzzle import Puzzle, Turn
from oddswap.puzzles.whole_turns import holdings, turns_fit_every_holding
from oddswap.reasoning.laws import LawBook, law_book
from oddswap.reasoning.lookalikes import lookalikes
from oddswap.reasoning.statements import capital, listed
from oddswap.reasoning.tally import move_table
from oddswap.showing.markdown import escaped
from oddswap.showing.report import law_data, picture, told


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
    if book.seen_index is None or book.appearances is None:
        notes.append("seen_index or appearances is null: its classes are too many to be counted one by one")
    elif book.appearances_up_to_rotation is None:
        notes.append("appearances_up_to_rotation is null: some appearances look the same in several holdings")
    if not puzzle.rotations:
        notes.append("the holding is fixed, so appearances_up_to_rotation equals appearances")
    notes += _on_holdings(book)
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
        "appearances": _decimal(book.appearances),
        "appearances_up_to_rotation": _decimal(book.appearances_up_to_rotation),
        "seen_index": _decimal(book.seen_index),
        "laws": [law_data(law) for law in book.laws],
        "notes": notes,
    }


def _decimal(number: int | None) -> str | None:
    return None if number is None else str(number)


def laws_markdown(puzzle: Puzzle, pictures: dict[str, str] | None = None) -> str:
    """The law book in words, with the table of what each turn does, which proves that every law holds.

    ``pictures`` maps puzzle and names to file names.
    """
    book, shown = law_book(puzzle), pictures or {}
    parts = [f"# What never changes: {escaped(puzzle.title)}"]
    parts += [*picture(shown, "puzzle", "The puzzle, solved"), escaped(_pieces(puzzle))]
    if "names" not in shown and named_on_a_picture(puzzle):
        parts.append("What its slots are called is shown on a picture, which the option `--out DIR` draws.")
    parts += picture(shown, "names", "What the slots are called")
    if book.laws:
        parts.append("## The laws")
        parts.append("\n".join(f"{i}. {escaped(law.statement)}{_seen(law)}" for i, law in enumerate(book.laws, 1)))
        parts += ["## Why they hold", _reason(puzzle), _table(puzzle)]
    else:
        none = "None: every way to put the pieces into their slots can be reached."
        parts += ["## The laws", none if book.complete else "None that signs, twists or pairs can tell. But see below."]
    parts += ["## Is that all?", _certificate(book)]
    if notes := [*_on_holdings(book), *puzzle.notes]:
        parts.append("\n".join(f"- {escaped(note)}" for note in notes))
    return "\n\n".join(parts) + "\n"


def named_on_a_picture(puzzle: Puzzle) -> bool:
    """Whether a picture must tell where a slot is: its name tells neither sides of a box nor a row and a column."""
    if puzzle.geometry is None:
        return not all(re.fullmatch(r"r\d+c\d+", slot) for slot in puzzle.slots)
    return any((np.abs(normal) > 1e-6).sum() > 1 for normal in puzzle.geometry.facets.values())


def _pieces(puzzle: Puzzle) -> str:
    alike = lookalikes(puzzle)
    families: dict[str, int] = {}
    for kind in puzzle.kinds:
        pieces = len(kind.slots) - (puzzle.blank in kind.places)
        families[kind.family] = families.get(kind.family, 0) + pieces
    blank = ", and there is a blank" if puzzle.blank is not None else ""
    words = [f"It has {listed(_counted(count, family) for family, count in families.items())}{blank}."]
    if alike.twins:
        words.append(f"Twins, which look alike: {listed(_twins(puzzle))}.")
    if alike.hidden_turns:
        places = listed(puzzle.slots[p] for p in alike.hidden_turns)
        words.append(f"Hidden turns: what sits at {places} can turn without showing it.")
    if not alike.twins and not alike.hidden_turns:
        twisted = any(kind.twist > 1 for kind in puzzle.kinds)
        words.append("No two look alike, and every turn of a piece shows." if twisted else "No two look alike.")
    return " ".join(words)


def _counted(count: int, family: str) -> str:
    return f"{count} {family}" if count > 1 else f"one {family.removesuffix('s')}"


def _twins(puzzle: Puzzle) -> list[str]:
    """Sets of twins by kind, the few named, the many counted."""
    by_kind: dict[str, list[tuple[int, ...]]] = {}
    for family in lookalikes(puzzle).twins:
        by_kind.setdefault(puzzle.kind_of[family[0]].name, []).append(family)
    words = []
    for name, sets in by_kind.items():
        if len(sets) < 3:
            words += [f"the {puzzle.kind_of[family[0]].family} " + listed(puzzle.slots[p] for p in family) for family in sets]
        else:
            sizes = listed(dict.fromkeys(str(len(family)) for family in sets))
            words.append(f"the {name} in {len(sets)} sets of {sizes}")
    return words


def _reason(puzzle: Puzzle) -> str:
    if puzzle.blank is None:
        return "What each turn does to what the laws count; a quantity that every turn keeps, every sequence keeps:"
    return (
        "The laws are told with the blank at home. Whatever brings it home again is made of these round trips (out along a "
        "tree of paths, across one more edge, and back), and this is what each does to what the laws count:"
    )


def _seen(law) -> str:
    return "" if law.seen else " *(Lookalikes hide this one: it can seem broken when it is not.)*"


def _table(puzzle: Puzzle) -> str:
    if puzzle.blank is None:
        first: dict[str, Turn] = {}
        for turn in puzzle.turns.values():
            first.setdefault(turn.step.name, turn)
        moves = [("", turn.name, turn.permutation) for turn in first.values()]
        leads_to = law_book(puzzle).leads_to
        whole = ((name, turn.permutation) for name, turn in puzzle.rotations.items())
        moves += [("the whole puzzle", name, image) for name, image in whole if leads_to(image)]
    else:
        moves = [("round trip", str(i), loop) for i, loop in enumerate(puzzle.generators, 1)]
    names, rows = move_table(puzzle, [permutation for *_, permutation in moves])
    gathered: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for (what, move, _), row in zip(moves, rows, strict=True):
        gathered.setdefault((what, row), []).append(move)
    lines = ["| turn | " + " | ".join(map(escaped, names)) + " |", "|---" * (len(names) + 1) + "|"]
    for (what, row), members in gathered.items():
        told = " ".join(members) if len(members) < 25 else f"{members[0]} … {members[-1]} ({len(members)} of them)"
        lines.append(" | ".join(["", *map(escaped, (f"{what} {told}".strip(), *row)), ""]).strip())
    return "\n".join(lines)


def _on_holdings(book: LawBook) -> list[str]:
    """What is counted and tried where the turns do not lead to every holding."""
    if len(book.holdings) == 1:
        return []
    ways = len(holdings(book.puzzle))
    if turns_fit_every_holding(book.puzzle):
        return [f"all {ways} holdings are counted; the laws speak of one, and a position is tried in every one"]
    return [f"these figures are for one holding, since others have other turns; a position is tried in each of the {ways}"]


def _certificate(book: LawBook) -> str:
    ways = f"Hands could put the pieces together in {told(book.assembly_order)} ways"
    if book.complete:
        across = f" (one in {told(book.index_wide)} of what hands could do across the sets)"
        wide = "" if book.index_wide == book.index else across
        allowed = f"the laws allow one in {told(book.index)}{wide}" if book.index_wide > 1 else "no law forbids any of them"
        steps = "".join(f"\n\n- {sentence}" for sentence in book.proof_sentences)
        return (
            f"Yes, and it is proved. {ways}; {allowed}; the turns reach {told(book.order)}, which is exactly as many. "
            f"{_seen_classes(book)}{_appearances(book)}{steps}"
        )
    return (
        f"No. {ways}, the laws above allow {told(book.allowed)} of them, and the turns reach {told(book.order)}: one in "
        f"{told(book.unexplained)} of those. Which they are, no law here says. A position is then decided by sifting: it is "
        "undone step by step by sequences of turns, and it can be reached exactly if nothing is left over at the end. "
        f"{_appearances(book)}"
    ).rstrip()


def _seen_classes(book: LawBook) -> str:
    if book.seen_index is None:
        return ""
    if book.seen_index == 1:
        return "By eye, nothing that hands do can be told from turning. "
    return f"By eye, one can tell {told(book.seen_index)} classes apart. "


def _appearances(book: LawBook) -> str:
    return "" if book.appearances is None else f"{capital(told(book.appearances))} appearances can be reached."
