"""Laws in words and in LaTeX."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from oddswap.reasoning.characters import Law
    from oddswap.reasoning.law_kinds import OrbitLaw, OtherLaw
    from oddswap.reasoning.pairings import PairingLaw
    from oddswap.reasoning.sectors import Coordinate, Sector
    from oddswap.reasoning.teams import Teams



def capital(text: str) -> str:
    """The text with a capital letter at its start, and nothing else changed."""
    return text[:1].upper() + text[1:]


def listed(words: Iterable[str]) -> str:
    """``a, b and c``.

    >>> listed(["corners", "edges", "centres"])
    'corners, edges and centres'
    """
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def sector_name(sector: Sector) -> str:
    """The kind's name; where the turns split the kind, one of the sector's slots tells it apart."""
    if sector.called:
        return sector.called
    kind = sector.kind
    if sector.whole or len(sector.slots) == len(kind.slots):
        return kind.name
    first = kind.slots[sector.slots[0] - kind.start]
    if len(sector.slots) == 1:
        return f"{kind.family.removesuffix('s')} {first}"
    return f"{kind.family} like {first}"


def parts_name(parts: list[Coordinate]) -> str:
    """One quantity: the sign of a sector, its twists, or the twists of several single slots together."""
    if parts[0].what == "sign":
        return f"sign of {sector_name(parts[0].sector)}"
    return f"{_twist_word(parts)} of {_owners(parts)}"


def law_name(law: Law) -> str:
    """A short name: what the law is about."""
    signs = [part for part in law.parts if part.what == "sign"]
    twists = [part for part in law.parts if part.what == "twist"]
    names = []
    if signs:
        names.append(f"sign of {listed(sector_name(p.sector) for p in signs)}")
    if twists:
        names.append(f"{_twist_word(twists)} of {_owners(twists)}")
    return " and ".join(names)


def law_statement(law: Law) -> str:
    """One sentence that a hobbyist understands."""
    signs = [part for part in law.parts if part.what == "sign"]
    twists = [part for part in law.parts if part.what == "twist"]
    plain = all(w == 1 for w in law.weights) or law.modulus == 2
    if not twists:
        return _sign_statement(signs)
    if not plain:
        return _formula_statement(law)
    total = f"the {_twist_word(twists)} of the {_owners(twists)}"
    if not signs:
        if law.modulus == 2 and _twist_word(twists) == "flips":
            return f"The number of flipped {_owners(twists)} is always even."
        if law.modulus == 2:
            return f"The number of {_twist_word(twists)} of the {_owners(twists)} is always even."
        return (
            f"T{total[1:]}, each counted clockwise as seen from outside, always add up to a multiple of {law.modulus}."
        )
    return f"T{total[1:]} add up to an even number exactly when {_rearranged(signs)}."


def law_latex(law: Law | PairingLaw | OrbitLaw | OtherLaw) -> str:
    """The law in LaTeX, rendered by SymPy: a congruence where it is one, else its sentence.

    ε is the sign of a sector as 0 or 1, τ its twist sum, s + t x mod 3 what happens to three pairings.
    """
    import sympy

    if law.type in ("orbit", "other"):
        return rf"\text{{{law.statement}}}"

    def symbol(letter: str, sector: Sector) -> sympy.Symbol:
        return sympy.Symbol(f"{letter}_{{\\text{{{sector_name(sector)}}}}}")

    def coordinate(part: Coordinate) -> sympy.Symbol:
        return symbol(r"\varepsilon" if part.what == "sign" else r"\tau", part.sector)

    if law.type == "pairing":
        terms = [w * symbol("t", sector) for w, sector in zip(law.weights, law.sectors, strict=True)]
        terms += [w * coordinate(part) for w, part in zip(law.twist_weights, law.twists, strict=True)]
        terms += [law.shift * (1 - symbol("s", law.sectors[0]))] if law.shift else []
    else:
        terms = [w * coordinate(part) for w, part in zip(law.weights, law.parts, strict=True)]
    total = sympy.latex(sympy.Add(*terms, evaluate=False), order="none")
    return rf"{total} \equiv 0 \pmod{{{law.modulus}}}"


GROUPS = {2: "pairs", 3: "trios"}
NUMBERS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 8: "eight", 9: "nine", 10: "ten", 12: "twelve"}


def _in_words(number: int) -> str:
    return NUMBERS.get(number, str(number))


def pairing_name(law: PairingLaw) -> str:
    """A short name for a pairing law."""
    names = f"pairing of {listed(sector_name(sector) for sector in law.sectors)}"
    return f"{names} and twists of {_owners(law.twists)}" if law.twists else names


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
    """What a law on one sector says: one pairing stays, ``x = s x + t`` for the s and t that the law allows."""
    (sector,) = law.sectors
    first, *others = (sector.kind.slots[slot - sector.kind.start] for slot in sector.slots)
    partner = others.pop(-law.shift * law.weights[0] % 3)
    ways = f"the three ways in which the {NUMBERS[4]} {sector_name(sector)} fall into two pairs"
    return f"Of {ways}, the turns always keep one: {first} with {partner}, and {' with '.join(others)}."


def _how(sector: Sector) -> str:
    number = NUMBERS[len(sector.slots)]
    if len(sector.slots) == 4:
        return f"how the {number} {sector_name(sector)} fall into two pairs"
    return f"which way round the {number} {sector_name(sector)} follow each other"


def orbit_statement(split: Sequence[Sector]) -> str:
    """The orbit law as one sentence."""
    sizes: dict[str, list[int]] = {}
    tied: dict[str, list[Sector]] = {}
    for sector in split:
        kind = sector.kind
        if len(sector.slots) < len(kind.slots):
            sizes.setdefault(kind.name, []).append(len(sector.slots))
        if sector.twist < kind.twist:
            tied.setdefault(kind.family, []).append(sector)
    words = [f"the {name} stay in sets of {listed(dict.fromkeys(map(str, each)))}" for name, each in sizes.items()]
    for family, members in tied.items():
        ways = {sector.twist for sector in members}
        how = "only one way round" if ways == {1} else "only some ways round"
        words.append(f"the {family} can be {how} in each place")
    return f"With these turns a piece stays among its own slots: {listed(words)}."


def teams_name(teams: Teams, member: Sector | None = None) -> str:
    """What teams are called: ``pairs of wings``; where the turns split a kind, a slot tells which, as for one member alone."""
    group = GROUPS.get(sum(len(blocks[0]) for blocks in teams.blocks), "teams")
    families = listed(dict.fromkeys(each.kind.family for each in ([member] if member else teams.members)))
    plain = len(teams.members) == 1 and sector_name(teams.members[0]) == families
    first = (member or teams.members[0]).slots[0] - (member or teams.members[0]).kind.start
    return f"{group} of {families}" if plain else f"{group} of {families} like that of {(member or teams).kind.slots[first]}"


def teams_statement(teams: Teams) -> str:
    """The law of teams as one sentence."""
    counts: dict[str, int] = {}
    for member in teams.members:
        counts[sector_name(member)] = counts.get(sector_name(member), 0) + len(member.slots)
    shares = zip(teams.members, teams.blocks, strict=True)
    slots = [member.kind.slots[member.slots[row] - member.kind.start] for member, blocks in shares for row in blocks[0]]
    group = GROUPS.get(len(slots), "teams")
    sizes = "" if len(slots) in GROUPS else f" of {_in_words(len(slots))}"
    stay = f"stay in {_in_words(len(teams.slots))} {group}{sizes}"
    one = group.removesuffix("s")
    first = f"those that start at {listed(slots)} are one {one}"
    also = " and keep their order round it" if any(ring.twist > 2 for ring in teams.rings) else ""
    return (
        f"The {listed(f'{count} {name}' for name, count in counts.items())} {stay}: {first}, "
        f"and the pieces of one {one} always fill the places of one {one}{also}."
    )


def other_statement(small: Sequence[Sector], factor: int) -> str:
    """What is left to say of small sectors, by name."""
    names = listed(f"the {sector_name(s)}" for s in small if s.signed)
    return (
        f"What the turns can do to {names}, taken together, is less than the laws before this one allow: "
        f"one in {factor} of these rearrangements."
    )


def _rearranged(signs: list[Coordinate]) -> str:
    """When a sum of signs is even."""
    owners = listed(f"the {sector_name(p.sector)}" for p in signs)
    if len(signs) == 1:
        return f"{owners} are rearranged evenly"
    if len(signs) == 2:
        return f"{owners} are rearranged both evenly or both oddly"
    return f"an even number of these are rearranged oddly: {owners}"


def _sign_statement(signs: list[Coordinate]) -> str:
    names = [sector_name(part.sector) for part in signs]
    if len(names) == 1:
        return f"The {names[0]} are always rearranged evenly: by an even number of exchanges."
    if len(names) == 2:
        return f"The {names[0]} and the {names[1]} are always rearranged either both evenly or both oddly."
    return f"Among these, an even number are always rearranged oddly: {listed(f'the {name}' for name in names)}."


def _twist_word(twists: list[Coordinate]) -> str:
    """What one step of these twists is called."""
    words = {_step_word(part) for part in twists}
    return words.pop() if len(words) == 1 else "twists"


def _step_word(part: Coordinate) -> str:
    if part.modulus == 2:
        return "half turns" if "centre" in part.sector.kind.family else "flips"
    return {3: "twists", 4: "quarter turns", 5: "fifth turns"}.get(part.modulus, "twists")


def _owners(twists: list[Coordinate]) -> str:
    """Whose twists: single slots of one family are gathered, as in *centres U, D and F*."""
    gathered: dict[str, list[str]] = {}
    for part in twists:
        kind = part.sector.kind
        if len(kind.slots) == 1:
            gathered.setdefault(kind.family, []).append(kind.slots[0])
        else:
            gathered.setdefault(sector_name(part.sector), [])
    words = []
    for family, slots in gathered.items():
        if not slots:
            words.append(family)
        else:
            words.append(f"{family if len(slots) > 1 else family.removesuffix('s')} {listed(slots)}")
    return listed(words)


def _formula_statement(law: Law) -> str:
    terms = []
    for part, weight in zip(law.parts, law.weights, strict=True):
        what = "oddness" if part.what == "sign" else _step_word(part)
        times = "" if weight == 1 else f"{weight} times "
        terms.append(f"{times}the {what} of the {sector_name(part.sector)}")
    return f"{capital(' plus '.join(terms))} is always a multiple of {law.modulus}."


def told(value: int) -> str:
    """A number for reading: in groups of three, or rounded when it has more than fifteen digits.

    >>> told(43252003274489856000), told(88179840)
    ('about 4.33 × 10^19', '88 179 840')
    """
    if value < 10**15:
        return f"{value:,}".replace(",", " ")
    digits = len(str(value)) - 1
    return f"about {value // 10 ** (digits - 6) / 10**6:.2f} × 10^{digits}"
