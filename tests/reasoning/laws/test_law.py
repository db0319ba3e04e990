"""A kind of law that the package does not have: a class, a place where it is found, and words; nothing else knows of it."""

import jsonschema
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws import law_book as laws
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law, Measure, Sector
from oddswap.reasoning.laws.tally import tally
from oddswap.reasoning.verdicts.alarms import alarms_until
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.pages.law_page import alarms_markdown, laws_data, laws_markdown
from oddswap.values.permutation import sign
from oddswap.words import table
from tests.showing.pages.test_law_page import SCHEMA

CUBE = load("cube:3")


class Evenness(Law):
    """The twenty pieces that turns move, corners and edges as one set, are rearranged evenly."""

    sectors: tuple[Sector, ...]
    type = "other"
    modulus = 2
    seen = additive = True

    @property
    def terms(self):
        return tuple((1, Measure(sector, "sign", 2)) for sector in self.sectors)

    def value(self, permutation):
        images = []
        for sector in self.sectors:
            before = len(images)
            images += [before + sector.place[label][0] for label in permutation[sector.labels[:, 0]].tolist()]
        return int(sign(images) == -1)


@pytest.fixture(autouse=True)
def one_kind_more(monkeypatch):
    found = laws.laws_of_image

    def also(image, unseen):
        yield from found(image, unseen)
        yield Evenness(image.parts[:2])

    for cached in (law_book, alarms_until):
        cached.cache_clear()
    monkeypatch.setattr(laws, "laws_of_image", also)
    monkeypatch.setitem(table._NAMES, Evenness, lambda law: "evenness")
    monkeypatch.setitem(table._SENTENCES, Evenness, lambda law: "The twenty are rearranged evenly.")
    yield
    for cached in (law_book, alarms_until):
        cached.cache_clear()


def test_it_stands_on_the_page_in_the_data_and_in_the_tally():
    data = laws_data(CUBE)
    jsonschema.validate(data, SCHEMA)
    assert data["complete"] and data["laws"][-1]["terms"][0] == {
        "what": "sign",
        "kind": "corners",
        "slots": list(CUBE.kinds[0].slots),
        "weight": 1,
    }
    assert "5. The twenty are rearranged evenly." in laws_markdown(CUBE)
    assert [law.name for law in tally(CUBE, "R U").laws][-1] == "evenness" and tally(CUBE, "R U").values[-1] == (0, 0, 0)


def test_verdicts_alarms_and_counts_name_it():
    swapped = CUBE.appearance(changed(CUBE, ["swap UF UR"]))
    found = diagnose(CUBE, swapped)
    assert found.verdict == "not by turning" and [law.name for law in found.broken] == ["sign of corners and edges", "evenness"]
    assert found.broken[0] != found.broken[1] and law_book(CUBE).laws[-1] == Evenness(law_book(CUBE).sectors[:2])
    assert "rearranged either both evenly or both oddly. The twenty are rearranged evenly." in alarms_markdown(CUBE, CUBE.alarms)
    assert [law.name for law in count_explanations(CUBE, swapped).broken] == [law.name for law in found.broken]
