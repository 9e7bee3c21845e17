import type { FrameSource } from '../../src/perception/shapes/frameMaker.js';
import type { World, WorldSweep } from './worlds.js';

/** A sweep of a simulated drive as the frame maker takes it, and the truth's motion about its middle: for the deskew alone. */
export function worldSource(world: World, sweep: WorldSweep): { source: FrameSource; motion: Float64Array } {
  const count = sweep.ranges.length;
  const source = {
    count,
    bearing: Float32Array.from(sweep.bearings, (b) => Math.atan2(Math.sin(b), Math.cos(b))),
    range: Float32Array.from(sweep.ranges, (r) => (r > 0 ? r : Infinity)),
    kind: Uint8Array.from(sweep.ranges, (r) => (r > 0 ? 0 : 1)),
    sense: world.sense,
  };
  const [mx, my, heading] = sweep.truth.pose[4];
  const c = Math.cos(heading);
  const s = Math.sin(heading);
  const motion = Float64Array.from(
    sweep.truth.pose.flatMap(([x, y, a]) => [
      c * (x - mx) + s * (y - my),
      c * (y - my) - s * (x - mx),
      Math.atan2(Math.sin(a - heading), Math.cos(a - heading)),
    ]),
  );
  return { source, motion };
}
