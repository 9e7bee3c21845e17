import type { ShapeFrame } from './frame.js';

/** The columns of a sweep that a frame is made from: sweep/sweep.ts has them all. */
export interface FrameSource {
  readonly count: number;
  readonly bearing: Readonly<Float32Array>;
  readonly range: Readonly<Float32Array>;
  readonly kind: Readonly<Uint8Array>;
  readonly sense: 1 | -1;
}

/** Poses of the sensor in its own frame at the reference moment: rows x, y (m), heading (rad), evenly over the sweep. */
export type MotionRows = Readonly<Float64Array>;

const KNOTS = 9;
/** rad, up to which the turn from one echo to the next is done by its series: the rest is below 1e-11. */
const TURN_MAX = 0.05;
/** Echoes after which sine and cosine are taken afresh. */
const FRESH = 16;

/**
 * Poses of a sensor that moves evenly through a sweep.
 * @param vx, vy m/s, turn rad/s: velocity in the sensor's frame (axes as the rover's) at the reference moment.
 * @param period s, of the sweep. @param reference 0 .. 1, the moment whose frame is meant: 0.5 is the middle.
 * @returns Float64Array[27], nine rows x, y, heading.
 */
export function evenMotion(vx: number, vy: number, turn: number, period: number, reference: number): Float64Array {
  const rows = new Float64Array(3 * KNOTS);
  for (let k = 0; k < KNOTS; k++) {
    const t = (k / (KNOTS - 1) - reference) * period;
    const a = turn * t;
    const s = Math.abs(a) < 1e-6 ? t : Math.sin(a) / turn; // the arc's chord, along and across
    const c = Math.abs(a) < 1e-6 ? (a * t) / 2 : (1 - Math.cos(a)) / turn;
    rows[3 * k] = vx * s - vy * c;
    rows[3 * k + 1] = vx * c + vy * s;
    rows[3 * k + 2] = a;
  }
  return rows;
}

/** Frees sweeps of the rover's motion. The frame's x and y are views that the next call writes over. */
export class FrameMaker {
  #x = new Float32Array(0);
  #y = new Float32Array(0);

  /**
   * @param sweep samples evenly timed. @param motion poses at even times over the sweep, linear between; none: standing still.
   * @throws {RangeError} fewer than two rows of motion.
   * @cost one pass, a sine and a cosine every 16 echoes; memory grows to the longest sweep.
   */
  make(sweep: FrameSource, motion?: MotionRows): ShapeFrame {
    const { count, bearing, range, kind, sense } = sweep;
    if (motion !== undefined && !(motion.length >= 6))
      throw new RangeError(`FrameMaker: ${motion.length / 3} rows of motion`);
    if (this.#x.length !== count) {
      this.#x = new Float32Array(count);
      this.#y = new Float32Array(count);
    }
    const x = this.#x;
    const y = this.#y;
    const spans = motion === undefined ? 0 : motion.length / 3 - 1;
    const scale = spans / count;
    let px = 0;
    let py = 0;
    let heading = 0;
    let angle = Infinity;
    let cos = 1;
    let sin = 0;
    let left = 0;
    for (let i = 0; i < count; i++) {
      const r = range[i];
      if (!(r < Infinity)) continue;
      if (motion !== undefined) {
        const at = i * scale;
        const k = at | 0;
        const u = at - k;
        const row = 3 * k;
        px = motion[row] + u * (motion[row + 3] - motion[row]);
        py = motion[row + 1] + u * (motion[row + 4] - motion[row + 1]);
        heading = motion[row + 2] + u * (motion[row + 5] - motion[row + 2]);
      }
      const a = bearing[i] + heading;
      const turn = a - angle;
      if (left === 0 || turn > TURN_MAX || turn < -TURN_MAX) {
        cos = Math.cos(a);
        sin = Math.sin(a);
        left = FRESH;
      } else {
        // a small turn on from the last echo, by the series to the fifth power
        const t2 = turn * turn;
        const c = 1 - t2 * (0.5 - t2 / 24);
        const s = turn * (1 - t2 * (1 / 6 - t2 / 120));
        const next = cos * c - sin * s;
        sin = sin * c + cos * s;
        cos = next;
        left--;
      }
      angle = a;
      x[i] = px + r * cos;
      y[i] = py + r * sin;
    }
    return { count, bearing, range, kind, x, y, sense };
  }
}
