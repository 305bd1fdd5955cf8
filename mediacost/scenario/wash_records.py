"""The records of how reusable sheets are washed."""

from typing import Annotated

from mediacost.scenario.fields import flag, identity, number, table, tables, text, whole_number
from mediacost.scenario.record import Number, Record


class Sanitiser(Record):
    """A sanitiser as its label says; the program prices it and gives no dose advice."""

    product: Annotated[str, text("Product", "As on the label, which is the law.", needed=True)]
    price_per_l: Annotated[Number, number("Price", "money/l", "Per litre of the product as bought.", minimum=0)]
    stock_ppm: Annotated[
        Number, number("Strength as bought", "mg/l", "Active substance in the product.", above=0, maximum=2e6)
    ]
    target_ppm: Annotated[
        Number,
        number(
            "Strength in the bath",
            "mg/l",
            "As the label says for this use; below the strength as bought.",
            above=0,
            maximum=2e6,
        ),
    ]


class WashStep(Record):
    """One step of a wash routine. Minutes are attended ones."""

    name: Annotated[str, text("Name", "What is done.", needed=True)]
    minutes_per_sheet: Annotated[Number, number("Labour per sheet", "min", "For each sheet.", minimum=0)] = 0.0
    litres_per_sheet: Annotated[Number, number("Water per sheet", "l", "For each sheet.", minimum=0)] = 0.0
    sheets_per_batch: Annotated[
        int | None,
        whole_number(
            "Sheets per batch",
            "sheets",
            "How many a batch or a bath serves; needed by any amount per batch.",
            minimum=1,
            maximum=1_000_000_000,
            optional=True,
        ),
    ] = None
    minutes_per_batch: Annotated[Number, number("Labour per batch", "min", "For each batch.", minimum=0)] = 0.0
    litres_per_batch: Annotated[Number, number("Water per batch", "l", "For each batch.", minimum=0)] = 0.0
    cost_per_batch: Annotated[
        Number,
        number("Consumables per batch", "money", "Detergent, strips, gloves, for each batch.", minimum=0),
    ] = 0.0
    minutes_per_wash_day: Annotated[
        Number, number("Labour per wash day", "min", "Set up and clear away.", minimum=0)
    ] = 0.0
    litres_per_wash_day: Annotated[Number, number("Water per wash day", "l", "Set up and clear away.", minimum=0)] = 0.0
    temperature_c: Annotated[
        Number | None,
        number(
            "Water temperature",
            "degC",
            "Heated only above the cold water; hot water scalds.",
            minimum=0,
            maximum=100,
            optional=True,
        ),
    ] = None
    contact_minutes: Annotated[
        Number | None,
        number("Contact time", "min", "Unattended, by the label; shown, not costed.", minimum=0, optional=True),
    ] = None
    sanitiser: Annotated[
        Sanitiser | None, table("Sanitiser", "Made up to the litres of this step. Follow its label.")
    ] = None


class Wash(Record):
    """A wash routine, step by step."""

    id: Annotated[str, identity("Id", "Short name by which media refer to this routine.")]
    name: Annotated[str, text("Name", "As shown on pages.", needed=True)]
    equipment_price: Annotated[
        Number, number("Equipment price", "money", "Machine, tubs, racks bought for it.", minimum=0)
    ] = 0.0
    equipment_years: Annotated[
        int,
        whole_number("Equipment life", "years", "Whole years until it is bought again.", minimum=1, maximum=100),
    ] = 5
    equipment_owned: Annotated[
        bool | None,
        flag(
            "Equipment owned",
            "Already there, so not charged. Left out: yes for the routine of the baseline, else no.",
            optional=True,
        ),
    ] = None
    steps: Annotated[tuple[WashStep, ...], tables("Steps", "What is done, in order.")] = ()
