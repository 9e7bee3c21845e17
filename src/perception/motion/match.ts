import { TAU } from '../../core/angles.js';
import { BINS, DEPTH, LINES_MAX, type Reference } from './reference.js';
import type { SensorModel, SweepPoints } from './sweepPoints.js';

/** Moments kept of each line's echoes; w weight, s place along the line, u time, e residual. */
const M = {
  w: 0,
  wu: 1,
  wuu: 2,
  ws: 3,
  wsu: 4,
  wsuu: 5,
  wss: 6,
  wssu: 7,
  wssuu: 8,
  we: 9,
  weu: 10,
  wes: 11,
  wesu: 12,
  chi: 13,
  stride: 16,
} as const;
/** What the pass over the echoes reads of a line, side by side in memory. */
const L = {
  nx: 0,
  ny: 1,
  d: 2,
  anchor: 3,
  from: 4,
  to: 5,
  height: 6,
  rough: 7,
  gate0: 8,
  gate1: 9,
  gate2: 10,
  lo: 11,
  hi: 12,
  stride: 16,
} as const;
/** Unknowns that the evidence speaks of: pose and speeds. */
const KNOWN = 6;
const STATE = 9;
/** Squared residuals count in full up to about this many variances (Cauchy). */
const ROBUST = 6;
/** Squared standard deviations at which an echo no longer belongs to a line. */
const GATE = 12;
/** m, rad: the prediction's error widens the gates by no more (one standard deviation). */
const GATE_SHIFT = 0.1;
const GATE_TURN = 0.05;
/** m²: a line's own error widens its gate by no more. */
const LINE_MAX = 0.0004;

/**
 * Point-to-line matching of one sweep with the reference, by moments: one pass over the echoes finds each echo's line through
 * the table of bearings and adds it to that line's moments; everything after costs by lines, not by echoes. Each line's own
 * covariance counts as an error common to all of its echoes.
 *
 * The unknowns are [x, y, heading | their speeds | their ramps] in rover axes at the middle of the sweep; within one sweep the
 * ramps are left to the prior.
 * @source Censi, An ICP variant using a point-to-line metric, ICRA 2008 (metric); Woodbury identity (common error).
 */
export class LineMatcher {
  /** Echoes that found a line; sum of their squared normalised residuals. */
  matched = 0;
  chi = 0;
  /** Echoes that saw through a line. */
  passedThrough = 0;
  /** Per line: echoes matched, echoes that went through it, extent of the matched ones along it. */
  readonly used = new Int32Array(LINES_MAX);
  readonly through = new Int32Array(LINES_MAX);
  readonly #lo = new Float64Array(LINES_MAX);
  readonly #hi = new Float64Array(LINES_MAX);
  readonly #moments = new Float64Array(LINES_MAX * M.stride);
  readonly #lines = new Float64Array(LINES_MAX * L.stride);
  /** The normal equations of the last {@link assemble}: Float64Array[81] and [9]. */
  readonly information = new Float64Array(STATE * STATE);
  readonly gradient = new Float64Array(STATE);
  readonly #g = new Float64Array(2 * KNOWN);

