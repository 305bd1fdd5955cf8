"""The records of what lies in the trays."""

from typing import Annotated, Literal

from mediacost.scenario.fields import choice, identity, number, share, table, tables, text, whole_number
from mediacost.scenario.record import Number, Record

Use = Literal["single-use", "reusable"]
EndOfLife = Literal["compost", "landfill", "scrap"]
SpentRoute = Literal["compost", "landfill"]
Met = Literal["yes", "no", "unknown"]

REUSABLE_ONLY = ("life_cycles", "loss_per_cycle", "wash", "dry_days", "owned_sheets")
"""Fields of a medium that are a fault on single use."""


class CutFrom(Record):
    """A roll or large sheet that is cut to tray size."""

    length_mm: Annotated[Number, number("Length", "mm", "Length of the roll or large sheet.", minimum=1, maximum=1e9)]
    width_mm: Annotated[Number, number("Width", "mm", "Width of the roll or large sheet.", minimum=1, maximum=1e9)]


class Condition(Record):
    """Something that must hold before a medium may be used at all."""

    what: Annotated[str, text("Condition", "What must hold, such as 'Allowed under our certificate'.", needed=True)]
    met: Annotated[Met, choice(Met, "Met", "An unmet condition keeps a medium from being ranked.")]


class Medium(Record):
    """What lies in the tray under the seed."""

    id: Annotated[str, identity("Id", "Short name by which other tables refer to this medium.")]
    name: Annotated[str, text("Name", "As shown on pages and charts.", needed=True)]
    use: Annotated[Use, choice(Use, "Use", "Thrown away with the roots, or washed and laid again.")]
    pack_price: Annotated[Number, number("Pack price", "money/pack", "Price of one pack or roll.", minimum=0)]
    delivery_per_pack: Annotated[
        Number, number("Delivery per pack", "money/pack", "Freight and duty, for one pack.", minimum=0)
    ] = 0.0
    pieces_per_pack: Annotated[
        int | None,
        whole_number(
            "Pieces per pack",
            "pieces",
            "Tray-sized sheets in a pack; not for what is cut from a roll.",
            minimum=1,
            maximum=1_000_000_000,
            optional=True,
        ),
    ] = None
    cut_from: Annotated[
        CutFrom | None, table("Cut from", "Size of the roll or large sheet that is cut to tray size.")
    ] = None
    cut_minutes_per_piece: Annotated[
        Number, number("Cutting labour per piece", "min", "To cut one sheet to tray size.", minimum=0)
    ] = 0.0
    sheets_per_tray: Annotated[
        int, whole_number("Sheets per tray", "sheets", "Laid in one tray.", minimum=1, maximum=1000)
    ] = 1
    sheet_mass_g: Annotated[Number, number("Sheet mass", "g", "One dry sheet.", minimum=0)]
    material: Annotated[
        str | None, identity("Material", "Its id in the factor table; for the footprint only.", optional=True)
    ] = None
    end_of_life: Annotated[
        EndOfLife, choice(EndOfLife, "End of life", "Where a worn or used sheet goes; scrap has no fee.")
    ]
    scrap_value_per_kg: Annotated[
        Number, number("Scrap value", "money/kg", "Paid to you for a kilogram of worn sheets.", minimum=0)
    ] = 0.0
    prep_minutes_per_tray: Annotated[
        Number,
        number(
            "Labour that the medium causes",
            "min",
            "Per tray: lay, wet, extra misting, pick crumbs, empty, carry out; without cutting sheets and washing.",
            minimum=0,
        ),
    ] = 0.0
    crop_water_l_per_tray: Annotated[Number, number("Watering per tray", "l", "Over one crop.", minimum=0)] = 0.0
    spent_mass_g_per_tray: Annotated[
        Number,
        number(
            "Spent mass per tray",
            "g",
            "All that leaves wet after the cut: roots, hulls, water held; without the dry sheet.",
            minimum=0,
        ),
    ] = 0.0
    spent_route: Annotated[SpentRoute, choice(SpentRoute, "Spent mass goes to", "Where roots and hulls go.")] = (
        "compost"
    )
    failed_share: Annotated[
        Number,
        share("Failed trays", "Share of trays lost on this medium (mould, dried out); their costs stay."),
    ] = 0.0
    conditions: Annotated[
        tuple[Condition, ...], tables("Conditions", "What must hold before this medium may be used.")
    ] = ()
    life_cycles: Annotated[
        Number | None,
        whole_number(
            "Life",
            "cycles",
            "Cycles before a sheet is replaced. Reusable only, and needed there.",
            minimum=1,
            maximum=100_000_000,
            ranged=True,
            optional=True,
        ),
    ] = None
    loss_per_cycle: Annotated[
        Number,
        share("Lost per cycle", "Share torn, lost or spoiled early in each cycle. Reusable only.", below=1),
    ] = 0.0
    wash: Annotated[
        str | None,
        identity("Wash routine", "Id of the routine. Reusable only, and needed there.", optional=True),
    ] = None
    dry_days: Annotated[
        int,
        whole_number(
            "Drying days",
            "days",
            "From wash day until ready; 0 is washed early and sown the same day. Reusable only.",
            minimum=0,
            maximum=60,
        ),
    ] = 1
    owned_sheets: Annotated[
        int | None,
        whole_number(
            "Sheets owned",
            "sheets",
            "In use or in the drawer. Left out: all that is needed for the baseline, none for others. Reusable only.",
            minimum=0,
            maximum=1_000_000_000,
            optional=True,
        ),
    ] = None
