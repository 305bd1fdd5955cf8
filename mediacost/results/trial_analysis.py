"""One analysis: the trays of one trial, or of several of a crop pooled, from their weights to the verdicts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from mediacost.formulas.trial_blocks import AdditiveFit
from mediacost.formulas.trial_checks import like_spreads
from mediacost.formulas.trial_dunnett import dunnett
from mediacost.formulas.trial_means import coefficient_of_variation, interval, mean_and_sd
from mediacost.formulas.trial_pairs import Difference, games_howell, tukey
from mediacost.formulas.trial_power import comparisons_among
from mediacost.formulas.trial_suspects import ALARM
from mediacost.formulas.trial_variance import FTest, cell_test, media_test, welch_test
from mediacost.results import words
from mediacost.results.evaluation import Evaluation
from mediacost.results.trial_answers import Analysis, Interval, MediumResult, MoneyResult, PairResult
from mediacost.results.trial_findings import (
    agreement_between_trials,
    assumptions,
    cycle_slopes,
    failed_trays,
    suspects,
    warnings,
)
from mediacost.results.trial_money import money_results
from mediacost.results.trial_trays import Weighed, apart_words, left_out, weighed
from mediacost.results.trial_verdict import Design, judged
from mediacost.scenario import Scenario, Trial, likely
from mediacost.units import GRAMS_PER_KILOGRAM, MILLIMETRES_PER_METRE

NOTHING_LEFT = 1e-12
"""A residual spread below this share of the weights is rounding, not spread."""


@dataclass(frozen=True, slots=True)
class _Spread:
    """The spreads that judge the pairs: one for all, or each medium's own where they differ."""

    sds: tuple[float, ...]
    own: bool

    def of_pair(self, first: int, second: int) -> float:
        return math.sqrt((self.sds[first] ** 2 + self.sds[second] ** 2) / 2)


def analyse(scenario: Scenario, evaluation: Evaluation, crop: str, trials: Sequence[Trial]) -> Analysis:
    """Work out what these trials of one crop show."""
    found = weighed(scenario, trials)
    names = {medium.id: medium.name for medium in scenario.media}
    bands = [trial.practical_band_pct for trial in trials if trial.practical_band_pct is not None]
    band = min(bands) if bands else None
    linked = len(found.apart) == 1
    fit = found.fit() if linked else None
    why_not = _why_not_usable(found, fit)
    judgement = _NOTHING if why_not or fit is None else _judge(found, fit, scenario, evaluation, crop, names, band)
    reasons = dict(judgement.reasons)
    if why_not:
        reasons = dict.fromkeys(("overall", "residual_sd_g", "residual_cv_pct"), f"trial not usable: {why_not}")
    reusable = {medium.id for medium in scenario.media if medium.use == "reusable"}
    looked_into = fit is not None and not why_not
    said = list(assumptions(found, fit, names)) if looked_into and fit is not None else []
    if looked_into and fit is not None and len(trials) > 1:
        said += _agreement(scenario, trials, fit)
    return Analysis(
        crop=crop,
        trials=tuple(trial.id for trial in trials),
        media=_media(scenario, found, fit, bool(why_not), trials, names, reasons),
        left_out=left_out(trials),
        trays=len(found.grams),
        blocks=len(found.cells),
        why_not_usable=why_not,
        practical_band_pct=band,
        method=judgement.method,
        overall=judgement.overall,
        blocks_test=judgement.blocks_test,
        residual_sd_g=judgement.sd,
        residual_cv_pct=judgement.cv,
        residual_df=fit.residual_df if fit is not None else 0,
        pairs_method=judgement.pairs_method,
        pairs=judgement.pairs,
        baseline_method=judgement.baseline_method,
        against_baseline=judgement.against_baseline,
        money=judgement.money,
        cycles=cycle_slopes(found, names, reusable) if looked_into else (),
        failed=failed_trays(scenario, crop, trials, names),
        suspects=suspects(found, fit, names) if looked_into and fit is not None else (),
        assumptions=tuple(said),
        warnings=tuple(warnings(scenario, trials, found, names)),
        reasons=reasons,
    )


def _why_not_usable(found: Weighed, fit: AdditiveFit | None) -> str:
    """Why nothing can be judged; '' where it can."""
    trays = len(found.grams)
    if trays == 0:
        return "no tray was weighed that counts"
    if trays == 1:
        return "only one tray was weighed: nothing to set it against, and no spread"
    if len(found.media) == 1:
        return f"only {found.media[0]} was weighed: there is no other medium to set it against"
    if fit is None:
        return f"{apart_words(found.apart)} share no block, not even through other media"
    if np.ptp(found.grams) == 0:
        return f"all {trays} trays weigh the same, so there is no spread to judge by; weigh to the gram"
    if fit.residual_df < 1:
        blocks = words.counted(len(found.cells), "block")
        counted = f"{trays} trays for {len(found.media)} media in {blocks}"
        return f"{counted} leave nothing to judge the spread by; a second tray of each medium is the least"
    if fit.residual_square <= (NOTHING_LEFT * float(np.abs(found.grams).max())) ** 2 * trays:
        return "like trays weigh exactly the same, so there is no spread to judge by; weigh to the gram"
    return ""


