import { TAU } from '../core/angles.js';
import type { SensorSetting } from '../device/setting.js';
import type { Outline } from '../geometry/outline.js';
import { runsOf, type Stretch, stretchOf } from './stretches.js';

/** Where the sensor's blind ring reaches beyond the outline. */
export interface RingPart extends Stretch {
  /** m, farthest beyond the outline. */
  readonly beyond: number;
}

const BINS = 360;
/** m: nobody measures an outline better. */
const LEAST = 0.02;

/** @returns the parts of the circle where a thing beside the outline is too near to be seen; bearings about the sensor. */
export function ringOf(outline: Outline, { mount, reach }: SensorSetting): RingPart[] {
  const beyond = Float64Array.from({ length: BINS }, (_, bin) => {
    const bearing = ((bin + 0.5) / BINS) * TAU - Math.PI;
    return outline.distance(mount.x + reach[0] * Math.cos(bearing), mount.y + reach[0] * Math.sin(bearing));
  });
  return runsOf(BINS, (bin) => beyond[bin] > LEAST).map((run) => {
    let most = 0;
    for (let bin = run.first; bin < run.last; bin++) most = Math.max(most, beyond[bin % BINS]);
    return { ...stretchOf(run, BINS), beyond: most };
  });
}
