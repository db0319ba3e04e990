"""Sliding tiles in a tray, as a person has them before their eyes."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass

GAP = " "


@dataclass(frozen=True)
class Tray:
    """Letters row by row; one is the gap, at home in the last place."""

    rows: tuple[str, ...]

    @property
    def gap(self) -> tuple[int, int]:
        return next((r, row.index(GAP)) for r, row in enumerate(self.rows) if GAP in row)

    def slid(self, name: str) -> Tray:
        """After the tile at a place, such as r1c2, was slid into the gap; `ValueError` unless it lies beside it."""
        found = re.fullmatch(r"r(\d+)c(\d+)", name)
        if not found:
            raise ValueError(f"{name} is no place")
        (r, c), (g, h) = (int(found[1]) - 1, int(found[2]) - 1), self.gap
        if abs(r - g) + abs(c - h) != 1 or not (0 <= r < len(self.rows) and 0 <= c < len(self.rows[0])):
            raise ValueError(f"{name} does not lie beside the gap")
        cells = [list(row) for row in self.rows]
        cells[g][h], cells[r][c] = cells[r][c], GAP
        return Tray(tuple(map("".join, cells)))

    def played(self, word: str) -> Tray:
        tray = self
        for name in word.split():
            tray = tray.slid(name)
        return tray

    def neighbours(self) -> list[str]:
        """The places of the tiles beside the gap."""
        g, h = self.gap
        around = ((g - 1, h), (g + 1, h), (g, h - 1), (g, h + 1))
        return [f"r{r + 1}c{c + 1}" for r, c in around if 0 <= r < len(self.rows) and 0 <= c < len(self.rows[0])]


def solved_tray(rows: int, columns: int, letters: str) -> Tray:
    text = letters + GAP
    return Tray(tuple(text[r * columns : (r + 1) * columns] for r in range(rows)))


def mixed_tray(tray: Tray, length: int, dice: random.Random) -> Tray:
    for _ in range(length):
        tray = tray.slid(dice.choice(tray.neighbours()))
    while tray.gap != (len(tray.rows) - 1, len(tray.rows[0]) - 1):  # brought home, as a ticket tells the other places alone
        g, h = tray.gap
        tray = tray.slid(f"r{g + 2}c{h + 1}" if g + 1 < len(tray.rows) else f"r{g + 1}c{h + 2}")
    return tray


def told(puzzle: str, tray: Tray, home: Tray, dice: random.Random) -> str:
    """The ticket of somebody who says which tile lies where; of equal letters they name any."""
    places = {f"r{r + 1}c{c + 1}": home.rows[r][c] for r in range(len(home.rows)) for c in range(len(home.rows[0]))}
    lines = [f'puzzle = "{puzzle}"', "[slots]"]
    for r, row in enumerate(tray.rows):
        for c, letter in enumerate(row):
            if letter != GAP:
                lines.append(f'r{r + 1}c{c + 1} = "{dice.choice([place for place, own in places.items() if own == letter])}"')
    return "\n".join(lines) + "\n"
