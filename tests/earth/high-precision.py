# The layered response with 30 digits, by another road than the library's: input impedances with
# complex tanh, Gauss quadrature between the zeros of the Bessel function, and Shanks' transformation
# of the sums. Made with mpmath 1.3: python high-precision.py > high-precision.json
import json
import random

from mpmath import besselj, besseljzero, exp, inf, mp, mpc, mpf, pi, quad, shanks, sqrt, tanh

mp.dps = 30


def reflection(wavenumber, conductivity, thickness, omega_mu):
    u = [sqrt(wavenumber**2 + mpc(0, 1) * omega_mu * sigma) for sigma in conductivity]
    below = u[-1]
    for here, t in reversed(list(zip(u, thickness))):
        below = here * (below + here * tanh(here * t)) / (here + below * tanh(here * t))
    return (wavenumber - below) / (wavenumber + below)


def response(conductivity, thickness, coils):
    order = 0 if coils["orientation"] == "HCP" else 1
    power = 1 if coils["orientation"] == "VCP" else 2
    s, h = mpf(coils["separation_m"]), mpf(coils["height_m"])
    omega_mu = 2 * pi * mpf(coils["frequency_Hz"]) * 4e-7 * pi

    def integrand(x):
        r = reflection(x / s, conductivity, thickness, omega_mu)
        return -(10**6) * x**power * exp(-2 * x * h / s) * besselj(order, x) * r

    edges = [0] + [mpf(2) ** k for k in range(-16, 1)] + [besseljzero(order, 1)]
    total = quad(integrand, edges)
    if h > 0 and 40 * s / h < 600:
        edges = [besseljzero(order, k) for k in range(1, int(40 * s / h / pi) + 3)]
        return total + quad(integrand, edges)
    sums = [total]
    for k in range(1, 26):
        sums.append(sums[-1] + quad(integrand, [besseljzero(order, k), besseljzero(order, k + 1)]))
    return shanks(sums)[-1][-1]


draw = random.Random(4)
cases = []
for height in [0, 0, 0.1, 0.3, 0.6, 1, 1.5, 2]:
    for orientation in ["HCP", "VCP", "PRP"]:
        layers = draw.randint(2, 5)
        conductivity = [round(10 ** draw.uniform(-4, 0.7), 6) for _ in range(layers)]
        thickness = [round(10 ** draw.uniform(-1, 1), 3) for _ in range(layers - 1)]
        coils = {
            "orientation": orientation,
            "separation_m": draw.choice([0.5, 1, 1.8, 4, 10, 50]),
            "frequency_Hz": draw.choice([100, 1500, 9000, 30000, 100000]),
            "height_m": height,
        }
        value = response([mpf(c) for c in conductivity], [mpf(t) for t in thickness], coils)
        earth = {"conductivity_S_per_m": conductivity, "thickness_m": thickness}
        reading = {"inphase_ppm": float(value.real), "quadrature_ppm": float(value.imag)}
        cases.append({"earth": earth, "coils": coils, "reading": reading})
print(json.dumps(cases, indent=1))
