"""Writing a file so that whoever looks sees all of it or what was there before."""

from pathlib import Path
from uuid import uuid4

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
