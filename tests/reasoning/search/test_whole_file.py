"""Files that are there as a whole or not at all."""

from __future__ import annotations

import os
import threading

import pytest

from oddswap.reasoning.search.whole_file import write_whole


def test_the_parts_are_one_file_as_open_to_others_as_any(tmp_path):
    (tmp_path / "plain").write_bytes(b"")
    path = write_whole(tmp_path / "whole", b"one, ", memoryview(b"two"))
    assert path.read_bytes() == b"one, two" and path.stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_fault_leaves_what_was_there_and_nothing_else(tmp_path, monkeypatch):
    path = write_whole(tmp_path / "whole", b"old")
    with pytest.raises(TypeError):
        write_whole(path, b"new", 3)
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
    with pytest.raises(KeyboardInterrupt):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old" and list(tmp_path.iterdir()) == [path]


def test_those_who_write_one_file_at_once_use_other_names(tmp_path, monkeypatch):
    path, all_there, names, replace = tmp_path / "whole", threading.Barrier(4), [], os.replace

    def together(source, target):
        all_there.wait(10)
        names.append(source)
        replace(source, target)

    monkeypatch.setattr(os, "replace", together)
    writers = [threading.Thread(target=write_whole, args=(path, bytes([n]) * 9)) for n in range(4)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert len(set(names)) == 4 and len(set(path.read_bytes())) == 1 and list(tmp_path.iterdir()) == [path]
