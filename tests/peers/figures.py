# The peers' figures with numpy and girth: what,figure,seconds,peer. The tables are written by the bench
# beforehand.
import sys
import time

import numpy

folder = sys.argv[1]


def read(name):
    return numpy.loadtxt(f"{folder}/{name}", delimiter=",")


def timed(what, runs, work, peer="numpy"):
    seconds = []
    for _ in range(runs):
        begun = time.perf_counter()
        figure = work()
        seconds.append(time.perf_counter() - begun)
    print(f"{what},{figure:.12g},{sorted(seconds)[len(seconds) // 2]:.6f},{peer}")


def alpha(table):
    k = table.shape[1]
    return k / (k - 1) * (1 - table.var(axis=0, ddof=1).sum() / table.sum(axis=1).var(ddof=1))


def icc(table):
    n, k = table.shape
    grand = table.mean()
    rows = k * ((table.mean(axis=1) - grand) ** 2).sum() / (n - 1)
    columns = n * ((table.mean(axis=0) - grand) ** 2).sum() / (k - 1)
    rest = table - table.mean(axis=1, keepdims=True) - table.mean(axis=0, keepdims=True) + grand
    error = (rest**2).sum() / ((n - 1) * (k - 1))
    return (rows - error) / (rows + (k - 1) * error + k * (columns - error) / n)


def items(table):
    total = table.sum(axis=1)
    p = table.mean(axis=0)
    rest = total[:, None] - table
    r = ((table - p) * (rest - rest.mean(axis=0))).mean(axis=0) / (table.std(axis=0) * rest.std(axis=0))
    return r[-1]


ratings = read("ratings.csv")
timed("alpha 2500 x 4", 21, lambda: alpha(ratings))
timed("ICC(2 1) 2500 x 4", 21, lambda: icc(ratings))
answers = read("items.csv")
timed("item-rest r 1000 x 100 last", 21, lambda: items(answers))

x, y = read("x.csv").astype(int), read("y.csv").astype(int)


def equipercentile(x, y, top=40):
    fx = numpy.bincount(x, minlength=top + 1) / len(x)
    fy = numpy.bincount(y, minlength=top + 1) / len(y)
    ranks = numpy.cumsum(fx) - fx / 2
    edges = numpy.concatenate(([0.0], numpy.cumsum(fy)))
    return numpy.interp(ranks, edges, numpy.arange(top + 2) - 0.5)


def bootstrap():
    draw = numpy.random.default_rng(7)
    made = [
        equipercentile(draw.choice(x, len(x)), draw.choice(y, len(y)))[20] for _ in range(1000)
    ]
    return numpy.std(made, ddof=1)


timed("equipercentile 1000 resamples s.e.", 3, bootstrap)


def marginal(answers, slopes, difficulties):
    """The log-likelihood of what girth found, over the points that this project takes."""
    points = numpy.linspace(-6, 6, 61)
    weights = numpy.exp(-0.5 * points**2)
    weights /= weights.sum()
    logits = slopes[:, None] * (points[None, :] - difficulties[:, None])
    right, wrong = -numpy.logaddexp(0, -logits), -numpy.logaddexp(0, logits)
    joint = answers @ right + (1 - answers) @ wrong + numpy.log(weights)
    top = joint.max(axis=1, keepdims=True)
    return (top[:, 0] + numpy.log(numpy.exp(joint - top).sum(axis=1))).sum()


try:
    import girth
except ImportError:
    print("no girth: its figures are left out", file=sys.stderr)
else:
    sloped = read("sloped.csv")
    begun = time.perf_counter()
    made = girth.twopl_mml(
        sloped.T.astype(int), {"quadrature_n": 61, "quadrature_bounds": (-6, 6)}
    )
    seconds = time.perf_counter() - begun
    # Girth's slopes stand on its own spread of abilities, a standard normal: nothing to rescale.
    figure = marginal(sloped, made["Discrimination"], made["Difficulty"])
    print(f"2PL MML 10000 x 60 log-likelihood,{figure:.12g},{seconds:.6f},girth")
