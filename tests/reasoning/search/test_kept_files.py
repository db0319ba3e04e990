"""The cache on disk: whole or not at all, checked on every reading, never in the way.

Files that are there as a whole or not at all.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import threading

import pytest

from oddswap.reasoning.search import kept_files
from oddswap.reasoning.search.kept_files import ENDING, HEADER, fetch, folder, path_of, store, write_whole
from oddswap.words import say

KEY = hashlib.sha256(b"one").digest()
OTHER = hashlib.sha256(b"other").digest()
DATA = bytes(range(256)) * 40


@pytest.fixture(autouse=True)
def place(tmp_path, monkeypatch):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path / "cache"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "cache"


def test_what_was_kept_comes_back():
    assert fetch(KEY) == (None, None)
    assert store(KEY, DATA) and store(OTHER, b"")
    assert bytes(fetch(KEY)[0]) == DATA and bytes(fetch(OTHER)[0]) == b""
    assert store(KEY, b"newer") and bytes(fetch(KEY)[0]) == b"newer"


@pytest.mark.parametrize("at", [0, len(b"oddswap kept\n"), 20, HEADER.size - 9, HEADER.size - 1, HEADER.size, -1])
def test_one_bit_anywhere_is_noticed_and_the_file_thrown_away(at):
    store(KEY, DATA)
    path = path_of(KEY)
    data = bytearray(path.read_bytes())
    data[at] ^= 1
    path.write_bytes(data)
    found, thrown = fetch(KEY)
    assert found is None and not path.exists() and "thrown away" in say(thrown) and path.name in say(thrown)
    assert fetch(KEY) == (None, None) and store(KEY, DATA) and bytes(fetch(KEY)[0]) == DATA


@pytest.mark.parametrize("length", [0, 5, HEADER.size - 1, HEADER.size, HEADER.size + 1, -1])
def test_a_file_that_is_cut_short_is_thrown_away(length):
    store(KEY, DATA)
    path = path_of(KEY)
    path.write_bytes(path.read_bytes()[:length])
    assert fetch(KEY)[1].fault == "short" and not path.exists()


def test_a_file_under_another_name_or_with_more_behind_it_is_thrown_away():
    store(OTHER, DATA)
    path_of(KEY).write_bytes(path_of(OTHER).read_bytes())
    assert fetch(KEY)[1].fault == "other"
    path_of(OTHER).write_bytes(path_of(OTHER).read_bytes() + b"x")
    assert fetch(OTHER)[1].fault == "long"


def test_where_nothing_can_be_written_nothing_is_kept(place, monkeypatch):
    place.write_text("a file, no folder")
    assert not store(KEY, DATA) and fetch(KEY) == (None, None)
    monkeypatch.setenv(kept_files.VARIABLE, "")
    assert folder() is None and not store(KEY, DATA) and fetch(KEY) == (None, None)


def test_a_write_that_fails_leaves_what_was_there(place, monkeypatch):
    store(KEY, DATA)
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError("full")))
    assert not store(KEY, b"newer")
    assert bytes(fetch(KEY)[0]) == DATA and [p.suffix for p in place.iterdir()] == [ENDING]


def test_those_not_used_for_longest_go_first(monkeypatch):
    keys = [hashlib.sha256(bytes([n])).digest() for n in range(4)]
    monkeypatch.setattr(kept_files, "LIMIT", 3 * (HEADER.size + len(DATA)))
    for age, key in enumerate(keys[:3]):
        store(key, DATA)
        os.utime(path_of(key), ns=(age, age))
    fetch(keys[0])
    store(keys[3], DATA)
    assert [fetch(key)[0] is not None for key in keys] == [True, False, True, True]
    assert not store(KEY, DATA * 4)


def test_many_writers_and_readers_see_all_of_it_or_none():
    texts = [bytes([n]) * 50_000 for n in range(8)]
    seen = []

    def write(text):
        for _ in range(10):
            store(KEY, text)
            found, thrown = fetch(KEY)
            seen.append(found is not None and bytes(found) in texts and not thrown)

    writers = [threading.Thread(target=write, args=(text,)) for text in texts]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert len(seen) == 80 and all(seen)


def test_a_writer_that_is_stopped_leaves_nothing_that_would_be_read_and_is_swept_away(place, monkeypatch):
    code = (
        "import os, sys; from oddswap.reasoning.search import kept_files\n"
        "kept_files._seal(b'', b'')\n"
        "os.replace = lambda *_: os._exit(9)\n"
        f"kept_files.store(bytes.fromhex({KEY.hex()!r}), b'half')"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 9
    assert fetch(KEY) == (None, None) and len(list(place.iterdir())) == 1
    assert store(KEY, DATA) and bytes(fetch(KEY)[0]) == DATA
    monkeypatch.setattr(kept_files, "LIMIT", HEADER.size + len(DATA))
    store(OTHER, DATA)
    assert [p.name for p in place.iterdir()] == [path_of(OTHER).name]


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="users as Unix has them")
@pytest.mark.parametrize("mode", [0o700, 0o755, 0o770, 0o777, 0o1777])
@pytest.mark.parametrize("folder", ["cache", "state/oddswap"])
def test_nothing_is_taken_from_a_folder_that_others_can_write_to_or_own(tmp_path, monkeypatch, folder, mode):
    assert store(KEY, DATA)
    place = tmp_path / folder
    assert place.stat().st_mode & 0o777 == 0o700
    place.chmod(mode)
    own = mode in (0o700, 0o755)
    assert (fetch(KEY)[0] is not None, store(OTHER, DATA), path_of(OTHER).exists()) == (own, own, own)
    place.chmod(0o700)
    assert fetch(KEY)[0] is not None
    monkeypatch.setattr(os, "getuid", lambda: place.stat().st_uid + 1)
    assert fetch(KEY) == (None, None) and not store(KEY, b"newer")


def test_what_another_user_sealed_is_thrown_away_and_a_spoilt_secret_made_anew(tmp_path, monkeypatch):
    store(KEY, DATA)
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "other"))
    assert "somebody else" in say(fetch(KEY)[1])
    assert store(KEY, DATA) and bytes(fetch(KEY)[0]) == DATA
    secret = tmp_path / "other" / "oddswap" / "seal"
    secret.write_bytes(b"")
    assert fetch(KEY)[0] is None and len(secret.read_bytes()) == 32
    assert store(KEY, DATA) and bytes(fetch(KEY)[0]) == DATA


def test_without_the_variable_it_is_the_users_cache_folder(monkeypatch, tmp_path):
    monkeypatch.delenv(kept_files.VARIABLE)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    if sys.platform == "linux":
        assert folder() == tmp_path / "oddswap"
    assert folder().name.lower() in {"oddswap", "cache"}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes as Unix has them")
def test_a_pipe_in_the_place_of_a_file_is_not_waited_for(place):
    store(OTHER, DATA)
    os.mkfifo(path_of(KEY))
    assert fetch(KEY) == (None, None)
    assert store(KEY, DATA) and bytes(fetch(KEY)[0]) == DATA


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
