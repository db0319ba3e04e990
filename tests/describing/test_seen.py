"""Tickets that go on: read, written again, refused in a sentence."""

import pytest

from oddswap.describing.postcards import write_postcard
from oddswap.describing.tickets import parse_ticket, write_ticket
from oddswap.errors import OddswapError

HEAD = 'puzzle = "cube:3"\nafter = "R U F"\n[colours]\nU = "ivory"\n'
SEEN = "\n".join(f'[then.seen.{face}]\nrows = ["? ? ?", "? {face} ?", "? ? ?"]' for face in "UDFBLR")


@pytest.mark.parametrize(
    "then",
    [
        '[[then]]\ndid = "F\'"',
        '[[then]]\nsent = "F\' U\' R\'"\ndid = ""',
        f"[[then]]\n{SEEN}",
        '[[then]]\nafter = "R U"\nchanges = ["flip UF"]\n[[then]]\ndid = "U\'"',
        '[[then]]\n[then.slots]\nUF = "UF flipped"',
    ],
)
def test_a_thread_comes_back_from_its_text(then):
    ticket = parse_ticket(HEAD + then)
    again = parse_ticket(write_ticket(ticket))
    assert again == ticket and len(again.thread) == then.count("[[then]]")


def test_turns_are_kept_as_the_puzzle_is_named():
    """Tipped by x, what is at the front is at the top."""
    ticket = parse_ticket('puzzle = "cube:3"\nheld = "F up, D in front"\nafter = ""\n[[then]]\ndid = "U L"')
    assert ticket.thread[0].did == "F L"


def test_a_postcard_says_what_is_seen_now():
    line = write_postcard(parse_ticket('puzzle = "cube:3"\nafter = "R U"'))
    ticket = parse_ticket(f'{HEAD}[[then]]\npostcard = "{line}"')
    assert ticket.thread[0].look.appearance == ticket.puzzle.appearance(ticket.puzzle.follow("R U"))


@pytest.mark.parametrize(
    "then, sentence",
    [
        ("[[then]]", "number 1: it tells nothing: add did, or what is seen now"),
        ('[[then]]\nsent = "R"', "it tells nothing"),
        ('[[then]]\ndid = "R Q"', "number 1"),
        ("[[then]]\ndid = 5", "did is of the wrong type"),
        ('[[then]]\nsaid = "R"', "`said` is no key"),
        ('[[then]]\nafter = "R"\nslots.UF = "UF"', "leave the ones or the other out"),
        ('[[then]]\npostcard = "odd1;cube:2;AGRJNXNFYAAEH2KB"', "the postcard shows cube:2 and the ticket cube:3"),
        ('[[then]]\npostcard = "odd1;cube:2;AGRJNXNFYAAEH2KC"', "checksum does not hold"),
    ],
)
def test_what_is_no_message_is_refused(then, sentence):
    with pytest.raises(OddswapError, match="(?s)" + sentence.replace("(", r"\(")):
        parse_ticket(HEAD + then)


def test_then_is_a_list_of_tables():
    with pytest.raises(OddswapError, match="number 1 is of the wrong type"):
        parse_ticket('then = ["R"]\npuzzle = "cube:3"\nafter = "R"')