@dataclass(frozen=True, slots=True)
class _Judgement:
    """All that needs a spread."""

    method: str = ""
    overall: FTest | None = None
    blocks_test: FTest | None = None
    sd: float | None = None
    cv: float | None = None
    pairs_method: str = ""
    pairs: tuple[PairResult, ...] = ()
    baseline_method: str = ""
    against_baseline: tuple[PairResult, ...] = ()
    money: tuple[MoneyResult, ...] = ()
    reasons: tuple[tuple[str, str], ...] = ()


_NOTHING = _Judgement()


def _judge(
    found: Weighed,
    fit: AdditiveFit,
    scenario: Scenario,
    evaluation: Evaluation,
    crop: str,
    names: dict[str, str],
    band: float | None,
) -> _Judgement:
    count, blocked = len(found.media), len(found.cells) > 1
    groups = [found.of_medium(at) for at in range(count)]
    differ = not blocked and like_spreads(groups)[1] < ALARM and all(np.ptp(group) > 0 for group in groups)
    spread = _Spread(tuple(mean_and_sd(group)[1] for group in groups), True) if differ else _common(fit, count)
    design = Design(count, blocked, _whole_blocks(found, fit), names, band)
    pairs = games_howell(groups) if differ else tukey(fit)
    today = scenario.baseline_id
    base = found.media.index(today) if today in found.media else None
    against: list[Difference] = []
    if base is not None:
        against = _turned(pairs, base) if differ else dunnett(fit, base)
    at_once = comparisons_among(count)
    method, overall = _overall(fit, groups, blocked)

    def results(differences: Sequence[Difference], comparisons: int) -> tuple[PairResult, ...]:
        return tuple(
            judged(
                found.media[each.first],
                found.media[each.second],
                each,
                spread.of_pair(each.first, each.second),
                float(fit.means[each.second]),
                comparisons,
                design,
            )
            for each in differences
        )

    money, why = _money(found, fit, spread, evaluation, crop, today, against)
    middle = float(fit.means.mean())
    sd = math.sqrt(fit.mean_square)
    return _Judgement(
        method=method,
        overall=overall,
        blocks_test=cell_test(fit) if blocked else None,
        sd=sd,
        cv=coefficient_of_variation(middle, sd) if middle > 0 else None,
        pairs_method="Games-Howell" if differ else "Tukey",
        pairs=results(pairs, at_once),
        baseline_method="" if base is None else "Games-Howell" if differ else "Dunnett",
        against_baseline=results(against, at_once if differ else count - 1),
        money=money,
        reasons=tuple(why),
    )


def _common(fit: AdditiveFit, count: int) -> _Spread:
    return _Spread((math.sqrt(fit.mean_square),) * count, False)


def _whole_blocks(found: Weighed, fit: AdditiveFit) -> bool:
    """Whether the blocks have names and hold about one tray of each medium, so that trays count as blocks."""
    named = all(block for _, block in found.cells)
    return named and len(found.cells) > 1 and float(fit.counts.max()) <= len(found.cells)


def _overall(fit: AdditiveFit, groups: Sequence[np.ndarray], blocked: bool) -> tuple[str, FTest]:
    if blocked:
        return "analysis of variance, medium and block added up", media_test(fit)
    test = welch_test(groups)
    if math.isnan(test.p):
        return "analysis of variance, one spread for all", media_test(fit)
    return "Welch's analysis of variance", test


def _turned(pairs: Sequence[Difference], base: int) -> list[Difference]:
    """The pairs that hold the baseline, each as the other medium less the baseline."""
    found = []
    for each in pairs:
        if each.second == base:
            found.append(each)
        elif each.first == base:
            found.append(
                each._replace(
                    first=each.second, second=base, difference=-each.difference, low=-each.high, high=-each.low
                )
            )
    return found


