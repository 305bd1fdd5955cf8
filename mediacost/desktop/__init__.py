"""The window. ``session`` holds the document and is the only place that edits; pages show, bindings ask."""
