"""The public names and what they take, pinned; every door checks; importing the package costs next to nothing."""

import inspect
import pickle
import re
import subprocess
import sys
from importlib import import_module, metadata

import matplotlib.pyplot as plt
import pytest

import oddswap
from oddswap import draw, lessons
from oddswap.errors import OddswapError, OtherPuzzle, UnknownPuzzle
from oddswap.forwards import METHODS, PROPERTIES

SURFACE = {
    oddswap: """
        Appearance Arrangement Budget OddswapError Puzzle Viewer(puzzle,arrangement,*,colours,letters,xray,size)
        after_view(puzzle,view,seen,whole) answer(puzzle,appearance,budget,progress,copy)
        changed(puzzle,changes,start) completions(puzzle,appearance,limit,budget) count_explanations(puzzle,appearance,budget)
        covered(puzzle,slots) cycle_type(p) cycles(p) depth_counts(puzzle,depth,start,turns)
        diagnose(puzzle,appearance,budget) draw_cycles(puzzle,arrangement,*,ax)
        draw_prints(puzzle,shown,*,colours,letters,xray,highlight,caption,holding,ax)
        draw_strip(puzzle,arrangement,moves,*,per_row,highlight,colours,letters,xray,holding,points,ax)
        draw_tally(tally,*,per_row,ax)
        find_way(puzzle,start,goals,turns,budget,progress) fitting(story,answer,begun)
        law_book(puzzle) levels_around(puzzle,depth,start,turns) load(name) lookalikes(puzzle)
        parse_ticket(text,name,source) permutation(images) puzzle(name,*,moves,twins,kinds,facets,cuts)
        read_postcard(line,folder) read_story(path) read_ticket(source) reader_of(ticket) reply_text(answer,reader,pictures)
        sign(p) story_of(answer,told,reader)
        tally(puzzle,moves,start) timeline(story,answer,frames_a_second) told_ways(puzzle,start,found,budget)
        toolbox(puzzle,budget) views(puzzle) ways_map(puzzle,depth,budget,tell) workbench(tickets,puzzles,folder)
        write_story(story) write_postcard(ticket) write_ticket(ticket)""",
    draw: """
        Film Note Storyboard board_strings(puzzle,state,*,highlight,ax)
        draw_map(puzzle,levels,*,side,ax) draw_walk(puzzle,moves,start,*,told,ax)
        draw_alarms(puzzle,table,*,ax) draw_beside(parts) draw_board_and_strings(puzzle,state)
        draw_boards(boards,*,highlight,xray) draw_cycles(puzzle,arrangement,*,ax) draw_explanations(puzzle,states)
        draw_flat(puzzle,shown,*,colours,letters,xray,highlight,caption,ax) draw_lifted(puzzle,state,*,ax)
        draw_lifted_letters(puzzle,state) draw_move(puzzle,arrangement,turns,*,colours,ax) draw_names(puzzle,*,ax)
        draw_next_view(puzzle,known,view,*,colours,holding,words,ax)
        draw_prints(puzzle,shown,*,colours,letters,xray,highlight,caption,holding,ax)
        draw_shelf(names,*,per_row,ax)
        draw_strings(before,after,*,colours,highlight,ax)
        draw_strip(puzzle,arrangement,moves,*,per_row,highlight,colours,letters,xray,holding,points,ax)
        draw_tally(tally,*,per_row,ax)
        draw_verdicts(sights,*,highlight,ax) draw_ways(found,*,ax) draw_xrays(shapes,*,per_row,ax) loop_of(film)
        save(figure,path,*,width,transparent) verdict_of(puzzle,shown)""",
    lessons: """
        BLACK_CORNERS THREE_ALARMS WHITE_CORNERS alarm_of(puzzle,one,other) alphabet() always_held(puzzle) begin()
        check_shapes(answer,name) law_at_home(box,state) walk(puzzle,told)
        check_beyond(changes,name) check_caption(sentence,found) check_carried(set_up,tool,changes,*,name)
        check_changes(changes,wanted)
        check_culprits(pieces,name,changes) check_cut(chapters,found,seconds)
        check_cycles(moves,wanted,*,name) check_explanation(changes,seen,*,name) check_holding(turns,name,changes)
        check_home(moves,changes,name) check_lookalike(beads,swap,*,name)
        check_made_up(changes,given,*,name) check_open(moves,corners,name) check_photograph(corner,slots,name)
        check_placed(moves,wanted,name) check_places(answer,one,other,*,name) check_repair(changes,given,*,name)
        check_reseating(moves,name,edge)
        check_shortest(moves,after,*,name) check_signs(moves,name,wanted)
        Claim check_code(function,wanted)
        check_law(law,puzzle,walks,by_hand) explain_back(order,steps)
        check_sorting(answer,row,count) check_swaps(swaps,count,*,turn,family,name)
        check_there(there,act,wanted,*,name) chequers(puzzle) compare(guessed,outcome)
        dial_arrows(puzzle,shown,kind) distances(puzzle,moves)
        draw_flip_marks(puzzle,turns) draw_causes(puzzle,shown,*,lifted,highlight) draw_chequers(puzzle,moves)
        draw_fork(puzzle,seen,whole,views) draw_fours(puzzle,states,*,per_row) draw_full_turn(puzzle,shown,family)
        draw_holdings(puzzle,arrangement,turns) draw_in_and_out(box,moves,start) draw_left(puzzle,seen)
        draw_levels(counts,of,upto) draw_looks(reached,words) draw_one_beat(answer,times,number)
        draw_overlap(puzzle,one,other) draw_programme(puzzle,done)
        draw_quarter_turn(puzzle,turn) draw_tape(puzzle,slot) draw_three_alarms() draw_three_causes()
        draw_two_ripples(puzzle,moves,out,back) draw_two_walls(puzzle,laws,levels) draw_worlds(puzzle)
        glossary_table(theme) guess(question,choices,hands) knob(show,control,name) ripple_counts(found,out,back)
        sign_by_cycles(p) sign_by_inversions(p) sign_by_swaps(p) signs_of_fours(puzzle,state)
        sliding_tray(puzzle,by_hand) taped(puzzle,slots) twin_table(names) ways_left(puzzle,seen) worlds(puzzle)""",
}
BOARD, CUBE, BOX = oddswap.load("tiles:3x3"), oddswap.load("cube:2"), oddswap.load("cuboid:2x3x4,turns=all")
OTHERS = {BOARD: oddswap.load("tiles:3x3,blank=r1c1"), CUBE: oddswap.load("cube:3"), BOX: oddswap.load("cuboid:2x3x4")}
FLAT = {"draw_flat", "board_strings", "draw_board_and_strings", "draw_lifted", "draw_lifted_letters", "draw_explanations"}
BOXES = {"draw_fours", "draw_in_and_out", "draw_map", "draw_walk", "law_at_home", "signs_of_fours", "walk"}
MOVES = {BOARD: "r3c2", CUBE: "R", BOX: "U2"}
GIVEN = {
    "changes": lambda puzzle: ["swap {} {}".format(*puzzle.slots[:2])],
    "depth": lambda puzzle: 2,
    "found": lambda puzzle: "R'",
    "goals": lambda puzzle: puzzle.appearance(puzzle.solved),
    "kind": lambda puzzle: puzzle.kinds[0],
    "limit": lambda puzzle: 10,
    "moves": lambda puzzle: MOVES[puzzle],
    "turns": lambda puzzle: [""],
    "view": lambda puzzle: oddswap.views(puzzle)[0],
    "views": lambda puzzle: oddswap.views(puzzle)[:2],
}
"""What else a function needs, by the name of the argument."""


