"""A folder of story files: edits are kept, only what changed is made again, and a stop or a fault leaves nothing half written."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
import webvtt

from oddswap.__main__ import main
from oddswap.commands.actions import STORY_SORTS
from oddswap.errors import BadOption, BadStory
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.story import ffmpeg, story_files
from oddswap.story.folder import FILMED, STORY, write_story_files
from oddswap.story.story_files import SORTS, Wishes
from oddswap.story.telling.story_file import read_story
from oddswap.words import pictures
from tests.common.clocks import ends_after
from tests.common.folders import files_in, names_in
from tests.story.stories import NOTE, TICKETS, told
from tests.story.voices import voice, write_wav

CAPTIONS = {"captions.vtt", "captions.srt", "descriptions.vtt", "transcript.html"}
QUICK = ("captions", "script", "prompter", "reply")


def names(paths) -> set[str]:
    return {path.name for path in paths}


def test_the_command_line_offers_all_sorts():
    assert STORY_SORTS == SORTS


def test_nothing_is_drawn_when_the_time_has_ended(tmp_path):
    made = write_story_files(told("ordinary"), tmp_path, budget=ends_after(0))
    assert {path.suffix for path in made.written} == {".vtt", ".srt", ".md", ".txt", ".html"}
    assert {sentence.split()[0] for sentence in made.failed} >= {"reply.png", "handout.pdf", "clip_wide.mp4"}
    assert all("time ended" in sentence for sentence in made.failed)


@pytest.mark.parametrize("name", ["cube:2", "octahedron", "rings:4+4,cross=1"])
def test_a_reply_has_its_pictures_beside_it_and_one_of_the_turns_where_it_speaks_of_that(name, tmp_path):
    puzzle = load(name)
    moves = " ".join([*puzzle.turns][:3:2])
    found = answer(puzzle, puzzle.appearance(puzzle.follow(moves)), Budget(5.0))
    write_story_files(found, tmp_path, only=["reply"])
    text = (tmp_path / "reply.md").read_text("utf-8")
    shown = re.findall(r"]\(([^)]*)\)", text)
    assert all((tmp_path / picture).read_bytes().startswith(b"\x89PNG") for picture in shown)
    assert len(shown) == 1 + ("The picture shows" in text) and ("The picture shows" in text) == (name != "cube:2")


def test_the_turns_of_a_way_that_is_too_long_to_be_drawn_are_drawn_one_by_one(tmp_path, monkeypatch):
    monkeypatch.setattr(story_files, "PICTURED", 1)
    puzzle = load("octahedron")
    found = answer(puzzle, puzzle.appearance(puzzle.follow("A C")), Budget(5.0))
    write_story_files(found, tmp_path, only=["reply"])
    text = (tmp_path / "reply.md").read_text("utf-8")
    assert "The picture shows where" in text and (tmp_path / "reply_turns.png").exists()
    assert f"[{pictures.CAPTIONS['turns']}](reply_turns.png)" in text


def test_what_is_made_and_what_is_kept(tmp_path):
    first = write_story_files(told("ordinary"), tmp_path, only=QUICK)
    assert names(first.written) >= {"captions.vtt", "captions.srt", "script.md", "chapters.txt", "prompter.html", "reply.md"}
    again = write_story_files(told("ordinary"), tmp_path, only=QUICK)
    assert not again.written and names(again.kept) == names(first.written)
    (tmp_path / "script.md").unlink()
    assert names(write_story_files(told("ordinary"), tmp_path, only=QUICK).written) == {"script.md"}
    text = (tmp_path / STORY).read_text()
    (tmp_path / STORY).write_text(text.replace("count first.", "All is fine."))
    edited = write_story_files(told("ordinary"), tmp_path, only=QUICK)
    assert names(edited.written) == names(first.written)
    for name in ("captions.vtt", "script.md", "prompter.html"):
        assert "All is fine." in " ".join((tmp_path / name).read_text().split())
    assert "All is fine." in (tmp_path / STORY).read_text()
    for name, data in files_in(tmp_path).items():
        assert NOTE.encode() not in data and not name.endswith(".part")


def test_stills_are_svg_and_png_of_the_width_asked_for(tmp_path):
    from PIL import Image

    wishes = Wishes(width=640, transparent=True)
    made = write_story_files(told("slip"), tmp_path, only=("stills",), wishes=wishes)
    kinds = {path.suffix for path in made.written}
    assert kinds == {".png", ".svg"} and len(made.written) == 2 * (len(list((tmp_path / "stills").glob("*.svg")))) + 1
    with Image.open(tmp_path / "thumbnail.png") as picture:
        assert picture.size == (1280, 720)
    for path in (tmp_path / "stills").glob("*.png"):
        with Image.open(path) as picture:
            assert picture.width == 640 and picture.convert("RGBA").getpixel((0, 0))[3] == 0


def test_without_an_encoder_the_rest_is_made(tmp_path, monkeypatch):
    def none(*_):
        raise ffmpeg.NoEncoder("clips need ffmpeg, which is not here: install it")

    monkeypatch.setattr(ffmpeg, "check_encoder", none)
    monkeypatch.setattr(ffmpeg, "program", none)
    made = write_story_files(told("ordinary"), tmp_path, only=("clip", "captions"))
    assert names(made.written) == CAPTIONS
    assert len(made.failed) == 5 and all("was not made" in sentence for sentence in made.failed)
    assert not list(tmp_path.glob("*.mp4")) and not list(tmp_path.glob(".making*"))


def test_a_stop_in_the_middle_leaves_whole_files_and_is_gone_on_with(tmp_path):
    def stop(name, done):
        if name == "script.md":
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_story_files(told("ordinary"), tmp_path, only=QUICK, tell=stop)
    assert names_in(tmp_path) == {STORY, *CAPTIONS}
    after = write_story_files(told("ordinary"), tmp_path, only=QUICK)
    assert names(after.kept) == CAPTIONS and "script.md" in names(after.written)


def test_an_edit_into_nonsense_changes_no_file(tmp_path):
    write_story_files(told("ordinary"), tmp_path, only=("script",))
    before = (tmp_path / "script.md").read_bytes()
    (tmp_path / STORY).write_text("beat = 3")
    with pytest.raises(BadStory):
        write_story_files(told("ordinary"), tmp_path, only=("script",))
    assert (tmp_path / "script.md").read_bytes() == before


def test_a_folder_that_cannot_be_written_is_one_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(BadOption, match="cannot be written"):
        write_story_files(told("slip"), tmp_path / "file" / "deeper", only=("script",))


def test_the_command_line(tmp_path, capsys):
    ticket = tmp_path / "ticket.toml"
    ticket.write_text(f"note = '{NOTE}'\n{TICKETS['ordinary']}")
    assert main(["story", str(ticket), "--out", str(tmp_path / "out"), "--only", "script", "--only", "captions"]) == 0
    out = capsys.readouterr().out
    assert "script.md" in out and "captions.vtt" in out
    assert main(["story", str(ticket), "--out", str(tmp_path / "out"), "--only", "script"]) == 0
    assert "2 files were up to date" in capsys.readouterr().out
    assert main(["story", str(ticket), "--out", str(tmp_path / "out"), "--width", "wide"]) == 2
    assert "`wide` is not a whole number from 16 to 16000" in capsys.readouterr().err


def test_a_voice_that_does_not_fit_is_one_sentence_and_changes_nothing(tmp_path, capsys):
    ticket, out = tmp_path / "ticket.toml", tmp_path / "out"
    ticket.write_text(TICKETS["ordinary"])
    command = ["story", str(ticket), "--out", str(out), "--only", "captions"]
    assert main(command) == 0
    before = files_in(out)
    take = str(write_wav(voice([(4, 1), (4, 1)])[0], tmp_path / "take.wav"))
    (tmp_path / "timing.toml").write_text("beats = [[1.0]]")
    wrong = {
        ("--voice", take): "has 2 beats with pauses of 0.7 s between them, and the story has 6",
        ("--voice", take, "--voice", take): "2 recordings for 6 beats: beat 3 is the first",
        ("--retake", f"2={take}"): "beat 2 has no voice to replace",
        ("--timing", str(tmp_path / "timing.toml")): "timing is of another story",
        ("--footage", f"1={take}@3"): "has no pictures in it",
    }
    for more, says in wrong.items():
        capsys.readouterr()
        assert main([*command, *more]) == 2
        complaint = capsys.readouterr().err
        assert says in complaint and complaint.count("\n") == 1
        assert files_in(out) == before
    assert main([*command, "--retake", "two"]) == 2
    assert "`two` names no beat and file: write such as 3=take.wav" in capsys.readouterr().err


def test_a_preview_is_small_and_is_made_again_only_after_a_change(tmp_path, capsys):
    ticket, out = tmp_path / "ticket.toml", tmp_path / "out"
    ticket.write_text(TICKETS["ordinary"])
    command = ["story", str(ticket), "--out", str(out), "--preview"]
    assert main(command) == 0
    assert set(files_in(out)) == {STORY, "preview.mp4"}
    capsys.readouterr()
    assert main(command) == 0 and "1 files were up to date" in capsys.readouterr().out
    assert main([*command, "--clicks"]) == 0 and "preview.mp4" in capsys.readouterr().out


FULL = """
import resource, sys
from oddswap.__main__ import main
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]), int(sys.argv[1])))
sys.exit(main(sys.argv[2:]))
"""


def test_a_disk_that_fills_is_one_sentence_and_leaves_nothing_half_written(tmp_path):
    """No file may grow beyond so many bytes, as on a disk that is full; `test_clip` has the same of ffmpeg."""
    ticket, out = tmp_path / "ticket.toml", tmp_path / "out"
    ticket.write_text(TICKETS["ordinary"])
    command = [sys.executable, "-c", FULL, "500", "story", str(ticket), "--out", str(out), "--only", "script"]
    run = subprocess.run(command, capture_output=True, text=True, check=False)
    assert run.returncode == 2 and run.stderr.startswith("oddswap: ") and run.stderr.count("\n") == 1, run.stderr
    left = set(files_in(out))
    assert left <= {STORY} and not list(out.rglob("*.making*"))
    assert not left or read_story(out / STORY)


def test_footage_of_hands_is_told_for_those_hands(tmp_path, capsys):
    """Who films their own copy sees it drawn as they hold it; without footage the clip is for the visitor."""
    ticket, out, hands = tmp_path / "ticket.toml", tmp_path / "out", tmp_path / "hands.mp4"
    ticket.write_text(TICKETS["ordinary"] + '\n[mine]\nheld = "D up, F in front"\n')
    picture = [ffmpeg.program(), "-loglevel", "error", "-f", "lavfi", "-i", "color=red:s=64x48:r=25:d=3", str(hands)]
    subprocess.run(picture, check=True)
    command, told_to = ["story", str(ticket), "--out", str(out), "--only", "script"], {}
    for who, more in {STORY: [], FILMED: ["--footage", f"2={hands}@1.5"]}.items():
        assert main([*command, *more]) == 0
        script, said = (out / "script.md").read_text(), capsys.readouterr().out
        told_to[who] = [beat.moves for beat in read_story(out / who).beats if beat.moves]
        assert all(f"| {moves} |" in script for moves in told_to[who])
        assert ("whose face, hands or voice" in said) == bool(more)
    assert told_to[STORY] != told_to[FILMED]


def frames_in(path) -> list[str]:
    """The checksum of every frame of a clip, by ffmpeg's own account, after its time."""
    asked = [ffmpeg.program(), "-loglevel", "error", "-i", str(path), "-map", "0:v", "-f", "framemd5", "-"]
    lines = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.splitlines()
    return [line.split(",") for line in lines if not line.startswith("#")]


