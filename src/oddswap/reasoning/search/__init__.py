"""Shortest ways between appearances, or lower bounds that are proved. Main door: `find_way`."""
