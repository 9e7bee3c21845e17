import type { ServerMessage } from '../messages/codec.js';
import type { Moment, RunNote } from './format.js';
import { echoPoints, type NearSetting, nearestEcho } from './nearest.js';

/** Of SectorState and HealthState on the wire. */
const UNKNOWN = 1;
const BLIND = 3;
const MOVER_SURE = 0.5; // confidence from which a mover is one
const MOVER_SOON = 2; // s, how far ahead its closest approach counts
const MOVER_CLOSE = 0.5; // m, from here on it is an event
const APART = 2; // s without it after which the same thing is a new event
const WALL_ECHOES = 30; // a wall of fewer says little of the noise

/** What it must know of the rover. */
export interface TimelineSetting extends NearSetting {
  /** m, leeway ahead below it is an event: the stopping distance. */
  readonly stop: number;
}

/**
 * What happened, from the daemon's messages: a moment a second, and events where something began. The same for a recording under way
 * and for a run that is played, so that both tell alike.
 */
export class Timeline {
  readonly #setting: TimelineSetting;
  #moments: Moment[] = [];
  #events: RunNote[] = [];
  #second = NaN;
  #place: { x: number; y: number; heading: number } | undefined;
  #driven = 0;
  #ahead: number[] = [];
  #closest = Infinity;
  #closestBearing = NaN;
  #unknown = 1;
  #health: NonNullable<ServerMessage['health']> | undefined;
  #findings = new Map<string, string>();
  #movers = 0;
  #mover = Infinity;
  #roughness: number | null = null;
  #sigma: number | null = null;
  #belowSince = NaN;
  #belowAt = -Infinity;
  readonly #closeAt = new Map<number, number>();

  constructor(setting: TimelineSetting) {
    this.#setting = setting;
  }

  /** m, way driven so far. */
  get driven(): number {
    return this.#driven;
  }

