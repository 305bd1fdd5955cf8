"""The command line: reads a scenario, prints an answer or the faults. Never a window."""
