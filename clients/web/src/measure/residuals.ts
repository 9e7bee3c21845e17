import type { Wall } from '../../../typescript/src/client.js';
import type { Model } from '../model.js';

const KEPT = 3000;
const MOST = 512; // echoes of one sweep on one wall
const LEAST = 8;
const END = 0.05; // m from a wall's ends: echoes there are half of something else
const ASIDE = 1.5; // m from the foot of the normal: farther off the beam only grazes
const FAR = 4.5; // standard deviations off the wall: something else

/** How far the echoes of one wall lie off the straight line through them: the newest ones, whatever sweep they came with. */
export class Residuals {
  readonly values = new Float32Array(KEPT);
  count = 0;
  #next = 0;
  readonly #along = new Float64Array(MOST);
  readonly #off = new Float64Array(MOST);

  clear(): void {
    this.count = 0;
    this.#next = 0;
  }

  /** Adds the echoes of the last sweep that lie on the wall. @param expected m, noise of the sensor there. */
  add(model: Model, wall: Wall, expected: number): void {
    const n = this.#gather(model, wall, FAR * Math.hypot(expected, wall.roughnessM));
    if (n < LEAST) return;
    const [along, off] = [this.#along, this.#off];
    let meanAlong = 0;
    let meanOff = 0;
    for (let i = 0; i < n; i++) {
      meanAlong += along[i] / n;
      meanOff += off[i] / n;
    }
    let square = 0;
    let cross = 0;
    for (let i = 0; i < n; i++) {
      square += (along[i] - meanAlong) ** 2;
      cross += (along[i] - meanAlong) * (off[i] - meanOff);
    }
    const slope = square > 0 ? cross / square : 0;
    const grow = Math.sqrt(n / (n - 2)); // two parameters were fitted
    for (let i = 0; i < n; i++) {
      this.values[this.#next] = grow * (off[i] - meanOff - slope * (along[i] - meanAlong));
      this.#next = (this.#next + 1) % KEPT;
      this.count = Math.min(KEPT, this.count + 1);
    }
  }

  #gather(model: Model, wall: Wall, far: number): number {
    const c = Math.cos(wall.normalRad);
    const s = Math.sin(wall.normalRad);
    const a = -wall.x1M * s + wall.y1M * c;
    const b = -wall.x2M * s + wall.y2M * c;
    const low = Math.max(-ASIDE, Math.min(a, b) + END);
    const high = Math.min(ASIDE, Math.max(a, b) - END);
    let n = 0;
    for (let i = 0; i < model.echoCount && n < MOST; i++) {
      const x = model.echoes[2 * i];
      const y = model.echoes[2 * i + 1];
      const along = -x * s + y * c;
      const off = x * c + y * s - wall.distanceM;
      if (along < low || along > high || Math.abs(off) > far) continue;
      this.#along[n] = along;
      this.#off[n++] = off;
    }
    return n;
  }

  /** @returns m, standard deviation of what is kept. */
  get deviation(): number {
    let squares = 0;
    for (let i = 0; i < this.count; i++) squares += this.values[i] ** 2;
    return this.count < 2 ? Number.NaN : Math.sqrt(squares / this.count);
  }
}
