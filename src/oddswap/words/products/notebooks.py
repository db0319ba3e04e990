"""What notebooks say, and the edition made of them: of controls, of what cannot be read, and of pages beside the lessons."""

from oddswap.words.texts import TEXTS

NOT_READ = "That cannot be read yet: {}."
NOT_MADE = "This cell needs {}, which a cell further up makes. Choose Run > Run All Above Selected Cell, then come back."
TO_RUN = "Run this cell to see the picture that goes with it."
"""What a control leaves where nobody can turn it."""
CONTROL = "In the notebook there is a control here."
"""What the edition says in the place of a control."""
ANSWER, CHECK = "Your answer", "Check"
COVERED = "Covered until you have guessed."
LAY = "Press the letters of the cards in the order in which you lay them, or write them."
EXERCISE, GIVES = "Exercise {}", "For {} it should give{}"
GIVEN, NOT_GIVEN = "Yes: right for all {}.", "Not yet. For {} it should give something else."
"""What the edition says round guesses and exercises."""
VALUE = "A value that lessons share."
TO_TRY = "Turn, look at what has changed places, and undo. X-ray hatches the pieces that need not be what they seem."
ALL_TICKETS = "All tickets, with their answers step by step"
PLACES = TEXTS["places"]
"""What there is beside the lessons, by the names of the pages."""
