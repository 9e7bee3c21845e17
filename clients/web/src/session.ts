import { connect, type FeedName, type Rover, type RunEvent } from '../../typescript/src/client.js';
import { feed } from './feed.js';
import { nearestOn } from './geometry.js';
import { History } from './history.js';
import { Model } from './model.js';
import { sentence, type Trust } from './words.js';

const LOST_AFTER = 0.35; // s without a Clearance, seven of them: with a late message and a late frame it shows within 0.5 s
const RESTART_TOLD = 30; // s
const CLOSE = 0.6; // m from the outline: a mover that near is worth noting
const ALL: readonly FeedName[] = ['clearance', 'health', 'motion', 'movers', 'shapes', 'sweep', 'run'];
const FEW: readonly FeedName[] = ['clearance', 'health'];
const TOKEN = 'leeway.token'; // where this tab remembers it

/** What the daemon says where it refuses this page. */
export type Refusal = Readonly<{ code: string; what: string; remedy: string }>;

/** The page's connection: stays connected, says how far what it knows may be believed, and costs nothing while nobody looks. */
export class Session {
  readonly model = new Model();
  readonly history = new History();
  trust: Trust = 'lost';
  /** Unix time, s: when trust became so; whether it was so when this page first looked. */
  since = Date.now() / 1000;
  isWatched = false;
  wasHeard = false;
  tries = 0;
  refusal: Refusal | undefined;
  older: string | undefined;
  restarted: number | undefined;
  rover: Rover;
  /** Something came that the plan shows. */
  isNews = true;
  /** What was last said of the run being recorded. */
  run: RunEvent | undefined;
  onHello = (): void => {};
  onRun = (_run: RunEvent): void => {};
  onShapes = (): void => {};
  /** The daemon began anew: what stood on the plan cannot be found again. */
  onRestart = (): void => {};
  #token = sessionStorage.getItem(TOKEN) ?? undefined;
  #feeds = ALL;
  #sequence = 0;
  #heardAt = 0; // s, of the page's own clock: the newest Clearance
  readonly #near = { x: 0, y: 0 };
  readonly #version: string;