def _money(
    found: Weighed,
    fit: AdditiveFit,
    spread: _Spread,
    evaluation: Evaluation,
    crop: str,
    today: str,
    against: Sequence[Difference],
) -> tuple[tuple[MoneyResult, ...], list[tuple[str, str]]]:
    if today not in found.media:
        return (), [("against_baseline", "the baseline has no tray that counts in this trial")]
    covariance = fit.shape * fit.mean_square
    if spread.own:
        covariance = np.diag([sd**2 / size for sd, size in zip(spread.sds, fit.counts, strict=True)])
    reach = max((each.high - each.difference) / each.standard_error for each in against)
    money = money_results(evaluation, crop, found.media, today, fit.means.tolist(), covariance, reach)
    if not money:
        return (), [("money", "no tray of this crop is sown, so a tray has no margin")]
    return money, []


def _agreement(scenario: Scenario, trials: Sequence[Trial], fit: AdditiveFit) -> list[str]:
    test = agreement_between_trials(scenario, trials, fit)
    if test is None:
        return ["Whether the media differ alike in every trial cannot be tested."]
    shown = "p below 0.001" if test.p < 0.001 else f"p {test.p:.3f}"
    if test.p < ALARM:
        return [f"The media differ otherwise from trial to trial ({shown}): read each trial by itself first."]
    return [f"The media differ alike in every trial, as far as can be seen ({shown})."]


def _media(
    scenario: Scenario,
    found: Weighed,
    fit: AdditiveFit | None,
    no_spread: bool,
    trials: Sequence[Trial],
    names: dict[str, str],
    reasons: dict[str, str],
) -> tuple[MediumResult, ...]:
    return tuple(
        _medium(at, medium, scenario, found, fit, no_spread, names, reasons) for at, medium in enumerate(found.media)
    )


def _medium(
    at: int,
    medium: str,
    scenario: Scenario,
    found: Weighed,
    fit: AdditiveFit | None,
    no_spread: bool,
    names: dict[str, str],
    reasons: dict[str, str],
) -> MediumResult:
    grams = found.of_medium(at)
    mean, sd = mean_and_sd(grams)
    alone = len(grams) < 2
    adjusted = None if fit is None else float(fit.means[at])
    bounds = _interval(at, grams, mean, sd, found, fit, no_spread)
    if alone:
        reasons |= dict.fromkeys((f"media.{medium}.sd_g", f"media.{medium}.cv_pct"), "one tray has no spread")
    elif mean <= 0:
        reasons[f"media.{medium}.cv_pct"] = "the mean is nothing, so there is no share of it"
    if bounds is None:
        reasons[f"media.{medium}.interval_g"] = "there is no spread to judge by"
    shown = mean if adjusted is None else adjusted
    seed = _seed(scenario, found, at, medium)
    if seed is None:
        reasons[f"media.{medium}.harvest_per_seed"] = "no seed is given"
    if adjusted is None:
        reasons[f"media.{medium}.adjusted_mean_g"] = "the media share no block, so blocks cannot be allowed for"
    area = likely(scenario.tray.length_mm) * likely(scenario.tray.width_mm) / MILLIMETRES_PER_METRE**2
    return MediumResult(
        id=medium,
        name=names[medium],
        trays=len(grams),
        mean_g=mean,
        sd_g=None if alone else sd,
        cv_pct=None if alone or mean <= 0 else coefficient_of_variation(mean, sd),
        adjusted_mean_g=adjusted,
        interval_g=bounds,
        harvest_per_seed=None if seed is None else shown / seed,
        harvest_kg_per_m2=shown / GRAMS_PER_KILOGRAM / area,
    )


def _interval(
    at: int, grams: np.ndarray, mean: float, sd: float, found: Weighed, fit: AdditiveFit | None, no_spread: bool
) -> Interval | None:
    """With blocks from the residual mean square, without from the medium's own trays."""
    if len(found.cells) > 1:
        if fit is None or no_spread:
            return None
        error = math.sqrt(fit.mean_square * float(fit.shape[at, at]))
        return Interval(*interval(float(fit.means[at]), error, fit.residual_df))
    if len(grams) < 2 or sd == 0:
        return None
    return Interval(*interval(mean, sd / math.sqrt(len(grams)), len(grams) - 1))


def _seed(scenario: Scenario, found: Weighed, at: int, medium: str) -> float | None:
    """Grams of seed in a tray of a medium: the trial's own where it is given, else the pair's or the crop's."""
    trials = {trial.id: trial for (trial, _), code in zip(found.trays, found.medium, strict=True) if code == at}
    crop_id = next(iter(trials.values())).crop
    crop = next(each for each in scenario.crops if each.id == crop_id)
    pair = scenario.pair(medium, crop_id)
    usual = crop.seed_g_per_tray if pair is None or pair.seed_g_per_tray is None else pair.seed_g_per_tray
    grams = [
        likely(usual) if trial.seed_g is None else trial.seed_g
        for (trial, _), code in zip(found.trays, found.medium, strict=True)
        if code == at
    ]
    seed = sum(grams) / len(grams)
    return seed if seed > 0 else None
