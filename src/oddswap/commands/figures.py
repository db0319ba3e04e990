"""The figures of the README and the guides: each file is named after the function here that draws it."""

import json
from collections.abc import Callable
from inspect import isfunction
from operator import itemgetter
from pathlib import Path

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from oddswap import draw, lessons
from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.lessons.machinery.course import how_the_lessons_depend
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.verdicts.views import views
from oddswap.showing.ink.canvas import FONT, save, write
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER
from oddswap.showing.pages.output_folder import open_folder
from oddswap.story.large_words import TALL, WIDE
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import Timeline, timeline
from oddswap.values.position import Appearance
from oddswap.workshop.worksheet_pages import sheet_pages
from oddswap.workshop.worksheets import worksheet

OUTSIDES = {
    "cube": "cube",
    "cube turned 45° about its top": "cube,axis=U,degrees=45",
    "octagonal prism": "prism8",
    "pentagonal prism": "prism5",
    "longer box": "box2x2x3",
    "cube turned 60° about a corner": "cube,axis=URF,degrees=60",
}
"""Solids around one mechanism, by what stands beneath their pictures."""

SHELF = ("cube:2", "cube:3", "cube:4", "cube:5", "cuboid:2x3x4", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45")
SHELF += ("shape-mod:prism5,slabs=4", "shape-mod:prism6,slabs=2", "corner-cube", "shape-mod:prism8,mechanism=corner-cube")
SHELF += ("tetrahedron",)
"""Names of puzzles that people bring."""

BY_SIZE = Path(__file__).with_name("growth.json")
"""Seconds by number of slabs; measured anew by ``python -m tests.benchmarks.test_growth``."""
BY_LENGTH = Path(__file__).with_name("growth_of_search.json")
"""Cost by depth; measured anew by ``python -m tests.benchmarks.test_growth_of_search``."""

PROOFS = {
    "GAP": ("GAP, Size", PALETTE["vermillion"], "^"),
    "GAP told the order": ("GAP, chain told\nthe order", PALETTE["orange"], "v"),
    "chain": ("our chain told\nthe order", PALETTE["blue"], "s"),
    "structure": ("proof by structure", PALETTE["bluish green"], "o"),
}
COSTS = {
    "states": ("states generated", PALETTE["blue"], "o"),
    "bytes": ("bytes kept", PALETTE["vermillion"], "s"),
    "seconds": ("processor seconds", PALETTE["bluish green"], "^"),
}
"""Words, colour and marker of each curve."""


def stuck_prism() -> Figure:
    """An octagonal prism with one flipped edge, and the four edges of which any may have been flipped unseen."""
    return draw.draw_prints("shape-mod:prism8", "flip UF", xray=("FL", "FR", "BL", "BR"), highlight=("UF",))


def turned_cube() -> Figure:
    """The cube turned by 45 degrees against its cuts, after eight moves: a third print shows what two leave hidden."""
    return draw.draw_prints("shape-mod:cube,axis=U,degrees=45", "R U2 F' L D R' B U", letters=True)


def painted_prism() -> Figure:
    """The x-ray of an octagonal prism whose four corner facets share a colour: twins, hidden turns, and both."""
    return draw.draw_prints("shape-mod:prism8,paint=FR+FL+BR+BL", "", xray=True)


def four_moves() -> Figure:
    """A commutator of two turns as a strip, one edge followed on its way."""
    return draw.draw_strip("cube:3", "", "R U R' U'", highlight=("FR",))


def cycles_of_four_moves() -> Figure:
    """What that commutator does to the pieces, cycle by cycle."""
    return draw.draw_cycles("cube:3", "R U R' U'")


def quarter_turn_undone() -> Figure:
    """A quarter turn of the cube, and the three swaps that bring its corners home, and three its edges."""
    return lessons.draw_quarter_turn("cube:3")


def arrows_that_close() -> Figure:
    """Twists of corners as arrows: one and two are left over, two opposite ones and three alike close."""
    one = "twist UFR cw"
    hands = (one, f"{one}, twist UFL cw", f"{one}, twist UFL ccw", f"{one}, twist UFL cw, twist UBR cw")
    return lessons.draw_full_turn("cube:3", hands)


def tape_before_and_after() -> Figure:
    """A middle edge of the octagonal prism before and after its hidden half turn, without tape and with it."""
    return lessons.draw_tape("shape-mod:prism8", "FR")


def three_causes_of_one_alarm() -> Figure:
    """Two pieces exchanged on three cubes: a free sign, equal pieces, and a holding that is not fixed."""
    return lessons.draw_three_causes()


def what_outsides_hide() -> Figure:
    """One mechanism of four slabs in six solids: which of its pieces look alike is decided by what is around it."""
    return draw.draw_xrays([(said, load(f"shape-mod:{size},slabs=4")) for said, size in OUTSIDES.items()])


def which_puzzle_is_it() -> Figure:
    """Twelve puzzles that people bring, each with the name to type."""
    return draw.draw_shelf(SHELF)


def crossing_strings() -> Figure:
    """Two pieces swapped with three between them: their strings cross seven times, an odd number."""
    return draw.draw_strings("12345", "52341", highlight=("1", "5"))


def letters_lifted() -> Figure:
    """A tray on which two letters seem to be swapped, and with the letters of its twins lifted: they are, too."""
    return draw.draw_lifted_letters("tiles:3x3,letters=WORKSHOP", "swap r2c2 r2c3, swap r1c2 r3c1")


def sliding_tiles() -> Figure:
    """Five slides of a board of four by four tiles as a strip: each is named by the slot that a tile leaves."""
    return draw.draw_strip("tiles:4x4", "", "r4c3 r3c3 r3c4 r4c4 r4c3")


def names_of_the_dodecahedron() -> Figure:
    """What the facets and the slots of the face-turning dodecahedron are called."""
    return draw.draw_names("dodecahedron")


def alarms_of_the_four_slab_cube() -> Figure:
    """The table of alarms of the cube of four slabs, as a page to hang on a wall."""
    return draw.draw_alarms("cube:4")


def two_walls() -> Figure:
    """What the laws of the cube allow and what its turns are known to reach: two walls that meet on one number."""
    return lessons.draw_two_walls("cube:3")


def two_ripples() -> Figure:
    """All positions of two rings of beads, searched from both ends: two ripples that meet half way."""
    return lessons.draw_two_ripples("rings:4+4", "a b a b a b", 2, 2)


def fork() -> Figure:
    """Two layers of a cube done and one upper edge upside down: of two photographs, one leaves it open and one decides."""
    puzzle = load("cube:3")
    flipped = puzzle.appearance(changed(puzzle, ["flip UF", "flip UR"]))
    above = [slot for slot in puzzle.slots if "U" in slot and slot not in ("U", "UF")]
    sights = list(covered(puzzle, above).sights)
    sights[puzzle.slot("UF")] = flipped.sights[puzzle.slot("UF")]
    chosen = [view for view in views(puzzle) if "".join(view.facets) in ("UFR", "UBL")]
    return lessons.draw_fork(puzzle, Appearance(puzzle.name, tuple(sights)), flipped, chosen)


def in_and_out() -> Figure:
    """A box leaves its outline and comes back: a box again, but two corners have changed places."""
    return lessons.draw_in_and_out("cuboid:2x3x4,turns=all", "U 2F2 RR2 2F2 U'")


def map_of_shapes() -> Figure:
    """All shapes of the box of one by two by three, those alike drawn once, and which turn leads to which."""
    return draw.draw_map("cuboid:1x2x3,turns=all", 4, side=1.0)


def one_beat() -> Figure:
    """One beat of a clip along the time: what is said, what is seen and what turns."""
    found, times = _told_prism()
    return lessons.draw_one_beat(found, times, 6)


def frame_of_a_clip() -> Figure:
    """One picture of a clip in mid-turn: the puzzle with its culprit marked, and beside it the strip of moves."""
    found, times = _told_prism()
    shot = [shot for shot in times.shots if shot.moving and not shot.again][4]
    return Stage(found, times, WIDE, None, 1080).figure(shot, (shot.first + shot.last) // 2)


def upright_frame_of_a_clip() -> Figure:
    """The same for a telephone held upright, where the pieces that may be the culprit are hatched."""
    found, times = _told_prism()
    shot = next(shot for shot in times.shots if shot.marked and times.story.beats[shot.beat].picture == "xray")
    return Stage(found, times, TALL, None, 1920).figure(shot, shot.last - 1)


def ways_out_of_the_box() -> Figure:
    """What leaving a box and coming back can do that no turn inside can, and in how few turns."""
    return draw.draw_ways(ways_map(load("cuboid:2x3x4"), 12))


def worksheet_page() -> Figure:
    """A sheet of an evening's questions, with letters on the stickers."""
    return sheet_pages(worksheet(load("shape-mod:prism8"), 1, 7))[0]


def growth_of_cost() -> Figure:
    """The seconds that it takes to prove the order of a cube's group, by the number of its slabs, in four ways."""
    rows = json.loads(BY_SIZE.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 4.4), facecolor=PAPER)
    title = "processor time to prove how many arrangements the turns of a cube reach"
    ax = _axes(figure, (0.1, 0.13, 0.66, 0.8), title, range(3, 26, 2), "slabs each way")
    for key, (words, colour, marker) in PROOFS.items():
        points = [(row["slabs"], row[key]) for row in rows if key in row]
        ax.plot(*zip(*points, strict=True), color=colour, marker=marker, markersize=4.5, linewidth=1.4)
        if key == "GAP":
            x, y = max(points, key=itemgetter(1))
            write(ax, x, 1.4 * y, words, va="baseline")
        else:
            write(ax, points[-1][0] + 0.5, points[-1][1], words, ha="left")
    ax.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g} s" if value >= 1 else f"{1000 * value:g} ms"))
    return figure


