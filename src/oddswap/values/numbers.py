"""Numbers that must be one or more: a signature says so, and doors read the least that stands beside the type."""

from typing import Annotated

AtLeastOne = Annotated[int, 1]
Measure = Annotated[float, 1]
