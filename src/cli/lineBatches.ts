import type { Config } from '../config/config.js';
import { TAU, turnAngle, wrapAngle } from '../core/angles.js';
import { Echoes } from '../device/echoes.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import type { SweepLine } from './sweepLines.js';

/** Puts recorded sweeps into rover axes by the daemon's own mounting, range correction, reach and masks. */
export class LineBatches {
  readonly #clockwise: Echoes;
  readonly #counterclockwise: Echoes;

  constructor({ sensor }: Config) {
    this.#clockwise = new Echoes('clockwise', sensor);
    this.#counterclockwise = new Echoes('counterclockwise', sensor);
  }

  /** A recorded line counts its bearings counter-clockwise whichever way the beam went; a sensor counts along its beam. */
  batch({ t, dt, bearings, ranges }: SweepLine): EchoBatch {
    const count = ranges.length;
    const isClockwise = runsClockwise(bearings);
    const start = new Uint8Array(count);
    start[0] = 1;
    const samples = {
      count,
      bearing: Float32Array.from(bearings, (bearing) => turnAngle(isClockwise ? -bearing : bearing)),
      range: Float32Array.from(ranges),
      strength: new Uint16Array(count),
      start,
      index: new Float64Array(0), // only the arrival clock of a live line asks for these two
      begin: new Float64Array(0),
    };
    const time = Float64Array.from(ranges, (_, i) => t + (Number.isNaN(dt) ? 0 : i * dt));
    return (isClockwise ? this.#clockwise : this.#counterclockwise).convert(samples, time);
  }
}

/** @param bearings rad, counter-clockwise positive. @returns whether most steps go clockwise. */
function runsClockwise(bearings: Readonly<Float64Array>): boolean {
  let balance = 0;
  for (let i = 1; i < bearings.length; i++) {
    const step = wrapAngle(bearings[i] - bearings[i - 1]);
    if (Math.abs(step) < TAU / 4) balance += Math.sign(step);
  }
  return balance < 0;
}
