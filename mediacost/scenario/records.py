"""The records of a scenario: every table and field of the file, each field described once.

Records are frozen. Numbers are in the unit that the field's name and description state; money is in the
scenario's currency without recoverable VAT. A field of type `Number` may be a plain number or a `Range`.
The tables are grouped by topic in `room_records`, `medium_records`, `wash_records`, `harvest_records` and
`factor_records`; here is the whole document, and every record can be had from here.
"""

from typing import Annotated

from mediacost.scenario.factor_records import FactorOverride, read_factors
from mediacost.scenario.fields import currency, identity, special, table, tables, text, whole_number
from mediacost.scenario.harvest_records import Pair, Trial, TrialCheck, TrialTray
from mediacost.scenario.medium_records import REUSABLE_ONLY, Condition, CutFrom, Medium
from mediacost.scenario.record import Number, Record
from mediacost.scenario.room_records import Crop, Room, Tray
from mediacost.scenario.wash_records import Sanitiser, Wash, WashStep

__all__ = [
    "REUSABLE_ONLY",
    "Condition",
    "Crop",
    "CutFrom",
    "FactorOverride",
    "Medium",
    "Number",
    "Pair",
    "Record",
    "Room",
    "Sanitiser",
    "Scenario",
    "Tray",
    "Trial",
    "TrialCheck",
    "TrialTray",
    "Wash",
    "WashStep",
]


class Scenario(Record):
    """A whole comparison: the room, the crops, the media, how they are washed, and what was measured."""

    format: Annotated[int, whole_number("File format", "", "Number of the file format.", minimum=1, maximum=1_000_000)]
    title: Annotated[str, text("Title", "What is compared, in a few words.", needed=True)]
    currency: Annotated[str, currency("Currency", "ISO 4217 code; all money is in it, without recoverable VAT.")]
    baseline: Annotated[
        str | None,
        identity(
            "Baseline",
            "Id of the medium in use today. Left out: the first single-use one, else the first.",
            optional=True,
        ),
    ] = None
    room: Annotated[Room, table("Room", "Prices, rhythm and habits of the tray room.")]
    tray: Annotated[Tray, table("Tray", "Inner size of the trays.")]
    crops: Annotated[tuple[Crop, ...], tables("Crops", "What is grown; at least one tray is sown somewhere.")]
    media: Annotated[tuple[Medium, ...], tables("Media", "What may lie in the trays; two or more.")]
    washes: Annotated[tuple[Wash, ...], tables("Wash routines", "How reusable sheets are cleaned.")] = ()
    pairs: Annotated[tuple[Pair, ...], tables("Harvest weights", "What each medium yields on each crop.")] = ()
    trials: Annotated[tuple[Trial, ...], tables("Trials", "Side-by-side trials of media.")] = ()
    factors: Annotated[
        dict[str, FactorOverride],
        special(
            "factors",
            "Factors",
            "Greenhouse-gas factors that replace those of the table, by id.",
            read_factors,
        ),
    ] = {}  # noqa: RUF012 - pydantic gives each record a copy

    @property
    def baseline_id(self) -> str:
        """The id of the baseline: as typed, else the first single-use medium, else the first medium."""
        if self.baseline is not None:
            return self.baseline
        single_use = [medium for medium in self.media if medium.use == "single-use"]
        return (single_use or list(self.media))[0].id

    def pair(self, medium_id: str, crop_id: str) -> Pair | None:
        """Return what is typed for a medium on a crop, if anything is."""
        for pair in self.pairs:
            if pair.medium == medium_id and pair.crop == crop_id:
                return pair
        return None

    def wash(self, wash_id: str | None) -> Wash | None:
        """Return the wash routine of this id, if there is one."""
        return next((wash for wash in self.washes if wash.id == wash_id), None)
