import pickle

import pytest

from oddswap import errors

NAMED = [kind for kind in vars(errors).values() if isinstance(kind, type) and kind is not errors.OddswapError]


@pytest.mark.parametrize("kind", NAMED)
def test_every_error_is_an_oddswap_error_and_explains_itself(kind):
    assert issubclass(kind, errors.OddswapError)
    assert issubclass(kind, ValueError)
    assert kind.__doc__.strip()


def test_a_notation_error_names_its_column():
    error = errors.NotationError("R U q", 5, "`q` is no move")
    assert error.text[error.column - 1] == "q"
    assert str(error) == "column 5: `q` is no move"


def test_a_notation_error_survives_pickling():
    error = pickle.loads(pickle.dumps(errors.NotationError("R q", 3, "`q` is no move")))
    assert (error.text, error.column, str(error)) == ("R q", 3, "column 3: `q` is no move")
