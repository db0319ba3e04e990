"""The desk without a browser: what a hand tells, every letter's verdict, ways that are sought meanwhile, files."""

from __future__ import annotations

import json
import os
import re
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from oddswap.describing.changes import changed
from oddswap.describing.postcards import write_postcard
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.desk import workbench as module
from oddswap.desk.repair_table import PUZZLES, desk, workbench
from oddswap.desk.workbench import ACTS, script
from oddswap.puzzles.base.puzzle_names import FAMILIES
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import MadeByHand, ReadOtherwise
from oddswap.reasoning.ticket_answers import NotOnOwnCopy
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.viewer.pack import labels_of, packed
from oddswap.words import say
from oddswap.words.table import reader_of

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets"
TICKETS = [read_ticket(path) for path in sorted(FOLDER.glob("*.toml"))]
NASTY = parse_ticket('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\nnote = "<script>dogs</script>"', "nasty <b>")


@pytest.fixture(scope="module")
def bench():
    return workbench([*TICKETS, NASTY])


@pytest.fixture
def own(tmp_path):
    return workbench(puzzles=["cube:3", "cube:2"], folder=tmp_path)


def did(table, act, **more):
    """What the browser sends, as it sends it."""
    table.hear(json.loads(json.dumps({"act": act, **more})))


def arranged(table, arrangement):
    """A hand has turned or moved pieces until they lie so."""
    puzzle = table.ticket.puzzle
    did(table, "see", sights=[sorted(sight) for sight in puzzle.appearance(arrangement).sights], told={})


@pytest.mark.parametrize("ticket", TICKETS, ids=lambda ticket: ticket.name)
def test_a_letter_that_is_opened_gets_its_verdict(bench, ticket):
    did(bench, "open", letter=ticket.name)
    found = diagnose(ticket.puzzle, ticket.appearance)
    assert bench.answer.verdict == found.verdict and found.verdict in bench.sheet["verdict"] and not bench.said
    assert [c.pieces for c in bench.answer.diagnosis.culprits] == [c.pieces for c in found.culprits]
    assert bool(bench.sheet["hatched"]) == bool(found.culprits) and ticket.puzzle.title in repr(bench)
    assert (
        bench.sheet["seeking"] == (found.explanation is not None) and dict(bench.letters)[ticket.name] == bench.sheet["verdict"]
    )
    if not bench.sight["told"] and ticket.appearance.complete:
        assert ticket.puzzle.appearance(ticket.puzzle.arrangement(bench.sight["labels"])).sights == ticket.appearance.sights


def test_while_a_way_is_sought_nothing_is_said_of_it_and_then_it_lies_on_the_sheet(own):
    arranged(own, load("cube:3").follow("R U2"))
    assert own.sheet["seeking"] and not (own.sheet["to_do"] or own.sheet["strip"] or own.sheet["reply"]) and own.sought
    own.wait()
    assert own.answer.way_out.moves == "U2 R'" and not own.sheet["seeking"] and not own.sought
    assert [frame["name"] for frame in own.sheet["strip"]["frames"]] == ["U2", "R'"] and "U2 R" in own.sheet["to_do"]
    assert own.sheet["tally"].startswith("data:image/png") and own.sheet["reply"].startswith("Thank you")


HELD = ["after = 'R U2 F'", "seen.U.rows = ['F F F', 'F F F', 'F F R']\nseen.F.rows = ['L L L', 'L L L', 'L L L']"]


@pytest.mark.parametrize("told", HELD, ids=["turns", "rows"])
def test_prints_strip_and_reply_are_as_the_visitor_holds_it(told):
    held = "" if "seen" in told else "held = 'F up, L in front'\n"
    ticket = parse_ticket(f"puzzle = 'cube:3'\n{held}{told}")
    table, holding = workbench([ticket]), reader_of(ticket).holding
    table.wait()
    assert [holding.own(face) for face in "UF"] == ["F", "L"]
    assert table.about["viewer"]["pack"] == packed(ticket.puzzle, holding) != packed(ticket.puzzle)
    assert table.about["layers"][0] == ["U", holding.hand("U")] and ["F", "U"] in table.about["facets"]
    assert ["F", "U", True] in table.about["turns"] and ["L2", "F2", True] in table.about["turns"]
    if "after" in told:
        (moves,) = re.findall("<code>(.*?)</code>", table.sheet["to_do"])
        assert " ".join(frame["name"] for frame in table.sheet["strip"]["frames"]) == moves.replace("&#x27;", "'")
        assert f"<code>{moves}</code>" in json.dumps(table.sheet["more"]), "in what is for the explainer, too"
        start = ticket.puzzle.arrangement(table.sheet["strip"]["start"])
        assert ticket.puzzle.appearance(start).sights == ticket.appearance.sights
    did(table, "take", text="puzzle = 'cube:3'\nafter = 'R'")
    assert table.about["viewer"]["pack"] == packed(ticket.puzzle)


