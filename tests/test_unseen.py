"""What nobody can see is refused in names, with the file and the place, and taken out of notes and stories."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
import tomli_w

from oddswap.__main__ import main
from oddswap.describing.tickets import Ticket, parse_ticket, write_ticket
from oddswap.desk.repair_table import workbench
from oddswap.errors import OddswapError
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.plans import LAYERS, read_plan
from oddswap.story.telling.story_file import read_story
from oddswap.values.text_file import cleaned, one_line

UNSEEN = {
    "escape": "\x1b",
    "bell": "\x07",
    "null": "\0",
    "delete": "\x7f",
    "the eighth bit": "\x9b",
    "an end of line of its own": "\u2028",
    "a soft hyphen": "\xad",
    "no width": "\u200b",
    "left to right": "\u200e",
    "right to left": "\u200f",
    "an Arabic mark": "\u061c",
    "an embedding": "\u202a",
    "an override": "\u202e",
    "an isolate": "\u2066",
    "the end of an isolate": "\u2069",
}
SEEN = ["no\u200cjoiner", "👩\u200d🔧", "thin\u2009space", "ﷺ", "שלום", "e\u0301"]
"""Joiners that words need, spaces, letters from right to left and accents stay."""


def moves(**more) -> dict:
    kind = {"name": "beads", "slots": "1 2 3", **more.pop("kind", {})}
    return {"title": "a ring", "moves": {"a": "(1 2 3)"}, "kind": [kind], **more}


def graph(**more) -> dict:
    return {"graph": {"edges": "a-b b-c c-a c-d", "blank": "d", **more}}


def half_spaces(name: str) -> dict:
    planes = [{"name": face, "normal": normal.tolist(), "offset": 1} for face, normal in DIRECTIONS.items()]
    return {"half_space": [{**planes[0], "name": name}, *planes[1:]]}


def plan(**more) -> dict:
    return {"name": "mine", "stage": [{"name": "cross", "slots": ["DF"], "turns": ["U"], **more}]}


def ticket(**more) -> dict:
    return {"puzzle": "cube:3", **({} if set(more) & {"seen", "slots"} else {"after": "R"}), **more}


def custom(path: Path) -> object:
    return load(f"custom:{path}")


def told(path: Path) -> Ticket:
    return parse_ticket(path.read_text("utf-8"))


PLACES: dict[str, tuple[Callable[[Path], object], Callable[[str], dict], str]] = {
    "title": (custom, lambda text: moves(title=text), "line 1"),
    "kind": (custom, lambda text: moves(kind={"name": text}), "line 2"),
    "slot": (custom, lambda text: moves(kind={"slots": f"1 2 3 {text}"}), "line 2"),
    "move": (custom, lambda text: moves(moves={text: "(1 2 3)"}), "line 6"),
    "cycles": (custom, lambda text: moves(moves={"a": f"(1 2 3){text}"}), "line 7"),
    "look": (custom, lambda text: moves(kind={"looks": {"1": text}}), "line 2"),
    "slot with a look": (custom, lambda text: moves(kind={"looks": {text: "red"}}), "line 2"),
    "place": (custom, lambda text: moves(places={text: [0, 0]}), "line 9"),
    "colour of a look": (custom, lambda text: moves(colours={text: "#D55E00"}), "line 9"),
    "unknown key": (custom, lambda text: moves(**{text: 1}), "line 1"),
    "edge": (custom, lambda text: graph(edges=f"a-b b-c c-a c-d d-{text}"), "line 2"),
    "blank": (custom, lambda text: graph(blank=f"d{text}"), "line 3"),
    "half-space": (lambda path: load(f"shape-mod:{path}"), half_spaces, "half_space.0.name"),
    "plan": (read_plan, lambda text: plan() | {"name": text}, "name"),
    "stage": (read_plan, lambda text: plan(name=text), "stage.0.name"),
    "slot of a stage": (read_plan, lambda text: plan(slots=[text]), "stage.0.slots.0"),
    "sequence": (read_plan, lambda text: plan(sequences={text: "R U"}), "stage.0.sequences"),
    "added sequence": (read_plan, lambda text: {"sequences": {"cross": {text: "R"}}}, "sequences.cross"),
    "puzzle": (told, lambda text: ticket(puzzle=f"custom:{text}.toml"), "puzzle"),
    "turns": (told, lambda text: ticket(turns=["R", text]), "turns.1"),
    "after": (told, lambda text: ticket(after=f"R {text}"), "after"),
    "change": (told, lambda text: ticket(changes=[f"flip {text}"]), "changes.0"),
    "colour": (told, lambda text: ticket(colours={"U": text}), "colours.U"),
    "facet": (told, lambda text: ticket(colours={text: "red"}), "colours"),
    "sticker": (told, lambda text: ticket(seen={"U": {"rows": [text, "U U U", "U U U"]}}), "seen.U.rows.0"),
    "slot in a ticket": (told, lambda text: ticket(slots={text: "UF"}), "slots"),
    "piece": (told, lambda text: ticket(slots={"UF": text}), "slots.UF"),
    "elsewhere": (told, lambda text: ticket(slots={}, elsewhere=text), "elsewhere"),
}
"""What reads a file, the file with a text in one place, and how the sentence names the place."""


@pytest.mark.parametrize(("read", "data", "where"), PLACES.values(), ids=PLACES)
def test_a_name_is_refused_by_its_file_and_place(tmp_path, read, data, where):
    path = tmp_path / "file.toml"
    for character in UNSEEN.values():
        path.write_text(tomli_w.dumps(data(f"red{character}dish")), "utf-8")
        with pytest.raises(OddswapError) as refused:
            read(path)
        said = str(refused.value)
        assert where in said and f"U+{ord(character):04X}" in said and said.isprintable()


def test_however_deep_it_lies(tmp_path):
    path = tmp_path / "deep.toml"
    path.write_text(f'puzzle = "cube:3"\n{".".join("a" * 7)} = "a\\u001b"', "utf-8")
    for read in (told, read_plan):
        with pytest.raises(OddswapError, match=r"a\.a\.a\.a\.a\.a: .*U\+001B") as refused:
            read(path)
        assert len(str(refused.value)) < 300


@pytest.mark.parametrize("text", SEEN)
@pytest.mark.parametrize("place", ["colour", "plan", "sequence"])
def test_what_can_be_seen_is_not_refused(tmp_path, place, text):
    read, data, _ = PLACES[place]
    path = tmp_path / "file.toml"
    path.write_text(tomli_w.dumps(data(text)), "utf-8")
    assert read(path)


@pytest.mark.parametrize("character", [*UNSEEN.values(), "\n", "\t"], ids=[*UNSEEN, "an end of line", "a tab"])
def test_a_puzzle_by_such_a_name_is_refused(capsys, character):
    assert main(["laws", f"custom:no{character}thing.toml"]) == 2
    said = capsys.readouterr().err
    assert f"U+{ord(character):04X}" in said and said.count("\n") == 1 and said.strip().isprintable()


@pytest.mark.parametrize("character", UNSEEN.values(), ids=UNSEEN)
def test_a_note_loses_it_and_comes_back_the_same(character):
    note = f"two{character} edges,\n\u05e9\u05dc\u05d5\u05dd {character}over"
    told = parse_ticket(tomli_w.dumps(ticket(note=note)), f"mine{character}")
    assert told.note == cleaned(note) and told.note.count("\n") == 1 and not set(told.note) & {character}
    assert told.name == "mine"
    again = parse_ticket(write_ticket(told), "mine")
    assert again == told == Ticket("mine", told.puzzle, told.appearance, note=note)


@pytest.mark.parametrize("character", [*UNSEEN.values(), "\n", "\t"], ids=[*UNSEEN, "an end of line", "a tab"])
def test_a_story_loses_it_and_every_text_is_one_line(tmp_path, character):
    text = f"two{character} edges"
    beat = {"chapter": text, "picture": "seen", "says": [text], "moves": f"R{character} U"}
    data = {"title": text, "puzzle": "cube:3", "position": "", "culprit": [text], "colours": "lesson", "beat": [beat]}
    path = tmp_path / "story.toml"
    path.write_text(tomli_w.dumps({**data, "words_a_minute": 100, "seconds_a_turn": 1.0}), "utf-8")
    story = read_story(path)
    assert {story.title, story.beats[0].chapter, *story.beats[0].says, *story.culprit} == {"two edges"}
    assert story.moves == "R U"


def test_what_is_typed_at_the_desk_can_be_read_again(tmp_path):
    desk = workbench(puzzles=["cube:2"], folder=tmp_path)
    desk.hear({"act": "name", "colours": {}, "note": "two\x1b \u202eedges"})
    assert parse_ticket(desk.ticket_text).note == "two  edges"
    desk.hear({"act": "name", "colours": {"U": "iv\u202eory"}, "note": ""})
    assert "U+202E" in desk.said and parse_ticket(desk.ticket_text).note == "two  edges"


@pytest.mark.parametrize("text", SEEN)
def test_what_can_be_seen_stays(text):
    assert one_line(text) == " ".join(text.split()) and cleaned(text) == text


def test_every_control_and_every_mark_of_direction_goes():
    """By Unicode's own categories and bidirectional classes (Unicode Standard Annex 9, section 2)."""
    every = map(chr, (*range(0xD800), *range(0xE000, 0x20000), *range(0xE0000, 0xE0200)))
    left = {*cleaned("".join(every))} - {"\n", "\u200c", "\u200d"}
    turning = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    assert not {c for c in left if unicodedata.category(c) in ("Cc", "Zl", "Zp") or unicodedata.bidirectional(c) in turning}
    assert not left & set("\u200e\u200f\u061c")


def test_the_plan_of_the_project_has_nothing_unseen():
    assert read_plan(LAYERS)
