"""What a command laid in a folder, without what it keeps there for itself."""

from pathlib import Path

from oddswap.showing.pages.output_folder import HOME


def names_in(folder: Path) -> set[str]:
    """The names of files and folders that lie in it."""
    return {path.name for path in folder.iterdir()} - {HOME}


def files_in(folder: Path) -> dict[str, bytes]:
    """All files in it and in its folders, by their paths from there."""
    paths = (path for path in folder.rglob("*") if path.is_file() and HOME not in path.parts)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}
