"""Looks for the quickest setting of each solver whose error is at most twice Saltern's: `calibrate.py SALTERN.json`."""

import json
import sys
import time

import cures
import problem as p


def clock(what, turns=3):
    best = None
    for _ in range(turns):
        begun = time.perf_counter()
        found = what()
        took = time.perf_counter() - begun
        best = took if best is None else min(best, took)
    return best, found


lines = [json.loads(line) for line in open(sys.argv[1])]
ours = {line["case"]: line for line in lines}


def of_ours(case):
    line = ours[case]
    return [(line["mean"][i] / 1000, line["core"][i] / 1000, [q[1 + i] / 1000 for q in line["profile"]])
            for i in (0, 1)], [f / 1000 for f in line["face"]]


def show(name, took, err, best):
    print(f"{name:44} {took * 1e3:9.2f} ms   mean {err[0]:.2e} core {err[1]:.2e} profile {err[2]:.2e}"
          f"   worst × ours {err.max() / best:.2f}")


held = [p.truth_held(d) for d in p.D]
found, face = of_ours("plenty")
scaled = [(m / f, c / f, [x / f for x in q]) for (m, c, q), f in zip(found, face)]
err = p.errors(scaled, held, (1, 1))
best = err.max()
show("saltern, plenty", min(ours["plenty"]["seconds"]), err, best)
for rtol in (1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 1e-4, 1e-6):
    for method in ("BDF", "Radau"):
        for ratio in (1.0, 0.1, 0.01):
            took, found = clock(lambda: cures.scipy_held(rtol, rtol * ratio, method), 2)
            show(f"scipy {method} rtol {rtol} atol {rtol * ratio:.0e}", took, p.errors(found, held, (1, 1)), best)
for rtol in (1e-2, 3e-3, 1e-3, 1e-4):
    took, found = clock(cures.vode_held(rtol, rtol * 0.1))
    show(f"scipy vode rtol {rtol}", took, p.errors(found, held, (1, 1)), best)
for steps in (6, 8, 12, 16, 24, 48):
    took, found = clock(lambda: cures.same_scheme(steps))
    show(f"same scheme {steps}", took, p.errors(found, held, (1, 1)), best)
took, found = clock(cures.eigenvectors)
show("eigenvectors", took, p.errors(found, held, (1, 1)), best)
for scheme in ("euler", "trapezoid"):
    for solver in ("lu", "cg"):
        for power in (1, 2, 3):
            solve = cures.fipy_held(scheme, solver, power)
            for steps in (8, 12, 16, 24, 48, 96, 192):
                took, found = clock(lambda: solve(steps), 1)
                e = p.errors(found, held, (1, 1))
                show(f"fipy {scheme} {solver} power {power} steps {steps}", took, e, best)
                if e.max() < 1.3 * best:
                    break

faces, truth = p.truth_brine()
for count, rtol in ((48, 1e-9), (64, 1e-8)):
    other = p.truth_brine(count, rtol)[1]
    print("truth against itself", count, rtol, p.errors(other, truth, faces))
found, face = of_ours("brine")
print("faces", faces, face)
err = p.errors(found, truth, faces)
show("saltern, brine", min(ours["brine"]["seconds"]), err, err.max())
best = err.max()
for rtol in (1e-1, 3e-2, 1e-2, 3e-3, 1e-3, 1e-4, 1e-6):
    for ratio in (0.1, 0.01, 0.001):
        took, found = clock(lambda: cures.scipy_brine(rtol, rtol * ratio), 2)
        show(f"scipy BDF rtol {rtol} atol {rtol * ratio:.0e}", took, p.errors(found, truth, faces), best)
