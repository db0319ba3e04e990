from itertools import product

import numpy as np
import pytest

from oddswap.errors import OddswapError
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.groups.subgroups import (
    enumerate_group,
    loops_at_home,
    normal_closure,
    pointwise_stabiliser,
    schreier_generators,
)
from oddswap.values.orbits import is_transitive
from tests.common import gap
from tests.reasoning.known_groups import MATHIEU_11, MATHIEU_12, dihedral, random_generators, symmetric, wreath


def order(gens, degree):
    return StabiliserChain.from_generators(gens, degree).order


@gap.needs_gap
def test_stabilisers_and_closures_agree_with_gap():
    rng = np.random.default_rng(31)
    groups = [random_generators(rng, int(rng.integers(4, 26))) for _ in range(60)]
    program, found = [], []
    for gens in groups:
        degree = gens.shape[1]
        points = rng.choice(degree, 2, replace=False).tolist()
        chosen = gens[:1]
        fixing = pointwise_stabiliser(gens, points, degree)
        one = schreier_generators(gens, points[0], degree)
        closure = normal_closure(chosen, gens, degree)
        found.append(f"{order(fixing, degree)} {order(one, degree)} {order(closure, degree)} true")
        a, b = (x + 1 for x in points)
        program.append(f"""G := {gap.group(gens)};; S := Stabilizer(G, [{a}, {b}], OnTuples);;
            T := Stabilizer(G, {a});; N := NormalClosure(G, {gap.group(chosen)});;
            Print(Size(S), " ", Size(T), " ", Size(N), " ", {gap.group(fixing)} = S
                and {gap.group(one)} = T and {gap.group(closure)} = N, "\\n");""")
    assert gap.gap("\n".join(program)) == found


def test_every_element_of_small_groups():
    for gens, degree, size in [(symmetric(5), 5, 120), (dihedral(9), 9, 18), (wreath(3, 3), 9, 162), ([], 4, 1)]:
        elements = enumerate_group(gens, degree)
        assert elements.shape == (size, degree)
        assert len(np.unique(elements, axis=0)) == size
        assert (elements[0] == np.arange(degree)).all()
        assert StabiliserChain.from_generators(gens, degree).contains_many(elements).all()
    assert len(enumerate_group(MATHIEU_11, 11)) == 7920


def test_a_group_that_is_too_large_to_list():
    with pytest.raises(OddswapError, match="more than 5000 elements"):
        enumerate_group(MATHIEU_12, 12, limit=5000)


def exchange(n: int, a: int, b: int) -> list[int]:
    images = list(range(n))
    images[a], images[b] = b, a
    return images


def blank_loops(edges, vertices: int, home: int = 0) -> int:
    """The order of the group of loops of a blank that slides along the edges of a graph."""
    arrows = [(a, b, exchange(vertices, a, b)) for a, b in edges]
    return order(loops_at_home(arrows, home, vertices), vertices)


def grid(rows: int, columns: int) -> list[tuple[int, int]]:
    cells = product(range(rows), range(columns))
    return [
        (r * columns + c, (r + dr) * columns + c + dc)
        for r, c in cells
        for dr, dc in ((0, 1), (1, 0))
        if r + dr < rows and c + dc < columns
    ]


def cycle(*vertices: int) -> list[tuple[int, int]]:
    return list(zip(vertices, vertices[1:] + vertices[:1], strict=True))


@pytest.mark.parametrize(
    "edges, vertices, size",
    [
        (grid(2, 2), 4, 3),  # a simple cycle: rotations of the others
        (grid(2, 3), 6, 60),
        (grid(3, 3), 9, 20160),
        (grid(4, 4), 16, 1307674368000 // 2),
        ([*grid(2, 3), (0, 4)], 6, 120),  # with a triangle: not bipartite
        (cycle(0, 1, 2, 3, 4, 5) + [(0, 6), (6, 3)], 7, 120),  # the exception: PGL(2, 5) on six points
    ],
    ids=["2×2", "2×3", "3×3", "4×4", "triangle", "the exceptional graph"],
)
def test_loops_of_a_blank_on_a_graph(edges, vertices, size):
    """R. M. Wilson, J. Combin. Theory B 16 (1974) 86-96: alternating if bipartite, else symmetric, one exception."""
    for home in range(vertices):
        assert blank_loops(edges, vertices, home) == size


def test_loops_leave_out_what_home_does_not_reach():
    arrows = [("a", "b", [1, 0, 2]), ("b", "a", [0, 2, 1]), ("x", "x", [2, 1, 0])]
    assert loops_at_home(arrows, "a", 3).tolist() == [[2, 0, 1]]
    assert loops_at_home(arrows, "x", 3).tolist() == [[2, 1, 0]]
    assert loops_at_home([], "a", 3).shape == (0, 3)


def test_loops_go_along_the_arrow_first_and_then_on():
    """From home by the first arrow and back by the second is *first, then second*, not the other way round."""
    first, second = [1, 2, 0, 3], [0, 1, 3, 2]
    loops = loops_at_home([("home", "away", first), ("away", "home", second)], "home", 4)
    assert loops.tolist() == [[second[x] for x in first]] != [[first[x] for x in second]]


def test_the_stabiliser_of_a_point_in_a_sharply_transitive_group_is_trivial():
    cyclic = [[*range(1, 9), 0]]
    assert schreier_generators(cyclic, 0, 9).shape == pointwise_stabiliser(cyclic, [0], 9).shape == (0, 9)


def test_the_stabiliser_of_no_point_is_the_group():
    assert order(pointwise_stabiliser(MATHIEU_12, [], 12), 12) == 95040
    assert is_transitive(pointwise_stabiliser(MATHIEU_12, [], 12), 12)
