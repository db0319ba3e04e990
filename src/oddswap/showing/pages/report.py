"""An answer in words: as Markdown for the explainer, as a short reply for the visitor, and as plain data."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.catalogue import with_turns_out_of_the_box
from oddswap.reasoning.answers import (
    Answer,
    MadeByHand,
    NothingToRepair,
    NoWayOut,
    OneStretch,
    ReadOtherwise,
    SeenBefore,
    WayNotFound,
)
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.in_hand import in_hand
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.opening.outside import OnlySearchedOutside
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, Culprit, Diagnosis, OnceStraight
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.reasoning.verdicts.surprise import NO_LOOKALIKE, Surprise
from oddswap.reasoning.ways.way_out import Route
from oddswap.showing.pages.finding_data import finding_data, law_data
from oddswap.showing.pages.markdown import escaped
from oddswap.showing.pages.telling import as_described, hold_lines, set_up_words, told_parts, way_data, way_phases
from oddswap.values.grammar import capital, listed, read_number
from oddswap.words import say
from oddswap.words.reader import EXPLAINER, VISITOR, Reader
from oddswap.words.to_visitors.replies import MovesLine, reply
from oddswap.words.verdicts import HEADINGS, SEARCHED, STRANGE, STRANGE_BOX, UNTRIED, WORDINGS

FIRST = ReadOtherwise, SeenBefore
"""What stands in the first lines of an answer."""
Sections = dict[str, list[str]]
"""The paragraphs of the sections of an answer, in Markdown, by the code of each section."""


def headline(answer: Answer) -> str:
    """What is said first: what was proved, and no more."""
    found = answer.diagnosis
    if found.verdict == NOT_BY_TURNING and found.first is not None and with_turns_out_of_the_box(answer.puzzle):
        return SEARCHED if found.has(OnlySearchedOutside) else UNTRIED
    return WORDINGS[found.verdict].headline


def answer_data(answer: Answer) -> dict:
    """The answer as plain data, by ``schemas/answer.json``: every field always present."""
    found = answer.diagnosis
    came = answer.came_about
    repair, surprise = found.repair, found.surprise or Surprise(None, NO_LOOKALIKE)
    beside = (*found.findings, *([found.surprise] if found.surprise else []), *_gaps(answer))
    said = (*found.assumed, *beside, *found.culprits, *(slip.mistake for slip in found.slips), *found.asked)
    return {
        "verdict": found.verdict,
        "assumptions": list(found.assumptions),
        "broken": [law_data(law) for law in found.broken],
        "broken_by_some": [law_data(law) for law in found.broken_by_some],
        "culprits": _culprits_data(found.culprits),
        "surprise": {"share": surprise.share and str(surprise.share), "reason": None if surprise.share else say(surprise)},
        "once_straight": _straight_data(found),
        "slips": [
            {"sort": slip.sort, "words": slip.words, "answer": corrected and answer_data(corrected)}
            for slip, corrected in zip_longest(found.slips, answer.corrected)
        ],
        "repair": None
        if repair is None
        else {"changes": list(repair.changes), "words": repair.words, "others": repair.others, "cautions": list(repair.cautions)},
        "ask_next": list(found.ask_next),
        "set_up": {"moves": as_described(answer), "length": None if answer.way_out is None else answer.way_out.length},
        "came_about": {"moves": came.moves, "reason": say(came)},
        "way_out": way_data(answer),
        "reached": [{"part": reached.part, "bound": reached.bound} for reached in answer.reached],
        "notes": list(map(say, beside)),
        "findings": [finding_data(finding) for finding in (*said, *([repair] if repair else []), *answer.reached)],
    }


def _culprits_data(culprits: Iterable[Culprit]) -> list[dict]:
    return [{"pieces": list(culprit.pieces), "words": culprit.words} for culprit in culprits]


def _straight_data(found: Diagnosis) -> dict:
    straight = found.one(OnceStraight)
    if straight is None:
        return {"moves": None, "verdict": None, "culprits": []}
    moves = " ".join((*straight.held.split(), *straight.turns))
    return {"moves": moves, "verdict": straight.verdict, "culprits": _culprits_data(straight.culprits)}


def _gaps(answer: Answer) -> Iterator[Finding]:
    """Why figures that could not be had are null."""
    if answer.diagnosis.has(MadeByHand):
        pass  # that finding says it
    elif answer.way_out is None:
        yield NoWayOut(answer.verdict)
    elif answer.way_out.moves is None:
        yield WayNotFound(answer.way_out.reasons)
    elif not way_phases(answer):
        yield OneStretch()
    if answer.diagnosis.repair is None:
        yield NothingToRepair()


def proof_lines(answer: Answer) -> list[str]:
    """The reasons for the verdict, one sentence each, from the laws and their certificate."""
    found = answer.diagnosis
    if isinstance(answer.puzzle, BoxPuzzle):
        return [STRANGE_BOX if answer.appearance.foreign else WORDINGS[found.verdict].open_box]
    book = law_book(answer.puzzle)
    if found.verdict == CANNOT_TELL:
        return [WORDINGS[CANNOT_TELL].proof]
    lines = [f"This law is broken by what is seen: {law.statement}" for law in found.broken]
    if found.broken:
        lines.append("No allowed turn changes what that law counts, so the pieces as they seem to be cannot get there.")
    if found.verdict == ORDINARY:
        lines.append(WORDINGS[ORDINARY].proof.format(held=f", held as after {answer.held}" if answer.held else ""))
    if found.broken_by_some:
        lines.append(
            "Displaced pieces that look alike can be told apart in more than one way, and some of these break a law; "
            "others do not."
        )
    if found.verdict == LOOKALIKE:
        lines.append(WORDINGS[LOOKALIKE].proof)
    if found.verdict == NOT_BY_TURNING and found.broken and book.hidden.generators():
        lines.append("The exchange of lookalikes does not change this either.")
    if found.verdict == NOT_BY_TURNING and not found.broken:
        lines.append(STRANGE if found.first is None else WORDINGS[NOT_BY_TURNING].proof)
    lines.append(
        f"The laws are proved complete: the turns reach {read_number(book.order)} arrangements, "
        f"one in {book.index} of those that hands could put together."
    )
    return lines


def answer_markdown(answer: Answer, pictures: dict[str, str] | None = None, reader: Reader = EXPLAINER) -> str:
    """The answer for the explainer, as it is held by the ``reader`` who is answered.

    ``pictures`` maps seen, next_view, xray, strip, shapes and tally to file names.
    """
    return f"{verdict_markdown(answer, pictures)}\n{details_markdown(answer, pictures, reader)}"


def verdict_markdown(answer: Answer, pictures: dict[str, str] | None = None) -> str:
    """The first part of the answer, which needs no way out: what it is, why, and which piece is not what it seems."""
    return f"# {_markdown(verdict_sections(answer, pictures))}"


def details_markdown(answer: Answer, pictures: dict[str, str] | None = None, reader: Reader = EXPLAINER) -> str:
    """The rest of the answer: what was found beside it, what to ask for or to mend, the ways, what was taken for granted."""
    return _markdown(details_sections(answer, pictures, reader))


def _markdown(sections: Sections) -> str:
    headed = ([f"## {HEADINGS[code]}", *parts] if code in HEADINGS else parts for code, parts in sections.items())
    return "\n\n".join(part for parts in headed for part in parts) + "\n"


def verdict_sections(answer: Answer, pictures: dict[str, str] | None = None) -> Sections:
    """The sections of `verdict_markdown`; the first, which has no heading, starts with the headline."""
    found, shown = answer.diagnosis, pictures or {}
    verdict = f"Verdict: **{found.verdict}** · {escaped(answer.puzzle.title)}"
    tally = picture(shown, "tally", "The tally: what each move does to what the laws count")
    first = _bullets(say(finding) for finding in found.findings if isinstance(finding, FIRST))
    sections = {"head": [headline(answer), verdict, *filter(None, [first]), *picture(shown, "seen", "What is seen")]}
    sections["why"] = [_bullets(proof_lines(answer)), *tally]
    if tally and answer.easiest.mends:
        hidden = escaped(answer.easiest.mends.words)
        sections["why"].append(f"The tally is that of the easiest way. It counts what is hidden, too, from the start: {hidden}.")
    if found.culprits:
        sections["culprits"] = [_culprit_words(answer), *picture(shown, "xray", "The x-ray: where a culprit can hide")]
        sections["culprits"] += [f"{capital(say(found.surprise))}."] if found.surprise else []
    return sections


def details_sections(answer: Answer, pictures: dict[str, str] | None = None, reader: Reader = EXPLAINER) -> Sections:
    """The sections of `details_markdown`."""
    found, shown, sections, done = answer.diagnosis, pictures or {}, {}, in_hand(answer, reader.holding)
    if notes := [say(finding) for finding in found.findings if not isinstance(finding, FIRST)]:
        sections["found"] = [_bullets(notes)]
    if found.asked:
        view = picture(shown, "next_view", "The photograph to ask for first: from where to take it, and what it will show")
        sections["asked"] = ["In this order, until it is decided:", _bullets(found.ask_next), *view]
    if found.slips:
        sections["slips"] = ["Any one of these would make it ordinary:", _bullets(slip.words for slip in found.slips)]
        sections["slips"] += [part for pair in zip(found.slips, answer.corrected, strict=False) for part in _if_slipped(*pair)]
    if found.repair:
        repair = escaped(f"{capital(found.repair.words)}. {capital(found.repair.others)}.")
        sections["repair"] = [repair, _bullets(found.repair.cautions)]
    if answer.way_out is not None:
        strip = picture(shown, "strip", "The easiest way out, move by move")
        shapes = picture(shown, "shapes", "What it should look like after each turn that changes its shape")
        ways = [way_words(done.answer.way_out), *told_parts(done.answer)]
        sections["way out"] = [*hold_lines(done, reader), *ways, *strip, *shapes]
    if answer.set_up:
        sections["set-up"] = [set_up_words(done, reader)]
    came = answer.came_about
    turns = [f"From solved, by the puzzle's own names of faces: `{came.moves}`"] if came.moves else []
    strip = picture(shown, "came_about", "How it can have come about, from solved, turn by turn")
    sections["came about"] = [f"{capital(escaped(say(came)))}.", *turns, *strip]
    if answer.reached:
        sections["reached"] = [_bullets(map(say, answer.reached))]
    return {**sections, "assumed": [_bullets(found.assumptions)]}


def _if_slipped(slip: Slip, corrected: Answer) -> list[str]:
    """The answer for what was really there if a slip was made; the whole-puzzle rotations that the slip has hidden first."""
    so = f"If {escaped(slip.words)}, its verdict is **{corrected.verdict}**:"
    rotations = f"{slip.held} {corrected.held}".strip()
    hold = [f"First turn the whole puzzle by `{rotations}`, from how it was described."] if rotations else []
    return [so, *hold, *([way_words(corrected.way_out)] if corrected.way_out else [])]


def way_words(way: Route) -> str:
    """A way out with its counting: never *shortest* without what was counted."""
    if way.moves is None:
        return f"No way out was found within the budget. {capital(escaped(way.reason))}."
    if not way.length:
        return "It looks solved already: there is nothing to turn."
    proved = "proved shortest" if way.shortest else f"at least {way.lower_bound} are needed, so a shorter one may exist"
    lines = [f"1. {capital(escaped(phase.words))}: `{phase.moves}`" for phase in way.phases] or [f"`{way.moves}`"]
    return "\n".join(lines) + f"\n\n{way.length} turns, {proved} ({escaped(way.counting)})."


def reply_text(answer: Answer, reader: Reader = VISITOR, pictures: Mapping[str, str] | None = None) -> str:
    """A short message that can be sent to the visitor, as Markdown: no note, no names.

    Of the ``pictures`` (file names by what they show) the x-ray or what is seen stands in it, and next_view is spoken of.

    >>> import oddswap
    >>> oddswap.reply_text(oddswap.answer("cube:2", "R U")).splitlines()[0]
    'Thank you for your ticket. Your cube is not broken: turning alone leads to this, and out of it again.'
    """
    said, shown = reply(answer, reader), pictures or {}
    parts = [escaped(said.answer), escaped(said.why)]
    parts += picture(shown, "xray" if "xray" in shown else "seen", "What you described")
    parts += [f"`{part.text}`" if isinstance(part, MovesLine) else escaped(part) for part in said.to_do]
    if "next_view" in shown:
        parts.append("The picture that comes with this shows from where to take the first one.")
    return "\n\n".join(filter(None, parts)) + "\n"


def _culprit_words(answer: Answer) -> str:
    culprits = answer.diagnosis.culprits
    if len(culprits) == 1:
        return f"{capital(escaped(culprits[0].words))}. It is the only piece that can be the culprit."
    lines = _gathered(answer)
    return f"One of these, and nobody can see which:\n\n{_bullets(lines)}"


def _gathered(answer: Answer) -> list[str]:
    """The culprits in words; exchanges among the same twins are said once."""
    puzzle, alike = answer.puzzle, lookalikes(answer.puzzle)
    lines: dict[object, str] = {}
    for culprit in answer.diagnosis.culprits:
        (family, *others) = {alike.family_of[puzzle.slot(name)] for name in culprit.pieces}
        if len(culprit.pieces) == 2 and not others and len(family.pieces) > 2:
            names = listed(puzzle.slots[p] for p in family.pieces)
            lines[family] = f"two of the twin {family.kind.family} {names} have changed places, and they look the same"
        else:
            lines[culprit] = culprit.words
    return list(lines.values())


def picture(shown: dict[str, str], key: str, words: str) -> list[str]:
    return [f"![{words}]({shown[key]})"] if key in shown else []


def _bullets(lines) -> str:
    return "\n".join(f"- {capital(escaped(line))}" for line in lines)
