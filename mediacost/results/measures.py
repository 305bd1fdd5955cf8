"""What 'best' means: the measure follows from what stops the grower selling more."""

from __future__ import annotations

from typing import NamedTuple

from mediacost.results.answers import Answer, CropAnswer, MediumAnswer


class Measure(NamedTuple):
    """A figure that ranks media; ``crop_name`` is the same measure of one crop."""

    name: str
    crop_name: str
    more_is_better: bool

    def of(self, medium: MediumAnswer) -> Answer:
        """The measure of a medium, for the mix of crops."""
        return getattr(medium, self.name)

    def of_crop(self, crop: CropAnswer) -> Answer:
        """The measure of a medium on one crop."""
        return getattr(crop, self.crop_name)


MEASURES = {
    "market": Measure("cost_per_kg_same_harvest", "cost_per_kg", more_is_better=False),
    "shelf": Measure("margin_per_shelf_day", "margin_per_shelf_day", more_is_better=True),
    "labour": Measure("return_to_labour_per_hour", "return_to_labour_per_hour", more_is_better=True),
}
"""By the room's ``limit``. With one crop the cost of the same harvest is the cost per kilogram."""

LEAD_BASIS = {"market": "same_harvest", "shelf": "sell_extra", "labour": "sell_extra"}
"""The way of counting that fits the room's ``limit``."""
