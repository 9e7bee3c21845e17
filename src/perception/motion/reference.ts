import { TAU } from '../../core/angles.js';
import type { SensorModel } from './sweepPoints.js';

/** Most straight pieces held. A full reference gives up the piece unseen for longest; that is tallied. */
export const LINES_MAX = 192;
/** Bins of the bearing table: 2 degrees each. */
export const BINS = 180;
/** Most pieces that can lie on one bearing bin, one behind the other. */
export const DEPTH = 8;
/** m: a piece's own place is never believed better than this (the world is not made of exact planes). */
const OFFSET_FLOOR = 0.0005;
/** rad, the same for its direction. */
const SLOPE_FLOOR = 0.0003;

/** Two pieces are one surface: squared standard deviations in offset and slope, m between their planes, m between their ends. */
const SAME = 12;
const SAME_OFFSET = 0.12;
const SAME_GAP = 1.2;
/** m: nearer than this one behind the other, the less known piece is an error. */
const TWIN = 0.035;

/** m: a piece reaches only as far past its ends as its direction is known to this. */
const REACH = 0.03;
/** A short piece counts little until this many sweeps have matched it: it may walk. m of length that needs no proof; m of doubt. */
const PROOF = 10;
const LONG = 1.2;
const DOUBT = 0.05;

export interface Pose {
  /** m, m, rad: rover axes in the frame of the start. */
  readonly x: number;
  readonly y: number;
  readonly heading: number;
}

/**
 * The local reference: straight pieces of standing surfaces, each averaged over every sweep that saw it. A piece is a line
 * through an anchor with a unit normal that points to the side it was seen from; its offset and slope are known by an
 * information matrix about the anchor. Columns, fixed capacity.
 */
export class Reference {
  readonly tally = { evicted: 0, crowded: 0 };
  count = 0;
  readonly nx = new Float64Array(LINES_MAX);
  readonly ny = new Float64Array(LINES_MAX);
  readonly cx = new Float64Array(LINES_MAX);
  readonly cy = new Float64Array(LINES_MAX);
  /** m, where the seen stretch begins and ends along the tangent (-ny, nx) from the anchor. */
  readonly lo = new Float64Array(LINES_MAX);
  readonly hi = new Float64Array(LINES_MAX);
  /** Information about offset (1/m²), both, and slope (1/rad²). */
  readonly s0 = new Float64Array(LINES_MAX);
  readonly s1 = new Float64Array(LINES_MAX);
  readonly s2 = new Float64Array(LINES_MAX);
  /** Their covariance, floors added. */
  readonly coo = new Float64Array(LINES_MAX);
  readonly cos = new Float64Array(LINES_MAX);
  readonly css = new Float64Array(LINES_MAX);
  /** Factor on the echo's variance that this surface has shown (1: a plane). */
  readonly rough = new Float64Array(LINES_MAX);
  /** Sweeps that matched it; sweeps in a row that saw through it; number of the last sweep that matched it. */
  readonly hits = new Int32Array(LINES_MAX);
  readonly misses = new Int32Array(LINES_MAX);
  readonly seen = new Int32Array(LINES_MAX);
  // The same in rover axes at the predicted middle of the sweep: n·q - d is an echo's residual, -ny qx + nx qy - anchor its place along.
  readonly bnx = new Float64Array(LINES_MAX);
  readonly bny = new Float64Array(LINES_MAX);
  readonly bd = new Float64Array(LINES_MAX);
  readonly anchor = new Float64Array(LINES_MAX);
  /** m, how far past its seen ends an echo may extend it now. */
  readonly spare = new Float64Array(LINES_MAX);
  readonly binCount = new Uint8Array(BINS);
  readonly bins = new Int16Array(BINS * DEPTH);

  clear(): void {
    this.count = 0;
  }

