"""Kind sentences: as they stand on paper and on the screen, and in place of a traceback in a notebook's shell."""

import pytest
from IPython.core.interactiveshell import InteractiveShell

from oddswap.showing.ink.widgets import Note, be_kind


def test_what_stands_in_a_note_is_shown_as_it_is():
    assert "&lt;b&gt;" in Note("<b>")._repr_html_()
    assert "<b>" not in Note("<b>")._repr_html_()


def test_a_long_note_is_wrapped_on_paper_and_its_lines_stay():
    lines = repr(Note("word " * 40 + "\n  12  heads")).split("\n")
    assert max(map(len, lines)) <= 88
    assert lines[-1] == "  12  heads"


@pytest.fixture
def shell():
    InteractiveShell.clear_instance()
    made = InteractiveShell.instance()
    made.colors = "nocolor"
    be_kind()
    yield made
    InteractiveShell.clear_instance()


def run(shell, code, capsys):
    result = shell.run_cell(code)
    return result, capsys.readouterr().out


def test_a_name_that_was_never_made_gets_a_sentence_and_stops_the_cell(shell, capsys):
    result, told = run(shell, "print(my_guess)\nprint('on')", capsys)
    assert told.startswith("This cell needs `my_guess`") and "Run All Above" in told
    assert "Traceback" not in told and "on\n" not in told
    assert not result.success


def test_input_that_cannot_be_used_gets_a_sentence(shell, capsys):
    _, told = run(shell, "from oddswap.puzzles.catalogue import load\nload('cube:three')", capsys)
    assert told.startswith("That cannot be read yet: ") and "Traceback" not in told


@pytest.mark.parametrize("code", ["1 / 0", "assert False", "import textwrap\ntextwrap.fill.__globals__['no_such_name']"])
def test_other_errors_are_shown_as_ever(shell, capsys, code):
    _, told = run(shell, code, capsys)
    assert "Traceback" in told


def test_a_name_that_is_missing_inside_a_module_is_shown_as_ever(shell, capsys):
    code = "import types\nm = types.ModuleType('m')\nexec('def f(): return nowhere', m.__dict__)\nm.f()"
    _, told = run(shell, code, capsys)
    assert "Traceback" in told and "nowhere" in told


def test_outside_a_notebook_nothing_happens():
    InteractiveShell.clear_instance()
    be_kind()
