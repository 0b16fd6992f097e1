"""The numbers of the problem, the mesh, and the truth to measure errors against.

The same numbers stand in crates/science/benches/numbers/mod.rs; change both.
"""

import numpy as np
import scipy.sparse as sp
from scipy.integrate import solve_ivp

# The finger, all four long sides open; by symmetry a quarter of its section is solved, as Saltern does.
THICKNESS_MM, WIDTH_MM = 25.0, 30.0
WATER = 0.72  # kg per kg of green weight
HOURS = 24.0
D = (2.5e-10, 0.8e-10)  # salt, sugar at 4 °C, m²/s
WATER_OUT = 1.0  # kg of water out per kg of salt in
# A brine of as much water as the flesh has.
BRINE_WATER = 0.72
BRINE_SALT_PCT = 10.0
BRINE_SUGAR = 0.100  # kg per kg of water
# The draws.
DRAWS, SEED = 10_000, 7
DIFFUSIVITY_M2_S = (2.5e-10, 1.5)  # median and factor, log-normal
SLAB_MM = (25.0, 1.5)  # mean and standard deviation, normal
SALT_PCT = (5.0, 6.0, 7.0)  # triangular
RANGES = ((1e-12, 1e-8), (10.0, 40.0), (0.1, 26.0))
SHARE = 0.95
MEAN_SALT = 0.030  # kg per kg of green weight

CELLS = 32  # each way, Saltern's default for a finger
SECONDS = HOURS * 3600.0
WAYS = (THICKNESS_MM / 2000.0, WIDTH_MM / 2000.0)  # m
DEPTHS = (np.arange(CELLS) + 0.5) / CELLS  # parts of the way, from the open face


def line(way):
    """Minus the Laplacian of one direction, per m²: an open face half a cell away first, a mirror last."""
    h = way / CELLS
    main = np.full(CELLS, 2.0)
    main[0], main[-1] = 3.0, 1.0
    off = np.full(CELLS - 1, -1.0)
    face = np.zeros(CELLS)
    face[0] = 2.0
    return sp.diags([off, main, off], [-1, 0, 1]) / h**2, face / h**2


def section():
    """`du/dt = D (A u + b F)` on the section, for a face at F: row after row of the thickness."""
    (a, fa), (b, fb) = line(WAYS[0]), line(WAYS[1])
    one = sp.eye(CELLS)
    ones = np.ones(CELLS)
    return -(sp.kron(a, one) + sp.kron(one, b)).tocsc(), np.kron(fa, ones) + np.kron(ones, fb)


def level_end(last, before):
    return (9.0 * last - before) / 8.0


def read(u):
    """Mean, core and profile of cell values, read as Saltern reads them."""
    u = u.reshape(CELLS, CELLS)
    lanes = level_end(u[:, -1], u[:, -2])
    return u.mean(), level_end(lanes[-1], lanes[-2]), u[:, -1]


# ---- the truth: product of two series where the faces are held; the same modes driven by the brine where they are not

# The profile lies in the innermost lane of cells, half a cell from the middle of the width.
LANE = 1.0 - DEPTHS[-1]


def modes(way, count, x):
    """Roots, weights of the mean and weights at `x` (part of the way from the middle) of one direction."""
    root = (2 * np.arange(count) + 1) * np.pi / 2
    sign = (-1.0) ** np.arange(count)
    at = 2 * sign / root * np.cos(np.outer(np.atleast_1d(x), root))
    return (root / way) ** 2, 2 / root**2, at


def truth_held(d, count=400):
    decays, means, cores, profile, lane = [], [], [], None, None
    for i, way in enumerate(WAYS):
        rate, mean, core = modes(way, count, 0.0)
        decay = np.exp(-rate * d * SECONDS)
        means.append(mean @ decay)
        cores.append((core @ decay)[0])
        if i == 0:
            profile = modes(way, count, 1.0 - DEPTHS)[2] @ decay
        else:
            lane = (modes(way, count, LANE)[2] @ decay)[0]
    return 1 - means[0] * means[1], 1 - cores[0] * cores[1], 1 - profile * lane


