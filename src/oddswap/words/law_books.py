"""What a law book says on a page: what there is on the puzzle, why the laws hold, and how it is known that they are all."""

from collections import Counter
from collections.abc import Iterator, Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.reasoning.laws.by_eye import ByEye
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import Sector
from oddswap.reasoning.laws.structure import Certificate
from oddswap.reasoning.laws.tally import quantities
from oddswap.values.grammar import capital, listed, read_number, singular
from oddswap.values.orbits import gathered
from oddswap.words.table import name_of, say
from oddswap.words.texts import texts_of

SAYS = texts_of("law books")
NAMED = 4
"""More kinds than this are counted, not named."""
NO_LAW = "None: every way to put the pieces into their slots can be reached."
HIDDEN = " *(Lookalikes hide this one: it can seem broken when it is not.)*"
"""What stands after the statement of a law that is not seen."""


def pieces_words(puzzle: Puzzle) -> str:
    """How many pieces of each family the puzzle has, and which look alike."""
    alike, families = lookalikes(puzzle), Counter()
    for kind in puzzle.kinds:
        families[kind.family] += len(set(kind.places) - puzzle.void)
    blank = ", and there is a blank" if puzzle.blank is not None else ""
    pieces = listed(f"{count} {family}" if count > 1 else f"one {singular(family)}" for family, count in (+families).items())
    words = [f"It has {pieces}{blank}."]
    words += [f"{listed(puzzle.slots[piece] for piece in joint)} are joined, and move as one." for joint in puzzle.joints]
    if alike.twins:
        words.append(f"Twins, which look alike: {listed(_twins(puzzle))}.")
    if alike.hidden_turns:
        places = listed(puzzle.slots[p] for p in alike.hidden_turns)
        words.append(f"Hidden turns: what sits at {places} can turn without showing it.")
    if not alike.twins and not alike.hidden_turns:
        twisted = any(kind.twist > 1 for kind in puzzle.kinds)
        words.append("No two look alike, and every turn of a piece shows." if twisted else "No two look alike.")
    return " ".join(words)


def _twins(puzzle: Puzzle) -> list[str]:
    """Sets of twins by kind, the few named, the many counted."""
    by_kind = gathered(lookalikes(puzzle).twins, lambda family: puzzle.kind_of[family[0]].name)
    words = []
    for name, sets in by_kind.items():
        if len(sets) < 3:
            words += [f"the {puzzle.kind_of[family[0]].family} " + listed(puzzle.slots[p] for p in family) for family in sets]
        else:
            sizes = listed(dict.fromkeys(str(len(family)) for family in sets))
            words.append(f"the {name} in {len(sets)} sets of {sizes}")
    return words


def reason_words(puzzle: Puzzle) -> str:
    """Why the laws hold: what proves it is a table of what each turn does, where they count something."""
    if not quantities(puzzle):
        return SAYS.by_each
    if puzzle.steady:
        return SAYS.by_turns
    if not puzzle.shape_first:
        return SAYS.by_trips_of_the_blank
    return SAYS.by_trips_of_the_box if puzzle.leaves_outline else SAYS.by_trips_of_the_shape


def at_home(book: LawBook) -> str:
    """Where arrangements are counted, if not in every shape and holding."""
    home = "of the closed box" if book.puzzle.leaves_outline else "in the shape at home"
    held = " in one holding" if book.times < len(book.holdings) else ""
    return held + (f" {home}" if book.shapes is None else "")


