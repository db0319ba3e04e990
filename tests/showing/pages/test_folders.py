"""The files of an answer: all of them, or what was there before."""

import json
import os
import re
from pathlib import Path

import pytest
from matplotlib.image import imread

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import AT_ONCE, answer_to
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages import folders as pages
from oddswap.showing.pages.folders import answer_html, write_answer, write_laws
from oddswap.showing.pictures.strip import draw_strip
from oddswap.words.table import VISITOR, reader_of, visitor
from tests.common.folders import files_in, names_in
from tests.showing.viewer.test_widget import replayed

TICKETS = Path(__file__).parents[3] / "notebooks" / "tickets"
LIMIT = 500_000


def answered(name, moves="", changes=()):
    puzzle = load(name)
    return answer(puzzle, puzzle.appearance(changed(puzzle, changes, puzzle.follow(moves))), Budget(20))


def traits(page):
    return json.loads(re.search(r'id="answer">(.*?)</script>', page, re.DOTALL)[1])


@pytest.mark.parametrize(
    "name, moves, changes",
    [
        *[("cube:3", "R U F'", ()), ("cube:2", "R U' F2", ()), ("shape-mod:prism8", "", ("flip UF",))],
        *[("cuboid:2x3x4", "R2 F2 U2", ()), ("dodecahedron", "A B'", ()), ("tiles:3x3", "r2c3 r2c2", ())],
        *[("rings:7+7,cross=2", "a b'", ()), ("cube:5", "R 2U", ())],
    ],
)
def test_going_along_the_strip_makes_it_look_solved(name, moves, changes):
    found = answered(name, moves, changes)
    page = answer_html(found)
    data, puzzle = traits(page), found.turning
    assert len(page.encode()) < LIMIT
    labels = replayed(data["pack"], data["labels"], [frame["group"] for frame in data["strip"]["frames"]])
    assert looks_solved(puzzle, puzzle.appearance(puzzle.arrangement(labels)))
    assert " ".join(frame["name"] for frame in data["strip"]["frames"]) == found.way_out.moves


@pytest.mark.parametrize(
    "name, moves", [("loop:20", "push swing push4 swing push7 swing push2 swing"), ("octahedron", "A B' C D E'")]
)
def test_a_picture_that_a_reply_speaks_of_comes_with_it(name, moves, tmp_path, monkeypatch):
    """Of a way that is too long to be drawn, the turns that it has are drawn once each."""
    found = answered(name, moves)
    for most in (pages.PICTURED, found.easiest.length - 1):
        monkeypatch.setattr(pages, "PICTURED", most)
        write_answer(found, tmp_path / str(most))
        reply = (tmp_path / str(most) / "reply.md").read_text("utf-8")
        _, _, behind = reply.partition("The picture shows")
        drawn = re.findall(r"!\[.+\]\((.+)\)", behind)
        assert drawn and all((tmp_path / str(most) / one).exists() for one in drawn)
    assert drawn == ["turns.png"]


@pytest.mark.parametrize("pictured", [40, 4])
def test_who_writes_step_by_step_gets_the_turns_of_the_reply_and_no_more(tmp_path, monkeypatch, pictured):
    """The page's strip, its words and the reply with its picture, however long the way is; the whole way is for the explainer."""
    monkeypatch.setattr("oddswap.showing.pages.folders.PICTURED", pictured)
    told = 'puzzle = "cube:3"\nheld = "F up, D in front"\nafter = "R U F L2 B D"\n[[then]]\ndid = "D\'"'
    told += "\nsent = \"D' B' L2 F' U' R'\""
    ticket = parse_ticket(told)
    write_answer(answer_to(ticket, Budget(20)), tmp_path, reader_of(ticket))
    page, reply = ((tmp_path / name).read_text("utf-8") for name in ("answer.html", "reply.md"))
    moves = " ".join(frame["name"] for frame in traits(page)["strip"]["frames"])
    assert len(moves.split()) == AT_ONCE and f"`{moves}`" in reply and f"<code>{moves}</code>" in page
    assert "(next_turns.png)" in reply and (tmp_path / "next_turns.png").exists()
    assert ("(sent.png)" in (tmp_path / "answer.md").read_text("utf-8")) == (pictured > 4)


def test_it_says_what_to_do_if_it_does_not_come_right_and_where_no_turning_helps():
    assert "it does not come right, stop" in answer_html(answered("cube:2", "R U"))
    page = answer_html(answered("cube:3", "", ("twist UFR cw",)))
    assert "As described, no sequence of moves can make this." in page and "Do not force it" in page


