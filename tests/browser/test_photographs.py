"""Photographs at the desk, by mouse and keys at 1280 × 800 and by finger at 360 × 740: from the picture to the verdict.

They come from the tests' darkroom, which knows which sticker is where and where the corners are. What leaves the page is read off
its socket, and what is kept off the folder.
"""

import tomllib
from base64 import b64encode
from io import BytesIO

import pytest
from PIL import Image

from tests.browser.fingers import drag
from tests.browser.test_desk import hit, looks_right, narrow, opened, verdict
from tests.describing.photographs.albums import ORDER, album

pytestmark = pytest.mark.browser

WHERE_AT = "one => [parseFloat(one.style.left) / 100, parseFloat(one.style.top) / 100]"
PICTURE = "one => one.querySelector('image').getAttribute('href')"
SECRET = b"a lane behind the bakery"


@pytest.fixture(scope="module")
def shelf():
    """A scrambled cube photographed from two opposite corners in daylight; corners are where they are."""
    return album(4, harsh=False, off=0)


def laid_on_its_side(data: bytes) -> bytes:
    """The photograph as a phone keeps it: its pixels a quarter turned, its EXIF says so, and where it was taken."""
    held, image = BytesIO(), Image.open(BytesIO(data))
    exif = Image.Exif()
    exif[0x0112], exif[0x010E] = 6, SECRET.decode()
    image.transpose(Image.Transpose.ROTATE_90).save(held, "JPEG", quality=95, exif=exif)
    return held.getvalue()


def chosen(page, number, data, name="one.jpg"):
    """Choose a photograph, whose wireframe then lies over it."""
    page.get_by_label("A photograph", exact=True).set_input_files({"name": name, "mimeType": "image/jpeg", "buffer": data})
    page.locator(".oddswap-stage").nth(number).locator(".oddswap-flag").nth(6).wait_for()
    return page.locator(".oddswap-stage").nth(number)


def way_to(stage, corner, at):
    """Where the flag of a corner is on the screen, and how far its corner is from where it should be, there."""
    flag = stage.locator(f"[data-corner={corner}]")
    flag.evaluate("one => one.scrollIntoView({ block: 'center' })")
    here, box, seen = flag.evaluate(WHERE_AT), stage.bounding_box(), flag.bounding_box()
    across, down = ((at[i] / 620 - here[i]) * box["width"] for i in (0, 1))
    return (seen["x"] + seen["width"] / 2, seen["y"] + seen["height"] / 2), across, down


def pulled(page, stage, corner, at):
    (x, y), across, down = way_to(stage, corner, at)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across, y + down, steps=3)
    page.mouse.up()


