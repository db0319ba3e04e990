"""Laws in words and in LaTeX: their names, what they state, the quantities that they speak of, and the sectors."""

from collections import Counter
from collections.abc import Iterable, Sequence
from math import prod

from oddswap.reasoning.laws.characters import CharacterLaw, PairingLaw
from oddswap.reasoning.laws.law_kinds import OrbitLaw, TeamLaw
from oddswap.reasoning.laws.rigid import BaseLaw, ProgrammeLaw, RingLaw, TogetherLaw
from oddswap.reasoning.laws.sectors import Law, Measure, Sector
from oddswap.reasoning.laws.tally import Counted, Quantity, Tally
from oddswap.reasoning.laws.teams import Rings, Shares, Teams
from oddswap.values import orbits
from oddswap.values.grammar import capital, listed, number_word, read_number, singular
from oddswap.words.table import name_of, names, say, says

GROUPS = {2: "pairs", 3: "trios"}
"""What teams of so many are called; larger ones are teams."""


def team_word(teams: Teams) -> str:
    """``pairs``, ``trios`` or ``teams``, by how many pieces are in one."""
    return GROUPS.get(sum(len(blocks[0]) for blocks in teams.blocks), "teams")


@names(Sector, Shares)
def sector_name(sector: Sector) -> str:
    """The kind's name; where the turns split the kind, one of the sector's slots tells it apart."""
    kind = sector.kind
    if sector.whole or len(sector.slots) == len(kind.slots):
        return kind.name
    if len(sector.slots) == 1:
        return f"{singular(kind.family)} {sector.names[0]}"
    return f"{kind.family} like {sector.names[0]}"


@names(Teams, Rings)
def teams_name(named: Teams | Rings) -> str:
    """``pairs of wings``, or for one member alone that goes round in them; where the turns split a kind, a slot tells which."""
    teams, members = (named.teams, (named.member,)) if isinstance(named, Rings) else (named, named.members)
    families = listed(dict.fromkeys(member.kind.family for member in members))
    plain = len(teams.members) == 1 and sector_name(teams.members[0]) == families
    return f"{team_word(teams)} of {families}" + ("" if plain else f" like that of {members[0].names[0]}")


SPELT_OUT = 8
"""So many numbers of choices are multiplied on the page; of more the product is told."""
NO_SENSE = "–"
"""What stands for a quantity of teams where the teams themselves are broken."""
VALUES = {"sign": ("even", "odd"), "pairing": ("stay", "go round", "go back", "two change")}
"""What the values of a quantity are called, where they are no numbers."""
LETTERS = {"sign": r"\varepsilon", "twist": r"\tau", "pairing": "t"}


@names(Quantity)
def quantity_name(quantity: Quantity) -> str:
    """One quantity: the sign of a sector, its twists, those of several single slots together, pairs, teams."""
    return _together("pairs" if quantity.what == "pairing" else quantity.what, quantity.parts)


def value_words(row: Counted, value: int | None) -> str:
    """A value of a tally: ``even`` or ``odd`` for a sign, what happens to pairs or teams, else the number."""
    if value is None:
        return NO_SENSE
    what = getattr(row, "what", "")
    if what == "team":
        return f"{value} move" if value else "stay"
    return VALUES[what][value] if what in VALUES else str(value)


def rows_in_words(tally: Tally) -> list[tuple[str, tuple[str, ...]]]:
    """The rows of the laws of a tally: the name of each, and its values; laws among other quantities are called so."""
    among = any(isinstance(row, Quantity) for row in tally.laws)
    rows = [(f"law: {row.name}" if among and isinstance(row, Law) else row.name, row) for row in tally.laws]
    return [(name, tuple(value_words(row, v) for v in values)) for (name, row), values in zip(rows, tally.values, strict=True)]


@names(CharacterLaw, PairingLaw, OrbitLaw, TeamLaw, TogetherLaw, RingLaw, ProgrammeLaw, BaseLaw)
def law_name(law: Law) -> str:
    """What a law is about, twists last."""
    ordered = sorted((part for _, part in law.terms), key=lambda part: part.what == "twist")
    gathered = orbits.gathered(ordered, lambda part: part.what)
    return " and ".join(_together(what, parts) for what, parts in gathered.items())