def test_what_a_ticket_says_never_becomes_markup_and_its_note_stays_out_unless_asked():
    nasty = "</script><img src=x onerror=alert(1)><script>alert(2)</script>"
    ticket = parse_ticket(f'puzzle = "cube:2"\nafter = "R U"\nnote = {json.dumps(nasty)}\n[colours]\nU = "red"\n')
    found = answer(ticket.puzzle, ticket.appearance)
    assert "alert" not in answer_html(found, reader_of(ticket))
    page = answer_html(found, reader_of(ticket), ticket.note)
    assert "&lt;/script&gt;&lt;img src=x onerror=alert(1)&gt;" in page
    assert page.count("<script") == page.count("</script>") == 2 and "<img src=x" not in page
    assert traits(page)["colours"]["U"] == "#C4302B"


def test_the_page_names_no_other_place():
    assert not re.findall(r"https?://|//[a-z]+\.|src=\"(?!data:)|url\(", answer_html(answered("cube:2", "R")))


@pytest.fixture(scope="module")
def solved():
    return answered("cube:2")


UNPROVED = {"cube:3,turns=half", "rings:4+4,cross=1"}
"""Here the verdict hangs on labels that stay in their orbits, and on a law of another kind: no sums."""


@pytest.mark.parametrize(
    "name, moves, changes, pictures",
    [
        ("cube:2", "", (), {"seen"}),
        ("cube:2", "R U", (), {"seen", "strip", "tally", "came_about"}),
        ("shape-mod:prism8", "", ("flip UF",), {"seen", "xray", "strip", "tally", "came_about"}),
        ("cube:3", "", ("swap UF UR",), {"seen"}),
        ("cube:3,turns=half", "", ("twist UFR cw", "twist UFL ccw"), {"seen", "strip", "tally", "came_about"}),
        ("tiles:2x3", "r1c3 r1c2", (), {"seen", "strip", "tally", "came_about"}),
        ("loop:5,window=3", "push swing", (), {"seen", "strip", "came_about"}),
        ("rings:4+4,cross=1", "", ("swap 1 2",), {"seen"}),
    ],
)
def test_the_page_comes_with_its_reply_and_its_pictures(tmp_path, name, moves, changes, pictures):
    written = write_answer(answered(name, moves, changes), tmp_path / "new" / "answer")
    assert {path.name for path in written} == names_in(tmp_path / "new" / "answer")
    texts = {"answer.md", "answer.html", "reply.md"} | ({"proof.json"} if name not in UNPROVED else set())
    assert {path.name for path in written} == texts | {f"{picture}.png" for picture in pictures}
    text = (tmp_path / "new" / "answer" / "answer.md").read_text("utf-8")
    assert set(re.findall(r"!\[[^]]+\]\((\w+)\.png\)", text)) == pictures
    for picture in pictures:
        image = imread(tmp_path / "new" / "answer" / f"{picture}.png")
        assert image.shape[1] in (pages.WIDTH - 1, pages.WIDTH) and image[..., :3].std() > 0.01, "not empty"


def test_the_culprit_is_hatched_where_the_page_shows_how_it_came_about():
    """Hatching lies on a sticker as polygons of its own, so a strip that hatches has more of them than one that does not."""
    found = answered("shape-mod:prism8", changes=("flip UF",))

    def polygons(figure):
        return sum(len(collection.get_paths()) for collection in figure.axes[0].collections)

    pictures = pages.answer_pictures(found, VISITOR)
    plain = draw_strip(found.puzzle, found.puzzle.solved, found.made)
    assert found.diagnosis.culprits[0].pieces == ("FR",) and polygons(pictures["came_about.png"]) > polygons(plain) + 50


@pytest.mark.parametrize("name", ["03_painted_octagon_two_edges_over", "02_cube_two_edges_over"])
def test_a_tickets_note_is_in_none_of_them_and_its_colours_are_in_the_picture(tmp_path, name):
    ticket = read_ticket(TICKETS / f"{name}.toml")
    for path in write_answer(answer(ticket.puzzle, ticket.appearance, Budget(20)), tmp_path, reader_of(ticket)):
        data = path.read_bytes()
        assert not any(word.encode() in data for word in re.findall(r"\w{6,}", ticket.note) if word not in PLAIN)
    plain = write_answer(answer(ticket.puzzle, ticket.appearance, Budget(20)), tmp_path / "plain")
    assert (tmp_path / "seen.png").read_bytes() != next(p for p in plain if p.name == "seen.png").read_bytes()


PLAIN = {"visitor", "pieces", "puzzle", "places", "turned", "corner"}
"""Words of notes that any answer may use."""


@pytest.mark.parametrize("stop", [KeyboardInterrupt, MemoryError, OSError(28, "No space left on device")])
@pytest.mark.parametrize("when", ["draw_prints", "save", "answer_markdown", "reply_text"])
def test_a_stop_while_it_is_made_leaves_what_was_there(tmp_path, monkeypatch, solved, stop, when):
    (tmp_path / "answer.md").write_text("an older answer", "utf-8")
    before = files_in(tmp_path)

    def stopped(*arguments, **more):
        raise stop

    monkeypatch.setattr(pages, when, stopped)
    with pytest.raises((BadOption, KeyboardInterrupt, MemoryError)):
        write_answer(solved, tmp_path)
    assert files_in(tmp_path) == before and [p.name for p in tmp_path.iterdir()] == ["answer.md"]