def growth_of_search() -> Figure:
    """States, bytes and seconds to prove a way out shortest, by its length, on a cube with marked centres."""
    rows = json.loads(BY_LENGTH.read_text("utf-8"))["rows"]
    figure = Figure(figsize=(7.2, 3.6), facecolor=PAPER)
    for number, (key, (words, colour, marker)) in enumerate(COSTS.items()):
        ax = _axes(figure, (0.075 + 0.325 * number, 0.15, 0.255, 0.67), words, range(1, rows[-1]["depth"] + 1, 2), "turns")
        depths, values = zip(*((row["depth"], row[key]) for row in rows if row[key] > 0), strict=True)
        ax.plot(depths, values, color=colour, marker=marker, markersize=4, linewidth=1.4)
    title = "what it costs to prove a way out the shortest, by its length (cube with marked centres)"
    figure.text(0.075, 0.93, title, size=10, family=FONT, color=INK)
    return figure


def _axes(figure: Figure, place: tuple[float, float, float, float], title: str, ticks: range, across: str) -> Axes:
    ax = figure.add_axes(place, yscale="log", xticks=ticks)
    ax.set_title(title, loc="left", size=10, family=FONT, color=INK)
    ax.set_xlabel(across, family=FONT, color=INK)
    ax.grid(axis="y", color=FAINT_INK, alpha=0.25, linewidth=0.6)
    ax.spines[["top", "right"]].set_visible(False)
    return ax


def _told_prism() -> tuple[Answer, Timeline]:
    prism = load("shape-mod:prism8")
    found = answer(prism, prism.appearance(changed(prism, ["flip UF"])))
    return found, timeline(story_of(found), found)


OWN = (value for name, value in list(globals().items()) if isfunction(value) and value.__module__ == __name__ and name[0] != "_")
FIGURES: dict[str, Callable[[], Figure]] = {figure.__name__: figure for figure in (*OWN, how_the_lessons_depend)}
"""Every public function above, and how the lessons hang together."""


def rebuild(folder: str | Path, *, force: bool = False) -> list[Path]:
    """Draw every figure anew into ``folder`` as SVG, and return the files; ``force`` as for an `OutputFolder`."""
    with open_folder(Path(folder), force) as out:
        return out.lay("figures", {f"{n}.svg": save(draw(), out.making / f"{n}.svg") for n, draw in FIGURES.items()})
