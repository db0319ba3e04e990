"""The built wheel, away from the project: every room and the course are in it, and the commands work in an empty folder."""

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import nbformat
import pytest

from oddswap.commands.course import laid_out

ROOT = Path(__file__).parents[1]
COURSE = ROOT / "notebooks"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel as it would be handed on, built from a copy so that nothing is left in the project's folder."""
    source, made = tmp_path_factory.mktemp("source"), tmp_path_factory.mktemp("wheel")
    for name in ("src", "notebooks"):
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__", ".*", "*.egg-info"))
    shutil.copy(ROOT / "pyproject.toml", source)
    build = [sys.executable, "-m", "pip", "wheel", "--quiet", "--disable-pip-version-check", "--no-deps", "-w", made, source]
    subprocess.run(build, check=True, capture_output=True)
    return next(made.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """Runs ``oddswap`` from the unpacked wheel, in a folder of one's choice."""
    place = tmp_path_factory.mktemp("installed")
    zipfile.ZipFile(wheel).extractall(place)

    def run(folder, *arguments):
        command = [sys.executable, "-P", "-m", "oddswap", *arguments]
        settings = os.environ | {"PYTHONPATH": str(place)}
        return subprocess.run(command, cwd=folder, env=settings, capture_output=True, text=True)

    return run


def test_every_file_of_the_package_and_the_course_is_in_the_wheel(wheel):
    held = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    package = {path.relative_to(ROOT / "src") for path in (ROOT / "src" / "oddswap").rglob("*")}
    course = {Path("oddswap/course") / path.relative_to(COURSE) for path in COURSE.rglob("*")}
    wanted = {
        path.as_posix()
        for path in package | course
        if path.suffix and "__pycache__" not in path.parts and "." not in path.parent.name
    }
    assert held == wanted


def test_every_room_is_listed():
    listed = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["setuptools"]["packages"]
    rooms = {".".join(path.parent.relative_to(ROOT / "src").parts) for path in (ROOT / "src").rglob("*.py")}
    assert listed == sorted(rooms | {"oddswap.course"})


def test_lab_lays_out_a_copy_and_opens_that(installed, tmp_path):
    asked = installed(tmp_path, "lab", "--allow-root", "--version")
    assert asked.returncode == 0 and asked.stdout.split(".")[0].isdigit(), asked.stderr
    copy = {path.relative_to(tmp_path / "oddswap-course") for path in (tmp_path / "oddswap-course").rglob("[!.]*.*")}
    assert copy - {Path(".oddswap/written.json")} == {p.relative_to(COURSE) for p in COURSE.rglob("[!.]*.*")}


@pytest.mark.parametrize(
    "arguments, made",
    [
        (["answer", "t.toml", "--out", "answer"], "answer/answer.html"),
        (["worksheet", "--out", "evening", "--puzzles", "cube:2", "--count", "1", "--tables", "1"], "evening"),
        (["edition", "--out", "course", "--notebooks", "own", "--no-reference", "--puzzles", "cube:2"], "course/index.html"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else None,
)
def test_it_does_its_work_in_an_empty_folder(installed, tmp_path, arguments, made):
    shutil.copy(COURSE / "tickets" / "04_octagon_one_edge_flipped.toml", tmp_path / "t.toml")
    (tmp_path / "own").mkdir()
    shutil.copy(COURSE / "01_can_two_tiles_change_places.ipynb", tmp_path / "own")
    ran = installed(tmp_path, *arguments)
    assert ran.returncode == 0 and (tmp_path / made).exists(), ran.stderr


def test_a_later_course_comes_beside_what_was_edited(tmp_path, capsys):
    """An edited lesson stays; a later version of it lies beside; untouched ones are renewed, new ones come, dropped ones go."""
    course, mine = tmp_path / "course", tmp_path / "mine"
    (course / "tickets").mkdir(parents=True)
    for name in ("00_a.ipynb", "01_b.ipynb", "02_c.ipynb"):
        write(course / name, "first")
    (course / "tickets" / "t.toml").write_text('puzzle = "cube:3"\n')
    laid_out(course, mine)
    write(mine / "00_a.ipynb", "mine")
    laid_out(course, mine)
    assert sorted(p.name for p in mine.glob("*.ipynb")) == ["00_a.ipynb", "01_b.ipynb", "02_c.ipynb"]
    for name in ("00_a.ipynb", "01_b.ipynb", "03_d.ipynb"):
        write(course / name, "second")
    (course / "02_c.ipynb").unlink()
    laid_out(course, mine)
    held = {p.name: nbformat.read(p, 4).cells[0].source for p in mine.glob("*.ipynb")}
    assert held == {"00_a.ipynb": "mine", "00_a.new.ipynb": "second", "01_b.ipynb": "second", "03_d.ipynb": "second"}
    assert (mine / "tickets" / "t.toml").exists()


def write(path, text):
    nbformat.write(nbformat.v4.new_notebook(cells=[nbformat.v4.new_markdown_cell(text, id="only")]), path)
