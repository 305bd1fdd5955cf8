"""Costs growing media for microgreens: what a kilogram costs on each, and what pays."""

__version__ = "0.1.0"
