import { TAU, wrapAngle } from '../../core/angles.js';
import type { ClearanceSetting } from './setting.js';

/**
 * The strip that the outline sweeps when it goes straight on: between its leftmost and rightmost point, beyond its front.
 * Each beam that crosses the strip limits the way to where it stops vouching.
 */
export class Strip {
  /** rad, sensor bearings that cross the strip: from `low` counter-clockwise over `span`. */
  readonly low: number;
  readonly span: number;
  readonly #setting: ClearanceSetting;
  readonly #left: number;
  readonly #right: number;

  constructor(setting: ClearanceSetting) {
    this.#setting = setting;
    const [mx, my] = setting.sensor;
    const corners = setting.outline.corners;
    this.#left = Math.max(...corners.map(([, y]) => y));
    this.#right = Math.min(...corners.map(([, y]) => y));
    const isInStrip = my > this.#right && my < this.#left && mx >= setting.outline.front(my);
    let low = 0;
    let high = 0;
    for (const [x, y] of corners) {
      if (x < setting.outline.front(y) - 1e-9) continue; // not on the front
      const bearing = Math.atan2(y - my, x - mx);
      low = Math.min(low, bearing);
      high = Math.max(high, bearing);
    }
    this.low = isInStrip ? -Math.PI : low;
    this.span = isInStrip ? TAU : high - low;
  }

  /** @returns whether any bearing in `from` .. `from + width` (rad, about the sensor, counter-clockwise) crosses the strip. */
  isCrossedBy(from: number, width: number): boolean {
    let apart = wrapAngle(from - this.low);
    if (apart < 0) apart += TAU;
    return apart < this.span || apart + width > TAU;
  }

  /**
   * How far the outline can go before it meets what lies beyond `range` on a ray.
   * @param bearing rad, about the sensor, rover axes. @param range m, where the ray stops vouching.
   * @returns m, 0 or more; Infinity where the unvouched part of the ray stays out of the strip.
   */
  room(bearing: number, range: number): number {
    const { sensor, outline, reach } = this.#setting;
    const c = Math.cos(bearing);
    const s = Math.sin(bearing);
    let near = range;
    let far = range + 2 * reach[1];
    if (Math.abs(s) < 1e-9) {
      if (sensor[1] < this.#right || sensor[1] > this.#left) return Infinity;
    } else {
      const toLeft = (this.#left - sensor[1]) / s;
      const toRight = (this.#right - sensor[1]) / s;
      near = Math.max(near, Math.min(toLeft, toRight));
      far = Math.min(far, Math.max(toLeft, toRight));
    }
    if (!(near <= far)) return Infinity;
    const first = this.#beyondFront(near, c, s);
    const last = this.#beyondFront(far, c, s);
    if (first < 0 && last < 0) return Infinity;
    let room = Math.max(0, Math.min(first, last));
    for (const [, y] of outline.corners) {
      const at = (y - sensor[1]) / s;
      if (at > near && at < far) room = Math.max(0, Math.min(room, this.#beyondFront(at, c, s)));
    }
    return room;
  }

  #beyondFront(at: number, c: number, s: number): number {
    const y = Math.min(this.#left, Math.max(this.#right, this.#setting.sensor[1] + at * s));
    return this.#setting.sensor[0] + at * c - this.#setting.outline.front(y);
  }
}
