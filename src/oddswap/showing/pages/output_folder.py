"""A folder that a command writes to: only what it wrote there itself, and nobody changed since, is replaced or removed.

`HOME` is a folder of our own in it. A list there says what was written, with checksums. Files are made there, and each is moved
to its place in one stroke. One run writes at a time and the next one waits, so what lies there half made is a killed run's.
"""

import hashlib
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, replace
from itertools import count
from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

from oddswap.errors import BadOption, complain, quoted
from oddswap.reasoning.search.kept_files import UNDONE, write_whole
from oddswap.values.text_file import read_bytes

HOME = ".oddswap"
LOCK, LIST, MAKING = "lock", "written.json", "making-"
LONGEST = 50_000_000
"""Bytes of the list that are read."""


@dataclass(frozen=True)
class WrittenFile:
    """What is known of a file that was written: by what, of what (a digest, or nothing), and the checksums that it may have."""

    by: str
    of: str
    sums: tuple[str, ...]


@dataclass(frozen=True)
class OutputFolder:
    """A folder that is written to: ``making`` is where files are made, and ``entries`` list what was written, by names.

    A name is the path from the folder, with slashes. With ``force``, a file that somebody changed, or laid there, is replaced
    where it is in the way. Files by other names are never touched.
    """

    path: Path
    making: Path
    entries: dict[str, WrittenFile]
    force: bool = False

    def up_to_date(self, by: str, of: str) -> Path | None:
        """The file that was written by and of just that, if it is still there, changed or not; None with ``force``."""
        known = (self.path / name for name, entry in self.entries.items() if (entry.by, entry.of) == (by, of))
        return next((path for path in known if path.is_file() and not self.force), None)

    def place(self, name: str, made: Path) -> str:
        """The name that a file will have: its own, or one beside it where somebody's file lies with other bytes."""
        return next(n for n in _names(name) if self._is_free(n) or _sum(self.path / n) == _sum(made))

    def lay(self, by: str, files: Mapping[str, Path], of: str = "") -> list[Path]:
        """Move in the files that were made, by their names and in their order, and say which had to be laid beside another.

        What ``by`` wrote before, and does not now, is removed unless somebody changed it. A stop in between leaves whole files.
        """
        places = {self.place(name, made): made for name, made in files.items()}
        fresh = {place: _sum(made) for place, made in places.items() if self._is_free(place)}
        for place, total in fresh.items():
            known = self.entries.get(place, WrittenFile(by, "", ()))
            self.entries[place] = replace(known, sums=(*known.sums, total))
        self._write_list()
        for place in fresh:
            (self.path / place).parent.mkdir(parents=True, exist_ok=True)
            os.replace(places[place], self.path / place)
        for place in [place for place, entry in self.entries.items() if entry.by == by and place not in places]:
            self._retire(place)
        self.entries.update({place: WrittenFile(by, of, (total,)) for place, total in fresh.items()})
        self._write_list()
        for name, place in zip(files, places, strict=True):
            if name != place:
                said = f"{quoted(self.path / name, 200)} is yours or was changed by hand, so it stays"
                complain(f"{said}, and the new one is {quoted(place, 200)}: --force replaces all but tickets")
        return [self.path / place for place in places]

    def withdraw(self, by: str, files: Iterable[Path]) -> None:
        """Remove what ``by`` wrote before, unless somebody changed it or it is the same as one of the ``files``."""
        same = {_sum(path) for path in files}
        for name in [name for name, entry in self.entries.items() if entry.by == by and _sum(self.path / name) not in same]:
            self._retire(name)

    def _is_free(self, name: str) -> bool:
        return self.force or self._is_ours(name) or not os.path.lexists(self.path / name)

    def _is_ours(self, name: str) -> bool:
        """Whether a file lies there as it was written, and within the folder, whatever the list says."""
        path, entry = self.path / name, self.entries.get(name)
        return entry is not None and _sum(path) in entry.sums and path.resolve().is_relative_to(self.path.resolve())

    def _retire(self, name: str) -> None:
        path = self.path / name
        if self._is_ours(name):
            path.unlink()
            with suppress(OSError):
                os.removedirs(path.parent)
        if not os.path.lexists(path):
            del self.entries[name]

    def _write_list(self) -> None:
        text = json.dumps({name: asdict(entry) for name, entry in self.entries.items()}, indent=1)
        write_whole(self.path / HOME / LIST, text.encode())


@contextmanager
def open_folder(path: Path, force: bool = False) -> Iterator[OutputFolder]:
    """A folder to write to, made where there is none, for this run alone; `BadOption` where it cannot be written.

    Where nothing was laid, nothing is left.
    """
    home, new = path / HOME, not path.exists()
    try:
        with _alone(home):
            try:
                _sweep(home)
                with TemporaryDirectory(prefix=MAKING, dir=home, ignore_cleanup_errors=True) as making:
                    yield OutputFolder(path, Path(making), _read_list(home / LIST), force)
            finally:
                with suppress(OSError):  # some systems remove no file that is open: then it stays
                    (home / LOCK).unlink()
                    home.rmdir()
                    if new:
                        path.rmdir()
    except OSError as error:
        raise BadOption(f"the folder {quoted(path, 200)} cannot be written ({error.strerror}): name one that can") from None


def write_file(by: str, path: Path, text: str, force: bool = False) -> Path:
    """Write one file ``by`` a command, and say where it lies: beside somebody's own file of that name; `BadOption` as above."""
    with open_folder(path.parent, force) as out:
        (out.making / path.name).write_text(text, encoding="utf-8")
        return out.lay(f"{by} {path.name}", {path.name: out.making / path.name})[0]


@contextmanager
def _alone(home: Path) -> Iterator[None]:
    """Wait until no other run is at work in a folder, and keep the next one waiting."""
    from filelock import FileLock, Timeout

    lock, announced = FileLock(home / LOCK), False
    while not lock.is_locked:
        home.mkdir(parents=True, exist_ok=True)
        try:
            lock.acquire(timeout=1)
        except Timeout:
            if not announced:
                complain(f"another run is writing to {quoted(home.parent, 200)}: waiting for it to end")
            announced = True
        except FileNotFoundError:  # the other run laid nothing, and took its empty folder away
            continue
    try:
        yield
    finally:
        lock.release()


def _sweep(home: Path) -> None:
    """Remove what a run that was killed left half made."""
    for left in (*home.glob(f"{MAKING}*"), *home.glob(f".{LIST}.*{UNDONE}")):
        if left.is_dir():
            shutil.rmtree(left, ignore_errors=True)
        else:
            left.unlink()


def _read_list(path: Path) -> dict[str, WrittenFile]:
    """The files that were written, by their names; none where that is not known."""
    try:
        known = json.loads(read_bytes(path, LONGEST))
        return {name: WrittenFile(str(e["by"]), str(e["of"]), tuple(map(str, e["sums"]))) for name, e in known.items()}
    except (OSError, ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return {}


def _names(name: str) -> Iterator[str]:
    """A file's name, and those that it can have beside a file of that name: ``reply.md``, ``reply.new.md``, ``reply.new2.md``…"""
    yield name
    path = PurePath(name)
    yield from (path.with_stem(f"{path.stem}.new{number if number > 1 else ''}").as_posix() for number in count(1))


def _sum(path: Path) -> str | None:
    """The checksum of a file's bytes; None where no file lies there."""
    if not path.is_file():
        return None
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