  /** @param version of this page. */
  constructor(version: string) {
    this.#version = version;
    this.rover = this.#open();
    document.addEventListener('visibilitychange', () => this.#look());
  }

  get token(): string | undefined {
    return this.#token;
  }

  /** s, the daemon's clock as far as it is known. */
  get time(): number {
    const stamps = this.model.clearanceStamps;
    return stamps === undefined ? Date.now() / 1000 : stamps.sentS + performance.now() / 1000 - this.#heardAt;
  }

  /** Unix time, s, when the daemon began anew; undefined: not in the last half minute. */
  get restartedLately(): number | undefined {
    const { restarted } = this;
    return restarted !== undefined && Date.now() / 1000 - restarted < RESTART_TOLD ? restarted : undefined;
  }

  /** @returns why this page may not do what needs a role; undefined: it may. */
  barredBy(needed: 'drive' | 'admin'): string | undefined {
    if (this.trust === 'lost') return 'not connected';
    const role = this.model.hello?.role ?? 'watch';
    return role === 'admin' || role === needed ? undefined : `needs role ${needed}`;
  }

  /** Asks the daemon over HTTP. @throws {Error} with what it says where it refuses. */
  async ask(path: string, init: RequestInit = {}): Promise<unknown> {
    const headers = new Headers(init.headers);
    if (this.#token !== undefined) headers.set('authorization', `Bearer ${this.#token}`);
    const answer = await fetch(path, { ...init, headers });
    const told: unknown = await answer.json().catch(() => undefined);
    if (answer.ok) return told;
    const { code, what, remedy } = (typeof told === 'object' && told !== null ? told : {}) as Partial<Refusal>;
    if (code === 'PATH_UNKNOWN')
      throw new Error('This daemon does not offer that: it is older than the page, or set up without it.');
    throw new Error(
      `${what === undefined ? `HTTP ${answer.status}` : sentence(what)}.${remedy === undefined ? '' : ` ${remedy}`}`,
    );
  }

  /** Comes in with a token; the tab remembers it. */
  enter(token: string): void {
    sessionStorage.setItem(TOKEN, token);
    this.#token = token;
    this.refusal = undefined;
    this.reopen();
  }

  reopen(): void {
    this.rover.close();
    this.rover = this.#open();
  }

  /** Sees whether what is known may still be believed. @returns whether that changed. */
  judge(): boolean {
    const { health } = this.rover;
    const isHeard = health !== undefined && this.rover.silence <= LOST_AFTER;
    const now: Trust = !isHeard ? 'lost' : health.state === 'ok' ? 'sound' : health.state;
    if (now === this.trust) return false;
    this.isWatched = !this.wasHeard;
    this.trust = now;
    const told = now === 'degraded' || now === 'blind' ? (health?.findings[0]?.sinceS ?? 0) : 0;
    this.since = told > 0 ? told : Date.now() / 1000;
    if (told > 0) this.isWatched = false;
    if (now !== 'lost') this.wasHeard = true;
    else this.model.forgetNow();
    this.isNews = true;
    return true;
  }

  /** A hidden tab asks for nothing. */
  #look(): void {
    if (document.hidden) this.rover.close();
    else this.reopen();
  }

  #open(): Rover {
    const { model, history } = this;
    const token = this.#token;
    const rover = connect(location.origin, { wants: this.#feeds, ...(token === undefined ? {} : { token }) });
    const news = (): void => {
      this.isNews = true;
    };
    rover.on('clearance', (_clearance, { sequence }) => {
      if (sequence < this.#sequence) this.#restart();
      this.#sequence = sequence;
      this.#heardAt = performance.now() / 1000;
    });
    feed(rover, model, news, () => this.onShapes());
    rover.on('hello', (hello) => {
      this.older = isOlder(hello.version, this.#version) ? hello.version : undefined;
      this.onHello();
    });
    rover.on('clearance', (_clearance, { sentS }) => {
      const isBlind = model.health?.state === 'blind';
      history.sample(sentS, isBlind ? Number.NaN : model.ahead);
      const isMoving = (model.motion?.vxMps ?? 0) > 0.05;
      history.watch(sentS, model.ahead, model.hello?.stopM ?? 0, isMoving, isBlind);
    });
    rover.on('movers', ({ movers }, stamps) => {
      for (const { id, xM, yM, widthM, confidence } of movers) {
        const distance = nearestOn(model.outline, xM, yM, this.#near) - widthM / 2;
        if (confidence >= 0.5 && distance < CLOSE) history.watchMover(stamps.timeS, id, Math.max(0, distance));
      }
    });
    rover.on('run', (run) => {
      this.run = run;
      if (run.what === 'mark') history.note({ at: run.atS, kind: 'mark', what: run.text || 'Mark' });
      this.onRun(run);
    });
    rover.on('connection', (isConnected, reason) => {
      news();
      if (isConnected) {
        this.tries = 0;
        this.refusal = undefined;
        return;
      }
      this.tries++;
      if (reason === 'ENUM_UNKNOWN' && this.#feeds === ALL) {
        this.#feeds = FEW; // a daemon that does not know all feeds: what there is
        queueMicrotask(() => this.reopen());
      } else void this.#askWhy(token);
    });
    return rover;
  }

  #restart(): void {
    this.restarted = Date.now() / 1000;
    this.model.forgetWay();
    this.onRestart();
  }

  /** A WebSocket does not tell the page why it was refused; the same question over HTTP does. */
  async #askWhy(token: string | undefined): Promise<void> {
    const headers = token === undefined ? undefined : { authorization: `Bearer ${token}` };
    try {
      const answer = await fetch('/v1/feeds', headers && { headers });
      const told: { code?: unknown; what?: unknown; remedy?: unknown } = await answer.json();
      const isRefusal = [401, 403, 429, 503].includes(answer.status) && typeof told.what === 'string';
      this.refusal = isRefusal
        ? { code: String(told.code), what: String(told.what), remedy: String(told.remedy) }
        : undefined;
    } catch {
      this.refusal = undefined; // not there, or no daemon: the words for a lost connection fit
    }
    this.isNews = true;
  }
}

/** @returns whether version `a` comes before `b`, by its numbers. */
function isOlder(a: string, b: string): boolean {
  const [x, y] = [a, b].map((version) => version.split(/[.-]/).map(Number));
  for (let i = 0; i < 3; i++) {
    if ((x[i] || 0) !== (y[i] || 0)) return (x[i] || 0) < (y[i] || 0);
  }
  return false;
}
