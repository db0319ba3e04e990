"""What a command may replace or remove: what it wrote itself and nobody changed, in one run at a time, killed or not."""

from __future__ import annotations

import hashlib
import json
import os
import threading

import pytest

from oddswap.errors import BadOption
from oddswap.showing.pages import output_folder
from oddswap.showing.pages.output_folder import HOME, LIST, open_folder
from tests.common.folders import files_in, names_in


def lay(folder, by="page", force=False, of="", **texts):
    """Lay files in a folder, ``page_md`` standing for ``page.md``; the names that they were given."""
    with open_folder(folder, force) as out:
        files = {name.replace("__", "/").replace("_", "."): text for name, text in texts.items()}
        for name, text in files.items():
            (out.making / name).parent.mkdir(exist_ok=True)
            (out.making / name).write_text(text)
        return [path.relative_to(folder).as_posix() for path in out.lay(by, {name: out.making / name for name in files}, of)]


def texts_in(folder):
    return {name: data.decode() for name, data in files_in(folder).items()}


def test_what_was_written_is_replaced_and_what_is_not_written_again_goes_with_its_folder(tmp_path, capsys):
    assert lay(tmp_path / "new" / "out", page_md="1", deep__one_md="1") == ["page.md", "deep/one.md"]
    assert lay(tmp_path / "new" / "out", page_md="2") == ["page.md"]
    assert texts_in(tmp_path) == {"new/out/page.md": "2"} and names_in(tmp_path / "new" / "out") == {"page.md"}
    assert {path.name for path in (tmp_path / "new" / "out" / HOME).iterdir()} == {LIST}
    assert capsys.readouterr().err == ""


def test_what_was_changed_stays_and_the_new_one_lies_beside_it_until_there_is_room(tmp_path, capsys):
    lay(tmp_path, page_md="1", other_md="1")
    (tmp_path / "page.md").write_text("mine")
    for text in "23":
        assert lay(tmp_path, page_md=text, other_md=text) == ["page.new.md", "other.md"]
        assert texts_in(tmp_path) == {"page.md": "mine", "page.new.md": text, "other.md": text}
        said = capsys.readouterr().err
        assert said.count("\n") == 1 and f"{tmp_path / 'page.md'}`" in said and "`page.new.md`" in said and "--force" in said
    (tmp_path / "page.new.md").write_text("mine, too")
    assert lay(tmp_path, page_md="4") == ["page.new2.md"]
    assert texts_in(tmp_path) == {"page.md": "mine", "page.new.md": "mine, too", "page.new2.md": "4"}
    (tmp_path / "page.md").unlink()
    assert lay(tmp_path, page_md="5") == ["page.md"]
    assert texts_in(tmp_path) == {"page.md": "5", "page.new.md": "mine, too"}


def test_what_was_changed_and_is_not_written_again_stays(tmp_path):
    lay(tmp_path, page_md="1", picture_svg="1")
    (tmp_path / "picture.svg").write_text("mine")
    lay(tmp_path, page_md="2", force=True)
    assert texts_in(tmp_path) == {"page.md": "2", "picture.svg": "mine"}


def test_force_replaces_what_is_in_the_way_and_nothing_else(tmp_path, capsys):
    lay(tmp_path, page_md="1")
    for name in ("page.md", "picture.svg", "holiday.svg"):
        (tmp_path / name).write_text("mine")
    lay(tmp_path, page_md="2", picture_svg="2")
    assert lay(tmp_path, page_md="3", picture_svg="3", force=True) == ["page.md", "picture.svg"]
    assert texts_in(tmp_path) == {"page.md": "3", "picture.svg": "3", "holiday.svg": "mine"}
    assert capsys.readouterr().err.count("\n") == 2


def test_a_file_of_the_same_bytes_is_nobodys_but_the_users(tmp_path, capsys):
    (tmp_path / "page.md").write_text("1")
    assert lay(tmp_path, page_md="1") == ["page.md"] and capsys.readouterr().err == ""
    assert lay(tmp_path, page_md="2") == ["page.new.md"] and texts_in(tmp_path) == {"page.md": "1", "page.new.md": "2"}


def test_two_commands_in_one_folder_leave_one_another_alone(tmp_path):
    lay(tmp_path, page_md="1", picture_svg="1")
    lay(tmp_path, "other", other_md="1")
    lay(tmp_path, page_md="2")
    assert texts_in(tmp_path) == {"page.md": "2", "other.md": "1"}


@pytest.mark.parametrize("kind", ["link", "dangling link", "folder"])
def test_what_is_no_plain_file_is_left_alone(tmp_path, kind):
    (tmp_path / "theirs").write_text("mine")
    out = tmp_path / "out"
    lay(out, page_md="1")
    (out / "page.md").unlink()
    if kind == "folder":
        (out / "page.md").mkdir()
    else:
        (out / "page.md").symlink_to(tmp_path / ("theirs" if kind == "link" else "nowhere"))
    assert lay(out, page_md="2") == ["page.new.md"]
    assert (tmp_path / "theirs").read_text() == "mine" and ((out / "page.md").is_symlink() or (out / "page.md").is_dir())


