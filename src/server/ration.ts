import type { Clock } from '../core/clock.js';

const SLACK = 0.9; // of the period: a message may make up for a late one by this much, so that jitter does not lower the rate

/** One wanted feed of one client: when its next message may go, and whether one is owed. */
export class Ration {
  /** A message was held back: the newest is to be sent when it may go. */
  isOwed = false;
  readonly #clock: Clock;
  readonly #period: number;
  #next = -Infinity;
  #cancel: (() => void) | undefined;

  /** @param maxRate Hz; absent: every message. */
  constructor(clock: Clock, maxRate?: number) {
    this.#clock = clock;
    this.#period = maxRate === undefined ? 0 : 1 / maxRate;
  }

  /** Whether a message may go now, as far as the wanted rate is concerned. */
  get isDue(): boolean {
    return this.#clock.now() >= this.#next;
  }

  /** A message has gone. */
  gone(): void {
    const now = this.#clock.now();
    this.#next =
      now < this.#next ? now + this.#period : Math.max(this.#next + this.#period, now + SLACK * this.#period);
    this.isOwed = false;
    this.stop();
  }

  /** A message is held back for the rate: calls `act` when it may go. */
  hold(act: () => void): void {
    this.isOwed = true;
    this.#cancel ??= this.#clock.after(this.#next - this.#clock.now(), () => {
      this.#cancel = undefined;
      act();
    });
  }

  stop(): void {
    this.#cancel?.();
    this.#cancel = undefined;
  }
}
