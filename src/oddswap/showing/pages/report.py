"""An answer in words: as Markdown for the explainer, as a short reply for the visitor, and as plain data."""

from collections.abc import Iterator, Mapping
from itertools import zip_longest

from oddswap.reasoning import answers
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.in_hand import in_hand
from oddswap.reasoning.ticket_answers import NotOnOwnCopy, SeveralPlaces
from oddswap.reasoning.verdicts.findings import Diagnosis, OnceStraight
from oddswap.reasoning.verdicts.readings import Reading
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.reasoning.verdicts.surprise import NO_LOOKALIKE, Surprise
from oddswap.reasoning.ways.way_out import Route
from oddswap.showing.pages import telling
from oddswap.showing.pages.finding_data import culprits_data, fields_of, finding_data, law_data
from oddswap.showing.pages.markdown import bullets, escaped, page, picture
from oddswap.showing.pages.telling import explained
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.answers import IF_SLIPPED, LEADS, NEXT_VIEW, culprit_lines, headline, proof_lines, tally_words
from oddswap.words.table import EXPLAINER, VISITOR, Reader
from oddswap.words.to_visitors.replies import MovesLine, reply
from oddswap.words.verdicts import HEADINGS
from oddswap.words.ways.ways_out import TURN_FIRST, way_words

FIRST = answers.ReadOtherwise, answers.SeenBefore
"""What stands in the first lines of an answer."""
Sections = dict[str, list[str]]
"""The paragraphs of the sections of an answer, in Markdown, by the code of each section."""


def answer_data(answer: Answer) -> dict:
    """The answer as plain data, by ``schemas/answer.json``: every field always present."""
    found = answer.diagnosis
    came, own = answer.came_about, answer.own or answer
    repair, surprise = answer.repair, found.surprise or Surprise(None, NO_LOOKALIKE)
    beside = (*found.findings, *([found.surprise] if found.surprise else []), *_gaps(answer))
    said = (*found.assumed, *beside, *found.culprits, *(slip.mistake for slip in found.slips), *found.asked)
    return {
        **fields_of(found, "verdict assumptions"),
        "broken": [law_data(law) for law in found.broken],
        "broken_by_some": [law_data(law) for law in found.broken_by_some],
        "culprits": culprits_data(found.culprits),
        "surprise": {"share": surprise.share and str(surprise.share), "reason": None if surprise.share else say(surprise)},
        "once_straight": _straight_data(found),
        "readings": [
            {"if": reading.measured, "verdict": reading.verdict, "culprits": culprits_data(reading.culprits)}
            for reading in found.findings
            if isinstance(reading, Reading)
        ],
        "slips": [
            {**fields_of(slip, "sort words"), "answer": corrected and answer_data(corrected)}
            for slip, corrected in zip_longest(found.slips, answer.corrected)
        ],
        "repair": repair and fields_of(repair, "changes words others cautions"),
        "ask_next": list(found.ask_next),
        "set_up": {"moves": telling.as_described(own), "length": own.way_out and own.way_out.length},
        "came_about": {"moves": came.moves, "reason": say(came)},
        "way_out": telling.way_data(answer),
        "reached": [fields_of(reached, "part bound") for reached in answer.reached],
        "notes": list(map(say, beside)),
        "findings": [finding_data(finding) for finding in (*said, *([repair] if repair else []), *answer.reached)],
    }


def _straight_data(found: Diagnosis) -> dict:
    straight = found.one(OnceStraight)
    if straight is None:
        return {"moves": None, "verdict": None, "culprits": []}
    moves = " ".join((*straight.held.split(), *straight.turns))
    return {"moves": moves, "verdict": straight.verdict, "culprits": culprits_data(straight.culprits)}


def _gaps(answer: Answer) -> Iterator[Finding]:
    """Why figures that could not be had are null."""
    if answer.diagnosis.has(answers.MadeByHand):
        pass  # that finding says it
    elif answer.way_out is None:
        yield answers.NoWayOut(answer.verdict)
    elif answer.way_out.moves is None:
        yield answers.WayNotFound(answer.way_out.reasons)
    elif not telling.way_phases(answer):
        yield answers.OneStretch()
    if answer.repair is None and not any(cut.part == "repair" for cut in answer.reached):
        yield answers.NothingToRepair()
    if missing := answer.own and answer.own.diagnosis.one(NotOnOwnCopy):
        yield missing


