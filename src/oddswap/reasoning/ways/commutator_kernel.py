"""The compiled loop over pairs of words; importing it imports numba, so that is done only where something is mined."""

from oddswap.reasoning.search.compiled_kernel import compiled


@compiled
def pairs(words, others, seen, found, moved):
    """Fill ``found`` with the rows (w, c) whose words commute but for one to ``moved.shape[1]`` of the labels ``seen``.

    ``words`` and ``others`` hold label permutations as rows. Returns how many pairs there are, at most ``len(found)``.
    """
    filled, most = 0, moved.shape[1]
    for w in range(words.shape[0]):
        for c in range(others.shape[0]):
            count = 0
            for x in seen:
                if others[c, words[w, x]] != words[w, others[c, x]]:
                    if count == most:
                        count += 1
                        break
                    moved[filled, count] = x
                    count += 1
            if 0 < count <= most:
                moved[filled, count:] = -1
                found[filled, 0], found[filled, 1] = w, c
                filled += 1
                if filled == found.shape[0]:
                    return filled
    return filled
