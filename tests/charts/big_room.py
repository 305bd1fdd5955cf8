"""A room larger than any grower's of ours: eight media and six crops, made from a sample."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

SAMPLE = Path(__file__).parents[2] / "sample_scenarios" / "two_crop_room.toml"
TIMES_MEDIA, TIMES_CROPS = 2, 3
USUAL_WEIGHT_G = 210


def big_room() -> dict[str, Any]:
    """The data of the room; each medium and each crop stands in it several times under other names."""
    data = tomllib.loads(SAMPLE.read_text(encoding="utf-8"))
    media = _repeated(data["media"], TIMES_MEDIA)
    crops = _repeated(data["crops"], TIMES_CROPS)
    typed = {(pair["medium"], pair["crop"]): pair for pair in data["pairs"]}
    pairs = []
    for number, medium in enumerate(media):
        for crop in crops:
            pair = copy.deepcopy(typed.get((medium["id"][:-1], crop["id"][:-1]), {}))
            pair.setdefault("mean_g", USUAL_WEIGHT_G + 3 * number)
            pairs.append({**pair, "medium": medium["id"], "crop": crop["id"]})
    data.pop("trials", None)
    return {
        **data,
        "media": media,
        "crops": crops,
        "pairs": pairs,
        "baseline": media[0]["id"],
        "room": {**data["room"], "shelf_trays": 900},
    }


def _repeated(tables: list[dict[str, Any]], times: int) -> list[dict[str, Any]]:
    return [
        {**copy.deepcopy(table), "id": f"{table['id']}{number}", "name": f"{table['name']} {number + 1}"}
        for number in range(times)
        for table in tables
    ]
