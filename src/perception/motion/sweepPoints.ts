import { TAU, wrapAngle } from '../../core/angles.js';
import type { NoiseModel } from '../../estimate/noise.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import type { Sweep } from '../../sweep/sweep.js';

const TABLE = 2048;
const STEP = TAU / TABLE;
const COS = Float64Array.from({ length: TABLE }, (_, k) => Math.cos(k * STEP));
const SIN = Float64Array.from({ length: TABLE }, (_, k) => Math.sin(k * STEP));

/** m and rad: smallest error of an echo besides its range noise (surface, bearing). */
const SURFACE = 0.0015;
const BEARING = 0.0004;

/** How the sensor sits and errs; rover axes. */
export interface SensorModel {
  /** m, the sensor's place in rover axes. */
  readonly x: number;
  readonly y: number;
  /** m, nearest and farthest range that can be believed. */
  readonly reach: readonly [number, number];
  readonly noise: NoiseModel;
}

/**
 * The accepted echoes of one sweep as columns in the order of measuring, with what motion and movers work out about each.
 * Reused from sweep to sweep: what stands here is valid until the next {@link load}.
 */
export class SweepPoints {
  count = 0;
  /** Samples in the sweep, echoes or not. */
  samples = 0;
  /** s, Clock, the middle of the sweep: u = 0. */
  middle = 0;
  /** s, from the first to the last echo. */
  sense: 1 | -1 = 1;
  /** m, the farthest echo. */
  farthest = 0;
  /** rad, usual step from sample to sample. */
  step = 0;
  /** Sample number in the sweep. */
  index = new Int32Array(0);
  /** s, time of the echo less `middle`. */
  u = new Float64Array(0);
  /** Direction of the beam in rover axes at its own time. */
  cos = new Float64Array(0);
  sin = new Float64Array(0);
  bearing = new Float64Array(0);
  range = new Float64Array(0);
  /** m², of the range. */
  variance = new Float64Array(0);
  /**
   * Variance (m²) of an echo's distance from a line of height h (m, of the sensor over it): base + grade h². The range's own part
   * counts by the cosine of incidence h/r, a bearing error by its sine; a surface is never flatter than SURFACE.
   */
  base = new Float64Array(0);
  grade = new Float64Array(0);
  /** m, rover axes at `middle`: freed of the rover's motion. */
  x = new Float64Array(0);
  y = new Float64Array(0);
  /** Row of the reference line that explains the echo, or -1. */
  owner = new Int16Array(0);

  /** Takes the echoes of a sweep that lie within reach. @cost one pass; allocates only when a sweep is longer than any before. */
  load(sweep: Sweep, sensor: SensorModel): void {
    if (sweep.count > this.index.length) this.#grow(sweep.count);
    const { index, u, cos, sin, bearing, range, variance, base, grade, owner } = this;
    const [near, far] = sensor.reach;
    const constant = sensor.noise.constant * sensor.noise.constant;
    const growth = sensor.noise.growth * sensor.noise.growth;
    const middle = sweep.firstTime + sweep.period / 2;
    let farthest = 0;
    let n = 0;
    for (let i = 0; i < sweep.count; i++) {
      const r = sweep.range[i];
      if (sweep.kind[i] !== SAMPLE_KIND.echo || !(r >= near && r <= far)) continue;
      const b = sweep.bearing[i];
      const k = (b * (1 / STEP) + (TABLE + 0.5)) | 0; // b >= -π, so this is never negative
      const d = b - (k - TABLE) * STEP;
      const c0 = COS[k & (TABLE - 1)];
      const s0 = SIN[k & (TABLE - 1)];
      const cd = 1 - d * d * 0.5; // |d| < 1.6 mrad: the next terms are below 1e-12
      const sd = d - (d * d * d) / 6;
      if (r > farthest) farthest = r;
      const rr = r * r;
      index[n] = i;
      u[n] = sweep.time[i] - middle;
      cos[n] = c0 * cd - s0 * sd;
      sin[n] = s0 * cd + c0 * sd;
      bearing[n] = b;
      range[n] = r;
      variance[n] = constant + growth * rr * rr;
      base[n] = SURFACE * SURFACE + BEARING * BEARING * rr;
      grade[n] = variance[n] / rr - BEARING * BEARING;
      owner[n] = -1;
      n++;
    }
    this.count = n;
    this.farthest = farthest;
    this.samples = sweep.count;
    this.middle = middle;
    this.sense = sweep.sense;
    this.step = sampleStep(sweep);
  }

  #grow(n: number): void {
    const capacity = Math.ceil(n * 1.25);
    this.index = new Int32Array(capacity);
    this.owner = new Int16Array(capacity);
    for (const name of ['u', 'cos', 'sin', 'bearing', 'range', 'variance', 'base', 'grade', 'x', 'y'] as const)
      this[name] = new Float64Array(capacity);
  }
}

/** @returns rad, the usual step from sample to sample: the median of a few, for a sweep need not go all the way round. */
function sampleStep(sweep: Sweep): number {
  const n = sweep.count;
  if (n < 2) return TAU;
  const steps = new Float64Array(9);
  for (let k = 0; k < 9; k++) {
    const i = Math.floor((k * (n - 2)) / 8);
    steps[k] = Math.abs(wrapAngle(sweep.bearing[i + 1] - sweep.bearing[i]));
  }
  return Math.max(steps.sort()[4], 1e-4);
}
