"""Exercises on stories: one caption that names a culprit, going on from a slip of the hand, and a clip cut short."""

from __future__ import annotations

import re
from dataclasses import replace

from oddswap.errors import OddswapError
from oddswap.lessons.exercises.written import parts, written
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.notes import Note, kindly
from oddswap.story.beats import story_of
from oddswap.story.captions import LINES, WIDE, pieces_of
from oddswap.story.timeline import timeline
from oddswap.values.grammar import listed

PROOF = ("law", "xray")
"""The pictures of the beats without which a viewer does not learn why."""


@kindly
def check_caption(sentence: str, found: Answer) -> Note:
    """Whether a sentence of one's own fits one caption and names a culprit of a *lookalike* by its home slot.

    Any text at all gets a kind sentence.
    """
    said = " ".join(written(sentence, "one sentence between the quotation marks.").split())
    try:
        pieces = pieces_of(said)
    except OddswapError as error:
        return Note(f"Not yet: {error}.")
    if len(pieces) > 1:
        return Note(f"Not yet. That makes {len(pieces)} captions, and one holds {LINES} lines of {WIDE} letters. Say it shorter.")
    named = [word for word in re.findall(r"\w+", said) if word in found.puzzle.slots]
    if not named:
        return Note("Not yet. Name one piece by its home, in capital letters, such as UF.")
    culprits = {piece for culprit in found.diagnosis.culprits for piece in culprit.pieces}
    if not culprits.intersection(named):
        law = found.diagnosis.broken[0].statement
        told = f"If {listed(dict.fromkeys(named))} changed, it would be seen, or it would not make up for this law"
        return Note(f"Not yet. {told}: {law}")
    return Note(f"Yes: one caption, and it names {listed(word for word in dict.fromkeys(named) if word in culprits)}.")


@kindly
def check_rest(moves: str, found: Answer, done: str) -> Note:
    """Whether ``moves`` lead to solved when somebody has made the turns ``done`` from what the ticket shows.

    Every way is accepted; the hint names the first turn that differs from the way out. Any text at all gets a kind sentence.
    """
    moves = written(moves, "turns such as: R U' F2")
    puzzle = found.turning
    start = puzzle.follow(done, found.diagnosis.explanation)
    after = puzzle.appearance(puzzle.follow(moves, start))
    if looks_solved(puzzle, after):
        return Note("Yes: after these turns everything looks solved.")
    solved = puzzle.appearance(puzzle.solved).sights
    wrong = [puzzle.slots[b] for b, sight in enumerate(after.sights) if sight != solved[b]]
    pairs = zip(done.split(), found.way_out.moves.split(), strict=False)
    slip = next(((made, meant) for made, meant in pairs if made != meant), None)
    hint = f' The hand made "{slip[0]}" where the way out has "{slip[1]}": make up for that first.' if slip else ""
    return Note(f"Not yet. {len(wrong)} slots do not look as they should then, {wrong[0]} for one.{hint}")


@kindly
def check_cut(chapters: str, found: Answer, seconds: float) -> Note:
    """Whether a clip of these chapters (separated by commas) leads to solved, says why, and is no longer than ``seconds``.

    Any text at all gets a kind sentence.
    """
    story = story_of(found)
    known = {_plain(beat.chapter): beat for beat in story.beats}
    asked = parts(chapters, f"chapters with commas between them. There are: {', '.join(_names(story))}.")
    for chapter in asked:
        if _plain(chapter) not in known:
            return Note(f"That cannot be read yet: there is no chapter of that name. There are: {', '.join(_names(story))}.")
    kept = [beat for name, beat in known.items() if name in set(map(_plain, asked))]
    for beat in story.beats:
        if beat in kept:
            continue
        if beat.moves:
            return Note(f'Not yet. Without "{beat.chapter}" the moves do not lead to solved.')
        if beat.picture in PROOF and not any(other.moves for other in story.beats[: story.beats.index(beat)]):
            law = found.diagnosis.broken[0].statement
            return Note(f'Not yet. Without "{beat.chapter}" nobody learns how it keeps this law: {law}')
    long = timeline(replace(story, beats=tuple(kept)), found).seconds
    if long > seconds:
        return Note(f"Not yet. That takes {long:.0f} seconds, and {seconds:g} are given. Leave something out.")
    return Note(f"Yes: {long:.0f} seconds, and a viewer can check every step of the argument.")


def _plain(chapter: str) -> str:
    return " ".join(re.findall(r"\w+", chapter.lower()))


def _names(story) -> list[str]:
    return [beat.chapter for beat in story.beats]