  /** Takes the next message, in the order of making. */
  push(message: ServerMessage): void {
    const at = message.sentS ?? 0;
    const second = Math.floor(at);
    if (second !== this.#second) {
      if (!Number.isNaN(this.#second)) this.#close(Math.min(at, this.#second + 1));
      this.#second = second;
    }
    if (message.clearance) this.#clearance(message.clearance, at);
    else if (message.sweep) this.#sweep(message.sweep);
    else if (message.motion) this.#motion(message.motion);
    else if (message.movers) this.#takeMovers(message.movers, at);
    else if (message.shapes) this.#shapes(message.shapes);
    else if (message.health) this.#takeHealth(message.health, at);
  }

  /** @returns what has come together since the last call. */
  take(): { events: RunNote[]; moments: Moment[] } {
    const taken = { events: this.#events, moments: this.#moments };
    this.#events = [];
    this.#moments = [];
    return taken;
  }

  #clearance(clearance: NonNullable<ServerMessage['clearance']>, at: number): void {
    const state = clearance.state ?? [];
    const unknown = state.filter((each) => each <= UNKNOWN).length;
    this.#unknown = state.length === 0 ? 1 : unknown / state.length;
    const ahead = clearance.aheadM ?? 0;
    this.#ahead.push(ahead);
    if (!(ahead < this.#setting.stop) || (this.#health?.state ?? BLIND) === BLIND) {
      if (at - this.#belowAt > APART) this.#belowSince = NaN;
      return;
    }
    this.#belowAt = at;
    if (Number.isNaN(this.#belowSince)) {
      this.#belowSince = at;
      this.#event(
        at,
        'stop_distance',
        `leeway ahead ${ahead.toFixed(2)} m, stopping takes ${this.#setting.stop.toFixed(2)} m`,
      );
    }
  }

  #sweep(sweep: NonNullable<ServerMessage['sweep']>): void {
    const points = echoPoints(sweep, this.#setting);
    const { at, distance } = nearestEcho(points, this.#setting.outline, this.#closest);
    if (at < 0) return;
    this.#closest = distance;
    this.#closestBearing = Math.atan2(points.y[at], points.x[at]);
  }

  #motion({ xM = 0, yM = 0, headingRad = 0 }: NonNullable<ServerMessage['motion']>): void {
    const [x, y, heading] = [xM ?? 0, yM ?? 0, headingRad ?? 0];
    if (this.#place) {
      const step = Math.hypot(x - this.#place.x, y - this.#place.y);
      if (step < STEP_LEAST) {
        this.#place.heading = heading;
        return;
      }
      this.#driven += step;
    }
    this.#place = { x, y, heading };
  }

  #takeMovers({ movers = [] }: NonNullable<ServerMessage['movers']>, at: number): void {
    let count = 0;
    for (const { id = 0, confidence = 0, closestM = Infinity, closestInS = Infinity, xM = 0, yM = 0 } of movers ?? []) {
      if ((confidence ?? 0) < MOVER_SURE) continue;
      count++;
      if ((closestInS ?? Infinity) > MOVER_SOON) continue;
      const closest = closestM ?? Infinity;
      this.#mover = Math.min(this.#mover, closest);
      if (closest >= MOVER_CLOSE) continue;
      const number = id ?? 0;
      if (at - (this.#closeAt.get(number) ?? -Infinity) > APART)
        this.#event(
          at,
          'mover',
          `mover ${number} comes within ${closest.toFixed(2)} m, from ${where(xM ?? 0, yM ?? 0)}`,
        );
      this.#closeAt.set(number, at);
    }
    this.#movers = count;
  }

  #shapes({ walls }: NonNullable<ServerMessage['shapes']>): void {
    const good = (walls ?? []).filter(({ echoes }) => (echoes ?? 0) >= WALL_ECHOES);
    if (good.length === 0) return;
    this.#roughness = median(good.map(({ roughnessM }) => roughnessM ?? 0));
    this.#sigma = median(good.map(({ distanceVar }) => Math.sqrt(distanceVar ?? 0)));
  }

  #takeHealth(health: NonNullable<ServerMessage['health']>, at: number): void {
    this.#health = health;
    const now = new Map((health.findings ?? []).map(({ code, what }) => [code ?? '', what ?? '']));
    for (const [code, what] of now) if (!this.#findings.has(code)) this.#event(at, 'finding', `${code}: ${what}`);
    for (const [code] of this.#findings) if (!now.has(code)) this.#event(at, 'finding_gone', code);
    this.#findings = now;
  }

  #event(at: number, kind: string, text: string): void {
    this.#events.push({ at, kind, text });
  }

  #close(at: number): void {
    const { spinHz = NaN, echoesPerS = NaN, validShare = NaN, state = 0 } = this.#health ?? {};
    this.#moments.push({
      at,
      values: [
        ...(this.#place ? [this.#place.x, this.#place.y, this.#place.heading] : [null, null, null]),
        this.#driven,
        ...[
          this.#ahead.length > 0 ? median(this.#ahead) : null,
          known(this.#closest),
          known(this.#closestBearing),
          this.#unknown,
        ],
        ...[known(spinHz ?? NaN), known(echoesPerS ?? NaN), known(validShare ?? NaN), state ?? 0],
        ...[this.#movers, known(this.#mover), this.#roughness, this.#sigma],
      ],
    });
    this.#ahead = [];
    this.#closest = this.#mover = Infinity;
    this.#closestBearing = NaN;
    this.#roughness = this.#sigma = null;
  }
}

const STEP_LEAST = 0.02; // m between places: under it a standing rover's noise would count as way

function known(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function median(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[values.length >> 1];
}

function where(x: number, y: number): string {
  const side = Math.abs(y) > Math.abs(x) ? (y > 0 ? 'the left' : 'the right') : x > 0 ? 'ahead' : 'behind';
  return `${side}, ${Math.hypot(x, y).toFixed(1)} m away`;
}
