"""What the products say for themselves: worksheets, the repair table, notebooks, the edition. Main door: `possible_proof`."""
