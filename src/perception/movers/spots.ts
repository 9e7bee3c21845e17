/** Most places remembered; the one unseen for longest gives way. */
const SPOTS_MAX = 256;
/** s between first and last sight, and sights, after which what is seen there stands. */
const STANDS_AFTER = 1.0;
const SIGHTS_MIN = 6;
/** s without a sight after which a place is forgotten: while young, and when it is known to stand. */
const FORGET_YOUNG = 1.2;
const FORGET = 30;
/** m: sights closer than this (and twice their noise) are of one place. */
const NEAR = 0.09;

/** Places where small things are seen again and again: posts, legs of benches, frayed edges. What moves stays nowhere that long. */
export class Spots {
  readonly #x = new Float64Array(SPOTS_MAX);
  readonly #y = new Float64Array(SPOTS_MAX);
  readonly #first = new Float64Array(SPOTS_MAX);
  readonly #last = new Float64Array(SPOTS_MAX);
  readonly #sights = new Int32Array(SPOTS_MAX);
  #count = 0;

  /** Forgets what has not been seen for long. */
  age(now: number): void {
    for (let k = this.#count - 1; k >= 0; k--) {
      const stands = this.#last[k] - this.#first[k] >= STANDS_AFTER;
      if (now - this.#last[k] > (stands ? FORGET : FORGET_YOUNG)) this.#drop(k);
    }
  }

  /**
   * @param x, y m, frame of the start. @param noise m.
   * @returns whether something has been standing there.
   */
  see(x: number, y: number, noise: number, now: number): boolean {
    const near = NEAR + 2 * noise;
    let best = -1;
    let least = near * near;
    for (let k = 0; k < this.#count; k++) {
      const dx = x - this.#x[k];
      const dy = y - this.#y[k];
      const d = dx * dx + dy * dy;
      if (d < least) {
        least = d;
        best = k;
      }
    }
    if (best < 0) {
      if (this.#count === SPOTS_MAX) this.#drop(this.#oldest());
      best = this.#count++;
      this.#x[best] = x;
      this.#y[best] = y;
      this.#first[best] = now;
      this.#last[best] = now;
      this.#sights[best] = 1;
      return false;
    }
    const n = ++this.#sights[best];
    const gain = Math.max(0.1, 1 / n);
    this.#x[best] += (x - this.#x[best]) * gain;
    this.#y[best] += (y - this.#y[best]) * gain;
    this.#last[best] = now;
    return n >= SIGHTS_MIN && now - this.#first[best] >= STANDS_AFTER;
  }

  #oldest(): number {
    let k = 0;
    for (let i = 1; i < this.#count; i++) if (this.#last[i] < this.#last[k]) k = i;
    return k;
  }

  #drop(k: number): void {
    const l = --this.#count;
    this.#x[k] = this.#x[l];
    this.#y[k] = this.#y[l];
    this.#first[k] = this.#first[l];
    this.#last[k] = this.#last[l];
    this.#sights[k] = this.#sights[l];
  }
}
