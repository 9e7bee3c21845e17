import type { Subscription } from 'rxjs';
import type { WebSocket } from 'ws';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { FeedMessage, FeedSource, Format, Role } from './feedSource.js';
import { Pace } from './pace.js';

const SUBSCRIBE_WITHIN = 10; // s
const CLOSE = { stopping: 1001, unreadable: 1007, refused: 1008, failed: 1011 } as const;

interface Want {
  /** s between messages; 0: every message. */
  readonly interval: number;
  nextAt: number;
  /** A message was held back, for the wanted rate or for slowness. */
  isHeld: boolean;
  cancel: () => void;
}

/** One connection: what it wants, and how fast. The newest wins; what cannot be sent now is made anew when it can. */
export class Client {
  readonly #socket: WebSocket;
  readonly #feeds: FeedSource;
  readonly #format: Format;
  readonly #role: Role;
  readonly #clock: Clock;
  readonly #pace: Pace;
  readonly #wants = new Map<number, Want>();
  readonly #subscriptions: Subscription[];
  #cancelLate: () => void;
  #heldBack = 0;

  constructor(socket: WebSocket, feeds: FeedSource, format: Format, role: Role, clock: Clock) {
    this.#socket = socket;
    this.#feeds = feeds;
    this.#format = format;
    this.#role = role;
    this.#clock = clock;
    this.#pace = new Pace(socket, clock, () => this.#sendHeld());
    this.#cancelLate = clock.after(SUBSCRIBE_WITHIN, () => this.#end(CLOSE.refused, 'SUBSCRIBE_LATE'));
    this.#write(feeds.hello(role));
    this.#subscriptions = [
      feeds.helloChanged.subscribe(() => this.#write(feeds.hello(role))),
      feeds.messages.subscribe({
        next: (message) => this.#take(message),
        complete: () => this.#end(CLOSE.stopping, 'stopping'),
        error: () => this.#end(CLOSE.failed, 'failed'),
      }),
    ];
  }

  /** Messages it did not get, for its rate or its slowness. */
  get heldBack(): number {
    return this.#heldBack;
  }

  /** Takes a message of the client. */
  receive(data: Uint8Array, isBinary: boolean): void {
    try {
      const request = this.#feeds.read(this.#format, isBinary ? data : Buffer.from(data).toString('utf8'));
      if (request.kind === 'subscribe') this.#subscribe(request.wants);
      else if (this.#role !== 'watch') this.#feeds.act(request, this.#role);
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      this.#end(error.code === 'MESSAGE_UNREADABLE' ? CLOSE.unreadable : CLOSE.refused, error.code);
    }
  }

  /** The connection is gone. */
  closed(): void {
    this.#cancelLate();
    this.#pace.close();
    for (const subscription of this.#subscriptions) subscription.unsubscribe();
    for (const want of this.#wants.values()) want.cancel();
  }

  #subscribe(wants: ReadonlyArray<{ readonly feed: number; readonly maxRate?: number }>): void {
    this.#cancelLate();
    for (const want of this.#wants.values()) want.cancel();
    this.#wants.clear();
    for (const { feed, maxRate } of wants) {
      this.#wants.set(feed, { interval: maxRate === undefined ? 0 : 1 / maxRate, nextAt: -Infinity, isHeld: true, cancel: () => {} });
    }
    this.#sendHeld();
  }

  #take(message: FeedMessage): void {
    const want = this.#wants.get(message.feed);
    if (want === undefined) return;
    const now = this.#clock.now();
    if (this.#pace.isOpen && (message.urgent || now >= want.nextAt)) {
      this.#send(want, message, now);
      return;
    }
    this.#heldBack++;
    if (want.isHeld) return;
    want.isHeld = true;
    if (now < want.nextAt) want.cancel = this.#clock.after(want.nextAt - now, () => this.#sendHeld());
  }

  /** Sends the newest of every feed that was held back, where its rate lets it. */
  #sendHeld(): void {
    if (!this.#pace.isOpen) return;
    const now = this.#clock.now();
    for (const [feed, want] of this.#wants) {
      if (!want.isHeld || now < want.nextAt - 1e-6) continue;
      const message = this.#feeds.newest(feed);
      if (message === undefined) want.isHeld = false;
      else this.#send(want, message, now);
    }
  }

  #send(want: Want, message: FeedMessage, now: number): void {
    want.cancel();
    want.isHeld = false;
    want.nextAt = want.interval === 0 ? -Infinity : Math.max(now, want.nextAt === -Infinity ? now : want.nextAt) + want.interval;
    this.#write(message);
    this.#pace.sent();
  }

  #write(message: FeedMessage): void {
    if (this.#socket.readyState === this.#socket.OPEN) this.#socket.send(message.bytes(this.#format));
  }

  #end(code: number, reason: string): void {
    this.#cancelLate();
    this.#socket.close(code, reason);
  }
}
