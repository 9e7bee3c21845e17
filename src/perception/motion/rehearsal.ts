import { TAU, wrapAngle } from '../../core/angles.js';
import { SAMPLE_KIND } from '../../sweep/echoBatch.js';
import type { Sweep } from '../../sweep/sweep.js';

/** Half width and half length of the made-up room, m; radius of who walks in it. */
const ROOM = [2.4, 3.6] as const;
const WALKER = 0.17;
const PERIOD = 0.1;

/**
 * Sweeps of a made-up room with a rover that drives a circle and somebody who walks to and fro. They serve to run the perception
 * code hot before the first real sweep, when every line of it would otherwise be slow for its first seconds.
 * @param sweeps how many. @param samples in each.
 */
export function* rehearsalSweeps(sweeps: number, samples: number): Generator<Sweep> {
  let seed = 1;
  for (let k = 0; k < sweeps; k++) {
    const time = new Float64Array(samples);
    const bearing = new Float32Array(samples);
    const range = new Float32Array(samples);
    const kind = new Uint8Array(samples);
    for (let i = 0; i < samples; i++) {
      const t = (k + i / samples) * PERIOD;
      const heading = 0.5 * t;
      const b = (i * TAU) / samples;
      const x = 0.6 * Math.sin(heading);
      const y = 0.6 * (1 - Math.cos(heading));
      const wx = 1.5 * Math.cos(0.6 * t);
      seed = (seed * 1103515245 + 12345) % 2147483648; // ISO C's example generator
      const r = castRay(x, y, heading + b, wx, -1.4) + 0.01 * (seed / 2147483648 - 0.5);
      time[i] = t;
      bearing[i] = wrapAngle(b);
      const isEmpty = seed % 64 === 0;
      range[i] = isEmpty ? Infinity : r;
      kind[i] = isEmpty ? SAMPLE_KIND.empty : SAMPLE_KIND.echo;
    }
    yield {
      number: k + 1,
      count: samples,
      firstTime: k * PERIOD,
      period: PERIOD,
      time,
      bearing,
      range,
      strength: new Uint16Array(samples),
      kind,
      sense: 1,
    };
  }
}

/** m, from (x, y) along `direction` to the walls of the room or to a round walker at (wx, wy). */
function castRay(x: number, y: number, direction: number, wx: number, wy: number): number {
  const c = Math.cos(direction);
  const s = Math.sin(direction);
  const alongX = c > 0 ? (ROOM[1] - x) / c : c < 0 ? (-ROOM[1] - x) / c : Infinity;
  const alongY = s > 0 ? (ROOM[0] - y) / s : s < 0 ? (-ROOM[0] - y) / s : Infinity;
  const wall = Math.min(alongX, alongY);
  const along = (wx - x) * c + (wy - y) * s;
  const off = (wx - x) * s - (wy - y) * c;
  const half = WALKER * WALKER - off * off;
  return half > 0 && along > 0 ? Math.min(wall, along - Math.sqrt(half)) : wall;
}
