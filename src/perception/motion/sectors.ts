import { TAU } from '../../core/angles.js';
import type { SweepPoints } from './sweepPoints.js';

/**
 * Nearest echo of one sweep in each sector about the rover's origin, after the rover's motion during the sweep is taken out.
 * Sector k of n covers bearings [k, k + 1) · 2π/n, rover axes at the sweep's middle.
 */
export class SectorNearest {
  /** m, one a sector; Infinity: no echo. Valid until the next {@link update}. */
  readonly nearest: Float64Array;
  readonly #cos: Float64Array;
  readonly #sin: Float64Array;

  constructor(sectors = 72) {
    this.nearest = new Float64Array(sectors);
    this.#cos = Float64Array.from({ length: sectors + 1 }, (_, k) => Math.cos((k * TAU) / sectors));
    this.#sin = Float64Array.from({ length: sectors + 1 }, (_, k) => Math.sin((k * TAU) / sectors));
  }

  /**
   * @param points deskewed. @param turn rad/s.
   * @cost one pass; a sector is guessed from the beam's bearing and settled by cross products with its edges, without an arc tangent.
   */
  update(points: SweepPoints, turn: number): Readonly<Float64Array> {
    const { nearest } = this;
    const n = nearest.length;
    const cos = this.#cos;
    const sin = this.#sin;
    const { x, y, bearing, u, count } = points;
    const scale = n / TAU;
    nearest.fill(Infinity);
    for (let i = 0; i < count; i++) {
      const qx = x[i];
      const qy = y[i];
      let k = Math.floor((bearing[i] + turn * u[i]) * scale);
      while (k < 0) k += n;
      while (k >= n) k -= n;
      for (let turns = 0; turns < n; turns++) {
        // an echo near the origin can lie in quite another sector than its beam
        if (cos[k] * qy - sin[k] * qx < 0) k = k === 0 ? n - 1 : k - 1;
        else if (cos[k + 1] * qy - sin[k + 1] * qx >= 0) k = k === n - 1 ? 0 : k + 1;
        else break;
      }
      const d = qx * qx + qy * qy;
      if (d < nearest[k]) nearest[k] = d;
    }
    for (let k = 0; k < n; k++) nearest[k] = Math.sqrt(nearest[k]);
    return nearest;
  }
}
