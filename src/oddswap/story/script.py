"""The script of a story as Markdown: a shot list with times, the words to say, the moves; and its chapters as a list of times."""

from oddswap.showing.pages.markdown import escaped
from oddswap.story.telling.captions import clock
from oddswap.story.telling.timeline import Timeline
from oddswap.words.products.stories import PACE, SHOWN


def script_markdown(times: Timeline) -> str:
    """What to show, what to say and when: times are those of the clip, to the frame."""
    story, rate = times.story, times.frames_a_second
    words = sum(len(sentence.split()) for beat in story.beats for sentence in beat.says)
    parts = [f"# {escaped(story.title)}"]
    parts.append(PACE.format(clock(times.frames, rate), words, story.words_a_minute))
    parts += ["## Shots", "| from | to | chapter | to be seen | moves |\n| --- | --- | --- | --- | --- |\n" + _rows(times)]
    parts.append("## Words")
    for number, beat in enumerate(story.beats):
        parts.append(f"### {clock(times.starts[number], rate)} {escaped(beat.chapter)}")
        for sentence, cues in zip(beat.says, times.spoken[number], strict=True):
            parts.append(f"`{_exact(cues[0].first, rate)}` {escaped(sentence)}")
        moves = [shot for shot in times.shots if shot.beat == number and shot.turns and not shot.moving]
        if moves:
            told = (f"`{_exact(shot.first, rate)}` **{times.names[number][shot.move]}**" for shot in moves)
            parts.append("Moves: " + " · ".join(told))
    return "\n\n".join(parts) + "\n"


def chapters_text(times: Timeline) -> str:
    """The chapters as a list of times, the way descriptions of clips have them (common practice)."""
    pairs = zip(times.starts, times.story.beats, strict=True)
    return "".join(f"{clock(start, times.frames_a_second)} {beat.chapter}\n" for start, beat in pairs)


def _rows(times: Timeline) -> str:
    ends = (*times.starts[1:], times.frames)
    rate = times.frames_a_second
    rows = []
    for beat, start, end in zip(times.story.beats, times.starts, ends, strict=True):
        cells = (clock(start, rate), clock(end, rate), escaped(beat.chapter), SHOWN[beat.picture], escaped(beat.moves) or "–")
        rows.append(f"| {' | '.join(cells)} |")
    return "\n".join(rows)


def _exact(frame: int, rate: int) -> str:
    """Minutes, seconds and frames."""
    return f"{clock(frame, rate)}+{frame % rate:02}"
