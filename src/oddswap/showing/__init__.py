"""Pictures, widgets, stories and worksheets."""
