import type { Config } from '../config/config.js';
import { toProtoJson } from '../messages/protoJson.js';
import { clearanceMessage, motionMessage, moversMessage, shapesMessage } from '../messages/toMessage.js';
import { Clearance } from '../perception/clearance/clearance.js';
import { Perception } from '../perception/perceive.js';
import { wholeSweep } from '../sweep/wholeSweep.js';
import { clearanceSetting, perceptionSetting } from './compose.js';
import { LineBatches } from './lineBatches.js';
import type { SweepLine } from './sweepLines.js';

/**
 * Perception over recorded sweeps: the daemon's own mounting, clearance, shapes, motion and movers, one whole revolution at a time, in order,
 * without looking ahead and without a clock of its own.
 */
export class Perceiver {
  readonly #clearance: Clearance;
  readonly #batches: LineBatches;
  readonly #perception: Perception;
  #sweeps = 0;
  #wasAlone = false;

  constructor(config: Config) {
    this.#batches = new LineBatches(config);
    this.#perception = new Perception(perceptionSetting(config));
    this.#clearance = new Clearance(clearanceSetting(config), true);
  }

  /** @returns one JSON line: the sweep's number, the time of its last sample and what is known then, in ProtoJSON. */
  push(line: SweepLine): string {
    const isAlone = Number.isNaN(line.dt); // all samples at one time: no evidence is carried over, there is no age to give it
    if (isAlone || this.#wasAlone) this.#clearance.reset(true);
    this.#wasAlone = isAlone;
    const batch = this.#batches.batch(line);
    const last = batch.time[batch.count - 1];
    const period = isAlone ? 0 : line.dt * batch.count;
    this.#clearance.push(batch, period);
    const percept = this.#perception.perceive(wholeSweep(batch, ++this.#sweeps, period).sweep);
    const parts = [
      toProtoJson('Clearance', clearanceMessage(this.#clearance.read(last))),
      toProtoJson('Shapes', shapesMessage(percept)),
      toProtoJson('Movers', moversMessage(percept)),
      toProtoJson('Motion', motionMessage(percept)),
    ];
    const names = ['clearance', 'shapes', 'movers', 'motion'];
    return `{"sweep":${this.#sweeps},"timeS":${last},${parts.map((part, i) => `"${names[i]}":${part}`).join(',')}}`;
  }
}
