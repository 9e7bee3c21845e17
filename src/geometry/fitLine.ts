/** Lines x·cos(bearing) + y·sin(bearing) = range with their covariance: one row a line. */
export interface LineTable {
  readonly bearing: Float64Array;
  readonly range: Float64Array;
  readonly rms: Float64Array;
  readonly varRange: Float64Array;
  readonly covRangeBearing: Float64Array;
  readonly varBearing: Float64Array;
}

/**
 * Line of least weighted squared perpendicular distance, for any weights; where only range noise counts, the regression of
 * beamLine.ts is the likelier one.
 *
 * @param x, y  m[n], points about the sensor. @param weight [n], > 0. @param varRange m²[n], variance of each point's range.
 * @param first, last  half-open span of points, last - first >= 2.
 * @param out  row `row` gets bearing (rad, [-π, π)), range (m, >= 0), rms (m, weighted) and the covariance (m², m rad, rad²).
 * @throws {RangeError} span shorter than 2 or outside the columns: a caller's bug.
 * @source Arras & Siegwart 1997, SPIE Mobile Robots XII (fit and first-order covariance, bearings exact); Pearson 1901.
 * @cost   three passes, no allocation.
 */
export function fitLine(
  x: Float64Array,
  y: Float64Array,
  weight: Float64Array,
  varRange: Float64Array,
  first: number,
  last: number,
  out: LineTable,
  row: number,
): void {
  if (!(first >= 0 && last - first >= 2 && last <= Math.min(x.length, y.length, weight.length, varRange.length)))
    throw new RangeError(`fitLine: ${first}..${last}`);
  let sum = 0;
  let mx = 0;
  let my = 0;
  for (let i = first; i < last; i++) {
    sum += weight[i];
    mx += weight[i] * x[i];
    my += weight[i] * y[i];
  }
  mx /= sum;
  my /= sum;
  let N = 0; // as the paper calls them
  let D = 0;
  let spread = 0;
  for (let i = first; i < last; i++) {
    const dx = x[i] - mx;
    const dy = y[i] - my;
    N -= 2 * weight[i] * dx * dy;
    D += weight[i] * (dy * dy - dx * dx);
    spread += weight[i] * (dx * dx + dy * dy);
  }
  const alpha = 0.5 * Math.atan2(N, D);
  const c = Math.cos(alpha);
  const s = Math.sin(alpha);
  const r = mx * c + my * s;
  let vr = 0;
  let va = 0;
  let cov = 0;
  for (let i = first; i < last; i++) {
    const rho = Math.sqrt(x[i] * x[i] + y[i] * y[i]);
    const ct = x[i] / rho;
    const st = y[i] / rho;
    const turn = D * (mx * st + my * ct - 2 * rho * st * ct) - N * (mx * ct - my * st - rho * (ct * ct - st * st));
    const da = (weight[i] * turn) / (N * N + D * D);
    const dr = (weight[i] / sum) * (ct * c + st * s) + da * (my * c - mx * s);
    va += da * da * varRange[i];
    vr += dr * dr * varRange[i];
    cov += da * dr * varRange[i];
  }
  out.bearing[row] = r >= 0 ? (alpha >= Math.PI ? -Math.PI : alpha) : alpha < 0 ? alpha + Math.PI : alpha - Math.PI;
  out.range[row] = Math.abs(r);
  out.rms[row] = Math.sqrt(Math.max(0, spread - Math.hypot(N, D)) / (2 * sum));
  out.varRange[row] = vr;
  out.covRangeBearing[row] = r >= 0 ? cov : -cov;
  out.varBearing[row] = va;
}
