"""Readers of the formats that the package writes: what a person reads in a file, and what in it is more than text.

``live`` is whatever a reader of the format would make something of: tags with their attributes, links, emphasis, cues, styles.
"""

from __future__ import annotations

import io
import json
import re
import subprocess
import tomllib
import unicodedata
from dataclasses import dataclass
from html import unescape
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import ipywidgets as widgets
import mistune
import webvtt
from myst_parser.config.main import MdParserConfig
from myst_parser.mdit_to_docutils.base import DocutilsRenderer
from myst_parser.parsers.mdit import create_md_parser
from PIL import Image
from pypdf import PdfReader
from rich.ansi import AnsiDecoder

PLUGINS = ["strikethrough", "table", "url", "math", "footnotes", "task_lists", "def_list"]
DIRECTIONS = {*map(chr, (0x200E, 0x200F, 0x61C)), *map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A))}


@dataclass(frozen=True)
class Reading:
    """What stands in a file, and what is live in it."""

    text: str
    live: tuple = ()
    whole: bool = True
    """Whether nothing was cut short for want of room."""

    @property
    def unseen(self) -> set[str]:
        """Control characters, but for ends of lines, and characters that turn the direction of text."""
        return {c for c in self.text if c != "\n" and (unicodedata.category(c) in ("Cc", "Zl", "Zp") or c in DIRECTIONS)}


def read_plain(text: str) -> Reading:
    return Reading(text, (text.count("\n"),))


def read_paths(text: str) -> Reading:
    """Where files lie, which were named by the package, or by whoever typed the folder."""
    return Reading(re.sub(r"zq\.\d\d", "", text), (text.count("\n"),))


class _Tags(HTMLParser):
    """Every tag with its attributes, and all text; what stands in attributes is read, too."""

    def __init__(self):
        super().__init__()
        self.text, self.live, self.within = [], [], ""

    def handle_starttag(self, tag, attrs):
        schemes = (re.match(r"\w+:", value or "") for name, value in attrs if name in ("href", "src"))
        self.live.append((tag, *(name for name, _ in attrs), *(found[0] for found in schemes if found)))
        self.text += [value or "" for name, value in attrs if name not in ("href", "src", "style")]
        self.within = tag

    def handle_endtag(self, tag):
        self.live.append(("/", tag))
        self.within = ""

    def handle_data(self, data):
        begun = re.match(r"\s*(?=\{\")|.*?const story = ", data, re.DOTALL) if self.within == "script" else None
        self.text.append(_flat(json.JSONDecoder().raw_decode(data, begun.end())[0]) if begun else data)

    def handle_comment(self, data):
        self.live.append(("comment", data))

    def unknown_decl(self, data):
        self.live.append(("declared", data))


def read_html(page: str) -> Reading:
    reader = _Tags()
    reader.feed(page)
    reader.close()
    return Reading("\n".join(reader.text), tuple(reader.live))


def read_markdown(text: str) -> Reading:
    """As a reader does that knows every extension."""
    said, live = [], []

    def walk(tokens):
        for token in tokens:
            live.append((token["type"], *sorted((k, str(v)) for k, v in token.get("attrs", {}).items())))
            raw = token.get("raw", "")
            said.append(unescape(raw) if token["type"] == "text" else raw)
            walk(token.get("children", ()))

    walk(mistune.create_markdown(renderer="ast", plugins=PLUGINS)(text))
    return Reading("".join(said), tuple(part for part in live if part[0] not in ("text", "blank_line")))


def read_myst(text: str) -> Reading:
    """As the edition's pages are read."""
    config = MdParserConfig(enable_extensions={"dollarmath", "colon_fence", "strikethrough", "deflist", "tasklist"})
    said, live = [], []

    def walk(tokens):
        for token in tokens or ():
            if token.type not in ("text", "inline"):
                live.append((token.type, token.tag, *sorted(token.attrs.items())))
            html = read_html(token.content) if token.type.startswith("html") else None
            live.extend(html.live if html else ())
            if not token.children:
                said.append(html.text if html else token.content)
            walk(token.children)

    walk(create_md_parser(config, DocutilsRenderer).parse(text))
    return Reading("".join(said), tuple(live))


def both(one: Reading, other: Reading) -> Reading:
    return Reading(f"{one.text}\n{other.text}", (*one.live, "and", *other.live))


def read_script(text: str) -> Reading:
    """The data of a script that is data; in any other nothing comes from a file."""
    data = re.fullmatch(r"(?:const ALARMS = |Search\.setIndex\()(\{.*\})\)?;?\s*", text, re.DOTALL)
    if not data:
        return Reading(text)
    found = json.loads(data[1])
    return Reading(_flat([found[key] for key in ("titles", "alltitles", "puzzles", "texts") if key in found]))


def read_json(text: str) -> Reading:
    return Reading(_flat(json.loads(text)))


def read_toml(text: str) -> Reading:
    return Reading(_flat(tomllib.loads(text)))


