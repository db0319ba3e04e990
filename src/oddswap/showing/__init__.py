"""What people look at: brushes, pictures, the viewer and pages. Main door: `draw_prints`."""
