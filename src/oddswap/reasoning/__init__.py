"""What can be said of a puzzle and of a position, with proof and within a budget. Main door: `answer`."""
