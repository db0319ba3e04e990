"""The figures of the README and the guides: each file is named after the function here that draws it."""

from collections.abc import Callable
from dataclasses import replace
from inspect import isfunction
from pathlib import Path

from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.lessons.clips import draw_one_beat
from oddswap.lessons.complete_laws import draw_two_walls
from oddswap.lessons.free_holdings import draw_three_causes
from oddswap.lessons.growth import growth_of_cost, growth_of_search
from oddswap.lessons.half_a_picture import draw_fork
from oddswap.lessons.hidden_turns import draw_tape
from oddswap.lessons.machinery.course import how_the_lessons_depend
from oddswap.lessons.reshaped_boxes import draw_in_and_out
from oddswap.lessons.separate_worlds import draw_full_turn
from oddswap.lessons.short_ways import draw_two_ripples
from oddswap.lessons.single_turns import draw_quarter_turn
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.verdicts.views import views
from oddswap.showing.ink.canvas import save
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pictures.alarm_poster import draw_alarms
from oddswap.showing.pictures.cycles import draw_cycles
from oddswap.showing.pictures.lifted import draw_lifted_letters
from oddswap.showing.pictures.names import draw_names
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.pictures.shape_maps import draw_map
from oddswap.showing.pictures.shelf import draw_shelf
from oddswap.showing.pictures.strings import draw_strings
from oddswap.showing.pictures.strip import draw_strip
from oddswap.showing.pictures.ways_figure import draw_ways
from oddswap.showing.pictures.xrays import draw_xrays
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


def stuck_prism() -> Figure:
    """An octagonal prism with one flipped edge, and the four edges of which any may have been flipped unseen."""
    puzzle = load("shape-mod:prism8")
    flipped = puzzle.slot("UF")
    twists = tuple(int(slot == flipped) for slot in range(len(puzzle.slots)))
    stuck = replace(puzzle.solved, twists=twists)
    return draw_prints(puzzle, stuck, xray=("FL", "FR", "BL", "BR"), highlight=("UF",))


def turned_cube() -> Figure:
    """The cube turned by 45 degrees against its cuts, after eight moves: a third print shows what two leave hidden."""
    puzzle = load("shape-mod:cube,axis=U,degrees=45")
    return draw_prints(puzzle, puzzle.follow("R U2 F' L D R' B U"), letters=True)


def painted_prism() -> Figure:
    """The x-ray of an octagonal prism whose four corner facets share a colour: twins, hidden turns, and both."""
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    return draw_prints(puzzle, puzzle.solved, xray=True)


def four_moves() -> Figure:
    """A commutator of two turns as a strip, one edge followed on its way."""
    puzzle = load("cube:3")
    return draw_strip(puzzle, puzzle.solved, "R U R' U'", highlight=("FR",))


def cycles_of_four_moves() -> Figure:
    """What that commutator does to the pieces, cycle by cycle."""
    puzzle = load("cube:3")
    return draw_cycles(puzzle, puzzle.follow("R U R' U'"))


def quarter_turn_undone() -> Figure:
    """A quarter turn of the cube, and the three swaps that bring its corners home, and three its edges."""
    return draw_quarter_turn(load("cube:3"))


def arrows_that_close() -> Figure:
    """Twists of corners as arrows: one and two are left over, two opposite ones and three alike close."""
    puzzle, one = load("cube:3"), "twist UFR cw"
    hands = ([one], [one, "twist UFL cw"], [one, "twist UFL ccw"], [one, "twist UFL cw", "twist UBR cw"])
    return draw_full_turn(puzzle, [changed(puzzle, changes) for changes in hands])


def tape_before_and_after() -> Figure:
    """A middle edge of the octagonal prism before and after its hidden half turn, without tape and with it."""
    return draw_tape(load("shape-mod:prism8"), "FR")


def three_causes_of_one_alarm() -> Figure:
    """Two pieces exchanged on three cubes: a free sign, equal pieces, and a holding that is not fixed."""
    return draw_three_causes()


def what_outsides_hide() -> Figure:
    """One mechanism of four slabs in six solids: which of its pieces look alike is decided by what is around it."""
    return draw_xrays([(said, load(f"shape-mod:{size},slabs=4")) for said, size in OUTSIDES.items()])


def which_puzzle_is_it() -> Figure:
    """Twelve puzzles that people bring, each with the name to type."""
    return draw_shelf(SHELF)


def crossing_strings() -> Figure:
    """Two pieces swapped with three between them: their strings cross seven times, an odd number."""
    return draw_strings("12345", "52341", highlight="15")


