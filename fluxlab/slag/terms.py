"""Terms of a fitted melt equation: products, halves of smooth minima and saturations of groups of oxides.

A group is a sum of oxides, or of their cations, over the sum of all: a fraction. Every term has the one form
a b / (k + ka a + kb b), so that a whole equation is a few array operations over (terms, samples), and its derivative
another few. Groups that are differences are cut off at nil.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fluxlab.materials.oxides import INDEX, SIZE, Vec
from fluxlab.slag.products import product

_HALF_MIN = re.compile(r"h\((.+),(.+)\)")
_SATURATION = re.compile(r"(.+)/\(x\+([\d.]+)\)")
# keeps the smooth minimum of two absent groups at nil
_DUST = 1e-9
# samples at a time, so that the terms stay in the processor's cache
_BLOCK = 128

Groups = Mapping[str, Mapping[str, float]]


@dataclass(frozen=True, slots=True, eq=False)
class Divided:
    """The terms that are no plain products: their numbers, their groups, and k, ka and kb below their line."""

    rows: NDArray[np.intp]
    first: NDArray[np.intp]
    second: NDArray[np.intp]
    constant: Vec
    by_first: Vec
    by_second: Vec

    def below(self, groups: Vec) -> Vec:
        """What stands below the line (terms, samples) for group fractions (groups, samples) [-]."""
        below = self.by_first * groups.take(self.first, 0)
        below += self.constant
        below += self.by_second * groups.take(self.second, 0)
        return np.asarray(below)


@dataclass(frozen=True, slots=True, eq=False)
class Terms:
    """Terms over groups: `matrix` and `total` make the groups of a composition, the rest the terms of the groups.

    `matrix` (groups, oxides), its first row the total, and `total` (oxides) are per mole; `first` and `second` number
    the groups of each term; `to_groups` add terms up by their first and second group; `divided` are the terms that are
    no plain products.
    """

    matrix: Vec
    total: Vec
    first: NDArray[np.intp]
    second: NDArray[np.intp]
    constant: Vec
    by_first: Vec
    by_second: Vec
    to_groups: tuple[Vec, Vec]
    divided: Divided

    def groups(self, moles: Vec) -> Vec:
        """Group fractions (groups, samples) of compositions (oxides, samples) [mol] [-]; the total must not be nil."""
        amounts = product(self.matrix, moles)
        return np.asarray(np.maximum(amounts / amounts[0], 0.0))

    def values(self, groups: Vec) -> Vec:
        """Terms (terms, samples) of group fractions (groups, samples) [-]."""
        values = groups.take(self.first, 0)
        values *= groups.take(self.second, 0)
        values[self.divided.rows] /= self.divided.below(groups)
        return np.asarray(values)

    def blocks(self, moles: Vec) -> list[Vec]:
        """Terms (terms, part of the samples) of compositions (oxides, samples) [mol], some samples at a time [-]."""
        starts = range(0, max(moles.shape[1], 1), _BLOCK)
        return [self.values(self.groups(moles[:, start : start + _BLOCK])) for start in starts]

    def sums(self, moles: Vec, coefficients: Vec) -> Vec:
        """Sums (rows, samples) of `coefficients` (rows, terms) times terms [unit of the coefficients]."""
        return np.concatenate([coefficients @ each for each in self.blocks(moles)], axis=1)

    def slopes(self, moles: Vec, weights: Vec) -> Vec:
        """Derivative (oxides, samples) of the sum of `weights` (terms, samples) times the terms, by oxide [1/mol]."""
        fractions = product(self.matrix, moles)
        total = fractions[0].copy()
        fractions /= total
        groups = np.maximum(fractions, 0.0)
        a, b = groups[self.first], groups[self.second]
        below = self.constant + self.by_first * a + self.by_second * b
        term = a * b / below
        by_first, by_second = self.to_groups
        by_group = product(by_first, weights * (b - term * self.by_first) / below)
        by_group += product(by_second, weights * (a - term * self.by_second) / below)
        by_group *= fractions >= 0.0
        along = (by_group * fractions).sum(0)
        return np.asarray((product(self.matrix.T, by_group) - self.total[:, None] * along) / total)


def read_terms(names: Sequence[str], groups: Groups, total: Vec) -> Terms:
    """Terms from their names: "alk", "alk*B", "h(B,alk)", "B2O3/(x+0.05)", "1"; raises KeyError for an unknown group.

    `groups` gives each group by oxide, per mole; `total` what the groups are shares of, per mole.
    """
    order = {name: i for i, name in enumerate(("1", *groups))}
    matrix = np.zeros((len(order), SIZE))
    matrix[0] = total
    for name, members in groups.items():
        for symbol, count in members.items():
            matrix[order[name], INDEX[symbol]] += count
    rows = [_parts(name) for name in names]
    first, second = (np.array([order[row[i]] for row, _ in rows], dtype=np.intp) for i in (0, 1))
    constant, by_first, by_second = (np.array([[row[i]] for _, row in rows]) for i in (0, 1, 2))
    lines = np.flatnonzero(by_first[:, 0] + by_second[:, 0])
    divided = Divided(lines, first[lines], second[lines], constant[lines], by_first[lines], by_second[lines])
    one_hot = np.eye(len(order))
    to_groups = one_hot[first].T.copy(), one_hot[second].T.copy()
    return Terms(matrix, np.asarray(total), first, second, constant, by_first, by_second, to_groups, divided)


def _parts(name: str) -> tuple[tuple[str, str], tuple[float, float, float]]:
    """The two groups of a term, and k, ka and kb below its line."""
    if found := _HALF_MIN.fullmatch(name):
        return (found[1], found[2]), (_DUST, 1.0, 1.0)
    if found := _SATURATION.fullmatch(name):
        return (found[1], "1"), (float(found[2]), 1.0, 0.0)
    a, _, b = name.partition("*")
    return (a, b or "1"), (1.0, 0.0, 0.0)