@says(CharacterLaw)
def character_statement(law: CharacterLaw) -> str:
    """One sentence that a hobbyist understands."""
    signs, twists = ([part for part in law.parts if part.what == what] for what in ("sign", "twist"))
    if not twists:
        return _sign_statement(signs)
    if law.modulus > 2 and any(w > 1 for w in law.weights):
        return _formula_statement(law)
    total = f"{_twist_word(twists)} of the {_owners(twists)}"
    if signs:
        return f"The {total} add up to an even number exactly when {_rearranged(signs)}."
    if law.modulus > 2:
        return f"The {total}, each counted clockwise as seen from outside, always add up to a multiple of {law.modulus}."
    counted = f"flipped {_owners(twists)}" if _twist_word(twists) == "flips" else total
    return f"The number of {counted} is always even."


def law_latex(law: Law) -> str:
    r"""The law in LaTeX, rendered by SymPy: a congruence where it is one, else its sentence.

    ε is the sign of a sector as 0 or 1, τ its twist sum, s + t x mod 3 what happens to three pairings.

    >>> import oddswap
    >>> print(oddswap.load("cube:3").laws.laws[1].latex)
    \tau_{\text{edges}} \equiv 0 \pmod{2}
    """
    import sympy

    if law.modulus is None:
        return rf"\text{{{say(law)}}}"

    def symbol(letter: str, sector: Sector) -> sympy.Symbol:
        return sympy.Symbol(f"{letter}_{{\\text{{{name_of(sector)}}}}}")

    terms = [weight * symbol(LETTERS[part.what], part.sector) for weight, part in law.terms]
    if isinstance(law, PairingLaw) and law.shift:
        terms.append(law.shift * (1 - symbol("s", law.sectors[0])))
    return rf"{sympy.latex(sympy.Add(*terms, evaluate=False), order='none')} \equiv 0 \pmod{{{law.modulus}}}"


@says(PairingLaw)
def pairing_statement(law: PairingLaw) -> str:
    """A pairing law as one sentence."""
    hows = [_how(sector) for sector in law.sectors]
    if law.twists:
        twists = f"the twists of the {_owners(law.twists)}"
        if len(set(law.twist_weights)) > 1:
            twists += ", some of them counted the other way"
        return f"{capital(listed(hows))}: this goes round in a circle of three, always in step with {twists}."
    if len(hows) == 1:
        return _kept_pairing(law)
    if len(hows) == 2:
        return f"{capital(hows[0])}, and {hows[1]}: these two always change together, so one settles the other."
    return f"{capital(listed(hows))}: of these, all but one settle the last."


def _kept_pairing(law: PairingLaw) -> str:
    first, *others = law.sectors[0].names
    partner = others.pop(law.partner)
    ways = f"the three ways in which the four {name_of(law.sectors[0])} fall into two pairs"
    return f"Of {ways}, the turns always keep one: {first} with {partner}, and {' with '.join(others)}."


def _how(sector: Sector) -> str:
    if len(sector.slots) == 4:
        return f"how the four {name_of(sector)} fall into two pairs"
    return f"which way round the three {name_of(sector)} follow each other"


@says(OrbitLaw)
def orbit_statement(law: OrbitLaw) -> str:
    """The orbit law as one sentence."""
    sizes: dict[str, dict[str, None]] = {}
    tied: dict[str, set[int]] = {}
    for sector in law.sectors:
        kind = sector.kind
        if len(sector.slots) < len(kind.slots):
            sizes.setdefault(kind.name, {})[str(len(sector.slots))] = None
        if sector.twist < kind.twist:
            tied.setdefault(kind.family, set()).add(sector.twist)
    stay = {name: "where they are" if [*each] == ["1"] else f"in sets of {listed(each)}" for name, each in sizes.items()}
    words = [f"the {name} stay {where}" for name, where in stay.items()]
    for family, ways in tied.items():
        words.append(f"the {family} can be only {'one way' if ways == {1} else 'some ways'} round in each place")
    return f"With these turns a piece stays among its own slots: {listed(words)}."


@says(TeamLaw)
def team_law_statement(law: TeamLaw) -> str:
    """The law of teams as one sentence."""
    teams, counts = law.teams, Counter()
    for member in teams.members:
        counts[name_of(member)] += len(member.slots)
    first = [member.names[row] for member, blocks in zip(teams.members, teams.blocks, strict=True) for row in blocks[0]]
    group, one = team_word(teams), singular(team_word(teams))
    sizes = "" if len(first) in GROUPS else f" of {number_word(len(first))}"
    stay = f"stay in {number_word(len(teams.slots))} {group}{sizes}"
    also = " and keep their order round it" if any(ring.twist > 2 for ring in teams.rings) else ""
    return (
        f"The {listed(f'{count} {name}' for name, count in counts.items())} {stay}: those that start at {listed(first)} are one "
        f"{one}, and the pieces of one {one} always fill the places of one {one}{also}."
    )


