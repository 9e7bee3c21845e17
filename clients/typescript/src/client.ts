import protobuf from 'protobufjs/minimal.js';
import { leeway } from './gen/leeway.js';
import { type Corner, leewayAlong } from './towards.js';

protobuf.util.Long = undefined as never; // 64-bit counters as plain numbers
protobuf.configure();

export type Hello = leeway.v1.Hello.$Properties;
export type Clearance = leeway.v1.Clearance.$Properties;
export type Health = leeway.v1.Health.$Properties;
export type Sweep = leeway.v1.Sweep.$Properties;
export type ServerMessage = leeway.v1.ServerMessage.$Properties;
export const Feed = leeway.v1.Feed;
export const SectorState = leeway.v1.SectorState;
export const HealthState = leeway.v1.HealthState;

/** One wanted feed; without a rate every message comes. */
export interface Want {
  readonly feed: leeway.v1.Feed;
  readonly maxRateHz?: number;
}

export interface Options {
  /** Feeds to ask for; clearance and health where absent. Clearance is asked for in any case. */
  readonly wants?: readonly Want[];
  readonly token?: string;
  /** WebSocket to use where the platform has none of its own. */
  readonly WebSocket?: typeof globalThis.WebSocket;
  /** s, monotonic; performance.now() where absent. */
  readonly now?: () => number;
}

/** What the rover tells; called with each message. */
export interface Listeners {
  hello: (hello: Hello, envelope: ServerMessage) => void;
  clearance: (clearance: Clearance, envelope: ServerMessage) => void;
  health: (health: Health, envelope: ServerMessage) => void;
  sweep: (sweep: Sweep, envelope: ServerMessage) => void;
  /** The connection came, or went and why; trying again goes on until {@link Rover.close}. */
  connection: (isConnected: boolean, reason: string) => void;
}

const STALE = 0.2; // s without Clearance after which all leeway is 0: the contract's rule for controllers
const RETRY_FIRST = 0.25; // s
const RETRY_MOST = 2;
const SUBPROTOCOL = 'leeway.v1.proto';

/** @param url such as ws://127.0.0.1:5339/v1/feeds. @returns the rover, connecting; it reconnects by itself. */
export function connect(url: string, options: Options = {}): Rover {
  return new Rover(url, options);
}

/**
 * A rover's senses as a client knows them. **No safety function**: the rover's own stop and limits stay in charge.
 * Whatever is not known for sure counts as no room: not connected, stale, unknown, a value this client does not know.
 */
