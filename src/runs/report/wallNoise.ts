import type { NoiseModel } from '../../estimate/noise.js';
import type { ServerMessage } from '../../messages/codec.js';
import type { Points } from '../nearest.js';

const ECHOES = 12; // of a wall that says anything
const BESIDE = 0.15; // m from the wall: what stands farther off is something else
const SQUARE = 0.5; // cosine of the angle between beam and normal: flatter ones make much of little
const NEAREST = 0.2; // m
const FARTHEST = 20;
const BINS = 20; // of equal ratio between
const STEPS = 120; // of 0.25 mm at the least, 2 % finer each
const STEP_LEAST = 0.00025; // m
const STEP_RATIO = 1.06;
const ENOUGH = 200; // echoes that make a bin count
const MAD_TO_SIGMA = 1.4826; // of a normal distribution

/** Range noise as the walls show it: what their echoes are off a line through them, along the beam. Memory is fixed. */
export class WallNoise {
  readonly #counts = new Uint32Array(BINS * STEPS);

  /**
   * @param walls of the sweep. @param points its echoes, not freed of the rover's motion: a line is fitted anew, since over one wall
   * that motion is a shift and a turn. @param sensor m, its place.
   */
  add(
    walls: NonNullable<NonNullable<ServerMessage['shapes']>['walls']>,
    points: Points,
    sensor: readonly [number, number],
  ): void {
    for (const { x1M, y1M, x2M, y2M, echoes } of walls)
      if ((echoes ?? 0) >= ECHOES) this.#addWall([x1M ?? 0, y1M ?? 0, x2M ?? 0, y2M ?? 0], points, sensor);
  }

  /** @returns m, m: middle of each stretch of range that is known, and the standard deviation of a range there. */
  bins(): Array<{ readonly range: number; readonly sigma: number }> {
    const found: Array<{ range: number; sigma: number }> = [];
    for (let bin = 0; bin < BINS; bin++) {
      let total = 0;
      for (let step = 0; step < STEPS; step++) total += this.#counts[bin * STEPS + step];
      if (total < ENOUGH) continue;
      let step = 0;
      for (let below = 0; below + this.#counts[bin * STEPS + step] < total / 2; step++)
        below += this.#counts[bin * STEPS + step];
      const range = NEAREST * (FARTHEST / NEAREST) ** ((bin + 0.5) / BINS);
      found.push({ range, sigma: MAD_TO_SIGMA * STEP_LEAST * STEP_RATIO ** (step + 0.5) });
    }
    return found;
  }

  /** @returns the model that fits the bins best: sigma² is a line in r⁴; undefined for fewer than three bins. */
  model(): NoiseModel | undefined {
    const bins = this.bins();
    if (bins.length < 3) return undefined;
    let [s0, s1, s2, t0, t1] = [0, 0, 0, 0, 0];
    for (const { range, sigma } of bins) {
      const w = sigma ** -4; // each bin's variance is known to a fixed part of itself
      const r4 = range ** 4;
      s0 += w;
      s1 += w * r4;
      s2 += w * r4 * r4;
      t0 += w * sigma * sigma;
      t1 += w * sigma * sigma * r4;
    }
    const determinant = s0 * s2 - s1 * s1;
    if (!(determinant > 0)) return undefined;
    const constant2 = (t0 * s2 - t1 * s1) / determinant;
    const growth2 = (t1 * s0 - t0 * s1) / determinant;
    if (constant2 <= 0) return { constant: 0, growth: Math.sqrt(t1 / s2) };
    return { constant: Math.sqrt(growth2 <= 0 ? t0 / s0 : constant2), growth: Math.sqrt(Math.max(0, growth2)) };
  }

  #addWall([x1, y1, x2, y2]: readonly number[], { x, y, count }: Points, [mx, my]: readonly [number, number]): void {
    const length = Math.hypot(x2 - x1, y2 - y1);
    const [c, s] = [(x2 - x1) / length, (y2 - y1) / length];
    const rows: Array<readonly [along: number, across: number, i: number]> = [];
    let [st, sd, stt, std] = [0, 0, 0, 0];
    for (let i = 0; i < count; i++) {
      const along = c * (x[i] - x1) + s * (y[i] - y1) - length / 2;
      const across = c * (y[i] - y1) - s * (x[i] - x1);
      if (Math.abs(along) > length / 2 || Math.abs(across) > BESIDE) continue;
      rows.push([along, across, i]);
      st += along;
      sd += across;
      stt += along * along;
      std += along * across;
    }
    const n = rows.length;
    const spread = n * stt - st * st;
    if (n < ECHOES || !(spread > 0)) return;
    const slope = (n * std - st * sd) / spread;
    const offset = (sd - slope * st) / n;
    for (const [along, across, i] of rows) {
      const range = Math.hypot(x[i] - mx, y[i] - my);
      const square = Math.abs((-s * (x[i] - mx) + c * (y[i] - my)) / range);
      const bin = Math.floor((BINS * Math.log(range / NEAREST)) / Math.log(FARTHEST / NEAREST));
      if (square < SQUARE || bin < 0 || bin >= BINS) continue;
      const off = Math.abs(across - offset - slope * along) / square;
      const step = off <= STEP_LEAST ? 0 : Math.floor(Math.log(off / STEP_LEAST) / Math.log(STEP_RATIO));
      this.#counts[bin * STEPS + Math.min(STEPS - 1, step)]++;
    }
  }
}
