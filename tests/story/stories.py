"""Answers whose stories the tests tell: one of every verdict, solids and tiles, as small as can be."""

from functools import cache

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.budget import Budget

NOTE = "please ring me at home <b>tonight</b>"
TICKETS = {
    "ordinary": 'puzzle = "cube:2"\nafter = "R U2"',
    "lookalike": 'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\n[colours]\nU = "white"',
    "twins": 'puzzle = "tiles:2x3,letters=AABCD"\nchanges = ["swap r2c1 r2c2"]',
    "other turns": 'puzzle = "cube:2"\nturns = "half"\nchanges = ["cycle UFR UBR UBL"]',
    "not by turning": 'puzzle = "cube:3"\nchanges = ["flip UF"]',
    "slip": 'puzzle = "cube:3"\nchanges = ["swap UF UR"]',
    "cannot tell yet": 'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]',
    "tiles": 'puzzle = "tiles:2x3"\nchanges = ["cycle r1c1 r1c2 r1c3"]',
    "held": 'puzzle = "cube:2"\nafter = "R F\' x"',
}


@cache
def told(case: str) -> Answer:
    """The answer to one of the tickets, each of which has a note."""
    ticket = parse_ticket(f"note = '{NOTE}'\n{TICKETS[case]}")
    return answer(ticket.puzzle, ticket.appearance, Budget(20.0, 500_000_000))
