import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.errors import BadOption
from oddswap.values.notation import parse
from oddswap.values.sequence import Commutator, Conjugate, Repetition, Sequence, Step, cube_alphabet

FIVE = cube_alphabet(5, 5, 5)
faces = st.sampled_from("UDFBLR")
amounts = st.sampled_from([1, 2, -1])
steps = st.one_of(
    st.builds(Step, faces, st.just(1), st.integers(1, 4), amounts),
    st.integers(2, 4).flatmap(lambda k: st.builds(Step, faces, st.just(k), st.just(k), amounts)),
    st.builds(Step, st.sampled_from("xyzMES"), st.just(0), st.just(0), amounts),
)
times = st.integers(-4, 4).filter(bool)


def bracketed(inner):
    some = st.lists(inner, min_size=1, max_size=3).map(lambda items: Sequence(tuple(items)))
    return st.one_of(
        st.builds(Repetition, some, times), st.builds(Commutator, some, some, times), st.builds(Conjugate, some, some, times)
    )


items = st.recursive(steps, bracketed, max_leaves=8)
sequences = st.lists(items, max_size=4).map(lambda found: Sequence(tuple(found)))


def reduced(flat):
    """Freely reduced: a step next to its inverse goes, and nothing else is known."""
    kept = []
    for step in flat:
        if kept and kept[-1] == step.inverse():
            kept.pop()
        else:
            kept.append(step)
    return kept


@given(sequences)
def test_what_is_written_is_read_back(sequence):
    assert parse(str(sequence), FIVE) == sequence


@given(sequences)
def test_the_repr_can_be_pasted(sequence):
    assert eval(repr(sequence)) == sequence


@given(sequences)
def test_the_inverse_undoes_and_is_its_own_inverse_written_out(sequence):
    back = sequence.inverse()
    assert reduced(sequence.steps + back.steps) == []
    assert back.steps == tuple(step.inverse() for step in reversed(sequence.steps))
    assert back.inverse().steps == sequence.steps


@given(sequences)
def test_the_length_counts_what_is_written_out(sequence):
    assert len(sequence) == len(sequence.steps) == len(list(sequence))


@given(sequences, st.integers(-3, 3))
def test_times_repeats(sequence, count):
    once = sequence if count > 0 else sequence.inverse()
    assert sequence.times(count).steps == once.steps * abs(count)


@given(sequences, sequences)
def test_a_sum_is_first_this_then_that(a, b):
    assert (a + b).steps == a.steps + b.steps


@pytest.mark.parametrize(
    "text, flat",
    [
        ("[R, U]", "R U R' U'"),
        ("[R: U]", "R U R'"),
        ("[R U: F2]", "R U F2 U' R'"),
        ("(R U)3", "R U R U R U"),
        ("(R U)'", "U' R'"),
        ("(R U)2'", "U' R' U' R'"),
        ("[R, U]'", "U R U' R'"),
        ("[R: [U, F']]2", "R U F' U' F R' R U F' U' F R'"),
        ("[[R: U], D2]", "R U R' D2 R U' R' D2"),
    ],
)
def test_brackets_written_out_as_common_practice_has_them(text, flat):
    assert parse(text, FIVE).steps == parse(flat, FIVE).steps


@pytest.mark.parametrize(
    "text, inverse", [("R U'", "U R'"), ("[R, U]", "[U, R]"), ("[R: U F]", "[R: F' U']"), ("(R U)2 M", "M' (R U)2'")]
)
def test_an_inverse_keeps_its_brackets(text, inverse):
    assert str(parse(text, FIVE).inverse()) == inverse


@pytest.mark.parametrize("order, amount, kept", [(4, 3, -1), (4, -2, 2), (5, 3, -2), (3, 2, -1), (2, -1, 1)])
def test_an_amount_has_one_value(order, amount, kept):
    assert Step("U", 1, 1, amount, order).amount == kept


@pytest.mark.parametrize("bad", [("R", 2, 3, 1), ("R", 0, 2, 1), ("R", 2, 1, 1), ("R", 1, 1, 4)])
def test_steps_that_cannot_be_written_are_refused(bad):
    with pytest.raises(BadOption):
        Step(*bad)


@pytest.mark.parametrize("kind, parts", [(Repetition, 1), (Commutator, 2), (Conjugate, 2)])
def test_a_bracket_is_not_empty_and_is_done(kind, parts):
    one = Sequence((Step("R", 1, 1, 1),))
    with pytest.raises(BadOption):
        kind(*[Sequence()] * parts)
    with pytest.raises(BadOption):
        kind(*[one] * parts, 0)
