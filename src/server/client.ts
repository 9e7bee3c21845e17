import type { Subscription } from 'rxjs';
import type { WebSocket } from 'ws';
import type { Clock } from '../core/clock.js';
import { Fault, type FaultCode } from '../core/fault.js';
import type { FeedMessage, FeedSource, Format, Request, Role, Want } from './feedSource.js';
import type { Frames } from './frames.js';
import { Pace } from './pace.js';
import { Ration } from './ration.js';

const SUBSCRIBE_WITHIN = 10; // s
const MESSAGE_MAX = 64 * 1024; // bytes; wheel data and subscriptions take less than 1 kB
const MESSAGES_MAX = 1000; // a second: ten times what a controller reporting its wheels sends
const BUFFERED_MAX = 1024 * 1024; // bytes that wait in this process; pacing keeps far below, so the kernel no longer takes any

const CLOSE_TICKS = 2; // seconds; a browser answers in milliseconds

/** RFC 6455, 7.4.1. */
const CLOSE = { stopping: 1001, unreadable: 1007, refused: 1008, tooBig: 1009 } as const;

/** What a client of the feeds needs beside its socket. */
export interface ClientParts {
  readonly feeds: FeedSource;
  readonly frames: Frames;
  readonly format: Format;
  readonly role: Role;
  readonly clock: Clock;
}

/** One connection: the newest message of each wanted feed, as often as it wants and can. Made on open; greets at once. */
export class Client {
  /** Messages held back for a wanted rate or for slowness; what it sent and was refused. */
  readonly tally = { heldBack: 0, refused: 0 };
  readonly #socket: WebSocket;
  readonly #parts: ClientParts;
  readonly #pace: Pace;
  readonly #rations = new Map<number, Ration>();
  readonly #subscriptions: readonly Subscription[];
  #cancelLate: () => void;
  #isHelloOwed = false;
  #isEnded = false;
  #ticksClosing = 0;
  #second = 0;
  #received = 0;

  constructor(socket: WebSocket, parts: ClientParts) {
    this.#socket = socket;
    this.#parts = parts;
    const { feeds, clock } = parts;
    this.#pace = new Pace(clock, (payload) => socket.ping(payload));
    socket.on('message', (data: Buffer, isBinary: boolean) => this.#receive(data, isBinary));
    socket.on('pong', (payload: Buffer) => {
      if (this.#pace.answered(payload)) this.#settle();
    });
    socket.on('close', () => this.#stop());
    this.#cancelLate = clock.after(SUBSCRIBE_WITHIN, () => this.#refuse('SUBSCRIBE_LATE'));
    this.#write(feeds.hello(parts.role));
    this.#subscriptions = [
      feeds.helloChanged.subscribe(() => {
        this.#isHelloOwed = true;
        this.#settle();
      }),
      feeds.messages.subscribe({
        next: (message) => this.#offer(message),
        complete: () => this.end(),
      }),
    ];
    if (this.#isEnded) this.#stop(); // the feeds had ended before this client came
  }

  /** Says goodbye because the daemon stops. */
  end(): void {
    this.#close(CLOSE.stopping, 'stopping');
  }

  /** A second has passed: asks a quiet client whether it is there; drops one that is not, or that does not answer a close. */
  tick(): void {
    const isClosing = this.#socket.readyState !== this.#socket.OPEN;
    if (this.#pace.isGone || (isClosing && ++this.#ticksClosing > CLOSE_TICKS)) this.#socket.terminate();
    else if (!isClosing) this.#pace.tick();
  }

  /** From a message of the feeds to the socket without a pause. */
  #offer(message: FeedMessage): void {
    const ration = this.#rations.get(message.feed);
    if (ration === undefined) return;
    if (!this.#pace.isOpen) {
      this.tally.heldBack++;
      ration.isOwed = true; // its pong settles
    } else if (message.urgent || ration.isDue) {
      ration.gone();
      this.#write(message);
    } else {
      this.tally.heldBack++;
      ration.hold(() => this.#settle());
    }
  }

  /** Sends what is owed and may go, made anew from the newest state. */
  #settle(): void {
    if (!this.#pace.isOpen) return;
    const { feeds, role } = this.#parts;
    if (this.#isHelloOwed) {
      this.#isHelloOwed = false;
      this.#write(feeds.hello(role));
    }
    for (const [feed, ration] of this.#rations) {
      if (!ration.isOwed) continue;
      if (!ration.isDue) {
        ration.hold(() => this.#settle());
        continue;
      }
      const message = feeds.newest(feed);
      ration.isOwed = false;
      if (message === undefined) continue; // its first one comes by itself
      ration.gone();
      this.#write(message);
    }
  }

  #write(message: FeedMessage): void {
    if (this.#isEnded) return;
    const { frames, format } = this.#parts;
    this.#socket.send(frames.of(message, format), { binary: format === 'proto' });
    this.#pace.sent();
    if (this.#socket.bufferedAmount > BUFFERED_MAX) this.#socket.terminate();
  }

  #receive(data: Buffer, isBinary: boolean): void {
    if (this.#isEnded) return;
    try {
      if (data.length > MESSAGE_MAX) throw new Fault('MESSAGE_TOO_BIG');
      if (this.#isFlood()) throw new Fault('LIMIT_EXCEEDED');
      const { feeds, format } = this.#parts;
      const request = feeds.read(format, isBinary ? data : data.toString('utf8'));
      if (request.kind === 'subscribe') this.#subscribe(request.wants);
      else this.#act(request);
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      this.#refuse(error.code);
    }
  }

  #act(request: Request): void {
    try {
      this.#parts.feeds.act(request, this.#parts.role);
    } catch (error) {
      if (!(error instanceof Fault)) throw error;
      this.tally.refused++; // the client stays: what it asked for was readable
    }
  }

  #subscribe(wants: readonly Want[]): void {
    this.#cancelLate();
    for (const ration of this.#rations.values()) ration.stop();
    this.#rations.clear();
    for (const { feed, maxRate } of wants) {
      const ration = new Ration(this.#parts.clock, maxRate);
      ration.isOwed = true;
      this.#rations.set(feed, ration);
    }
    this.#settle();
  }

  #isFlood(): boolean {
    const second = Math.floor(this.#parts.clock.now());
    if (second !== this.#second) this.#received = 0;
    this.#second = second;
    return ++this.#received > MESSAGES_MAX;
  }

  #refuse(code: FaultCode): void {
    if (code === 'MESSAGE_UNREADABLE') this.#close(CLOSE.unreadable, code);
    else if (code === 'MESSAGE_TOO_BIG') this.#close(CLOSE.tooBig, code);
    else this.#close(CLOSE.refused, code);
  }

  #close(status: number, reason: string): void {
    if (this.#isEnded) return;
    this.#stop();
    this.#socket.close(status, reason);
  }

  #stop(): void {
    this.#isEnded = true;
    this.#cancelLate();
    for (const subscription of this.#subscriptions ?? []) subscription.unsubscribe(); // none yet where the feeds end in the constructor
    for (const ration of this.#rations.values()) ration.stop();
    this.#rations.clear();
  }
}
