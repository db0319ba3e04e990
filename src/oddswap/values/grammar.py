"""Small words that sentences are made of: lists, capitals, singulars, counts, and large numbers as they are read."""

from collections.abc import Iterable

ORDINALS = ("", "first", "second", "third", "fourth", "fifth", "sixth")
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def capital(text: str) -> str:
    """The text with a capital letter at its start, and nothing else changed."""
    return text[:1].upper() + text[1:]


def uncapital(text: str) -> str:
    """The text with a small letter at its start, and nothing else changed."""
    return text[:1].lower() + text[1:]


def listed(words: Iterable[str], last: str = "and") -> str:
    """``a, b and c``.

    >>> listed(["corners", "edges", "centres"])
    'corners, edges and centres'
    """
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} {last} {items[-1]}"


def singular(family: str) -> str:
    """One of a family of pieces: ``corner`` of ``corners``."""
    return family.removesuffix("s")


def counted(count: int, family: str) -> str:
    """So many pieces of a family, in figures.

    >>> counted(1, "corners"), counted(2, "corners")
    ('1 corner', '2 corners')
    """
    return f"{count} {singular(family) if count == 1 else family}"


def counted_words(count: int, family: str) -> str:
    """So many of something, in words where they are few.

    >>> counted_words(1, "turns"), counted_words(30, "turns")
    ('one turn', '30 turns')
    """
    return f"{number_word(count)} {family if count > 1 else singular(family)}"


def number_word(count: int) -> str:
    """A count, in words where it is small.

    >>> number_word(0), number_word(12), number_word(24)
    ('no', 'twelve', '24')
    """
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def ordinal(number: int) -> str:
    """Which one it is, in a word where it is small.

    >>> ordinal(2), ordinal(11)
    ('second', '11th')
    """
    return ORDINALS[number] if number < len(ORDINALS) else f"{number}th"


def times_word(count: int) -> str:
    """How often.

    >>> times_word(2), times_word(3)
    ('twice', 'three times')
    """
    return "twice" if count == 2 else f"{number_word(count)} times"


def read_number(value: int) -> str:
    """A number for reading: in groups of three, or rounded when it has more than fifteen digits.

    >>> read_number(43252003274489856000), read_number(88179840)
    ('about 4.33 × 10^19', '88 179 840')
    """
    if value < 10**15:
        return f"{value:,}".replace(",", " ")
    digits = len(str(value)) - 1
    return f"about {value // 10 ** (digits - 6) / 10**6:.2f} × 10^{digits}"
