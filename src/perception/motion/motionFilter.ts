import { factor, invertFactored, solveFactored } from '../../estimate/symmetric.js';
import { poseAlong, type Twist } from './deskew.js';
import type { Pose } from './reference.js';

/** Standard deviation of a small rover's acceleration ahead, sideways (m/s²) and of its turn rate's change (rad/s²). */
const ACCELERATION = [0.5, 0.1, 1.2] as const;
/** s, how long an acceleration lasts. */
const LASTS = 0.35;
/** An update's surprise where the model is right (three times the number of observed unknowns: less is no reason); how fast restlessness follows, and its limit. */
const SURPRISE_USUAL = 18;
const RESTLESS_GAIN = 0.1;
const RESTLESS_MAX = 4;
/** m/s and rad/s below which the rover stands, and the part of the usual accelerations expected then. */
const STILL_SPEED = 0.02;
const STILL_TURN = 0.02;
const STILL = 0.3;
/** Squared standard deviations at which a wheel speed contradicts the state. */
const CONTRADICTS = 12;
/** m/s, m/s, rad/s and their ramps: standard deviations of speeds taken from two poses alone. */
const SPEEDS_RENEWED = [0.3, 0.1, 0.4, 0.5, 0.2, 1] as const;
/** s, longest stretch predicted in one go. */
const STRIDE = 0.12;

/**
 * Pose, twist and its ramp in the rover's own axes, with the covariance of their error in those axes:
 * [x, y, heading | vx, vy, turn | their ramps]. Accelerations die away, so without evidence the speeds stay and grow uncertain.
 */
export class MotionFilter {
  x = 0;
  y = 0;
  heading = 0;
  vx = 0;
  vy = 0;
  turn = 0;
  ax = 0;
  ay = 0;
  turnRamp = 0;
  /** Squared standard deviations by which the last iterated update moved the state from its prediction. */
  surprise = 0;
  /** Factor on the usual accelerations that the surprises of late ask for. */
  restless = 1;
  readonly p = new Float64Array(81);
  readonly #prior = new Float64Array(81);
  readonly #a = new Float64Array(81);
  readonly #work = new Float64Array(81);
  readonly #moved = new Float64Array(9);
  readonly #step = new Float64Array(9);
  readonly #f = new Float64Array(81);

  constructor() {
    this.reset();
  }

  /** Pose known exactly (it defines the frame), speeds not. */
  reset(): void {
    this.p.fill(0);
    const sd = [1e-5, 1e-5, 1e-5, 0.5, 0.2, 1, 0.5, 0.2, 1];
    for (let i = 0; i < 9; i++) this.p[i * 10] = sd[i] * sd[i];
    this.vx = 0;
    this.vy = 0;
    this.turn = 0;
    this.ax = 0;
    this.ay = 0;
    this.turnRamp = 0;
  }

  get pose(): Pose {
    return { x: this.x, y: this.y, heading: this.heading };
  }
  get twist(): Twist {
    return { vx: this.vx, vy: this.vy, turn: this.turn, ax: this.ax, ay: this.ay, turnRamp: this.turnRamp };
  }

  /** @param t s, from the filter's moment to the new one, >= 0. */
  predict(t: number): void {
    const strides = Math.min(100, Math.max(1, Math.ceil(t / STRIDE - 1e-9)));
    for (let k = 0; k < strides; k++) this.#stride(t / strides);
  }

