import type { Config } from '../config/config.js';
import { TAU, turnAngle, wrapAngle } from '../core/angles.js';
import { Echoes } from '../device/echoes.js';
import { toProtoJson } from '../messages/protoJson.js';
import { clearanceMessage } from '../messages/toMessage.js';
import { Clearance } from '../perception/clearance/clearance.js';
import type { EchoBatch } from '../sweep/echoBatch.js';
import { clearanceSetting } from './compose.js';
import type { SweepLine } from './sweepLines.js';

/**
 * Perception over recorded sweeps: the daemon's own mounting and clearance, one whole revolution at a time, in order,
 * without looking ahead and without a clock of its own.
 */
export class Perceiver {
  readonly #clearance: Clearance;
  readonly #clockwise: Echoes;
  readonly #counterclockwise: Echoes;
  #sweeps = 0;
  #wasAlone = false;

  constructor(config: Config) {
    this.#clockwise = new Echoes('clockwise', config.sensor);
    this.#counterclockwise = new Echoes('counterclockwise', config.sensor);
    this.#clearance = new Clearance(clearanceSetting(config), true);
  }

  /** @returns one JSON line: the sweep's number, the time of its last sample and what is known then, in ProtoJSON. */
  push(line: SweepLine): string {
    const isAlone = Number.isNaN(line.dt); // all samples at one time: no evidence is carried over, there is no age to give it
    if (isAlone || this.#wasAlone) this.#clearance.reset();
    this.#wasAlone = isAlone;
    const batch = this.#batch(line);
    const last = batch.time[batch.count - 1];
    this.#clearance.push(batch, isAlone ? 0 : line.dt * batch.count);
    const clearance = toProtoJson('Clearance', clearanceMessage(this.#clearance.read(last)));
    return `{"sweep":${++this.#sweeps},"timeS":${last},"clearance":${clearance}}`;
  }

  /** A recorded line counts its bearings counter-clockwise whichever way the beam went; a sensor counts along its beam. */
  #batch({ t, dt, bearings, ranges }: SweepLine): EchoBatch {
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
