import { leewayTowards } from './leewayTowards.js';
import {
  type Clearance,
  type ClientMessage,
  FEEDS,
  type FeedName,
  type Health,
  type Hello,
  readServerMessage,
  type ServerMessage,
  type Stamps,
  type Sweep,
  writeClientMessage,
} from './messages.js';
import type { RunEvent } from './runs.js';
import type { Motion, Movers, Shapes } from './surroundings.js';

/** Without a Clearance for so long, s by one's own clock, nothing is vouched for. */
const STALE_AFTER = 0.2;

const BACK_OFF = [0.25, 0.5, 1, 2, 4] as const; // s between tries; the last one again and again
const SILENT_AFTER = 3; // s: the daemon sends a Clearance every 50 ms, also when its sensor is silent
const SUBPROTOCOL = 'leeway.v1.proto';

/** What a rover tells: the body of each message with its stamps. */
export interface Listeners {
  hello: (hello: Hello, stamps: Stamps) => void;
  clearance: (clearance: Clearance, stamps: Stamps) => void;
  health: (health: Health, stamps: Stamps) => void;
  sweep: (sweep: Sweep, stamps: Stamps) => void;
  shapes: (shapes: Shapes, stamps: Stamps) => void;
  movers: (movers: Movers, stamps: Stamps) => void;
  motion: (motion: Motion, stamps: Stamps) => void;
  run: (run: RunEvent, stamps: Stamps) => void;
  /** The connection came, or went or could not be made, and why. Trying again goes on until {@link Rover.close}. */
  connection: (isConnected: boolean, reason: string) => void;
}

/** A wish: a feed, or a feed at most so many times a second. Fewer than 5 of Clearance leave gaps that count as stale. */
export type Wish = FeedName | Readonly<{ feed: FeedName; maxRateHz: number }>;

export interface Options {
  /** Clearance and health where absent. Clearance is asked for in any case: without it nothing is vouched for. */
  readonly wants?: readonly Wish[];
  /** A recorded run to play instead of what is live; steer it with `send({ replay })`. The feed `run` then comes in any case. */
  readonly run?: string;
  readonly token?: string;
  /** A WebSocket class; otherwise the one of the browser, or of Node 22 and newer. */
  readonly WebSocket?: SocketClass;
  /** A monotonic clock, s. */
  readonly now?: () => number;
}

type SocketClass = new (url: string, protocols: string[]) => object;

/** The part of a WebSocket that is used. */
interface Socket {
  binaryType: string;
  onopen: (() => void) | null;
  onmessage: ((event: { data: unknown }) => void) | null;
  onclose: ((event: { reason: string }) => void) | null;
  onerror: (() => void) | null;
  send(data: Uint8Array): void;
  close(): void;
}

/**
 * Connects to a daemon and stays connected: a lost connection is opened again, after 0.25 s at first, 4 s at most.
 * @param url of the daemon, such as `http://127.0.0.1:5339` or `ws://rover:5339`.
 * @throws {TypeError} the url is none, or there is no WebSocket.
 */
export function connect(url: string, options: Options = {}): Rover {
  return new Rover(url, options);
}

/**
 * A rover's senses as a client knows them. **No safety function**: the rover's own stop and limits stay in charge.
 * Whatever is not known for sure counts as no room: not connected, stale, unknown, a value this client does not know.
 */
