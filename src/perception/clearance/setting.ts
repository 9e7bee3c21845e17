import type { NoiseModel } from '../../estimate/noise.js';
import type { Outline } from '../../geometry/outline.js';

/** What the clearance machine must know; SI, rover axes. */
export interface ClearanceSetting {
  readonly outline: Outline;
  /** m, place of the sensor from the rover's origin. */
  readonly sensor: readonly [number, number];
  /** m, nearest and farthest range the sensor can be believed. */
  readonly reach: readonly [number, number];
  /** Number of sectors; they fill the circle evenly. */
  readonly sectors: number;
  /** rad, where sector 0 begins. */
  readonly firstBearing: number;
  /** m, how far a sample received as empty vouches; NaN: it does not. */
  readonly noReturn: number;
  /** m, below which a fall of leeway is told at once. */
  readonly urgent: number;
  /** m/s, fastest the rover can go. */
  readonly speedMax: number;
  /** rad/s, fastest the rover can turn. */
  readonly turnMax: number;
  readonly noise: NoiseModel;
}

/** Pose of the rover in some fixed frame: m, m, rad. */
export interface Pose {
  x: number;
  y: number;
  heading: number;
}

/**
 * The rover's motion, where it is known: evidence is moved by it and only its uncertainty is paid for.
 * The frame is any that stands still while evidence lives (a few revolutions).
 */
export interface KnownMotion {
  /** Writes the rover's pose at `time` (s, Clock) into `out`, extrapolated where it is newer than the last estimate. */
  poseAt(time: number, out: Pose): void;
  /** @returns m, how far the movement over the last `age` seconds can be off. */
  travelDoubt(age: number): number;
  /** @returns rad, how far the turn over the last `age` seconds can be off. */
  turnDoubt(age: number): number;
}