def test_what_was_found_once_is_not_sought_again_and_another_touch_ends_a_search(own, monkeypatch):
    arranged(own, load("cube:3").follow("R U2"))
    own.wait()
    asked = []
    monkeypatch.setattr(module, "answer_to", lambda ticket, clock, tell: asked.append(clock) or own.answer)
    arranged(own, load("cube:3").solved)
    arranged(own, load("cube:3").follow("R U2"))
    own.wait()
    assert not asked and own.sheet["strip"]
    arranged(own, load("cube:3").follow("F"))
    own.wait()
    own.seek()
    (clock,) = asked
    assert not clock.spent
    monkeypatch.undo()
    arranged(own, load("cube:3").solved)
    assert clock.spent


def test_text_from_a_ticket_is_text(bench):
    did(bench, "open", letter=NASTY.name)
    assert bench.sheet["note"] == "<script>dogs</script>"
    laid = json.dumps([bench.sheet[part] for part in ("why", "to_do", "doubts", "more")])
    assert "<script>" not in laid and "dogs" not in laid


def test_the_small_picture_of_a_letter_is_in_the_visitor_s_colours_as_they_hold_it():
    plain, held = 'puzzle = "cube:3"\nafter = "R"', 'held = "F up, L in front"'
    texts = plain, f'{plain}\n[colours]\nU = "pink"', f'puzzle = "cube:3"\n{held}\nafter = "D"', f"{plain}\n{held}"
    table, sent = workbench([parse_ticket(text, f"{number}") for number, text in enumerate(texts)]), []
    table.send = sent.append
    for number in range(len(texts)):
        did(table, "picture", what="letter", name=f"{number}")
    addresses = [message["picture"][3] for message in sent]
    assert len(addresses) == len(texts) == len(set(addresses))


def test_the_desk_of_a_folder_has_its_letters_and_one_that_cannot_be_read_says_so_alone(tmp_path):
    (tmp_path / "a_good.toml").write_text('puzzle = "cube:2"\nafter = "R"')
    (tmp_path / "b_bad.toml").write_text('puzzle = "cube:99"')
    (tmp_path / "c_card.txt").write_text("odd1;cube:2;AGRJNXNFYAAEH2KB")
    table = desk(tmp_path, "/lab")
    assert [name for name, _ in table.letters] == ["a_good", "b_bad", "c_card"] and table.ticket.name == "a_good"
    did(table, "open", letter="b_bad")
    assert "from 2 to 25" in table.said and "\n" not in table.said and dict(table.letters)["b_bad"] == table.said
    assert table.ticket.name == "a_good" and table.sheet["title"] == "cube of 2 layers"
    did(table, "open", letter="c_card")
    assert "not by turning" in table.sheet["verdict"] and not table.said
    assert desk(tmp_path / "none", "/lab").letters == []


def test_a_lone_flip_told_on_the_prism_and_taken_back(own):
    did(own, "choose", puzzle="shape-mod:prism8")
    prism = load("shape-mod:prism8")
    assert "ordinary" in own.sheet["verdict"] and own.about["viewer"]["pack"]["title"] == prism.title
    arranged(own, changed(prism, ["flip UF"]))
    assert "lookalike" in own.sheet["verdict"] and len(own.sheet["hatched"]) == 4
    did(own, "afresh")
    assert own.sight["labels"] == labels_of(prism, prism.solved) and "ordinary" in own.sheet["verdict"]


def test_layers_that_are_done(own):
    did(own, "done", layers=["D"])
    cube = own.ticket.puzzle
    assert set(own.sight["covered"]) == {slot for slot in cube.slots if "D" not in slot and len(slot) > 1}
    assert "cannot tell yet" in own.sheet["verdict"]


