/** A worked example of Mann-Kendall by hand; S, Z and Sen's slope published and calculated again. */
export const seriesByHand = [
  12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3, 15.9, 19.0, 18.3, 20.1, 21.7,
];
