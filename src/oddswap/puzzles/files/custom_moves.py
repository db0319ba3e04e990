"""What lies flat, from a puzzle file: moves in cycle notation on slots and ways round, or a blank on a graph.

The format is told in `oddswap.puzzles.files.custom`.
"""

import re

from oddswap.errors import BadOption, NotationError, quoted
from oddswap.puzzles.base.named import LIMIT, NamedPuzzle, named_puzzle
from oddswap.puzzles.base.puzzle import Kind
from oddswap.puzzles.base.space import BEAD, FlatLayout, Token, circle
from oddswap.puzzles.files.puzzle_file import MOST_LOOKS, NAME, PuzzleFile, colours_in, looks_in, places_in
from oddswap.puzzles.flat.graphs import Edge, GraphPuzzle, drawn_graph, graph_puzzle
from oddswap.values.orbits import numbered
from oddswap.values.permutation import Permutation, cycles, from_cycles

KEYS = ("title", "moves", "kind", "places", "colours")
MOST_WAYS = 60
MOST_MOVES = 64
MOST_LABELS = 2048


def moves_from(file: PuzzleFile, name: str) -> NamedPuzzle:
    """The puzzle of a file that has a table ``[moves]``."""
    file.table("the file", file.data, KEYS)
    kinds, steps = _kinds(file)
    moves = {}
    given = file.entries("the table of moves", file.data["moves"], "moves")
    if not 1 <= len(given) <= MOST_MOVES:
        raise file.error(f"there are {len(given)} moves: write 1 to {MOST_MOVES}", "moves")
    for move, text in given.items():
        moves[move] = _move(file, move, file.words(f"the move {move}", text, "moves", move), kinds, steps)
    shown, tokens = _shown(file, kinds)
    slots = [slot for kind in kinds for slot in kind.slots]
    places = places_in(file, slots)
    slot_of = [number for kind in kinds for number in kind.places for _ in range(kind.twist)]
    lines = dict.fromkeys(
        tuple(dict.fromkeys(slot_of[label] for label in cycle)) for move in moves.values() for cycle in cycles(move)
    )
    grooves = tuple(places[[*line, line[0]]] for line in lines if len(line) > 1)
    flat = FlatLayout(places, circle(BEAD), tuple(tokens), grooves, colours=colours_in(file))
    try:
        return named_puzzle(name, file.title(), kinds, moves, shown, flat)
    except BadOption as error:
        raise file.error(str(error), "moves") from None


def _kinds(file: PuzzleFile) -> tuple[list[Kind], dict[Kind, int]]:
    """The kinds, and for each the step of twist that the moves make."""
    tables = file.data.get("kind")
    if not isinstance(tables, list) or not tables:
        raise file.error("a puzzle of moves has tables [[kind]] with a name and slots: add one", "kind")
    kinds: list[Kind] = []
    steps: dict[Kind, int] = {}
    slots: set[str] = set()
    first = 0
    for i, entry in enumerate(tables):
        table = file.table("a kind", entry, ("name", "slots", "twist", "hands", "looks"), "kind", i)
        title = file.words("the name of a kind", table.get("name"), "kind", i, "name")[:40]
        names = file.words(f"the slots of {title}", table.get("slots"), "kind", i, "slots").split()
        for slot in names:
            if not re.fullmatch(NAME, slot):
                reason = f"{quoted(slot)} cannot name a slot: write up to 20 letters, digits, dots and underscores"
                raise file.error(reason, "kind", i, "slots")
            if slot in slots:
                raise file.error(f"the slot {slot} stands twice: name every slot once", "kind", i, "slots")
            slots.add(slot)
        twist = file.whole("twist", table.get("twist", 1), 1, MOST_WAYS, "kind", i, "twist")
        hands = file.whole("hands", table.get("hands", twist), 1, MOST_WAYS, "kind", i, "hands")
        if hands % twist:
            reason = f"hands = {hands} is no multiple of twist = {twist}, but hands can do what moves can"
            raise file.error(reason, "kind", i, "hands")
        if any(kind.name == title for kind in kinds):
            raise file.error(f"two kinds are called {title}: give each a name of its own", "kind", i, "name")
        kinds.append(Kind(title, title, tuple(names), hands, first, len(slots) - len(names)))
        steps[kinds[-1]] = hands // twist
        first += len(names) * hands
    if len(slots) > LIMIT or first > MOST_LABELS:
        raise file.error(
            f"there are {len(slots)} slots with {first} ways to be filled: at most {LIMIT} and {MOST_LABELS} are offered", "kind"
        )
    return kinds, steps


