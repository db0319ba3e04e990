"""The prompter in a real browser, from its file: keys and pedals go on and back, and nothing is asked of anybody."""

import pytest

from oddswap.story.beats import story_of
from oddswap.story.prompter import prompter_page
from oddswap.story.timeline import timeline
from tests.story.stories import told

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [1280, 390])
def test_keys_and_pedals_go_along_the_story(browser, tmp_path, width):
    found = told("lookalike")
    times = timeline(story_of(found), found)
    path = tmp_path / "prompter.html"
    path.write_text(prompter_page(found, times), encoding="utf-8")
    context = browser.new_context(viewport={"width": width, "height": 720})
    page, asked, said = context.new_page(), [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(path.as_uri())
    assert found.set_up in page.inner_text("#say")
    sentences = [sentence for beat in times.story.beats for sentence in beat.says]
    for key in (" ", "ArrowRight", "PageDown"):
        page.keyboard.press(key)
    assert page.inner_text("#say") == sentences[2]
    page.keyboard.press("PageUp")
    assert page.inner_text("#say") == sentences[1]
    first = next(i for i, beat in enumerate(times.story.beats) if beat.moves)
    before = sum(len(beat.says) for beat in times.story.beats[: first + 1])
    for _ in range(before - 1):
        page.keyboard.press("Enter")
    assert page.inner_text("#move") == times.names[first][0]
    assert page.inner_text("#ahead") == f"next: {times.names[first][1]}"
    hands = page.get_attribute("#picture", "src")
    page.click("#side")
    assert page.get_attribute("#picture", "src") != hands and page.get_attribute("#side", "aria-pressed") == "true"
    page.screenshot(path=tmp_path / "prompter.png")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert asked == [path.as_uri()] or all(url.startswith(("file:", "data:")) for url in asked)
    assert said == []
    context.close()
