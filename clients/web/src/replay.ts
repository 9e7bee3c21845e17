import { connect, type Rover, type RunEvent } from '../../typescript/src/client.js';
import { feed } from './feed.js';
import type { Pose } from './geometry.js';
import type { EventKind, Happening } from './history.js';
import { Model } from './model.js';

const PACES = [0.25, 0.5, 1, 2, 4, 8];
const BLIND = 3; // HealthState on the wire
const GONE = 3; // s without a word of the run: it says where it is once a second

/** A run as `GET /v1/runs` tells it. */
export interface RunRow {
  readonly name: string;
  readonly title: string;
  readonly pinned: boolean;
  readonly beganS: number | null;
  readonly lengthS: number | null;
  readonly drivenM: number;
  readonly closestM: number | null;
  readonly marks: number;
  /** Codes. */
  readonly findings: readonly string[];
  readonly bytes: number;
  readonly cut: boolean;
  readonly fault?: unknown;
}

/** A run as `GET /v1/runs/NAME` tells it. */
interface RunDetail extends RunRow {
  readonly events: ReadonlyArray<Readonly<{ atS: number; kind: string; text: string }>>;
  readonly momentsAtS: readonly number[];
  readonly moments: Readonly<Record<string, ReadonlyArray<number | null>>>;
}

const KINDS: Readonly<Record<string, EventKind>> = {
  mark: 'mark',
  mover: 'mover',
  stop_distance: 'stop',
  finding: 'fault',
};
const NAMES: Readonly<Record<EventKind, string>> = {
  mark: 'Mark',
  mover: 'A mover comes close',
  stop: 'Leeway below the stop distance',
  fault: 'Finding',
};

/** A run being looked at again: the same model, fed by the run's own messages. */
export class Replay {
  readonly model = new Model();
  readonly name: string;
  readonly rover: Rover;
  row: RunRow | undefined;
  happenings: readonly Happening[] = [];
  /** Unix time of the day: beginning, end, and where it is now. */
  from = 0;
  to = 1;
  at = 0;
  state: RunEvent['state'] = 'playing';
  pace = 1;
  isNews = true;
  /** The run holds no echoes, or cannot be read: in words; undefined: it can be shown. */
  empty: string | undefined;
  onShapes = (): void => {};
  #detail: RunDetail | undefined;
  #heardAt = performance.now() / 1000;
  /** Where the hand waits to be followed; NaN: nowhere. */
  #wanted = Number.NaN;

  /** @param fetchJson asks the daemon. @param at Unix time of the day, s: where to begin, paused; absent: at the beginning. */
  constructor(name: string, token: string | undefined, fetchJson: (path: string) => Promise<unknown>, at?: number) {
    this.name = name;
    this.rover = connect(location.origin, {
      run: name,
      wants: ['clearance', 'health', 'motion', 'movers', 'shapes', 'sweep', 'run'],
      ...(token === undefined ? {} : { token }),
    });
    const news = (): void => {
      this.isNews = true;
      this.#heardAt = performance.now() / 1000;
    };
    feed(this.rover, this.model, news, (stamps) => {
      this.#come(stamps.sentS);
      this.onShapes();
    });
    this.rover.on('clearance', (_clearance, { sentS }) => this.#come(sentS));
    let wasGreeted = at === undefined;
    this.rover.on('hello', () => {
      if (!wasGreeted && at !== undefined) this.rover.send({ replay: { atS: at, paused: true } });
      wasGreeted = true;
    });
    this.rover.on('run', (run) => {
      news();
      this.state = run.state;
      this.pace = run.pace;
      if (run.toS > run.fromS) {
        this.from = run.fromS;
        this.to = run.toS;
      }
      this.#come(run.atS);
    });
    void this.#learn(fetchJson);
  }

  async #learn(fetchJson: (path: string) => Promise<unknown>): Promise<void> {
    try {
      const detail = (await fetchJson(`/v1/runs/${encodeURIComponent(this.name)}`)) as RunDetail;
      this.#detail = detail;
      this.row = detail;
      this.happenings = detail.events.flatMap(({ atS, kind, text }) => {
        const known = KINDS[kind];
        return known === undefined ? [] : [{ at: atS, kind: known, what: text || NAMES[known] }];
      });
      if (detail.beganS !== null) {
        this.from = detail.beganS;
        this.to = detail.beganS + Math.max(1, detail.lengthS ?? 0);
        this.at ||= this.from;
      }
      if (detail.momentsAtS.length === 0)
        this.empty = 'This run holds no echoes: recording began before the sensor answered.';
    } catch (error) {
      this.empty = error instanceof Error ? error.message : 'This run cannot be read.';
    }
    this.isNews = true;
  }

