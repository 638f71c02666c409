"""Figures that by_weight.rs is held against; numpy and scipy only, none of our code.

    python3 -m venv v && v/bin/pip install numpy==2.4.6 scipy==1.17.1 && v/bin/python oracle.py

Pieces are gamma distributed here, not normal: the sum of R of them is again gamma, so it is drawn
exactly. The scale's reading is really rounded, to steps that begin anywhere: where a mark's sample
falls between two steps is as good as drawn by lot. Weights in grams.
"""
import numpy as np
from scipy import integrate, stats

rng = np.random.default_rng(20260501)
DRAWS = 4_000_000


def pieces(count, mean, spread, draws=DRAWS):
    if count == 0:
        return np.zeros(draws)
    shape = count / spread**2
    return rng.gamma(shape, mean * spread**2, draws)


def read(true, step, error):
    begin = rng.uniform(0, step, true.shape)
    return np.round((true + rng.normal(0, error, true.shape) - begin) / step) * step + begin


def first_order():
    """The standard error of n W / S, against the rows of engineering.md 5.1."""
    for N, n, c, s in [(500, 10, .01, 0), (500, 20, .01, 0), (500, 50, .01, 0), (1000, 10, .005, 0),
                       (200, 10, .02, 0), (500, 10, .01, .125), (500, 50, .01, .125)]:
        S = pieces(n, 1, c) + rng.normal(0, s, DRAWS)
        W = pieces(N, 1, c) + rng.normal(0, s, DRAWS)
        print(f"    ({N}, {n}, {c}, {s}): {np.std(n * W / S):.3f}")


def stated(name, n, S, bag, tare, put_back, c, step, error):
    """The interval by simulating, for each count, how far off weights would be."""
    def odds(R):
        mean = (bag - tare + (0 if put_back else S)) / (n + R)
        shares = R / n + put_back
        off = abs((bag - tare) - S * shares)
        sample = pieces(n, mean, c)
        rest = pieces(R, mean, c)
        empty = read(np.full(DRAWS, tare), step, error) if tare else 0
        full = read(rest + (sample if put_back else 0) + tare, step, error)
        return np.mean(np.abs(full - empty - read(sample, step, error) * shares) >= off)

    interval(name, odds, round((bag - tare) / (S / n) - n * put_back), n, put_back)


def seen(name, samples, bag, put_back, step, error):
    """The interval where the spread is only seen: the chance integrated over chi-square."""
    counts, masses = np.array(samples).T
    n, S, k = counts.sum(), masses.sum(), len(samples)
    reading = step**2 / 12 + error**2
    square = ((masses - counts * S / n) ** 2 / counts).sum() / (k - 1)
    by_scale = reading * ((1 / counts).sum() - k / n) / (k - 1)

    def odds(R):
        shares = R / n + put_back
        off = abs(bag - S * shares)
        a, b = R * (1 + R / n), reading * (1 + k * shares**2)
        tail = lambda u: 2 * stats.norm.sf(off / np.sqrt(a * max(0, square * (k - 1) / u - by_scale) + b))
        knee = square * (k - 1) / by_scale
        low = integrate.quad(lambda u: tail(u) * stats.chi2.pdf(u, k - 1), 0, min(knee, 60), limit=400)[0]
        high = 0 if knee > 60 else integrate.quad(lambda u: tail(u) * stats.chi2.pdf(u, k - 1), knee, 200)[0]
        if step < 1e-5:  # nothing but pieces: Student's t
            t = 2 * stats.t.sf(off / np.sqrt(a * square), k - 1)
            assert abs(t - low - high) < 1e-4, (t, low, high)
        return low + high

    interval(name, odds, round(bag / (S / n) - n * put_back), n, put_back)


def interval(name, odds, guess, n, counted):
    least = most = guess
    inside_least = inside_most = odds(guess)
    while least > 0 and (p := odds(least - 1)) >= .05:
        least, inside_least = least - 1, p
    below = p
    while (p := odds(most + 1)) >= .05:
        most, inside_most = most + 1, p
    print(f"    {name}: {guess} ({least}..{most}) beside the sample of {n};"
          f" odds {below:.4f} | {inside_least:.4f} .. {inside_most:.4f} | {p:.4f}", flush=True)


print("first order:")
first_order()
print("stated spread:")
stated("fine scale, kept out", 20, 240.0, 5769.0, 0, False, .015, .1, .05)
stated("coarse scale, put back", 10, 125.0, 2530.0, 0, True, .015, 5.0, 2.5)
stated("coarse scale, small sample", 5, 30.0, 3000.0, 0, False, .03, 5.0, 2.5)
stated("with a tare", 50, 610.0, 4900.0, 120.0, False, .03, 10.0, 5.0)
stated("small bag", 10, 80.0, 120.0, 0, False, .015, 1.0, .5)
print("seen spread:")
seen("five tens, fine", [(10, 120.3), (10, 119.1), (10, 120.9), (10, 119.8), (10, 120.4)], 6000.0, False, 1e-6, 5e-7)
seen("two tens, fine", [(10, 120.3), (10, 119.9)], 2400.0, True, 1e-6, 5e-7)
seen("four tens, coarse", [(10, 120.0), (10, 122.0), (10, 119.0), (10, 121.0)], 6000.0, False, 1.0, .5)
seen("three unlike shares", [(10, 120.3), (20, 239.0), (15, 181.1)], 3600.0, True, .1, .05)
seen("scale hides the spread", [(10, 120.0), (10, 120.0), (10, 120.0)], 6000.0, False, 2.0, 1.0)
