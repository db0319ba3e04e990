"""Stories as files that an explainer can edit: read with one clear sentence for each mistake, written so that they read back."""

from dataclasses import asdict
from pathlib import Path

import tomli_w

from oddswap.errors import BadStory, OddswapError, quoted
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.story.telling.beats import COLOURS, PICTURES, Beat, Story, fingerprint, story_of
from oddswap.values.sequence import bounded
from oddswap.values.text_file import one_line, parse_toml, read_text
from oddswap.words.products.in_a_clip import BREATH, words_in


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _is_list(value: object) -> bool:
    return isinstance(value, list)


TOP = {
    "title": (_is_text, "a text"),
    "puzzle": (_is_text, "the name of the ticket's puzzle"),
    "position": (_is_text, "as it was written"),
    "culprit": (_is_list, "a list of slots such as [FL]"),
    "held": (_is_text, "the whole-puzzle rotations that lead to how it is held, or an empty text"),
    "colours": (COLOURS.__contains__, " or ".join(COLOURS)),
    "words_a_minute": (lambda pace: type(pace) is int and 60 <= pace <= 160, "a whole number from 60 to 160"),
    "seconds_a_turn": (lambda pace: type(pace) in (int, float) and 0.2 <= pace <= 5, "a number from 0.2 to 5"),
    "beat": (_is_list, "tables [[beat]]"),
}
BEAT = {
    "chapter": (_is_text, "a text"),
    "picture": (PICTURES.__contains__, f"one of {', '.join(PICTURES)}"),
    "says": (_is_list, "a list of sentences"),
    "moves": (_is_text, "moves such as R U', or an empty text"),
    "large": (lambda lines: _is_list(lines) and len(lines) <= 2, "a headline, and a second line if you like"),
    "marks": (_is_list, "for each sentence the pieces that it speaks of, such as [UF]"),
    "demo": (_is_text, "moves that are shown and lead back, such as R R', or an empty text"),
    "hard": (lambda move: type(move) is int and move >= 0, "the number of the move that is shown twice, or 0"),
}
MAY_BE_LEFT_OUT = {"moves": "", "large": [], "marks": [], "demo": "", "hard": 0}
"""For each key whether a value will do, and what would."""
HEAD = """\
# A story. Change the order, the words, the pace, the culprit, the way out or the colours, and make the files again.
# picture = seen, plain, law, lift, xray or way; moves are made after the words were said.
# marks = for each sentence the slots of the pieces that it speaks of, such as "UF UR", or "?" for all that was not seen.
# large = a headline and a second line; demo = moves that are shown and taken back; hard = the move that is shown twice, or 0.

"""


def write_story(story: Story) -> str:
    """The story as a text that `read_story` reads as an equal one.

    >>> import oddswap
    >>> text = write_story(oddswap.story_of(oddswap.answer("cube:2", "R U")))
    >>> [line for line in text.splitlines() if line.startswith("chapter")][:2]
    ['chapter = "What is seen"', 'chapter = "What is wrong"']
    """
    data = asdict(story)
    data["beat"] = data.pop("beats")
    return HEAD + tomli_w.dumps(data, multiline_strings=False)


def read_story(path: Path) -> Story:
    """The story in a file. `BadStory` says what is wrong, where, and what would be right.

    >>> import oddswap
    >>> from pathlib import Path
    >>> from tempfile import mkdtemp
    >>> path, story = Path(mkdtemp()) / "story.toml", oddswap.story_of(oddswap.answer("cube:2", "R U"))
    >>> _ = path.write_text(write_story(story))
    >>> read_story(path) == story
    True
    """
    given = {"held": ""} | parse_toml(read_text(path, "the story", BadStory), quoted(path.name), BadStory)
    data, beats = _checked(given, TOP, "the story"), []
    for number, entry in enumerate(data.pop("beat"), 1):
        where = f"beat {number}"
        if not isinstance(entry, dict):
            raise BadStory(f"{where} is no table: write [[beat]] and below it its keys")
        beat = _checked(MAY_BE_LEFT_OUT | entry, BEAT, where)
        lists = {key: _texts(beat[key], f"{where}, {key}", key == "marks") for key in ("says", "large", "marks")}
        beats.append(Beat(**beat | lists))
    if not beats:
        raise BadStory("the story has no beats: write at least one [[beat]]")
    return Story(**data | {"culprit": _texts(data["culprit"], "culprit")}, beats=tuple(beats))


def _checked(data: dict, keys: dict, where: str) -> dict:
    """The data with its texts cleaned, each on one line."""
    clean = {key: one_line(value) if isinstance(value, str) else value for key, value in data.items()}
    for key, value in clean.items():
        if key not in keys:
            raise BadStory(f"{where}: {quoted(key)} is no key of it: it knows {', '.join(keys)}")
        fits, right = keys[key]
        if not fits(value):
            raise BadStory(f"{where}: {key} is {quoted(value)}: give it {right}")
    for key, (_, right) in keys.items():
        if key not in clean:
            raise BadStory(f"{where} has no {key}: give it {right}")
    return clean


def _texts(values: list, where: str, empty: bool = False) -> tuple[str, ...]:
    for value in values:
        if not isinstance(value, str) or not one_line(value) and not empty:
            raise BadStory(f"{where}: {quoted(value)} is no text: write a list of texts")
    return tuple(map(one_line, values))


def fitting(story: Story, answer: Answer, begun: Story | None = None) -> Story:
    """The story, if it is one of this answer: its position, its culprit, short sentences, and moves that lead to solved, if any.

    `BadStory` says what does not fit. Sentences of the story as it was ``begun`` may be longer.

    >>> import oddswap
    >>> found = oddswap.answer("cube:2", "R U")
    >>> story = oddswap.story_of(found)
    >>> fitting(story, found) == story
    True
    """
    if (story.puzzle, story.position) != (answer.puzzle.name, fingerprint(answer.appearance)):
        raise BadStory("this story is of another ticket: give the other ticket's folder another name, or remove the story")
    known = {sentence for beat in (begun or story_of(answer)).beats for sentence in beat.says}
    for number, beat in enumerate(story.beats, 1):
        for sentence in beat.says:
            if sentence not in known and (count := words_in(sentence)) > BREATH:
                raise BadStory(
                    f"beat {number}: {quoted(sentence)} has {count} words: say it in {BREATH} at most, or in two sentences"
                )
    found = answer.diagnosis
    if found.culprits and story.culprit not in {culprit.pieces for culprit in found.culprits}:
        known = "; ".join(", ".join(culprit.pieces) for culprit in found.culprits[:8])
        raise BadStory(f"culprit: {quoted(', '.join(story.culprit))} is none of this ticket's: write one of {known}")
    if not story.moves:
        return story
    if found.explanation is None:
        raise BadStory("the story has moves, but no turning leads out of this position: leave them empty")
    puzzle = answer.turning
    try:
        after = puzzle.follow(bounded(puzzle.read(f"{story.held} {story.moves}")), found.explanation)
    except OddswapError as error:
        raise BadStory(f"the moves of the story cannot be made: {error}") from None
    if not looks_solved(puzzle, puzzle.appearance(after)):
        raise BadStory("the moves of the story, one beat after the other, do not lead to solved: mend them, or write them anew")
    return story
