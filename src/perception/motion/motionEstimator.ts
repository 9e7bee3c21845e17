import type { Sweep } from '../../sweep/sweep.js';
import { deskew } from './deskew.js';
import { FreeSpace } from './freeSpace.js';
import { LineMatcher } from './match.js';
import { MotionFilter } from './motionFilter.js';
import { PieceFinder } from './pieces.js';
import { type Pose, Reference } from './reference.js';
import { type SensorModel, SweepPoints } from './sweepPoints.js';

/** Rounds of matching at most; the state has settled when a round moves it by less than these. */
const ROUNDS_MAX = 8;
const SETTLED_SHIFT = 0.004;
const SETTLED_TURN = 0.0015;

export interface MotionSetting {
  readonly sensor: SensorModel;
}

export class MotionEstimator {
  readonly points = new SweepPoints();
  readonly reference = new Reference();
  readonly free = new FreeSpace();
  readonly filter = new MotionFilter();
  /** Per echo: 1 where a proven line of the reference explains it. */
  standing = new Uint8Array(0);
  readonly #setting: MotionSetting;
  readonly #matcher = new LineMatcher();
  readonly #pieces = new PieceFinder();
  #time = NaN;
  #number = 0;

  constructor(setting: MotionSetting) {
    this.#setting = setting;
  }

  update(sweep: Sweep): Pose {
    const { points, reference, filter } = this;
    const sensor = this.#setting.sensor;
    points.load(sweep, sensor);
    this.#number++;
    if (!Number.isNaN(this.#time)) filter.predict(points.middle - this.#time);
    this.#time = points.middle;
    const half = sweep.period / 2;
    if (this.standing.length < points.count) this.standing = new Uint8Array(points.index.length);
    if (reference.count > 0) this.#match(half);
    this.#tellStanding();
    if (reference.count > 0) reference.absorb(this.#number % reference.count);
    deskew(points, sensor, filter.twist);
    this.#pieces.extend(points, reference, sensor, filter.pose, filter.p, this.#number, this.free);
    this.free.keep(points, sensor, filter.pose);
    return filter.pose;
  }

  #tellStanding(): void {
    const { points, reference, standing } = this;
    for (let i = 0; i < points.count; i++) {
      const j = points.owner[i];
      standing[i] = j >= 0 && reference.isProven(j) ? 1 : 0;
    }
  }

  debug() {
    const p = this.filter.p;
    const r = this.reference;
    return { n: this.points.count, m: this.#matcher.matched, chi: +(this.#matcher.chi / Math.max(1, this.#matcher.matched)).toFixed(2), sd: [0, 1, 2, 3, 4, 5].map((i) => +(1e3 * Math.sqrt(p[i * 10])).toFixed(2)), v: [this.filter.vx, this.filter.turn].map((v) => +v.toFixed(3)), L: Array.from(r.rough.slice(0, r.count), (_, j) => [r.nx[j], r.ny[j], r.cx[j], r.cy[j], r.lo[j], r.hi[j], Math.sqrt(r.coo[j]), Math.sqrt(r.css[j])]), len: Array.from(r.rough.slice(0, r.count), (_, j) => +(r.hi[j] - r.lo[j]).toFixed(1)).join(' '), hits: Array.from(r.hits.slice(0, r.count)).join(' '), used: Array.from(this.#matcher.used.slice(0, r.count)).join(' ') };
  }
  rounds = 0;
  #match(half: number): void {
    const { points, reference, filter } = this;
    const sensor = this.#setting.sensor;
    const matcher = this.#matcher;
    if (!filter.begin()) throw new RangeError('motion: covariance is not positive definite');
    this.rounds = 0;
    for (let round = 0; round < ROUNDS_MAX; round++) {
      this.rounds++;
      deskew(points, sensor, filter.twist);
      const slack = 0.01 + 3 * Math.sqrt(filter.p[20]);
      const shift = Math.hypot(filter.vx, filter.vy) * half + 3 * Math.sqrt(filter.p[0] + filter.p[10]);
      reference.project(filter.pose, sensor, points.step, slack, shift);
      matcher.gather(points, reference, sensor, filter.p, filter.turn, half);
      matcher.assemble(reference);
      const step = filter.update(matcher.information, matcher.gradient);
      if (step === null) break;
      if (Math.hypot(step[0], step[1]) < SETTLED_SHIFT && Math.abs(step[2]) < SETTLED_TURN) {
        matcher.learn(reference, step, filter.p, this.#number);
        break;
      }
    }
    for (let j = reference.count - 1; j >= 0; j--) {
      if (reference.rough[j] > 2 && reference.hits[j] > 10) {
        for (let i = 0; i < points.count; i++) if (points.owner[i] === j) points.owner[i] = -1;
        reference.remove(j);
        continue;
      }
      if (matcher.through[j] > 3 && matcher.through[j] > 2 * matcher.used[j]) {
        if (++reference.misses[j] >= 4) {
          for (let i = 0; i < points.count; i++) if (points.owner[i] === j) points.owner[i] = -1;
          reference.remove(j);
        }
      } else if (matcher.used[j] > 0) reference.misses[j] = 0;
    }
  }
}
