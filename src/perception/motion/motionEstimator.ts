import type { Sweep } from '../../sweep/sweep.js';
import { deskew, poseAlong, type Twist } from './deskew.js';
import { FreeSpace } from './freeSpace.js';
import { LineMatcher } from './match.js';
import { MotionFilter } from './motionFilter.js';
import { PieceFinder } from './pieces.js';
import { type Pose, Reference } from './reference.js';
import { type SensorModel, SweepPoints } from './sweepPoints.js';
import { WheelCalibration, type WheelReading } from './wheels.js';

/** Rounds of matching at most; the state has settled when a round moves it by less than these (m, rad). */
const ROUNDS_MAX = 8;
const SETTLED_SHIFT = 0.006;
const SETTLED_TURN = 0.002;
/** m, what a turn may still move the farthest echo. */
const SETTLED_FAR = 0.025;
/** A match is trusted with this many echoes, this share of them on lines, and not this many through lines for one on them. */
const MATCHED_MIN = 12;
const SHARE_MIN = 0.35;
const THROUGH_MAX = 1.5;
/** Mean squared normalised residual of a match that is trusted. */
const CHI_MAX = 3;
const CHI_GOOD = 1.5;
/** m, rad: a prediction less sure than this makes a further round needed. */
const WIDE_SHIFT = 0.03;
const WIDE_TURN = 0.01;
/** A share of matched echoes below this part of the usual one calls for a second try; how little the prediction is believed then. */
const USUAL = 0.8;
const LOOSE_SHIFT_SD = 0.15;
const LOOSE_TURN_SD = 0.08;
const LOOSE_SURPRISE = 60;
/** Wide search: where it starts from (rad, m about the prediction), and how sure each start is of itself. */
const WIDE_TURNS = [0, 0.12, -0.12, 0.25, -0.25, 0.4, -0.4, 0.6, -0.6] as const;
const WIDE_SHIFTS = [
  [0, 0],
  [0.25, 0],
  [-0.25, 0],
  [0, 0.25],
  [0, -0.25],
] as const;
const WIDE_SHIFT_SD = 0.12;
const WIDE_TURN_SD = 0.06;
/** Share of all echoes by which a far start must explain more than a near one. */
const WIDE_BETTER = 0.05;
/** What a leap from the prediction costs: this share of the echoes for one of these (m, rad), rising with its square. */
const LEAP = 0.1;
const LEAP_SHIFT = 0.2;
const LEAP_TURN = 0.3;
/** Sweeps in a row without a trusted match after which the reference is built anew from where the rover is thought to be. */
const LOST_SWEEPS = 4;
/** m and rad per root metre: how the reference itself wanders as its lines are replaced. Measured over simulated drives. */
const WANDER_SHIFT = 0.001;
const WANDER_TURN = 0.0003;
/** Sweeps in a row that must see through a line, or echoes off it by this factor in variance, before it is given up. */
const MISSES_MAX = 4;
const ROUGH_MAX = 2;
const ROUGH_AFTER = 10;

export interface MotionSetting {
  readonly sensor: SensorModel;
}

/** Where the rover was at the middle of a sweep and how it moved; the fields of the Motion message and what others need. */
export interface MotionResult {
  /** s, Clock: the moment of `pose`. */
  readonly time: number;
  /** Rover axes in the frame of the first sweep. */
  readonly pose: Pose;
  readonly twist: Twist;
  /** Upper triangle of the covariance of x, y (m, frame of the start) and heading: xx, xy, xh, yy, yh, hh; since the start. */
  readonly covariance: readonly number[];
  /** Upper triangle of the covariance of `twist`'s vx, vy (m/s) and turn (rad/s). */
  readonly twistCovariance: readonly number[];
  /** [0, 1]: 1 where all echoes agree with what is known to stand, 0 where the motion is only carried on. */
  readonly quality: number;
  /** @param time s, Clock. @returns the pose then, by the same arc that freed the sweep of its motion. */
  poseAt(time: number): Pose;
}

/**
 * The rover's motion from sweeps alone, or with the wheels' help. One call a sweep, in order.
 * What it worked out about the echoes ({@link points}, {@link standing}, {@link free}) stays valid until the next call.
 */
