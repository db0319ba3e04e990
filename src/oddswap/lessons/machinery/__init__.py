"""What every lesson is made of: guesses, knobs, exercises, the course and its glossary as data. Main door: `knob`."""