  /**
   * Finds each echo's line and gathers the moments.
   * @param points deskewed; `owner` is written.
   * @param covariance Float64Array[81] of the predicted state: widens the gates.
   * @param stride takes each stride-th echo.
   * @param turn rad/s, to find an echo's bearing at the middle of the sweep.
   * @cost one pass, no allocation.
   */
  gather(
    points: SweepPoints,
    reference: Reference,
    sensor: SensorModel,
    covariance: Readonly<Float64Array>,
    turn: number,
    halfPeriod: number,
    stride: number,
  ): void {
    this.#prepare(reference, sensor, covariance, halfPeriod);
    const { count, u, x, y, bearing, base, grade, owner } = points;
    const { binCount, bins } = reference;
    const lines = this.#lines;
    const m = this.#moments;
    const lo = this.#lo;
    const hi = this.#hi;
    const used = this.used;
    const through = this.through;
    const scale = BINS / TAU;
    let matched = 0;
    let chi = 0;
    let passed = 0;
    for (let i = 0; i < count; i += stride) {
      const qx = x[i];
      const qy = y[i];
      const ti = u[i];
      const b0 = base[i];
      const b1 = grade[i];
      let bin = ((bearing[i] + turn * ti + Math.PI) * scale + BINS) | 0;
      while (bin >= BINS) bin -= BINS;
      let best = -1;
      let bestE = 0;
      let bestEe = GATE;
      let bestAll = 1;
      let bestS = 0;
      let bestOwn = 1;
      const end = bin * DEPTH + binCount[bin];
      for (let k = bin * DEPTH; k < end; k++) {
        const j = bins[k];
        const p = j * L.stride;
        const nx = lines[p];
        const ny = lines[p + L.ny];
        const s = nx * qy - ny * qx - lines[p + L.anchor];
        if (s < lines[p + L.from] || s > lines[p + L.to]) continue;
        const e = nx * qx + ny * qy - lines[p + L.d];
        const h = e - lines[p + L.height];
        const own = (b0 + h * h * b1) * lines[p + L.rough];
        const all = own + lines[p + L.gate0] + s * (lines[p + L.gate1] + s * lines[p + L.gate2]);
        const ee = e * e;
        if (ee * bestAll < bestEe * all) {
          best = j;
          bestE = e;
          bestEe = ee;
          bestAll = all;
          bestS = s;
          bestOwn = own;
        } else if (e < 0 && ee > 2 * GATE * all && s > lines[p + L.lo] && s < lines[p + L.hi]) {
          through[j]++;
          if (best < 0) passed++;
        }
      }
      owner[i] = best;
      if (best < 0) continue;
      matched++;
      used[best]++;
      chi += bestEe / bestAll;
      if (bestS < lo[best]) lo[best] = bestS;
      if (bestS > hi[best]) hi[best] = bestS;
      const o = best * M.stride;
      const w = 1 / (bestOwn * (1 + bestEe / (bestAll * ROBUST))); // far ones count less (Cauchy)
      const wu = w * ti;
      const ws = w * bestS;
      const wsu = wu * bestS;
      const wss = ws * bestS;
      const wssu = wsu * bestS;
      m[o] += w;
      m[o + M.wu] += wu;
      m[o + M.wuu] += wu * ti;
      m[o + M.ws] += ws;
      m[o + M.wsu] += wsu;
      m[o + M.wsuu] += wsu * ti;
      m[o + M.wss] += wss;
      m[o + M.wssu] += wssu;
      m[o + M.wssuu] += wssu * ti;
      m[o + M.we] += w * bestE;
      m[o + M.weu] += wu * bestE;
      m[o + M.wes] += ws * bestE;
      m[o + M.wesu] += wsu * bestE;
      m[o + M.chi] += bestEe / bestOwn;
    }
    this.matched = matched;
    this.passedThrough = passed;
    this.chi = chi;
  }

