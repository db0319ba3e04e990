"""What is kept on disk between runs: each thing in a file of its own with a header and a seal, written in one stroke.

A file that is damaged, or of another thing or version, is thrown away, and so is one that no run of this user made: the seal
takes a secret that lies in another folder (`_seal`). A folder that cannot be written to, or that somebody else owns or
can write to, means that nothing is kept. Together the files take at most `LIMIT` bytes; those not used for longest go first.

A file is written so that whoever looks sees all of it or what was there before (`write_whole`).
"""

import hashlib
import hmac
import os
import secrets
from contextlib import suppress
from pathlib import Path
from struct import Struct
from uuid import uuid4

import numpy as np
from platformdirs import user_cache_path, user_state_path

from oddswap.reasoning.budget import Finding
from oddswap.values.text_file import read_bytes

UNDONE = ".part"
"""How the name of a file ends that is still being written."""


def write_whole(path: Path, *parts: bytes | memoryview) -> Path:
    """Write the ``parts`` one behind the other as one file, in the place of what is there; `OSError` where that cannot be done.

    They are written beside it under a name that no other run uses, and moved in one stroke.
    """
    undone = path.with_name(f".{path.name}.{uuid4().hex}{UNDONE}")
    try:
        with open(undone, "xb") as file:
            file.writelines(parts)
        return undone.replace(path)
    except BaseException:
        undone.unlink(missing_ok=True)
        raise


VARIABLE = "ODDSWAP_CACHE"
"""The environment variable that names the folder; empty: nothing is kept."""

LIMIT = 1_000_000_000
"""The most bytes that all files together take on disk."""

VERSION = 2
"""To be raised whenever the same key would stand for other data."""

ENDING = ".kept"

MARK = b"oddswap kept\n"
HEADER = Struct(f"<{len(MARK)}sI32sQ32s")
"""Mark, version, key, number of bytes, and the seal of key and bytes."""
SECRET = 32
"""Bytes of the secret."""


class ThrownAway(Finding):
    """A file of the cache was thrown away: its ``fault``, and the ``version`` that it said it was of."""

    file: str
    fault: str
    version: int


def folder() -> Path | None:
    """Where files are kept: `ODDSWAP_CACHE`, or else the user's cache folder; None where nothing is kept, or there is no home."""
    if (chosen := os.environ.get(VARIABLE)) is not None:
        return Path(chosen) if chosen else None
    with suppress(RuntimeError):
        place = user_cache_path("oddswap", appauthor=False)
        if place.is_absolute():  # else the system does not know the user's home
            return place
    return None


def _our_own(place: Path) -> bool:
    """Whether a folder is this user's, and nobody else can write to it."""
    status = place.stat()
    return not hasattr(os, "getuid") or status.st_uid == os.getuid() and not status.st_mode & 0o022


def _seal(key: bytes, data: bytes | memoryview) -> bytes:
    """What only this user's runs can say of data; `OSError` where what it takes cannot be kept to ourselves."""
    path = user_state_path("oddswap", appauthor=False) / "seal"
    path.parent.mkdir(0o700, parents=True, exist_ok=True)
    if not path.is_absolute() or not _our_own(path.parent):
        raise PermissionError
    if path.exists() and len(read_bytes(path)) != SECRET:
        path.unlink(missing_ok=True)
    if not path.exists():
        made = write_whole(path.with_name(f".{uuid4().hex}{UNDONE}"), secrets.token_bytes(SECRET))
        try:
            with suppress(FileExistsError):  # of runs that make one at once, the first one's stays
                os.link(made, path)
        finally:
            made.unlink()
    seal = hmac.new(read_bytes(path), key, hashlib.sha256)
    seal.update(data)
    return seal.digest()


def key_of(*told: object) -> bytes:
    """The key of what depends on these values: arrays by their shapes, types and items, all else by what `repr` says."""
    digest = hashlib.sha256()
    for one in told:
        array = isinstance(one, np.ndarray)
        digest.update(repr((one.shape, one.dtype.str) if array else one).encode() + b"\n")
        digest.update(np.ascontiguousarray(one).tobytes() if array else b"")
    return digest.digest()


def path_of(key: bytes) -> Path | None:
    """The file of what has that key (32 bytes, such as a SHA-256 digest)."""
    place = folder()
    return None if place is None else place / f"{key.hex()[:32]}{ENDING}"


def fetch(key: bytes) -> tuple[memoryview | None, ThrownAway | None]:
    """The bytes that were kept under that key (32 bytes), or None; and what was wrong with a file that was thrown away."""
    path = path_of(key)
    try:
        if path is None or not _our_own(path.parent):
            return None, None
        data = read_bytes(path, LIMIT)
        wrong = _fault(path.name, data, key)
    except (OSError, RuntimeError):
        return None, None
    with suppress(OSError):
        path.unlink() if wrong else os.utime(path)
    return (None, wrong) if wrong else (memoryview(data)[HEADER.size :], None)


def _fault(name: str, data: bytes, key: bytes) -> ThrownAway | None:
    """What is wrong with a file."""
    if len(data) < HEADER.size:
        return ThrownAway(name, "short", VERSION)
    mark, version, owner, size, seal = HEADER.unpack_from(data)
    rest = memoryview(data)[HEADER.size :]
    faults = {
        "other": mark != MARK or owner != key,
        "version": version != VERSION,
        "short": len(rest) < size,
        "long": len(rest) > size,
        "damaged": not hmac.compare_digest(seal, _seal(key, rest)),
    }
    return next((ThrownAway(name, fault, version) for fault, found in faults.items() if found), None)


def store(key: bytes, data: bytes | memoryview) -> bool:
    """Keep bytes under a key (32 bytes); False where they cannot be kept. Whoever reads meanwhile sees all of it or none."""
    path, size = path_of(key), HEADER.size + len(data)
    if path is None or size > LIMIT:
        return False
    try:
        path.parent.mkdir(0o700, parents=True, exist_ok=True)
        if not _our_own(path.parent):
            return False
        _make_room(path.parent, size)
        write_whole(path, HEADER.pack(MARK, VERSION, key, len(data), _seal(key, data)), data)
    except (OSError, RuntimeError):
        return False
    return True


def _make_room(place: Path, size: int) -> None:
    """Throw away the files not used for longest until there is room for ``size`` bytes more."""
    kept = []
    for path in place.iterdir():
        with suppress(OSError):
            if path.suffix in {ENDING, UNDONE}:
                told = path.stat()
                kept.append((told.st_mtime_ns, told.st_size, path))
    total = size + sum(length for _, length, _ in kept)
    for _, length, path in sorted(kept):
        if total <= LIMIT:
            break
        with suppress(OSError):
            path.unlink()
            total -= length
