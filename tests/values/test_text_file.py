"""Text files that people name: only regular ones are opened, and what is too much is refused before it is parsed."""

import os
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.errors import BadStory
from oddswap.values.text_file import STRING, parse_toml, read_bytes, read_text


def said(call, *arguments):
    with pytest.raises(BadStory) as caught:
        call(*arguments)
    assert str(caught.value).isprintable()
    return str(caught.value)


def test_a_file_is_read_with_and_without_a_byte_order_mark(tmp_path):
    for text in ("é\r\n", "\ufeffé\r\n"):
        (tmp_path / "a").write_bytes(text.encode())
        assert read_text(tmp_path / "a", "the file", BadStory) == "é\r\n"
    (tmp_path / "link").symlink_to(tmp_path / "a")
    assert read_bytes(tmp_path / "link", 3) == "\ufeff".encode() + b"\xc3"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes and devices as Unix has them")
def test_what_is_no_file_is_refused_unopened(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    cases = {tmp_path / "pipe": "a pipe", tmp_path: "a folder", tmp_path / "none": "No such file", tmp_path / "\0": "null"}
    for path, words in {**cases, type(tmp_path)("/dev/zero"): "a device"}.items():
        assert words in said(read_text, path, "the file", BadStory)


def test_what_is_too_long_or_no_text_is_refused(tmp_path):
    (tmp_path / "a").write_bytes(b"one\ntwo \xff\n")
    assert "`… is no text in UTF-8 from line 2 on" in said(read_text, tmp_path / "a", "it", BadStory).replace("/a`", "`…")
    assert "longer than 5 bytes" in said(read_text, tmp_path / "a", "it", BadStory, 5)


DEEP = "[" * 40
MUCH = {
    "a = 1\nb = " + "9" * 5000: "it, line 2: a number or word has more than 100 characters",
    "b = 0x" + "f" * 150_000: "line 1: a number or word has more",
    "note = '''\n[[[\n'''\nb = " + DEEP: "it, line 4: brackets are nested more than 32 deep",
    "b = " + "{a=" * 5000: "brackets are nested",
    "a = 1\n" + ".".join("a" * 30_000) + " = 1": "it, line 2: a number or word has more than 100 characters: sh",
    "[" + " . ".join(["a", '"b"'] * 500) + "]": "a key has more than 8 parts",
    '''a = """x"""", b = "''' + DEEP: "this is not TOML",
    "a = '''\n" + DEEP: "it, line 2: this is not TOML: Expected",
    "a = 2026-02-30": "it, line 1: this is not TOML: Invalid date",
}


@pytest.mark.parametrize("text", MUCH, ids=MUCH.values())
def test_what_is_too_much_is_refused_with_its_line(text):
    assert MUCH[text] in said(parse_toml, text, "it", BadStory)


def test_strings_and_comments_may_hold_anything():
    held = DEEP + "a." * 50 + "9" * 500
    text = f'# {held}\n"{held}" = "{held}\\"{held}"\nb = """{held}\n\\"""{held}"""\nc = \'{held}\'\nd = \'\'\'{held}\n\'\'\'\n'
    assert parse_toml(text, "it", BadStory) == tomllib.loads(text)


@given(st.text(st.sampled_from("\"'\\\n#[a.="), max_size=40))
def test_strings_end_where_toml_ends_them(inner):
    """Whatever is in a document that Python reads, no bracket or dot of a string is left over."""
    text = f"a = {inner}"
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    if isinstance(read["a"], str) and len(read) == 1:
        assert STRING.sub("_", text).replace("\n", "").strip() in ("a = _", "a = __")
