const REGULAR = 0.05; // s between Clearance messages when nothing urgent happens
const URGENT = 0.005; // s, least between two urgent ones, and between two looks whether there is one
const ROUNDING = 1e-6; // s: clocks as doubles of Unix time resolve a quarter of it

/** When Clearance messages go (contract, "When messages go"). Pure: the caller brings the time and sets the timer. */
export class Pacer {
  #sentAt = -Infinity;
  #lookedAt = -Infinity;
  #isSuspect = false;

  /** Something may have happened that must be told at once. */
  suspect(): void {
    this.#isSuspect = true;
  }

  /** @returns what to do at `now` (s): send in any case, look and send if it is urgent, or wait. */
  next(now: number): 'send' | 'look' | 'wait' {
    if (now - this.#sentAt >= REGULAR - ROUNDING) return 'send';
    return this.#isSuspect && now - this.#lookedAt >= URGENT - ROUNDING ? 'look' : 'wait';
  }

  /** A look was taken and found nothing urgent: nothing was sent. */
  looked(now: number): void {
    this.#lookedAt = now;
    this.#isSuspect = false;
  }

  /** A message went. A regular one holds up no urgent one after it. */
  sent(now: number, urgent: boolean): void {
    this.#sentAt = now;
    this.#isSuspect = false;
    if (urgent) this.#lookedAt = now;
  }

  /** @param expiry s, when the next evidence becomes too old. @returns s, when to ask again at the latest. */
  wakeAt(expiry: number): number {
    const look = this.#lookedAt + URGENT;
    return Math.min(this.#sentAt + REGULAR, this.#isSuspect ? look : Math.max(expiry, look));
  }
}
