"""Where the course lies: in the project's folder, or in the installed package, of which the user gets a copy of their own."""

import hashlib
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from oddswap.errors import BadOption

LAB_CONFIG = Path(__file__).parent / "lab"
"""Defaults for the JupyterLab that ``lab`` starts; a user's own settings go before them."""

INSTALLED = Path(__file__).resolve().parents[1] / "course"
"""The course as an installed package holds it: `pyproject.toml` puts the folder of the notebooks there."""


def course_folder() -> Path:
    """The folder of the course: here, beside the package's sources, or in the package."""
    places = (folder / "notebooks" for folder in (Path.cwd(), *Path(__file__).resolve().parents))
    return next((place for place in places if (place / "00_the_repair_table.ipynb").exists()), INSTALLED)


def lab(options) -> int | None:
    """JupyterLab at the repair table, in the project's folder; elsewhere in a copy of the course that is the user's own."""
    if getattr(os, "geteuid", lambda: 1)() == 0 and not any("allow-root" in word.replace("_", "-") for word in options.more):
        raise BadOption("JupyterLab starts for the user root only when told to: type oddswap lab --allow-root")
    folder = course_folder()
    if folder == INSTALLED or options.out is not None:
        folder = laid_out(folder, options.out or Path("oddswap-course"))
    configured = os.environ.get("JUPYTER_CONFIG_PATH")
    os.environ["JUPYTER_CONFIG_PATH"] = os.pathsep.join(filter(None, [configured, str(LAB_CONFIG)]))
    with _some_home():
        from jupyterlab.labapp import main as start

        return start([f"--ServerApp.root_dir={folder}", "--LabApp.default_url=/oddswap", *options.more])


def laid_out(course: Path, folder: Path) -> Path:
    """A copy of the course in a folder of the user's own, and where it lies.

    What the user changed there stays; where a later course says something else, its file is laid beside theirs.
    """
    from oddswap.showing.pages.output_folder import open_folder

    paths = sorted([*course.glob("*.ipynb"), *course.glob("tickets/**/*.toml"), *course.glob("tickets/**/*.jpg")])
    files = {path.relative_to(course).as_posix(): path for path in paths}
    edition = hashlib.sha256(b"".join(path.read_bytes() for path in files.values())).hexdigest()
    with open_folder(folder) as out:
        if out.up_to_date("lab", edition) is None:
            made = {name: out.making / name for name in files}
            for name, path in files.items():
                made[name].parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(path, made[name])
            out.lay("lab", made, edition)
    return folder.resolve()


@contextmanager
def _some_home() -> Iterator[None]:
    """A home for a while where the user has none that can be written to: JupyterLab does not start without."""
    home = Path(os.path.expanduser("~"))
    if home.is_absolute() and os.access(home, os.W_OK):
        yield
        return
    with TemporaryDirectory() as place:
        os.environ["HOME"] = place
        yield
