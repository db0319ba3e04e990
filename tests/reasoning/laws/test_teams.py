"""Pieces that stay in teams: against GAP's blocks, against wreath products made by hand, and by trying every assembly."""

from itertools import permutations
from math import factorial

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.law_kinds import TeamLaw
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.laws.tally import quantities, tally
from oddswap.reasoning.laws.teams import Rings, Shares, Teams, teams_of
from oddswap.words import name_of
from oddswap.words.laws import law_latex, value_words
from tests.common import gap
from tests.reasoning.handmade import handmade


def in_teams(rng, count, shares, circles=()):
    """A move of ``count`` teams: of each sector a team has so many slots; those at ``circles`` only go round."""
    order, images, start = rng.permutation(count), [], 0
    for number, share in enumerate(shares):
        for team in range(count):
            inside = np.roll(np.arange(share), rng.integers(share)) if number in circles else rng.permutation(share)
            images.extend(start + share * order[team] + inside)
        start += share * count
    return np.array(images)


def renamed(rng, moves, shares, count):
    """The same moves with the slots of every sector named at random."""
    name, start = [], 0
    for share in shares:
        name.extend(start + rng.permutation(share * count))
        start += share * count
    name = np.array(name)
    return [name[move[np.argsort(name)]] for move in moves]


def puzzle_of(seed, count, shares, circles=(), moves=4):
    rng = np.random.default_rng(seed)
    made = renamed(rng, [in_teams(rng, count, shares, circles) for _ in range(moves)], shares, count)
    made = [move for move in made if (move != np.arange(len(move))).any()]
    return handmade([(share * count, 1) for share in shares], made)


FULL = [
    (3, (2,), (), 48),
    (2, (3,), (), 72),
    (4, (2,), (), 384),
    (2, (4,), (), 1152),
    (3, (3,), (0,), 162),
    (2, (4,), (0,), 32),
    (5, (1, 1), (), 120),
    (5, (1, 1, 1), (), 120),
    (6, (1, 2), (), 46080),
    (6, (1, 4), (1,), 2949120),
    (5, (2, 3), (1,), 5 * 4 * 3 * 2 * 2**5 * 3**5),
    (2, (3, 3), (), 2 * 6**4),
]
"""Teams, shares, which go in circles, and the order of the wreath product: (product of share!, or share) ** teams * teams!."""


@pytest.mark.parametrize("count, shares, circles, order", FULL)
def test_a_whole_wreath_product_is_told_by_its_teams_and_proved(count, shares, circles, order):
    puzzle = puzzle_of(1, count, shares, circles, moves=8)
    book = law_book(puzzle)
    assert StabiliserChain.from_generators(puzzle.generators, puzzle.degree).verify().order == order
    (law,) = [law for law in book.laws if isinstance(law, TeamLaw)]
    assert book.complete and book.order == order and len(law.teams.slots) == count
    assert [len(blocks[0]) for blocks in law.teams.blocks] == list(shares) and len(law.teams.rings) == len(circles) + (
        sum(share == 2 for share in shares)
    )
    assert ("keep their order round it" in law.statement) == bool(circles), "two have no order"


SMALL = [(3, (2,), ()), (2, (3,), ()), (3, (2, 1), ()), (2, (3,), (0,)), (3, (2,), (0,))]


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("count, shares, circles", SMALL)
def test_of_all_assemblies_the_laws_allow_as_many_as_is_said(seed, count, shares, circles):
    """Every rearrangement is tried; where the laws are called complete, those without a broken law are the group."""
    puzzle = puzzle_of(seed, count, shares, circles, moves=2)
    book = law_book(puzzle)
    rows = [np.arange(0)]
    for kind in puzzle.kinds:
        rows = [np.array([*row, *(kind.first + np.array(p))]) for row in rows for p in permutations(range(len(kind.slots)))]
    kept = [row for row in rows if not book.broken_at(row)]
    chain = StabiliserChain.from_generators(puzzle.generators, puzzle.degree).verify()
    assert len(kept) == book.allowed and chain.order == book.order == sum(chain.contains_many(rows))
    assert all(book.reaches_permutation(row) == chain.contains(row) for row in rows)


