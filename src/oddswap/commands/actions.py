"""What each command does with its options; an exit status comes back where it is not 0."""

import json
import os
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from oddswap.commands.course import course_folder
from oddswap.commands.terminal import bar, say, search_status, show
from oddswap.errors import BadOption, complain, quoted
from oddswap.forwards import fetched

load, read_ticket = fetched("puzzles.catalogue:load"), fetched("describing.tickets:read_ticket")
answer_to, reader_of = fetched("reasoning.ticket_answers:answer_to"), fetched("words.table:reader_of")
write_laws, write_alarms, write_ways = (fetched(f"showing.pages.folders:write_{what}") for what in ("laws", "alarms", "ways"))
"""What commands need, loaded when it is called first."""
STORY_SORTS = ("clip", "captions", "script", "prompter", "handout", "reply", "stills")


def _tell(options, write: Callable, data: Callable, markdown: Callable, *found: object) -> None:
    """Say what was found, after it was written to a folder if that was asked for."""
    if options.out is not None:
        write(found[0], options.out, *found[1:], force=options.force)
    say(options.json, data, markdown, *found)


def laws(options) -> None:
    from oddswap.showing.pages.law_page import laws_data, laws_markdown

    _tell(options, write_laws, laws_data, laws_markdown, load(options.puzzle), options.clock)


def alarms(options) -> None:
    from oddswap.reasoning.verdicts.alarms import alarms as table_of_alarms
    from oddswap.showing.pages.law_page import alarms_data, alarms_markdown

    puzzle = load(options.puzzle)
    table = table_of_alarms(puzzle, options.clock)
    reached = options.clock.reached("alarms", len(table))
    _tell(options, write_alarms, alarms_data, alarms_markdown, puzzle, table, reached)


def tools(options) -> None:
    from oddswap.reasoning.teaching.toolbox import toolbox
    from oddswap.showing.pages.ways_page import tools_data, tools_markdown

    puzzle = load(options.puzzle)
    say(options.json, tools_data, tools_markdown, puzzle, toolbox(puzzle, options.clock))


def answer(options) -> int | None:
    from oddswap.describing.tickets import letters_from, ticket_of

    letters, strangers = letters_from(options.tickets)
    if len(letters) > 1 or any(map(os.path.isdir, options.tickets)):
        from oddswap.commands.letters import answer_pile

        return answer_pile(letters, strangers, options)
    return _answer_one(ticket_of(letters[0]), options)


def _answer_one(ticket, options) -> None:
    from oddswap.commands.answered import lay_out, seen_before
    from oddswap.reasoning.ticket_answers import first_answer_to, noting, ways_for
    from oddswap.showing.pages.report import answer_data, details_markdown, verdict_markdown

    known = () if options.before is None else seen_before(ticket, options.before, options.clock)
    with search_status("working out the verdict"):
        found = first_answer_to(ticket, options.clock, options.turns)
    if options.out is not None:
        from oddswap.showing.pages.output_folder import open_folder

        with open_folder(options.out):  # refused now, not after a search
            pass
    if not options.json:
        show(verdict_markdown(noting(found, *known)))
    with search_status() as tell:
        found = ways_for(ticket, found, options.clock, tell)
    try:  # a reader who has seen enough may be gone; the pages are written all the same
        if not options.json:
            print()
        say(options.json, answer_data, partial(details_markdown, reader=reader_of(ticket)), noting(found, *known))
    finally:
        if options.out is not None:
            lay_out(found, ticket, options.out, options.clock, note=options.note, force=options.force)


def check(options) -> None:
    from oddswap.reasoning.checking.check import begun, check, place_lost, tried_otherwise
    from oddswap.reasoning.in_hand import lost_in_hand, said_from, trial_in_hand
    from oddswap.showing.pages.check_page import check_data, check_markdown

    ticket, lost = read_ticket(options.ticket), None
    puzzle, reader = ticket.puzzle, reader_of(ticket)
    start = begun(puzzle, ticket.appearance)
    written = str(ticket.habits.read(puzzle, options.moves, start))
    moves = said_from(puzzle, written, reader.holding.inverse)
    doubt = ticket.habits.doubt(puzzle, options.moves, start)
    if options.now is not None:
        now = read_ticket(options.now)
        if now.puzzle.name != puzzle.name:
            raise BadOption(f"--now shows {now.puzzle.name} and the ticket {puzzle.name}: name the same puzzle in both")
        lost = lost_in_hand(puzzle, place_lost(puzzle, ticket.appearance, moves, now.appearance, options.clock), reader.holding)
    tried = check(puzzle, ticket.appearance, moves, options.clock)
    other = None
    if asked := doubt or ticket.doubt:  # whoever means the one thing in the sequence means it in the ticket, too
        meant = said_from(puzzle, str(doubt.otherwise), reader.holding.inverse) if doubt else moves
        other = tried_otherwise(puzzle, ticket.otherwise or ticket.appearance, asked, meant, tried)
    page = partial(check_markdown, reader=reader, seen=ticket.appearance, written=written)
    say(options.json, check_data, page, puzzle, trial_in_hand(puzzle, tried, reader.holding), lost, other)


def postcard(options) -> None:
    from oddswap.describing.postcards import write_postcard

    line = write_postcard(read_ticket(options.ticket))
    print(json.dumps({"postcard": line}) if options.json else line)


def read(options) -> None:
    from oddswap.describing.tickets import read_pictures
    from oddswap.showing.pages.read_page import read_data, read_markdown

    say(options.json, read_data, read_markdown, *read_pictures(options.ticket))