def answer_markdown(answer: Answer, pictures: dict[str, str] | None = None, reader: Reader = EXPLAINER) -> str:
    """The answer for the explainer, as it is held by the ``reader`` who is answered.

    ``pictures`` maps seen, next_view, xray, strip or sent, shapes and tally to file names.
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
    return page(*(part for parts in headed for part in parts))


def verdict_sections(answer: Answer, pictures: dict[str, str] | None = None) -> Sections:
    """The sections of `verdict_markdown`; the first, which has no heading, starts with the headline."""
    found, shown = answer.diagnosis, pictures or {}
    verdict = f"Verdict: **{found.verdict}** · {escaped(answer.puzzle.title)}"
    tally = picture(shown, "tally")
    first = bullets(say(finding) for finding in found.findings if isinstance(finding, FIRST))
    sections = {"head": [headline(answer), verdict, *filter(None, [first]), *picture(shown, "seen")]}
    sections["why"] = [bullets(proof_lines(answer)), *tally, *filter(None, [escaped(tally_words(answer))] if tally else [])]
    if found.culprits:
        lines = culprit_lines(answer)
        named = [escaped(lines[0])] if len(found.culprits) == 1 else [LEADS["culprits"], bullets(lines)]
        sections["culprits"] = [*named, *picture(shown, "xray")]
        sections["culprits"] += [f"{capital(say(found.surprise))}."] if found.surprise else []
    return sections


def details_sections(answer: Answer, pictures: dict[str, str] | None = None, reader: Reader = EXPLAINER) -> Sections:
    """The sections of `details_markdown`."""
    found, shown, sections, done = answer.diagnosis, pictures or {}, {}, in_hand(answer, reader.holding)
    if notes := [say(finding) for finding in found.findings if not isinstance(finding, FIRST)]:
        sections["found"] = [bullets(notes)]
    if found.asked:
        sections["asked"] = [LEADS["asked"], bullets(found.ask_next), *picture(shown, "next_view")]
    if found.slips:
        sections["slips"] = [LEADS["slips"], bullets(slip.words for slip in found.slips)]
        sections["slips"] += [part for pair in zip(found.slips, answer.corrected, strict=False) for part in _if_slipped(*pair)]
    if repair := answer.repair:
        words = escaped(f"{capital(repair.words)}. {capital(repair.others)}.")
        sections["repair"] = [words, bullets(repair.cautions)]
    if answer.way_out is not None:
        ways = [*way_parts(done.answer.way_out), *telling.taught_parts(done.answer)]
        ways += explained(answer, [done.answer.way_out.moves, *(told.turns for told in done.answer.told)])
        drawn = picture(shown, "strip", "sent", "turns", "shapes")
        sections["way out"] = [*telling.hold_lines(done, reader), *ways, *drawn]
    if set_up := telling.set_up_lines(answer, reader):
        sections["set-up"] = set_up
    came = answer.came_about
    turns = [telling.from_solved_line(done, done.answer.made, reader)] if came.moves else []
    turns += explained(answer, [done.answer.made])
    sections["came about"] = [f"{capital(escaped(say(came)))}.", *turns, *picture(shown, "came_about")]
    if answer.reached:
        sections["reached"] = [bullets(map(say, answer.reached))]
    return {**sections, "assumed": [bullets(found.assumptions)]}


def _if_slipped(slip: Slip, corrected: Answer) -> list[str]:
    """The answer for what was really there if a slip was made; the whole-puzzle rotations that the slip has hidden first."""
    rotations = f"{slip.held} {corrected.held}".strip()
    hold = [TURN_FIRST.format(f"`{rotations}`")] if rotations else []
    way = [*way_parts(corrected.way_out), *explained(corrected, [corrected.way_out.moves])] if corrected.way_out else []
    return [IF_SLIPPED.format(escaped(slip.words), f"**{corrected.verdict}**"), *hold, *way]


def way_parts(way: Route) -> list[str]:
    """A way out in Markdown: its moves, or its phases with theirs, and what was proved of them."""
    lines = [f"1. {capital(escaped(phase.words))}: `{phase.moves}`" for phase in way.phases] or [f"`{way.moves}`"]
    return [*(["\n".join(lines)] if way.length else []), escaped(way_words(way))]


def reply_text(answer: Answer, reader: Reader = VISITOR, pictures: Mapping[str, str] | None = None) -> str:
    """A short message that can be sent to the visitor, as Markdown: no note, no names.

    Of the ``pictures`` (file names by what they show) the x-ray or what is seen stands in it, next_view is spoken of, and the
    strip, or each turn once, is there where the names of turns are nowhere else.

    >>> import oddswap
    >>> oddswap.reply_text(oddswap.answer("cube:2", "R U")).splitlines()[0]
    'Thank you for your ticket. Your cube is not broken: turning alone leads to this, and out of it again.'
    """
    said, shown = reply(answer, reader), pictures or {}
    parts = [escaped(f"{said.greeting} {said.answer}"), escaped(said.why)]
    follows = "next_turns" in shown
    parts += [] if follows else picture({"described": shown.get("xray", shown.get("seen"))}, "described")
    parts += [f"`{part.text}`" if isinstance(part, MovesLine) else escaped(part) for part in said.to_do]
    asked = "next_view" in shown and not answer.diagnosis.has(SeveralPlaces)
    turns = ["next_turns"] if follows or answer.turning.alphabet.is_box else ["strip", "turns"]
    return page(*parts, *picture(shown, *turns), NEXT_VIEW if asked else "")