def _flat(data) -> str:
    """Every text in plain data, keys and values."""
    if isinstance(data, dict):
        return "\n".join(f"{key}\n{_flat(value)}" for key, value in data.items())
    return "\n".join(map(_flat, data)) if isinstance(data, list | tuple) else str(data)


def read_vtt(text: str) -> Reading:
    cues = webvtt.from_string(text)
    raw = [cue.raw_text for cue in cues]
    return Reading("\n".join(unescape(one) for one in raw), tuple(re.findall(r"<[^>]*>?", "".join(raw))))


def read_srt(text: str) -> Reading:
    cues = webvtt.from_buffer(io.StringIO(text), format="srt")
    said = "\n".join(cue.raw_text for cue in cues)
    return Reading(said, tuple(re.findall(r"<[^>]*>?|\{[^}]*\}?", said)))


def read_pdf(data: bytes) -> Reading:
    document = PdfReader(io.BytesIO(data))
    live = [str(page.get(key)) for page in document.pages for key in ("/Annots", "/AA") if key in page and page[key]]
    live += [key for key in ("/OpenAction", "/Names", "/AcroForm") if key in document.root_object]
    said = [*(page.extract_text() for page in document.pages), *map(str, (document.metadata or {}).values())]
    return Reading("\n".join(said), tuple(live))


def read_png(data: bytes) -> Reading:
    found = Image.open(io.BytesIO(data))
    found.load()
    texts = {name: value for name, value in found.info.items() if name != "transparency"}
    return Reading(_flat(texts), tuple(sorted(texts)))


def read_svg(data: bytes) -> Reading:
    """A line of text is a comment before the outlines of its letters: as many as it has, if it is set as it stands."""
    parser = ElementTree.XMLParser(target=ElementTree.TreeBuilder(insert_comments=True))
    root = ElementTree.fromstring(data, parser)
    said, live = [], {part.tag.rpartition("}")[2] for part in root.iter() if isinstance(part.tag, str)}
    for group in root.iter():
        for line, drawn in pairwise(group):
            if line.tag is ElementTree.Comment:
                text = unescape(line.text[1:-1]).replace("- -", "--")
                said += [text] * ("…" not in text)
                outlines = sum(str(part.tag).endswith("}use") for part in drawn.iter())
                live |= {f"mathematics: {text}"} if outlines != len(re.sub("ff[il]|f[fil]", "ﬁ", text)) else set()
    links = {value for part in root.iter() for name, value in part.attrib.items() if name.endswith("href") and value[:1] != "#"}
    return Reading("\n".join(said), (*sorted(live), *sorted(links)), whole=False)


STYLES = (b"styl", b"hlit", b"hclr", b"krok", b"dlay", b"href", b"tbox", b"blnk", b"twrp")


def read_clip(program: str, path: Path) -> Reading:
    """A clip's title and chapters as ffmpeg reads them, and its captions.

    Each is its length in two bytes, its text and boxes of styles (3GPP TS 26.245, from memory).
    """
    said = subprocess.run([program, "-hide_banner", "-i", str(path)], capture_output=True, text=True).stderr
    titles = re.findall(r"title +: (.*)", said)
    whole = [program, "-loglevel", "error", "-i", str(path), *"-map 0:s -c copy -f data -".split()]
    left, boxes = subprocess.run(whole, capture_output=True, check=True).stdout, []
    while left:
        end = 2 + int.from_bytes(left[:2])
        titles.append(left[2:end].decode())
        while (left := left[end:])[4:8] in STYLES:
            boxes.append(left[4:8])
            end = int.from_bytes(left[:4])
    tags = sorted(re.findall(r"^ +(\w+) +: ", said, re.MULTILINE))
    return Reading("\n".join(titles), (said.count("Chapter #"), *tags, *boxes))


def read_terminal(text: str) -> Reading:
    """As a terminal shows it: the words, and every style and link that is on."""
    lines = list(AnsiDecoder().decode(text))
    styles = {str(span.style) for line in lines for span in line.spans}
    return Reading("\n".join(line.plain for line in lines), tuple(sorted(styles)))


def read_widget(widget: widgets.Widget) -> Reading:
    """All that a widget and those in it send to the browser; of HTML, what it is there."""
    said, live = [], []

    def walk(one):
        live.append(type(one).__name__)
        if getattr(one, "description_allow_html", False):
            live.append(one.description)
        for name in one.keys:
            value = getattr(one, name)
            if name == "value" and isinstance(one, widgets.HTML):
                found = read_html(value)
                said.append(found.text)
                live.extend(found.live)
            elif name[:1] != "_" and not isinstance(value, bytes | widgets.Widget) and name not in ("children", "picture"):
                said.append(_flat(value))
            elif name == "picture" and value:
                said.append(read_svg(value.encode()).text)
        for child in getattr(one, "children", ()):
            walk(child)

    walk(widget)
    return Reading("\n".join([*said, repr(widget)]), tuple(live))
