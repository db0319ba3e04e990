"""What lies on the desk's sheet, top to bottom as the reply will be: what is seen, the verdict, why, the way out. Plain data."""

from collections.abc import Iterable

from oddswap.describing.stickers import stickers
from oddswap.describing.ticket import Ticket
from oddswap.desk.seeing import checked
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.laws.tally import tally
from oddswap.reasoning.verdicts.findings import CANNOT_TELL
from oddswap.showing.ink.painting import slot_numbers
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.markdown import as_html, escaped
from oddswap.showing.pages.report import details_sections, reply_text, verdict_sections
from oddswap.showing.pictures.cycles import draw_tally
from oddswap.showing.viewer.widget import strip_of, traits_of
from oddswap.values.grammar import capital
from oddswap.words.products.desk import SAYS, SIGNS
from oddswap.words.products.visitor_page import plain_title
from oddswap.words.table import Reader, reader_of
from oddswap.words.to_visitors.places import hold_words
from oddswap.words.to_visitors.replies import MovesLine, counted, reply
from oddswap.words.to_visitors.why import why_sentences
from oddswap.words.verdicts import HEADINGS

ACROSS = {"up to down": 1, "left to right": 0, "front to back": 2}
"""Which number of a cuboid's size belongs to each direction."""
TALLIED = 40
"""The tally of a way out of more turns is not drawn."""


def about(puzzle: Puzzle) -> dict:
    """A puzzle as the desk shows it, with what can be told of it."""
    facets = list(puzzle.geometry.facets) if puzzle.geometry is not None else []
    whole = without_turns(puzzle)
    return {
        "viewer": traits_of(puzzle, puzzle.solved, None, ""),
        "facets": facets,
        "photographed": bool(facets) and puzzle.alphabet.is_box,
        "paints": list(dict.fromkeys(puzzle.geometry.paints.values())) if facets else [],
        "layers": [face for face in "UDFBLR" if any(face in slot for slot in puzzle.slots)] if stickers(puzzle) else [],
        "turns": [] if puzzle.leaves_outline else [[turn, turn in puzzle.turns] for turn in tickable(load(whole))],
        "lying": list(ACROSS) if whole.startswith("cuboid:") and not puzzle.leaves_outline else [],
    }


def without_turns(puzzle: Puzzle) -> str:
    """The name of a puzzle as if its copy made all turns that it is made for."""
    return ",".join(part for part in puzzle.name.split(",") if not part.startswith("turns="))


def tickable(puzzle: Puzzle) -> list[str]:
    """The turns by slab, half turns apart, of a puzzle that takes a list of turns."""
    if puzzle.blank is not None or not puzzle.alphabet.is_box:
        return []
    return [name for name, turn in puzzle.turns.items() if not name.endswith("'") or turn.step.order != 4]


def sheet(ticket: Ticket, answer: Answer, seeking: bool) -> dict:
    """Everything below the prints. While ``seeking``, nothing is said of ways; that they are being sought is."""
    reader, puzzle = reader_of(ticket), ticket.puzzle
    said = reply(answer, reader)
    complaints, left = checked(puzzle, ticket.appearance)
    sections = {**verdict_sections(answer), **details_sections(answer, reader=Reader(mine=ticket.mine))}
    walks = not seeking and answer.easiest is not None
    culprits = sorted({piece for culprit in answer.diagnosis.culprits for piece in culprit.pieces})
    return {
        "seeking": seeking,
        "walks": walks,
        "named": dict(ticket.colours),
        "words": dict(reader.colours),
        "note": ticket.note,
        "title": plain_title(puzzle),
        "held": hold_words(puzzle, ticket.appearance, reader.holding, ticket.colours),
        "told": " ".join(f"{capital(sentence)}." for sentence in (*complaints, left)),
        "sign": SIGNS[CANNOT_TELL if answer.untried else answer.verdict],
        "verdict": SAYS.not_known if answer.untried else SAYS.verdict.format(answer.verdict),
        "headline": SAYS.still_open if answer.untried and seeking else said.answer,
        "why": _paragraphs([" ".join(why_sentences(answer, reader))] if said.why else []),
        "counted": f"{counted(answer)}." if walks and answer.easiest.length else "",
        "strip": _strip(answer) if walks else {},
        "to_do": "" if seeking else _paragraphs(said.to_do),
        "doubts": as_html("\n\n".join(sections["head"][2:])),
        "more": [[HEADINGS[code], as_html("\n\n".join(parts))] for code, parts in sections.items() if code in HEADINGS],
        "tally": _tally(answer) if walks else "",
        "hatched": slot_numbers(puzzle, culprits),
        "reply": "" if seeking else reply_text(answer, reader),
    }


def _paragraphs(parts: Iterable[str | MovesLine]) -> str:
    return as_html("\n\n".join(f"`{part.text}`" if isinstance(part, MovesLine) else escaped(part) for part in parts if part))


def _strip(answer: Answer) -> dict:
    """The way out from what explains the sight; nothing where it is made with turns that the prints do not make."""
    found = strip_of(answer.puzzle, answer.easiest.turns, answer.diagnosis.explanation) if answer.turning is answer.puzzle else {}
    return found if found.get("frames") else {}


def _tally(answer: Answer) -> str:
    """The table of what the way out does to the laws, as the address of a picture; empty where there is none to draw."""
    way = answer.easiest
    if not way.length or way.length > TALLIED or answer.turning is not answer.puzzle:
        return ""
    table = tally(answer.puzzle, way.turns, answer.diagnosis.explanation).in_full()
    return address_of(small_png(draw_tally(table, per_row=13), dpi=70)) if table.laws else ""
