"""The records of what was harvested: typed for a pair, or weighed in a trial."""

import datetime
from typing import Annotated, Any, Literal

from mediacost.scenario.fields import choice, date, flag, identity, number, override, tables, text, whole_number
from mediacost.scenario.medium_records import Medium
from mediacost.scenario.record import Number, Record
from mediacost.scenario.room_records import Crop

HarvestState = Literal["dry", "misted", "washed"]

_AS_FOR_MEDIUM = "Where it differs. Left out: as for the medium."


class Pair(Record):
    """A medium on a crop: what is typed where no trial measured it, and what differs there."""

    medium: Annotated[str, identity("Medium", "Id of the medium.")]
    crop: Annotated[str, identity("Crop", "Id of the crop.")]
    mean_g: Annotated[
        Number | None,
        number(
            "Harvest weight",
            "g",
            "Mean of the trays that did not fail; may be left out where a trial measures it.",
            minimum=0,
            optional=True,
        ),
    ] = None
    sd_g: Annotated[
        float | None,
        number(
            "Spread between trays",
            "g",
            "Standard deviation of the harvest weights.",
            minimum=0,
            ranged=False,
            optional=True,
        ),
    ] = None
    trays: Annotated[
        int | None,
        whole_number(
            "Trays weighed",
            "trays",
            "How many the mean rests on. Left out: one.",
            minimum=1,
            maximum=1_000_000,
            optional=True,
        ),
    ] = None
    days_in_tray: Annotated[
        int | None, override(Crop, "days_in_tray", "Where this medium is slower or faster. Left out: as for the crop.")
    ] = None
    seed_g_per_tray: Annotated[
        Number | None, override(Crop, "seed_g_per_tray", "Where it differs. Left out: as for the crop.")
    ] = None
    prep_minutes_per_tray: Annotated[Number | None, override(Medium, "prep_minutes_per_tray", _AS_FOR_MEDIUM)] = None
    crop_water_l_per_tray: Annotated[Number | None, override(Medium, "crop_water_l_per_tray", _AS_FOR_MEDIUM)] = None
    spent_mass_g_per_tray: Annotated[Number | None, override(Medium, "spent_mass_g_per_tray", _AS_FOR_MEDIUM)] = None
    failed_share: Annotated[Number | None, override(Medium, "failed_share", _AS_FOR_MEDIUM)] = None


class TrialTray(Record):
    """One tray of a trial."""

    tray: Annotated[str, identity("Tray", "Label of the tray.")]
    medium: Annotated[str, identity("Medium", "Id of the medium.")]
    block: Annotated[str, text("Block", "Shelf level and sow date that this tray shared with others.")] = ""
    position: Annotated[
        int | None,
        whole_number("Position", "", "Place on the shelf.", minimum=0, maximum=1_000_000, optional=True),
    ] = None
    harvest_g: Annotated[
        float | None,
        number(
            "Harvest weight",
            "g",
            "As weighed, container included if a tare is given.",
            minimum=0,
            maximum=1e6,
            ranged=False,
            optional=True,
        ),
    ] = None
    tare_g: Annotated[
        float,
        number("Tare", "g", "Weight of the container; taken off.", minimum=0, maximum=1e6, ranged=False),
    ] = 0.0
    state: Annotated[
        HarvestState,
        choice(HarvestState, "State when weighed", "Clinging water counts as harvest: weigh alike."),
    ] = "dry"
    drained_minutes: Annotated[
        float, number("Drained for", "min", "Before weighing.", minimum=0, maximum=1e6, ranged=False)
    ] = 0.0
    cycle: Annotated[
        int | None,
        whole_number(
            "Cycles served",
            "cycles",
            "Cycles that this sheet had served before.",
            minimum=0,
            maximum=100_000_000,
            optional=True,
        ),
    ] = None
    guard: Annotated[bool, flag("Guard", "An edge tray, grown and not measured.")] = False
    discard: Annotated[bool, flag("Discard", "An accident that says nothing of the medium; say which in the note.")] = (
        False
    )
    failed: Annotated[bool, flag("Failed", "Lost to the medium (mould, dried out); not in the mean.")] = False

    @property
    def is_measured(self) -> bool:
        """Whether this tray counts in the mean: weighed, and neither guard, discard nor failed."""
        return self.harvest_g is not None and not (self.guard or self.discard or self.failed)


def _score(label: str, help: str) -> Any:
    return whole_number(label, "score", help, minimum=0, maximum=5, optional=True)


class TrialCheck(Record):
    """What was seen at one tray on one day, in scores from 0 to 5."""

    tray: Annotated[str, identity("Tray", "Label of the tray.")]
    day: Annotated[int, whole_number("Day", "days", "Days since sowing.", minimum=0, maximum=366)]
    germination: Annotated[int | None, _score("Germination", "0 none, 5 above 95 %.")] = None
    roots: Annotated[int | None, _score("Roots through the medium", "0 none, 5 a dense mat.")] = None
    moisture: Annotated[int | None, _score("Moisture", "0 bone dry, 3 right, 5 standing water.")] = None
    canopy: Annotated[int | None, _score("Canopy", "0 none, 5 dense and level.")] = None
    mould: Annotated[int | None, _score("Mould or damage", "0 none, 5 above 20 % or tray lost.")] = None
    height_mm: Annotated[
        float | None,
        number("Height", "mm", "Of the canopy.", minimum=0, maximum=10_000, ranged=False, optional=True),
    ] = None


class Trial(Record):
    """A side-by-side trial of media on one crop."""

    id: Annotated[str, identity("Id", "Short name of the trial.")]
    crop: Annotated[str, identity("Crop", "Id of the crop.")]
    use: Annotated[bool, flag("Use", "No keeps the record but leaves it out of the answer.")] = True
    sown: Annotated[datetime.date | None, date("Sown", "Sow date.")] = None
    harvested: Annotated[datetime.date | None, date("Harvested", "Harvest date.")] = None
    seed_g: Annotated[
        float | None,
        number(
            "Seed per tray",
            "g",
            "As weighed for every tray of the trial.",
            minimum=0,
            ranged=False,
            optional=True,
        ),
    ] = None
    practical_band_pct: Annotated[
        float | None,
        number(
            "Practical band",
            "%",
            "Differences inside it are the same for practical purposes.",
            minimum=0,
            maximum=100,
            ranged=False,
            optional=True,
        ),
    ] = None
    trays: Annotated[tuple[TrialTray, ...], tables("Trays", "Every tray, weighed or not.")] = ()
    checks: Annotated[tuple[TrialCheck, ...], tables("Checks", "What was seen on which day.")] = ()
