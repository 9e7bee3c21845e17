import type { Level } from '../../bringup/level.js';
import { wrapAngle } from '../../core/angles.js';
import { MotionEstimator } from '../../perception/motion/motionEstimator.js';
import type { SensorModel } from '../../perception/motion/sweepPoints.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import type { Sweep } from '../../sweep/sweep.js';

/** Share of the way to the floor beyond which an echo may be the floor's. */
const NEAR_FLOOR = 0.85;

/**
 * How far the rover turned on the whole, by the walls; echoes of the floor, which turn with the rover, are left out.
 * A rover that drives along a wall in place of turning keeps that wall where a floor would be: this tells the two apart.
 * @returns rad, >= 0.
 */
export function turnedBy(sweeps: readonly Sweep[], level: Level, sensor: SensorModel): number {
  const motion = new MotionEstimator({ sensor });
  let turned = 0;
  let before = 0;
  for (const sweep of sweeps) {
    const { heading } = motion.update(level.kind === 'tilted' ? withoutFloor(sweep, level) : sweep).pose;
    turned += wrapAngle(heading - before);
    before = heading;
  }
  return Math.abs(turned);
}

/** @source the floor at bearing b is where 1/r = cos(b - bearing) / range: see level.ts. */
function withoutFloor(sweep: Sweep, { bearing, range }: { readonly bearing: number; readonly range: number }): Sweep {
  const kind = sweep.kind.map((one, i) => {
    const inverse = Math.cos(sweep.bearing[i] - bearing) / range;
    return inverse * sweep.range[i] > NEAR_FLOOR ? SAMPLE_KIND.empty : one;
  });
  return { ...sweep, kind };
}
