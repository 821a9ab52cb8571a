/* The same response as lib/earth/coil-kernel.ts in C: the same recursion, the same points, for the
 * side by side of the bench. Compiled by it: cc -O2 -o OUT coil-response.c -lm.
 * Reads from stdin, all numbers as text: layers, points, frequencies, channels a frequency;
 * wavenumbers (1/m); thicknesses (m); for each frequency omega mu0; conductivities (S/m); for each
 * frequency and channel the weights of the points; then commands, one a line: "v N" (values, N
 * times) or "d N" (values and derivatives to each ln conductivity). Answers each command by the
 * seconds that it took and the sum of all results, so that both sides can be seen to be the same. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { KAPPA = 0, V = 1, E = 3, W = 5, ECHO = 7, BELOW = 9, ROW = 11 };

static int layers, points, frequencies, members;
static double *wavenumber, *thickness, *omegaMu, *conductivity, *weights, *fold, *inverseSquare;
static double *work, *value, *byLog, *out, *jacobian;
static int *deepest, *seeing;

static double *numbers(int count) {
  double *all = malloc(sizeof(double) * (count > 0 ? count : 1));
  for (int i = 0; i < count; i++)
    if (scanf("%lf", &all[i]) != 1) exit(1);
  return all;
}

static void settle(int point, double omega) {
  double scale = omega * inverseSquare[point];
  const double *f = fold + 2 * point * layers;
  double *to = work + ROW;
  for (int j = 0; j <= deepest[point]; j++, to += ROW, f += 2) {
    double k = conductivity[j] * scale, k2 = k * k;
    double more = k2 * (1.0 / 8 - k2 * (5.0 / 128 - k2 * (21.0 / 1024)));
    double im = k * (1.0 / 2 - k2 * (1.0 / 16 - k2 * (7.0 / 256)));
    if (!(k < 0.05)) {
      double re = sqrt(0.5 + 0.5 * sqrt(1 + k2));
      more = re - 1;
      im = k / (2 * re);
    }
    to[KAPPA] = k;
    to[V] = 1 + more;
    to[V + 1] = im;
    double a = f[1] * more, b = f[1] * im, b2 = b * b;
    if (a < 0.04 && b < 0.3) {
      double size = f[0] * (1 - a * (1 - a * (1.0 / 2 - a * (1.0 / 6 - a * (1.0 / 24 - a * (1.0 / 120))))));
      to[E] = size * (1 - b2 * (1.0 / 2 - b2 * (1.0 / 24 - b2 * (1.0 / 720 - b2 * (1.0 / 40320)))));
      to[E + 1] = -size * b * (1 - b2 * (1.0 / 6 - b2 * (1.0 / 120 - b2 * (1.0 / 5040))));
    } else if (a < 0.5 && b < 0.5) {
      double tail = 1.0 / 720 - a * (1.0 / 5040 - a * (1.0 / 40320 - a * (1.0 / 362880 - a * (1.0 / 3628800))));
      double size = f[0] * (1 - a * (1 - a * (1.0 / 2 - a * (1.0 / 6 - a * (1.0 / 24 - a * (1.0 / 120 - a * tail))))));
      double cosine = 1.0 / 2 - b2 * (1.0 / 24 - b2 * (1.0 / 720 - b2 * (1.0 / 40320 - b2 * (1.0 / 3628800))));
      double sine = 1.0 / 6 - b2 * (1.0 / 120 - b2 * (1.0 / 5040 - b2 * (1.0 / 362880 - b2 * (1.0 / 39916800))));
      to[E] = size * (1 - b2 * cosine);
      to[E + 1] = -size * b * (1 - b2 * sine);
    } else {
      double size = f[0] * exp(-a);
      to[E] = size * cos(b);
      to[E + 1] = -size * sin(b);
    }
  }
}

static void climb(int point) {
  double echoRe = 0, echoIm = 0, dRe = 1, dIm = 0, nRe = 0, nIm = 0;
  for (double *at = work + (deepest[point] + 1) * ROW; at > work; at -= ROW) {
    const double *above = at - ROW;
    double sRe = at[V] + above[V], sIm = at[V + 1] + above[V + 1];
    double inverse = 1 / (sRe * sRe + sIm * sIm);
    double cRe = sRe * inverse, cIm = sIm * inverse;
    double wRe = cRe * cRe - cIm * cIm, wIm = -2 * cRe * cIm;
    double contrast = above[KAPPA] - at[KAPPA];
    double psiRe = -contrast * wIm, psiIm = contrast * wRe;
    at[W] = wRe;
    at[W + 1] = wIm;
    at[ECHO] = echoRe;
    at[ECHO + 1] = echoIm;
    at[BELOW] = dRe;
    at[BELOW + 1] = dIm;
    nRe = psiRe * dRe - psiIm * dIm + echoRe;
    nIm = psiRe * dIm + psiIm * dRe + echoIm;
    dRe += psiRe * echoRe - psiIm * echoIm;
    dIm += psiRe * echoIm + psiIm * echoRe;
    double eRe = above[E], eIm = above[E + 1];
    echoRe = nRe * eRe - nIm * eIm;
    echoIm = nRe * eIm + nIm * eRe;
  }
  double size = 1 / (dRe * dRe + dIm * dIm);
  work[BELOW] = dRe * size;
  work[BELOW + 1] = -dIm * size;
  value[2 * point] = (nRe * dRe + nIm * dIm) * size;
  value[2 * point + 1] = (nIm * dRe - nRe * dIm) * size;
}

static void finish(double kappa, const double *v, const double *g, double *to) {
  double scale = 0.5 * kappa / (v[0] * v[0] + v[1] * v[1]);
  to[0] = scale * (g[0] * v[1] - g[1] * v[0]);
  to[1] = scale * (g[0] * v[0] + g[1] * v[1]);
}

static void descend(int point) {
  const double *end = work + (deepest[point] + 1) * ROW;
  double rRe = value[2 * point], rIm = value[2 * point + 1];
  double nRe = work[BELOW], nIm = work[BELOW + 1];
  double dRe = rIm * nIm - rRe * nRe, dIm = -rIm * nRe - rRe * nIm;
  double aboveKappa = 0, above[2] = {1, 0}, g[2] = {0, 0};
  const double *f = fold + 2 * point * layers + 1;
  double *to = byLog + 2 * point;
  for (const double *at = work + ROW; at <= end; at += ROW, f += 2, to += 2 * points) {
    double oRe = at[ECHO], oIm = at[ECHO + 1], bRe = at[BELOW], bIm = at[BELOW + 1];
    double hereRe = at[V], hereIm = at[V + 1], wRe = at[W], wIm = at[W + 1], kappa = at[KAPPA];
    double byPsiRe = 2 * (nRe * bRe - nIm * bIm + dRe * oRe - dIm * oIm);
    double byPsiIm = 2 * (nRe * bIm + nIm * bRe + dRe * oIm + dIm * oRe);
    double qRe = byPsiRe * wRe - byPsiIm * wIm, qIm = byPsiRe * wIm + byPsiIm * wRe;
    if (at > work + ROW) {
      g[0] += qRe * hereRe - qIm * hereIm;
      g[1] += qRe * hereIm + qIm * hereRe;
      finish(aboveKappa, above, g, to - 2 * points);
    }
    double pRe = (kappa - aboveKappa) * wIm, pIm = (aboveKappa - kappa) * wRe;
    double byEchoRe = nRe + dRe * pRe - dIm * pIm, byEchoIm = nIm + dRe * pIm + dIm * pRe;
    dRe += nRe * pRe - nIm * pIm;
    dIm += nRe * pIm + nIm * pRe;
    double zRe = byEchoRe * oRe - byEchoIm * oIm, zIm = byEchoRe * oIm + byEchoIm * oRe;
    g[0] = qIm * above[1] - qRe * above[0] - *f * zRe;
    g[1] = -qRe * above[1] - qIm * above[0] - *f * zIm;
    nRe = byEchoRe * at[E] - byEchoIm * at[E + 1];
    nIm = byEchoRe * at[E + 1] + byEchoIm * at[E];
    aboveKappa = kappa;
    above[0] = hereRe;
    above[1] = hereIm;
  }
  finish(aboveKappa, above, g, to - 2 * points);
}

static void weigh(const double *w, const double *row, int until, double *to) {
  double evenRe = 0, evenIm = 0, oddRe = 0, oddIm = 0;
  int i = 0;
  for (; i + 1 < until; i += 2) {
    evenRe += w[i] * row[2 * i];
    evenIm += w[i] * row[2 * i + 1];
    oddRe += w[i + 1] * row[2 * i + 2];
    oddIm += w[i + 1] * row[2 * i + 3];
  }
  if (i < until) {
    evenRe += w[i] * row[2 * i];
    evenIm += w[i] * row[2 * i + 1];
  }
  to[0] = evenRe + oddRe;
  to[1] = evenIm + oddIm;
}

static void evaluate(int derivatives) {
  for (int f = 0; f < frequencies; f++) {
    for (int p = 0; p < points; p++) {
      settle(p, omegaMu[f]);
      climb(p);
      if (derivatives) descend(p);
    }
    for (int c = f * members; c < (f + 1) * members; c++) {
      const double *w = weights + c * points;
      weigh(w, value, points, out + 2 * c);
      if (!derivatives) continue;
      for (int j = 0; j < layers; j++)
        weigh(w, byLog + 2 * j * points, seeing[j], jacobian + 2 * (c * layers + j));
    }
  }
}

static void prepare(void) {
  fold = calloc(2 * points * layers, sizeof(double));
  inverseSquare = malloc(sizeof(double) * points);
  deepest = malloc(sizeof(int) * points);
  seeing = calloc(layers, sizeof(int));
  work = calloc((layers + 1) * ROW, sizeof(double));
  work[V] = 1;
  value = calloc(2 * points, sizeof(double));
  byLog = calloc(2 * points * layers, sizeof(double));
  out = calloc(2 * frequencies * members, sizeof(double));
  jacobian = calloc(2 * frequencies * members * layers, sizeof(double));
  for (int p = 0; p < points; p++) {
    double depth = 0;
    inverseSquare[p] = 1 / (wavenumber[p] * wavenumber[p]);
    deepest[p] = layers - 1;
    for (int j = 0; j < layers - 1; j++) {
      double *f = fold + 2 * (p * layers + j);
      f[1] = 2 * wavenumber[p] * thickness[j];
      f[0] = exp(-f[1]);
      depth += thickness[j];
      if (2 * wavenumber[p] * depth > log(1e7) && deepest[p] == layers - 1) deepest[p] = j;
    }
    for (int j = 0; j <= deepest[p]; j++) seeing[j]++;
  }
}

int main(void) {
  if (scanf("%d %d %d %d", &layers, &points, &frequencies, &members) != 4) return 1;
  wavenumber = numbers(points);
  thickness = numbers(layers - 1);
  omegaMu = numbers(frequencies);
  conductivity = numbers(layers);
  weights = numbers(frequencies * members * points);
  prepare();
  char what;
  int times;
  while (scanf(" %c %d", &what, &times) == 2) {
    struct timespec from, to;
    clock_gettime(CLOCK_MONOTONIC, &from);
    for (int i = 0; i < times; i++) evaluate(what == 'd');
    clock_gettime(CLOCK_MONOTONIC, &to);
    double sum = 0;
    for (int i = 0; i < 2 * frequencies * members; i++) sum += out[i];
    if (what == 'd')
      for (int i = 0; i < 2 * frequencies * members * layers; i++) sum += fabs(jacobian[i]);
    printf("%.9f %.12g\n", to.tv_sec - from.tv_sec + 1e-9 * (to.tv_nsec - from.tv_nsec), sum);
    fflush(stdout);
  }
  return 0;
}
