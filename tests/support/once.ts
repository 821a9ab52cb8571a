/** What a function gives, made when it is first asked for: for what several tests only look at. */
export function once<Made>(make: () => Made): () => Made {
  let kept: { readonly made: Made } | null = null;
  return () => {
    kept ??= { made: make() };
    return kept.made;
  };
}
