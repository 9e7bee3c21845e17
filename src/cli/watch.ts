import { readFileSync } from 'node:fs';
import { connect, type FeedName, type Rover, type Wish } from '#client';
import { Fault, faultCodes } from '../core/fault.js';
import type { Look } from './watch/lines.js';
import { fitRadius, RADII } from './watch/plan.js';
import { isUnicode, Screen } from './watch/screen.js';
import { view } from './watch/view.js';
import { CAUTION, type Picture, plainLine, type Standing, type Trust } from './watch/words.js';

/** What the command line gives. */
export interface WatchOptions {
  readonly url: string;
  readonly tokenFile?: string;
  readonly ascii?: boolean;
}

const TOKEN_VARIABLE = 'LEEWAY_TOKEN';
const FRAME_MS = 200; // five a second: walking pace is followed, and a slow ssh carries it (3 kB a frame)
const LINE_MS = 1000;
const LOOK_MS = 50; // how soon a silence shows after it has become one
const ASK_MS = 2000; // for an answer why the door is shut
const LINGER_MS = 300; // for the goodbye to the daemon; it takes milliseconds, one that hangs does not answer
const FADE = 1; // s after which shapes, movers and motion that came no more are no longer told
const WANTS: readonly Wish[] = [
  'clearance',
  'health',
  { feed: 'shapes', maxRateHz: 5 },
  { feed: 'movers', maxRateHz: 5 },
  { feed: 'motion', maxRateHz: 5 },
];
const DIRECTIONS = 8;
const SHUT = [401, 403]; // HTTP: waiting does not help
const UPGRADE = 426; // the door is open: a WebSocket may come

/**
 * `leeway watch`: what the rover's senses tell, live, until q, SIGINT or SIGTERM. In a terminal a picture, otherwise a line a second.
 * It goes on trying where there is no daemon, and says that nothing is vouched for meanwhile.
 *
 * @throws {Fault} USAGE_WRONG for an address that is none; TOKEN_FILE_UNREADABLE; what the daemon says where it does not let this client in.
 */
export async function watch({ url, tokenFile, ascii = false }: WatchOptions): Promise<void> {
  const address = readAddress(url);
  const token = readToken(tokenFile);
  let stop = (): void => {};
  let fail = (_fault: Fault): void => {};
  const ended = new Promise<void>((resolve, reject) => {
    stop = resolve;
    fail = reject;
  });
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stop);
  const watcher = new Watcher(address, token, fail);
  const isScreen = process.stdout.isTTY === true && process.env.TERM !== 'dumb';
  const look = {
    isUnicode: !ascii && isUnicode(process.env),
    hasColour: isScreen && (process.env.NO_COLOR ?? '') === '', // no-color.org: present and not empty
  };
  const close = isScreen ? showScreen(watcher, look, stop) : tellLines(watcher, stop);
  try {
    await ended;
  } finally {
    close();
    watcher.close();
    setTimeout(() => process.exit(), LINGER_MS).unref(); // only where something still holds the process
  }
}

/** A rover as it is watched: its client, and what there is to say of the connection. */
class Watcher {
  /** Called when the connection comes or goes. */
  onNews: () => void = () => {};
  readonly #rover: Rover;
  readonly #address: URL;
  readonly #token: string | undefined;
  readonly #fail: (fault: Fault) => void;
  readonly #heardAt = new Map<FeedName, number>();
  #refusal: Standing['refusal'];
  #trust: Trust = 'lost';
  #since = new Date();
  #wasHeard = false;
  #hello: Picture['hello']; // kept while lost: the rover has not vanished

