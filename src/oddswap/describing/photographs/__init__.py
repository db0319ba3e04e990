"""From photographs, in which the corners of the solid are marked, to colours with their odds. Main door: `read_photographs`."""