@gap.needs_gap
def test_blocks_are_those_of_gap():
    """Of a transitive group the strictest division is one of GAP's block systems, and alone where GAP has none."""
    cases, program = [], []
    for seed in range(24):
        count, share = [(4, 2), (2, 4), (3, 3), (5, 2), (8, 1), (9, 1)][seed % 6]
        puzzle = puzzle_of(seed, count, (share,), moves=2)
        (first, *rest) = sectors(puzzle, puzzle.generators)
        if rest:
            continue
        cases.append((first, teams_of([first], puzzle.generators)))
        group = gap.group([g.tolist() for g in puzzle.generators])
        program.append(f'Print(Set(AllBlocks({group}), b -> Set(b) - 1), "\\n");')
    sizes = set()
    for (sector, found), line in zip(cases, gap.gap("\n".join(program)), strict=True):
        blocks = [set(block) for block in eval(line)]  # GAP prints lists as Python does
        assert bool(found) == bool(blocks)
        for teams in found:
            home = next(set(team) for team in teams.blocks[0] if 0 in team)
            assert home in [block for block in blocks if 0 in block]
            size = len(sector.slots)
            least = min(factorial(len(b)) ** (size // len(b)) * factorial(size // len(b)) for b in blocks)
            assert factorial(len(home)) ** (size // len(home)) * factorial(size // len(home)) == least
            sizes.add(len(home))
    assert len(sizes) > 1 and len(cases) > 12


@pytest.mark.parametrize(
    "name, order",
    [
        ("cuboid:1x4x4", 331776),
        *((name, None) for name in ("cuboid:3x4x4", "cuboid:4x4x5", "cuboid:3x6x6", "cube:4,turns=R+L+U+D+F+B")),
    ],
)
def test_boxes_and_copies_with_few_turns_are_complete_with_their_teams(name, order):
    book = law_book(load(name))
    assert book.complete and any(isinstance(law, TeamLaw) for law in book.laws) and order in (None, book.order)


def test_outer_turns_of_the_four_slab_cube_are_those_of_three_slabs_with_the_holding():
    """With outer turns alone it is the three-slab cube with marked centres, OEIS A080661 (88580102706155225088000), in each of 24
    holdings; held still, the faces stay where they are, and two wings of one edge stay together."""
    book = law_book(load("cube:4,turns=R+L+U+D+F+B"))
    assert book.order == 24 * 88580102706155225088000
    assert (book.complete, len(book.holdings)) == (True, 24)
    (pairs,) = [law.teams for law in book.laws if isinstance(law, TeamLaw)]
    assert len(pairs.slots) == 12 and name_of(pairs) == "pairs of wings"


def test_a_team_that_is_broken_is_said_and_what_counts_teams_is_silent():
    puzzle = load("cuboid:3x4x4")
    (law,) = [law for law in law_book(puzzle).laws if isinstance(law, TeamLaw)]
    one, other = (puzzle.slots[law.teams.members[0].slots[team[0]]] for team in law.teams.blocks[0])
    apart = changed(puzzle, [f"swap {one} {other}"])
    assert law in law_book(puzzle).broken(apart) and not law_book(puzzle).reaches(apart)
    table = tally(puzzle, "U2 R2", apart)
    (teams,) = (row for row, part in zip(table.part_values, table.parts, strict=True) if part.name == law.name)
    assert set(teams) == {None} and value_words(table.parts[0], None) == "–"


def test_words_name_one_team_and_the_table_tells_how_many_move():
    puzzle = load("cuboid:1x4x4")
    (law,) = [law for law in law_book(puzzle).laws if isinstance(law, TeamLaw)]
    assert law.statement == (
        "The 8 wings stay in two teams of four: those that start at ULR.b2, ULR.f2, DLR.b2 and DLR.f2 are one team, "
        "and the pieces of one team always fill the places of one team."
    )
    assert law.statement in law_latex(law) and (law.name, law.type) == ("teams of wings", "other")
    (teams,) = (quantity for quantity in quantities(puzzle) if quantity.name == "teams of wings")
    moves = [turn.permutation for turn in (*puzzle.turns.values(), *puzzle.rotations.values())]
    column = {value_words(teams, teams.value(move)) for move in moves}
    assert column == {"stay", "2 move"}, "quarter turns of the whole box exchange them"


def test_a_pairing_of_teams_names_each_by_one_slot():
    """Four trios that are turned as the corners of a square are, rearranged at will inside: opposite ones stay a pair."""

    def move(order, inside):
        shares = [inside, *[[0, 1, 2]] * 3]
        return np.concatenate([3 * place + np.array(share) for place, share in zip(order, shares, strict=True)])

    square = [move([1, 2, 3, 0], [1, 2, 0]), move([2, 1, 0, 3], [1, 0, 2])]
    puzzle = handmade([(12, 1)], [*square, move(range(4), [1, 2, 0]), move(range(4), [1, 0, 2])])
    (law,) = [law for law in law_book(puzzle).laws if law.type == "pairing"]
    assert law.statement.endswith("the turns always keep one: a1 with a7, and a4 with a10.")


def test_finer_sectors_have_as_many_assemblies_as_the_wreath_product():
    for count, shares, circles, order in FULL:
        puzzle = puzzle_of(2, count, shares, circles, moves=8)
        (teams,) = teams_of(sectors(puzzle, puzzle.generators), puzzle.generators)
        found = list(teams.finer())
        assert np.prod([sector.assembly_order for sector in found]) == order
        assert {type(sector) for sector in found} <= {Teams, Rings, Shares}