  /** Empties the moments, packs the lines, and works out how far each gate must be widened for the prediction's and the line's own errors. */
  #prepare(reference: Reference, sensor: SensorModel, p: Readonly<Float64Array>, half: number): void {
    const n = reference.count;
    this.#moments.fill(0, 0, n * M.stride);
    this.used.fill(0, 0, n);
    this.through.fill(0, 0, n);
    this.#lo.fill(Infinity, 0, n);
    this.#hi.fill(-Infinity, 0, n);
    const hh = half * half;
    // A prediction that knows nothing would let every echo find every line: then the search starts narrow about it all the same.
    const kd = Math.min(1, (GATE_SHIFT * GATE_SHIFT) / (p[0] + p[10] + hh * (p[30] + p[40])));
    const kt = Math.min(1, (GATE_TURN * GATE_TURN) / (p[20] + hh * p[50]));
    const kdt = Math.sqrt(kd * kt);
    const xx = kd * (p[0] + hh * p[30]);
    const xy = kd * (p[1] + hh * p[31]);
    const yy = kd * (p[10] + hh * p[40]);
    const xt = kdt * p[2];
    const yt = kdt * p[11];
    const tt = kt * (p[20] + hh * p[50]);
    const lines = this.#lines;
    for (let j = 0; j < n; j++) {
      const nx = reference.bnx[j];
      const ny = reference.bny[j];
      const c0 = nx * nx * xx + 2 * nx * ny * xy + ny * ny * yy;
      const c1 = -(nx * xt + ny * yt);
      const a = reference.anchor[j]; // place about the rover = s + a
      const k = j * L.stride;
      lines[k] = nx;
      lines[k + L.ny] = ny;
      lines[k + L.d] = reference.bd[j];
      lines[k + L.anchor] = a;
      lines[k + L.from] = reference.lo[j] - reference.spare[j];
      lines[k + L.to] = reference.hi[j] + reference.spare[j];
      lines[k + L.height] = nx * sensor.x + ny * sensor.y - reference.bd[j];
      lines[k + L.rough] = reference.rough[j];
      lines[k + L.gate0] = c0 + 2 * c1 * a + tt * a * a + Math.min(reference.coo[j], LINE_MAX);
      lines[k + L.gate1] = 2 * (c1 + tt * a);
      lines[k + L.gate2] = tt;
      lines[k + L.lo] = reference.lo[j];
      lines[k + L.hi] = reference.hi[j];
    }
  }

  /** Builds information and gradient from the moments: the weighted squares of residual + J·step are least where (information) step = -gradient. */
  assemble(reference: Reference): void {
    const A = this.information;
    A.fill(0);
    this.gradient.fill(0);
    for (let j = 0; j < reference.count; j++) if (this.used[j] > 0) this.#addLine(reference, j);
    for (let i = 0; i < KNOWN; i++) for (let k = 0; k < i; k++) A[k * STATE + i] = A[i * STATE + k];
  }

  #addLine(reference: Reference, j: number): void {
    const A = this.information;
    const b = this.gradient;
    const m = this.#moments;
    const G = this.#g; // JᵀW[1, s], KNOWN x 2
    const o = j * M.stride;
    const nx = reference.bnx[j];
    const ny = reference.bny[j];
    const a = reference.anchor[j];
    for (let i = 0; i < 2; i++) {
      const w0 = m[o + i];
      const w1 = m[o + M.ws + i];
      const w2 = m[o + M.wss + i];
      const r = 3 * i;
      G[2 * r] = nx * w0;
      G[2 * r + 1] = nx * w1;
      G[2 * r + 2] = ny * w0;
      G[2 * r + 3] = ny * w1;
      G[2 * r + 4] = -(w1 + a * w0);
      G[2 * r + 5] = -(w2 + a * w1);
      const e0 = m[o + M.we + i];
      b[r] += nx * e0;
      b[r + 1] += ny * e0;
      b[r + 2] -= m[o + M.wes + i] + a * e0;
      for (let k = 0; k <= i; k++) {
        const v0 = m[o + i + k];
        const v1 = m[o + M.ws + i + k];
        const v2 = m[o + M.wss + i + k];
        const cross = -(v1 + a * v0);
        const q = r * STATE + 3 * k;
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
    const k0 = reference.css[j] / det + m[o];
    const k1 = -reference.cos[j] / det + m[o + M.ws];
    const k2 = reference.coo[j] / det + m[o + M.wss];
    const kd = 1 / (k0 * k2 - k1 * k1);
    const i0 = k2 * kd;
    const i1 = -k1 * kd;
    const i2 = k0 * kd;
    const e0 = m[o + M.we];
    const e1 = m[o + M.wes];
    for (let i = 0; i < KNOWN; i++) {
      const h0 = G[2 * i] * i0 + G[2 * i + 1] * i1;
      const h1 = G[2 * i] * i1 + G[2 * i + 1] * i2;
      b[i] -= h0 * e0 + h1 * e1;
      for (let k = 0; k <= i; k++) A[i * STATE + k] -= h0 * G[2 * k] + h1 * G[2 * k + 1];
    }
  }

  /**
   * Adds this sweep's echoes to their lines, after the state has moved by `step` since {@link gather}.
   * @param step Float64Array[9].
   * @param p Float64Array[81], the state's covariance now: an error common to the sweep.
   */
  learn(reference: Reference, step: Readonly<Float64Array>, p: Readonly<Float64Array>, sweep: number): void {
    const m = this.#moments;
    for (let j = 0; j < reference.count; j++) {
      const n = this.used[j];
      if (n === 0) continue;
      const o = j * M.stride;
      const nx = reference.bnx[j];
      const ny = reference.bny[j];
      const a = reference.anchor[j];
      let r0 = m[o + M.we];
      let r1 = m[o + M.wes];
      for (let i = 0; i < 2; i++) {
        const along = step[3 * i] * nx + step[3 * i + 1] * ny - step[3 * i + 2] * a;
        const turn = step[3 * i + 2];
        r0 += along * m[o + i] - turn * m[o + M.ws + i];
        r1 += along * m[o + M.ws + i] - turn * m[o + M.wss + i];
      }
      this.#blend(reference, j, r0, r1, p);
      reference.hits[j]++;
      reference.seen[j] = sweep;
      if (this.#lo[j] < reference.lo[j]) reference.lo[j] = this.#lo[j];
      if (this.#hi[j] > reference.hi[j]) reference.hi[j] = this.#hi[j];
      if (n >= 4) {
        const seen = Math.min(9, Math.max(1, (m[o + M.chi] / n) * reference.rough[j]));
        reference.rough[j] += (seen - reference.rough[j]) * 0.1;
      }
    }
  }

  /** One line's update by the sweep's offset and slope, whose error is the echoes' and the pose's. */
  #blend(reference: Reference, j: number, r0: number, r1: number, p: Readonly<Float64Array>): void {
    const m = this.#moments;
    const o = j * M.stride;
    const nx = reference.bnx[j];
    const ny = reference.bny[j];
    const a = reference.anchor[j];
    // pose error seen as offset at the anchor and slope
    const po = nx * nx * p[0] + 2 * nx * ny * p[1] + ny * ny * p[10] - 2 * a * (nx * p[2] + ny * p[11]) + a * a * p[20];
    const ps = p[20];
    const px = -(nx * p[2] + ny * p[11]) + a * p[20];
    // (W⁻¹ + P)⁻¹ written as (I + W P)⁻¹ W, which stands a singular W
    const w0 = m[o];
    const w1 = m[o + M.ws];
    const w2 = m[o + M.wss];
    const t00 = 1 + w0 * po + w1 * px;
    const t01 = w0 * px + w1 * ps;
    const t10 = w1 * po + w2 * px;
    const t11 = 1 + w1 * px + w2 * ps;
    const d = 1 / (t00 * t11 - t01 * t10);
    const s0 = reference.s0[j] + d * (t11 * w0 - t01 * w1);
    const s1 = reference.s1[j] + d * (t11 * w1 - t01 * w2);
    const s2 = reference.s2[j] + d * (t00 * w2 - t10 * w1);
    const y0 = d * (t11 * r0 - t01 * r1);
    const y1 = d * (t00 * r1 - t10 * r0);
    const e = 1 / (s0 * s2 - s1 * s1);
    reference.s0[j] = s0;
    reference.s1[j] = s1;
    reference.s2[j] = s2;
    reference.shift(j, e * (s2 * y0 - s1 * y1), e * (s0 * y1 - s1 * y0));
  }
}
