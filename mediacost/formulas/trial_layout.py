"""Where each tray of a trial goes: a randomised complete block layout, with guard trays at the ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np


class Place(NamedTuple):
    """One place on a shelf: block, position from 1, the medium's number, or None for a guard tray."""

    block: str
    position: int
    medium: int | None


def block_layout(media: int, blocks: Sequence[str], seed: int, repeats: int = 1, guards: int = 1) -> list[Place]:
    """Every medium equally often in every block, in an order drawn anew for each block; guards at both ends.

    The randomised complete block design of R. A. Fisher, The Design of Experiments (1935) (from memory). The same
    seed gives the same layout, so that it can be checked later.

    Parameters
    ----------
    media : int
        Media in the trial, 2 or more [1]
    blocks : sequence
        Names of the blocks: a shelf level on a sow date each [1]
    seed : int
        Seed of the drawing, 0 or above [1]
    repeats : int
        Trays of each medium in a block, 1 or more [trays]
    guards : int
        Guard trays at each end of a block, 0 or more [trays]

    Returns
    -------
    list
        The places in shelf order, block after block [1]

    Raises
    ------
    ValueError
        A number is too small, or two blocks have one name.

    Examples
    --------
    >>> [(place.position, place.medium) for place in block_layout(2, ["top"], seed=1)]
    [(1, None), (2, 0), (3, 1), (4, None)]
    """
    if media < 2 or repeats < 1 or guards < 0 or not blocks:
        raise ValueError("a layout needs two media, a block, a tray of each medium and no fewer than no guards")
    if len(set(blocks)) < len(blocks):
        raise ValueError("every block needs a name of its own")
    draw = np.random.default_rng(seed)
    places = []
    for block in blocks:
        order = [int(each) for each in draw.permutation(np.repeat(np.arange(media), repeats))]
        row = [None] * guards + order + [None] * guards
        places += [Place(block, position, medium) for position, medium in enumerate(row, start=1)]
    return places
