"""Sliding searches in plain Python, to compare with: what a few pieces cost, and states to start from."""

from collections import deque

import numpy as np

from oddswap.reasoning.search.holding import task
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import _allowed


def job_of(puzzle, start=None, goals=None):
    """The search from a state (solved, when left out) to goals (likewise)."""
    model = seen_model(puzzle)
    solved = model.solved[None]
    return task(model, _allowed(puzzle, None), solved[0] if start is None else start, solved if goals is None else goals)


def walked(puzzle, slides, seed):
    """The state after so many random slides."""
    moves, rng = job_of(puzzle).moves, np.random.default_rng(seed)
    state = seen_model(puzzle).solved
    for _ in range(slides):
        at = int((state == moves.blank.code).argmax())
        state = moves.apply(state, int(rng.choice(np.flatnonzero(moves.blank.begin == at))))
    return state


def slides_of_their_own(puzzle, codes):
    """How many slides of pieces that show these codes each placing of them needs to be as at solved, whatever else slides.

    A walk over (what each slot shows of them, where the blank is) in which slides of other pieces are free. The result is
    by what each slot shows: a code of theirs or -1.
    """
    solved = seen_model(puzzle).solved.tolist()
    first = tuple(code if code in codes else -1 for code in solved), puzzle.blank
    cost, queue = {first: 0}, deque([first])
    while queue:
        shown, blank = queue.popleft()
        for edge in puzzle.edges:
            if blank not in edge:
                continue
            other = sum(edge) - blank
            following = list(shown)
            following[blank], following[other] = shown[other], -1
            new, step = (tuple(following), other), int(shown[other] != -1)
            if cost[shown, blank] + step < cost.get(new, 10**9):
                cost[new] = cost[shown, blank] + step
                (queue.append if step else queue.appendleft)(new)
    least = {}
    for (shown, _), price in cost.items():
        least[shown] = min(price, least.get(shown, price))
    return least
