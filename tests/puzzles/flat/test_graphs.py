from itertools import combinations
from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import BadOption, UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.flat.graphs import drawn_graph, graph_puzzle
from oddswap.reasoning.laws.law_book import law_book
from tests.common import gap
from tests.common.walking import depths
from tests.puzzles.flat.projective import is_that_of_the_projective_line


def on_graph(nodes, edges, blank):
    shown = list(range(nodes))
    flat = drawn_graph(np.eye(nodes)[:, :2] + np.arange(nodes)[:, None], edges, (None,) * nodes)
    return graph_puzzle("graph", "graph", "pieces", [f"n{i}" for i in range(nodes)], edges, blank, shown, flat)


def joined(nodes, edges):
    """The nodes that are joined to the first of ``nodes`` by edges among them."""
    reached, rest = set(), {nodes[0]}
    while rest:
        node = rest.pop()
        reached.add(node)
        rest |= {x for pair in edges if node in pair for x in pair if x in nodes} - reached
    return reached


def is_two_connected(n, edges):
    return len(joined(range(n), edges)) == n and all(len(joined(kept, edges)) == n - 1 for kept in combinations(range(n), n - 1))


def is_bipartite(n, edges):
    """Whether no node is the only one that closes an odd walk: the parity of walks tells the two sides apart."""
    side, queue = {0: 0}, [0]
    for node in queue:
        for pair in edges:
            if node in pair:
                other = sum(pair) - node
                if other not in side:
                    side[other] = 1 - side[node]
                    queue.append(other)
    return all(side[a] != side[b] for a, b in edges)


def random_graphs(seed, count, smallest, largest, wanted):
    rng, found = np.random.default_rng(seed), []
    while len(found) < count:
        n = int(rng.integers(smallest, largest + 1))
        every = list(combinations(range(n), 2))
        size = int(rng.integers(n - 1, min(len(every), n + 4) + 1))
        edges = [every[i] for i in sorted(rng.choice(len(every), size, replace=False))]
        if wanted(n, edges):
            found.append((n, edges))
    return found


def order_of_loops(puzzle):
    return PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators] or [Permutation(len(puzzle.slots) - 1)]).order()


def is_as_in_the_theorem(n, edges):
    return len(edges) > n and is_two_connected(n, edges)


def test_wilsons_theorem_on_random_graphs():
    """Wilson, J. Combin. Theory B 16 (1974) 86-96: all pieces but the blank, in every way if some walk round is odd."""
    for n, edges in random_graphs(1974, 60, 4, 8, lambda n, edges: is_as_in_the_theorem(n, edges) and not is_bipartite(n, edges)):
        order = order_of_loops(on_graph(n, edges, blank=0))
        degrees = sorted(sum(node in pair for pair in edges) for node in range(n))
        if degrees == [2, 2, 2, 2, 2, 3, 3] and order == 120:
            continue
        assert order == factorial(n - 1), edges


def test_wilsons_theorem_on_random_bipartite_graphs():
    for n, edges in random_graphs(1974, 20, 5, 7, lambda n, edges: is_as_in_the_theorem(n, edges) and is_bipartite(n, edges)):
        assert order_of_loops(on_graph(n, edges, blank=0)) == factorial(n - 1) // 2, edges


def test_of_the_seven_node_graphs_with_two_junctions_one_is_exceptional():
    """All ways to put five nodes on three paths; of the others, that with three even ways is bipartite."""
    names = ["0+1+4", "0+2+3", "1+1+3", "1+2+2"]
    orders = {name: order_of_loops(load(f"graph:{name}")) for name in names}
    assert orders == {"0+1+4": 720, "0+2+3": 720, "1+1+3": 360, "1+2+2": 120}


@gap.needs_gap
@pytest.mark.parametrize("blank", ["east", "a1", "b1"])
def test_the_exceptional_group_is_that_of_the_projective_line(blank):
    """Wilson 1974: PGL(2, 5), wherever the blank is at home; by symmetry three places stand for all seven."""
    puzzle = load(f"graph:2+1+2,blank={blank}")
    pieces = [i for i in range(7) if i != puzzle.blank]
    assert is_that_of_the_projective_line([[pieces.index(g[i]) for i in pieces] for g in puzzle.generators])


def test_the_exceptional_graph_reaches_one_in_six():
    book = law_book(load("graph:2+1+2"))
    assert (book.complete, book.index, book.order) == (True, 6, 7 * 120)


@pytest.mark.parametrize("seed", range(6))
def test_loops_at_home_times_places_are_all_that_a_walk_reaches(seed):
    """Graphs with bridges and dead ends too; the walk knows nothing of groups."""
    for n, edges in random_graphs(seed, 6, 3, 6, lambda n, edges: len(joined(range(n), edges)) == n):
        for blank in (0, n - 1):
            puzzle = on_graph(n, edges, blank)
            assert sum(map(len, depths(puzzle))) == order_of_loops(puzzle) * len(puzzle.slots), edges


def test_every_state_of_a_walk_comes_home_to_a_loop():
    puzzle = load("graph:0+1+2")
    loops = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    for level in depths(puzzle):
        for pieces in level:
            home = puzzle.homed(np.argsort(pieces))
            assert loops.contains(Permutation(home.tolist()))


def test_a_tree_has_no_loops():
    puzzle = on_graph(4, [(0, 1), (1, 2), (1, 3)], blank=0)
    assert puzzle.generators == ()
    assert sum(map(len, depths(puzzle))) == 4


@pytest.mark.parametrize(
    ("edges", "words"),
    [
        ([(0, 1), (1, 0), (1, 2)], "the edge n1-n0 stands twice"),
        ([(0, 0), (0, 1), (1, 2)], "the edge n0-n0 joins a node to itself"),
        ([(0, 1)], "no path leads from n2 to the blank at n0"),
    ],
)
def test_graphs_that_are_refused(edges, words):
    with pytest.raises(BadOption, match=words):
        on_graph(3, edges, blank=0)


@pytest.mark.parametrize("size", ["", "3", "0+0+1", "1+x", "1+100", "1+1+1+1+1+1+1"])
def test_graphs_that_are_not_offered(size):
    with pytest.raises(UnknownPuzzle):
        load(f"graph:{size}")
