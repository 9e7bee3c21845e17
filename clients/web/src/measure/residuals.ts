import type { Wall } from '../../../typescript/src/client.js';
import type { Model } from '../model.js';

const KEPT = 3000;
const END = 0.05; // m from a wall's ends: echoes there are half of something else
const FAR = 0.06; // m off the wall: no noise of it

/** How far the echoes of one wall lie off its line: the newest ones, whatever sweep they came with. */
export class Residuals {
  readonly values = new Float32Array(KEPT);
  count = 0;
  #next = 0;

  clear(): void {
    this.count = 0;
    this.#next = 0;
  }

  /** Adds the echoes of the last sweep that lie on the wall. */
  add(model: Model, wall: Wall): void {
    const c = Math.cos(wall.normalRad);
    const s = Math.sin(wall.normalRad);
    const a = -wall.x1M * s + wall.y1M * c;
    const b = -wall.x2M * s + wall.y2M * c;
    const low = Math.min(a, b) + END;
    const high = Math.max(a, b) - END;
    for (let i = 0; i < model.echoCount; i++) {
      const x = model.echoes[2 * i];
      const y = model.echoes[2 * i + 1];
      const along = -x * s + y * c;
      if (along < low || along > high) continue;
      const off = x * c + y * s - wall.distanceM;
      if (Math.abs(off) > FAR) continue;
      this.values[this.#next] = off;
      this.#next = (this.#next + 1) % KEPT;
      this.count = Math.min(KEPT, this.count + 1);
    }
  }

  /** @returns m, standard deviation of what is kept. */
  get deviation(): number {
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < this.count; i++) {
      sum += this.values[i];
      squares += this.values[i] ** 2;
    }
    return this.count < 2 ? Number.NaN : Math.sqrt(Math.max(0, squares / this.count - (sum / this.count) ** 2));
  }
}