def signature(name, value) -> str:
    """The name with those of its arguments, a star before those that only go by name."""
    if not callable(value) or inspect.isclass(value) and name != "Viewer":
        return name
    parameters = list(inspect.signature(value).parameters.values())
    words = [p.name for p in parameters if p.kind is not p.KEYWORD_ONLY]
    only = [p.name for p in parameters if p.kind is p.KEYWORD_ONLY]
    return f"{name}({','.join([*words, '*', *only] if only else words)})"


@pytest.mark.parametrize("module", SURFACE, ids=lambda module: module.__name__)
def test_the_public_names_and_what_they_take_are_these(module):
    assert list(module.__all__) == sorted(module.__all__) == dir(module)
    assert sorted(signature(name, getattr(module, name)) for name in module.__all__) == sorted(SURFACE[module].split())


def plain(annotation) -> str:
    """A type by its name, without the modules that it comes from."""
    return re.sub(r"\w+\.", "", str(annotation))


def takes_a_position(value) -> list[str]:
    """The arguments of a function that are positions, alone or several at once."""
    found = {p.name: plain(p.annotation) for p in inspect.signature(value).parameters.values()}
    return [name for name, kind in found.items() if re.search("Arrangement|Appearance", kind)]


DOORS = [(m, n) for m in SURFACE for n in m.__all__ if n == "Viewer" or inspect.isfunction(getattr(m, n))]
POSITIONED = [(m, n, a) for m, n in DOORS for a in takes_a_position(getattr(m, n))]


