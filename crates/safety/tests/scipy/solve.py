"""Conduction solved independently with scipy, as expectations for the tests of crates/safety.

Writes cases.tsv beside itself: random layers, layers whose air changes, boxes in three dimensions, balls and
cylinders, each with the time until its hottest place has come down to a target. It shares nothing with the Rust
code but the physics: method of lines on a fine grid, integrated by scipy. `cargo xtask conduction` runs it in an
environment of its own and compares; by hand:

    python3 -m venv V && V/bin/pip install scipy==1.17.1 && V/bin/python crates/safety/tests/scipy/solve.py

Units in the table: micrometres, microwatts per metre and kelvin, joules per cubic metre and kelvin, tenths of a
W/(m2 K), tenths of a degree Celsius, seconds.
"""

import os
import random

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import diags, identity, kron
from scipy.sparse.linalg import splu

N = 120  # cells along one dimension
DAY = 86400.0


def line(n, thickness, k, c, h0, h1, power=0):
    """Conductances of cells along a line (power 0), a cylinder's radius (1) or a ball's radius (2)."""
    dx = thickness / n
    edges = np.linspace(0.0, thickness, n + 1)
    area = edges**power if power else np.ones(n + 1)
    volume = (edges[1:] ** (power + 1) - edges[:-1] ** (power + 1)) / (power + 1)
    inner = k * area[1:-1] / dx
    first = area[0] / (dx / (2 * k) + 1 / h0) if h0 > 0 else 0.0
    last = area[-1] / (dx / (2 * k) + 1 / h1) if h1 > 0 else 0.0
    heat = c * volume
    main = np.zeros(n)
    main[:-1] -= inner
    main[1:] -= inner
    main[0] -= first
    main[-1] -= last
    matrix = diags([inner, main, inner], [-1, 0, 1]).tocsc()
    source = np.zeros((n, 2))
    source[0, 0] = first
    source[-1, 1] = last
    return diags(1 / heat) @ matrix, source / heat[:, None]


def when(matrix_source, phases, start, target, n):
    """First time at which the greatest cell is at the target, by LSODA with an event."""
    clock = 0.0
    state = np.full(n, start)
    for (h, air), lasting in phases:
        matrix, source = matrix_source(*h)
        push = source @ np.array(air)
        bands = matrix.todense()
        jac = np.asarray(bands)

        def rhs(_t, y, m=matrix, p=push):
            return m @ y + p

        def event(_t, y):
            return y.max() - target

        event.terminal = True
        event.direction = -1
        end = clock + (lasting if lasting else 10 * DAY)
        done = solve_ivp(
            rhs, (clock, end), state, method="BDF", jac=jac, events=event, rtol=1e-7, atol=1e-7
        )
        if done.t_events[0].size:
            return float(done.t_events[0][0])
        clock, state = end, done.y[:, -1]
    return None


def box(depth, length, width, k, c, h, start, air, target):
    """Three dimensions by Crank-Nicolson on 22 cells each way, twice with different steps."""
    n = 22
    (top, bottom, side) = h
    mz, sz = line(n, depth, k, c, top, bottom)
    mx, sx = line(n, length, k, c, side, side)
    my, sy = line(n, width, k, c, side, side)
    i = identity(n, format="csc")
    matrix = kron(kron(mz, i), i) + kron(kron(i, mx), i) + kron(kron(i, i), my)
    ones = np.ones(n)
    push = air * (
        np.kron(np.kron(sz.sum(axis=1), ones), ones)
        + np.kron(np.kron(ones, sx.sum(axis=1)), ones)
        + np.kron(np.kron(ones, ones), sy.sum(axis=1))
    )

    def run(step):
        eye = identity(n**3, format="csc")
        # Two-stage Radau-like damping is not needed: the step is small beside the slowest decay.
        solver = splu((eye - step / 2 * matrix).tocsc())
        euler = splu((eye - step / 4 * matrix).tocsc())
        y = np.full(n**3, start)
        t = 0.0
        for _ in range(4):
            y = euler.solve(y + step / 4 * push)
            t += step / 4
        while True:
            before = y.max()
            y = solver.solve(y + step / 2 * (matrix @ y) + step * push)
            now = y.max()
            if now <= target:
                return t + step * (before - target) / (before - now)
            t += step

    guess = run(240.0)
    return run(max(guess / 300.0, 5.0))


