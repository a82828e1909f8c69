#!/usr/bin/python3
"""Fits the weights of src/page/resampling/weights.cpp to pictures of known factor.

Multinomial logistic regression over all pairs of guesses, one for each axis, and 'not enlarged'. Only seeds below 100
and the tuning photographs are used. Before the weights it prints what they would have told of each photograph when
fitted to the others.
"""
import argparse
import functools
import json
import math
import multiprocessing
import os
import pathlib
import subprocess
import sys
import tempfile
from dataclasses import dataclass

import numpy

try:
    from scipy.optimize import minimize
except ImportError:
    sys.exit("weigh: python3-scipy is missing: apt-get install python3-scipy")

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))

import figures
import photographs
import trials as making

ROOT = pathlib.Path(__file__).resolve().parents[2]
MOST_RATIO, SAME, NEAR = math.log(1.55), 0.012, 0.1  # as in src/page/resampling/choice.cpp
FITTED = 0.025  # a guess this near to the truth is the truth
ANSWER = 0.03
RIDGE = 0.5
GROUPS = ("renderer", "kernel", "unequal", "fine", "after", "turned")


@dataclass
class Weighed:
    """A trial and its pairs of guesses."""

    trial: making.Trial
    factors: numpy.ndarray  # pair x 2
    evidence: numpy.ndarray  # pair x weight: the axes' evidence together, then whether they differ, and by little

    @property
    def true(self):
        return numpy.all(numpy.abs(self.factors / numpy.array(self.trial.factors) - 1) < FITTED, axis=1)

    @property
    def is_enlarged(self):
        return max(self.trial.factors) > figures.FINE_UNTIL


def weighed(trial, guesses):
    factors = numpy.array([guess[0] for guess in guesses])
    x, y = (numpy.array([guess[axis] for guess in guesses]) for axis in (1, 2))
    first, second = numpy.nonzero(numpy.abs(numpy.log(factors[:, None] / factors)) < MOST_RATIO)
    apart = numpy.abs(numpy.log(factors[first] / factors[second]))
    unequal = numpy.stack([apart >= SAME, (apart >= SAME) & (apart < NEAR)], axis=1)
    return Weighed(trial, numpy.stack([factors[first], factors[second]], axis=1),
                   numpy.hstack([x[first] + y[second], unequal]))


def shares(weights, one):
    """Probability of each pair, and of 'not enlarged'."""
    scores = one.evidence @ weights
    most = max(scores.max(), 0.0)
    odds = numpy.exp(scores - most)
    total = odds.sum() + math.exp(-most)
    return odds / total, math.exp(-most) / total


class Likelihood:
    """Minus the logarithm of the likelihood of what is true, and its slope; all trials in one array."""

    def __init__(self, trials):
        self.evidence = numpy.vstack([one.evidence for one in trials])
        self.owner = numpy.repeat(numpy.arange(len(trials)), [len(one.evidence) for one in trials])
        self.true = numpy.concatenate([one.true & one.is_enlarged for one in trials])
        self.count = len(trials)
        self.told = numpy.bincount(self.owner, self.true, self.count) > 0

    def __call__(self, weights):
        odds = numpy.exp(numpy.clip(self.evidence @ weights, -50, 50))
        total = 1 + numpy.bincount(self.owner, odds, self.count)
        true = numpy.where(self.told, numpy.bincount(self.owner, odds * self.true, self.count), 1.0)
        wanted = numpy.where(self.told[self.owner] & self.true, odds / true[self.owner], 0.0)
        slope = self.evidence.T @ (odds / total[self.owner] - wanted)
        loss = -numpy.log(true / total).sum()
        return loss + RIDGE * weights @ weights, slope + 2 * RIDGE * weights


def fit(trials):
    start = numpy.zeros(trials[0].evidence.shape[1])
    start[0] = -3.0
    return minimize(Likelihood(trials), start, jac=True, method="L-BFGS-B", options={"maxiter": 400}).x


def tell(weights, one):
    """The likeliest factors, their probability, and that of none."""
    each, none = shares(weights, one)
    best = one.factors[each.argmax()]
    like = numpy.all(numpy.abs(one.factors / best - 1) < ANSWER, axis=1)
    return best, each[like].sum(), none


def held_out(trials):
    """What is told of each photograph by weights fitted to the others."""
    told = []
    for photograph in sorted({one.trial.photograph for one in trials}):
        weights = fit([one for one in trials if one.trial.photograph != photograph])
        told += [(one.trial, *tell(weights, one)) for one in trials if one.trial.photograph == photograph]
    return told


def show(told):
    for least in (0.5, 0.6, 0.7, 0.8, 0.9):
        for trial, best, probability, _ in told:
            trial.told = {"fine": False, "factors": list(best) if probability >= least else None}
        print(f"told where the probability is {least} or more:")
        for group, trials in figures.split([trial for trial, *_ in told], lambda trial: trial.group):
            print(f"  {group:12} {figures.row(trials)}")


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=31, help="1 to 99")
    parser.add_argument("--trials", type=int, default=1600)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--probe", type=pathlib.Path, default=ROOT / "build" / "tools" / "picture_resolution")
    asked = parser.parse_args()
    if not 0 < asked.seed < photographs.FIRST_REPORTED_SEED:
        sys.exit("weigh: photographs and seeds that figures are reported on are not tuned on: choose a seed below 1000")
    return asked


def one_page(asked, index):
    with tempfile.TemporaryDirectory(prefix="frisket-resolution-") as folder:
        path = pathlib.Path(folder) / "page.ppm"
        trials = [t for t in making.make(asked.seed, index, path) if t.group in GROUPS]
        orders = "".join(f"{' '.join(map(str, trial.box))}\n" for trial in trials)
        ran = subprocess.run([asked.probe, path, "--evidence"], input=orders, capture_output=True, text=True, check=True)
    guesses = [json.loads(line)["guesses"] for line in ran.stdout.splitlines()]
    return [weighed(trial, made) for trial, made in zip(trials, guesses, strict=True) if made]


def main():
    asked = arguments()
    os.environ["OMP_NUM_THREADS"] = "1"
    with multiprocessing.Pool(asked.jobs) as pool:
        pages = pool.map(functools.partial(one_page, asked), range(-(-asked.trials // making.PICTURES)), chunksize=1)
    trials = [one for page in pages for one in page]
    show(held_out(trials))
    print(", ".join(f"{weight:.3f}" for weight in fit(trials)))


if __name__ == "__main__":
    main()
