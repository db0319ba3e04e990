"""What every finding is: reasoning says facts, and `words` make sentences of them."""

import re
from dataclasses import dataclass
from typing import ClassVar, dataclass_transform


@dataclass_transform(frozen_default=True)
class Finding:
    """What reasoning says: a frozen value, its fields the typed data, and a ``code`` by which programs know its kind.

    The code is the name of its class, in small letters with hyphens, unless the class gives it another.

    >>> class TooLate(Finding):
    ...     minutes: int
    >>> TooLate(5), TooLate.code
    (TooLate(minutes=5), 'too-late')
    """

    code: ClassVar[str]

    def __init_subclass__(cls, order: bool = False) -> None:
        if "code" not in vars(cls):
            cls.code = re.sub(r"\B(?=[A-Z])", "-", cls.__name__).lower()
        dataclass(frozen=True, order=order)(cls)