export class Rover {
  readonly #url: string;
  readonly #options: Options;
  readonly #now: () => number;
  readonly #listeners: { [K in keyof Listeners]: Set<Listeners[K]> } = {
    hello: new Set(),
    clearance: new Set(),
    health: new Set(),
    sweep: new Set(),
    connection: new Set(),
  };
  #socket: WebSocket | undefined;
  #retry = RETRY_FIRST;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isClosed = false;
  #hello: Hello | undefined;
  #outline: readonly Corner[] = [];
  #clearance: Clearance | undefined;
  #health: Health | undefined;
  #sweep: Sweep | undefined;
  #clearanceAt = -Infinity; // s, own clock

  constructor(url: string, options: Options) {
    this.#url = url;
    this.#options = options;
    this.#now = options.now ?? (() => performance.now() / 1000);
    this.#open();
  }

  /** The newest of each, undefined before the first and after the connection is lost. */
  get hello(): Hello | undefined {
    return this.#hello;
  }
  get clearance(): Clearance | undefined {
    return this.#clearance;
  }
  get health(): Health | undefined {
    return this.#health;
  }
  get sweep(): Sweep | undefined {
    return this.#sweep;
  }

  /** s since the newest Clearance came in, by this client's own clock; Infinity without one. */
  get silence(): number {
    return this.#now() - this.#clearanceAt;
  }

  /** Whether the newest Clearance may no longer be acted on. */
  get isStale(): boolean {
    return !(this.silence <= STALE);
  }

  /**
   * How far the rover's outline may move towards `bearing` without turning, by every sector that it sweeps.
   * @param bearing rad, counter-clockwise from ahead, rover axes.
   * @param closingSpeed m/s, how fast the rover and what is there may have come closer since the message came in.
   * @returns m; 0 when stale, not connected or unknown.
   */
  leewayTowards(bearing: number, closingSpeed = 0): number {
    const clearance = this.#clearance;
    if (clearance === undefined || this.isStale) return 0;
    const states = clearance.state ?? [];
    const isKnown = states.map((state) => state === SectorState.SECTOR_STATE_CLEAR || state === SectorState.SECTOR_STATE_OBSTACLE);
    const sectors = { firstBearing: clearance.firstBearingRad ?? 0, leeway: clearance.leewayM ?? [], isKnown };
    return Math.max(0, leewayAlong(sectors, this.#outline, bearing) - closingSpeed * this.silence);
  }

  /** Calls `listener` with what comes. @returns takes it away again. */
  on<K extends keyof Listeners>(what: K, listener: Listeners[K]): () => void {
    this.#listeners[what].add(listener);
    return () => this.#listeners[what].delete(listener);
  }

  /** Sends a message; lost while not connected. @returns whether it was sent. */
  send(message: leeway.v1.ClientMessage.$Properties): boolean {
    if (this.#socket?.readyState !== 1) return false;
    this.#socket.send(leeway.v1.ClientMessage.encode(message).finish() as Uint8Array<ArrayBuffer>);
    return true;
  }

  /** Ends the connection and stays away. */
  close(): void {
    this.#isClosed = true;
    clearTimeout(this.#timer);
    this.#socket?.close(1000);
    this.#forget();
  }

  #open(): void {
    const { token, WebSocket = globalThis.WebSocket } = this.#options;
    const carried = token === undefined ? [] : [`leeway.token.${base64url(token)}`];
    const socket = new WebSocket(this.#url, [SUBPROTOCOL, ...carried]);
    this.#socket = socket;
    socket.binaryType = 'arraybuffer';
    socket.addEventListener('open', () => {
      this.#retry = RETRY_FIRST;
      this.send({ subscribe: { wants: this.#wants() } });
      for (const listener of this.#listeners.connection) listener(true, '');
    });
    socket.addEventListener('message', (event) => this.#take(event.data));
    socket.addEventListener('close', (event) => {
      if (this.#socket !== socket || this.#isClosed) return;
      this.#forget();
      for (const listener of this.#listeners.connection) listener(false, event.reason);
      this.#timer = setTimeout(() => this.#open(), this.#retry * 1000);
      this.#retry = Math.min(RETRY_MOST, this.#retry * 2);
    });
    socket.addEventListener('error', () => {}); // its close follows and is told
  }

  #wants(): Want[] {
    const wants = this.#options.wants ?? [{ feed: Feed.FEED_HEALTH }];
    return wants.some(({ feed }) => feed === Feed.FEED_CLEARANCE) ? [...wants] : [{ feed: Feed.FEED_CLEARANCE }, ...wants];
  }

  #take(data: unknown): void {
    if (!(data instanceof ArrayBuffer)) return;
    let message: leeway.v1.ServerMessage;
    try {
      message = leeway.v1.ServerMessage.decode(new Uint8Array(data));
    } catch {
      this.#socket?.close(4000, 'unreadable'); // a daemon of another kind: what it says must not be acted on
      return;
    }
    if (message.hello) {
      this.#hello = message.hello;
      this.#outline = (message.hello.outlineM ?? []).map(({ xM, yM }) => ({ x: xM ?? 0, y: yM ?? 0 }));
      for (const listener of this.#listeners.hello) listener(message.hello, message);
    } else if (message.clearance) {
      this.#clearance = message.clearance;
      this.#clearanceAt = this.#now();
      for (const listener of this.#listeners.clearance) listener(message.clearance, message);
    } else if (message.health) {
      this.#health = message.health;
      for (const listener of this.#listeners.health) listener(message.health, message);
    } else if (message.sweep) {
      this.#sweep = message.sweep;
      for (const listener of this.#listeners.sweep) listener(message.sweep, message);
    }
  }

  #forget(): void {
    this.#hello = this.#clearance = this.#health = this.#sweep = undefined;
    this.#outline = [];
    this.#clearanceAt = -Infinity;
  }
}

function base64url(text: string): string {
  const bytes = new TextEncoder().encode(text);
  return btoa(String.fromCharCode(...bytes)).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}
