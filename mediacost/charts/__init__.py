"""The figures: a comparison drawn as a matplotlib Figure, never through pyplot and never with a window.

Each chart builds its parts once and then moves them (``show``), so that a chart can follow typing. The same figure
serves the window, a printed page and an export.
"""
