"""What the course's notebooks call: guesses, knobs, the order of lessons, the glossary. Main door: `knob`."""
