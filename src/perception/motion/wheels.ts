import { wrapAngle } from '../../core/angles.js';

/** One reading of the wheels' own dead reckoning. */
export interface WheelReading {
  /** s, Clock. */
  readonly time: number;
  /** m, m, rad in the wheels' own frame. */
  readonly x: number;
  readonly y: number;
  readonly heading: number;
}

/** What the wheels say about a stretch of time: mean speeds in rover axes with their standard deviations. */
export interface WheelSpeeds {
  readonly vx: number;
  readonly vy: number;
  readonly turn: number;
  readonly speedSd: number;
  readonly turnSd: number;
}

const KEPT = 128;
/** Errors at the start: scale of way and of turning, s of time offset. */
const SCALE_SD = 0.1;
const OFFSET_SD = 0.05;
/** s: a clock offset beyond this is a fault of the client's, not an offset to be followed. */
const OFFSET_MAX = 0.3;
/** How far wheels are off even when they roll: share of the speed, m/s, rad/s. Common practice for small wheels; learned on from there. */
const SHARE_SD = 0.03;
const SPEED_SD = 0.01;
const TURN_SD = 0.02;
/** s, oldest newest reading that still says something; m/s² and rad/s², how the speeds may have changed since. */
const LATE_MAX = 0.15;
const SURGE = 0.6;
const TURN_SURGE = 1.5;
/** Squared standard deviations at which wheels are taken to slip. */
const SLIP = 12;

/**
 * Turns the wheels' dead reckoning into speeds the motion filter can use: scale of way and turning and the time offset are
 * estimated from what matching finds (an extended Kalman filter of three constants), and a wheel that slips is left out.
 */
export class WheelCalibration {
  readonly tally = { used: 0, slipped: 0, late: 0 };
  wayScale = 1;
  turnScale = 1;
  /** s, added to a reading's time. */
  offset = 0;
  readonly #p = new Float64Array(9);
  readonly #time = new Float64Array(KEPT);
  readonly #x = new Float64Array(KEPT);
  readonly #y = new Float64Array(KEPT);
  readonly #heading = new Float64Array(KEPT);
  #count = 0;

  constructor() {
    this.#p[0] = SCALE_SD * SCALE_SD;
    this.#p[4] = SCALE_SD * SCALE_SD;
    this.#p[8] = OFFSET_SD * OFFSET_SD;
  }

  /** Takes a reading. One older than the newest is dropped and tallied; a jump of the wheels' frame starts anew. */
  push(reading: WheelReading): void {
    const n = this.#count;
    if (n > 0) {
      const last = (n - 1) % KEPT;
      if (!(reading.time > this.#time[last])) {
        this.tally.late++;
        return;
      }
    }
    const k = n % KEPT;
    this.#time[k] = reading.time;
    this.#x[k] = reading.x;
    this.#y[k] = reading.y;
    this.#heading[k] =
      n === 0
        ? reading.heading
        : this.#heading[(n - 1) % KEPT] + wrapAngle(reading.heading - this.#heading[(n - 1) % KEPT]);
    this.#count++;
  }

  /** @returns mean speeds between two Clock times with scale and offset applied, or undefined where readings do not cover them. */
  between(from: number, to: number): WheelSpeeds | undefined {
    if (this.#count < 2) return undefined;
    // Readings come late: a stretch that ends a little after the newest one is answered by the stretch before it.
    const late = Math.max(0, to - this.offset - this.#time[(this.#count - 1) % KEPT]);
    if (late > LATE_MAX) return undefined;
    const raw = this.#raw(from - this.offset - late, to - this.offset - late);
    if (raw === undefined) return undefined;
    const speed = Math.hypot(raw.vx, raw.vy);
    const scaleSd = Math.sqrt(this.#p[0]);
    const turnScaleSd = Math.sqrt(this.#p[4]);
    return {
      vx: raw.vx * this.wayScale,
      vy: raw.vy * this.wayScale,
      turn: raw.turn * this.turnScale,
      speedSd: Math.hypot(SPEED_SD + late * SURGE, SHARE_SD * speed, scaleSd * speed),
      turnSd: Math.hypot(TURN_SD + late * TURN_SURGE, SHARE_SD * Math.abs(raw.turn), turnScaleSd * Math.abs(raw.turn)),
    };
  }

  /**
   * Learns from what matching found for the same stretch.
   * @param vx, turn m/s, rad/s, means over the stretch, with their standard deviations.
   */
  learn(from: number, to: number, vx: number, vxSd: number, turn: number, turnSd: number): void {
    const raw = this.#raw(from - this.offset, to - this.offset);
    const sooner = this.#raw(from - this.offset - 0.02, to - this.offset - 0.02);
    if (raw === undefined || sooner === undefined) return;
    // d(raw)/d(offset): a larger offset looks at earlier readings
    const dv = (sooner.vx - raw.vx) / 0.02;
    const dw = (sooner.turn - raw.turn) / 0.02;
    const rv = vxSd * vxSd + SPEED_SD * SPEED_SD + (SHARE_SD * raw.vx) ** 2;
    const rw = turnSd * turnSd + TURN_SD * TURN_SD + (SHARE_SD * raw.turn) ** 2;
    this.#update([raw.vx, 0, this.wayScale * dv], vx - this.wayScale * raw.vx, rv);
    this.#update([0, raw.turn, this.turnScale * dw], turn - this.turnScale * raw.turn, rw);
    this.offset = Math.min(OFFSET_MAX, Math.max(-OFFSET_MAX, this.offset));
  }

  #update(h: readonly [number, number, number], residual: number, r: number): void {
    const p = this.#p;
    const ph = [0, 1, 2].map((i) => p[3 * i] * h[0] + p[3 * i + 1] * h[1] + p[3 * i + 2] * h[2]);
    const s = h[0] * ph[0] + h[1] * ph[1] + h[2] * ph[2] + r;
    if (residual * residual > SLIP * s) {
      this.tally.slipped++;
      return;
    }
    this.wayScale += (ph[0] / s) * residual;
    this.turnScale += (ph[1] / s) * residual;
    this.offset += (ph[2] / s) * residual;
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) p[3 * i + j] -= (ph[i] * ph[j]) / s;
  }

  /** Mean speeds between two of the wheels' own times, by interpolation; rover axes of the middle of the stretch. */
  #raw(from: number, to: number): { vx: number; vy: number; turn: number } | undefined {
    const a = this.#at(from);
    const b = this.#at(to);
    const t = to - from;
    if (a === undefined || b === undefined || !(t > 0)) return undefined;
    const turn = b[2] - a[2];
    const middle = a[2] + turn / 2;
    const c = Math.cos(middle);
    const s = Math.sin(middle);
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    return { vx: (c * dx + s * dy) / t, vy: (-s * dx + c * dy) / t, turn: turn / t };
  }

  #at(time: number): readonly [number, number, number] | undefined {
    const n = this.#count;
    const oldest = Math.max(0, n - KEPT);
    for (let i = n - 1; i > oldest; i--) {
      const k = i % KEPT;
      const j = (i - 1) % KEPT;
      if (this.#time[j] > time) continue;
      if (this.#time[k] < time) return undefined; // newer than the newest
      const f = (time - this.#time[j]) / (this.#time[k] - this.#time[j]);
      return [
        this.#x[j] + f * (this.#x[k] - this.#x[j]),
        this.#y[j] + f * (this.#y[k] - this.#y[j]),
        this.#heading[j] + f * (this.#heading[k] - this.#heading[j]),
      ];
    }
    return undefined;
  }
}
