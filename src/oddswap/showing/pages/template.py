"""Templates: files that lie beside the code that fills them in, and data for the scripts in them."""

import json
import re
from pathlib import Path

from oddswap.showing.ink.palette import coloured


def fill_template(beside: str, name: str, **parts: str) -> str:
    """The file ``name`` beside a module's file, in our colours, with ``{{part}}`` filled in; `KeyError` for a part not given."""
    text = coloured(Path(beside).with_name(name).read_text("utf-8"))
    return re.sub(r"\{\{(\w+)\}\}", lambda place: parts[place[1]], text)


def script_data(data: object) -> str:
    """Plain data as JSON within a script of a page: no text in it can end the script."""
    return json.dumps(data, separators=(",", ":")).replace("<", "\\u003c")
