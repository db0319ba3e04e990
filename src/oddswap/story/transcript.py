"""A story for those who do not hear or do not see it: all of it as a page, and what is shown as a track of cues."""

from collections.abc import Mapping
from html import escape

from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.sight import slots_where
from oddswap.showing.pages.template import fill_template
from oddswap.story.telling.captions import Cue, clock
from oddswap.story.telling.timeline import Timeline
from oddswap.words.products.stories import TRANSCRIPT, to_be_seen
from oddswap.words.to_visitors.moves import move_aloud


def described(answer: Answer, times: Timeline) -> list[list[Cue]]:
    """For each beat what its picture shows, until somebody speaks, and then each move while it is made."""
    found, puzzle = [], answer.turning
    for number, (beat, names) in enumerate(zip(times.story.beats, times.names, strict=True)):
        shots = [shot for shot in times.shots if shot.beat == number]
        said = [cue.first for sentence in times.spoken[number] for cue in sentence if cue.first > shots[0].first]
        shot = next((shot for shot in shots if shot.marked), shots[0])
        marked = (puzzle.slots[slot] for slot in sorted(slots_where(shot.shown, shot.marked)))
        seen = to_be_seen(puzzle, beat.picture, marked, times.holding)
        cues = [Cue(shots[0].first, min([*said, shots[-1].last]), (seen,))]
        for move, name in enumerate(names):
            made = [shot for shot in shots if shot.move == move and shot.turns]
            if made:
                cues.append(Cue(made[0].first, made[-1].last, (move_aloud(puzzle, name),)))
        found.append(cues)
    return found


def transcript_page(letters: Mapping[Timeline, Answer], title: str) -> str:
    """The page as HTML: each chapter with its time, what is to be seen, what is said, and the moves in words."""
    parts = []
    for times, answer in letters.items():
        parts += [f"<h2>{escape(times.story.title)}</h2>"] if len(letters) > 1 else []
        parts += _chapters(answer, times, "h2" if len(letters) == 1 else "h3")
    return fill_template(__file__, "transcript.html", title=escape(title), about=TRANSCRIPT, body="\n".join(parts))


def _chapters(answer: Answer, times: Timeline, head: str) -> list[str]:
    parts = []
    for beat, start, (picture, *moves) in zip(times.story.beats, times.starts, described(answer, times), strict=True):
        parts.append(f"<{head}>{clock(start, times.frames_a_second)} {escape(beat.chapter)}</{head}>")
        parts.append(f"<p><em>{escape(picture.text)}</em></p>")
        parts += [f"<p>{escape(sentence)}</p>" for sentence in beat.says]
        made = "".join(f"<li>{escape(cue.text)}</li>\n" for cue in moves)
        parts += [f"<ol>\n{made}</ol>"] if made else []
    return parts
