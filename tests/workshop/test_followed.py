"""A teacher follows the script: what it names is there, copies add up, strips lead where sheets show. Judged on paper alone."""

from __future__ import annotations

import re

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import cameras, reach
from tests.judge.cells import box, prism
from tests.workshop.conftest import PUZZLES
from tests.workshop.printed import grey, pages, runs

PAINTED = {"cube:3": box((3, 3, 3)), "shape-mod:prism8": prism(8)}
PAINT = {name: {facet: facet for cell in painted.cells.values() for facet, _ in cell} for name, painted in PAINTED.items()}
TURNS = r"(?:[UDFBLR][2']?(?![\w,]) ?)+"
"""What stands behind them on a sheet may begin with a letter, too: *U, F and the other letters*."""
FRAME, UNIT = 2.2, 72 * 1.3
"""The side of a picture on a sheet, and a unit of a sheet in points."""


def script(evening):
    return (evening / "guide.md").read_text("utf-8")


def table(evening, head: str) -> list[list[str]]:
    """The rows below the table head that begins so."""
    block = script(evening).split(f"| {head}")[1].split("\n\n")[0]
    return [[cell.strip() for cell in line.strip("| ").split("|")] for line in block.splitlines()[2:]]


def test_everybody_has_a_seat_and_a_sheet_with_its_key_and_strips(evening):
    seats = table(evening, "table | people")
    assert [int(row[0]) for row in seats] == [1, 2, 3] and sum(int(row[1]) for row in seats) == 11
    keys, strips = pages(evening / "keys.pdf"), pages(evening / "envelopes.pdf")
    for number, _, title, sheet in seats:
        assert any(f"Sheet {sheet} · {title}" in page for page in pages(evening / "sheets.pdf"))
        for found, head in ((keys, f"Key to sheet {sheet}"), (strips, f"Strips for sheet {sheet}")):
            (page,) = (page for page in found if page.startswith(head))
            assert number in re.findall(r"\d+", re.match(rf"{head} · tables? ([\d and,]+)", page)[1])


def test_the_copies_add_up_and_their_pages_are_those_of_the_sheet(evening):
    rows, sheets = table(evening, "print from sheets.pdf"), pages(evening / "sheets.pdf")
    printed = 0
    for name, where, copies in rows:
        first, *last = map(int, re.findall(r"\d+", where))
        numbers = range(first, (last or [first])[0] + 1)
        assert all(re.search(rf"{name}\b", sheets[number - 1]) for number in numbers)
        printed += len(numbers)
        sitting = [int(people) for _, people, _, sheet in table(evening, "table | people") if name == f"Sheet {sheet}"]
        assert int(copies) == (sum(sitting) if sitting else 11)
    assert printed == len(sheets)


def test_every_file_and_page_that_the_script_names_is_there(evening):
    text = script(evening)
    named = set(re.findall(r"\w+\.pdf", text))
    assert {path.name for path in evening.glob("*.pdf")} == named | {"guide.pdf"}
    for name, several in re.findall(r"(\w+\.pdf),? pages? ((?:\d+(?: and )?)+)", text):
        assert all(int(number) <= len(pages(evening / name)) for number in re.findall(r"\d+", several))
    for sheet, question, ways in re.findall(r"sheet (\d+), question (\d+): one of the (\d+) ways", text):
        (page,) = (p for p in pages(evening / "sheets.pdf") if f"Sheet {sheet} ·" in p and f" {question} Just one" in p)
        assert len(re.findall(r"[a-h]\) ", page)) == int(ways)
    for rows in re.findall(r"minutes \| from .*?\n((?:\|.*\n)+)", text):
        minutes = [(int(row.split("|")[1]), row.split("|")[2].strip()) for row in rows.splitlines()[1:]]
        clock = [f"{sum(m for m, _ in minutes[:i]) // 60}:{sum(m for m, _ in minutes[:i]) % 60:02}" for i in range(len(minutes))]
        assert [start for _, start in minutes] == clock
    assert {sum(int(m) for m in re.findall(r"^\| (\d+) \| \d:", part, re.M)) for part in text.split("\n## ")} == {0, 90, 60, 30}


