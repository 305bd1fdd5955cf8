"""The adjusted mean of a medium by brute force: every tray a row of ones and zeros, solved by least squares.

Part of the second reading in `plain_model`; shares no code with the package.
"""

from __future__ import annotations

import copy
from typing import Any

import numpy as np

from tests.reference.plain_media import plain_mean_is_enough

Table = dict[str, Any]


def adjusted_means_of(scenario: Table, crop: str) -> dict[str, float]:
    """Return grams by medium for a crop: medium plus the average of all cells of trial and block."""
    kept = [
        (tray["medium"], (trial["id"], tray.get("block", "")), tray["harvest_g"] - tray.get("tare_g", 0))
        for trial in scenario.get("trials", [])
        if trial["crop"] == crop and trial.get("use", True)
        for tray in trial.get("trays", [])
        if "harvest_g" in tray and not (tray.get("guard") or tray.get("discard") or tray.get("failed"))
    ]
    media = sorted({medium for medium, _, _ in kept})
    cells = sorted({cell for _, cell, _ in kept})
    if not kept:
        return {}
    table = [[float(medium == m) for m in media] + [float(cell == c) for c in cells] for medium, cell, _ in kept]
    answer = np.linalg.lstsq(np.array(table), np.array([grams for _, _, grams in kept]), rcond=None)[0]
    return {medium: float(answer[at] + answer[len(media) :].mean()) for at, medium in enumerate(media)}


def with_typed_weights(scenario: Table) -> Table:
    """Return the scenario with adjusted means typed in the place of its trials, where the plain mean will not do."""
    if plain_mean_is_enough(scenario):
        return scenario
    typed = copy.deepcopy(scenario)
    pairs = typed.setdefault("pairs", [])
    for crop in typed["crops"]:
        for medium, grams in adjusted_means_of(scenario, crop["id"]).items():
            pair = next((each for each in pairs if (each["medium"], each["crop"]) == (medium, crop["id"])), None)
            if pair is None:
                pairs.append(pair := {"medium": medium, "crop": crop["id"]})
            pair["mean_g"] = grams
    del typed["trials"]
    return typed
