"""The viewer without a browser: Python's side of the link, and what goes over it."""

import numpy as np
import pytest
import traitlets

from oddswap.errors import BadOption, NotationError, OddswapError, UnknownColour, UnknownMove, UnknownSlot
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.made_up import puzzle as made_up
from oddswap.showing.viewer.pack import labels_of, turns_of
from oddswap.showing.viewer.widget import PARTS, Viewer, groups_of, module, strip_of
from tests.showing.sample import SAMPLE


def replayed(pack, labels, groups):
    """What the browser does with groups of turns: only with what it was told."""
    for number in (number for group in groups for number in group):
        turn = pack["turns"][abs(number) - 1]
        pair = (turn["moved"], turn["to"]) if number > 0 else (turn["to"], turn["moved"])
        to = dict(zip(*pair, strict=True))
        labels = [to.get(label, label) for label in labels]
    return labels


def some_moves(puzzle, rng, count=6):
    if puzzle.blank is None:
        return " ".join(list(puzzle.turns)[i] for i in rng.integers(len(puzzle.turns), size=count))
    state, names = puzzle.solved, []
    for _ in range(count):
        legal = puzzle.legal(state)
        names.append(legal[rng.integers(len(legal))].name)
        state = puzzle.follow(names[-1], state)
    return " ".join(names)


@pytest.mark.parametrize("name", SAMPLE)
def test_what_the_browser_replays_is_what_the_puzzle_follows(name):
    puzzle = load(name)
    viewer, moves = Viewer(puzzle), some_moves(puzzle, np.random.default_rng(4))
    viewer.play(moves)
    assert viewer.arrangement == puzzle.follow(moves)
    assert replayed(viewer.pack, viewer.played["from"], viewer.played["groups"]) == viewer.labels
    for _ in range(len(viewer.done)):
        before = viewer.labels
        viewer.undo()
        assert replayed(viewer.pack, before, viewer.played["groups"]) == viewer.labels
    assert viewer.arrangement == puzzle.solved and viewer.moves == ""


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cube:4", "cuboid:2x3x4"])
def test_wide_turns_and_holdings_end_where_the_puzzle_says(name):
    puzzle = load(name)
    for moves in ("x2 U2", "y2 R2 z2", "R2 (U2 R2)3'"):
        viewer = Viewer(puzzle)
        viewer.play(moves)
        assert viewer.arrangement == puzzle.follow(moves)
        assert replayed(viewer.pack, labels_of(puzzle, puzzle.solved), viewer.done) == viewer.labels


def test_what_comes_from_the_browser_changes_the_arrangement_and_calls_back():
    viewer, calls, seen = Viewer("cube:3"), [], []
    viewer.on_turn(lambda which, names: calls.append((which is viewer, names)))
    viewer.observe(lambda change: seen.append(change["new"]), "arrangement")
    number = [turn.name for turn in turns_of(viewer.puzzle)].index("F'") + 1
    state = {"labels": labels_of(viewer.puzzle, viewer.puzzle.follow("F'")), "done": [[number]], "asked": 1}
    viewer.set_state(state)
    assert viewer.arrangement == viewer.puzzle.follow("F'") and viewer.moves == "F'"
    assert calls == [(True, ("F'",))] and seen == [viewer.arrangement] and viewer.heard == 1


@pytest.mark.parametrize("spoiled", [[], [0] * 72, [1, 0, *range(2, 72)], list(range(71, -1, -1)), list(range(73))])
def test_labels_that_are_no_arrangement_are_refused(spoiled):
    """A corner has three labels that go round together, so exchanging two of them alone is nothing that hands could do."""
    viewer = Viewer("cube:3")
    with pytest.raises(traitlets.TraitError, match="no arrangement"):
        viewer.labels = spoiled
    assert viewer.arrangement == viewer.puzzle.solved


def test_an_arrangement_can_be_set():
    viewer = Viewer("cube:3")
    viewer.play("F")
    viewer.arrangement = viewer.puzzle.follow("R U")
    assert viewer.labels == labels_of(viewer.puzzle, viewer.puzzle.follow("R U")) and viewer.moves == ""
    viewer.undo()
    assert viewer.arrangement == viewer.puzzle.follow("R U")


def test_moves_that_the_puzzle_does_not_make_change_nothing():
    viewer = Viewer("cube:3,turns=half")
    with pytest.raises(UnknownMove):
        viewer.play("R2 U")
    with pytest.raises(NotationError):
        viewer.play("R2 (")
    assert viewer.arrangement == viewer.puzzle.solved and viewer.played == {}


