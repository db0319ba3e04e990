"""What lies on the desk's sheet, top to bottom as the reply will be: what is seen, the verdict, why, the way out. Plain data."""

from collections.abc import Iterable

from oddswap.describing.stickers import stickers
from oddswap.describing.ticket import Ticket
from oddswap.desk.seeing import checked
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load, without_turns
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import in_hand, said_from
from oddswap.reasoning.verdicts.findings import CANNOT_TELL
from oddswap.showing.ink.painting import slot_numbers
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pages.folders import tally_of_way
from oddswap.showing.pages.markdown import as_html, escaped
from oddswap.showing.pages.report import details_sections, reply_text, verdict_sections
from oddswap.showing.viewer.widget import strip_of, traits_of
from oddswap.values.grammar import capital
from oddswap.values.position import START, Holding
from oddswap.values.sequence import FACES
from oddswap.words.products.desk import SAYS, SIGNS
from oddswap.words.table import reader_of
from oddswap.words.to_visitors.places import hold_words
from oddswap.words.to_visitors.replies import MovesLine, counted, reply
from oddswap.words.to_visitors.why import why_sentences
from oddswap.words.verdicts import HEADINGS

ACROSS = {"up to down": 1, "left to right": 0, "front to back": 2}
"""Which number of a cuboid's size belongs to each direction."""
TALLIED = 40
"""The tally of a way out of more turns is not drawn."""


def about(puzzle: Puzzle, holding: Holding = START) -> dict:
    """A puzzle as the desk shows it, with what can be told of it.

    Facets, layers and turns come by their own names, and as hands call them that hold it so.
    """
    facets = list(puzzle.geometry.facets) if puzzle.geometry is not None else []
    whole = load(without_turns(puzzle))
    ticks = [] if puzzle.leaves_outline else tickable(whole)
    return {
        "viewer": traits_of(puzzle, puzzle.solved, holding=holding),
        "facets": [[facet, holding.hand(facet)] for facet in facets],
        "photographed": bool(facets) and puzzle.alphabet.is_box,
        "paints": list(dict.fromkeys(puzzle.geometry.paints.values())) if facets else [],
        "layers": [[face, holding.hand(face)] for face in FACES if stickers(puzzle) and face in "".join(puzzle.slots)],
        "turns": [[turn, said_from(whole, turn, holding), turn in puzzle.turns] for turn in ticks],
        "lying": list(ACROSS) if whole.name.startswith("cuboid:") and not puzzle.leaves_outline else [],
    }


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
    sections = {**verdict_sections(answer), **details_sections(answer, reader=reader)}
    walks = not seeking and answer.easiest is not None
    way = in_hand(answer, reader.holding) if walks and answer.turning is puzzle else None
    culprits = sorted({piece for culprit in answer.diagnosis.culprits for piece in culprit.pieces})
    return {
        "seeking": seeking,
        "walks": walks,
        "named": dict(ticket.colours),
        "words": dict(reader.colours),
        "note": ticket.note,
        "title": puzzle.title,
        "held": hold_words(puzzle, ticket.appearance, reader.holding, ticket.colours),
        "told": " ".join(f"{capital(sentence)}." for sentence in (*complaints, left)),
        "sign": SIGNS[CANNOT_TELL if answer.untried else answer.verdict],
        "verdict": SAYS.not_known if answer.untried else SAYS.verdict.format(answer.verdict),
        "headline": SAYS.still_open if answer.untried and seeking else said.answer,
        "why": _paragraphs([" ".join(why_sentences(answer, reader))] if said.why else []),
        "counted": f"{counted(answer)}." if walks and answer.easiest.length else "",
        "strip": strip_of(puzzle, way.answer.easiest.turns, answer.diagnosis.explanation, way.eye) if way else {},
        "to_do": "" if seeking else _paragraphs(said.to_do),
        "doubts": as_html("\n\n".join(sections["head"][2:])),
        "more": [[HEADINGS[code], as_html("\n\n".join(parts))] for code, parts in sections.items() if code in HEADINGS],
        "tally": _tally(answer, way.eye) if way else "",
        "hatched": slot_numbers(puzzle, culprits),
        "reply": "" if seeking else reply_text(answer, reader),
    }


def _paragraphs(parts: Iterable[str | MovesLine]) -> str:
    return as_html("\n\n".join(f"`{part.text}`" if isinstance(part, MovesLine) else escaped(part) for part in parts if part))


def _tally(answer: Answer, eye: Holding) -> str:
    """The table of what the way out does to the laws, as the address of a picture; empty where there is none to draw."""
    drawn = tally_of_way(answer, eye, 13) if 0 < answer.easiest.length <= TALLIED else None
    return address_of(small_png(drawn, dpi=70)) if drawn else ""
