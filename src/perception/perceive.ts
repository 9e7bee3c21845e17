import { TAU, turnAngle, wrapAngle } from '../core/angles.js';
import type { NoiseModel } from '../estimate/noise.js';
import type { Corners } from '../geometry/outline.js';
import type { Sweep } from '../sweep/sweep.js';
import type { Pose } from './clearance/setting.js';
import type { Twist } from './motion/deskew.js';
import { MotionEstimator, type MotionResult } from './motion/motionEstimator.js';
import type { WheelReading } from './motion/wheels.js';
import { type Mover, MoverTracker } from './movers/moverTracker.js';
import { FrameMaker } from './shapes/frameMaker.js';
import { ShapeFinder, type Shapes } from './shapes/shapes.js';
import type { WallShape } from './shapes/walls.js';

/** What perception must know of rover and sensor; SI, rover axes. */
export interface PerceptionSetting {
  readonly outline: Corners;
  /** m, place of the sensor from the rover's origin. */
  readonly sensor: readonly [number, number];
  /** m, nearest and farthest range that can be believed. */
  readonly reach: readonly [number, number];
  readonly noise: NoiseModel;
}

/** All that one sweep says, about the rover's origin, rover axes at `time`. Fresh: the reader may keep it. */
export interface Percept {
  /** Sweep.number */
  readonly sweep: number;
  /** s, Clock: the moment that places are told for. */
  readonly time: number;
  readonly shapes: Shapes;
  readonly movers: readonly Mover[];
  readonly pose: Pose;
  readonly twist: Twist;
  /** Upper triangle of the covariance of x, y (m) and heading: xx, xy, xh, yy, yh, hh. */
  readonly covariance: readonly number[];
  /** [0, 1] */
  readonly quality: number;
}

/** Where in a sweep's time its percept stands: at its middle, or at its newest sample. */
export type Moment = 'middle' | 'end';

const OPENING_LONGEST = 2.5; // m, beyond it nothing is a gap any more
const OPENING_SLACK = 0.05; // m on either side of a rover that passes
const KNOTS = 9; // poses over a sweep, linear between: the arc of 1 rad/s and 1 m/s leaves such a chord by less than 0.1 mm

/** One pass a sweep: the rover's motion, the sweep freed of it, shapes, and what moves. Keeps what it knows from sweep to sweep. */
export class Perception {
  readonly motion: MotionEstimator;
  readonly #setting: PerceptionSetting;
  readonly #movers: MoverTracker;
  readonly #shapes: ShapeFinder;
  readonly #frames = new FrameMaker();
  readonly #rows = new Float64Array(3 * KNOTS);

  constructor(setting: PerceptionSetting) {
    const { outline, noise, reach } = setting;
    const sensor = { x: setting.sensor[0], y: setting.sensor[1], reach, noise };
    const across = outline.map(([, y]) => y);
    const passes = Math.max(...across) - Math.min(...across) + 2 * OPENING_SLACK;
    this.#setting = setting;
    this.motion = new MotionEstimator({ sensor });
    this.#movers = new MoverTracker({ sensor, outline });
    this.#shapes = new ShapeFinder({
      noise,
      sensor: setting.sensor,
      opening: [passes, Math.max(OPENING_LONGEST, 2 * passes)],
    });
  }

  /**
   * @param sweep the newest, bearings one way round within one turn; sweeps in between may be missing.
   * @param wheels what the wheels said since the last call, oldest first.
   */
  perceive(sweep: Sweep, wheels: readonly WheelReading[] = [], moment: Moment = 'end'): Percept {
    const motion = this.move(sweep, wheels);
    const time = moment === 'end' ? sweep.time[sweep.count - 1] : motion.time;
    const movers = this.track(motion, time);
    this.segment(sweep, motion, time);
    this.#shapes.straighten();
    const { twist, covariance, quality } = motion;
    return {
      sweep: sweep.number,
      time,
      shapes: this.#shapes.describe(),
      movers,
      pose: motion.poseAt(time),
      twist,
      covariance,
      quality,
    };
  }

  /** First part of {@link perceive}: how the rover moved. */
  move(sweep: Sweep, wheels: readonly WheelReading[] = []): MotionResult {
    return this.motion.update(sweep, wheels);
  }

  /** Second part: what moves. */
  track(motion: MotionResult, time: number): Mover[] {
    return this.#movers.update(this.motion, motion, time);
  }

  /** Third part: the sweep freed of the motion and cut into segments; what is left of it is {@link shapes}' own. */
  segment(sweep: Sweep, motion: MotionResult, time: number): void {
    this.#shapes.segment(this.#frames.make(sweep, this.#sensorRows(sweep, motion, time)));
  }

  /** Last part: the shapes; what the motion's speeds may be off by is added to the walls' doubt. */
  describe(sweep: Sweep, motion: MotionResult, time: number): Shapes {
    const found = this.#shapes.describe();
    return { ...found, walls: found.walls.map((wall) => this.#doubtByMotion(wall, sweep, motion, time)) };
  }

  /**
   * A wall seen u seconds from `time` was brought there by the motion: an error e of velocity moves it by u n·e along its normal n, an
   * error w of turn turns it by u w. (Along the wall nothing shows, and the turn about the origin leaves the distance as it is.)
   */
  #doubtByMotion(wall: WallShape, sweep: Sweep, motion: MotionResult, time: number): WallShape {
    const [xx, xy, xt, yy, yt, tt] = motion.twistCovariance;
    const [mx, my] = this.#setting.sensor;
    const bearing = Math.atan2((wall.y1 + wall.y2) / 2 - my, (wall.x1 + wall.x2) / 2 - mx);
    const u = sweep.firstTime + (turnAngle(sweep.sense * (bearing - sweep.bearing[0])) / TAU) * sweep.period - time;
    const c = Math.cos(wall.normal);
    const s = Math.sin(wall.normal);
    return {
      ...wall,
      distanceVar: wall.distanceVar + u * u * (c * c * xx + 2 * c * s * xy + s * s * yy),
      crossCov: wall.crossCov + u * u * (c * xt + s * yt),
      normalVar: wall.normalVar + u * u * tt,
    };
  }

  get shapes(): ShapeFinder {
    return this.#shapes;
  }

  /** The sensor's poses over the sweep, in its own frame at `time`. */
  #sensorRows(sweep: Sweep, motion: MotionResult, time: number): Float64Array {
    const rows = this.#rows;
    const [mx, my] = this.#setting.sensor;
    const at = motion.poseAt(time);
    const c = Math.cos(at.heading);
    const s = Math.sin(at.heading);
    for (let k = 0; k < KNOTS; k++) {
      const pose = motion.poseAt(sweep.firstTime + (k / (KNOTS - 1)) * sweep.period);
      const turn = wrapAngle(pose.heading - at.heading);
      const dx = pose.x - at.x;
      const dy = pose.y - at.y;
      rows[3 * k] = c * dx + s * dy + Math.cos(turn) * mx - Math.sin(turn) * my - mx;
      rows[3 * k + 1] = c * dy - s * dx + Math.sin(turn) * mx + Math.cos(turn) * my - my;
      rows[3 * k + 2] = turn;
    }
    return rows;
  }
}
