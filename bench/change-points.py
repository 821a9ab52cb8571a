# The same optimum by a general change-point library, for the side-by-side of the bench:
# python change-points.py DATA SAMPLES COLUMNS PENALTY SOLVER, DATA being rows of float64.
# Prints seconds, breaks, and the sum of squares plus the penalties. Noise variance is 1.
import sys
import time

import numpy as np
import ruptures

path, samples, columns, penalty, solver = sys.argv[1:]
signal = np.fromfile(path, dtype=np.float64).reshape(int(samples), int(columns))
start = time.perf_counter()
if solver == "kernel":
    found = ruptures.KernelCPD(kernel="linear", min_size=1).fit(signal).predict(pen=float(penalty))
else:
    found = ruptures.Pelt(model="l2", min_size=1, jump=1).fit(signal).predict(pen=float(penalty))
seconds = time.perf_counter() - start
edges = [0, *found]
squares = sum(
    ((signal[a:b] - signal[a:b].mean(axis=0)) ** 2).sum() for a, b in zip(edges, edges[1:])
)
print(seconds, len(found) - 1, squares + float(penalty) * (len(found) - 1))
