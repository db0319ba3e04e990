"""What sectors are called: by their kind, by a slot where the turns split the kind, or as teams."""

from oddswap.reasoning.laws.sectors import Sector
from oddswap.reasoning.laws.teams import Rings, Shares, Teams
from oddswap.values.grammar import listed, singular
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import names

GROUPS = {2: "pairs", 3: "trios"}
"""What teams of so many are called; larger ones are teams."""


def team_word(teams: Teams) -> str:
    """``pairs``, ``trios`` or ``teams``, by how many pieces are in one."""
    return GROUPS.get(sum(len(blocks[0]) for blocks in teams.blocks), "teams")


@names(Sector, Shares)
def sector_name(sector: Sector, reader: Reader = EXPLAINER) -> str:
    """The kind's name; where the turns split the kind, one of the sector's slots tells it apart."""
    kind = sector.kind
    if sector.whole or len(sector.slots) == len(kind.slots):
        return kind.name
    if len(sector.slots) == 1:
        return f"{singular(kind.family)} {sector.names[0]}"
    return f"{kind.family} like {sector.names[0]}"


@names(Teams, Rings)
def teams_name(named: Teams | Rings, reader: Reader = EXPLAINER) -> str:
    """``pairs of wings``, or for one member alone that goes round in them; where the turns split a kind, a slot tells which."""
    teams, members = (named.teams, (named.member,)) if isinstance(named, Rings) else (named, named.members)
    families = listed(dict.fromkeys(member.kind.family for member in members))
    plain = len(teams.members) == 1 and sector_name(teams.members[0]) == families
    return f"{team_word(teams)} of {families}" + ("" if plain else f" like that of {members[0].names[0]}")
