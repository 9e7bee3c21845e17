import { TAU } from '../../core/angles.js';
import { BINS, DEPTH, LINES_MAX, type Reference } from './reference.js';
import type { SensorModel, SweepPoints } from './sweepPoints.js';

/** Moments kept of each line's echoes: weights by place (0..2) and time (0..4), residuals by place (0..1) and time (0..2). */
const STRIDE = 22;
const CHI = 21;
/** Squared residuals count in full up to about this many variances (Cauchy). */
const ROBUST = 6;
/** Squared standard deviations at which an echo no longer belongs to a line. */
const GATE = 12;
/** m and rad: smallest error of an echo besides its range noise (surface, bearing). */
const SURFACE = 0.0015;
const BEARING = 0.0004;
/** m²: a line's own error widens its gate by no more. */
const LINE_MAX = 0.0004;

/**
 * Point-to-line matching of one sweep with the reference, by moments: one pass over the echoes finds each echo's line through
 * the table of bearings and adds it to that line's moments; everything after costs by lines, not by echoes. Each line's own
 * covariance counts as an error common to all of its echoes.
 *
 * The unknowns are [x, y, heading | their speeds | their ramps] in rover axes at the middle of the sweep.
 * @source Censi, An ICP variant using a point-to-line metric, ICRA 2008 (metric); Woodbury identity (common error).
 */
export class LineMatcher {
  /** Echoes that found a line; sum of their squared normalised residuals. */
  matched = 0;
  chi = 0;
  /** Per line: echoes matched, echoes that went through it, extent of the matched ones along it. */
  readonly used = new Int32Array(LINES_MAX);
  readonly through = new Int32Array(LINES_MAX);
  readonly lo = new Float64Array(LINES_MAX);
  readonly hi = new Float64Array(LINES_MAX);
  readonly moments = new Float64Array(LINES_MAX * STRIDE);
  /** The normal equations of the last {@link assemble}. */
  readonly information = new Float64Array(81);
  readonly gradient = new Float64Array(9);
  readonly #gate0 = new Float64Array(LINES_MAX);
  readonly #gate1 = new Float64Array(LINES_MAX);
  readonly #gate2 = new Float64Array(LINES_MAX);
  readonly #g = new Float64Array(18);

  /**
   * Finds each echo's line and gathers the moments.
   * @param points deskewed; `owner` is written.
   * @param covariance Float64Array[81] of the predicted state: widens the gates.
   * @param turn rad/s, to find an echo's bearing at the middle of the sweep.
   */
  gather(points: SweepPoints, reference: Reference, sensor: SensorModel, covariance: Readonly<Float64Array>, turn: number, halfPeriod: number): void {
    const { count, u, x, y, range, bearing, variance, owner } = points;
    const { bnx, bny, bd, anchor, lo: seenLo, hi: seenHi, spare, binCount, bins, rough } = reference;
    const { used, through, lo, hi, moments } = this;
    const g0 = this.#gate0;
    const g1 = this.#gate1;
    const g2 = this.#gate2;
    this.#prepare(reference, covariance, halfPeriod);
    const scale = BINS / TAU;
    let matched = 0;
    let chi = 0;
    for (let i = 0; i < count; i++) {
      const qx = x[i];
      const qy = y[i];
      const r = range[i];
      const v = variance[i];
      let bin = ((bearing[i] + turn * u[i] + Math.PI) * scale + BINS) | 0;
      while (bin >= BINS) bin -= BINS;
      let best = -1;
      let bestRatio = GATE;
      let bestE = 0;
      let bestS = 0;
      let bestV = 1;
      const at = bin * DEPTH;
      const rr = 1 / (r * r);
      for (let k = at, end = at + binCount[bin]; k < end; k++) {
        const j = bins[k];
        const nx = bnx[j];
        const ny = bny[j];
        const e = nx * qx + ny * qy - bd[j];
        const s = nx * qy - ny * qx - anchor[j];
        if (s < seenLo[j] - spare[j] || s > seenHi[j] + spare[j]) continue;
        const h = e + bd[j] - nx * sensor.x - ny * sensor.y;
        const cc = Math.min(1, h * h * rr);
        const own = (v * cc + (BEARING * BEARING) * r * r * (1 - cc) + SURFACE * SURFACE) * rough[j];
        const all = own + g0[j] + s * (2 * g1[j] + s * g2[j]);
        const ratio = (e * e) / all;
        if (ratio < bestRatio) {
          best = j;
          bestRatio = ratio;
          bestE = e;
          bestS = s;
          bestV = own;
        } else if (e < 0 && ratio > 2 * GATE && s > seenLo[j] && s < seenHi[j]) through[j]++;
      }
      owner[i] = best;
      if (best < 0) continue;
      matched++;
      used[best]++;
      if (bestS < lo[best]) lo[best] = bestS;
      if (bestS > hi[best]) hi[best] = bestS;
      const t = u[i];
      const w = 1 / (bestV * (1 + bestRatio / ROBUST));
      const ee = (bestE * bestE) / bestV;
      chi += ee;
      const m = best * STRIDE;
      const wt = w * t;
      const wtt = wt * t;
      const wttt = wtt * t;
      const wtttt = wttt * t;
      moments[m] += w;
      moments[m + 1] += wt;
      moments[m + 2] += wtt;
      moments[m + 3] += wttt;
      moments[m + 4] += wtttt;
      moments[m + 5] += w * bestS;
      moments[m + 6] += wt * bestS;
      moments[m + 7] += wtt * bestS;
      moments[m + 8] += wttt * bestS;
      moments[m + 9] += wtttt * bestS;
      const ss = bestS * bestS;
      moments[m + 10] += w * ss;
      moments[m + 11] += wt * ss;
      moments[m + 12] += wtt * ss;
      moments[m + 13] += wttt * ss;
      moments[m + 14] += wtttt * ss;
      const es = bestE * bestS;
      moments[m + 15] += w * bestE;
      moments[m + 16] += wt * bestE;
      moments[m + 17] += wtt * bestE;
      moments[m + 18] += w * es;
      moments[m + 19] += wt * es;
      moments[m + 20] += wtt * es;
      moments[m + CHI] += ee;
    }
    this.matched = matched;
    this.chi = chi;
  }