def letters_lifted() -> Figure:
    """A tray on which two letters seem to be swapped, and with the letters of its twins lifted: they are, too."""
    puzzle = load("tiles:3x3,letters=WORKSHOP")
    return draw_lifted_letters(puzzle, changed(puzzle, ["swap r2c2 r2c3", "swap r1c2 r3c1"]))


def sliding_tiles() -> Figure:
    """Five slides of a board of four by four tiles as a strip: each is named by the slot that a tile leaves."""
    puzzle = load("tiles:4x4")
    return draw_strip(puzzle, puzzle.solved, "r4c3 r3c3 r3c4 r4c4 r4c3")


def names_of_the_dodecahedron() -> Figure:
    """What the facets and the slots of the face-turning dodecahedron are called."""
    return draw_names(load("dodecahedron"))


def alarms_of_the_four_slab_cube() -> Figure:
    """The table of alarms of the cube of four slabs, as a page to hang on a wall."""
    return draw_alarms(load("cube:4"))


def two_walls() -> Figure:
    """What the laws of the cube allow and what its turns are known to reach: two walls that meet on one number."""
    return draw_two_walls(load("cube:3"))


def two_ripples() -> Figure:
    """All positions of two rings of beads, searched from both ends: two ripples that meet half way."""
    return draw_two_ripples(load("rings:4+4"), "a b a b a b", 2, 2)


def fork() -> Figure:
    """Two layers of a cube done and one upper edge upside down: of two photographs, one leaves it open and one decides."""
    puzzle = load("cube:3")
    flipped = puzzle.appearance(changed(puzzle, ["flip UF", "flip UR"]))
    above = [slot for slot in puzzle.slots if "U" in slot and slot not in ("U", "UF")]
    sights = list(covered(puzzle, above).sights)
    sights[puzzle.slot("UF")] = flipped.sights[puzzle.slot("UF")]
    chosen = [view for view in views(puzzle) if "".join(view.facets) in ("UFR", "UBL")]
    return draw_fork(puzzle, Appearance(puzzle.name, tuple(sights)), flipped, chosen)


def in_and_out() -> Figure:
    """A box leaves its outline and comes back: a box again, but two corners have changed places."""
    return draw_in_and_out(load("cuboid:2x3x4,turns=all"), "U 2F2 RR2 2F2 U'")


def map_of_shapes() -> Figure:
    """All shapes of the box of one by two by three, those alike drawn once, and which turn leads to which."""
    return draw_map(load("cuboid:1x2x3,turns=all"), 4, side=1.0)


def one_beat() -> Figure:
    """One beat of a clip along the time: what is said, what is seen and what turns."""
    found, times = _told_prism()
    return draw_one_beat(found, times, 6)


def frame_of_a_clip() -> Figure:
    """One picture of a clip in mid-turn: the puzzle with its culprit marked, and beside it the strip of moves."""
    found, times = _told_prism()
    shot = [shot for shot in times.shots if shot.moving and not shot.again][4]
    return Stage(found, times, WIDE, None, 1080).figure(shot, (shot.first + shot.last) // 2)


def upright_frame_of_a_clip() -> Figure:
    """The same for a telephone held upright, where the pieces that may be the culprit are hatched."""
    found, times = _told_prism()
    shot = next(shot for shot in times.shots if times.story.beats[shot.beat].picture == "xray")
    return Stage(found, times, TALL, None, 1920).figure(shot, shot.first)


def ways_out_of_the_box() -> Figure:
    """What leaving a box and coming back can do that no turn inside can, and in how few turns."""
    return draw_ways(ways_map(load("cuboid:2x3x4"), 12))


def worksheet_page() -> Figure:
    """A sheet of an evening's questions, with letters on the stickers."""
    return sheet_pages(worksheet(load("shape-mod:prism8"), 1, 7))[0]


def _told_prism() -> tuple[Answer, Timeline]:
    prism = load("shape-mod:prism8")
    found = answer(prism, prism.appearance(changed(prism, ["flip UF"])))
    return found, timeline(story_of(found), found)


OWN = (value for name, value in list(globals().items()) if isfunction(value) and value.__module__ == __name__ and name[0] != "_")
FIGURES: dict[str, Callable[[], Figure]] = {
    figure.__name__: figure for figure in (*OWN, growth_of_cost, growth_of_search, how_the_lessons_depend)
}
"""Every public function above, and three of the lessons'."""


def rebuild(folder: str | Path, *, force: bool = False) -> list[Path]:
    """Draw every figure anew into ``folder`` as SVG, and return the files; ``force`` as for an `OutputFolder`."""
    with open_folder(Path(folder), force) as out:
        return out.lay("figures", {f"{n}.svg": save(draw(), out.making / f"{n}.svg") for n, draw in FIGURES.items()})
