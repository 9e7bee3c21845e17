import { PlanarKalman } from '../../estimate/kalman.js';
import type { FreeSpace } from '../motion/freeSpace.js';
import type { Blob } from './blobs.js';
import type { Group } from './groups.js';

/** Sightings kept of a track's way. */
const TRAIL = 16;

/** One thing followed: its filter and what speaks for its moving. */
export class Track {
  readonly filter: PlanarKalman;
  /** The last places, oldest overwritten: [x, y, time] a sighting. */
  readonly #trail = new Float64Array(3 * TRAIL);
  #trailed = 0;
  readonly born: number;
  id = 0;
  hits = 1;
  echoes: number;
  /** Share of the blobs with a known place that stood where it was free before, smoothed, and how many there were. */
  came = 0;
  judged = 0;
  seen: number;
  /** m, width of a single whole body seen, smoothed; 0: only legs so far. */
  body = 0;
  /** m, half the distance of the legs across the way, smoothed; 0: not seen yet. */
  stance = 0;
  legs = 0;
  moves = false;
  still = 0;
  /** Share of sightings with nothing as near beside it, smoothed; m, noise of a sighting, smoothed. */
  alone = 0;
  noise = 0;
  width = 0;

  constructor(g: Group, time: number) {
    this.filter = new PlanarKalman(g.x, g.y, Math.sqrt(g.xx + g.yy), 1);
    this.born = time;
    this.seen = time;
    this.echoes = g.count;
    this.trail(time);
  }

  /** Learns how far apart the legs are across the way. */
  learnStance(legs: readonly Blob[]): void {
    const speed = Math.hypot(this.filter.vx, this.filter.vy);
    if (speed < 0.3 || this.hits < 5) return;
    const half =
      (0.5 * Math.abs((legs[1].x - legs[0].x) * this.filter.vy - (legs[1].y - legs[0].y) * this.filter.vx)) / speed;
    this.stance += (Math.min(0.2, half) - this.stance) * (this.stance === 0 ? 1 : 0.15);
  }

  /** Keeps the present place. @param time s. */
  trail(time: number): void {
    const k = 3 * (this.#trailed++ % TRAIL);
    this.#trail[k] = this.filter.x;
    this.#trail[k + 1] = this.filter.y;
    this.#trail[k + 2] = time;
  }

  /** @returns m and s, how far the newest place is from the oldest one kept, and the time between. */
  way(): { net: number; time: number } {
    const n = this.#trailed;
    if (n < 2) return { net: 0, time: 0 };
    const a = 3 * (n > TRAIL ? n % TRAIL : 0);
    const b = 3 * ((n - 1) % TRAIL);
    return {
      net: Math.hypot(this.#trail[b] - this.#trail[a], this.#trail[b + 1] - this.#trail[a + 1]),
      time: this.#trail[b + 2] - this.#trail[a + 2],
    };
  }

  /** Takes in whether a sighting stood where it was free before. @param free share of views; -1: none. */
  judge(free: number): void {
    if (free < 0) return;
    this.judged++;
    this.came += ((free > 0.7 ? 1 : 0) - this.came) * Math.max(1 / this.judged, 0.15);
  }

  /** Share of views that found the group's place free at a time when the track, at its speed, was well away from it; -1: no such view. */
  cameShare(g: Group, free: FreeSpace, now: number): number {
    const speed = Math.hypot(this.filter.vx, this.filter.vy);
    let share = -1;
    for (const b of g.blobs) {
      const noise = b.sigma / Math.sqrt(b.count);
      const lag = Math.max(0.35, (0.25 + 3 * noise) / Math.max(speed, 0.01));
      if (lag < 2.6) share = Math.max(share, free.freeShare(b.x, b.y, noise, now - lag));
    }
    return share;
  }
}
