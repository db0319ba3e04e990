"""The files of an answer: a page with its pictures, and a reply; all or nothing."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from oddswap.errors import BadOption, quoted
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.tally import tally
from oddswap.showing.canvas import save
from oddswap.showing.prints import draw_prints
from oddswap.showing.report import answer_markdown, reply_text
from oddswap.showing.strip import draw_strip
from oddswap.showing.tallies import draw_tally

WIDTH = 1600
PICTURED = 40
"""A way out of more turns is told in words only."""


def write_answer(answer: Answer, folder: Path, colours: Mapping[str, str] | None = None) -> list[Path]:
    """Write ``answer.md``, ``reply.md`` and the pictures into ``folder``, in the visitor's ``colours`` by facet.

    Everything is made beside the folder first and then moved in, the page last, so that a stop leaves nothing half written.
    `BadOption` when the folder cannot be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder, prefix=".making-") as made:
            names = _draw(answer, Path(made), colours)
            (Path(made) / "answer.md").write_text(answer_markdown(answer, names), encoding="utf-8")
            (Path(made) / "reply.md").write_text(reply_text(answer), encoding="utf-8")
            written = []
            for name in (*names.values(), "reply.md", "answer.md"):
                os.replace(Path(made) / name, folder / name)
                written.append(folder / name)
            return written
    except OSError as error:
        raise BadOption(f"the folder {quoted(folder, 200)} cannot be written ({error.strerror}): name one that can") from None


def _draw(answer: Answer, folder: Path, colours: Mapping[str, str] | None) -> dict[str, str]:
    puzzle, found = answer.puzzle, answer.diagnosis
    figures = {"seen": draw_prints(puzzle, answer.appearance, colours=colours)}
    if found.culprits:
        pieces = {piece for culprit in found.culprits for piece in culprit.pieces}
        figures["xray"] = draw_prints(puzzle, found.culprits[0].arrangement, colours=colours, xray=sorted(pieces))
    if answer.way_out is not None and answer.way_out.length and answer.way_out.length <= PICTURED:
        turning, moves = answer.turning, answer.way_out.moves
        figures["strip"] = draw_strip(turning, found.explanation, moves, colours=colours)
        figures["tally"] = draw_tally(tally(turning, moves, found.explanation).in_full(), per_row=14)
    for key, figure in figures.items():
        save(figure, folder / f"{key}.png", width=WIDTH)
    return {key: f"{key}.png" for key in figures}
