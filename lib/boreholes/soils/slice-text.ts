/** Such as "1.2–2.4 m". */
export const sliceText = ({ top_m, base_m }: { readonly top_m: number; readonly base_m: number }) =>
  `${top_m.toFixed(1)}–${base_m.toFixed(1)} m`;
