"""The drying model's semi-discrete equations through SciPy's solve_ivp, written apart from the C++.

Used as a module by tests/bench/forecast.py and as a check:
  solve_ivp.py NATIVE   NATIVE is the program forecast of tests/bench; exit 1 when they differ by more than stated.
The run is the golden salami: 60 mm, three stages, Magnus saturation pressure (dry_golden_salami60.csv).
"""
import csv
import io
import subprocess
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags

DAY = 86400.0
WATER, FAT, PROTEIN, SALT = 0.575, 0.22, 0.178, 0.027
DRY = FAT + PROTEIN + SALT
X0 = WATER / DRY
VS = (FAT / 920 + PROTEIN / 1350 + SALT / 2165) / DRY
VW = 1e-3
RADIUS, D0, SLOW, EA, CASING, RADIATION = 0.03, 1.5e-10, 2.0, 28e3, 1e7, 4.0
# days, Celsius, relative humidity, m/s
STAGES = [(2.0, 22.0, 0.90, 0.3), (5.0, 16.0, 0.82, 0.2), (53.0, 13.0, 0.78, 0.1)]


def isotherm_table(points=20000):
    a = 1.0 - np.exp(np.linspace(0.0, np.log(1e-5), points))
    a = np.unique(np.concatenate([a, [0.745, 0.7528]]))
    k = 0.98 * a
    x = PROTEIN / DRY * 0.062 * 11 * k / ((1 - k) * (1 - k + 11 * k))
    m = np.linspace(0.0, 6.5, 200001)
    root = np.sqrt(m)
    phi = 1 - 0.3915 * root / (1 + 1.2 * root) + m * (0.0765 + 0.2664 * np.exp(-2 * root)) + 0.00127 * m * m
    aw = np.exp(-2 * m * phi * 0.01801528)
    above = a > 0.745
    molality = np.interp(-a[above], -aw, m)
    ramp = np.minimum((a[above] - 0.745) / (0.7528 - 0.745), 1.0)
    x[above] += SALT / DRY * ramp / (0.05844 * molality)
    return x, a


class Salami:
    def __init__(self, cells):
        faces = RADIUS * (1 - np.exp(-2 * np.arange(cells + 1) / cells)) / (1 - np.exp(-2))
        self.solids = np.diff(faces**2) / (VS + X0 * VW)
        self.cells = cells
        self.x_table, self.a_table = isotherm_table()
        self.slope_table = np.gradient(self.a_table, self.x_table)
        self.sparsity = diags([np.ones(cells - 1), np.ones(cells), np.ones(cells - 1)], [-1, 0, 1])

    def enter(self, stage):
        _, t_c, self.humidity, self.speed = stage
        t_k = t_c + 273.15
        self.d_scale = D0 * np.exp(-EA / 8.314462618 * (1 / t_k - 1 / 286.15))
        self.psat = 611.2 * np.exp(17.62 * t_c / (243.12 + t_c))
        self.slope = self.psat * 17.62 * 243.12 / (243.12 + t_c) ** 2
        self.vapour = 0.01801528 / (8.314462618 * t_k) / (1.225 * 288.15 / t_k * 1006 * 0.865 ** (2 / 3))

    def diffusivity(self, x):
        return self.d_scale * np.exp(-SLOW * (1 - x / X0))

    def heat(self, d):
        re = self.speed * d / 1.48e-5
        forced = 0.3 + 0.62 * re**0.5 * 0.71 ** (1 / 3) / (1 + (0.4 / 0.71) ** (2 / 3)) ** 0.25 * (
            1 + (re / 282000) ** 0.625
        ) ** 0.8
        ra = 9.81 * 0.5 / 286 * d**3 / 1.48e-5**2 * 0.71
        free = (0.6 + 0.387 * ra ** (1 / 6) / (1 + (0.559 / 0.71) ** (9 / 16)) ** (8 / 27)) ** 2
        return 0.0253 / d * (forced**3 + free**3) ** (1 / 3)

    def rhs(self, _t, x):
        """x has one column a state: all of them at once."""
        x = x.reshape(self.cells, -1)
        s = self.solids[:, None]
        volume = s * (VS + x * VW)
        outer = np.cumsum(volume, axis=0)
        face = np.sqrt(outer)
        node = np.sqrt(outer - 0.5 * volume)
        x_face = 0.5 * (x[1:] + x[:-1])
        flux = 2 * face[:-1] * self.diffusivity(x_face) / (VS + x_face * VW) * np.diff(x, axis=0) / np.diff(node, axis=0)
        heat = self.heat(2 * face[-1])
        k = 1 / (1 / (heat * self.vapour) + CASING)
        cooling = k * 2.47e6 * self.slope / (heat + RADIATION)
        gap = face[-1] - node[-1]
        xs = 0.9 * x[-1]
        for _ in range(12):
            half = 0.5 * (x[-1] + xs)
            c = self.diffusivity(half) / ((VS + half * VW) * gap)
            a = np.interp(xs, self.x_table, self.a_table)
            da = np.interp(xs, self.x_table, self.slope_table)
            below = 1 + cooling * a
            g = k * self.psat * (a - self.humidity) / below
            dg = k * self.psat * (1 + cooling * self.humidity) / below**2 * da
            move = (c * (x[-1] - xs) - g) / (c + dg)
            xs = np.clip(xs + move, 1e-6, 3 * X0)
            if np.max(np.abs(move)) < 1e-12:
                break
        out = np.zeros_like(x)
        out[:-1] += flux
        out[1:] -= flux
        out[-1] -= 2 * face[-1] * g
        return out / s

    def run(self, rtol):
        """Loss at hanging and after each of 60 days."""
        x = np.full(self.cells, X0)
        losses = [0.0]
        start = 0.0
        calls = 0
        for stage in STAGES:
            self.enter(stage)
            days = np.arange(1, int(stage[0]) + 1)
            solved = solve_ivp(
                lambda t, y: self.rhs(t, y).reshape(y.shape), (0, stage[0] * DAY), x, method="BDF", rtol=rtol,
                atol=rtol * 1e-2, t_eval=days * DAY, vectorized=True, jac_sparsity=self.sparsity)
            x = solved.y[:, -1]
            mean = self.solids @ solved.y / self.solids.sum()
            losses.extend((X0 - mean) / (1 + X0))
            start += stage[0]
            calls += solved.nfev
        return np.array(losses), calls


def native(program, cells, step_h):
    text = subprocess.run([program, "curve", str(cells), str(step_h)], check=True, capture_output=True, text=True)
    return np.array([float(row["loss"]) for row in csv.DictReader(io.StringIO(text.stdout))])


def worst(seen, truth, first=3):
    return float(np.max(np.abs(seen[first:] / truth[first:] - 1)))


def main():
    program = sys.argv[1]
    scipy_losses, _ = Salami(30).run(1e-8)
    limits = [(6.0, 2e-4), (0.25, 2e-6)]  # step in hours, allowed relative difference from day 3
    failed = 0
    for step_h, limit in limits:
        difference = worst(native(program, 30, step_h), scipy_losses)
        ok = difference <= limit
        failed += not ok
        print(f"{'ok' if ok else 'FAILED'}: 30 cells, step {step_h} h: differs from solve_ivp by {difference:.2e}"
              f" of the loss, allowed {limit:.0e}")
    print(f"{len(limits) - failed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