def completeness_words(book: LawBook, seen: ByEye) -> str:
    """Whether the laws are all, how many arrangements there are, and what is ``seen`` of them."""
    split = book.index_wide != book.index
    hands, within = ("Within their sets, hands", " within the sets") if split else ("Hands", "")
    ways = f"{hands} could put the pieces together in {read_number(book.assembly_order)} ways"
    allowed = f"the laws allow one in {read_number(book.index)}" if book.index > 1 else "no law forbids any of them"
    if split:
        allowed += f" (one in {read_number(book.index_wide)} of what hands could do across the sets)"
    if not book.complete:
        known = f"the turns are known to reach {read_number(book.order)}"
        return f"That is not settled. {ways}; {known}, and the known laws allow {read_number(book.unexplained)} times as many."
    reached = f"the turns reach {read_number(book.order)}{at_home(book)}, which is exactly as many"
    parts = [f"Yes, and it is proved. {ways}; {allowed}; {reached}."]
    if seen.seen_index == 1:
        parts.append(f"By eye, nothing that hands do{within} can be told from turning.")
    elif seen.seen_index is not None:
        parts.append(f"By eye, one can tell {read_number(seen.seen_index)} classes apart{within}.")
    if seen.appearances is not None:
        noun = "appearances" if seen.appearances > 1 else "appearance"
        parts.append(f"{capital(read_number(seen.appearances))} {noun} can be reached.")
    steps = proof_sentences(book.proof) if isinstance(book.proof, Certificate) else ()
    return " ".join(parts) + "".join(f"\n\n- {sentence}" for sentence in steps)


def null_notes(book: LawBook, seen: ByEye) -> Iterator[str]:
    """Why some figures of what is ``seen`` are null, or equal."""
    if seen.reached:
        yield from map(say, seen.reached)
    elif seen.seen_index is None or seen.appearances is None:
        yield "seen_index or appearances is null: its classes are too many to be counted one by one"
    elif seen.appearances_up_to_rotation is None:
        yield "appearances_up_to_rotation is null: some appearances look the same in several holdings"
    if not book.puzzle.rotations:
        yield "the holding is fixed, so appearances_up_to_rotation equals appearances"


def holding_notes(book: LawBook) -> tuple[str, ...]:
    """What is counted and tried where there are too many shapes, or the turns do not lead to every holding."""
    if book.shapes is None:
        return (f"there are more than {STAGES[1]:,} shapes, so arrangements are counted{at_home(book)} alone",)
    if len(book.holdings) == 1:
        return ()
    ways = len(holdings(book.puzzle))
    if turns_fit_every_holding(book.puzzle):
        return (f"all {ways} holdings are counted; the laws speak of one, and a position is tried in every one",)
    return (f"these figures are for one holding, since others have other turns; a position is tried in each of the {ways}",)


def proof_sentences(certificate: Certificate) -> Iterator[str]:
    """The proof by structure, step by step."""
    large, small = certificate.large, [sector for sector in certificate.small if sector.labels.size > 1]
    if not large:
        yield SAYS.by_chain
        return
    several, twisted = len(large) > 1, [sector for sector in large if sector.twist > 1]
    each = ", each kind for itself" if several else ""
    yield SAYS.every_even_way.format(kinds=_named(large), each=each, cycles=_cycles(certificate))
    if several:
        yield SAYS.no_other_ties
    if twisted:
        yield SAYS.every_twist.format(kinds=_named(twisted), sums="sums" if len(twisted) > 1 else "sum")
    rest = ["signs", *(["twist sums"] if twisted else []), *(["all that moves of the smaller kinds"] if small else [])]
    yield SAYS.what_is_left.format(rest=listed(rest), values=certificate.image.order)


def _cycles(certificate: Certificate) -> str:
    """The lengths of the cycles by number of slots: ``5 of 8, 17 or 19 of 24``."""
    found: dict[int, set[int]] = {}
    for sector, length in zip(certificate.large, certificate.cycles, strict=True):
        found.setdefault(len(sector.slots), set()).add(length)
    return ", ".join(f"{' or '.join(map(str, sorted(found[size])))} of {size}" for size in sorted(found))


def _named(parts: Sequence[Sector]) -> str:
    return listed(map(name_of, parts)) if len(parts) <= NAMED else f"pieces of {len(parts)} kinds"
