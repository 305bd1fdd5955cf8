"""What the trials of a document show: each by itself, and those of a crop that are used pooled.

``trials_answer`` is the way in. One crop's result is never carried to another.
"""

from __future__ import annotations

from mediacost.results.evaluation import Evaluation, evaluate
from mediacost.results.trial_analysis import analyse
from mediacost.results.trial_answers import CropTrials, TrialReport, TrialsAnswer
from mediacost.results.trial_trays import adjusted_means, used_trials
from mediacost.scenario import Crop, Scenario


def trials_answer(scenario: Scenario) -> TrialsAnswer:
    """Analyse every trial of a checked document.

    Raises :class:`mediacost.errors.InputFaults` where media of used trials were never tried together, even through
    others, and where the comparison itself would refuse the document.
    """
    tried = [crop for crop in scenario.crops if any(trial.crop == crop.id for trial in scenario.trials)]
    measured = {crop.id: adjusted_means(scenario, crop.id) for crop in tried}
    evaluation = evaluate(scenario)
    return TrialsAnswer(
        title=scenario.title,
        currency=scenario.currency,
        baseline=scenario.baseline_id,
        crops=tuple(_crop(crop, measured[crop.id], scenario, evaluation) for crop in tried),
    )


def _crop(crop: Crop, measured: dict[str, float], scenario: Scenario, evaluation: Evaluation) -> CropTrials:
    trials = [trial for trial in scenario.trials if trial.crop == crop.id]
    used = used_trials(scenario, crop.id)
    return CropTrials(
        crop=crop.id,
        name=crop.name,
        harvest_g=measured,
        trials=tuple(
            TrialReport(
                trial.id,
                trial.use,
                trial.sown,
                trial.harvested,
                trial.note,
                analyse(scenario, evaluation, crop.id, [trial]),
            )
            for trial in trials
        ),
        pooled=analyse(scenario, evaluation, crop.id, used) if len(used) > 1 else None,
    )