def main():
    dice = random.Random(20261125)
    rows = []
    whole = lambda low, high: dice.randint(low, high)

    def food():
        return whole(300_000, 600_000), whole(2_200_000, 4_000_000)

    while len(rows) < 18:  # layers with air of their own above and below
        depth = whole(10_000, 90_000)
        k, c = food()
        h = [whole(30, 300), whole(0, 3000)]
        air = [whole(-180, 45), whole(0, 40)]
        start, target = whole(500, 950), whole(60, 300)
        build = lambda a, b: line(N, depth * 1e-6, k * 1e-6, c, a, b)
        t = when(build, [(([x / 10 for x in h], [x / 10 for x in air]), None)], start / 10, target / 10, N)
        if t is not None and 60 < t < 5 * DAY:
            rows.append(["layer", depth, 0, 0, k, c, *h, 0, *air, 0, 0, 0, 0, 0, start, target, round(t)])
    while len(rows) < 33:  # the counter first, then the fridge
        depth = whole(10_000, 70_000)
        k, c = food()
        h1, h2 = [whole(60, 150), whole(30, 100)], [whole(30, 250), whole(20, 200)]
        room, cold, first = whole(180, 260), whole(-180, 45), whole(10, 90) * 60
        start, target = whole(572, 950), whole(60, 300)
        build = lambda a, b: line(N, depth * 1e-6, k * 1e-6, c, a, b)
        phases = [
            (([x / 10 for x in h1], [room / 10] * 2), first),
            (([x / 10 for x in h2], [cold / 10] * 2), None),
        ]
        t = when(build, phases, start / 10, target / 10, N)
        if t is not None and 60 < t < 5 * DAY:
            rows.append(["two-phase", depth, 0, 0, k, c, *h1, 0, room, room, *h2, cold, cold, first, start, target, round(t)])
    while len(rows) < 43:  # boxes
        depth, length, width = whole(15_000, 70_000), whole(60_000, 250_000), whole(60_000, 200_000)
        k, c = food()
        h = [whole(40, 250), whole(30, 200), whole(40, 250)]
        air, start, target = whole(-180, 40), whole(500, 950), whole(80, 300)
        t = box(depth * 1e-6, length * 1e-6, width * 1e-6, k * 1e-6, c, [x / 10 for x in h], start / 10, air / 10, target / 10)
        rows.append(["box", depth, length, width, k, c, *h, air, air, 0, 0, 0, 0, 0, start, target, round(t)])
    while len(rows) < 50:  # balls and long cylinders, centre
        shape, power = dice.choice([("ball", 2), ("cylinder", 1)])
        radius = whole(15_000, 50_000)
        k, c = food()
        h = whole(50, 5000)
        air, start, target = whole(-180, 40), whole(500, 950), whole(80, 300)
        build = lambda _a, b: line(N, radius * 1e-6, k * 1e-6, c, 0.0, b, power)
        t = when(build, [(([0.0, h / 10], [0.0, air / 10]), None)], start / 10, target / 10, N)
        if t is not None and t > 60:
            rows.append([shape, radius, 0, 0, k, c, h, h, h, air, air, 0, 0, 0, 0, 0, start, target, round(t)])
    names = "kind size_um length_um width_um conductivity_uw heat_j above below side air_above air_below above_2 below_2 air_above_2 air_below_2 first_s start target seconds"
    here = os.path.join(os.path.dirname(os.path.abspath(__file__)), "cases.tsv")
    with open(here, "w") as out:
        out.write("# Written by solve.py beside this file (scipy 1.17.1); units there. Not to be edited.\n")
        out.write("\t".join(names.split()) + "\n")
        for row in rows:
            out.write("\t".join(str(x) for x in row) + "\n")


if __name__ == "__main__":
    main()
