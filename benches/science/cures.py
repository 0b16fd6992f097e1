"""The two finger cures with SciPy, with FiPy, and with Saltern's own scheme written in SciPy's banded solver."""

import numpy as np
import scipy.sparse as sp
from scipy.integrate import ode, solve_ivp
from scipy.linalg import eigh, lapack

import problem as p

A, B = p.section()
N = A.shape[0]


# ---- SciPy, held faces: both substances in one system, a tenth quicker than one after the other

BOTH = sp.block_diag([d * A for d in p.D], format="csc")
PUSH = np.concatenate([d * B for d in p.D])


def scipy_held(rtol, atol, method="BDF"):
    done = solve_ivp(lambda _, u: BOTH @ u + PUSH, (0.0, p.SECONDS), np.zeros(2 * N), method=method, jac=BOTH,
                     rtol=rtol, atol=atol, t_eval=[p.SECONDS])
    u = done.y[:, -1]
    return [p.read(u[:N]), p.read(u[N:])]


def vode_held(rtol, atol):
    """The quickest general solver found in SciPy: the older interface, its Jacobian a band."""
    wide, systems = p.CELLS, []
    for d in p.D:
        entries = (d * A).tocoo()
        band = np.zeros((2 * wide + 1, N))
        band[wide + entries.row - entries.col, entries.col] = entries.data
        systems.append(((d * A).tocsr(), d * B, band))

    def solve():
        found = []
        for a, b, band in systems:
            solver = ode(lambda _, u: a @ u + b, lambda _, u: band).set_integrator(
                "vode", method="bdf", lband=wide, uband=wide, with_jacobian=True, rtol=rtol, atol=atol, nsteps=5000)
            solver.set_initial_value(np.zeros(N), 0.0)
            found.append(p.read(solver.integrate(p.SECONDS)))
        return found

    return solve


# ---- SciPy, brine: both substances and what the brine holds, the Jacobian sparse and exact

def brine_system():
    even = np.full(N, 1.0 / N)
    flow = even * B  # what a cell gives back through its faces
    total = even @ B
    a = sp.csr_matrix(A)
    col = lambda v: sp.csc_matrix(v[:, None])
    row = lambda v: sp.csr_matrix(v[None, :])
    dot = lambda x: sp.csc_matrix([[x]])
    fixed = sp.bmat([
        [p.D[0] * A, None, col(0 * B), None],
        [None, p.D[1] * A, None, col(0 * B)],
        [row(p.D[0] * flow), None, dot(0.0), None],
        [None, row(p.D[1] * flow), None, dot(0.0)],
    ], format="csc")
    by_salt = sp.bmat([[None, None, col(p.D[0] * B), None], [sp.csc_matrix((N, N)), None, None, None],
                       [None, sp.csc_matrix((1, N)), dot(-p.D[0] * total), None],
                       [None, None, None, dot(0.0)]], format="csc")
    sugar_s = sp.csc_matrix(np.concatenate([np.zeros(N), p.D[1] * B, [0.0, -p.D[1] * total]])[:, None])
    left = sp.csc_matrix((2 * N + 2, 2 * N))
    gap = sp.csc_matrix((2 * N + 2, 1))
    by_sugar_s = sp.hstack([left, sugar_s, gap], format="csc")
    by_sugar_g = sp.hstack([left, gap, sugar_s], format="csc")

    def slope(_, y):
        (fs, fg), _ = p.brine_faces(y[-2], y[-1])
        s, g = y[:N], y[N:2 * N]
        out = np.empty_like(y)
        out[:N] = p.D[0] * (a @ s + B * fs)
        out[N:2 * N] = p.D[1] * (a @ g + B * fg)
        out[-2] = p.D[0] * (flow @ s - total * fs)
        out[-1] = p.D[1] * (flow @ g - total * fg)
        return out

    def jac(_, y):
        _, (ss, gs, gg) = p.brine_faces(y[-2], y[-1])
        return fixed + ss * by_salt + gs * by_sugar_s + gg * by_sugar_g

    return slope, jac


