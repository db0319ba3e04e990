"""The controls of the intake, and where they lie; what each does is said in `intake`."""

import ipywidgets as widgets

from oddswap.desk.picture_parts import Photo
from oddswap.desk.which_puzzle import WhichPuzzle
from oddswap.showing.ink.widgets import Sheet

TURN, SAY, PAINT = "Turn it there", "Say what is off", "Paint what I see"


class IntakeControls(Sheet):
    """Everything that a hand can touch, below ``which``, by which the puzzle is chosen."""

    def __init__(self, which: WhichPuzzle):
        style = {"description_width": "initial"}
        narrow = {"width": "auto"}
        self.which = which
        self.way = widgets.ToggleButtons(options=[TURN, SAY, PAINT], style={"button_width": "auto"})
        self.said = widgets.HTML()
        self.exchange = widgets.Button(description="Exchange the two", layout=narrow)
        self.twist = widgets.Button(description="Turn it in its place", layout=narrow)
        self.cover = widgets.Button(description="Not seen", layout=narrow)
        self.layers = widgets.SelectMultiple(rows=3, description="Layers that are done:", style=style, layout={"width": "13em"})
        self.brush = widgets.ToggleButtons(style={"button_width": "auto"})
        self.empty = widgets.Button(description="Nothing seen yet", layout=narrow)
        self.back = widgets.Button(description="Take back", layout=narrow)
        self.afresh = widgets.Button(description="From solved", layout=narrow)
        self.names = widgets.VBox()
        wide = {"width": "100%", "height": "3em"}
        self.note = widgets.Textarea(placeholder="a note for yourself; it is never sent", layout=wide)
        self.file = widgets.Text(value="what_i_see.toml", description="Save as", layout={"width": "16em"})
        self.save = widgets.Button(description="Save the ticket", layout=narrow)
        self.load = widgets.FileUpload(accept=".toml", description="Open a ticket", layout=narrow)
        self.postcard = widgets.Text(placeholder="paste a postcard here", continuous_update=False, layout={"width": "16em"})
        self.paper = widgets.Button(description="Print one to colour in", layout=narrow)
        self.tools = widgets.HBox(layout={"flex_flow": "row wrap"})
        self.place = widgets.VBox(layout={"width": "100%"})
        files = widgets.HBox([self.file, self.save, self.load, self.postcard, self.paper], layout={"flex_flow": "row wrap"})
        parts = {"The colours' names": [self.names], "A photograph beside it": [Photo()], "Keep it": [self.note, files]}
        more = widgets.Accordion([widgets.VBox(part) for part in parts.values()], titles=list(parts))
        super().__init__([widgets.HTML("<b>What I see</b>"), self.which, self.way, self.tools, self.place, self.said, more])
