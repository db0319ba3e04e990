"""The command line: what each command does and prints. Main door: `answer`."""
