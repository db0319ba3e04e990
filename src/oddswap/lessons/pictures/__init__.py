"""Pictures that only lessons and guides show. Main door: `two_ripples`."""