export class Rover {
  readonly #url: string;
  readonly #protocols: string[];
  readonly #subscribe: Uint8Array;
  readonly #WebSocket: SocketClass;
  readonly #now: () => number;
  readonly #listeners: { readonly [Name in keyof Listeners]: Set<Listeners[Name]> } = {
    hello: new Set(),
    clearance: new Set(),
    health: new Set(),
    sweep: new Set(),
    shapes: new Set(),
    movers: new Set(),
    motion: new Set(),
    run: new Set(),
    connection: new Set(),
  };
  #newest: Partial<ServerMessage> = {};
  #clearanceAt = -Infinity; // s, own clock
  #evidenceAge = Infinity; // s, of the newest Clearance when it was made
  #phase: 'connecting' | 'open' | 'waiting' | 'closed' = 'connecting';
  #socket: Socket | undefined;
  #tries = 0;
  #heardAt = 0;
  #retryAt = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(url: string, options: Options) {
    const path = options.run === undefined ? '/v1/feeds' : `/v1/runs/${encodeURIComponent(options.run)}/feeds`;
    const feeds = new URL(path, url);
    feeds.protocol = feeds.protocol === 'https:' || feeds.protocol === 'wss:' ? 'wss:' : 'ws:';
    this.#url = feeds.href;
    this.#protocols = options.token ? [SUBPROTOCOL, `leeway.token.${base64url(options.token)}`] : [SUBPROTOCOL];
    this.#subscribe = writeClientMessage({
      subscribe: { wants: wantsOf(options.wants ?? ['health'], options.run !== undefined) },
    });
    const found = options.WebSocket ?? globalThis.WebSocket;
    if (found === undefined) throw new TypeError('no WebSocket here: pass one in the options (Node 22 has its own)');
    this.#WebSocket = found;
    this.#now = options.now ?? (() => performance.now() / 1000);
    this.#open();
  }

  /** The newest of each; undefined before the first one and after the connection is lost. */
  get hello(): Hello | undefined {
    return this.#newest.hello;
  }
  get clearance(): Clearance | undefined {
    return this.#newest.clearance;
  }
  get health(): Health | undefined {
    return this.#newest.health;
  }
  get sweep(): Sweep | undefined {
    return this.#newest.sweep;
  }
  get shapes(): Shapes | undefined {
    return this.#newest.shapes;
  }
  get movers(): Movers | undefined {
    return this.#newest.movers;
  }
  get motion(): Motion | undefined {
    return this.#newest.motion;
  }

  get run(): RunEvent | undefined {
    return this.#newest.run;
  }

  /** Whether the daemon has greeted and the connection stands. */
  get isConnected(): boolean {
    return this.#phase === 'open';
  }

  /** s until the next try to connect; 0 while connecting or connected. */
  get retryIn(): number {
    return this.#phase === 'waiting' ? Math.max(0, this.#retryAt - this.#now()) : 0;
  }

  /** s since the newest Clearance came in, by this client's own clock; Infinity without one. */
  get silence(): number {
    return this.#now() - this.#clearanceAt;
  }

  /** s, age of the newest echo behind the newest Clearance: what the daemon says plus the silence since; Infinity without one. */
  get age(): number {
    return this.#evidenceAge + this.silence;
  }

  /** Whether the newest Clearance may no longer be acted on. */
  get isStale(): boolean {
    return !(this.silence <= STALE_AFTER);
  }

  /** @returns m, leeway by sector as of now: all 0 when stale. */
  leeway(): readonly number[] {
    const { state = [], leewayM = [] } = this.clearance ?? {};
    return this.isStale ? state.map(() => 0) : leewayM;
  }

  /**
   * How far the rover may go towards a bearing without turning, by every sector that its outline sweeps.
   * @param bearing rad, rover axes, counter-clockwise from ahead.
   * @param closingSpeed m/s at which it goes there: the way gone since the Clearance came in is taken off.
   * @returns m; 0 where anything on the way is unknown, or when stale. What others may do meanwhile is yours to take off.
   */
  leewayTowards(bearing: number, { closingSpeed = 0 }: { readonly closingSpeed?: number } = {}): number {
    const { clearance, hello } = this.#newest;
    if (this.isStale || clearance === undefined || hello === undefined) return 0;
    const vouched = leewayTowards(bearing, clearance, hello.outlineM, hello.reachM[1] ?? 0);
    const gone = Math.max(0, closingSpeed) * this.silence;
    return gone < vouched ? vouched - gone : 0; // a speed that is not a number leaves nothing
  }

  /** Calls `listener` with what comes. @returns takes it away again. */
  on<Name extends keyof Listeners>(name: Name, listener: Listeners[Name]): () => void {
    this.#listeners[name].add(listener);
    return () => void this.#listeners[name].delete(listener);
  }

  /** Sends a message; lost while not connected. @returns whether it was sent. */
  send(message: ClientMessage): boolean {
    if (this.#socket === undefined || this.#phase !== 'open') return false;
    this.#socket.send(writeClientMessage(message));
    return true;
  }

  /** Tries to connect at once where it waits to. */
  retryNow(): void {
    if (this.#phase === 'waiting') this.#open();
  }

  /** Ends the connection and stays away. */
  close(): void {
    clearTimeout(this.#timer);
    this.#drop();
    this.#phase = 'closed';
  }

  #open(): void {
    clearTimeout(this.#timer);
    this.#phase = 'connecting';
    this.#heardAt = this.#now();
    const socket = new this.#WebSocket(this.#url, this.#protocols) as Socket;
    this.#socket = socket;
    socket.binaryType = 'arraybuffer';
    socket.onopen = () => socket.send(this.#subscribe);
    socket.onmessage = ({ data }) => {
      if (data instanceof ArrayBuffer) this.#take(new Uint8Array(data));
    };
    socket.onclose = ({ reason }) => this.#lost(reason);
    socket.onerror = () => {}; // its close follows
    this.#watch();
  }

  #take(bytes: Uint8Array): void {
    this.#heardAt = this.#now();
    let message: ServerMessage;
    try {
      message = readServerMessage(bytes);
    } catch {
      this.#lost('unreadable'); // a daemon of another kind: what it says must not be acted on
      return;
    }
    const { sequence, timeS, sentS, ...body } = message;
    const stamps = { sequence, timeS, sentS };
    Object.assign(this.#newest, body);
    if (body.clearance !== undefined) {
      this.#clearanceAt = this.#heardAt;
      this.#evidenceAge = sentS - timeS;
      for (const listener of this.#listeners.clearance) listener(body.clearance, stamps);
    } else if (body.hello !== undefined) {
      this.#greeted();
      for (const listener of this.#listeners.hello) listener(body.hello, stamps);
    } else if (body.health !== undefined) for (const listener of this.#listeners.health) listener(body.health, stamps);
    else if (body.sweep !== undefined) for (const listener of this.#listeners.sweep) listener(body.sweep, stamps);
    else if (body.shapes !== undefined) for (const listener of this.#listeners.shapes) listener(body.shapes, stamps);
    else if (body.movers !== undefined) for (const listener of this.#listeners.movers) listener(body.movers, stamps);
    else if (body.motion !== undefined) for (const listener of this.#listeners.motion) listener(body.motion, stamps);
    else if (body.run !== undefined) for (const listener of this.#listeners.run) listener(body.run, stamps);
  }

  #greeted(): void {
    this.#tries = 0;
    if (this.#phase === 'open') return; // again, because what it says changed
    this.#phase = 'open';
    for (const listener of this.#listeners.connection) listener(true, '');
  }

  /** A line that was cut without a word is noticed by its silence. */
  #watch(): void {
    this.#timer = setTimeout(() => {
      if (this.#now() - this.#heardAt > SILENT_AFTER) this.#lost('silent');
      else this.#watch();
    }, 1000);
  }

  #lost(reason: string): void {
    clearTimeout(this.#timer);
    this.#drop();
    this.#phase = 'waiting';
    const wait = BACK_OFF[Math.min(this.#tries++, BACK_OFF.length - 1)];
    this.#retryAt = this.#now() + wait;
    this.#timer = setTimeout(() => this.#open(), wait * 1000);
    for (const listener of this.#listeners.connection) listener(false, reason);
  }

  #drop(): void {
    const socket = this.#socket;
    this.#socket = undefined;
    this.#newest = {};
    this.#clearanceAt = -Infinity;
    this.#evidenceAge = Infinity;
    if (socket === undefined) return;
    socket.onopen = socket.onmessage = socket.onclose = null;
    socket.close();
  }
}

function wantsOf(wishes: readonly Wish[], isReplay: boolean): Array<{ feed: number; maxRateHz?: number }> {
  const named = wishes.map((wish) => (typeof wish === 'string' ? { feed: wish } : wish));
  const needed: FeedName[] = isReplay ? ['clearance', 'run'] : ['clearance']; // a paused run says nothing else
  const missing = needed.filter((feed) => !named.some((each) => each.feed === feed));
  const all = [...missing.map((feed) => ({ feed })), ...named];
  return all.map((want) => ({ ...want, feed: FEEDS[want.feed] }));
}

function base64url(text: string): string {
  const bytes = new TextEncoder().encode(text);
  return btoa(String.fromCharCode(...bytes))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replaceAll('=', '');
}

export { leewayTowards } from './leewayTowards.js';
export type {
  Clearance,
  ClientMessage,
  FeedName,
  Finding,
  Health,
  Hello,
  Point,
  SectorState,
  ServerMessage,
  Stamps,
  Sweep,
} from './messages.js';
export { FEEDS, readServerMessage } from './messages.js';
export type { RunEvent } from './runs.js';
export type { Corner, Motion, Mover, Movers, Opening, Post, Shapes, Wall } from './surroundings.js';
