"""Every key of a ticket, by its row in the README: it stands there, and a ticket with it is answered."""

import json
import re
from pathlib import Path

import pytest

from oddswap.__main__ import main
from oddswap.describing import habits, ticket, tickets
from tests.common.pictured import COLOURS, lay_ticket

ROOT = Path(__file__).parents[2]
ROWS = re.findall(r"^\| `([a-z_.]+)` \| .+ \| `(.+)` \|$", (ROOT / "README.md").read_text("utf-8"), re.MULTILINE)


def test_the_table_has_every_key_and_no_other():
    nested = {"mine": ticket.KEYS, "notation": habits.KEYS}
    wanted = [f"{key}.{part}" for key in tickets.KEYS for part in nested.get(key, ())]
    assert sorted(key for key, _ in ROWS) == sorted([*(key for key in tickets.KEYS if key not in nested), *wanted])


@pytest.mark.parametrize("key, line", ROWS, ids=[key for key, _ in ROWS])
def test_a_ticket_with_the_key_of_a_row_is_answered(key, line, tmp_path, capsys):
    """Beside it stands what a ticket cannot do without: a puzzle, and what is seen."""
    lines = {"puzzle": 'puzzle = "cube:3"', "after": 'after = "R2 U2"'}
    if key == "elsewhere":
        lines["after"] = 'slots.UF = "UF"'
    elif key in ("seen", "slots", "photograph"):
        del lines["after"]
    if key == "photograph":
        lay_ticket(tmp_path)
        lines["colours"] = "\n".join(f"colours.{facet} = '{word}'" for facet, word in COLOURS.items())
    lines[key] = line
    path = tmp_path / "told.toml"
    path.write_text("\n".join(lines.values()))
    assert main(["answer", str(path), "--json", "--seconds", "4"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["verdict"]
