"""From what people say, write and paint to values. Main door: `read_ticket`."""
