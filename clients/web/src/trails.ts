import type { Movers } from '../../typescript/src/client.js';
import { type Pose, toWorld } from './geometry.js';

const KEPT = 1.8; // s
const SLOTS = 24;

/** Where one mover was: a ring of world points with their times. */
export interface Trail {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly time: Float64Array;
  next: number;
  count: number;
  seenAt: number;
}

/** The way each mover came over the last 1.8 s, in the world. */
export class Trails {
  readonly #of = new Map<number, Trail>();
  readonly #at = { x: 0, y: 0 };

  /** @param time s, of the message. @param pose of the rover at that time. */
  take(movers: Movers, time: number, pose: Pose): void {
    for (const mover of movers.movers) {
      let trail = this.#of.get(mover.id);
      if (trail === undefined) {
        trail = {
          x: new Float64Array(SLOTS),
          y: new Float64Array(SLOTS),
          time: new Float64Array(SLOTS),
          ...{ next: 0, count: 0, seenAt: time },
        };
        this.#of.set(mover.id, trail);
      }
      toWorld(pose, mover.xM, mover.yM, this.#at);
      trail.x[trail.next] = this.#at.x;
      trail.y[trail.next] = this.#at.y;
      trail.time[trail.next] = time;
      trail.next = (trail.next + 1) % SLOTS;
      trail.count = Math.min(SLOTS, trail.count + 1);
      trail.seenAt = time;
    }
    for (const [id, trail] of this.#of) if (Math.abs(time - trail.seenAt) > KEPT) this.#of.delete(id);
  }

  /** @returns the mover's trail; undefined where it was never seen. */
  of(id: number): Trail | undefined {
    return this.#of.get(id);
  }

  clear(): void {
    this.#of.clear();
  }
}
