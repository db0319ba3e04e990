"""What every puzzle is to the reasoning, and the space or the paper that it lies in. Main door: `Puzzle`."""
