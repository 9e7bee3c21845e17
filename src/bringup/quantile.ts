/** @param values any order; not changed. @param share 0..1. @returns the quantile between neighbours; NaN of nothing. */
export function quantile(values: ArrayLike<number>, share: number): number {
  if (values.length === 0) return NaN;
  const sorted = Float64Array.from(values).sort();
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(sorted.length - 1, below + 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}

/** @returns the middle value; NaN of nothing. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}