def test_several_tickets_make_one_episode_of_the_frames_of_each(tmp_path, capsys):
    """A chapter a letter, no frame lost or twice; what one letter's story changes is made again, and the other stays."""
    tickets = []
    for name in ("ordinary", "slip"):
        tickets.append(tmp_path / f"{name}.toml")
        tickets[-1].write_text(TICKETS[name])
    out = tmp_path / "out"
    command = ["story", *map(str, tickets), "--out", str(out), "--only", "captions", "--only", "script"]
    assert main([*command, "--preview"]) == 0 and main(command) == 0
    parts = [frames_in(out / f"letter_{n}" / "preview.mp4") for n in (1, 2)]
    whole = frames_in(out / "preview.mp4")
    assert [frame[-1] for frame in whole] == [frame[-1] for part in parts for frame in part]
    assert [int(frame[2]) for frame in whole] == list(range(len(whole)))
    stories = [read_story(out / f"letter_{n}" / STORY) for n in (1, 2)]
    assert [story.beats[-1].chapter for story in stories] == ["What to remember", "Send me yours"]
    chapters = (out / "chapters.txt").read_text().splitlines()
    assert [line.split(" ", 1)[1] for line in chapters] == [story.title for story in stories]
    cues = [caption.text for caption in webvtt.read(out / "captions.vtt")]
    said = [sentence for story in stories for beat in story.beats for sentence in beat.says]
    assert " ".join(" ".join(cues).split()) == " ".join(said)
    for text in ("script.md", "transcript.html"):
        assert all(story.title in (out / text).read_text() for story in stories)
    beats = {n: set((out / f"letter_{n}" / ".oddswap" / "beats").iterdir()) for n in (1, 2)}
    edited = out / "letter_2" / STORY
    edited.write_text(edited.read_text().replace("Send me yours.", "Send me your own, please."))
    capsys.readouterr()
    assert main([*command, "--preview"]) == 0
    assert "letter_2/preview.mp4" in (written := capsys.readouterr().out) and "letter_1" not in written
    after = {n: set((out / f"letter_{n}" / ".oddswap" / "beats").iterdir()) for n in (1, 2)}
    assert after[1] == beats[1] and len(after[2] - beats[2]) == 1 and len(after[2]) == len(beats[2])


def test_an_episode_takes_a_voice_for_each_ticket(tmp_path, capsys):
    ticket = tmp_path / "ticket.toml"
    ticket.write_text(TICKETS["ordinary"])
    assert main(["story", str(ticket), str(ticket), "--out", str(tmp_path / "out"), "--voice", "take.wav"]) == 2
    assert "--voice once for each ticket" in capsys.readouterr().err and not (tmp_path / "out").exists()
