"""The chooser's pictures, and a photograph that Python never has."""

import re
from base64 import b64decode
from io import BytesIO

from PIL import Image

from oddswap.desk.picture_parts import MODULE, Chooser, Photo


def test_every_choice_has_its_title_and_a_small_picture():
    chooser = Chooser(["cube:2", "tiles:2x3", "tetrahedron"])
    assert [name for name, *_ in chooser.options] == ["cube:2", "tiles:2x3", "tetrahedron"] and chooser.value == "cube:2"
    for _, title, address in chooser.options:
        picture = Image.open(BytesIO(b64decode(address.removeprefix("data:image/png;base64,"))))
        assert title and 40 < picture.width < 400 and len(picture.getcolors(100_000)) > 3


def test_the_photograph_has_no_way_to_python_or_to_the_network():
    """Its widget has no trait that could hold it, and its module neither sends nor fetches nor stores."""
    traits = {name for name in Photo.class_trait_names(sync=True) if not name.startswith("_")}
    assert traits <= {"part", "layout", "tooltip", "tabbable"}
    photo = MODULE[MODULE.index("function photo") : MODULE.index("export default")]
    assert not re.search(r"fetch|XMLHttp|sendBeacon|WebSocket|localStorage|indexedDB|model\.(set|send|save)", photo)
    assert "revokeObjectURL" in photo and not re.search(r"https?://", MODULE)
