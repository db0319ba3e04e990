"""What is said of ways: what each part is for, tools, plans, sequences that were tried, maps. Main door: `way_words`."""
