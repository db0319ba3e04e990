"""The story for those who solve in layers, played with the judge's cells: the stages before, the trouble, the end."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadStory
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.story.telling.beats import layer_story_of
from oddswap.story.telling.story_file import fitting
from tests.judge.cells import prism
from tests.judge.test_culprits import edge, flipped
from tests.story.stories import told


def test_the_culprit_goes_back_in_the_other_way_round_and_all_else_comes_home():
    """Cells of the judge are turned by what the story says; the culprit that it names was flipped by hand before."""
    found, painted = told("lookalike"), prism(8)
    story = layer_story_of(found)
    chapters = [beat.chapter for beat in story.beats if beat.moves]
    assert [name.partition(": ")[2] for name in chapters][0] == "middle edges" and len(chapters) > 1
    (culprit,) = story.culprit
    after = flipped(painted.solved, "UF", culprit).turned(story.moves)
    paint = {facet: facet for polygons in painted.cells.values() for facet, _ in polygons}
    assert after.look(paint) == painted.solved.look(paint)
    assert (after.rotated[edge(culprit)] == painted.solved.rotated[edge(culprit)]).all()
    assert fitting(story, found) == story


def test_stages_before_the_trouble_come_before_the_law():
    prism8 = load("shape-mod:prism8")
    found = answer(prism8, prism8.appearance(changed(prism8, ["flip DF"])), Budget(20.0))
    chapters = [beat.chapter for beat in layer_story_of(found).beats]
    stages = {name.partition(": ")[2]: at for at, name in enumerate(chapters) if name.startswith("The way out, part")}
    assert stages["bottom cross"] < stages["bottom corners"] < chapters.index("What everyone knows") < stages["top cross"]
    assert [name.partition(": ")[2] for name in chapters].count("middle edges") == 2, "placed, and put in the other way round"


def test_where_the_layer_method_meets_no_trouble_it_is_one_sentence():
    with pytest.raises(BadStory, match="meets no false parity here"):
        layer_story_of(told("ordinary"))