  /** Empties the moments and works out how far each line's gate must be widened for the prediction's and the line's own errors. */
  #prepare(reference: Reference, p: Readonly<Float64Array>, half: number): void {
    const n = reference.count;
    this.moments.fill(0, 0, n * STRIDE);
    this.used.fill(0, 0, n);
    this.through.fill(0, 0, n);
    this.lo.fill(Infinity, 0, n);
    this.hi.fill(-Infinity, 0, n);
    const hh = half * half;
    const xx = p[0] + hh * p[30];
    const xy = p[1] + hh * p[31];
    const yy = p[10] + hh * p[40];
    const xt = p[2];
    const yt = p[11];
    const tt = p[20] + hh * p[50];
    for (let j = 0; j < n; j++) {
      const nx = reference.bnx[j];
      const ny = reference.bny[j];
      const c0 = nx * nx * xx + 2 * nx * ny * xy + ny * ny * yy;
      const c1 = -(nx * xt + ny * yt);
      const a = reference.anchor[j]; // place about the rover = s + a
      this.#gate0[j] = c0 + 2 * c1 * a + tt * a * a + Math.min(reference.coo[j], LINE_MAX);
      this.#gate1[j] = c1 + tt * a;
      this.#gate2[j] = tt;
    }
  }

  /** Builds information and gradient from the moments: the weighted squares of residual + J·step are least where (information) step = -gradient. */
  assemble(reference: Reference): void {
    const A = this.information;
    const b = this.gradient;
    A.fill(0);
    b.fill(0);
    for (let j = 0; j < reference.count; j++) if (this.used[j] > 0) this.#addLine(reference, j);
    for (let i = 0; i < 9; i++) for (let k = 0; k < i; k++) A[k * 9 + i] = A[i * 9 + k];
  }

  #addLine(reference: Reference, j: number): void {
    const A = this.information;
    const b = this.gradient;
    const M = this.moments;
    const G = this.#g; // JᵀW[1, s], 9 x 2
    const m = j * STRIDE;
    const nx = reference.bnx[j];
    const ny = reference.bny[j];
    const a = reference.anchor[j];
    for (let i = 0; i < 3; i++) {
      const ci = i === 2 ? 0.5 : 1;
      const w0 = ci * M[m + i];
      const w1 = ci * M[m + 5 + i];
      const w2 = ci * M[m + 10 + i];
      const r = 3 * i;
      G[2 * r] = nx * w0;
      G[2 * r + 1] = nx * w1;
      G[2 * r + 2] = ny * w0;
      G[2 * r + 3] = ny * w1;
      G[2 * r + 4] = -(w1 + a * w0);
      G[2 * r + 5] = -(w2 + a * w1);
      b[r] += ci * nx * M[m + 15 + i];
      b[r + 1] += ci * ny * M[m + 15 + i];
      b[r + 2] -= ci * (M[m + 18 + i] + a * M[m + 15 + i]);
      for (let k = 0; k <= i; k++) {
        const c = ci * (k === 2 ? 0.5 : 1);
        const v0 = c * M[m + i + k];
        const v1 = c * M[m + 5 + i + k];
        const v2 = c * M[m + 10 + i + k];
        const cross = -(v1 + a * v0);
        const q = r * 9 + 3 * k;
        A[q] += nx * nx * v0;
        A[q + 1] += nx * ny * v0;
        A[q + 2] += nx * cross;
        A[q + 9] += nx * ny * v0;
        A[q + 10] += ny * ny * v0;
        A[q + 11] += ny * cross;
        A[q + 18] += nx * cross;
        A[q + 19] += ny * cross;
        A[q + 20] += v2 + a * (2 * v1 + a * v0);
      }
    }
    // Woodbury: the line's own offset and slope are errors common to its echoes. K = (C⁻¹ + BᵀWB)⁻¹
    const det = reference.coo[j] * reference.css[j] - reference.cos[j] * reference.cos[j];
    const k0 = reference.css[j] / det + M[m];
    const k1 = -reference.cos[j] / det + M[m + 5];
    const k2 = reference.coo[j] / det + M[m + 10];
    const kd = 1 / (k0 * k2 - k1 * k1);
    const i0 = k2 * kd;
    const i1 = -k1 * kd;
    const i2 = k0 * kd;
    const e0 = M[m + 15];
    const e1 = M[m + 18];
    for (let i = 0; i < 9; i++) {
      const h0 = G[2 * i] * i0 + G[2 * i + 1] * i1;
      const h1 = G[2 * i] * i1 + G[2 * i + 1] * i2;
      b[i] -= h0 * e0 + h1 * e1;
      for (let k = 0; k <= i; k++) A[i * 9 + k] -= h0 * G[2 * k] + h1 * G[2 * k + 1];
    }
  }

  /**
   * Adds this sweep's echoes to their lines, after the state has moved by `step` since {@link gather}.
   * @param step Float64Array[9].
   * @param p Float64Array[81], the state's covariance now: an error common to the sweep.
   */
  learn(reference: Reference, step: Readonly<Float64Array>, p: Readonly<Float64Array>, sweep: number): void {
    const M = this.moments;
    for (let j = 0; j < reference.count; j++) {
      const n = this.used[j];
      if (n === 0) continue;
      const m = j * STRIDE;
      const nx = reference.bnx[j];
      const ny = reference.bny[j];
      const a = reference.anchor[j];
      let r0 = M[m + 15];
      let r1 = M[m + 18];
      for (let i = 0; i < 3; i++) {
        const c = i === 2 ? 0.5 : 1;
        const along = c * (step[3 * i] * nx + step[3 * i + 1] * ny - step[3 * i + 2] * a);
        const turn = c * step[3 * i + 2];
        r0 += along * M[m + i] - turn * M[m + 5 + i];
        r1 += along * M[m + 5 + i] - turn * M[m + 10 + i];
      }
      this.#blend(reference, j, r0, r1, p);
      reference.hits[j]++;
      reference.seen[j] = sweep;
      if (this.lo[j] < reference.lo[j]) reference.lo[j] = this.lo[j];
      if (this.hi[j] > reference.hi[j]) reference.hi[j] = this.hi[j];
      if (n >= 4) {
        const seen = Math.min(9, Math.max(1, M[m + CHI] / n * reference.rough[j]));
        reference.rough[j] += (seen - reference.rough[j]) * 0.1;
      }
    }
  }

  /** One line's update by the sweep's offset and slope, whose error is the echoes' and the pose's. */
  #blend(reference: Reference, j: number, r0: number, r1: number, p: Readonly<Float64Array>): void {
    const M = this.moments;
    const m = j * STRIDE;
    const nx = reference.bnx[j];
    const ny = reference.bny[j];
    const a = reference.anchor[j];
    // pose error seen as offset at the anchor and slope
    const po = nx * nx * p[0] + 2 * nx * ny * p[1] + ny * ny * p[10] - 2 * a * (nx * p[2] + ny * p[11]) + a * a * p[20];
    const ps = p[20];
    const px = -(nx * p[2] + ny * p[11]) + a * p[20];
    // (W⁻¹ + P)⁻¹ = W - W (P⁻¹ + W)⁻¹ W ; written through (I + W P)⁻¹ W, which stands a singular W
    const w0 = M[m];
    const w1 = M[m + 5];
    const w2 = M[m + 10];
    const t00 = 1 + w0 * po + w1 * px;
    const t01 = w0 * px + w1 * ps;
    const t10 = w1 * po + w2 * px;
    const t11 = 1 + w1 * px + w2 * ps;
    const d = 1 / (t00 * t11 - t01 * t10);
    const v0 = d * (t11 * w0 - t01 * w1);
    const v1 = d * (t11 * w1 - t01 * w2);
    const v2 = d * (t00 * w2 - t10 * w1);
    const y0 = d * (t11 * r0 - t01 * r1);
    const y1 = d * (t00 * r1 - t10 * r0);
    const s0 = reference.s0[j] + v0;
    const s1 = reference.s1[j] + v1;
    const s2 = reference.s2[j] + v2;
    const e = 1 / (s0 * s2 - s1 * s1);
    const offset = e * (s2 * y0 - s1 * y1);
    const slope = e * (s0 * y1 - s1 * y0);
    reference.s0[j] = s0;
    reference.s1[j] = s1;
    reference.s2[j] = s2;
    reference.shift(j, offset, slope);
  }
}
