"""The culprit that is named is the one that the shown way mends: tried with painted cells, one of which a hand has flipped."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.report import answer_data, answer_markdown
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.judge.cells import AXES, Held, Painted, Place, askew, direction, prism

PUZZLES = {"shape-mod:prism8": prism(8), "shape-mod:cube,axis=U,degrees=45": askew(45)}
SEEN = ["UF", "UR", "DB"]


def edge(name: str) -> Place:
    """Where the edge between two faces lies."""
    return tuple((2 * (direction(name[0]) + direction(name[1]))).tolist())


def called(name: str) -> str:
    """What a visitor calls it who holds it as it is named."""
    sides = {"U": "top", "D": "bottom", "F": "front", "B": "back", "L": "left", "R": "right"}
    return f"the {' '.join(sides[face] for face in name)} edge"


def flipped(held: Held, *names: str) -> Held:
    """After hands have taken edges out and put them back the other way round: half turns about the edges' own middles."""
    rotated = dict(held.rotated)
    for name in names:
        (a, s), (b, t) = AXES[name[0]], AXES[name[1]]
        half = -np.eye(3, dtype=int)
        half[a, a] = half[b, b] = 0
        half[a, b] = half[b, a] = s * t
        rotated[edge(name)] = half
    return Held(held.painted, rotated)


def strayed(painted: Painted, hidden: list[str], moves: str) -> set[Place]:
    """Where cells, centres left out, are not as at home after these moves, if hands had flipped these edges before."""
    after = flipped(painted.solved, *hidden).turned(moves)
    return {home for home, turned in after.rotated.items() if np.count_nonzero(home) > 1 and (turned != np.eye(3)).any()}


@pytest.mark.parametrize("name", PUZZLES)
@pytest.mark.parametrize("seen", SEEN)
def test_the_culprit_that_is_named_is_the_one_that_the_shown_way_mends(name, seen):
    """Only what the words admit is not at home after it, and no other culprit leaves fewer pieces astray."""
    puzzle, painted = load(name), PUZZLES[name]
    found = answer(puzzle, puzzle.appearance(changed(puzzle, [f"flip {seen}"])), Budget(20.0))
    names = [culprit.pieces[0] for culprit in found.diagnosis.culprits]
    assert len(names) == 4
    for way in answer_data(found)["way_out"]["alternatives"]:
        moves = " ".join(str(step) for step in puzzle.read(way["moves"]).steps)
        after = {one: strayed(painted, [seen, one], moves) for one in names}
        (named,) = way["mends"]
        assert len(after[named]) == min(map(len, after.values())) and edge(named) not in after[named]
        assert after[named] == {edge(words.split()[1]) for words in way["leaves"]}
    said = " ".join(sentence for beat in story_of(found).beats for sentence in beat.says)
    assert f"For instance: {called(names[0])} is flipped" in said and f"Tape marks {called(names[0])} now." in said
    shown = answer_data(found)["way_out"]["alternatives"][0]
    assert shown["mends"] == [names[0]]
    text = answer_markdown(found, {"tally": "tally.png"})
    assert f"it mends the {names[0]} edge" in text and f"from the start: here the {names[0]} edge" in text
    end = timeline(story_of(found), found, 10).shots[-1].shown
    assert {edge(puzzle.slots[piece]) for piece in end.displaced() if len(puzzle.slots[piece]) > 1} == {
        edge(words.split()[1]) for words in shown["leaves"]
    }


@pytest.mark.parametrize("name", PUZZLES)
def test_how_it_came_about_makes_what_is_seen_and_names_the_culprit(name):
    """Played with painted cells: honest turns from home, after which no flipped edge but the one described can be seen."""
    puzzle, painted = load(name), PUZZLES[name]
    paint = {facet: facet for polygons in painted.cells.values() for facet, _ in polygons}
    for seen in SEEN:
        found = answer(puzzle, puzzle.appearance(changed(puzzle, [f"flip {seen}"])), Budget(20.0))
        came = answer_data(found)["came_about"]
        after = painted.solved.turned(came["moves"])
        assert after.look(paint) == flipped(painted.solved, seen).look(paint)
        culprit = found.diagnosis.culprits[0].pieces[0]
        assert (after.rotated[edge(culprit)] != np.eye(3)).any()
        assert f"After the middle edges, the {culprit} edge is flipped" in came["reason"]
        text = answer_markdown(found, {"came_about": "came_about.png"})
        assert "## How it can have come about" in text and f"`{came['moves']}`" in text and "(came_about.png)" in text


@pytest.mark.parametrize(
    ("name", "changes", "words"), [("cube:3", "flip UF", "no turns lead there"), ("cube:2", "", "turning alone did it")]
)
def test_how_it_came_about_is_said_of_every_verdict(name, changes, words):
    puzzle = load(name)
    state = changed(puzzle, [changes]) if changes else puzzle.follow("R U")
    came = answer_data(answer(puzzle, puzzle.appearance(state), Budget(5.0)))["came_about"]
    assert words in came["reason"] and bool(came["moves"]) == (not changes)
    assert changes or puzzle.appearance(puzzle.follow(came["moves"])) == puzzle.appearance(state)