  /**
   * Adds a piece in the frame of the start; the normal points to the side it was seen from.
   * @param s0, s1, s2 information about offset and slope about the anchor.
   * @returns its row.
   */
  add(
    nx: number,
    ny: number,
    cx: number,
    cy: number,
    lo: number,
    hi: number,
    s0: number,
    s1: number,
    s2: number,
    sweep: number,
  ): number {
    if (this.count === LINES_MAX) this.#evict();
    const j = this.count++;
    this.nx[j] = nx;
    this.ny[j] = ny;
    this.cx[j] = cx;
    this.cy[j] = cy;
    this.lo[j] = lo;
    this.hi[j] = hi;
    this.s0[j] = s0;
    this.s1[j] = s1;
    this.s2[j] = s2;
    this.rough[j] = 1;
    this.hits[j] = 1;
    this.misses[j] = 0;
    this.seen[j] = sweep;
    this.refresh(j);
    return j;
  }

  /** @returns whether row j is long, or has been matched often enough, to be taken for standing. */
  isProven(j: number): boolean {
    return this.hits[j] >= PROOF || this.hi[j] - this.lo[j] >= LONG;
  }

  /** Works out the covariance of row j from its information. */
  refresh(j: number): void {
    const a = this.s0[j];
    const b = this.s1[j];
    const c = this.s2[j];
    const det = a * c - b * b;
    const doubt = this.isProven(j) ? OFFSET_FLOOR : DOUBT;
    this.coo[j] = c / det + doubt * doubt;
    this.cos[j] = -b / det;
    this.css[j] = a / det + SLOPE_FLOOR * SLOPE_FLOOR;
  }

  /** Takes row j out; the last row takes its place. */
  remove(j: number): void {
    const last = --this.count;
    if (j === last) return;
    for (const column of [
      this.nx,
      this.ny,
      this.cx,
      this.cy,
      this.lo,
      this.hi,
      this.s0,
      this.s1,
      this.s2,
      this.coo,
      this.cos,
      this.css,
      this.rough,
      this.hits,
      this.misses,
      this.seen,
    ]) {
      column[j] = column[last];
    }
  }

  /**
   * Makes one of row k and another row that is the same straight surface for all that is known, if there is one.
   * @returns true where it did; rows have then changed places.
   */
  absorb(k: number): boolean {
    const kx = this.nx[k];
    const ky = this.ny[k];
    for (let j = 0; j < this.count; j++) {
      if (j === k) continue;
      const nx = this.nx[j];
      const ny = this.ny[j];
      if (nx * kx + ny * ky < 0.94) continue;
      const dx = this.cx[k] - this.cx[j];
      const dy = this.cy[k] - this.cy[j];
      const offset = nx * dx + ny * dy;
      if (Math.abs(offset) > SAME_OFFSET) continue;
      const at = nx * dy - ny * dx;
      if (at + this.lo[k] > this.hi[j] + SAME_GAP || at + this.hi[k] < this.lo[j] - SAME_GAP) continue;
      const slope = ny * kx - nx * ky; // a slope turns the tangent towards the normal
      const coo = this.coo[k] + this.coo[j] + at * (2 * this.cos[j] + at * this.css[j]);
      const cos = this.cos[k] + this.cos[j] + at * this.css[j];
      const css = this.css[k] + this.css[j];
      const det = coo * css - cos * cos;
      const distance = (css * offset * offset - 2 * cos * offset * slope + coo * slope * slope) / det;
      if (distance > SAME) {
        // Not the same for what is known of them; yet no two surfaces lie this close one behind the other and are both seen.
        const from = Math.max(this.lo[j], at + this.lo[k]);
        const to = Math.min(this.hi[j], at + this.hi[k]);
        if (to - from < 0.6 * Math.min(this.hi[j] - this.lo[j], this.hi[k] - this.lo[k])) continue;
        if (Math.abs(offset + (from - at) * slope) > TWIN || Math.abs(offset + (to - at) * slope) > TWIN) continue;
        this.remove(this.s2[j] > this.s2[k] ? k : j);
        return true;
      }
      const [a, b] = this.s0[j] + this.s2[j] >= this.s0[k] + this.s2[k] ? [j, k] : [k, j];
      this.#fuse(a, b);
      this.remove(b);
      return true;
    }
    return false;
  }

