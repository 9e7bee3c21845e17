import type { Clock } from '../core/clock.js';

const SLACK = 0.1; // of the period: so late a message is made up for by the next one, so that jitter does not lower the rate

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
    const late = now - this.#next;
    this.#next = (late >= 0 && late <= SLACK * this.#period ? this.#next : now) + this.#period;
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
