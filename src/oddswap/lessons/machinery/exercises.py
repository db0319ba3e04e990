"""Two kinds of exercise for any lesson, as data: cards that make an explanation in order, and code that a learner writes.

What a checker answers carries the exercise along, in a form that a page without Python can ask and judge. What somebody wrote
into an exercise is read here, too, whatever it is: with a hint where nothing can be read.
"""

import re
import tomllib
from collections.abc import Callable, Collection, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from functools import cached_property
from importlib.resources import files
from math import prod
from zlib import crc32

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import quantities, tally
from oddswap.showing.ink.widgets import Hint, Note, kindly
from oddswap.values.grammar import listed
from oddswap.values.position import Arrangement

EXERCISE = "application/vnd.oddswap.exercise+json"
"""The form of an output in which an exercise travels in a notebook."""
LETTERS = "ABCDEFGHIJKL"


@dataclass(frozen=True)
class Judged(Note):
    """A note on an answer, with the exercise as data for a page."""

    exercise: Mapping = field(default_factory=dict, repr=False)

    __repr__ = Note.__repr__

    def _repr_mimebundle_(self, **_) -> dict:
        return {"text/html": self._repr_html_(), "text/plain": repr(self), EXERCISE: dict(self.exercise)}


def counted(puzzle: Puzzle, done: str) -> dict[str, int]:
    """All laws, and what they are made of, by name, after turns or after changes by hand (with commas between).

    >>> counted(load("cube:2"), "twist UFR cw")
    {'twists of corners': 1}
    """
    by_hand = done.split(" ")[0] in ("flip", "twist", "swap", "cycle", "turn")
    start = changed(puzzle, done.split(", ")) if by_hand else puzzle.solved
    rows = tally(puzzle, "" if by_hand else done, start).in_full()
    return {law.name: row[-1] for law, row in zip(rows.laws, rows.values, strict=True)}


@dataclass(frozen=True)
class Claim:
    """A card: one step of an explanation in words, and the steps, by their number from 0, that it rests on.

    Where it says what is ``counted`` (a law, or what laws are made of, by name) after turns or changes by hand are ``done`` on a
    ``puzzle``, and that ``value`` is the outcome, the program counts. A step that does not hold belongs nowhere.

    >>> Claim("One flip is odd.").after
    ()
    """

    words: str
    after: tuple[int, ...] = ()
    puzzle: str = ""
    done: str = ""
    counted: str = ""
    value: int = 0

    @cached_property
    def wrong(self) -> str:
        """Why the step does not hold, else nothing.

        >>> Claim("U flips one edge.", (), "cube:3", "U", "flips of edges", 1).wrong
        'after U on cube:3, the flips of edges come to 0'
        """
        if not self.counted:
            return ""
        values = counted(load(self.puzzle), self.done)
        if self.counted not in values:
            raise BadOption(f"{quoted(self.counted)} is not counted on {self.puzzle}: write one of {'; '.join(values)}")
        found = values[self.counted]
        return "" if found == self.value else f"after {self.done} on {self.puzzle}, the {self.counted} come to {found}"


def explanation(lesson: str) -> tuple[Claim, ...]:
    """The steps of a lesson's explanation in an order that holds, by its number.

    >>> explanation("00")[0].words
    'A turn moves four edges. It flips all four, or none.'
    """
    data = tomllib.loads(files(__package__).joinpath("explanations.toml").read_text("utf-8"))
    if lesson not in data:
        raise BadOption(f"there is no explanation {quoted(lesson)}: write one of {'; '.join(data)}")
    return tuple(Claim(**{**step, "after": tuple(step.get("after", ()))}) for step in data[lesson])


def dealt(steps: Sequence[Claim]) -> dict[str, Claim]:
    """The cards by their letters, shuffled the same way each time."""
    return dict(zip(LETTERS, sorted(steps, key=lambda step: crc32(step.words.encode())), strict=False))