def _move(file: PuzzleFile, move: str, text: str, kinds: list[Kind], steps: dict[Kind, int]) -> Permutation:
    """A move as a permutation of labels: what its cycles say, and what follows for the other ways round."""
    if not re.fullmatch(r"[^\W\d]\w*", move):
        raise file.error(f"{quoted(move)} cannot name a move: write a letter, then letters or digits", "moves", move)
    names = [slot + (f"+{way}" if way else "") for kind in kinds for slot in kind.slots for way in range(kind.twist)]
    try:
        said = from_cycles(text, names)
    except NotationError as error:
        raise file.error(f"move {move}, {error}", "moves", move) from None
    images = list(range(len(names)))
    for kind in kinds:
        for number, slot in enumerate(kind.slots):
            base = kind.first + number * kind.twist
            ways = [way for way in range(kind.twist) if said[base + way] != base + way]
            targets = {_carried(said[base + way], way, kind) for way in ways}
            if len(targets) > 1:
                raise file.error(f"move {move} takes {slot} to two places at once: say one of its ways round", "moves", move)
            for target, turned in targets:
                if target is None:
                    raise file.error(f"move {move} takes {slot} to a slot of another kind", "moves", move)
                if turned % steps[kind]:
                    reason = f"move {move} turns {slot} on by {turned} of {kind.twist} steps, but moves make twist = "
                    raise file.error(f"{reason}{kind.twist // steps[kind]} of them", "moves", move)
                for way in range(kind.twist):
                    images[base + way] = target + (way + turned) % kind.twist
    if images == list(range(len(names))):
        raise file.error(f"move {move} moves nothing: write cycles such as (a b c)", "moves", move)
    return tuple(images)


def _carried(image: int, way: int, kind: Kind) -> tuple[int | None, int]:
    """The first label of the slot where a piece goes, and by how much it is turned on; None for a slot of another kind."""
    if image not in kind.labels:
        return None, 0
    number, reached = divmod(image - kind.first, kind.twist)
    return kind.first + number * kind.twist, (reached - way) % kind.twist


def _shown(file: PuzzleFile, kinds: list[Kind]) -> tuple[list[int], list[Token]]:
    """The number of the look of each label within its kind, and what it shows on paper."""
    numbers, tokens = [], []
    for i, kind in enumerate(kinds):
        given = file.data["kind"][i].get("looks", {})
        rows = looks_in(file, given, kind.slots, kind.twist, "kind", i, "looks")
        shown = [("", rows[slot][way]) if slot in rows else (slot, way) for slot in kind.slots for way in range(kind.twist)]
        looks = numbered(shown)
        if max(looks) >= MOST_LOOKS:
            raise file.error(f"the {kind.name} have more than {MOST_LOOKS} looks: make some alike", "kind", i)
        numbers += looks
        for slot in kind.slots:
            for way in range(kind.twist):
                own = Token(slot, kind.name, (way / kind.twist,) if kind.twist > 1 else ())
                tokens.append(Token(rows[slot][way], rows[slot][way]) if slot in rows else own)
    return numbers, tokens


GRAPH_KEYS = ("title", "graph", "places", "colours")


def sliding_from(file: PuzzleFile, name: str) -> GraphPuzzle:
    """The puzzle of a file that has a table ``[graph]``."""
    file.table("the file", file.data, GRAPH_KEYS)
    table = file.table("the table graph", file.data["graph"], ("edges", "blank", "looks"), "graph")
    nodes: dict[str, int] = {}
    edges: list[Edge] = []
    for word in file.words("edges", table.get("edges"), "graph", "edges").split():
        if (ends := re.fullmatch(rf"({NAME})-({NAME})", word)) is None:
            raise file.error(f"{quoted(word)} is no edge: write the names of two nodes as in a-b", "graph", "edges")
        edges.append((nodes.setdefault(ends[1], len(nodes)), nodes.setdefault(ends[2], len(nodes))))
    if len(nodes) > LIMIT:
        raise file.error(f"there are {len(nodes)} nodes: at most {LIMIT} are offered", "graph", "edges")
    slots = list(nodes)
    home = file.words("blank", table.get("blank"), "graph", "blank")
    if home not in nodes:
        raise file.error(f"the blank is at {quoted(home)}, which no edge names", "graph", "blank")
    pieces = [slot for slot in slots if slot != home]
    looks = looks_in(file, table.get("looks", {}), pieces, 1, "graph", "looks")
    shown = [(True, looks[slot][0]) if slot in looks else (False, slot) for slot in slots]
    tokens = [
        None if slot == home else Token(text, text if given else "pieces")
        for slot, (given, text) in zip(slots, shown, strict=True)
    ]
    flat = drawn_graph(places_in(file, slots), edges, tuple(tokens), colours_in(file))
    try:
        return graph_puzzle(name, file.title(), "pieces", slots, edges, nodes[home], shown, flat)
    except BadOption as error:
        raise file.error(str(error), "graph", "edges") from None
