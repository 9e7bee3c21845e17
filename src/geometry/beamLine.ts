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
 * Running sums of the moments: row k holds the sums over echoes 0 .. k-1.
 * @param x, y m, about the sensor. @param v each echo's r² / sigma(r)².
 * @param count echoes. @param sums Float64Array, at least (count + 1) · MOMENTS, written.
 */
export function runMoments(x: Float64Array, y: Float64Array, v: Float64Array, count: number, sums: Float64Array): void {
  let sv = 0;
  let sx = 0;
  let sy = 0;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  sums.fill(0, 0, MOMENTS);
  for (let k = 0, at = MOMENTS; k < count; k++, at += MOMENTS) {
    const vx = v[k] * x[k];
    const vy = v[k] * y[k];
    sv += v[k];
    sx += vx;
    sy += vy;
    xx += vx * x[k];
    xy += vx * y[k];
    yy += vy * y[k];
    sums[at] = sv;
    sums[at + 1] = sx;
    sums[at + 2] = sy;
    sums[at + 3] = xx;
    sums[at + 4] = xy;
    sums[at + 5] = yy;
  }
}

/**
 * @param sums running moments, see runMoments. @param first, last half-open span of echoes.
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
  return Math.max(chi, 0);
}
