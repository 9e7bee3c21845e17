import type { Clock } from '../core/clock.js';

const LATE = 0.25; // s without a pong after which a client cannot keep up
const GONE = 10; // s without a pong after which it is gone
const SPACING = 0.05; // s between pings
const IDLE = 1; // s after which a quiet connection is asked whether it still stands
const BUFFER_MAX = 512 * 1024; // bytes waiting in this process: beyond it even the newest would be old

/** The part of a WebSocket that pacing needs. */
export interface PacedSocket {
  readonly bufferedAmount: number;
  ping(): void;
  terminate(): void;
  on(event: 'pong', listener: () => void): unknown;
}

/**
 * Tells whether a client keeps up. A ping goes behind the data, one at a time: its pong says that all before it was read. What the
 * kernels hold is invisible otherwise: bufferedAmount stays 0 for megabytes.
 */
export class Pace {
  readonly #socket: PacedSocket;
  readonly #clock: Clock;
  readonly #onCaughtUp: () => void;
  #pingedAt = -Infinity;
  #isWaiting = false;
  #wasLate = false;
  #cancel: () => void = () => {};

  /** @param onCaughtUp called when the pong of a client that was late comes. */
  constructor(socket: PacedSocket, clock: Clock, onCaughtUp: () => void) {
    this.#socket = socket;
    this.#clock = clock;
    this.#onCaughtUp = onCaughtUp;
    socket.on('pong', () => this.#ponged());
    this.#watch();
  }

  /** Whether data may be sent: the last ping was answered, or is not late yet. */
  get isOpen(): boolean {
    if (this.#isWaiting && this.#clock.now() - this.#pingedAt > LATE) this.#wasLate = true;
    return !this.#wasLate;
  }

  /** Data was sent: ask behind it. */
  sent(): void {
    if (this.#socket.bufferedAmount > BUFFER_MAX) this.#socket.terminate();
    else if (!this.#isWaiting && this.#clock.now() - this.#pingedAt >= SPACING) this.#ping();
  }

  close(): void {
    this.#cancel();
  }

  #ping(): void {
    this.#isWaiting = true;
    this.#pingedAt = this.#clock.now();
    this.#socket.ping();
  }

  #ponged(): void {
    this.#isWaiting = false;
    if (!this.#wasLate) return;
    this.#wasLate = false;
    this.#onCaughtUp();
  }

  #watch(): void {
    this.#cancel = this.#clock.after(IDLE, () => {
      if (this.#isWaiting && this.#clock.now() - this.#pingedAt > GONE) {
        this.#socket.terminate();
        return;
      }
      if (!this.#isWaiting) this.#ping();
      this.#watch();
    });
  }
}