def questions(evening, name: str):
    """Sheet number, question number, page number, and what the script says of it, for the sheets of a puzzle."""
    for sheet, *asked in table(evening, "sheet | question 1"):
        own = [i for i, page in enumerate(pages(evening / "sheets.pdf")) if f"Sheet {sheet} · {load(name).title}" in page]
        yield from ((sheet, number, page, said) for number, (page, said) in enumerate(zip(own, asked, strict=False), 1))


def strip_of(evening, sheet: str, number: int) -> tuple[str, str]:
    """The turns at the head of a strip, and those back home."""
    path = evening / "envelopes.pdf"
    lines = [run.text for page in range(len(pages(path))) for run in runs(path, page)]
    own = lines[next(i for i, line in enumerate(lines) if line.startswith(f"Strips for sheet {sheet} ")) :]
    heads = (i for i, line in enumerate(own) if re.fullmatch(rf"{number} +{TURNS}", line))
    own = own[next(heads) :]
    return own[0].split(maxsplit=1)[1], next(line for line in own if line.startswith("Back home: ")).split(": ")[1]


@pytest.mark.parametrize("name", PUZZLES)
def test_each_strip_leads_to_what_the_sheet_shows_and_back(evening, name):
    """Cells of the judge's own are turned, and the letters on the page compared; only where the eye stands is the project's."""
    seen = 0
    for sheet, number, page, said in questions(evening, name):
        if "Paper" in said:
            assert f"Question {number} stays on paper" in " ".join(pages(evening / "envelopes.pdf"))
            continue
        there, back = strip_of(evening, sheet, number)
        held = PAINTED[name].solved.turned(there)
        letters = [run for run in runs(evening / "sheets.pdf", page) if re.fullmatch("[UDFBLR]{1,2}", run.text)]
        captions = [run for run in runs(evening / "sheets.pdf", page) if run.text.startswith("from the")]
        matched = 0
        for camera, caption in zip(cameras(load(name)), captions, strict=True):
            middle = np.array([caption.x, caption.y + (0.1 + FRAME / 2) * UNIT])
            spots, facets = shown(held, name, camera)
            spots = middle + spots * 0.94 * FRAME / 2 / (1.14 * reach(load(name))) * UNIT
            for run in letters:
                if (abs(np.array([run.x, run.y]) - middle) < FRAME / 2 * UNIT).all():
                    nearest = int(np.linalg.norm(spots - (run.x, run.y), axis=1).argmin())
                    assert facets[nearest] == run.text, (name, sheet, number)
                    matched += 1
        assert matched >= {"cube:3": 54, "shape-mod:prism8": 30}[name]
        seen += 1
        assert held.turned(back).is_done(PAINT[name])
        if "way home" in said:
            choices = re.findall(rf"([a-h])\) ({TURNS})", pages(evening / "sheets.pdf")[page])
            right = [letter for letter, way in choices if held.turned(way).is_done(PAINT[name])]
            (key,) = (text for text in pages(evening / "keys.pdf") if text.startswith(f"Key to sheet {sheet} "))
            assert len(right) == 1 and f" {number} {right[0]})" in key
    assert seen


def shown(held, name: str, camera) -> tuple[np.ndarray, list[str]]:
    """Where the stickers lie that the eye sees, in half-edges about the middle, and the facet that each came from."""
    look = list(held.look(PAINT[name]))
    scale = reach(load(name)) / max(np.linalg.norm(list(corners), axis=1).max() for corners, _ in look)
    spots, facets = [], []
    for corners, facet in look:
        middle = scale * np.mean(list(corners), axis=0)
        flat = scale * np.array(list(corners)) - middle
        normal = np.linalg.svd(flat)[2][-1]
        if (camera.eye - middle) @ (normal * np.sign(normal @ middle)) > 0:
            spots.append(camera.project(middle))
            facets.append(facet)
    return np.array(spots), facets