SLOPE, JAC = brine_system()


def scipy_brine(rtol, atol):
    y0 = np.zeros(2 * N + 2)
    y0[-2:] = p.brine_start()
    done = solve_ivp(SLOPE, (0.0, p.SECONDS), y0, method="BDF", jac=JAC, rtol=rtol, atol=atol, t_eval=[p.SECONDS])
    y = done.y[:, -1]
    return [p.read(y[:N]), p.read(y[N:2 * N])]


# ---- the same scheme as Saltern: two directions, two stages, steps growing as the square of their number

GAMMA = 1.0 - np.sqrt(0.5)


def same_scheme(steps):
    lines = [p.line(w) for w in p.WAYS]
    bands = [(m.diagonal(), m.diagonal(1), f) for m, f in lines]

    def sweep(u, band, tau):
        main, off, face = band
        tau = GAMMA * tau
        d, e, _ = lapack.dpttrf(1 + tau * main, tau * off)
        push = tau * face[:, None]
        first, _ = lapack.dpttrs(d, e, u + push)
        # The first stage carried to the start of the second: u + (1 − γ)/γ (first − u).
        carried = u + (1 - GAMMA) / GAMMA * (first - u)
        return lapack.dpttrs(d, e, carried + push)[0]

    found = []
    for d in p.D:
        u, was = np.zeros((p.CELLS, p.CELLS)), 0.0
        for k in range(1, steps + 1):
            until = p.SECONDS * (k / steps) ** 2
            dt, was = d * (until - was), until
            if k % 2:
                u = sweep(sweep(u, bands[0], dt).T, bands[1], dt).T
            else:
                u = sweep(sweep(u.T, bands[1], dt).T, bands[0], dt)
        found.append(p.read(np.ascontiguousarray(u)))
    return found


def eigenvectors():
    """Held faces only: the mesh solved exactly in time, one direction at a time. No general solver does this."""
    found = []
    pairs = [eigh(m.toarray()) for m, _ in map(p.line, p.WAYS)]
    for d in p.D:
        a, b = (v @ (np.exp(-d * p.SECONDS * w) * v.sum(axis=0)) for w, v in pairs)
        found.append(p.read(1 - np.outer(a, b)))
    return found


# ---- FiPy

def fipy_held(scheme, solver_name, power):
    import fipy
    mesh = fipy.Grid2D(nx=p.CELLS, ny=p.CELLS, dx=p.WAYS[1] / p.CELLS, dy=p.WAYS[0] / p.CELLS)
    equations = []
    for d in p.D:
        u = fipy.CellVariable(mesh=mesh, value=0.0, hasOld=False)
        u.constrain(1.0, mesh.facesLeft)
        u.constrain(1.0, mesh.facesBottom)
        euler = fipy.TransientTerm() == fipy.DiffusionTerm(coeff=d)
        half = fipy.TransientTerm() == fipy.DiffusionTerm(coeff=d / 2) + fipy.ExplicitDiffusionTerm(coeff=d / 2)
        equations.append((u, euler, half))
    solver = {"lu": lambda: fipy.LinearLUSolver(),
              "cg": lambda: fipy.LinearCGSolver(tolerance=1e-6, iterations=500)}[solver_name]()

    def solve(steps):
        found = []
        for u, euler, half in equations:
            u.setValue(0.0)
            was = 0.0
            for k in range(1, steps + 1):
                until = p.SECONDS * (k / steps) ** power
                # The trapezoidal rule starts with implicit Euler: it does not damp the jump at the face.
                equation = half if scheme == "trapezoid" and k > 4 else euler
                equation.solve(var=u, dt=until - was, solver=solver)
                was = until
            found.append(p.read(np.array(u.value)))
        return found

    return solve
