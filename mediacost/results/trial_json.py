"""What trials show, as plain JSON data: unrounded numbers, null where there is none, the reason beside it."""

from __future__ import annotations

import math
from typing import Any

from mediacost.formulas.trial_variance import FTest
from mediacost.results.trial_answers import Analysis, CropTrials, Interval, MediumResult, PairResult, TrialsAnswer


def trials_json(answer: TrialsAnswer) -> dict[str, Any]:
    """The answer of ``trial --json``.

    ``{"baseline", "crops": [...]}``; each crop ``{"crop", "name", "harvest_g" {medium: grams that the comparison
    uses}, "trials": [...], "pooled"}``; each trial ``{"id", "use", "sown", "harvested", "note"}`` and an analysis;
    ``pooled`` is an analysis of all used trials, null where fewer than two are used.

    An analysis:

    - ``trials`` (ids), ``trays`` (that count), ``blocks``, ``usable``, ``why_not_usable``, ``practical_band_pct``
    - ``media``: ``id, name, trays, mean_g, sd_g, cv_pct, adjusted_mean_g, interval_g [low, high], harvest_per_seed``
      (grams of greens for a gram of seed), ``harvest_kg_per_m2``
    - ``overall {method, f, above_df, below_df, p}``, ``blocks_test`` alike; ``residual {sd_g, cv_pct, df}``
    - ``pairs_method``, ``pairs``, ``baseline_method``, ``against_baseline``; each pair, the first medium less the
      other, ``medium, other, difference_g, difference_pct, interval_g, p, smallest_seen_g`` (seen four times in
      five), ``verdict {outcome, words, more_trays_per_medium}``; ``outcome`` is "better", "worse", "same for
      practical purposes" or "cannot tell yet"
    - ``margin_difference_per_tray {medium: {value, interval}}`` against the baseline, in the scenario's currency
    - ``cycles {medium, trays, lowest_cycle, highest_cycle, grams_per_cycle, interval_g, words}``
    - ``failed {medium, failed, trays, share_interval, failed_share, fits, words}``
    - ``left_out {trial, tray, medium, reason}``; ``suspects {kind, trays [{trial, tray}], words}``, kind "swapped"
      or "stands out"; ``assumptions`` and ``warnings`` in words; ``reasons`` {path: text for what is null}

    Keys always stay; only leaves are null.
    """
    return {"baseline": answer.baseline, "crops": [_crop(crop) for crop in answer.crops]}


def _crop(crop: CropTrials) -> dict[str, Any]:
    return {
        "crop": crop.crop,
        "name": crop.name,
        "harvest_g": dict(crop.harvest_g),
        "trials": [
            {
                "id": trial.id,
                "use": trial.used,
                "sown": None if trial.sown is None else trial.sown.isoformat(),
                "harvested": None if trial.harvested is None else trial.harvested.isoformat(),
                "note": trial.note,
            }
            | _analysis(trial.analysis)
            for trial in crop.trials
        ],
        "pooled": None if crop.pooled is None else _analysis(crop.pooled),
    }


def _analysis(found: Analysis) -> dict[str, Any]:
    return {
        "trials": list(found.trials),
        "trays": found.trays,
        "blocks": found.blocks,
        "usable": found.usable,
        "why_not_usable": found.why_not_usable,
        "practical_band_pct": found.practical_band_pct,
        "media": [_medium(each) for each in found.media],
        "overall": {"method": found.method} | _test(found.overall),
        "blocks_test": _test(found.blocks_test),
        "residual": {"sd_g": found.residual_sd_g, "cv_pct": found.residual_cv_pct, "df": found.residual_df},
        "pairs_method": found.pairs_method,
        "pairs": [_pair(each) for each in found.pairs],
        "baseline_method": found.baseline_method,
        "against_baseline": [_pair(each) for each in found.against_baseline],
        "margin_difference_per_tray": {
            each.medium: {"value": each.margin_difference_per_tray, "interval": _ends(each.interval)}
            for each in found.money
        },
        "cycles": [
            {
                "medium": each.medium,
                "trays": each.trays,
                "lowest_cycle": each.lowest_cycle,
                "highest_cycle": each.highest_cycle,
                "grams_per_cycle": each.grams_per_cycle,
                "interval_g": _ends(each.interval),
                "words": each.words,
            }
            for each in found.cycles
        ],
        "failed": [
            {
                "medium": each.medium,
                "failed": each.failed,
                "trays": each.trays,
                "share_interval": _ends(each.interval),
                "failed_share": each.failed_share,
                "fits": each.fits,
                "words": each.words,
            }
            for each in found.failed
        ],
        "left_out": [
            {"trial": each.trial, "tray": each.tray, "medium": each.medium, "reason": each.reason}
            for each in found.left_out
        ],
        "suspects": [
            {
                "kind": each.kind,
                "trays": [{"trial": trial, "tray": tray} for trial, tray in each.trays],
                "words": each.words,
            }
            for each in found.suspects
        ],
        "assumptions": list(found.assumptions),
        "warnings": list(found.warnings),
        "reasons": dict(found.reasons),
    }


def _medium(found: MediumResult) -> dict[str, Any]:
    return {
        "id": found.id,
        "name": found.name,
        "trays": found.trays,
        "mean_g": found.mean_g,
        "sd_g": found.sd_g,
        "cv_pct": found.cv_pct,
        "adjusted_mean_g": found.adjusted_mean_g,
        "interval_g": None if found.interval_g is None else _ends(found.interval_g),
        "harvest_per_seed": found.harvest_per_seed,
        "harvest_kg_per_m2": found.harvest_kg_per_m2,
    }


def _pair(found: PairResult) -> dict[str, Any]:
    return {
        "medium": found.medium,
        "other": found.other,
        "difference_g": found.difference_g,
        "difference_pct": found.difference_pct,
        "interval_g": _ends(found.interval_g),
        "p": found.p,
        "smallest_seen_g": found.smallest_seen_g,
        "verdict": {
            "outcome": found.verdict.outcome.value,
            "words": found.verdict.words,
            "more_trays_per_medium": found.verdict.more_trays_per_medium,
        },
    }


def _ends(interval: Interval) -> list[float]:
    return [interval.low, interval.high]


def _test(test: FTest | None) -> dict[str, float | None]:
    if test is None:
        return {"f": None, "above_df": None, "below_df": None, "p": None}
    return {name: value if math.isfinite(value) else None for name, value in test._asdict().items()}
