"""What no turn changes, proved complete; what looks alike; the tally. Main door: `law_book`."""