  constructor(address: URL, token: string | undefined, fail: (fault: Fault) => void) {
    this.#address = address;
    this.#token = token;
    this.#fail = fail;
    this.#rover = connect(address.href, { wants: WANTS, ...(token === undefined ? {} : { token }) });
    this.#rover.on('connection', (isConnected) => {
      this.#refusal = undefined;
      if (!isConnected) void this.#askWhy();
      this.onNews();
    });
    for (const feed of ['shapes', 'movers', 'motion'] as const)
      this.#rover.on(feed, () => void this.#heardAt.set(feed, performance.now()));
  }

  /** @returns the connection as it is now. */
  standing(): Standing {
    const trust = this.#trustNow();
    const now = new Date();
    if (trust !== this.#trust) {
      this.#trust = trust;
      this.#since = now;
    }
    if (trust !== 'lost') this.#wasHeard = true;
    const { silence, retryIn } = this.#rover;
    return {
      ...{ trust, since: this.#since, now, host: this.#address.host, wasHeard: this.#wasHeard },
      ...{ silence, retryIn, refusal: this.#refusal },
    };
  }

  /** @returns what the rover tells now; nothing of what must not be believed any more. */
  picture(): Picture {
    const { clearance, health, shapes, movers, motion, isStale, age } = this.#rover;
    const isRecent = (feed: FeedName): boolean =>
      !isStale && performance.now() - (this.#heardAt.get(feed) ?? -Infinity) < FADE * 1000;
    this.#hello = this.#rover.hello ?? this.#hello;
    return {
      hello: this.#hello,
      clearance: isStale ? undefined : clearance,
      health: isStale ? undefined : health,
      shapes: isRecent('shapes') ? shapes : undefined,
      movers: isRecent('movers') ? movers : undefined,
      motion: isRecent('motion') ? motion : undefined,
      towards: Array.from({ length: DIRECTIONS }, (_, i) => this.#rover.leewayTowards((2 * Math.PI * i) / DIRECTIONS)),
      age,
    };
  }

  close(): void {
    this.#rover.close();
  }

  #trustNow(): Trust {
    const { isConnected, isStale, health, clearance } = this.#rover;
    if (!isConnected || (clearance === undefined && !this.#wasHeard)) return 'lost';
    if (isStale || health === undefined) return 'stale';
    return health.state === 'ok' ? 'sound' : health.state;
  }

  /** A WebSocket does not tell why it was refused; the same question over HTTP does. */
  async #askWhy(): Promise<void> {
    const door = new URL('/v1/feeds', this.#address);
    door.protocol = door.protocol.replace('ws', 'http');
    try {
      const headers: Record<string, string> =
        this.#token === undefined ? {} : { authorization: `Bearer ${this.#token}` };
      const answer = await fetch(door, { headers, signal: AbortSignal.timeout(ASK_MS) });
      const { code, what, remedy } = (await answer.json()) as Readonly<Record<string, unknown>>;
      const known = faultCodes().find((each) => each === code);
      if (SHUT.includes(answer.status) && known !== undefined)
        this.#fail(
          new Fault(known, { daemon: this.#address.host, token: this.#token === undefined ? 'none given' : 'given' }),
        );
      // by now it lets this client in, or it is another program that has no reason to give
      if (this.#rover.isConnected || answer.status === UPGRADE || typeof what !== 'string') return;
      this.#refusal = { code: String(code), what, remedy: String(remedy) };
    } catch {
      // not there, or no daemon: the words for a lost connection fit
    }
  }
}

/** Draws in the terminal until the returned function is called. */
function showScreen(watcher: Watcher, look: Look, stop: () => void): () => void {
  let frozen: Readonly<{ picture: Picture; at: Date }> | undefined;
  let chosen: number | undefined; // m; undefined: fits by itself
  let fitted = RADII[Math.floor(RADII.length / 2)];
  let isHelp = false;
  let drawn: Trust | undefined;
  let drawnAt = 0;
  const draw = (): void => {
    const standing = watcher.standing();
    drawn = standing.trust;
    drawnAt = performance.now();
    const picture = frozen?.picture ?? watcher.picture();
    fitted = fitRadius(picture.clearance, fitted);
    const state = { standing, picture, frozenAt: frozen?.at, radius: chosen ?? fitted, isHelp, look };
    screen?.draw(view(state, screen.columns, screen.rows));
  };
  const zoom = (step: number): void => {
    const nearest = RADII.indexOf(chosen ?? fitted);
    chosen = RADII[Math.min(RADII.length - 1, Math.max(0, nearest + step))];
  };
  const key = (name: string): void => {
    if (name === 'q' || name === 'ctrl-c' || name === 'ctrl-d') stop();
    else if (name === '+' || name === '=') zoom(-1);
    else if (name === '-') zoom(1);
    else if (name === '0') chosen = undefined;
    else if (name === ' ' || name === 'f')
      frozen = frozen === undefined ? { picture: watcher.picture(), at: new Date() } : undefined;
    else if (name === '?' || name === 'h') isHelp = !isHelp;
    else if (isHelp) isHelp = false;
    else return;
    draw();
  };
  let screen: Screen | undefined;
  screen = new Screen({ key, resize: draw, gone: stop });
  watcher.onNews = draw;
  draw();
  const looks = setInterval(() => {
    if (performance.now() - drawnAt >= FRAME_MS || watcher.standing().trust !== drawn) draw();
  }, LOOK_MS);
  return () => {
    clearInterval(looks);
    watcher.onNews = () => {};
    screen.leave();
  };
}

/** Writes a line a second, and one at once when the trust changes, until the returned function is called. */
function tellLines(watcher: Watcher, stop: () => void): () => void {
  process.stderr.write(`${CAUTION}\n`);
  process.stdout.on('error', stop); // such as | head
  let told: Trust | undefined;
  let toldAt = performance.now();
  const tell = (): void => {
    const standing = watcher.standing();
    const isNews = standing.trust !== (told ?? 'lost'); // at first a connection takes a moment
    if (!isNews && performance.now() - toldAt < LINE_MS) return;
    told = standing.trust;
    toldAt = performance.now();
    process.stdout.write(`${plainLine(standing, watcher.picture())}\n`);
  };
  const looks = setInterval(tell, LOOK_MS);
  watcher.onNews = tell;
  return () => {
    clearInterval(looks);
    watcher.onNews = () => {};
  };
}

/** @throws {Fault} USAGE_WRONG. */
export function readAddress(url: string): URL {
  const full = /^[a-z]+:\/\//i.test(url) ? url : `http://${url}`;
  if (!URL.canParse(full)) throw new Fault('USAGE_WRONG', { reason: `${url} is no address such as http://rover:5339` });
  const address = new URL(full);
  if (!/^(?:https?|wss?):$/.test(address.protocol))
    throw new Fault('USAGE_WRONG', { reason: `${address.protocol}// is not spoken; http, https, ws and wss are` });
  return address;
}

/** @param file path of a file that holds the token alone; undefined: the environment's. @throws {Fault} TOKEN_FILE_UNREADABLE. */
export function readToken(file: string | undefined): string | undefined {
  if (file === undefined) return process.env[TOKEN_VARIABLE] || undefined;
  let token: string;
  try {
    token = readFileSync(file, 'utf8').trim();
  } catch (cause) {
    throw new Fault('TOKEN_FILE_UNREADABLE', { file, reason: cause instanceof Error ? cause.message : '' }, cause);
  }
  if (!/^\S+$/.test(token))
    throw new Fault('TOKEN_FILE_UNREADABLE', { file, reason: 'it does not hold one token alone' });
  return token;
}