  /** The run has come to a moment; the hand stays where it was put until it is followed. */
  #come(time: number): void {
    if (Number.isNaN(this.#wanted)) this.at = time;
  }

  /** Whether the daemon still plays it. */
  get isHeard(): boolean {
    return this.rover.isConnected && performance.now() / 1000 - this.#heardAt < GONE;
  }

  get isPlaying(): boolean {
    return this.state === 'playing';
  }

  /** Calls `take` with the least leeway ahead of each second; NaN: blind. */
  curve(take: (time: number, ahead: number) => void): void {
    const { momentsAtS = [], moments = {} } = this.#detail ?? {};
    const { ahead_m: ahead = [], state = [] } = moments;
    for (const [i, at] of momentsAtS.entries()) take(at, state[i] === BLIND ? Number.NaN : (ahead[i] ?? Number.NaN));
  }

  /** Where the rover stood at the moment shown, from the run's own beginning; undefined: not known. */
  get stood(): Pose | undefined {
    const { x_m: x = [], y_m: y = [], heading_rad: heading = [] } = this.#detail?.moments ?? {};
    const i = this.#moment;
    const [px, py, turned] = [x[i], y[i], heading[i]];
    return typeof px === 'number' && typeof py === 'number' && typeof turned === 'number'
      ? { x: px, y: py, heading: turned }
      : undefined;
  }

  /** m, driven up to the moment shown; undefined: not known. */
  get driven(): number | undefined {
    return this.#detail?.moments.driven_m?.[this.#moment] ?? undefined;
  }

  get #moment(): number {
    const { momentsAtS = [] } = this.#detail ?? {};
    let low = 0;
    let high = momentsAtS.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (momentsAtS[middle] < this.at) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** @returns the event after a time, or before it. */
  event(time: number, isNext: boolean): { happening: Happening; number: number } | undefined {
    const list = this.happenings;
    const slack = 0.3;
    let found = -1;
    for (let i = 0; i < list.length; i++) {
      if (isNext && list[i].at > time + slack) return { happening: list[i], number: i + 1 };
      if (!isNext && list[i].at < time - 1) found = i;
    }
    return found < 0 ? undefined : { happening: list[found], number: found + 1 };
  }

  /** Puts the hand at a moment. @param time Unix time of the day, s. */
  place(time: number): void {
    this.at = Math.min(this.to, Math.max(this.from, time));
    this.#wanted = this.at;
    this.isNews = true;
  }

  /** Asks for what was at the hand. */
  seek(): void {
    if (!Number.isNaN(this.#wanted)) this.rover.send({ replay: { atS: this.#wanted } });
    this.#wanted = Number.NaN;
  }

  step(sweeps: number): void {
    this.rover.send({ replay: { step: sweeps } });
  }

  toggle(): void {
    if (this.state === 'ended') this.rover.send({ replay: { atS: this.from, paused: false } });
    else this.rover.send({ replay: { paused: this.isPlaying } });
  }

  /** @param steps how many paces faster; round at the end where `isRound`. */
  faster(steps: number, isRound = false): void {
    const at = PACES.indexOf(this.pace) + steps;
    const pace = isRound ? PACES[at % PACES.length] : PACES[Math.min(PACES.length - 1, Math.max(0, at))];
    this.rover.send({ replay: { pace } });
  }

  close(): void {
    this.rover.close();
  }
}

/** @returns an event's name. */
export function nameOf(kind: EventKind): string {
  return NAMES[kind];
}
