"""Every sentence that a person reads, by subject: findings in, text out. Main door: `say`."""

from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say

__all__ = ["EXPLAINER", "Reader", "say"]
