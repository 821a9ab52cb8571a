# The same response in NumPy, for the side by side of the bench: the same points and weights, layers
# in a loop, everything else vectorised over MODELS models, the frequencies and the points. Reads what
# coil-response.c reads, evaluates the one model MODELS times over as if they were different, and
# answers "v N" by seconds for N models and the sum of one model's results.
import sys
import time

import numpy as np

MODELS = 200
numbers = iter(sys.stdin.read().split())
layers, points, frequencies, members = (int(next(numbers)) for _ in range(4))


def take(count):
    return np.array([float(next(numbers)) for _ in range(count)])


wavenumber, thickness, omega_mu = take(points), take(layers - 1), take(frequencies)
conductivity = take(layers)
weights = take(frequencies * members * points).reshape(frequencies, members, points)
models = np.tile(conductivity, (MODELS, 1))


def respond(models):
    k = 1j * omega_mu[None, :, None] * models[:, -1, None, None]
    below = np.sqrt(wavenumber**2 + k)
    echo = np.zeros_like(below)
    for j in range(layers - 1, -1, -1):
        if j > 0:
            k_above = 1j * omega_mu[None, :, None] * models[:, j - 1, None, None]
            above = np.sqrt(wavenumber**2 + k_above)
        else:
            k_above, above = 0, wavenumber
        psi = (k_above - k) / (below + above) ** 2
        r = (psi + echo) / (1 + psi * echo)
        if j > 0:
            echo = r * np.exp(-2 * above * thickness[j - 1])
        k, below = k_above, above
    return np.einsum("mfp,fcp->mfc", r, weights)


for what in numbers:
    times = int(next(numbers))
    if what != "v":
        continue
    rounds = max(1, times // MODELS)
    start = time.perf_counter()
    for _ in range(rounds):
        value = respond(models)
    seconds = (time.perf_counter() - start) * times / (rounds * MODELS)
    print(f"{seconds:.9f} {value[0].real.sum() + value[0].imag.sum():.12g}")
