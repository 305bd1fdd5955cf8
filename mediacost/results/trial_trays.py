"""The trays of trials as numbers for the formulas: which count, which are left out and why, what shares a block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mediacost.errors import Fault, InputFaults
from mediacost.formulas.trial_blocks import AdditiveFit, Codes, Floats, additive_fit, linked_groups
from mediacost.scenario import Scenario, Trial, TrialTray


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A tray that does not count in the weights, and why."""

    trial: str
    tray: str
    medium: str
    reason: str


@dataclass(frozen=True, slots=True)
class Weighed:
    """The trays that count, of one or more trials of a crop.

    ``media`` holds ids in the document's order, of those with a tray here; ``cells`` the trial and block of each
    cell. The arrays are by tray: grams without tare, number of the medium, number of the cell.
    """

    media: tuple[str, ...]
    cells: tuple[tuple[str, str], ...]
    trays: tuple[tuple[Trial, TrialTray], ...]
    grams: Floats
    medium: Codes
    cell: Codes

    def of_medium(self, at: int) -> Floats:
        """The weights of one medium."""
        return self.grams[self.medium == at]

    @property
    def apart(self) -> list[list[str]]:
        """Media grouped by what was tried together, directly or through others."""
        if not self.media:
            return []
        return [[self.media[at] for at in group] for group in linked_groups(self.medium, self.cell)]

    def fit(self) -> AdditiveFit:
        """Medium and cell added up; every medium must be linked to every other."""
        return additive_fit(self.grams, self.medium, self.cell)


def used_trials(scenario: Scenario, crop: str) -> list[Trial]:
    """The trials of a crop that are used."""
    return [trial for trial in scenario.trials if trial.use and trial.crop == crop]


def weighed(scenario: Scenario, trials: Sequence[Trial]) -> Weighed:
    """The trays that count, of these trials."""
    trays = tuple((trial, tray) for trial in trials for tray in trial.trays if tray.is_measured)
    tried = {tray.medium for _, tray in trays}
    media = tuple(medium.id for medium in scenario.media if medium.id in tried)
    cells = tuple(dict.fromkeys((trial.id, tray.block) for trial, tray in trays))
    medium_number = {name: at for at, name in enumerate(media)}
    cell_number = {name: at for at, name in enumerate(cells)}
    return Weighed(
        media,
        cells,
        trays,
        np.array([(tray.harvest_g or 0.0) - tray.tare_g for _, tray in trays], dtype=float),
        np.array([medium_number[tray.medium] for _, tray in trays], dtype=np.intp),
        np.array([cell_number[trial.id, tray.block] for trial, tray in trays], dtype=np.intp),
    )


def left_out(trials: Sequence[Trial]) -> tuple[LeftOut, ...]:
    """The trays of these trials that do not count in the weights."""
    return tuple(
        LeftOut(trial.id, tray.tray, tray.medium, reason)
        for trial in trials
        for tray in trial.trays
        if (reason := _why_left_out(tray))
    )


def adjusted_means(scenario: Scenario, crop: str) -> dict[str, float]:
    """Adjusted mean of every medium weighed on a crop, from all trials of it that are used, in grams.

    Medium + cell by least squares, a cell being a block of one trial; cells weighted equally. Raises
    :class:`mediacost.errors.InputFaults` where media were never tried together, even through others.
    """
    found = weighed(scenario, used_trials(scenario, crop))
    if not found.media:
        return {}
    refuse_apart(found, crop)
    return dict(zip(found.media, found.fit().means.tolist(), strict=True))


def refuse_apart(found: Weighed, crop: str) -> None:
    """Refuse media that no block links, by name."""
    groups = found.apart
    if len(groups) > 1:
        raise InputFaults(
            [
                Fault(
                    where="",
                    path="trials",
                    problem=f"{apart_words(groups)} were never tried together on {crop}, not even through others",
                    expected="a trial, or a block of one, that holds both; or use = false on one of the trials",
                )
            ]
        )


def apart_words(groups: Sequence[Sequence[str]]) -> str:
    """Groups of media in words.

    >>> apart_words([["pad", "steel"], ["coir"]])
    '(pad, steel) and (coir)'
    """
    return " and ".join(f"({', '.join(group)})" for group in groups)


def _why_left_out(tray: TrialTray) -> str:
    if tray.guard:
        return "guard tray, grown and not compared"
    if tray.discard:
        return f"discarded: {tray.note.strip()}"
    if tray.failed:
        return "failed: counts in the failed share, not in the weights"
    if tray.harvest_g is None:
        return "not weighed"
    return ""