@pytest.mark.parametrize(
    "text",
    [
        'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\nnote = "mine"',
        'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "F U U"]\n[colours]\nU = "ivory"',
        'puzzle = "tiles:2x3"\nchanges = ["cycle r1c1 r1c2 r1c3"]',
        'puzzle = "cube:3"\n[slots]\nUF = "UR flipped"\nUR = "?"',
    ],
)
def test_a_ticket_that_is_dropped_comes_out_the_same(own, text):
    told = parse_ticket(text)
    did(own, "take", text=text)
    found = parse_ticket(own.ticket_text)
    assert (found.puzzle.name, found.appearance.sights) == (told.puzzle.name, told.appearance.sights)
    assert dict(found.colours) == dict(told.colours) and found.note == told.note
    assert own.answer.verdict == diagnose(told.puzzle, told.appearance).verdict


def test_a_postcard_is_pasted_and_a_spoilt_one_changes_nothing(own):
    told = parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF UR"]\n[colours]\nU = "gold"')
    did(own, "take", text=f"> {write_postcard(told)}\n")
    assert (own.ticket.appearance.sights, dict(own.ticket.colours)) == (told.appearance.sights, {"U": "gold"})
    before = own.ticket, own.sheet, own.sight
    for text in ("odd1;cube:3;AAAA", 'puzzle = "cube:99"', "<script>alert(1)</script>", ""):
        did(own, "take", text=text)
        assert own.said and "\n" not in own.said and (own.ticket, own.sheet, own.sight) == before


def test_looks_that_the_puzzle_does_not_have_are_refused(own):
    before = own.ticket
    for sights in ([], [[0]], [[99]] * len(own.ticket.puzzle.slots)):
        did(own, "see", sights=sights, told={})
        assert "load the page anew" in own.said and own.ticket is before


def test_how_a_box_is_held_and_which_turns_its_copy_makes(own):
    did(own, "choose", puzzle="cuboid:2x3x4")
    for way, name in (("up to down", "2x4x3"), ("left to right", "4x2x3"), ("front to back", "2x3x4")):
        did(own, "hold", tallest=way)
        assert own.ticket.puzzle is load(f"cuboid:{name}")
    arranged(own, own.ticket.puzzle.follow("U2"))
    sights = own.ticket.appearance.sights
    turns = [turn for turn, _, _ in own.about["turns"]]
    did(own, "limit", turns=turns[1:])
    assert turns[0] not in own.ticket.puzzle.turns and own.ticket.appearance.sights == sights
    assert own.about["turns"] == [[turn, turn, turn != turns[0]] for turn in turns]
    did(own, "limit", turns=[])
    assert own.said and turns[0] not in own.ticket.puzzle.turns
    did(own, "limit", turns=turns)
    assert own.ticket.puzzle is load("cuboid:2x3x4")


@pytest.mark.parametrize(("name", "count"), [("cube:3", 12), ("cuboid:2x3x4", 2 + 2 + 4), ("tiles:3x3", 0), ("dodecahedron", 0)])
def test_each_slab_can_be_ticked_by_a_quarter_and_by_a_half(own, name, count):
    did(own, "choose", puzzle=name)
    assert len(own.about["turns"]) == count and not any(turn.endswith("'") for turn, _, _ in own.about["turns"])


def test_a_box_that_half_turns_cannot_mend_says_that_it_is_not_known_yet():
    table = workbench([read_ticket(FOLDER / "boxes" / "19_box_two_corners_over.toml")])
    assert "not known yet" in table.sheet["verdict"] and table.sheet["sign"] == "?" and table.sheet["seeking"]
    table.wait()
    assert table.answer.verdict == "other turns" and "other turns" in table.sheet["verdict"] and not table.sheet["seeking"]
    cube = workbench([parse_ticket('puzzle = "cube:3"\nchanges = ["flip UF"]')])
    assert cube.answer.verdict == "not by turning" and not cube.sheet["seeking"] and cube.sheet["to_do"]