def stepped(page, stage, corner, at):
    """By arrow keys: large steps first."""
    stage.locator(f"[data-corner={corner}]").focus()
    for step, shift in ((16, "Shift+"), (2, "")):
        _, *left = way_to(stage, corner, at)
        for far, keys in zip(left, (("ArrowLeft", "ArrowRight"), ("ArrowUp", "ArrowDown")), strict=True):
            for _ in range(int(abs(far) // step)):
                page.keyboard.press(shift + keys[far > 0])


def off(stage, corner, at):
    """How many pixels of the picture a corner is from where it should be."""
    return max(abs(620 * x - y) for x, y in zip(stage.locator(f"[data-corner={corner}]").evaluate(WHERE_AT), at, strict=True))


def test_nothing_leaves_before_the_yes_and_then_one_photograph_is_read(page, lab, tmp_path, shelf):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="needs the extra `browser`").Axe()
    sent = []
    page.on("websocket", lambda socket: socket.on("framesent", lambda data: sent.append(data if isinstance(data, str) else "")))
    colours = "\n".join(f'{face} = "{word}"' for face, word in zip(ORDER, shelf.palette, strict=True))
    opened(page, lab, f'puzzle = "cube:3"\nafter = ""\n[colours]\n{colours}')
    page.get_by_role("button", name="From photographs").click()
    page.get_by_label("A photograph", exact=True).set_input_files({"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"no"})
    page.get_by_text("a.jpg is no picture that this browser can show").wait_for()
    held = BytesIO()
    Image.new("RGB", (620, 620)).save(held, "PNG")
    dark = chosen(page, 0, held.getvalue())
    for corner in ("UFL", "UBR", "DFR", "UFR"):
        x, y = (620 * part for part in dark.locator(f"[data-corner={corner}]").evaluate(WHERE_AT))
        pulled(page, dark, corner, (x + 2, y + 2))
    page.get_by_role("button", name="Yes, read it").click()
    page.get_by_role("alert").get_by_text("too dark to tell colours").wait_for()
    page.get_by_role("button", name="Take it away").click()
    sent.clear()

    file, (first, _) = laid_on_its_side(shelf.shots[0].data), shelf.shots
    stage = chosen(page, 0, file)
    yes = page.get_by_role("button", name="Yes, read it")
    corners = list(first.corners)
    for corner in corners[:3]:
        pulled(page, stage, corner, first.corners[corner])
    assert yes.is_disabled()
    stepped(page, stage, corners[3], first.corners[corners[3]])
    page.wait_for_timeout(300)
    assert all(off(stage, corner, first.corners[corner]) < 12 for corner in corners), "the rest follows"
    pulled(page, stage, corners[4], first.corners[corners[4]])
    page.screenshot(path=tmp_path / "wireframe.png", full_page=True)
    picture = stage.evaluate(PICTURE).partition(",")[2]
    pieces = [picture[k : k + 60] for k in range(600, len(picture) - 60, 600)] + [b64encode(file).decode()[900:960]]
    assert not any(piece in frame for frame in sent for piece in pieces)
    assert page.get_by_text("After your yes the photograph goes to the program that runs this page", exact=False).is_visible()
    found = axe.run(page, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found] == []
    yes.click()
    page.locator("[data-facet]").nth(26).wait_for()
    assert [sum(piece in frame for frame in sent) for piece in pieces[:-1]] == [1] * len(pieces[:-1]) and not any(
        SECRET.decode() in frame for frame in sent
    )
    verdict(page, "cannot tell yet")
    looks_right(page, 25)
    found = axe.run(page, options={"resultTypes": ["violations"]}).response["violations"]
    assert [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in found] == []
    page.screenshot(path=tmp_path / "read.png", full_page=True)
    facet = page.locator("[data-facet]").first
    said = [facet.get_attribute("aria-label")]
    facet.focus()
    for _ in range(7):
        page.keyboard.press("Enter")
        said.append(facet.get_attribute("aria-label"))
    assert len(set(said)) == 7 and said[0] == said[7] and said[6].endswith("not seen")


@narrow
def test_fingers_from_two_photographs_to_the_verdict(page, lab, tmp_path, shelf):
    opened(page, lab, 'puzzle = "cube:3"\nafter = "R"')
    hit(page, page.get_by_role("button", name="From photographs"))
    for number, shot in enumerate(shelf.shots):
        stage = chosen(page, number, shot.data)
        for corner in list(shot.corners)[:5]:
            start, across, down = way_to(stage, corner, shot.corners[corner])
            drag(page, start, across, down)
            assert off(stage, corner, shot.corners[corner]) < 4
    page.screenshot(path=tmp_path / "wireframes.png", full_page=True)
    hit(page, page.get_by_role("button", name="Yes, read it"))
    hit(page, page.get_by_role("button", name="Yes, these are its colours"))
    verdict(page, "ordinary")
    page.screenshot(path=tmp_path / "read.png", full_page=True)
    looks_right(page, 22)
    facet = page.locator("[data-facet]").nth(5)
    hit(page, facet)
    verdict(page, "not by turning")
    for _ in range(6):
        hit(page, facet)
        page.wait_for_timeout(350)
    hit(page, page.get_by_role("button", name="All doubtful ones are right"))
    verdict(page, "ordinary")
    assert not list(lab.folder.rglob("what_i_see*"))
    for face, word in zip(ORDER, shelf.palette, strict=True):
        page.locator(f".oddswap-photographs [name={face}]").fill(word)
        page.keyboard.press("Tab")
    page.locator(".oddswap-tell").get_by_text(f"Hold it {shelf.palette[0]} on top", exact=False).wait_for(state="attached")
    hit(page, page.get_by_text("This copy: turns, colours, a note, files"))
    hit(page, page.get_by_label("and the photographs that were read"))
    hit(page, page.get_by_role("button", name="Save the ticket"))
    page.get_by_text("what_i_see_1.jpg, what_i_see_2.jpg and what_i_see.toml", exact=False).wait_for()
    ticket = tomllib.loads((lab.folder / "tickets" / "what_i_see.toml").read_text())
    names = dict(zip(ORDER, shelf.palette, strict=True))
    rows = {face: [[names[letter] for letter in row] for row in own] for face, own in shelf.rows.items()}
    assert {face: [row.split() for row in table["rows"]] for face, table in ticket["seen"].items()} == rows
    kept = [BytesIO((lab.folder / "tickets" / one["file"]).read_bytes()) for one in ticket["photograph"]]
    assert len(kept) == 2 and not any(Image.open(file).getexif() for file in kept)
