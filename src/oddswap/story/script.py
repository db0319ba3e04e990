"""The script of a story as Markdown: a shot list with times, the words to say, the moves."""

from oddswap.showing.pages.markdown import escaped
from oddswap.story.telling.captions import clock
from oddswap.story.telling.timeline import Timeline
from oddswap.words.products.stories import PACE, SHOWN


def script_markdown(times: Timeline) -> str:
    """What to show, what to say and when: times are those of the clip, to the frame."""
    story, rate = times.story, times.frames_a_second
    words = sum(len(sentence.split()) for beat in story.beats for sentence in beat.says)
    parts = [f"# {escaped(story.title)}"]
    parts.append(PACE.format(clock(times.frames - times.starts[0], rate), words, story.words_a_minute))
    parts += ["## Shots", "| from | to | chapter | to be seen | moves |\n| --- | --- | --- | --- | --- |\n" + _rows(times)]
    parts.append("## Words")
    for number, beat in enumerate(story.beats):
        parts.append(f"### {clock(times.starts[number], rate)} {escaped(beat.chapter)}")
        for sentence, cues in zip(beat.says, times.spoken[number], strict=True):
            parts.append(f"`{_exact(cues[0].first, rate)}` {escaped(sentence)}")
        shown = [shot for shot in times.shots if shot.beat == number and shot.turns and not shot.moving]
        if begun := {shot.move: shot.first for shot in reversed(shown)}:
            told = (f"`{_exact(begun[move], rate)}` **{times.names[number][move]}**" for move in sorted(begun))
            parts.append("Moves: " + " · ".join(told))
    return "\n\n".join(parts) + "\n"


def _rows(times: Timeline) -> str:
    rows = []
    for number, beat in enumerate(times.story.beats):
        span = (clock(frame, times.frames_a_second) for frame in times.span(number))
        cells = (*span, escaped(beat.chapter), SHOWN[beat.picture], escaped(beat.moves) or "–")
        rows.append(f"| {' | '.join(cells)} |")
    return "\n".join(rows)


def _exact(frame: int, rate: int) -> str:
    """Minutes, seconds and frames."""
    return f"{clock(frame, rate)}+{frame % rate:02}"
