const KEPT = 2048;

/** How long the page's last frames took, ms: whoever measures from outside finds it as `leewayPace`. */
export class Pace {
  /** A ring; the newest is at `count - 1`, round its length. */
  readonly took = new Float32Array(KEPT);
  count = 0;
  /** ms from the beginning of the page to the first plan with leeway; NaN: none yet. */
  firstPlan = Number.NaN;

  constructor() {
    Object.assign(globalThis, { leewayPace: this });
  }

  /** Notes a frame. @param begun ms. */
  note(begun: number): void {
    this.took[this.count++ % KEPT] = performance.now() - begun;
  }
}
