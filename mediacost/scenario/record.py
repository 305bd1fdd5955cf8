"""What all records of a scenario share."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict

from mediacost.scenario.fields import long_text
from mediacost.scenario.values import Range

Number = float | Range
"""A field of this type may be a plain number or a range."""


class Record(BaseModel):
    """What every table has."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    note: Annotated[str, long_text("Note", "Anything worth remembering here.")] = ""
    source: Annotated[str, long_text("Source", "Where these figures come from.")] = ""
