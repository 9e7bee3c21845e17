const REGULAR = 0.05; // s between Clearance messages when nothing urgent happens
const URGENT = 0.005; // s, least between two urgent ones

/** When Clearance messages go (contract, "When messages go"). Pure: the caller brings the time and sets the timer. */
export class Pacer {
  #sentAt = -Infinity;
  #isSuspect = false;

  /** Something may have happened that must be told at once. */
  suspect(): void {
    this.#isSuspect = true;
  }

  /** @returns what to do now: send in any case, look and send if it is urgent, or wait. */
  next(now: number): 'send' | 'look' | 'wait' {
    if (now - this.#sentAt >= REGULAR - 1e-6) return 'send';
    return this.#isSuspect && now - this.#sentAt >= URGENT - 1e-6 ? 'look' : 'wait';
  }

  /** The look found nothing urgent. */
  calm(): void {
    this.#isSuspect = false;
  }

  sent(now: number): void {
    this.#sentAt = now;
    this.#isSuspect = false;
  }

  /** @param expiry s, when evidence becomes too old. @returns s, when to ask again at the latest. */
  wakeAt(expiry: number): number {
    const regular = this.#sentAt + REGULAR;
    return this.#isSuspect ? this.#sentAt + URGENT : Math.min(regular, Math.max(expiry, this.#sentAt + URGENT));
  }
}
