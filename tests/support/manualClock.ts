import type { Clock } from '../../src/core/clock.js';

/** A Clock that a test moves by hand. Promises that hang on a timer have run when `advance` returns. */
export class ManualClock implements Clock {
  lead = 0;
  #now: number;
  #timers: { at: number; act: () => void }[] = [];

  constructor(start = 1000) {
    this.#now = start;
  }
  now(): number {
    return this.#now;
  }
  wallLead(): number {
    return this.lead;
  }
  after(delay: number, act: () => void): () => void {
    const timer = { at: this.#now + Math.max(0, delay), act };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }
  /** Runs what is due in the next `seconds`, in order. @param late s, by how much every timer is late. */
  async advance(seconds: number, late = 0): Promise<void> {
    const end = this.#now + seconds;
    for (;;) {
      const next = this.#timers.reduce<{ at: number; act: () => void } | undefined>(
        (a, b) => (a && a.at <= b.at ? a : b),
        undefined,
      );
      if (!next || next.at + late > end) break;
      this.#timers = this.#timers.filter((other) => other !== next);
      this.#now = Math.max(this.#now, next.at + late);
      next.act();
      for (let i = 0; i < 5; i++) await Promise.resolve();
    }
    this.#now = end;
  }
}
