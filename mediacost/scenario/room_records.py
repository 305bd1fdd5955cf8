"""The records of the tray room: prices and rhythm, trays, crops."""

from typing import Annotated, Literal

from mediacost.scenario import values
from mediacost.scenario.fields import choice, identity, number, share, special, text, whole_number
from mediacost.scenario.record import Number, Record
from mediacost.scenario.values import LARGEST

Limit = Literal["market", "shelf", "labour"]

MONDAY_TO_FRIDAY = ("mon", "tue", "wed", "thu", "fri")


class Room(Record):
    """Prices, rhythm and habits of the whole tray room."""

    labour_rate: Annotated[
        Number, number("Labour rate", "money/h", "Per hour worked, with the employer's on-costs.", minimum=0)
    ]
    water_price: Annotated[Number, number("Water price", "money/m3", "Supply and sewer together.", minimum=0)]
    energy_price: Annotated[Number, number("Electricity price", "money/kWh", "Per kWh, electric.", minimum=0)]
    heat_price: Annotated[
        Number | None,
        number(
            "Hot water energy price",
            "money/kWh",
            "Per kWh that heats wash water. Left out: the electricity price.",
            minimum=0,
            optional=True,
        ),
    ] = None
    landfill_fee: Annotated[Number, number("Landfill fee", "money/kg", "Per kg as tipped, wet.", minimum=0)] = 0.0
    compost_fee: Annotated[
        Number,
        number(
            "Compost fee",
            "money/kg",
            "Per kg as tipped, wet; negative if you are paid for it.",
            minimum=-LARGEST,
        ),
    ] = 0.0
    discount_rate: Annotated[
        Number,
        number(
            "Discount rate",
            "per year",
            "What waiting a year costs: 0.08 is 8 %. The rate of your loan is the least it can be.",
            minimum=0,
            maximum=2,
        ),
    ] = 0.08
    horizon_months: Annotated[
        int,
        whole_number("Months looked ahead", "months", "How far the cash flow runs.", minimum=1, maximum=240),
    ] = 36
    weeks_per_year: Annotated[
        Number,
        number("Weeks in production", "weeks", "Weeks of the year in which you sow.", above=0, maximum=53),
    ] = 52.0
    start_month: Annotated[
        int,
        whole_number("First month", "", "Calendar month of month 1: 1 is January.", minimum=1, maximum=12),
    ] = 1
    season: Annotated[
        tuple[float, ...],
        special(
            "season",
            "Season",
            "Demand in each month, January first; 1 is the sowing typed at the crops.",
            values.read_season,
        ),
    ] = (1.0,) * 12
    harvest_days: Annotated[
        tuple[str, ...],
        special(
            "weekdays",
            "Harvest days",
            "A harvest due on another day waits for the next of these.",
            values.read_weekdays,
        ),
    ] = MONDAY_TO_FRIDAY
    wash_days: Annotated[
        tuple[str, ...],
        special("weekdays", "Wash days", "A harvested sheet waits for the next of these.", values.read_weekdays),
    ] = MONDAY_TO_FRIDAY
    limit: Annotated[
        Limit,
        choice(
            Limit,
            "What stops you selling more",
            "The market, the lit shelf space, or the hours of labour. It decides what 'best' means.",
        ),
    ] = "market"
    inlet_temperature_c: Annotated[
        Number, number("Cold water temperature", "degC", "As it comes from the tap.", minimum=0, maximum=100)
    ] = 12.0
    heater_efficiency: Annotated[
        Number,
        number(
            "Heater efficiency",
            "share",
            "Heat into the water per energy paid; a heat pump exceeds 1.",
            above=0,
            maximum=6,
        ),
    ] = 0.95
    spare_share: Annotated[
        Number,
        number(
            "Spare sheets",
            "share",
            "Spare sheets on top of the most that are away at once.",
            minimum=0,
            maximum=5,
        ),
    ] = 0.10
    shelf_trays: Annotated[
        int | None,
        whole_number(
            "Places under lights",
            "trays",
            "How many trays the lit shelves hold.",
            minimum=1,
            maximum=10_000_000,
            optional=True,
        ),
    ] = None
    electricity: Annotated[
        str | None,
        identity("Electricity supply", "Its id in the factor table, for greenhouse gas.", optional=True),
    ] = None


class Tray(Record):
    """The inner size of the trays."""

    length_mm: Annotated[
        Number,
        number("Inner length", "mm", "Measured inside; never trust the name.", minimum=1, maximum=100_000),
    ]
    width_mm: Annotated[
        Number,
        number("Inner width", "mm", "Measured inside; never trust the name.", minimum=1, maximum=100_000),
    ]


class Crop(Record):
    """A crop: its rhythm, and what a tray of it costs and brings, whatever lies in the tray."""

    id: Annotated[str, identity("Id", "Short name by which other tables refer to this crop.")]
    name: Annotated[str, text("Name", "As shown on pages and charts.", needed=True)]
    sowing: Annotated[
        dict[str, int],
        special("sowing", "Trays sown", "On each weekday, in a week with season 1.", values.read_sowing, "trays"),
    ]
    days_in_tray: Annotated[
        int,
        whole_number("Days in tray", "days", "Whole days from sowing to harvest.", minimum=1, maximum=366),
    ]
    blackout_days: Annotated[
        int,
        whole_number(
            "Blackout days",
            "days",
            "Of these, stacked or covered, so not on a lit shelf.",
            minimum=0,
            maximum=366,
        ),
    ] = 0
    seed_g_per_tray: Annotated[Number, number("Seed per tray", "g", "Dry seed on one tray.", minimum=0)]
    seed_price_per_kg: Annotated[Number, number("Seed price", "money/kg", "Delivered.", minimum=0)]
    sell_price_per_kg: Annotated[
        Number, number("Selling price", "money/kg", "Average received for a saleable kilogram.", minimum=0)
    ]
    loss_share: Annotated[Number, share("Lost after harvest", "Trim, hulls and unsold, as a share of the harvest.")] = (
        0.0
    )
    grow_minutes_per_tray: Annotated[
        Number, number("Growing labour per tray", "min", "Sow, stack, water, cut.", minimum=0)
    ] = 0.0
    light_kwh_per_day: Annotated[
        Number, number("Light per tray", "kWh/day", "For each day on a lit shelf.", minimum=0)
    ] = 0.0
    other_cost_per_tray: Annotated[
        Number, number("Other cost per tray", "money", "Whatever else a tray of this crop costs.", minimum=0)
    ] = 0.0
    pack_cost_per_kg: Annotated[Number, number("Packing material", "money/kg", "Per saleable kilogram.", minimum=0)] = (
        0.0
    )
    pack_minutes_per_kg: Annotated[Number, number("Packing labour", "min/kg", "Per saleable kilogram.", minimum=0)] = (
        0.0
    )
