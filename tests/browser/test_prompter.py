"""The prompter in a real browser, from its file: keys and pedals go on and back, and nothing is asked of anybody."""

import pytest

from oddswap.story.prompter import prompter_page
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from oddswap.story.voice import Voice, read_timing, speech_of
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


def test_reading_along_records_a_timing_that_a_story_takes(browser, tmp_path):
    """One key at each step, a slow finger at some; a step back reads the second sentence anew."""
    found = told("ordinary")
    times = timeline(story_of(found), found)
    path = tmp_path / "prompter.html"
    path.write_text(prompter_page(found, times), encoding="utf-8")
    context = browser.new_context(accept_downloads=True)
    page = context.new_page()
    page.goto(path.as_uri())
    page.click("#record")
    assert page.get_attribute("#record", "aria-pressed") == "true"
    page.evaluate("document.addEventListener('keydown', event => (window.pressed ||= []).push(performance.now() / 1000), true)")
    steps = sum(len(beat.says) + len(names) for beat, names in zip(times.story.beats, times.names, strict=True))
    for number in range(steps):
        page.wait_for_timeout(250 if number % 3 else 30)
        page.keyboard.press(" ")
        if number == 2:
            page.wait_for_timeout(100)
            page.keyboard.press("ArrowLeft")
            page.keyboard.press(" ")
    pressed = page.evaluate("window.pressed")
    reached = [pressed[0], *pressed[3:]]
    assert "timing is saved" in page.inner_text("#ahead")
    with page.expect_download() as download:
        page.keyboard.press(" ")
    assert download.value.suggested_filename == "timing.toml"
    download.value.save_as(tmp_path / "timing.toml")
    timing = read_timing(tmp_path / "timing.toml")
    assert [len(beat) for beat in timing] == [len(b.says) + len(n) for b, n in zip(times.story.beats, times.names, strict=True)]
    told_of = [second for beat in timing for second in beat]
    assert told_of == pytest.approx([second - reached[0] for second in reached], abs=0.02)
    assert page.get_attribute("#record", "aria-pressed") == "false"
    spoken = speech_of(times.story.beats, Voice(timing=timing))
    assert [one.sentences[0] for one in spoken.values()] == [beat[0] for beat in timing]
    context.close()