def call(module, name, puzzle, argument, position, called=None):
    """Call a function with a position as one of its arguments, and whatever else it needs."""
    function = getattr(module, name)
    arguments = {}
    for parameter in inspect.signature(function).parameters.values():
        kind = plain(parameter.annotation)
        if parameter.name == argument:
            pair = (called or puzzle, position) if "tuple[" in kind else position
            arguments[argument] = {"here": pair} if kind.startswith("Mapping") else [pair] if "tuple[" in kind else pair
        elif parameter.name in ("puzzle", "box"):
            arguments[parameter.name] = called or puzzle
        elif parameter.default is parameter.empty and parameter.kind is not parameter.VAR_POSITIONAL:
            arguments[parameter.name] = GIVEN.get(parameter.name, lambda puzzle: puzzle.solved)(puzzle)
    try:
        return function(**arguments)
    finally:
        plt.close("all")


def puzzle_for(name):
    return BOARD if name in FLAT | {"draw_boards"} else BOX if name in BOXES else CUBE


def test_every_function_that_takes_positions_is_tried():
    assert len(POSITIONED) > 20
    assert {name for _, name, _ in POSITIONED} >= {"diagnose", "answer", "changed", "find_way", "Viewer", "draw_verdicts"}


@pytest.mark.parametrize("module, name, argument", POSITIONED)
def test_a_position_of_another_puzzle_is_refused(module, name, argument):
    puzzle = puzzle_for(name)
    for other in (OTHERS[puzzle].solved, OTHERS[puzzle].appearance(OTHERS[puzzle].solved), 5):
        with pytest.raises(OtherPuzzle) as caught:
            call(module, name, puzzle, argument, other)
        assert "\n" not in str(caught.value) and len(str(caught.value)) < 200


@pytest.mark.parametrize("module, name, argument", POSITIONED)
def test_a_puzzle_may_be_its_name_and_a_position_moves(module, name, argument):
    puzzle = puzzle_for(name)
    call(module, name, puzzle, argument, puzzle.follow(MOVES[puzzle]))
    call(module, name, puzzle, argument, MOVES[puzzle], called=puzzle.name)
    call(module, name, puzzle, argument, [MOVES[puzzle]])


@pytest.mark.parametrize("module, name", [d for d in DOORS if re.search(r"\(puzzle\b", signature(d[1], getattr(*d)))])
def test_a_puzzle_that_is_none_is_refused_before_anything_else(module, name):
    for wrong in ("cube", 5):
        with pytest.raises(UnknownPuzzle, match="such as cube:3"):
            call(module, name, CUBE, None, None, called=wrong)


@pytest.mark.parametrize(
    "wanted, call",
    [
        ("tiles that slide", lambda: lessons.chequers("cube:2")),
        ("tiles that slide", lambda: lessons.sliding_tray(BOX)),
        ("whose shape decides its turns", lambda: draw.draw_map("cuboid:2x2x3,turns=all")),
        ("whose shape decides its turns", lambda: lessons.walk("cube:3")),
        ("a box that may leave its outline", lambda: lessons.law_at_home("tiles:3x3", [])),
        ("a box that may leave its outline", lambda: lessons.draw_in_and_out("cuboid:2x3x4", "U2")),
    ],
)
def test_another_sort_of_puzzle_is_refused(wanted, call):
    with pytest.raises(UnknownPuzzle, match=wanted):
        call()


def test_texts_stand_for_lists_and_changes_for_positions():
    seen = CUBE.appearance(oddswap.changed(CUBE, ["swap UFL UFR", "twist UBL cw"]))
    assert CUBE.appearance(oddswap.changed("cube:2", "swap UFL UFR, twist UBL cw")) == seen
    assert oddswap.diagnose("cube:2", "swap UFL UFR, twist UBL cw") == oddswap.diagnose(CUBE, seen)
    assert oddswap.find_way(CUBE, "R U", turns="R' U'").turns == ("U'", "R'")
    assert CUBE.follow(["R", "U2"]) == CUBE.follow("R U2") and BOARD.follow(["r3c2", "r3c1"]) == BOARD.follow("r3c2 r3c1")


