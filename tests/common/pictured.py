"""A ticket with a photograph, without a darkroom: flat sides between corners that a pinhole camera at (5, 4, 6) sees."""

import tomli_w
from PIL import Image, ImageDraw

CORNERS = {
    "UFL": [131, 129],
    "UFR": [340, 201],
    "UBR": [504, 116],
    "UBL": [305, 64],
    "DFL": [150, 354],
    "DFR": [338, 451],
    "DBR": [486, 338],
}
SIDES = {"U": ("UFL UFR UBR UBL", "#e8e8e4"), "F": ("UFL UFR DFR DFL", "firebrick"), "R": ("UFR UBR DBR DFR", "royalblue")}
COLOURS = {"U": "white", "D": "yellow", "F": "firebrick", "B": "darkorange", "L": "seagreen", "R": "royalblue"}


def draw_sides(size=(640, 480)) -> Image.Image:
    """Three sides of one colour each, as a solved cube has them."""
    image = Image.new("RGB", size, "gray")
    for corners, colour in SIDES.values():
        ImageDraw.Draw(image).polygon([tuple(CORNERS[name]) for name in corners.split()], fill=colour)
    return image


def lay_ticket(folder, **more) -> str:
    """Lay a ticket with such a photograph into a folder; returns its path."""
    draw_sides().save(folder / "one.jpg", quality=95)
    data = {"puzzle": "cube:3", "colours": COLOURS, "photograph": [{"file": "one.jpg", "corners": CORNERS}]} | more
    path = folder / "pictured.toml"
    path.write_text(tomli_w.dumps({key: value for key, value in data.items() if value is not None}), "utf-8")
    return str(path)
