"""The two windows of 10,000 draws in NumPy, one array operation for all draws, and the same statistics as Saltern's."""

import numpy as np

import problem as p

LARGEST = 50  # groups of the variance share


def drawn(seed=p.SEED, n=p.DRAWS):
    chance = np.random.default_rng(seed)
    median, factor = p.DIFFUSIVITY_M2_S
    draw = (
        lambda k: median * np.exp(np.log(factor) * chance.standard_normal(k)),
        lambda k: chance.normal(*p.SLAB_MM, k),
        lambda k: chance.triangular(*p.SALT_PCT, k),
    )
    columns = []
    for one, (least, most) in zip(draw, p.RANGES):
        values = one(n)
        outside = (values < least) | (values > most)
        while outside.any():
            values[outside] = one(int(outside.sum()))
            outside = (values < least) | (values > most)
        columns.append(values)
    return columns


def hours(fo, d, mm):
    return fo * (mm / 2000.0) ** 2 / d / 3600.0


def missing(fo):
    """What a slab is short of its final mean: Crank's series, at short times the root of the time."""
    fo = np.asarray(fo)
    short = fo < 0.01
    decaying = np.where(short, 0.01, fo)
    total, n, smallest = np.zeros_like(decaying), 0, decaying.min(initial=np.inf)
    while True:
        square = ((2 * n + 1) * np.pi / 2) ** 2
        total += 2 / square * np.exp(-square * decaying)
        n += 1
        if np.exp(-square * smallest) < 1e-17:
            return np.where(short, 1 - 2 * np.sqrt(fo / np.pi), total)


def by_halving(share):
    """As Saltern finds it: 80 halvings of 0 to 6, all draws at once."""
    early, late = np.zeros_like(share), np.full_like(share, 6.0)
    for _ in range(80):
        middle = 0.5 * (early + late)
        before = 1 - missing(middle) < share
        early = np.where(before, middle, early)
        late = np.where(before, late, middle)
    return 0.5 * (early + late)


def by_newton(share):
    """What a careful hand would write: begin where one form or the other is nearly exact, then Newton three times."""
    fo = np.where(share < 0.5, np.pi * share**2 / 4, -np.log(np.pi**2 / 8 * (1 - share)) * 4 / np.pi**2)
    for _ in range(3):
        total, slope, smallest, n = np.zeros_like(fo), np.zeros_like(fo), fo.min(), 0
        while True:
            square = ((2 * n + 1) * np.pi / 2) ** 2
            decay = np.exp(-square * fo)
            total += 2 / square * decay
            slope += 2 * decay
            n += 1
            if np.exp(-square * smallest) < 1e-17:
                break
        fo = fo + (share - 1 + total) / slope
    return fo


def order_and_ranks(values):
    order = np.argsort(values)
    ranks = np.empty(values.size)
    ranks[order] = np.arange(1, values.size + 1)  # continuous inputs: no ties
    return order, ranks


def statistics(columns, results):
    n = results.size
    rank = order_and_ranks(results)[1] - (n + 1) / 2
    scaled = results - results.mean()
    total = scaled @ scaled
    groups = int(min(max(np.sqrt(n) / 2, 2), LARGEST))
    ends = np.arange(groups + 1) * n // groups
    counts = np.diff(ends)
    influences = []
    for column in columns:
        order, ranks = order_and_ranks(column)
        ranks -= (n + 1) / 2
        spearman = ranks @ rank / np.sqrt((ranks @ ranks) * (rank @ rank))
        sums = np.add.reduceat(scaled[order], ends[:-1])
        between = (sums**2 / counts).sum()
        share = (between - (groups - 1) * (total - between) / (n - groups)) / total
        influences.append((spearman, share))
    return results.mean(), np.quantile(results, (0.05, 0.5, 0.95)), influences


def share_window(seed=p.SEED, n=p.DRAWS):
    d, mm, salt = columns = drawn(seed, n)
    fo = by_halving(np.array([p.SHARE]))[0]
    return statistics(columns, hours(fo, d, mm))


def salt_window(inverse, seed=p.SEED, n=p.DRAWS):
    d, mm, salt = columns = drawn(seed, n)
    face = p.WATER * salt / (100 - salt)
    return statistics(columns, hours(inverse(p.MEAN_SALT / face), d, mm))
