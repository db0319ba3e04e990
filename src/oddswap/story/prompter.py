"""The prompter of a story: one self-contained page in large type for somebody who films their hands.

The set-up to put on one's own copy, then the words and the moves, one ahead; a key, a pedal or a touch goes on. Nothing is loaded
from elsewhere; text goes in as data and is shown as text.
"""

from matplotlib.axes import Axes

from oddswap.puzzles.base.puzzle import Turn
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.arrows import draw_flat_arrows
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import sheet
from oddswap.showing.ink.flat import colours_by_paint, lay_flat, spot_within
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.ink.widgets import address_of, reduced_png
from oddswap.showing.pages.markdown import unescaped
from oddswap.showing.pages.telling import set_up_lines
from oddswap.showing.pages.template import fill_template, script_data
from oddswap.showing.pictures.strip import lay_turn
from oddswap.story.telling.captions import clock
from oddswap.story.telling.timeline import Shot, Timeline
from oddswap.values.position import Holding
from oddswap.words.table import VISITOR, Reader
from oddswap.words.ways.ways_out import before_filming

PIXELS, INKS = 360, 64


def prompter_page(answer: Answer, times: Timeline, reader: Reader = VISITOR) -> str:
    """The page as HTML. Pictures are as the hands of the ``reader`` see the puzzle, and as a camera on the other side does."""
    colours = stand_ins(reader.colours) or None
    data = {
        "title": times.story.title,
        "setUp": before_filming([unescaped(line).replace("`", "") for line in set_up_lines(answer, reader)], bool(answer.set_up)),
        "steps": _steps(answer, times, colours if times.story.colours == "visitor" else None),
    }
    return fill_template(__file__, "prompter.html", story=script_data(data))


def _steps(answer: Answer, times: Timeline, colours) -> list[dict]:
    """One step for each sentence and for each move."""
    steps: list[dict] = []
    for number, beat in enumerate(times.story.beats):
        start = clock(times.starts[number], times.frames_a_second)
        head = {"beat": number, "chapter": beat.chapter, "time": start}
        shots = [shot for shot in times.shots if shot.beat == number]
        still = _views(answer, shots[0], (), colours, times.holding)
        for sentence in beat.says:
            steps.append({**head, "say": sentence, "move": "", "views": still, "hold": False})
            still = []
        begun = {shot.move: shot for shot in reversed(shots) if shot.move >= 0 and not shot.moving}
        for move, name in enumerate(times.names[number]):
            turns = begun[move].turns
            views = _views(answer, begun[move], turns, colours, times.holding) if turns else []
            steps.append({**head, "say": "", "move": name, "views": views, "hold": not turns})
    return steps


def _views(answer: Answer, shot: Shot, turns: tuple[Turn, ...], colours, holding: Holding) -> list[str]:
    """The picture for the hands and the one for a camera opposite, as data addresses; one picture of what lies flat."""
    puzzle = answer.turning
    inks = Inks(colours_by_paint(puzzle, colours), holding=holding)
    if puzzle.geometry is None:
        ax = sheet(3.0, 3.0, None, inches=1.0)
        spot = spot_within(puzzle, (0.1, 0.1, 2.8, 2.8))
        lay_flat(ax, puzzle, shot.shown, inks, spot)
        draw_flat_arrows(ax, puzzle, shot.shown, turns, spot, zorder=6)
        return [_address(ax)]
    both = {camera: sheet(3.0, 3.0, None, inches=1.0) for camera in cameras(puzzle, holding)}
    for camera, ax in both.items():
        lay_turn(ax, puzzle, shot.shown, turns, inks, 1.5, 1.5, 2.9, camera=camera, size=5)
    return list(map(_address, both.values()))


def _address(ax: Axes) -> str:
    return address_of(reduced_png(ax.figure, PIXELS / 3, lambda drawn: drawn.quantize(INKS)))
