"""The formulas: plain functions of numbers, one topic a file.

Every function takes and returns plain numbers (or anything that behaves like one) in coherent units: money,
kilograms, litres, minutes, kilowatt-hours, days, months. Conversions from the units people type happen before
a number gets here, so a formula holds no hidden factor, and the tests can run it on unit-carrying quantities.
Nothing here knows the scenario file, a screen or a spreadsheet.
"""
