"""Where the samples are, and where settings and recovery copies of a person go.

Samples are looked for in a frozen program, in an installed package, and in a checkout. Settings and recovery copies
live where the system wants them, or all under the folder that the environment variable ``MEDIACOST_HOME`` names.
Nothing here creates a folder; whoever writes into one does.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

HOME_VARIABLE = "MEDIACOST_HOME"
"""Environment variable that puts settings and recovery copies under one folder of your choice."""

MAIN_SAMPLE = "small_room.toml"
"""The sample to start with."""

_PACKAGE = Path(__file__).resolve().parent
_SAMPLES = "sample_scenarios"


def samples_folder() -> Path:
    """The folder of sample scenarios.

    Raises
    ------
    FileNotFoundError
        The installation is incomplete: no samples in any of the usual places.

    Examples
    --------
    >>> (samples_folder() / MAIN_SAMPLE).is_file()
    True
    """
    places = _sample_places()
    for place in places:
        if (place / MAIN_SAMPLE).is_file():
            return place
    looked = ", ".join(str(place) for place in places)
    raise FileNotFoundError(f"the sample scenarios are missing; looked in {looked}. Install mediacost again")


def main_sample() -> Path:
    """The sample to start with.

    Examples
    --------
    >>> main_sample().name
    'small_room.toml'
    """
    return samples_folder() / MAIN_SAMPLE


def settings_folder() -> Path:
    """Folder for what a person has chosen: window size, recent files."""
    home = _chosen_home()
    if home is not None:
        return home / "settings"
    from platformdirs import user_config_path

    return user_config_path("mediacost", appauthor=False)


def recovery_folder() -> Path:
    """Folder for copies of unsaved work, to be offered again after a crash."""
    home = _chosen_home()
    if home is not None:
        return home / "recovery"
    from platformdirs import user_state_path

    return user_state_path("mediacost", appauthor=False) / "recovery"


def _chosen_home() -> Path | None:
    chosen = os.environ.get(HOME_VARIABLE)
    return Path(chosen).expanduser().absolute() if chosen else None


def _sample_places() -> list[Path]:
    """Frozen first, then inside the installed package, then beside the package in a checkout."""
    places = [_PACKAGE / _SAMPLES, _PACKAGE.parent / _SAMPLES]
    unpacked = getattr(sys, "_MEIPASS", None)
    if unpacked is not None:
        places.insert(0, Path(unpacked) / "mediacost" / _SAMPLES)
    return places