def brine_start():
    salt = BRINE_WATER * BRINE_SALT_PCT / (100.0 - BRINE_SALT_PCT)
    return salt, BRINE_WATER * BRINE_SUGAR


def brine_faces(m_salt, m_sugar):
    """Contents of the face for what the brine holds (kg per kg of green weight), and their slopes."""
    r = WATER_OUT
    held = BRINE_WATER + r * (brine_start()[0] - m_salt)
    rho, rho_m = m_salt / held, 1 / held + r * m_salt / held**2
    level, level_rho = rho / (1 + r * rho), 1 / (1 + r * rho) ** 2
    sugar = m_sugar / held
    left = 1 - r * level
    return (
        (WATER * level, WATER * left * sugar),
        (WATER * level_rho * rho_m,
         WATER * (left * r * m_sugar / held**2 - r * level_rho * rho_m * sugar),
         WATER * left / held),
    )


def truth_brine(count=64, rtol=1e-9):
    """The modes of the bare rectangle, each relaxing towards a face that the brine moves. No mesh."""
    (ra, ma, ca), (rb, mb, cb) = (modes(w, count, 0.0) for w in WAYS)
    rate = np.add.outer(ra, rb).ravel()
    weight = np.outer(ma, mb).ravel()
    # What the modes left out hold follows the face at the pace of the last of them.
    rate, weight = np.append(rate, rate.max()), np.append(weight, 1 - weight.sum())
    n = rate.size
    drive = [np.asarray(d * rate) for d in D]

    def slope(_, y):
        (fs, fg), _ = brine_faces(y[-2], y[-1])
        qs, qg = drive[0] * (fs - y[:n]), drive[1] * (fg - y[n:2 * n])
        return np.concatenate([qs, qg, [-(weight @ qs), -(weight @ qg)]])

    def jac(_, y):
        _, (ss, gs, gg) = brine_faces(y[-2], y[-1])
        col = lambda v: sp.csc_matrix(v[:, None])
        row = lambda v: sp.csr_matrix(v[None, :])
        ws, wg = weight @ drive[0], weight @ drive[1]
        return sp.bmat([
            [sp.diags(-drive[0]), None, col(drive[0] * ss), None],
            [None, sp.diags(-drive[1]), col(drive[1] * gs), col(drive[1] * gg)],
            [row(weight * drive[0]), None, sp.csc_matrix([[-ws * ss]]), None],
            [None, row(weight * drive[1]), sp.csc_matrix([[-wg * gs]]), sp.csc_matrix([[-wg * gg]])],
        ], format="csc")

    y0 = np.zeros(2 * n + 2)
    y0[-2:] = brine_start()
    done = solve_ivp(slope, (0, SECONDS), y0, method="BDF", jac=jac, rtol=rtol, atol=1e-12, t_eval=[SECONDS])
    y = done.y[:, -1]
    faces = brine_faces(y[-2], y[-1])[0]
    at = modes(WAYS[0], count, 1.0 - DEPTHS)[2]
    lane = modes(WAYS[1], count, LANE)[2][0]
    found = []
    for q, face in ((y[:n], faces[0]), (y[n:2 * n], faces[1])):
        # Short of the face, mode by mode: there the tail is as good as even.
        short = (face - q)[:-1].reshape(count, count)
        found.append((weight @ q, face - ca[0] @ short @ cb[0], face - at @ short @ lane))
    return faces, found


def errors(found, truth, faces):
    """The largest error of mean, core and profile (root mean square), each a share of the face, of both substances."""
    worst = np.zeros(3)
    for (mean, core, profile), (tm, tc, tp), face in zip(found, truth, faces):
        off = abs(mean - tm), abs(core - tc), np.sqrt(np.mean((np.asarray(profile) - tp) ** 2))
        worst = np.maximum(worst, np.array(off) / face)
    return worst
