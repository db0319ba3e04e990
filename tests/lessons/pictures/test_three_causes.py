"""Three cubes, one alarm, three causes: true to the table of alarms, and to what is published of these cubes."""

import pytest
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.three_causes import THREE, alarm_of, draw_three_alarms, draw_three_causes
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.words import say


def words(figure) -> list[str]:
    return [text.get_text().replace("\n", " ") for text in figure.axes[0].texts if text.get_text()]


def test_the_causes_differ_and_stand_on_their_cards():
    """On four slabs the wings' sign is free, and that of the corners is that of the centres: Bonzio, Loi, Peruzzi,
    Math. Slovaca 67 (2017) 561-572. Without centres a lone swap is reachable: computed independently."""
    told = words(draw_three_causes())
    assert told[::2][:3] == ["a sign that is simply free", "equal pieces", "a holding that is not fixed"]
    assert "two of the diagonal centres have changed places unseen" in told[3]
    assert told[-1] == "has a twin that looks the same"


def test_each_of_the_three_can_happen_and_just_two_pieces_are_outlined():
    for name, *pair in THREE:
        puzzle = load(name)
        state = changed(puzzle, [f"swap {' '.join(pair)}"])
        assert diagnose(puzzle, puzzle.appearance(state)).verdict == alarm_of(puzzle, *pair).verdict != "not by turning"
    for figure in (draw_three_alarms(), draw_three_causes()):
        for collection in figure.axes[0].collections[:3]:
            assert any(to_hex(face).upper() == HIGHLIGHT for face in collection.get_facecolor())


def test_the_alarms_alone_tell_no_cause():
    told = " ".join(words(draw_three_alarms()))
    assert not any(say(alarm_of(load(name), *pair).reason).partition(":")[0] in told for name, *pair in THREE)
    assert all(f"{one} and {other} exchanged" in told for _, one, other in THREE)


@pytest.mark.parametrize("name", ["cube:2", "cube:4", "cube:3,centres=none"])
def test_all_exchanges_of_two_of_a_kind_have_one_cause(name):
    """So it does not matter which of them stands for all."""
    puzzle = load(name)
    for kind in puzzle.kinds:
        same = {(a.verdict, a.reason) for a in alarms(puzzle) if say(a.sort) == f"two {kind.name} exchanged"}
        assert len(same) == 1


def test_words_stay_on_their_cards():
    figure = draw_three_causes()
    figure.canvas.draw()
    ax = figure.axes[0]
    sheets = [p.get_window_extent() for p in ax.patches]
    for text in [text for text in ax.texts if text.get_text()][:6]:
        box = text.get_window_extent()
        assert any(p.contains(box.x0, box.y0) and p.contains(box.x1, box.y1) for p in sheets), text.get_text()
