import type { NoiseModel } from './noise.js';

/** m, ranges learned from; bins of equal ratio between. */
const NEAREST = 0.1;
const FARTHEST = 30;
const BINS = 24;
/** Standard deviations, relative to the range, that are told apart: from 1e-5 to 1, 40 a decade. */
const LEAST = 1e-5;
const STEPS = 200;
const PER_DECADE = 40;
/** Triples a bin needs before it counts. */
const ENOUGH = 100;

/**
 * Learns a sensor's noise from its own sweeps, without any model of the scene: three neighbouring echoes of one straight
 * surface have inverse ranges in line, so what the middle one is off by is noise. Corners and edges are the minority that a
 * median does not see. Memory is fixed.
 */
export class NoiseLearner {
  readonly #counts = new Uint32Array(BINS * STEPS);

  /**
   * @param x, y m[count], echoes about the sensor, neighbours in order, equally spaced in bearing.
   * @cost one pass, no allocation.
   */
  add(x: Readonly<Float64Array>, y: Readonly<Float64Array>, count: number): void {
    for (let k = 1; k + 1 < count; k++) {
      const ab = x[k - 1] * y[k] - x[k] * y[k - 1];
      const bc = x[k] * y[k + 1] - x[k + 1] * y[k];
      const ac = x[k - 1] * y[k + 1] - x[k + 1] * y[k - 1];
      if (!(ab > 0 && bc > 0)) continue;
      // how far b is off the line a-c, in parts of its range; a and c count each by what they weigh in it
      const off = Math.abs(1 - (ab + bc) / ac);
      const wa = bc / ac;
      const wc = ab / ac;
      const relative = off / Math.sqrt(1 + wa * wa + wc * wc);
      const range = Math.sqrt(x[k] * x[k] + y[k] * y[k]);
      const bin = Math.floor((BINS * Math.log(range / NEAREST)) / Math.log(FARTHEST / NEAREST));
      if (!(bin >= 0 && bin < BINS)) continue;
      const step = Math.floor(PER_DECADE * Math.log10(relative / LEAST));
      this.#counts[bin * STEPS + Math.min(STEPS - 1, Math.max(0, step))]++;
    }
  }

  /** @returns the model that fits best, or undefined while fewer than two stretches of range are known. */
  model(): NoiseModel | undefined {
    // sigma² = constant² + growth² r⁴: a line in r⁴; each bin's variance is known to a fixed part of itself
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let t0 = 0;
    let t1 = 0;
    let bins = 0;
    for (let bin = 0; bin < BINS; bin++) {
      const sigma = this.#sigma(bin);
      if (sigma === undefined) continue;
      const r = NEAREST * (FARTHEST / NEAREST) ** ((bin + 0.5) / BINS);
      const variance = (sigma * r) ** 2;
      const r4 = r ** 4;
      const w = 1 / (variance * variance);
      s0 += w;
      s1 += w * r4;
      s2 += w * r4 * r4;
      t0 += w * variance;
      t1 += w * variance * r4;
      bins++;
    }
    const det = s0 * s2 - s1 * s1;
    if (bins < 2 || !(det > 0)) return undefined;
    const constant2 = (t0 * s2 - t1 * s1) / det;
    const growth2 = (t1 * s0 - t0 * s1) / det;
    if (constant2 <= 0) return { constant: 1e-4, growth: Math.sqrt(t1 / s2) };
    return growth2 <= 0
      ? { constant: Math.sqrt(t0 / s0), growth: 0 }
      : { constant: Math.sqrt(constant2), growth: Math.sqrt(growth2) };
  }

  /** Relative standard deviation of a bin: its median absolute deviation times 1.4826, as for a normal distribution. */
  #sigma(bin: number): number | undefined {
    let total = 0;
    for (let s = 0; s < STEPS; s++) total += this.#counts[bin * STEPS + s];
    if (total < ENOUGH) return undefined;
    let below = 0;
    for (let s = 0; s < STEPS; s++) {
      const here = this.#counts[bin * STEPS + s];
      if (below + here < total / 2) {
        below += here;
        continue;
      }
      return 1.4826 * LEAST * 10 ** ((s + (total / 2 - below) / here) / PER_DECADE);
    }
    return undefined;
  }
}