def test_the_hero_copy_is_made_by_turning_and_turned_home_in_the_script(evening):
    moves = re.search(rf"hero copy as .*?`({TURNS})`", script(evening))[1]
    back = re.search(rf"Turn the hero copy home before all eyes: `({TURNS})`", script(evening))[1]
    held = PAINTED["shape-mod:prism8"].solved.turned(moves)
    assert not held.is_done(PAINT["shape-mod:prism8"]) and held.turned(back).is_done(PAINT["shape-mod:prism8"])
    assert moves in " ".join(pages(evening / "envelopes.pdf")[:2])


def test_the_counted_flips_are_what_marks_show(evening):
    """An edge's mark: its U or D sticker, else that of F or B, at home and in every place (common practice)."""
    said = re.search(r"on a cube of 3 layers; it comes to ([\d, and]+)", script(evening))[1]
    text = pages(evening / "sheets.pdf")[-1]
    for number, moves in zip(map(int, re.findall(r"\d+", said)), re.findall(rf"After ({TURNS}):", text), strict=True):
        held = PAINTED["cube:3"].solved.turned(moves)
        flipped = 0
        for home in held.rotated:
            if sorted(map(abs, home)) == [0, 2, 2]:
                marked = next(axis for axis in (1, 2) if home[axis])
                place = held.place(home)
                flipped += (held.rotated[home] @ np.eye(3, dtype=int)[marked])[next(a for a in (1, 2) if place[a])] == 0
        assert flipped == number and number % 2 == 0


SIZES = {"sheets.pdf": 11, "keys.pdf": 11, "envelopes.pdf": 11, "cut_outs.pdf": 11, "guide.pdf": 11}
SIZES |= {"projector.pdf": 18, "posters.pdf": 24, "poster_tiles.pdf": 24}


@pytest.mark.parametrize(("name", "least"), SIZES.items())
def test_words_are_as_large_as_they_must_be_and_letters_on_stickers_too(evening, name, least):
    for number in range(len(pages(evening / name))):
        for run in runs(evening / name, number):
            letter = re.fullmatch("[UDFBLR]{1,3}", run.text)
            assert run.size >= (7 if letter else least) - 0.01, (number, run)


def test_letters_can_be_read_where_everything_is_grey(evening):
    """Contrast of letter and sticker by WCAG 2.2, of a page printed without colour: 4.5 to 1 for text."""
    for page in (0, 1):
        pixels = grey(evening / "sheets.pdf", page, 4.0)
        letters = [run for run in runs(evening / "sheets.pdf", page) if re.fullmatch("[UDFBLR]", run.text) and run.y > 400]
        assert len(letters) >= 40
        for run in letters:
            half = 0.45 * run.size
            rows = slice(int(4 * (841.7 - run.y - half)), int(4 * (841.7 - run.y + half)))
            around = pixels[rows, int(4 * (run.x - half)) : int(4 * (run.x + half))]
            light = np.where(around <= 0.04045, around / 12.92, ((around + 0.055) / 1.055) ** 2.4)
            assert (light.max() + 0.05) / (light.min() + 0.05) >= 4.5, run


def test_every_sheet_has_the_key_to_the_turns_and_the_first_page_the_box_for_colours(evening):
    for i, text in enumerate(pages(evening / "sheets.pdf")[:-1]):
        assert "U is the top layer" in text and text.count("rear view") == 3
        assert ("On our copies" in text) == (i % 4 == 0) != ("in the box on the first page" in text)


def test_tables_are_tables_on_paper_too(evening):
    """Cells of a column begin at one place, and none runs into the next."""
    (page,) = (i for i, text in enumerate(pages(evening / "guide.pdf")) if "Who gets what" in text)
    found = {run.text: run for run in reversed(runs(evening / "guide.pdf", page))}
    rows = table(evening, "table | people")
    titles = [
        run.x - 0.275 * run.size * len(run.text) for run in runs(evening / "guide.pdf", page) if run.text in {r[2] for r in rows}
    ]
    assert len(titles) >= 3 and np.ptp(titles[:3]) < 1 and found["sheet"].x > found["puzzle"].x > found["people"].x
