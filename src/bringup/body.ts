import type { SensorSetting } from '../device/setting.js';
import type { Outline } from '../geometry/outline.js';
import { SAMPLE_KIND } from '../sweep/echoBatch.js';
import type { Sweep } from '../sweep/sweep.js';
import { binOf, runsOf, type Stretch, stretchOf } from './stretches.js';

/** Something of the rover in the beam's way. */
export interface BodyPart extends Stretch {
  /** m, farthest echo of it from the sensor. */
  readonly upTo: number;
}

const BINS = 360;
/** m: an outline measured with a tape may be off by this. */
const MARGIN = 0.03;
/** Of the samples of a bearing: what comes and goes is not the rover. */
const STAYS = 0.5;

/** @returns where echoes from inside the outline, or nearer than the sensor's reach, stay although nothing masks them. */
export function bodyOf(sweeps: readonly Sweep[], outline: Outline, { mount }: SensorSetting): BodyPart[] {
  const total = new Uint32Array(BINS);
  const own = new Uint32Array(BINS);
  const far = new Float64Array(BINS);
  for (const { count, bearing, range, kind } of sweeps) {
    for (let i = 0; i < count; i++) {
      const bin = binOf(bearing[i], BINS);
      total[bin]++;
      if (kind[i] !== SAMPLE_KIND.echo && kind[i] !== SAMPLE_KIND.tooNear) continue;
      const x = mount.x + range[i] * Math.cos(bearing[i]);
      const y = mount.y + range[i] * Math.sin(bearing[i]);
      if (kind[i] === SAMPLE_KIND.echo && outline.distance(x, y) > MARGIN) continue;
      own[bin]++;
      far[bin] = Math.max(far[bin], range[i]);
    }
  }
  return runsOf(BINS, (bin) => total[bin] > 0 && own[bin] >= STAYS * total[bin]).map((run) => {
    let upTo = 0;
    for (let bin = run.first; bin < run.last; bin++) upTo = Math.max(upTo, far[bin % BINS]);
    return { ...stretchOf(run, BINS), upTo };
  });
}