@pytest.mark.parametrize("moves", range(1, 6))
def test_a_stop_while_it_is_moved_in_leaves_whole_files_and_no_page_without_its_pictures(tmp_path, monkeypatch, moves):
    found, whole = answered("cube:2", "R"), tmp_path / "whole"
    write_answer(found, whole)
    replace, left = os.replace, iter(range(moves - 1))

    def stopped(source, target):
        if Path(target).parent == tmp_path / "part" and next(left, None) is None:
            raise KeyboardInterrupt
        replace(source, target)

    monkeypatch.setattr(os, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_answer(found, tmp_path / "part")
    there, complete = files_in(tmp_path / "part"), files_in(whole)
    assert len(there) == moves - 1 and "answer.md" not in there
    assert all(data == complete[name] for name, data in there.items() if name.endswith(".md"))
    assert all(data.endswith(b"IEND\xaeB`\x82") for name, data in there.items() if name.endswith(".png"))


@pytest.mark.parametrize("place", ["file", "file/below", "file/far/below"])
def test_a_folder_that_cannot_be_written_is_named(tmp_path, solved, place):
    (tmp_path / "file").write_text("no folder", "utf-8")
    with pytest.raises(BadOption, match=r"the folder `.*file.*` cannot be written \(.+\): name one that can") as caught:
        write_answer(solved, tmp_path / place)
    assert "\n" not in str(caught.value) and files_in(tmp_path) == {"file": b"no folder"}


def test_a_folder_in_the_place_of_the_page_is_left_alone_and_the_page_laid_beside_it(tmp_path, solved):
    (tmp_path / "answer.md").mkdir()
    assert tmp_path / "answer.new.md" in write_answer(solved, tmp_path)
    assert (tmp_path / "answer.md").is_dir() and (tmp_path / "answer.new.md").read_text("utf-8").startswith("# Yes")
    with pytest.raises(BadOption, match="cannot be written"):
        write_answer(solved, tmp_path, force=True)
    assert (tmp_path / "answer.md").is_dir()


def test_an_older_answer_is_written_over(tmp_path, solved):
    write_answer(answered("cube:3", "", ("swap UF UR",)), tmp_path)
    write_answer(solved, tmp_path)
    assert (tmp_path / "answer.md").read_text("utf-8").startswith("# Yes")


def test_pictures_of_an_earlier_page_go_and_nothing_else_does(tmp_path):
    write_answer(answered("cube:2", "R U"), tmp_path)
    write_laws(load("cube:2"), tmp_path)
    for name in ("holiday.png", "set_up.png"):
        (tmp_path / name).write_bytes(b"mine")
    write_answer(answered("cube:2"), tmp_path)
    texts = {"answer.md", "answer.html", "reply.md", "proof.json", "laws.md"}
    left = texts | {"seen.png", "puzzle.png", "names.png", "holiday.png", "set_up.png"}
    assert names_in(tmp_path) == left


def test_a_picture_that_no_page_shows_is_somebody_elses(tmp_path, solved):
    (tmp_path / "answer.md").write_text("a page of my own, with ![a picture](own.png) and ![another](../seen.png)", "utf-8")
    for name in ("own.png", "strip.png"):
        (tmp_path / name).write_bytes(b"mine")
    write_answer(solved, tmp_path)
    assert (tmp_path / "own.png").read_bytes() == (tmp_path / "strip.png").read_bytes() == b"mine"


def test_colours_that_no_screen_knows_are_drawn_in_stand_ins_and_the_page_says_so(tmp_path, solved):
    write_answer(solved, tmp_path / "one", visitor(solved.puzzle, {"F": "mint green", "U": "white"}))
    write_answer(solved, tmp_path / "other", visitor(solved.puzzle, {"F": "green", "U": "white"}))
    one, other = (files_in(tmp_path / name) for name in ("one", "other"))
    assert one["seen.png"] == other["seen.png"]
    said = "mint green is drawn in green"
    for page in ("answer.md", "answer.html"):
        assert said in one[page].decode() and said not in other[page].decode()


def test_a_long_way_out_is_told_in_words_only(tmp_path, monkeypatch):
    monkeypatch.setattr(pages, "PICTURED", 1)
    written = write_answer(answered("cube:2", "R U"), tmp_path)
    assert {path.name for path in written} == {"answer.md", "answer.html", "reply.md", "proof.json", "seen.png"}
    assert "## A way out" in (tmp_path / "answer.md").read_text("utf-8")
