/**
 * Lines as their beams see them. Along a line the inverse range is linear in the beam's direction,
 * 1/r = a·cos(bearing) + b·sin(bearing) with (a, b) = normal / distance, so range noise alone makes
 *
 *     chi² = Σ v (1 - a·x - b·y)²,   v = r² / sigma(r)²
 *
 * the likelihood of a line whatever its incidence: an ordinary regression on six moments. With running sums of the moments
 * any span's fit and chi² cost a few operations.
 */

/** Numbers a row of running moments: Σv, Σvx, Σvy, Σvxx, Σvxy, Σvyy. */
export const MOMENTS = 6;

/**
 * Adds one echo's moments to the running sums: row k holds the sums over echoes 0 .. k-1.
 * @param sums Float64Array[(n + 1) · MOMENTS]. @param k row of the echo; row k + 1 is written.
 * @param x, y m, about the sensor. @param v the echo's r² / sigma².
 */
export function addMoments(sums: Float64Array, k: number, x: number, y: number, v: number): void {
  const at = k * MOMENTS;
  const vx = v * x;
  const vy = v * y;
  sums[at + 6] = sums[at] + v;
  sums[at + 7] = sums[at + 1] + vx;
  sums[at + 8] = sums[at + 2] + vy;
  sums[at + 9] = sums[at + 3] + vx * x;
  sums[at + 10] = sums[at + 4] + vx * y;
  sums[at + 11] = sums[at + 5] + vy * y;
}

/**
 * @param sums running moments, see addMoments. @param first, last half-open span of echoes.
 * @returns chi² of the span's best line; 0 for fewer than 3 echoes, which any line fits.
 */
export function spanChi(sums: Float64Array, first: number, last: number): number {
  if (last - first < 3) return 0;
  const f = first * MOMENTS;
  const l = last * MOMENTS;
  const sx = sums[l + 1] - sums[f + 1];
  const sy = sums[l + 2] - sums[f + 2];
  const xx = sums[l + 3] - sums[f + 3];
  const xy = sums[l + 4] - sums[f + 4];
  const yy = sums[l + 5] - sums[f + 5];
  const chi = sums[l] - sums[f] - (sx * sx * yy - 2 * sx * sy * xy + sy * sy * xx) / (xx * yy - xy * xy);
  return chi > 0 ? chi : 0;
}
