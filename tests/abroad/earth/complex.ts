/** Complex numbers for the design of the filter: real and imaginary part. */
export type Complex = readonly [number, number];

export function times([a, b]: Complex, [c, d]: Complex): Complex {
  return [a * c - b * d, a * d + b * c];
}

export function over([a, b]: Complex, [c, d]: Complex): Complex {
  const q = c * c + d * d;
  return [(a * c + b * d) / q, (b * c - a * d) / q];
}

/** The root with a positive real part; the number has none below 0 on the real axis. */
export function root([a, b]: Complex): Complex {
  const re = Math.sqrt((Math.hypot(a, b) + a) / 2);
  return [re, b / (2 * re)];
}

export function power([a, b]: Complex): Complex {
  return [Math.exp(a) * Math.cos(b), Math.exp(a) * Math.sin(b)];
}
