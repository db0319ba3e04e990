"""Every sentence that a person reads, by subject: findings in, text out. Main doors: `say`, and `name_of` for short names."""

from oddswap.words.table import EXPLAINER, Reader, name_of, say

__all__ = ["EXPLAINER", "Reader", "name_of", "say"]
