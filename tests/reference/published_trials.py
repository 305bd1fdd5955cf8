"""Trials that others published, as data. Each carries its source; the tests hold the formulas to what was printed."""

from __future__ import annotations

from typing import NamedTuple


class Blocks(NamedTuple):
    """A blocked trial: weight, number of the treatment and number of the block of each plot."""

    weights: list[float]
    treatment: list[int]
    block: list[int]


def flat(groups: list[list[float]]) -> Blocks:
    """Groups without blocks, as one cell."""
    weights = [each for group in groups for each in group]
    treatment = [at for at, group in enumerate(groups) for _ in group]
    return Blocks(weights, treatment, [0] * len(weights))


# NIST Statistical Reference Datasets, one-way ANOVA, SiRstv: five instruments (published; public domain).
SIRSTV = [
    [196.3052, 196.1240, 196.1890, 196.2569, 196.3403],
    [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
    [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
    [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
    [196.2119, 196.1051, 196.1850, 196.0052, 196.2090],
]


def simon_lesage(leading: float, replicates: int = 21) -> list[list[float]]:
    """NIST SmLs01, SmLs04, SmLs07 (published): nine treatments about ``leading``, made by rule to give F = 21."""
    middles = [0.4, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5]
    return [
        [leading + middle] + [leading + middle + (-0.1 if at % 2 == 0 else 0.1) for at in range(replicates - 1)]
        for middle in middles
    ]


# Plant weights under three treatments: A. J. Dobson, An Introduction to Statistical Modelling (1983), as in R's
# `datasets` (second hand).
PLANT_GROWTH = [
    [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14],
    [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
    [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26],
]

# Three groups that SAS, MATLAB and R were run on, as kept in scipy's test suite (second hand).
TUKEY_EVEN = [[24.5, 23.5, 26.4, 27.1, 29.9], [28.4, 34.2, 29.5, 32.2, 30.1], [26.1, 28.3, 24.3, 26.2, 27.8]]
TUKEY_UNEVEN = [[24.5, 23.5, 26.28, 26.4, 27.1, 29.9, 30.1, 30.1], TUKEY_EVEN[1], TUKEY_EVEN[2]]

# NIST/SEMATECH e-Handbook of Statistical Methods, section 7.4.7.1 (published).
HANDBOOK = [
    [6.9, 5.4, 5.8, 4.6, 4.0],
    [8.3, 6.8, 7.8, 9.2, 6.5],
    [8.0, 10.5, 8.1, 6.9, 9.3],
    [5.8, 3.8, 6.1, 5.6, 6.2],
]

# Data on which R's oneway.test was run, as kept in scipy's test suite (second hand).
WELCH = [
    [-50.42, 40.31, -18.09, 35.58, -6.8, 0.22],
    [23.44, 4.5, 15.1, 9.66],
    [11.94, 11.1, 9.87, 9.09, 3.33],
]

# Data on which SPSS was run for Games and Howell's comparison (second hand).
GAMES_HOWELL = [[30.0, 23, 51], [-81.0, 71, -27, 63], [42.0, 11, 29, 19, 50], [23.0, 22, 20, 18, 9]]

# Blood counts, control first: C. W. Dunnett (1955), as in scipy's test suite beside R's multcomp (second hand).
BLOOD_COUNTS = [
    [7.40, 8.50, 7.20, 8.24, 9.84, 8.32],
    [9.76, 8.80, 7.68, 9.36],
    [12.80, 9.68, 12.16, 9.20, 10.55],
]

# Potato scab, control first: W. G. Cochran and G. M. Cox, Experimental Designs (1957), from agridat (second hand).
SCAB_NAMES = ["O", "F3", "F6", "F12", "S3", "S6", "S12"]
SCAB = [
    [12.0, 10, 24, 29, 30, 18, 32, 26],
    [9.0, 9, 16, 4],
    [16.0, 10, 18, 18],
    [10.0, 4, 4, 5],
    [30.0, 7, 21, 9],
    [18.0, 24, 12, 19],
    [17.0, 7, 16, 17],
]

# Rice, six seed rates in four blocks, kg/ha: K. A. Gomez and A. A. Gomez, Statistical Procedures for Agricultural
# Research (1984), page 26, from agridat (second hand).
RICE_ROWS = [
    [5113.0, 5398, 5307, 4678],
    [5346.0, 5952, 4719, 4264],
    [5272.0, 5713, 5483, 4749],
    [5164.0, 4831, 4986, 4410],
    [4804.0, 4848, 4432, 4748],
    [5254.0, 4542, 4919, 4098],
]
RICE = Blocks(
    [each for row in RICE_ROWS for each in row],
    [at for at, row in enumerate(RICE_ROWS) for _ in row],
    [block for row in RICE_ROWS for block in range(len(row))],
)

# Groundnut, dry kg a plot in field order, six varieties A to F in four blocks: K. Ryder, Field plans: why the
# biometrician finds them useful, Experimental Agriculture 17 (1981) 243-256, from agridat (second hand). He suspects
# that varieties A and B were swapped in block 3.
_RYDER_FIELD = {
    "B1": [("F", 2.3), ("A", 3.3), ("D", 1.8), ("B", 1.8), ("E", 2.8), ("C", 1.4)],
    "B2": [("C", 0.9), ("F", 2.6), ("B", 1.1), ("E", 2.4), ("D", 2.0), ("A", 3.0)],
    "B3": [("F", 1.2), ("D", 1.5), ("A", 1.4), ("B", 2.8), ("E", 2.4), ("C", 1.5)],
    "B4": [("E", 1.7), ("B", 1.0), ("C", 1.0), ("F", 3.0), ("A", 3.1), ("D", 1.5)],
}
RYDER_PLOTS = [(block, *plot) for block, plots in _RYDER_FIELD.items() for plot in plots]
RYDER = Blocks(
    [weight for _, _, weight in RYDER_PLOTS],
    ["ABCDEF".index(variety) for _, variety, _ in RYDER_PLOTS],
    [int(block[1]) - 1 for block, _, _ in RYDER_PLOTS],
)
RYDER_SWAP = (RYDER_PLOTS.index(("B3", "A", 1.4)), RYDER_PLOTS.index(("B3", "B", 2.8)))

# R's `datasets`, as in the Rdatasets collection (second hand). Counts of insects under six sprays: G. Beall (1942).
INSECT_SPRAYS = [
    [10.0, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13],
    [11.0, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13],
    [0.0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4],
    [3.0, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4],
    [3.0, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4],
    [11.0, 9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13],
]

# The same collection: chick weights on six feeds (Anonymous 1948): horsebean, linseed, soybean, sunflower, meatmeal,
# casein.
CHICKS = [
    [179.0, 160, 136, 227, 217, 168, 108, 124, 143, 140],
    [309.0, 229, 181, 141, 260, 203, 148, 169, 213, 257, 244, 271],
    [243.0, 230, 248, 327, 329, 250, 193, 271, 316, 267, 199, 171, 158, 248],
    [423.0, 340, 392, 339, 341, 226, 320, 295, 334, 322, 297, 318],
    [325.0, 257, 303, 315, 380, 153, 263, 242, 206, 344, 258],
    [368.0, 390, 379, 260, 404, 318, 352, 359, 216, 222, 283, 332],
]

# The same collection: warp breaks by tension L, M, H, in two wools (Tippett 1950).
_WARP = {
    (0, 0): [26.0, 30, 54, 25, 70, 52, 51, 26, 67],
    (0, 1): [18.0, 21, 29, 17, 12, 18, 35, 30, 36],
    (0, 2): [36.0, 21, 24, 18, 10, 43, 28, 15, 26],
    (1, 0): [27.0, 14, 29, 19, 29, 31, 41, 20, 44],
    (1, 1): [42.0, 26, 19, 16, 39, 28, 21, 39, 29],
    (1, 2): [20.0, 21, 24, 17, 13, 15, 15, 16, 28],
}
WARP = Blocks(
    [each for breaks in _WARP.values() for each in breaks],
    [tension for (_, tension), breaks in _WARP.items() for _ in breaks],
    [wool for (wool, _), breaks in _WARP.items() for _ in breaks],
)
