"""What a visitor reads: in their colours, as they hold the puzzle, without a word of ours. Main door: `reply`."""
