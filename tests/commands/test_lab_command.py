"""What `lab` asks of JupyterLab: the course's folder, the desk as first page, the user's own options; root must say so."""

import os
from pathlib import Path

import pytest

from oddswap.__main__ import main

COURSE = Path(__file__).parents[2] / "notebooks"
DESK = [f"--ServerApp.root_dir={COURSE}", "--LabApp.default_url=/oddswap"]


@pytest.fixture
def asked(monkeypatch):
    """What JupyterLab was started with, each time that it was."""
    starts = []
    monkeypatch.setattr("jupyterlab.labapp.main", lambda arguments: starts.append(arguments))
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", "")
    return starts


def somebody(monkeypatch, number):
    monkeypatch.setattr(os, "geteuid", lambda: number, raising=False)


@pytest.mark.parametrize("options", [[], ["--no-browser", "--ServerApp.port=9999"]])
def test_an_ordinary_user_starts_it_with_nothing_but_their_own_options(monkeypatch, asked, options):
    somebody(monkeypatch, 1000)
    assert main(["lab", *options]) == 0 and asked == [[*DESK, *options]]


@pytest.mark.parametrize("options", [["--allow-root"], ["--no-browser", "--ServerApp.allow_root=True"]])
def test_root_starts_it_by_saying_so(monkeypatch, asked, options):
    somebody(monkeypatch, 0)
    assert main(["lab", *options]) == 0 and asked == [[*DESK, *options]]


def test_root_who_does_not_say_so_gets_one_sentence(monkeypatch, asked, capsys):
    somebody(monkeypatch, 0)
    assert main(["lab", "--no-browser"]) == 2 and asked == []
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and err.rstrip().endswith("type oddswap lab --allow-root")


def test_what_the_user_configured_for_jupyter_stays_before_our_defaults(monkeypatch, asked):
    somebody(monkeypatch, 1000)
    monkeypatch.setenv("JUPYTER_CONFIG_PATH", os.pathsep.join(["/one", "/two"]))
    assert main(["lab"]) == 0
    *theirs, ours = os.environ["JUPYTER_CONFIG_PATH"].split(os.pathsep)
    assert theirs == ["/one", "/two"] and Path(ours, "labconfig").is_dir() and Path(ours, "jupyter_server_config.json").is_file()
