# The same systems by SciPy's sparse LU (SuperLU), for the side by side of the bench: reads three
# numbers (order, entries, right-hand sides), then rows, columns and values of the whole symmetric
# matrix and the rows at which the right-hand sides are 1, all as float64 from the standard input.
# Prints seconds of factorisation, seconds of all solves, and the sum of the solutions at those rows,
# for the fastest of SciPy's orderings, each tried three times.
import sys
import time

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

data = np.frombuffer(sys.stdin.buffer.read(), dtype=np.float64)
order, entries, sides = (int(value) for value in data[:3])
rows, columns, values = (data[3 + k * entries : 3 + (k + 1) * entries] for k in range(3))
at = data[3 + 3 * entries :].astype(int)
matrix = csc_matrix((values, (rows.astype(int), columns.astype(int))), shape=(order, order))
right = np.zeros((order, sides))
right[at, np.arange(sides)] = 1
best = None
for ordering, symmetric in [("MMD_AT_PLUS_A", True), ("COLAMD", False), ("NATURAL", True)] * 3:
    start = time.perf_counter()
    options = dict(SymmetricMode=True) if symmetric else {}
    pivoting = 0.0 if symmetric else 1.0
    factor = splu(matrix, permc_spec=ordering, diag_pivot_thresh=pivoting, options=options)
    middle = time.perf_counter()
    solution = factor.solve(right)
    end = time.perf_counter()
    if best is None or end - start < best[0]:
        best = (end - start, middle - start, end - middle, solution[at].sum())
print(*best[1:])