  /** Adds what row k knows to row j. */
  #fuse(j: number, k: number): void {
    const nx = this.nx[j];
    const ny = this.ny[j];
    const dx = this.cx[k] - this.cx[j];
    const dy = this.cy[k] - this.cy[j];
    const z0 = nx * dx + ny * dy;
    const z1 = ny * this.nx[k] - nx * this.ny[k];
    const at = nx * dy - ny * dx;
    const a = this.s0[k];
    const b = this.s1[k];
    const c = this.s2[k];
    const r0 = a * z0 + b * z1;
    const r1 = at * r0 + b * z0 + c * z1;
    this.s0[j] += a;
    this.s1[j] += b + at * a;
    this.s2[j] += c + at * (2 * b + at * a);
    const e = 1 / (this.s0[j] * this.s2[j] - this.s1[j] * this.s1[j]);
    this.shift(j, e * (this.s2[j] * r0 - this.s1[j] * r1), e * (this.s0[j] * r1 - this.s1[j] * r0));
    this.lo[j] = Math.min(this.lo[j], at + this.lo[k]);
    this.hi[j] = Math.max(this.hi[j], at + this.hi[k]);
    this.seen[j] = Math.max(this.seen[j], this.seen[k]);
    this.hits[j] = Math.max(this.hits[j], this.hits[k]);
  }

  /** Moves row j by an offset at its anchor (m) and turns it by a slope (rad). */
  shift(j: number, offset: number, slope: number): void {
    const nx = this.nx[j];
    const ny = this.ny[j];
    this.cx[j] += nx * offset;
    this.cy[j] += ny * offset;
    const mx = nx + slope * ny; // the tangent turns to t + slope n, the normal to n - slope t
    const my = ny - slope * nx;
    const l = 1 / Math.hypot(mx, my);
    this.nx[j] = mx * l;
    this.ny[j] = my * l;
    this.refresh(j);
  }

  #evict(): void {
    let oldest = 0;
    for (let j = 1; j < this.count; j++) if (this.seen[j] < this.seen[oldest]) oldest = j;
    this.remove(oldest);
    this.tally.evicted++;
  }

  /**
   * Turns every piece into rover axes at `pose` and enters those that face the sensor in the table of bearings.
   * @param step rad, from sample to sample.
   * @param slack rad and m: how far bearings and places may be off (prediction, turning and travel during the sweep).
   */
  project(pose: Pose, sensor: SensorModel, step: number, slackTurn: number, slackShift: number): void {
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const { binCount, bins } = this;
    binCount.fill(0);
    const far = sensor.reach[1];
    for (let j = 0; j < this.count; j++) {
      const nx = this.nx[j];
      const ny = this.ny[j];
      const dx = this.cx[j] - pose.x;
      const dy = this.cy[j] - pose.y;
      const bx = c * nx + s * ny;
      const by = -s * nx + c * ny;
      const d = nx * dx + ny * dy;
      const anchor = -ny * dx + nx * dy;
      this.bnx[j] = bx;
      this.bny[j] = by;
      this.bd[j] = d;
      this.anchor[j] = anchor;
      const h = bx * sensor.x + by * sensor.y - d; // height of the sensor over the line
      if (!(h > 0.01 && h < far)) continue;
      const at = -by * sensor.x + bx * sensor.y - anchor; // its foot, from the anchor
      const lo = this.lo[j] - at;
      const hi = this.hi[j] - at;
      const end = Math.min(h * h + Math.max(lo * lo, hi * hi), far * far);
      const reach = REACH / Math.sqrt(this.css[j]) - Math.max(this.hi[j], -this.lo[j]);
      const spare = Math.max(0.02, Math.min(0.2 + Math.min(1, (3 * step * end) / h), reach));
      this.spare[j] = spare;
      const margin = slackTurn + slackShift / h;
      const facing = Math.atan2(-by, -bx);
      const from = facing - Math.atan((hi + spare) / h) - margin;
      const to = facing - Math.atan((lo - spare) / h) + margin;
      const first = Math.floor(((from + Math.PI) * BINS) / TAU);
      const last = Math.min(first + BINS - 1, Math.floor(((to + Math.PI) * BINS) / TAU));
      for (let k = first; k <= last; k++) {
        const bin = k < 0 ? k + BINS : k >= BINS ? (k >= 2 * BINS ? k - 2 * BINS : k - BINS) : k;
        const used = binCount[bin];
        if (used < DEPTH) {
          bins[bin * DEPTH + used] = j;
          binCount[bin] = used + 1;
        } else this.tally.crowded++;
      }
    }
  }
}