def test_what_is_typed_from_memory():
    prism = oddswap.load("shape-mod:prism8")
    assert [culprit.pieces[0] for culprit in prism.diagnose("flip UF").culprits] == ["FL", "FR", "BL", "BR"]
    assert CUBE.diagnose("R") == oddswap.diagnose(CUBE, CUBE.appearance(CUBE.follow("R")))
    assert CUBE.laws is oddswap.law_book(CUBE) and {alarm.verdict for alarm in CUBE.alarms} == {"ordinary", "not by turning"}
    assert CUBE.answer("R U").way_out.moves == CUBE.find_way("R U").moves == "U' L'"
    assert CUBE.changed("swap UFL UFR") == oddswap.changed(CUBE, ["swap UFL UFR"])
    assert CUBE.tally("R U") == oddswap.tally(CUBE, "R U")
    assert oddswap.puzzle(moves={"a": "(1 2 3 4)"}, twins="1 2").diagnose("swap 1 2").verdict == "ordinary"
    assert CUBE.draw().axes and BOARD.draw("r3c2", highlight="r1c1 r1c2").axes
    plt.close("all")


@pytest.mark.parametrize(
    "said, call",
    [
        ("appearance, .*, as an arrangement|not `None`", lambda: oddswap.diagnose("cube:2", None)),
        ("depth is `4`: give a whole number", lambda: oddswap.depth_counts("cube:2", "4")),
        ("depth is `-1`: give 0 or more", lambda: oddswap.depth_counts("cube:2", -1)),
        ("points is `nan`: give 1 or more", lambda: draw.draw_strip("cube:2", [], "R", points=float("nan"))),
        ("per_row is `0`: give 1 or more", lambda: draw.draw_strip("cube:2", [], "R", per_row=0)),
        ("letters is `yes`: give True or False", lambda: draw.draw_prints("cube:2", letters="yes")),
        ("colours is `white`: give a table by name", lambda: draw.draw_prints("cube:2", colours="white")),
        ("highlight is `5`: give a list", lambda: draw.draw_prints("cube:2", highlight=5)),
        ("budget is `5`: give Budget or Clock", lambda: oddswap.diagnose("cube:2", "R", 5)),
        ("answer is `cube:2`: give Answer", lambda: oddswap.reply_text("cube:2")),
        ("nothing goes to 0", lambda: oddswap.sign([1, 1])),
        ("a list of whole numbers", lambda: oddswap.cycles("R U")),
        ("item 1 of slots is `5`: give a text", lambda: oddswap.covered("cube:3", [5])),
        ("item 1 of changes is `5`: give a text", lambda: oddswap.changed("cube:3", [5])),
        ("item 1 of sights is `cube:3`: give a list of Puzzle and", lambda: draw.draw_verdicts(["cube:3"])),
        ("item 2 of item 1 of sights|say which piece", lambda: draw.draw_verdicts([("cube:3", 5)])),
        (
            "item 2 of highlight is `None`: give a text or a whole number",
            lambda: draw.draw_prints("cube:2", highlight=["UFR", None]),
        ),
        ("`a` in moves is `7`: give a text", lambda: oddswap.puzzle(moves={"a": 7})),
        ("a name in colours is `5`: give a text", lambda: draw.draw_prints("cube:2", colours={5: "white"})),
        ("text is `5`: give a text", lambda: oddswap.parse_ticket(5)),
        ("line is `5`: give a text", lambda: oddswap.read_postcard(5)),
        ("source is `5`: give a path or a text", lambda: oddswap.read_ticket(5)),
        ("nothing to draw", lambda: draw.draw_verdicts([])),
        ("nothing to draw", lambda: draw.draw_shelf([])),
        ("nothing to draw", lambda: draw.draw_explanations("tiles:2x3", {})),
        ("tiles:2x3 is no solid", lambda: draw.draw_verdicts([("tiles:2x3", "r2c2")])),
        ("tiles:2x3 is no solid", lambda: draw.draw_move("tiles:2x3", [], "r2c2")),
        ("cube:2 is a solid", lambda: draw.board_strings("cube:2", [])),
        ("tiles:2x3 has no corners", lambda: lessons.draw_full_turn("tiles:2x3", ["r2c2"])),
        ("carries no corners or edges", lambda: lessons.draw_quarter_turn("tiles:2x3", "r2c2")),
        ("are no two slots of one kind", lambda: lessons.alarm_of("cube:3", "UF", "UFR")),
        ("keep their outline", lambda: lessons.taped(BOX, "UF")),
        ("carries no corners or edges", lambda: lessons.draw_quarter_turn("cube:3", "M")),
        ("carries no corners or edges", lambda: lessons.draw_quarter_turn("cuboid:2x3x4,turns=all", "U2")),
        ("out of its outline", lambda: lessons.draw_quarter_turn("cuboid:2x3x4,turns=all", "U")),
        ("end in .svg or .png", lambda: draw.save(draw.draw_prints("cube:2"), "picture")),
        ("no slot called `120`", lambda: draw.draw_prints("cube:2", highlight=[120])),
        ("zzz.*names no puzzle|no puzzle", lambda: oddswap.workbench(puzzles=["cube:3", "zzz"])),
        ("no puzzle family ``: choose from", lambda: oddswap.workbench(puzzles=[])),
        ("a puzzle is called by a text such as cube:3", lambda: oddswap.workbench(puzzles=[["cube:3"]])),
        ("boards is `5`: give a table", lambda: draw.draw_boards(5)),
    ],
)
def test_what_is_of_another_sort_or_out_of_range_is_refused_in_one_line(said, call):
    with pytest.raises(OddswapError, match=said) as caught:
        call()
    assert "\n" not in str(caught.value)


