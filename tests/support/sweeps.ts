import { wrapAngle } from '../../src/core/angles.js';
import { SAMPLE_KIND } from '../../src/sweep/echoBatch.js';
import type { Sweep } from '../../src/sweep/sweep.js';

/** A line of NDJSON sweeps (contract): times in s, bearings in rad, ranges in m, 0 for no return. */
export interface SweepLine {
  readonly t: number;
  readonly dt?: number;
  readonly bearings?: readonly number[];
  readonly angle0?: number;
  readonly step?: number;
  readonly ranges: readonly number[];
}

/** @param near m, an echo nearer than this is none that can be believed. */
export function toSweep(line: SweepLine, number: number, near = 0.15): Sweep {
  const n = line.ranges.length;
  const bearings = line.bearings ?? line.ranges.map((_, i) => (line.angle0 ?? 0) + i * (line.step ?? 0));
  const dt = line.dt ?? 0;
  const range = new Float32Array(n);
  const kind = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const r = line.ranges[i];
    range[i] = r > 0 ? r : Infinity;
    kind[i] = r > 0 ? (r < near ? SAMPLE_KIND.tooNear : SAMPLE_KIND.echo) : SAMPLE_KIND.empty;
  }
  const middle = n >> 1;
  return {
    number,
    count: n,
    firstTime: line.t,
    period: dt * n,
    time: Float64Array.from({ length: n }, (_, i) => line.t + i * dt),
    bearing: Float32Array.from(bearings, (b) => wrapAngle(b)),
    range,
    strength: new Uint16Array(n),
    kind,
    sense: wrapAngle(bearings[middle + 1] - bearings[middle]) < 0 ? -1 : 1,
  };
}