@says(TogetherLaw)
def together_statement(law: TogetherLaw) -> str:
    """The law of pieces that are turned together, as two sentences."""
    return (
        f"The {len(law.offsets)} {name_of(law.sector)} turn only all together. "
        "Which way round one of them lies in its place decides which way round each of the others lies in its own."
    )


@says(RingLaw)
def ring_statement(law: RingLaw) -> str:
    """The law of a ring in three sentences."""
    how, so = "round, or over,", "the places of two neighbours decide"
    if not law.turned_over:
        how, so = "round", "the place of one decides"
    ring = listed(law.sector.names[row] for row in law.ring)
    return (
        f"The {len(law.ring)} {name_of(law.sector)} go {how} as one body. Their order round the ring never changes: {ring}. "
        f"So {so} where all the others are."
    )


@says(ProgrammeLaw)
def programme_statement(law: ProgrammeLaw) -> str:
    """The law of a programme as a tournament, with all its rounds."""
    names = law.sector.names
    rounds = "; ".join(listed(f"{names[one]} plays {names[other]}" for one, other in games) for games in law.rounds)
    return (
        f"Let the six {name_of(law.sector)} be players. Everybody plays everybody once, in five rounds of three games. "
        f"There are six such programmes, and the turns always keep this one: {rounds}."
    )


@says(BaseLaw)
def base_statement(law: BaseLaw) -> str:
    """Which pieces decide where all the others go, and how many choices these have."""
    names = list(dict.fromkeys(sector.names[row] for sector, row, _ in law.base))
    goes, have = ("goes", "It has") if len(names) == 1 else ("go", "Placed one after another, they have")
    turned = " and which way round" if any(sector.twist > 1 for sector, *_ in law.base) else ""
    sizes = [size for *_, size in law.base]
    choices = " × ".join(map(str, sizes)) if len(sizes) <= SPELT_OUT else read_number(prod(sizes))
    return (
        f"Where {listed(names)} {goes}{turned} decides all the rest of {_each(part for _, part in law.terms)}. {have} {choices} "
        f"choices, and then nothing else can move. This is one in {law.factor} of what the laws before this one allow."
    )


def _together(what: str, parts: Sequence[Measure]) -> str:
    """What is counted of several sectors together."""
    if what == "orbit":
        return "orbits"
    owners = _owners(parts) if what == "twist" else listed(name_of(part.sector) for part in parts)
    return owners if what == "team" else f"{_twist_word(parts) if what == 'twist' else what} of {owners}"


def _each(parts: Iterable[Measure]) -> str:
    return listed(f"the {name_of(part.sector)}" for part in parts)


def _rearranged(signs: list[Measure]) -> str:
    """When a sum of signs is even."""
    if len(signs) == 1:
        return f"{_each(signs)} are rearranged evenly"
    if len(signs) == 2:
        return f"{_each(signs)} are rearranged both evenly or both oddly"
    return f"an even number of these are rearranged oddly: {_each(signs)}"


def _sign_statement(signs: list[Measure]) -> str:
    if len(signs) == 1:
        return f"{capital(_each(signs))} are always rearranged evenly: by an even number of swaps."
    if len(signs) == 2:
        return f"{capital(_each(signs))} are always rearranged either both evenly or both oddly."
    return f"Among these, an even number are always rearranged oddly: {_each(signs)}."


def _twist_word(twists: Iterable[Measure]) -> str:
    """What one step of these twists is called."""
    words = {step_word(part) for part in twists}
    return words.pop() if len(words) == 1 else "twists"


def step_word(part: Measure) -> str:
    if part.modulus == 2:
        return "half turns" if "centre" in part.sector.kind.family else "flips"
    return {4: "quarter turns", 5: "fifth turns"}.get(part.modulus, "twists")


def _owners(twists: Iterable[Measure]) -> str:
    """Whose twists: single slots of one family are gathered, as in *centres U, D and F*."""
    gathered: dict[str, list[str]] = {}
    for part in twists:
        kind = part.sector.kind
        if len(kind.slots) == 1:
            gathered.setdefault(kind.family, []).append(kind.slots[0])
        else:
            gathered.setdefault(name_of(part.sector), [])
    own = {family: family if len(slots) > 1 else singular(family) for family, slots in gathered.items()}
    return listed(f"{own[family]} {listed(slots)}" if slots else family for family, slots in gathered.items())


def _formula_statement(law: CharacterLaw) -> str:
    terms = []
    for weight, part in law.terms:
        what = "oddness" if part.what == "sign" else step_word(part)
        terms.append(f"{'' if weight == 1 else f'{weight} times '}the {what} of the {name_of(part.sector)}")
    return f"{capital(' plus '.join(terms))} is always a multiple of {law.modulus}."
