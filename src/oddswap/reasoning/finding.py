"""What every finding is: reasoning says facts, and `words` make sentences of them."""

from dataclasses import dataclass
from typing import ClassVar, dataclass_transform


@dataclass_transform(frozen_default=True)
class Finding:
    """What reasoning says: a frozen value, its fields the typed data, and a ``code`` by which programs know its kind.

    >>> class Late(Finding):
    ...     code = "late"
    ...     minutes: int
    >>> Late(5), Late.code
    (Late(minutes=5), 'late')
    """

    code: ClassVar[str]

    def __init_subclass__(cls) -> None:
        dataclass(frozen=True)(cls)
