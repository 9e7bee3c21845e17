import { wrapAngle } from '../../src/core/angles.js';
import { DEFAULT_NOISE } from '../../src/estimate/noise.js';
import { Outline } from '../../src/geometry/outline.js';
import type { ClearanceSetting } from '../../src/perception/clearance/setting.js';
import type { PerceptionSetting } from '../../src/perception/perceive.js';
import { type EchoBatch, SAMPLE_KIND } from '../../src/sweep/echoBatch.js';

/** The defaults of the configuration, with the sensor at the rover's origin. */
export function clearanceSetting(changes: Partial<ClearanceSetting> = {}): ClearanceSetting {
  return {
    outline: new Outline([
      [0.2, 0.16],
      [-0.2, 0.16],
      [-0.2, -0.16],
      [0.2, -0.16],
    ]),
    sensor: [0, 0],
    reach: [0.15, 12],
    sectors: 72,
    firstBearing: 0,
    noReturn: NaN,
    urgent: 2,
    speedMax: 0.5,
    turnMax: 1,
    noise: DEFAULT_NOISE,
    ...changes,
  };
}

/** What the same defaults mean to the perception of whole sweeps. */
export function perceptionSetting(changes: Partial<PerceptionSetting> = {}): PerceptionSetting {
  const { outline, sensor, reach, noise } = clearanceSetting();
  return { outline: outline.corners, sensor, reach, noise, ...changes };
}

/** One sample in rover axes; a range of Infinity is a sample without echo. */
export interface Sample {
  readonly time: number;
  readonly bearing: number;
  readonly range: number;
  readonly kind?: number;
}

/** @returns the samples as the columns of one chunk. */
export function batchOf(samples: readonly Sample[], sense: 1 | -1 = 1): EchoBatch {
  return {
    count: samples.length,
    time: Float64Array.from(samples, (s) => s.time),
    bearing: Float32Array.from(samples, (s) => wrapAngle(s.bearing)),
    range: Float32Array.from(samples, (s) => s.range),
    strength: new Uint16Array(samples.length),
    kind: Uint8Array.from(samples, (s) => s.kind ?? (s.range === Infinity ? SAMPLE_KIND.empty : SAMPLE_KIND.echo)),
    start: new Uint8Array(samples.length),
    sense,
  };
}