  #stride(t: number): void {
    const a = t * (this.turn + 0.5 * this.turnRamp * t);
    const lx = t * (this.vx + 0.5 * this.ax * t);
    const ly = t * (this.vy + 0.5 * this.ay * t);
    const next = poseAlong(this.pose, this.twist, t);
    this.x = next.x;
    this.y = next.y;
    this.heading = next.heading;
    this.vx += this.ax * t;
    this.vy += this.ay * t;
    this.turn += this.turnRamp * t;
    const lasts = LASTS / this.restless; // a restless rover's accelerations are bigger and say less of the next
    const keep = Math.exp(-t / lasts);
    this.ax *= keep;
    this.ay *= keep;
    this.turnRamp *= keep;
    // Errors: those of the pose move into the new axes, with the lever of the way; the speeds' add up over t.
    const f = this.#f;
    f.fill(0);
    const c = Math.cos(a);
    const s = Math.sin(a);
    const hc = Math.cos(a / 2);
    const hs = Math.sin(a / 2);
    const wx = lx - 0.5 * a * ly;
    const wy = ly + 0.5 * a * lx;
    f[0] = c;
    f[1] = s;
    f[2] = c * -wy + s * wx;
    f[9] = -s;
    f[10] = c;
    f[11] = s * wy + c * wx;
    f[20] = 1;
    for (let d = 1; d <= 2; d++) {
      const k = d === 1 ? t : 0.5 * t * t;
      const o = 3 * d;
      f[o] = k * hc;
      f[o + 1] = k * hs;
      f[o + 2] = 0.5 * k * f[2];
      f[9 + o] = -k * hs;
      f[9 + o + 1] = k * hc;
      f[9 + o + 2] = 0.5 * k * f[11];
      f[18 + o + 2] = k;
    }
    for (let i = 0; i < 3; i++) {
      f[(3 + i) * 9 + 3 + i] = 1;
      f[(3 + i) * 9 + 6 + i] = t;
      f[(6 + i) * 9 + 6 + i] = keep;
    }
    this.#spread(f);
    const p = this.p;
    for (let i = 0; i < 3; i++) {
      const q = (2 * ACCELERATION[i] * ACCELERATION[i] * this.restless * this.restless) / lasts;
      const tt = t * t;
      p[i * 10] += (q * tt * tt * t) / 20;
      p[i * 9 + 3 + i] += (q * tt * tt) / 8;
      p[(3 + i) * 9 + i] += (q * tt * tt) / 8;
      p[i * 9 + 6 + i] += (q * tt * t) / 6;
      p[(6 + i) * 9 + i] += (q * tt * t) / 6;
      p[(3 + i) * 10] += (q * tt * t) / 3;
      p[(3 + i) * 9 + 6 + i] += (q * tt) / 2;
      p[(6 + i) * 9 + 3 + i] += (q * tt) / 2;
      p[(6 + i) * 10] += q * t;
    }
  }

  /** P = F P Fᵀ. */
  #spread(f: Readonly<Float64Array>): void {
    const p = this.p;
    const w = this.#work;
    for (let i = 0; i < 9; i++) {
      for (let j = 0; j < 9; j++) {
        let sum = 0;
        for (let k = 0; k < 9; k++) sum += f[i * 9 + k] * p[k * 9 + j];
        w[i * 9 + j] = sum;
      }
    }
    for (let i = 0; i < 9; i++) {
      for (let j = 0; j <= i; j++) {
        let sum = 0;
        for (let k = 0; k < 9; k++) sum += w[i * 9 + k] * f[j * 9 + k];
        p[i * 9 + j] = sum;
        p[j * 9 + i] = sum;
      }
    }
  }

  /**
   * Takes in the mean speed along one axis (0 ahead, 1 left, 2 turn) over the last `t` s.
   * @returns false where it contradicts the state by so much that it was left out.
   */
  takeSpeed(axis: 0 | 1 | 2, value: number, sd: number, t: number): boolean {
    const p = this.p;
    const v = 3 + axis;
    const a = 6 + axis;
    const k = this.#step;
    for (let i = 0; i < 9; i++) k[i] = p[i * 9 + v] - 0.5 * t * p[i * 9 + a];
    const s = k[v] - 0.5 * t * k[a] + sd * sd;
    const mean =
      axis === 0
        ? this.vx - 0.5 * t * this.ax
        : axis === 1
          ? this.vy - 0.5 * t * this.ay
          : this.turn - 0.5 * t * this.turnRamp;
    const residual = value - mean;
    if (residual * residual > CONTRADICTS * s) return false;
    const work = this.#moved;
    work.set(k);
    for (let i = 0; i < 9; i++) k[i] = (work[i] / s) * residual;
    for (let i = 0; i < 9; i++) for (let j = 0; j < 9; j++) p[i * 9 + j] -= (work[i] * work[j]) / s;
    this.#move(k);
    return true;
  }

  /** Moves the state by an error in its own axes. */
  #move(b: Readonly<Float64Array>): void {
    const c = Math.cos(this.heading);
    const s = Math.sin(this.heading);
    this.x += c * b[0] - s * b[1];
    this.y += s * b[0] + c * b[1];
    this.heading += b[2];
    this.vx += b[3];
    this.vy += b[4];
    this.turn += b[5];
    this.ax += b[6];
    this.ay += b[7];
    this.turnRamp += b[8];
  }

  /** Learns from the last update's surprise how restless this rover is: more than the usual accelerations, or times that jitter. */
  learnRestlessness(): void {
    const asked = this.restless * Math.min(5, Math.max(0.5, Math.sqrt(this.surprise / SURPRISE_USUAL)));
    const isStill =
      Math.hypot(this.vx, this.vy) < STILL_SPEED && Math.abs(this.turn) < STILL_TURN && this.surprise < SURPRISE_USUAL;
    if (isStill) this.restless = STILL;
    else this.restless = Math.min(RESTLESS_MAX, Math.max(1, this.restless + (asked - this.restless) * RESTLESS_GAIN));
  }

  /** Copies the whole state into `to`, or takes it from there. @param to Float64Array[90]. */
  save(to: Float64Array): void {
    to.set([this.x, this.y, this.heading, this.vx, this.vy, this.turn, this.ax, this.ay, this.turnRamp]);
    to.set(this.p, 9);
  }
  restore(from: Readonly<Float64Array>): void {
    this.x = from[0];
    this.y = from[1];
    this.heading = from[2];
    this.vx = from[3];
    this.vy = from[4];
    this.turn = from[5];
    this.ax = from[6];
    this.ay = from[7];
    this.turnRamp = from[8];
    this.p.set(from.subarray(9, 90));
  }

  /** Takes the speeds anew from the way since an earlier pose: after a match that owes nothing to the prediction. @param t s since then, > 0. */
  renewSpeeds(earlier: Pose, t: number): void {
    const turn = this.heading - earlier.heading;
    const c = Math.cos(earlier.heading + turn / 2);
    const s = Math.sin(earlier.heading + turn / 2);
    const dx = this.x - earlier.x;
    const dy = this.y - earlier.y;
    this.vx = (c * dx + s * dy) / t;
    this.vy = (-s * dx + c * dy) / t;
    this.turn = turn / t;
    this.ax = 0;
    this.ay = 0;
    this.turnRamp = 0;
    const p = this.p;
    for (let i = 3; i < 9; i++) {
      for (let j = 0; j < 9; j++) {
        p[i * 9 + j] = 0;
        p[j * 9 + i] = 0;
      }
      p[i * 10] = SPEEDS_RENEWED[i - 3] ** 2;
    }
  }

  /** Starts anew where the rover is thought to be: the pose defines a new reference, the speeds are not known. */
  restart(): void {
    const { x, y, heading } = this;
    this.reset();
    this.x = x;
    this.y = y;
    this.heading = heading;
  }

  /** Moves the pose (m, m, rad, rover axes) and sets its standard deviations, forgetting how it hung together with the rest. */
  place(dx: number, dy: number, turn: number, shiftSd: number, turnSd: number): void {
    const c = Math.cos(this.heading);
    const s = Math.sin(this.heading);
    this.x += c * dx - s * dy;
    this.y += s * dx + c * dy;
    this.heading += turn;
    const p = this.p;
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 9; j++) {
        p[i * 9 + j] = 0;
        p[j * 9 + i] = 0;
      }
    }
    p[0] = shiftSd * shiftSd;
    p[10] = shiftSd * shiftSd;
    p[20] = turnSd * turnSd;
  }

  /** Takes the state as it is as the prior of the updates that follow. @returns false where the covariance has lost its meaning. */
  begin(): boolean {
    this.#moved.fill(0);
    if (!factor(this.p, 9, this.#a)) return false;
    invertFactored(this.#a, 9, this.#prior, this.#work);
    return true;
  }

  /**
   * One step of the iterated update: prior and evidence together. The covariance becomes the posterior's.
   * @param information, gradient Float64Array[81], [9] of the evidence about the present state.
   * @returns Float64Array[9], the step taken; valid until the next call. Null where the equations are not sound.
   */
  update(information: Readonly<Float64Array>, gradient: Readonly<Float64Array>): Readonly<Float64Array> | null {
    const a = this.#a;
    const b = this.#step;
    const prior = this.#prior;
    const moved = this.#moved;
    for (let i = 0; i < 9; i++) {
      let pull = -gradient[i];
      for (let k = 0; k < 9; k++) {
        a[i * 9 + k] = prior[i * 9 + k] + information[i * 9 + k];
        pull -= prior[i * 9 + k] * moved[k];
      }
      b[i] = pull;
    }
    if (!factor(a, 9, a)) return null;
    solveFactored(a, 9, b);
    for (let i = 0; i < 9; i++) {
      if (!Number.isFinite(b[i])) return null;
      moved[i] += b[i];
    }
    invertFactored(a, 9, this.p, this.#work);
    this.#move(b);
    let surprise = 0;
    for (let i = 0; i < 9; i++) for (let k = 0; k < 9; k++) surprise += moved[i] * prior[i * 9 + k] * moved[k];
    this.surprise = surprise;
    return b;
  }
}