def proof(options) -> None:
    from oddswap.showing.pages.output_folder import write_file
    from oddswap.showing.pages.proof import CHECKER, proof_text

    if options.checker == (options.ticket is not None):
        raise BadOption("proof takes a ticket, or --checker alone: write such as oddswap proof ticket.toml --out proof.json")
    if options.checker:
        text = CHECKER.read_text("utf-8")
    else:
        text = proof_text(answer_to(read_ticket(options.ticket), options.clock.share(0.7)), options.clock)
    print(text.rstrip() if options.out is None else write_file("proof", options.out, text, options.force))


def visitor(options) -> None:
    from oddswap.showing.pages.visitor_page import PUZZLES, write_visitor_page

    puzzles = [load(name) for name in ([options.puzzle] if options.puzzle else PUZZLES)]
    print(write_visitor_page(puzzles, options.out, options.address, options.clock, force=options.force))


def story(options) -> int | None:
    from oddswap.story.folder import write_episode, write_story_files
    from oddswap.story.footage import Footage
    from oddswap.story.story_files import PREVIEW, Wishes
    from oddswap.story.telling.beats import STORIES
    from oddswap.story.voice import Voice, listen, read_timing
    from oddswap.words.products.stories import CONSENT

    count = len(options.tickets)
    if count > 1 and (options.retake or options.timing or options.footage or len(options.voice) not in (0, count)):
        raise BadOption("an episode takes --voice once for each ticket, and no --retake, --timing or --footage: make each alone")
    tickets = [read_ticket(source) for source in options.tickets]
    with search_status() as tell:
        letters = [(answer_to(one, options.clock.share(0.8, 60.0), tell), reader_of(one)) for one in tickets]
    takes = tuple(map(listen, options.voice))
    again = tuple((beat, listen(path)) for beat, path, _ in options.retake)
    voice = Voice(takes, again, read_timing(options.timing) if options.timing else ())
    burnt = not options.voice if options.burn_captions is None else options.burn_captions
    looks = options.rate, options.width, options.transparent, burnt, options.paper
    wishes = Wishes(*looks, voice, options.clicks, tuple(Footage(*one) for one in options.footage))
    with bar() as tell:
        only = [PREVIEW] if options.preview else options.only or STORY_SORTS
        how = {"begin": STORIES[options.audience], "budget": options.clock, "force": options.force}
        if count == 1:
            made = write_story_files(letters[0][0], options.out, letters[0][1], only, wishes, tell, **how)
        else:
            each = [replace(wishes, voice=Voice(takes[i : i + 1])) for i in range(count)]
            made = write_episode(letters, options.out, only, each, tell, **how)
    print(*made.written, sep="\n")
    if made.kept:
        print(f"{len(made.kept)} files were up to date")
    if options.voice or options.footage:
        print(CONSENT)
    for sentence in made.failed:
        complain(sentence)
    return 2 if made.failed else None


def plan(options) -> None:
    from oddswap.reasoning.teaching.carried_out import carry_out, trouble_scramble
    from oddswap.reasoning.teaching.plans import read_plan
    from oddswap.showing.pages.ways_page import plan_data, plan_markdown

    puzzle, start = _start(options.what, options.after)
    plan, scramble = read_plan(options.plan, max(puzzle.alphabet.layers.values(), default=3)), None
    if options.trouble is None:
        done = carry_out(puzzle, plan, start, options.clock)
    else:
        scramble, done = trouble_scramble(puzzle, plan, options.length, options.trouble, options.clock)
    say(options.json, plan_data, plan_markdown, puzzle, done, scramble)


def ways(options) -> None:
    from oddswap import words
    from oddswap.reasoning.opening.ways_map import ways_map
    from oddswap.showing.pages.ways_page import ways_data, ways_markdown

    with bar() as tell:
        said = tell and (lambda looking, share: tell(words.say(looking), share))
        found = ways_map(load(options.puzzle), options.depth, options.clock, said)
    _tell(options, write_ways, ways_data, ways_markdown, found)


def worksheet(options) -> None:
    from oddswap.workshop.evening import write_workshop

    with bar() as tell:
        how = {name: getattr(options, name) for name in ("count", "tables", "people", "paper", "force")}
        evening = options.puzzles, options.level, options.seed, options.out
        written = write_workshop(*evening, budget=options.clock, tell=tell, **how)
    print(*written, sep="\n")


def edition(options) -> None:
    from oddswap.edition.build import write_edition

    notebooks = options.notebooks or course_folder()
    tickets = {path.stem: read_ticket(path) for path in sorted((notebooks / "tickets").glob("*.toml"))}
    chosen: dict = {"looked_up": options.puzzles} if options.puzzles else {}
    chosen |= {"single": options.single} | ({"documented": {}} if options.no_reference else {})
    with bar() as tell:
        print(write_edition(notebooks, options.out, tickets, tell=tell, force=options.force, **chosen))


def figures(options) -> None:
    from oddswap.commands.figures import rebuild

    print(*rebuild(options.out, force=options.force), sep="\n")


def _start(what: str, after: str | None):
    """The puzzle of that name or of the ticket in that file, and an arrangement that looks as it is told."""
    from oddswap.describing.habits import Habits
    from oddswap.describing.tickets import names_ticket
    from oddswap.reasoning.laws.lookalikes import first_sight
    from oddswap.values.sequence import bounded

    if not names_ticket(what):
        puzzle = load(what)
        return puzzle, puzzle.follow(bounded(Habits().read(puzzle, after or "")))
    ticket = read_ticket(what)
    if after is not None:
        raise BadOption("a ticket tells where it starts: leave out --after, or name a puzzle")
    sighted = first_sight(ticket.puzzle, ticket.appearance) if ticket.appearance.complete else None
    if sighted is None:
        raise BadOption(f"the ticket {quoted(ticket.name)} does not show the whole puzzle: a plan must see all of it")
    return ticket.puzzle, sighted[0]
