import type { Clock } from '../core/clock.js';

const PONG_LATE = 0.25; // s: beyond it the client does not keep up
const PONG_LOST = 10; // s: beyond it the client is gone
const PING_APART = 0.1; // s: often enough to notice within PONG_LATE, seldom enough to cost nothing
const PING_IDLE = 5; // s: also a client that gets nothing shows that it is there

/**
 * How far a client is behind, by ping and pong. A pong comes only after everything before its ping was read; the socket's own
 * buffer tells nothing until the kernel's are full, which takes megabytes.
 */
export class Pace {
  readonly #clock: Clock;
  readonly #ping: (payload: Buffer) => void;
  #pinged = 0;
  #at = -Infinity;
  #isOut = false;

  /** @param ping sends a ping with that payload. */
  constructor(clock: Clock, ping: (payload: Buffer) => void) {
    this.#clock = clock;
    this.#ping = ping;
  }

  /** Whether the client keeps up: nothing should be sent to it otherwise. */
  get isOpen(): boolean {
    return !this.#isOut || this.#clock.now() - this.#at <= PONG_LATE;
  }

  /** Whether the client has not answered for so long that it will not. */
  get isGone(): boolean {
    return this.#isOut && this.#clock.now() - this.#at > PONG_LOST;
  }

  /** A message was sent: asks the client to tell when it has read it. */
  sent(): void {
    this.#askAfter(PING_APART);
  }

  /** Time has passed. */
  tick(): void {
    this.#askAfter(PING_IDLE);
  }

  /** Takes a pong. @returns whether it answers the ping that was out; others mean nothing (RFC 6455, 5.5.3). */
  answered(payload: Buffer): boolean {
    if (!this.#isOut || payload.length !== 4 || payload.readUInt32LE(0) !== this.#pinged) return false;
    this.#isOut = false;
    return true;
  }

  #askAfter(apart: number): void {
    const now = this.#clock.now();
    if (this.#isOut || now - this.#at < apart) return;
    this.#pinged = (this.#pinged + 1) >>> 0;
    this.#at = now;
    this.#isOut = true;
    const payload = Buffer.allocUnsafe(4);
    payload.writeUInt32LE(this.#pinged, 0);
    this.#ping(payload);
  }
}