@kindly
def explain_back(order: str, steps: str | Sequence[Claim]) -> Note:
    """Whether cards, by their letters, make an explanation in this order; ``steps`` are a lesson's, by its number, or your own.

    A card rests on others, which must lie before it; a card that does not hold stays out. Without an order the cards are shown.

    >>> explain_back("A B", [Claim("One flip is odd."), Claim("So turning cannot do it.", (0,))])
    A comes too early: it rests on a card that you have not laid yet.
    """
    steps = explanation(steps) if isinstance(steps, str) else tuple(steps)
    if not 2 <= len(set(steps)) == len(steps) <= len(LETTERS):
        raise BadOption(f"an explanation has 2 to {len(LETTERS)} cards, all different, and this one has {len(steps)}")
    cards = dealt(steps)
    letter_of = {step: letter for letter, step in cards.items()}
    data = [
        {"card": letter, "words": card.words, "after": [letter_of[steps[i]] for i in card.after], "wrong": card.wrong}
        for letter, card in cards.items()
    ]
    exercise = {"kind": "order", "ask": "Which cards make the explanation, in which order?", "cards": data}
    laid = [letter for letter in str(order or "").upper() if letter.isalpha()]
    shown = "".join(f"\n  {letter}  {card.words}" for letter, card in cards.items())
    told = _told_of(laid, cards, steps) if laid else f"Nothing laid yet. Write letters, such as: A B C{shown}"
    return Judged(told, exercise)


def _told_of(laid: Sequence[str], cards: Mapping[str, Claim], steps: Sequence[Claim]) -> str:
    for place, letter in enumerate(laid):
        if letter not in cards or letter in laid[:place]:
            return f"{letter} is {'laid twice' if letter in cards else 'no card'}: write each letter once, from {listed(cards)}."
        if cards[letter].wrong:
            return f"{letter} does not hold: {cards[letter].wrong}. Leave it out."
        if not {steps[i] for i in cards[letter].after} <= {cards[before] for before in laid[:place]}:
            return f"{letter} comes too early: it rests on a card that you have not laid yet."
    missing = sum(not card.wrong for card in cards.values()) - len(laid)
    if missing:
        return f"Right so far. {missing} {'card is' if missing == 1 else 'cards are'} still to come."
    return "Yes: each card rests on those before it, and what can be counted was counted."


def _written(value: object) -> str:
    """A value as Python writes it; of a set, what is in it in one order."""
    return f"{{{', '.join(sorted(map(repr, value)))}}}" if isinstance(value, set | frozenset) and value else repr(value)


@kindly
def check_code(function: Callable, wanted: Mapping) -> Note:
    """Whether what somebody wrote gives what is ``wanted`` of each case; a case is what it is given.

    >>> check_code(lambda number: number + 1, {1: 2, 2: 4})
    Not yet. For 2 your code gives 3, and it should give 4. It is right for 1 of 2.
    """
    cases = [{"given": repr(case), "gives": _written(answer)} for case, answer in wanted.items()]
    exercise = {"kind": "code", "ask": "What does the code give?", "cases": cases}
    found = {case: _run(function, case) for case in wanted}
    right = [case for case in wanted if found[case] == wanted[case]]
    if all(answer is ... for answer in found.values()):
        return Judged("Nothing written yet. Put code in the place of the three dots.", exercise)
    if len(right) == len(wanted):
        return Judged(f"Yes: right for all {len(wanted)}.", exercise)
    case = next(case for case in wanted if case not in right)
    gives = found[case] if isinstance(found[case], Hint) else f"gives {found[case]!r}, and it should give {wanted[case]!r}"
    return Judged(f"Not yet. For {case!r} your code {gives}. It is right for {len(right)} of {len(wanted)}.", exercise)


def _run(function: Callable, case):
    """What a learner's function gives; a `Hint` in words where it stops."""
    try:
        return function(deepcopy(case))
    except Exception as error:  # whatever somebody wrote
        return Hint(f"stops: {type(error).__name__}: {error}")