def test_a_list_that_names_files_elsewhere_removes_none(tmp_path):
    outside, out = tmp_path / "outside", tmp_path / "out"
    outside.write_text("theirs")
    lay(out, page_md="1")
    (out / "inside").symlink_to(tmp_path)
    entry = {"by": "page", "of": "", "sums": [hashlib.sha256(b"theirs").hexdigest()]}
    listed = {name: entry for name in ("../outside", str(outside), "inside/outside", "a\0b", "")}
    (out / HOME / LIST).write_text(json.dumps(listed))
    lay(out, page_md="1")
    assert outside.read_text() == "theirs"


@pytest.mark.parametrize("text", ["", "{", "[3]", '{"page.md": 3}', '{"page.md": {"by": "page"}}', "[" * 100_000, "\udcff"])
def test_where_the_list_is_damaged_all_that_lies_there_is_somebodys(tmp_path, text):
    lay(tmp_path, page_md="1")
    (tmp_path / HOME / LIST).write_text(text, errors="surrogateescape")
    assert lay(tmp_path, page_md="2") == ["page.new.md"] and texts_in(tmp_path) == {"page.md": "1", "page.new.md": "2"}
    assert lay(tmp_path, page_md="3") == ["page.new.md"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes as Unix has them")
def test_a_pipe_in_the_place_of_the_list_is_not_waited_for(tmp_path):
    lay(tmp_path, page_md="1")
    (tmp_path / HOME / LIST).unlink()
    os.mkfifo(tmp_path / HOME / LIST)
    assert lay(tmp_path, page_md="2") == ["page.new.md"] and (tmp_path / HOME / LIST).is_file()


def test_what_is_up_to_date_need_not_be_made_again(tmp_path):
    def up_to_date(of, force=False):
        with open_folder(tmp_path, force) as out:
            return out.up_to_date("page", of)

    lay(tmp_path, page_md="1", of="story")
    assert up_to_date("story") == tmp_path / "page.md"
    assert up_to_date("other") is up_to_date("") is up_to_date("story", force=True) is None
    (tmp_path / "page.md").write_text("mine")
    assert up_to_date("story") == tmp_path / "page.md"
    (tmp_path / "page.md").unlink()
    assert up_to_date("story") is None


@pytest.mark.parametrize("stop", [KeyboardInterrupt, OSError(28, "No space left on device")])
@pytest.mark.parametrize("moved", range(3))
def test_a_stop_while_files_are_moved_in_is_mended_by_the_next_run(tmp_path, monkeypatch, capsys, stop, moved):
    lay(tmp_path, of="1", a_md="1", b_md="1", c_md="1")
    replace, left = output_folder.os.replace, iter(range(moved))

    def stopped(source, target):
        if target.suffix == ".md" and next(left, None) is None:
            raise stop
        replace(source, target)

    monkeypatch.setattr(output_folder.os, "replace", stopped)
    with pytest.raises((KeyboardInterrupt, BadOption)):
        lay(tmp_path, of="2", a_md="2", b_md="2", c_md="2")
    monkeypatch.undo()
    assert [texts_in(tmp_path)[name] for name in ("a.md", "b.md", "c.md")] == ["2"] * moved + ["1"] * (3 - moved)
    with open_folder(tmp_path) as out:
        assert out.up_to_date("page", "2") is None
    assert lay(tmp_path, of="3", a_md="3", b_md="3") == ["a.md", "b.md"]
    assert texts_in(tmp_path) == {"a.md": "3", "b.md": "3"} and capsys.readouterr().err == ""


def test_a_run_that_lays_nothing_leaves_nothing(tmp_path):
    with pytest.raises(KeyError), open_folder(tmp_path / "new"):
        raise KeyError
    assert list(tmp_path.iterdir()) == []


def test_one_run_waits_for_another_even_if_that_takes_its_folder_away(tmp_path, capsys):
    inside, done, order = threading.Event(), threading.Event(), []

    def first():
        with open_folder(tmp_path / "out"):
            inside.set()
            done.wait(30)
            order.append("first")

    def second():
        order.extend(lay(tmp_path / "out", page_md="1"))

    threads = [threading.Thread(target=first), threading.Thread(target=second)]
    threads[0].start()
    assert inside.wait(30)
    threads[1].start()
    threads[1].join(2)
    assert threads[1].is_alive() and order == []
    done.set()
    for thread in threads:
        thread.join(30)
    assert order == ["first", "page.md"] and texts_in(tmp_path) == {"out/page.md": "1"}
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "another run is writing" in said