def test_a_ticket_s_copies_and_doubts_are_answered_at_the_desk():
    """A layer turned by a quarter, told by its pieces, where half turns are made; and a number in front, with both results."""
    quarter = 'changes = ["cycle UF UL UB UR", "cycle UFR UFL UBL UBR"]'
    by_hand = parse_ticket(f'puzzle = "cube:3"\ncopy = "half"\n{quarter}', "by hand")
    doubted = parse_ticket('puzzle = "cube:3"\nafter = "2U"\n[mine]\nturns = ["R2", "F2"]', "doubted")
    table = workbench([by_hand, doubted])
    assert table.answer.diagnosis.has(MadeByHand) and not table.sheet["seeking"]
    did(table, "open", letter="doubted")
    asked = table.answer.diagnosis.one(ReadOtherwise)
    assert (asked.written, asked.slab, asked.times) == ("2U", "ordinary", "ordinary") and say(asked)[1:] in table.sheet["doubts"]
    table.wait()
    missing = table.answer.own.diagnosis.one(NotOnOwnCopy)
    assert missing and say(missing)[1:] in json.dumps(table.sheet["more"])
    assert parse_ticket(table.ticket_text.replace("[mine]", "[mine]")).mine == doubted.mine


def test_files_are_saved_in_the_folder_and_nowhere_else(own, tmp_path):
    def note(words):
        did(own, "name", colours={}, note=words)
        did(own, "save", file="../../mine.toml")

    mine = tmp_path / "mine.toml"
    for words in ("call me", "call me later"):
        note(words)
        assert parse_ticket(mine.read_text()).note == words
    with mine.open("a") as more:
        more.write("# and my own words\n")
    before = mine.read_bytes()
    note("call me never")
    assert mine.read_bytes() == before and "give another name" in own.said
    (tmp_path / "theirs.toml").write_text("somebody else's")
    did(own, "save", file="theirs.toml")
    assert (tmp_path / "theirs.toml").read_text() == "somebody else's" and "give another name" in own.said
    did(own, "print")
    assert (tmp_path / "ticket_to_colour_in.pdf").exists() and "To print" in own.said


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes as Unix has them")
def test_a_pipe_of_that_name_is_not_waited_for(own, tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    did(own, "save", file="pipe.toml")
    assert "this is a pipe" in own.said


def test_pictures_are_of_every_family_and_of_letters(bench, monkeypatch):
    names = [name for name in PUZZLES if isinstance(name, str)]
    assert {name.partition(":")[0].partition(",")[0] for name in names} == set(FAMILIES) - {"custom"}
    sent = []
    monkeypatch.setattr(bench, "send", sent.append)
    wanted = [("puzzle", "cube:2"), ("puzzle", "wedges:12"), ("puzzle", "tiles:3x3"), ("letter", TICKETS[3].name)]
    for what, name in wanted:
        did(bench, "picture", what=what, name=name)
    assert [tuple(message["picture"][:2]) for message in sent] == wanted
    for message in sent:
        picture = Image.open(BytesIO(b64decode(message["picture"][3].removeprefix("data:image/png;base64,"))))
        assert message["picture"][2] and 60 < picture.width < 600 and len(picture.convert("RGB").getcolors(100_000)) > 3


def test_the_script_names_no_other_place_and_pictures_go_out_with_a_yes_alone():
    own = script()
    album = own[own.index("class Shot") : own.index("class Desk")]
    assert not re.search(r"https?://(?!www\.w3\.org)", own)
    assert not re.search(r"fetch|XMLHttp|sendBeacon|WebSocket|localStorage|indexedDB|model\.send", album)
    assert album.count("did('read'") == 1 and "did('read'" in album[album.index("'Yes, read it'") :][:300]


def test_the_script_and_the_table_of_acts_name_the_same():
    sent = set(re.findall(r"did\('(\w+)'", script()))
    assert sent == set(ACTS)


def test_three_touches_choose_what_turns_how_many_layers_and_the_outside():
    layers, corners = (one for one in PUZZLES if not isinstance(one, str))
    offered = [name for _, _, _, further in layers[3] for name in further] + corners[3]
    assert len(set(offered)) == len(offered) == 40
    for name in (layers[0], corners[0], *offered):
        puzzle = load(name)
        across = {number for number in (2, 3, 4, 5) if f"slabs={number}" in name or name == f"cube:{number}"}
        assert across in ({max(puzzle.alphabet.layers.values(), default=0)}, set())
        assert "slab" not in puzzle.title
