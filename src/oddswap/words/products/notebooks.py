"""What notebooks say, and the edition made of them: of controls, of what cannot be read, and of pages beside the lessons."""

RUN_ABOVE = "Choose Run > Run All Above Selected Cell, then come back."
TO_RUN = "Run this cell to see the picture that goes with it."
"""What a control leaves where nobody can turn it."""
CONTROL = "In the notebook there is a control here."
"""What the edition says in the place of a control."""
VALUE = "A value that lessons share."
TO_TRY = "Turn, look at what has changed places, and undo. X-ray hatches the pieces that need not be what they seem."
ALL_TICKETS = "All tickets, with their answers step by step"
PLACES = {
    "tickets": "the tickets of the repair table, each with its answer step by step.",
    "reference": "what notebooks of your own can import, with examples.",
    "appendix_glossary": "every word that the lessons use.",
}
"""What there is beside the lessons, by the names of the pages."""


def unread_words(error: Exception) -> str:
    """Why what somebody wrote cannot be used, in the words of an error."""
    return f"That cannot be read yet: {error}."


def missing_words(name: str) -> str:
    """That a cell needs a name which was not made yet; empty where it is not known which."""
    return f"This cell needs {f'`{name}`' if name else 'something'}, which a cell further up makes. {RUN_ABOVE}"
