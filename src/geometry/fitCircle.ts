/** A circle with the covariance of its centre and radius, written by fitCircle. */
export interface Circle {
  /** m, centre. */
  x: number;
  y: number;
  /** m */
  radius: number;
  /** m², variances of the centre and of the radius. */
  varX: number;
  varY: number;
  varRadius: number;
  /** Σ of squared range residuals over their sigma; n - 3 degrees of freedom. */
  chi: number;
}

/** Least cosine of the incidence that is believed: nearer to the rim the beam's width, not the range, spreads an echo. */
const GRAZING = 0.25;
const ROUNDS = 2;

/**
 * Circle of least squared range residual: the algebraic fit x² + y² = 2·cx·x + 2·cy·y + q, weighted anew each round so that
 * its residual counts along the beam, where the noise is.
 * @param x, y m[n], points about the sensor. @param v [n], r² / sigma(r)², as in beamLine.ts.
 * @param first, last half-open span, at least 3 points.
 * @param out filled in where the answer is true.
 * @param chiMax gives up as soon as a round's chi is greater.
 * @returns false where the points lie on a line or fit no circle.
 * @throws {RangeError} span shorter than 3 or outside the columns: a caller's bug.
 * @source Kåsa 1976, IEEE Trans. Instrum. Meas. 25:8-14 (algebraic fit); re-weighting: own derivation, checked against scipy.
 * @cost 4 passes, no allocation.
 */
export function fitCircle(
  x: Float64Array,
  y: Float64Array,
  v: Float64Array,
  first: number,
  last: number,
  out: Circle,
  chiMax = Infinity,
): boolean {
  const n = last - first;
  if (!(first >= 0 && n >= 3 && last <= x.length)) throw new RangeError(`fitCircle: ${first}..${last}`);
  let mx = 0;
  let my = 0;
  for (let i = first; i < last; i++) {
    mx += x[i];
    my += y[i];
  }
  mx /= n;
  my /= n;
  let cx = 0; // centre and radius about the centroid, where the moments do not cancel
  let cy = 0;
  let radius = 0;
  for (let round = 0; round <= ROUNDS; round++) {
    let w0 = 0,
      wx = 0,
      wy = 0,
      xx = 0,
      xy = 0,
      yy = 0,
      wz = 0,
      xz = 0,
      yz = 0,
      chi = 0;
    for (let i = first; i < last; i++) {
      const X = x[i] - mx;
      const Y = y[i] - my;
      const rr = x[i] * x[i] + y[i] * y[i];
      let slope = 1;
      if (round > 0) {
        const gx = X - cx;
        const gy = Y - cy;
        const d = Math.sqrt(gx * gx + gy * gy);
        const along = (gx * x[i] + gy * y[i]) / (d * Math.sqrt(rr)); // cosine of the incidence
        slope = 2 * d * Math.max(GRAZING, Math.abs(along));
        const e = (d - radius) / Math.max(GRAZING, Math.abs(along));
        chi += (e * e * v[i]) / rr;
      }
      const w = v[i] / rr / (slope * slope);
      const z = X * X + Y * Y;
      w0 += w;
      wx += w * X;
      wy += w * Y;
      xx += w * X * X;
      xy += w * X * Y;
      yy += w * Y * Y;
      wz += w * z;
      xz += w * X * z;
      yz += w * Y * z;
    }
    out.chi = chi;
    if (round > 0 && chi > chiMax) return false;
    // normal equations of z = p·X + q·Y + s, s eliminated
    const ax = wx / w0;
    const ay = wy / w0;
    const sxx = xx - wx * ax;
    const sxy = xy - wx * ay;
    const syy = yy - wy * ay;
    const sxz = xz - ax * wz;
    const syz = yz - ay * wz;
    const det = sxx * syy - sxy * sxy;
    if (!(det > 1e-9 * sxx * syy)) return false;
    if (round === ROUNDS) {
      out.x = cx + mx;
      out.y = cy + my;
      out.radius = radius;
      out.varX = syy / det / 4;
      out.varY = sxx / det / 4;
      // R² = s + cx² + cy², s = mean z - p·ax - q·ay: R varies with (p, q) by (cx - ax, cy - ay) / 2R and with the mean by 1 / 2R
      const gx = (cx - ax) / (2 * radius);
      const gy = (cy - ay) / (2 * radius);
      out.varRadius = (gx * gx * syy - 2 * gx * gy * sxy + gy * gy * sxx) / det + 1 / (4 * radius * radius * w0);
      return true;
    }
    cx = (sxz * syy - syz * sxy) / det / 2;
    cy = (syz * sxx - sxz * sxy) / det / 2;
    const rr = (wz - 2 * cx * wx - 2 * cy * wy) / w0 + cx * cx + cy * cy;
    if (!(rr > 0)) return false;
    radius = Math.sqrt(rr);
  }
  return false;
}