def test_the_strip_names_moves_as_written_and_turns_what_the_core_sees():
    puzzle = load("cube:3")
    strip = strip_of(puzzle, "x U Rw", puzzle.solved)
    assert [frame["name"] for frame in strip["frames"]] == ["x", "U", "Rw"]
    names = [[turns_of(puzzle)[n - 1].name for n in frame["group"]] for frame in strip["frames"]]
    assert names[0] == [] and names[1] == ["F"]
    assert groups_of(puzzle, "U", puzzle.solved) == [[1]]


def test_walking_lays_a_strip_and_an_empty_one_takes_it_away():
    viewer = Viewer("tiles:3x3")
    viewer.walk("r2c3 r2c2")
    assert [frame["name"] for frame in viewer.strip["frames"]] == ["r2c3", "r2c2"]
    viewer.walk("")
    assert viewer.strip == {}


def test_stickers_can_be_painted_and_slots_marked():
    viewer = Viewer("cube:3", colours={"U": "white"})
    viewer.paint({("FUR", "U"): "#123456"}, {("UFR", "U"): "?"})
    assert viewer.stickers == {"UFR|U": "#123456"} and viewer.words == {"UFR|U": "?"}
    assert viewer.colours["U"] == "#FFFFFF"
    viewer.mark(["UF", 3])
    assert viewer.highlight == [viewer.puzzle.slot("UF"), 3]
    for wrong, error in (({("UFR", "X"): "red"}, BadOption), ({("Q", "U"): "red"}, UnknownSlot)):
        with pytest.raises(error):
            viewer.paint(wrong)
    with pytest.raises(UnknownColour):
        viewer.paint({("UFR", "U"): "<script>"})
    flat = Viewer("tiles:3x3")
    flat.paint({"r1c1": "red"})
    assert flat.stickers == {"r1c1|": "#C4302B"}


def test_a_pick_in_the_browser_calls_back():
    viewer, picks = Viewer("cube:3"), []
    viewer.on_pick(lambda which, pick: picks.append(pick))
    viewer._handle_custom_msg({"pick": {"slot": "UF", "piece": "UR", "facet": "R"}}, [])
    assert picks == [{"slot": "UF", "piece": "UR", "facet": "R"}]


def test_without_webgl_python_draws_the_picture_when_asked_and_keeps_it_up_to_date():
    viewer = Viewer("cube:3")
    assert viewer.picture == ""
    viewer._handle_custom_msg({"ask": "picture"}, [])
    first = viewer.picture
    assert first.startswith("<?xml") and "<svg" in first
    viewer.play("R")
    assert "<svg" in viewer.picture and viewer.picture != first


def test_the_module_is_one_and_asks_for_nothing():
    text = module()
    assert text.count("export default") == 1 and "import " not in text.replace("important", "")
    assert not any(word in text for word in ("fetch(", "XMLHttpRequest", "http://", "https://", "innerHTML"))
    assert PARTS[-1] == "telling.js"


def test_where_no_widget_can_be_shown_stands_its_text():
    viewer = Viewer("cube:3")
    viewer.play("R U")
    data = viewer._repr_mimebundle_()
    data = data[0] if isinstance(data, tuple) else data
    assert data["text/plain"] == repr(viewer) == "Viewer(load('cube:3'), moves='R U')"


@pytest.mark.parametrize("name", SAMPLE)
def test_no_slot_or_facet_holds_the_mark_between_them_in_a_stickers_key(name):
    puzzle = load(name)
    assert not any("|" in word for word in (*puzzle.slots, *(puzzle.geometry.facets if puzzle.geometry else ())))


PLANES = {"U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "L": (-1, 0, 0), "R|": (1, 0, 0)}


def test_a_puzzle_whose_facets_or_slots_hold_that_mark_is_refused_in_one_sentence():
    facets = {name: {"normal": normal, "offset": 1} for name, normal in PLANES.items()}
    with pytest.raises(OddswapError, match=r"'R\|' is not one capital letter") as facet:
        made_up("bad", facets=facets, cuts={"U": {"normal": (0, 1, 0), "offset": 0.3, "turns": 4}})
    with pytest.raises(OddswapError, match=r"`x\|y` is not one of the names") as slot:
        made_up("bad", moves={"a": "(x|y z w)"})
    with pytest.raises(OddswapError, match=r"`U\|F` is no facet of cube") as sticker:
        Viewer("cube:2").paint({("UFR", "U|F"): "red"})
    assert not any("\n" in str(told.value) for told in (facet, slot, sticker))