export class MotionEstimator {
  readonly tally = { sweeps: 0, wide: 0, lost: 0, rebuilt: 0, rounds: 0 };
  readonly points = new SweepPoints();
  readonly reference = new Reference();
  readonly free = new FreeSpace();
  readonly wheels = new WheelCalibration();
  /** Per echo: 1 where a proven line of the reference explains it. */
  standing = new Uint8Array(0);
  readonly #sensor: SensorModel;
  readonly #filter = new MotionFilter();
  readonly #matcher = new LineMatcher();
  readonly #pieces = new PieceFinder();
  readonly #before = new Float64Array(90);
  readonly #best = new Float64Array(90);
  #time = NaN;
  #number = 0;
  #failed = 0;
  #wander = 0;
  /** m² and rad², what the pose since the start has lost for good when the reference was built anew. */
  #lostShift = 0;
  #lostTurn = 0;
  /** The last trusted pose and its time. */
  #trusted: Pose = { x: 0, y: 0, heading: 0 };
  #trustedTime = Infinity;
  #quality = 0;
  /** Share of echoes on lines of late. */
  #share = 0;

  constructor(setting: MotionSetting) {
    this.#sensor = setting.sensor;
  }

  /**
   * @param sweep the newest; sweeps in between may be missing.
   * @param readings what the wheels said since the last call, oldest first.
   * @cost bounded: ROUNDS_MAX passes over the echoes, and a wide search over thinned echoes where the match is not trusted.
   */
  update(sweep: Sweep, readings: readonly WheelReading[] = []): MotionResult {
    const { points, reference } = this;
    const filter = this.#filter;
    for (const reading of readings) this.wheels.push(reading);
    points.load(sweep, this.#sensor);
    if (this.standing.length < points.count) this.standing = new Uint8Array(points.index.length);
    this.tally.sweeps++;
    this.#number++;
    const passed = Number.isNaN(this.#time) ? 0 : Math.max(0, points.middle - this.#time);
    this.#time = points.middle;
    if (passed > 0) this.#predict(passed);
    const half = sweep.period / 2;
    const hasMatch = reference.count > 0 && this.#match(half);
    if (reference.count === 0) {
      this.#quality = 0;
      this.#trusted = filter.pose;
      this.#trustedTime = this.#time;
    }
    if (passed > 0 && hasMatch) this.#learnWheels(passed);
    deskew(points, this.#sensor, filter.twist);
    this.#tellStanding();
    if (hasMatch || reference.count === 0) {
      if (reference.count > 0) reference.absorb(this.#number % reference.count);
      this.#pieces.extend(points, reference, this.#sensor, filter.pose, filter.p, this.#number, this.free);
      this.free.keep(points, this.#sensor, filter.pose);
    }
    return this.#result();
  }

  #predict(passed: number): void {
    const filter = this.#filter;
    const { x, y } = filter;
    filter.predict(passed);
    this.#wander += Math.hypot(filter.x - x, filter.y - y);
    const speeds = this.wheels.between(this.#time - passed, this.#time);
    if (speeds === undefined) return;
    const isRolling =
      filter.takeSpeed(0, speeds.vx, speeds.speedSd, passed) && filter.takeSpeed(2, speeds.turn, speeds.turnSd, passed);
    if (isRolling) {
      filter.takeSpeed(1, speeds.vy, speeds.speedSd, passed);
      this.wheels.tally.used++;
    } else this.wheels.tally.slipped++;
  }

  #learnWheels(passed: number): void {
    const { vx, turn, ax, turnRamp, p } = this.#filter;
    const half = passed / 2;
    this.wheels.learn(
      this.#time - passed,
      this.#time,
      vx - ax * half,
      Math.sqrt(p[30] + half * half * p[60]),
      turn - turnRamp * half,
      Math.sqrt(p[50] + half * half * p[80]),
    );
  }

  /** @returns whether the match is trusted; where not, the state is the prediction's. */
  #match(half: number): boolean {
    const filter = this.#filter;
    filter.save(this.#before);
    const isBlind = this.points.count < MATCHED_MIN;
    let step = isBlind ? null : this.#settle(half, 1);
    const isUsual = step !== null && this.#isUsual();
    if (!isUsual && !isBlind) step = this.#tryOthers(half, step);
    if (step === null) {
      filter.restore(this.#before);
      this.points.owner.fill(-1, 0, this.points.count);
      this.#quality = 0;
      this.tally.lost++;
      if (!isBlind && ++this.#failed >= LOST_SWEEPS) {
        // nothing known fits any more: what is seen now becomes the reference
        this.#lostShift += (filter.p[0] + filter.p[10]) / 2;
        this.#lostTurn += filter.p[20];
        this.reference.clear();
        filter.restart();
        this.#failed = 0;
        this.tally.rebuilt++;
      }
      return false;
    }
    this.#failed = 0;
    if (!isUsual) {
      filter.surprise = LOOSE_SURPRISE;
      if (this.#time > this.#trustedTime) filter.renewSpeeds(this.#trusted, this.#time - this.#trustedTime);
    }
    this.#trusted = filter.pose;
    this.#trustedTime = this.#time;
    if (this.#matcher.chi < CHI_GOOD * this.#matcher.matched) filter.learnRestlessness();
    this.#share += (this.#matcher.matched / this.points.count - this.#share) * 0.1;
    const { matched, chi } = this.#matcher;
    this.#quality = (matched / this.points.count) * Math.min(1, matched / Math.max(1, chi));
    this.#matcher.learn(this.reference, step, filter.p, this.#number);
    this.#weed();
    return true;
  }

  /** Rounds of deskewing, matching and updating until the state rests. @returns the last step, or null where the equations failed. */
  #settle(half: number, stride: number): Readonly<Float64Array> | null {
    const { points, reference } = this;
    const filter = this.#filter;
    const matcher = this.#matcher;
    if (!filter.begin()) return null;
    for (let round = 0; round < ROUNDS_MAX; round++) {
      this.tally.rounds++;
      deskew(points, this.#sensor, filter.twist);
      const isWide = filter.p[0] + filter.p[10] > WIDE_SHIFT * WIDE_SHIFT || filter.p[20] > WIDE_TURN * WIDE_TURN;
      const slack = 0.01 + 3 * Math.sqrt(filter.p[20]);
      const shift = Math.hypot(filter.vx, filter.vy) * half + 3 * Math.sqrt(filter.p[0] + filter.p[10]);
      reference.project(filter.pose, this.#sensor, points.step, slack, shift);
      matcher.gather(points, reference, this.#sensor, filter.p, filter.turn, half, stride);
      matcher.assemble(reference);
      const step = filter.update(matcher.information, matcher.gradient);
      if (step === null) return null;
      if (round === 0 && isWide) continue; // associations made in wide gates are made again in narrow ones
      if (
        Math.hypot(step[0], step[1]) < SETTLED_SHIFT &&
        Math.abs(step[2]) < Math.min(SETTLED_TURN, SETTLED_FAR / points.farthest)
      )
        return step;
    }
    return null;
  }

  #isTrusted(): boolean {
    const { matched, passedThrough, chi } = this.#matcher;
    return (
      matched >= MATCHED_MIN &&
      chi < CHI_MAX * matched &&
      matched >= SHARE_MIN * this.points.count &&
      passedThrough < THROUGH_MAX * matched
    );
  }

  /** Whether about as many echoes found a line as of late. */
  #isUsual(): boolean {
    const { matched } = this.#matcher;
    return this.#isTrusted() && matched >= USUAL * this.#share * this.points.count;
  }

  /** How much a match explains: echoes on lines, less those that contradict one. */
  #score(): number {
    return this.#matcher.matched - this.#matcher.passedThrough;
  }

  /** How far from the prediction a start has ended, as a share of echoes that it must explain more for being so. */
  #leap(): number {
    const filter = this.#filter;
    const dx = filter.x - this.#before[0];
    const dy = filter.y - this.#before[1];
    const turn = filter.heading - this.#before[2];
    return LEAP * ((dx * dx + dy * dy) / (LEAP_SHIFT * LEAP_SHIFT) + (turn * turn) / (LEAP_TURN * LEAP_TURN));
  }

  /**
   * Where the fine match explains less than usual: the same with little belief in the prediction, then from many places around it.
   * What explains most is kept, if it is to be trusted. @param step of the fine match, or null.
   */
  #tryOthers(half: number, step: Readonly<Float64Array> | null): Readonly<Float64Array> | null {
    const filter = this.#filter;
    let best = step !== null && this.#isTrusted() ? this.#score() : -Infinity;
    let from: readonly [number, number, number] | null = null;
    const isFineTrusted = best > -Infinity;
    filter.restore(this.#before);
    filter.place(0, 0, 0, LOOSE_SHIFT_SD, LOOSE_TURN_SD);
    const loose = this.#settle(half, 1);
    if (loose !== null && this.#isUsual() && this.#score() > best) return loose;
    if (loose !== null && this.#isTrusted() && this.#score() > best) {
      best = this.#score();
      from = [0, 0, 0];
    }
    this.tally.wide++;
    const stride = Math.max(1, Math.floor(this.points.count / 120));
    for (const turn of WIDE_TURNS) {
      for (const [dx, dy] of WIDE_SHIFTS) {
        filter.restore(this.#before);
        filter.place(dx, dy, turn, WIDE_SHIFT_SD, WIDE_TURN_SD);
        if (this.#settle(half, stride) === null) continue;
        const score = stride * this.#score() - this.points.count * this.#leap();
        if (score <= best + WIDE_BETTER * this.points.count) continue;
        best = score;
        filter.save(this.#best);
        from = [dx, dy, turn];
      }
    }
    if (from === null && !isFineTrusted) return null;
    filter.restore(this.#before);
    if (from !== null) {
      if (from[0] === 0 && from[1] === 0 && from[2] === 0) filter.place(0, 0, 0, LOOSE_SHIFT_SD, LOOSE_TURN_SD);
      else {
        filter.restore(this.#best);
        filter.place(0, 0, 0, WIDE_SHIFT_SD / 2, WIDE_TURN_SD / 2);
      }
    }
    const last = this.#settle(half, 1);
    return last !== null && this.#isTrusted() ? last : null;
  }

  /** Gives up lines that beams go through, and those that turned out to be no lines. */
  #weed(): void {
    const { reference, points } = this;
    const { through, used } = this.#matcher;
    for (let j = reference.count - 1; j >= 0; j--) {
      const isGone = through[j] > 3 && through[j] > 2 * used[j];
      if (isGone) reference.misses[j]++;
      else if (used[j] > 0) reference.misses[j] = 0;
      if (reference.misses[j] < MISSES_MAX && !(reference.rough[j] > ROUGH_MAX && reference.hits[j] > ROUGH_AFTER))
        continue;
      for (let i = 0; i < points.count; i++) {
        if (points.owner[i] === j) points.owner[i] = -1;
        else if (points.owner[i] === reference.count - 1) points.owner[i] = j; // the last row takes this one's place
      }
      reference.remove(j);
    }
  }

  #tellStanding(): void {
    const { points, reference, standing } = this;
    for (let i = 0; i < points.count; i++) {
      const j = points.owner[i];
      standing[i] = j >= 0 && reference.isProven(j) ? 1 : 0;
    }
  }

  #result(): MotionResult {
    const filter = this.#filter;
    const { p, pose, twist } = filter;
    const time = this.#time;
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const shift = WANDER_SHIFT * WANDER_SHIFT * this.#wander + this.#lostShift;
    const turn = WANDER_TURN * WANDER_TURN * this.#wander + this.#lostTurn;
    return {
      time,
      pose,
      twist,
      covariance: [
        c * c * p[0] - 2 * c * s * p[1] + s * s * p[10] + shift,
        c * s * (p[0] - p[10]) + (c * c - s * s) * p[1],
        c * p[2] - s * p[11],
        s * s * p[0] + 2 * c * s * p[1] + c * c * p[10] + shift,
        s * p[2] + c * p[11],
        p[20] + turn,
      ],
      twistCovariance: [p[30], p[31], p[32], p[40], p[41], p[50]],
      quality: Math.min(1, this.#quality),
      poseAt: (t: number) => poseAlong(pose, twist, t - time),
    };
  }
}