def test_lists_hold_what_the_signature_says_and_paths_and_moves_may_be_texts(tmp_path):
    with pytest.raises(OddswapError, match="item 1 of slots is `5`"):
        lessons.taped("cube:3", 5)
    assert lessons.taped("cube:3", "UF", "UR").title == lessons.taped(oddswap.load("cube:3"), *["UF", "UR"]).title
    by_letter, listed = (draw.draw_strings(*rows).axes[0].texts for rows in (("12345", "52341"), (list("12345"), list("52341"))))
    assert [text.get_text() for text in by_letter] == [text.get_text() for text in listed]
    assert str(lessons.check_cycles("R U R' U'", {"corners": (2, 2), "edges": (3,)})).startswith("Yes")
    assert draw.draw_walk(BOX, ["U2", "U2"]).axes and oddswap.answer(CUBE, "R", copy=None).diagnosis.verdict == "ordinary"
    (tmp_path / "story.toml").write_text(oddswap.write_story(oddswap.story_of(CUBE.answer("R"))))
    assert oddswap.read_story(str(tmp_path / "story.toml")) == oddswap.read_story(tmp_path / "story.toml")
    plt.close("all")


@pytest.mark.parametrize(
    "said, call",
    [
        ("name some of the corners", lambda: lessons.check_signs("R", "cube:3", {"x": "odd"})),
        ("No corner is called `UD`. Write one of UFL", lambda: lessons.check_open("R", ["UD"], "cube:3")),
        ("No corner is called `UD`. Write one of UFL", lambda: lessons.check_photograph("UD", ["UF"], "cube:3")),
    ],
)
def test_exercises_of_ones_own_say_what_they_cannot_ask(said, call):
    assert said in str(call()).replace("\n", " ")


def test_turns_to_draw_may_be_their_names():
    shown = [draw.draw_move("cube:2", [], turns) for turns in ("R", [CUBE.turns["R"]])]
    one, other = ([p.get_paths()[0].vertices.tolist() for p in figure.axes[0].collections] for figure in shown)
    assert one == other


def test_every_forwarder_leads_somewhere():
    for target in (*METHODS, *PROPERTIES):
        module, _, function = target.partition(":")
        assert callable(getattr(import_module(f"oddswap.{module}".rstrip(".")), function))


def test_the_version_is_that_of_the_package():
    assert oddswap.__version__ == metadata.version("oddswap")


def test_a_copy_with_fewer_turns_has_the_same_positions():
    half = oddswap.load("cube:2,turns=half")
    assert [oddswap.diagnose(half, CUBE.follow(moves)).verdict for moves in ("R2 U2", "R")] == ["ordinary", "other turns"]


@pytest.mark.parametrize("method", ["appearance", "permutation"])
def test_a_puzzle_refuses_an_arrangement_of_another(method):
    with pytest.raises(OtherPuzzle, match="one of `cube:3`, not of `cube:2`"):
        getattr(CUBE, method)(OTHERS[CUBE].solved)


@pytest.mark.parametrize("moves", [5, [CUBE]])
def test_moves_that_are_no_text_are_refused(moves):
    with pytest.raises(OddswapError, match="a text such as R U2"):
        CUBE.follow(moves)


def test_public_functions_can_be_sent_to_another_process():
    assert all(pickle.loads(pickle.dumps(getattr(m, n))) is getattr(m, n) for m, n in DOORS)


@pytest.mark.parametrize("module", SURFACE, ids=lambda module: module.__name__)
def test_importing_loads_no_heavy_package(module):
    code = f"import sys, {module.__name__}; print(*{{'matplotlib', 'sympy', 'ipywidgets', 'numba', 'numpy'}} & set(sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == ""


def test_a_name_that_is_not_there_is_an_attribute_error():
    assert not any(hasattr(module, "no_such_name") for module in SURFACE)