@kindly
def check_law(law: Callable[[dict[str, int]], int], puzzle: str, walks: Sequence[str], by_hand: Sequence[str]) -> Note:
    """Whether a learner's function of all that can be counted, by name, is a law: turns keep it, and a hand can break it.

    ``walks`` are sequences of turns to try it on, beside each single turn; of the changes ``by_hand`` it must notice one.

    >>> check_law(lambda count: count["flips of edges"], "cube:3", ["R U F"], ["flip UF"])
    Yes: no turn changes it, and it notices flip UF.
    """
    held = load(puzzle)
    names = {quantity.name for quantity in quantities(held)}
    value = {
        done: _run(law, {name: count for name, count in counted(held, done).items() if name in names})
        for done in ("", *held.turns, *walks, *by_hand)
    }
    broken = [change for change in by_hand if not law_book(held).reaches(changed(held, [change]))]
    cases = [{"given": repr(done), "gives": repr(done not in broken)} for done in (*walks, *by_hand)]
    exercise = {"kind": "code", "ask": "Does a law keep its value?", "cases": cases}
    home = value[""]
    if home is ...:
        return Judged("Nothing written yet. Put code in the place of the three dots.", exercise)
    if isinstance(home, Hint):
        return Judged(f"Your law {home}.", exercise)
    for turns in (*held.turns, *walks):
        if value[turns] != home:
            return Judged(f"Not yet. It is {home!r} at home and {value[turns]!r} after {turns}: a turn changes it.", exercise)
    noticed = [change for change in broken if value[change] != home]
    if not noticed:
        return Judged(f"No turn changes it, but it does not notice {listed(broken)} either: count more.", exercise)
    return Judged(f"Yes: no turn changes it, and it notices {listed(noticed)}.", exercise)


LONGEST = 60
"""An answer of more characters is no number that anybody means."""


def written(answer: object, such: str) -> str:
    """The text of an answer, trimmed; where nothing is written a `Hint` what to write, ``such`` as it ends.

    >>> written("  R U ", "turns such as: R U F'")
    'R U'
    """
    text = "" if answer is None else str(answer).strip()
    if not text:
        raise Hint(f"Nothing written yet. Write {such}")
    return text


def parts(answer: object, such: str) -> list[str]:
    """What stands between the commas of an answer, without what is empty; else a `Hint` as of `written`.

    >>> parts("flip UF, , swap UR UB", "changes")
    ['flip UF', 'swap UR UB']
    """
    found = [part.strip() for part in written(answer, such).split(",") if part.strip()]
    return found or [written("", such)]


def written_number(answer: object, such: str) -> int:
    """A number, or the product of numbers, that somebody wrote; else a `Hint` to write one, ``such`` as it ends.

    >>> written_number("20,160", "720."), written_number("6 x 5 * 4", "720.")
    (20160, 120)
    """
    text = written(answer, f"a number such as {such}")
    plain = re.sub(r"[\s_]|,(?=[0-9]{3})", "", text)
    if len(text) > LONGEST or not re.fullmatch(r"[0-9]+([*x×·][0-9]+)*", plain, re.ASCII):
        raise Hint(f"That is no number yet. Write one such as {such}")
    return prod(map(int, re.split(r"[*x×·]", plain)))


def written_changes(puzzle: Puzzle, answer: object, such: str, start: Arrangement | None = None) -> Arrangement:
    """``start`` (solved, when left out) after changes by hand that somebody wrote; a `Hint` where there are none."""
    state = changed(puzzle, parts(answer, f"changes such as: {such}"), start)
    if state == (start or puzzle.solved):
        raise Hint("Not yet. Your changes undo each other: nothing has changed.")
    return state


def out_of_place(puzzle: Puzzle, state: Arrangement, wanted: Arrangement | None = None) -> set[int]:
    """The slots that do not look as in ``wanted`` (solved, when left out)."""
    seen, home = (puzzle.appearance(held).sights for held in (state, wanted or puzzle.solved))
    return {slot for slot, (one, other) in enumerate(zip(seen, home, strict=True)) if one != other}


def slot_names(puzzle: Puzzle, numbers: Collection[int]) -> str:
    """The names of slots, listed in their order."""
    return listed(puzzle.slots[number] for number in sorted(numbers)) if numbers else "no slot at all"
