"""oddswap: can a stuck permutation puzzle really be like that, which piece is not what it seems, what is a way out?

>>> import oddswap
>>> oddswap.load("shape-mod:prism8").diagnose("flip UF").verdict
'lookalike'
"""

from importlib import import_module

from oddswap.forwards import surface

__all__, _fetched, __dir__ = surface(
    __name__,
    {
        "errors": "OddswapError",
        "values.position": "Appearance Arrangement",
        "values.permutation": "cycle_type cycles permutation sign",
        "puzzles.base.puzzle": "Puzzle",
        "puzzles.catalogue": "load",
        "puzzles.made_up": "puzzle",
        "describing.changes": "changed",
        "describing.postcards": "read_postcard write_postcard",
        "describing.tickets": "parse_ticket read_ticket write_ticket",
        "describing.sights": "covered",
        "reasoning.laws.law_book": "law_book",
        "reasoning.laws.lookalikes": "lookalikes",
        "reasoning.laws.tally": "tally",
        "reasoning.budget": "Budget",
        "reasoning.search.shortest": "depth_counts find_way levels_around",
        "reasoning.verdicts.diagnosis": "diagnose",
        "reasoning.verdicts.views": "after_view views",
        "reasoning.verdicts.explanations": "completions",
        "reasoning.verdicts.counting": "count_explanations",
        "reasoning.opening.ways_map": "ways_map",
        "reasoning.teaching.tool_ways": "told_ways",
        "reasoning.teaching.toolbox": "toolbox",
        "reasoning.answers": "answer",
        "showing.pictures.prints": "draw_prints",
        "showing.pictures.strip": "draw_strip",
        "showing.pictures.cycles": "draw_cycles draw_tally",
        "showing.viewer.widget": "Viewer",
        "words.table": "reader_of",
        "showing.pages.report": "reply_text",
        "story.telling.beats": "story_of",
        "story.telling.story_file": "fitting read_story write_story",
        "story.telling.timeline": "timeline",
        "desk.repair_table": "workbench",
    },
)
"""Each public name is loaded from its module on first use, so that importing costs next to nothing."""


def __getattr__(name: str) -> object:
    if name == "__version__":
        return import_module("importlib.metadata").version(__name__)
    return _fetched(name)
