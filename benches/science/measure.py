"""Times the Python side and prints one line of JSON a case: `measure.py TURNS`, as Saltern's bench prints its own.

Matrices, meshes and equations are made before the clock starts. The settings are the quickest of `calibrate.py` whose
worst error is no more than twice Saltern's.
"""

import json
import sys
import time

import cures
import problem as p
import windows

SCIPY_HELD = (1e-2, 1e-3)  # rtol, atol in parts of the face
SCIPY_BRINE = (1e-2, 1e-4)  # atol in kg per kg; the face ends at 0.045
VODE_HELD = (3e-3, 3e-4)
FIPY = ("trapezoid", "cg", 2)  # scheme, solver, power of the step's number
FIPY_STEPS = 12
SAME_STEPS = (12, 48)


def timed(turns, what):
    what()
    seconds = []
    for _ in range(turns):
        begun = time.perf_counter()
        found = what()
        seconds.append(time.perf_counter() - begun)
    return seconds, found


def cure(case, who, turns, what):
    seconds, found = timed(turns, what)
    print(json.dumps({"case": case, "who": who, "seconds": seconds,
                      "mean": [f[0] for f in found], "core": [f[1] for f in found],
                      "profile": [list(f[2]) for f in found]}), flush=True)


def window(case, who, turns, what):
    seconds, (mean, quantiles, influences) = timed(turns, what)
    print(json.dumps({"case": case, "who": who, "seconds": seconds, "mean": mean, "quantiles": list(quantiles),
                      "influences": influences}), flush=True)


def main():
    turns = int(sys.argv[1])
    slow = max(3, turns // 3)
    fipy = cures.fipy_held(*FIPY)
    vode = cures.vode_held(*VODE_HELD)
    cure("plenty", "scipy solve_ivp BDF, sparse", slow, lambda: cures.scipy_held(*SCIPY_HELD))
    cure("plenty", "fipy, 12 steps", slow, lambda: fipy(FIPY_STEPS))
    cure("plenty", "scipy ode vode, banded", slow, vode)
    for steps in SAME_STEPS:
        cure("plenty", f"saltern's scheme in scipy, {steps} steps", turns, lambda: cures.same_scheme(steps))
    cure("plenty", "eigenvectors in numpy", turns, cures.eigenvectors)
    cure("brine", "scipy solve_ivp BDF, sparse", slow, lambda: cures.scipy_brine(*SCIPY_BRINE))
    window("share", "numpy", turns, windows.share_window)
    window("salt", "numpy, 80 halvings", turns, lambda: windows.salt_window(windows.by_halving))
    window("salt", "numpy, newton", turns, lambda: windows.salt_window(windows.by_newton))


if __name__ == "__main__":
    main()
