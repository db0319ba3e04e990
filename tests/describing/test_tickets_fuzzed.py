"""Texts that nobody thought of: each is a ticket that can be written and read again, or one sentence about what is wrong."""

from pathlib import Path

import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from oddswap.describing.sights import every_look
from oddswap.describing.tickets import KEYS, Ticket, parse_ticket, read_ticket, write_ticket
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets"
TICKETS = [path.read_text("utf-8") for path in sorted(FOLDER.glob("*.toml"))]
PUZZLES = ["cube:2", "cube:3", "cube:3,centres=marked", "cube:4", "shape-mod:prism8", "shape-mod:cube,paint=U+D", "tiles:3x3"]


def read(text):
    try:
        ticket = parse_ticket(text)
    except OddswapError as error:
        assert "\n" not in str(error) and str(error)
        return
    assert parse_ticket(write_ticket(ticket)) == ticket
    assert eval(repr(ticket)) == ticket


@given(st.text())
def test_any_text(text):
    read(text)


@given(st.binary())
def test_any_file(tmp_path_factory, data):
    path = tmp_path_factory.mktemp("any") / "ticket.toml"
    path.write_bytes(data)
    try:
        read_ticket(path)
    except OddswapError as error:
        assert "\n" not in str(error)


@given(st.data(), st.sampled_from(TICKETS))
def test_tickets_with_a_piece_exchanged(data, text):
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 12)))
    put = data.draw(st.one_of(st.text(max_size=6), st.sampled_from([text[i : i + 9] for i in range(0, len(text), 9)])))
    read(text[:start] + put + text[end:])


WORDS = st.sampled_from(
    ["U", "F", "R", "UF", "UFR", "UR flipped", "F turned half", "foreign", "?", "U|F", "red", "b", "U U U", "U2", "flip UF"]
)
VALUES = st.recursive(
    WORDS | st.text(max_size=4) | st.integers() | st.booleans() | st.floats(allow_nan=False) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS | st.text(max_size=3), inner, max_size=3),
    max_leaves=12,
)
SLOTS = st.dictionaries(st.sampled_from(["UF", "FU", "UFR", "F", "r1c1", "X"]), WORDS, max_size=3)
ROWS = st.lists(st.lists(WORDS, min_size=3, max_size=3) | st.just("U F ?"), min_size=3, max_size=3)
LIKELY = {
    "turns": st.sampled_from(["all", "half", ["R", "U2"]]),
    "copy": st.sampled_from(["all", "half", ["R", "U2"]]),
    "held": st.sampled_from(["U up, F in front", "red up, b in front", "F on top, R towards me", "U up", ""]),
    "after": st.sampled_from(["", "R U", "[R, U]3 x", "Rw 2L", "front clockwise", "Ri 2U", "back"]),
    "notation": st.fixed_dictionaries(
        {},
        optional={
            "reverse": st.lists(st.sampled_from(["i", "-", "'", "*", "U", "2", "("]) | st.text(max_size=3), max_size=3),
            "leading_number": st.sampled_from(["twice", "slab", "both"]),
        },
    ),
    "mine": st.fixed_dictionaries(
        {},
        optional={
            "colours": st.dictionaries(st.sampled_from("UDFBLR"), st.sampled_from(["red", "b", "#fff"]), max_size=3),
            "turns": st.sampled_from(["all", "half", ["R", "U2"], []]),
            "held": st.sampled_from(["red up, b in front", "U up, F in front", "U on top, F and R towards me", "U up", ""]),
        },
    ),
    "changes": st.lists(st.sampled_from(["flip UF", "swap UF BU", "twist UFR cw", "turn F half"]), max_size=2),
    "seen": st.dictionaries(st.sampled_from("UDFBLR"), st.fixed_dictionaries({"rows": ROWS}), max_size=3),
    "slots": SLOTS,
    "elsewhere": st.sampled_from(["in place", "turned"]),
    "colours": st.dictionaries(st.sampled_from("UDFBLR"), st.sampled_from(["red", "b", "sea green", "#fff"]), max_size=3),
    "note": st.text(max_size=5),
    "photograph": st.lists(
        st.fixed_dictionaries(
            {},
            optional={
                "file": st.sampled_from(["one.jpg", "../one.jpg", "/", ""]) | st.text(max_size=5),
                "corners": st.dictionaries(
                    st.sampled_from(["UFR", "U-F-R", "UF", ""]), st.lists(st.integers(-9, 900), max_size=3)
                ),
            },
        ),
        max_size=2,
    ),
}
LIKELY["then"] = st.lists(
    st.fixed_dictionaries(
        {},
        optional={key: LIKELY[key] for key in ("held", "after", "changes", "seen", "slots", "elsewhere")}
        | {
            "did": LIKELY["after"],
            "sent": LIKELY["after"],
            "postcard": st.sampled_from(["odd1;cube:2;AGRJNXNFYAAEH2KB", "odd1;"]),
        },
    ),
    max_size=2,
)


@given(st.sampled_from(PUZZLES), st.fixed_dictionaries({}, optional={key: likely | VALUES for key, likely in LIKELY.items()}))
def test_keys_in_any_company_with_any_values(puzzle, data):
    assert set(LIKELY) | {"puzzle"} == set(KEYS)
    read(tomli_w.dumps({"puzzle": puzzle, **data}))


OPTIONS = ["centres=marked", "turns=half", "paint=U+D", "axis=U", "degrees=45", "cut=0.4", "tips=no", "=", "x"]
FAMILIES = ["cube", "cuboid", "shape-mod", "tetrahedron", "loop", "rings", "tiles", "graph", ""]
SIZES = ["3", "2x3x2", "prism8", "prism²", "cube", "no.toml", "\0.toml", "8", "7+7", "0x2", "1+1+1"]


@given(st.sampled_from(FAMILIES), st.sampled_from(SIZES) | st.text(max_size=4), st.lists(st.sampled_from(OPTIONS), max_size=3))
def test_any_name_of_a_puzzle(family, size, options):
    read(tomli_w.dumps({"puzzle": ",".join([f"{family}:{size}", *options]), "after": ""}))


@given(st.sampled_from(PUZZLES), st.data(), st.sampled_from(["in place", "turned"]), st.text())
def test_any_sights_can_be_written_and_read(name, data, elsewhere, note):
    puzzle = load(name)
    looks_of = st.frozensets(st.integers(0, 23), max_size=4)
    slots = data.draw(st.dictionaries(st.integers(0, len(puzzle.slots) - 1), looks_of, max_size=5))
    appearance = puzzle.appearance(puzzle.solved)
    sights = list(appearance.sights)
    for number, looks in slots.items():
        sights[number] = looks & every_look(puzzle, number)
    ticket = Ticket("ticket", puzzle, type(appearance)(name, tuple(sights)), elsewhere=elsewhere, note=note)
    assert parse_ticket(write_ticket(ticket)) == ticket
