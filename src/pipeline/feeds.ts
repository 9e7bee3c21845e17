import { distinctUntilChanged, map, NEVER, type Observable, skip } from 'rxjs';
import { Fault } from '../core/fault.js';
import { type ClientMessage, readClientMessage } from '../messages/codec.js';
import type { FeedMessage, Format } from './feedMessage.js';
import type { RunBody, Senses } from './senses.js';

const WANTS_MAX = 16;
const RATE_MAX = 1000; // Hz

/** What a client asks for. */
export type Request =
  | { readonly kind: 'subscribe'; readonly wants: ReadonlyArray<{ readonly feed: number; readonly maxRate?: number }> }
  | { readonly kind: 'other'; readonly body: ClientMessage };

/** Recording, as the feeds need it. Each act may throw a Fault: then the client was refused. */
export interface RunDesk {
  /** The state of the run, regularly and when something happens. Begins with the state now. */
  readonly news: Observable<RunBody>;
  /** Name of the run being recorded; empty: none. */
  readonly name: string;
  /** What a person should know now. */
  remarks(): readonly Fault[];
  mark(text: string): void;
  record(on: boolean, title: string): void;
  keep(run: string, wish: Readonly<{ pinned?: boolean; title?: string; remove?: boolean }>): void;
  /** s (0: now), m, m, rad. */
  odometry(time: number, x: number, y: number, heading: number): void;
}

const RANKS: readonly string[] = ['watch', 'drive', 'admin'];
const MARK_MAX = 1000; // characters

/** The daemon's feeds as the server needs them: it sends their bytes and never looks inside. */
export class Feeds {
  /** Every message of every feed as it is made. */
  readonly messages: Observable<FeedMessage>;
  /** When what hello says has changed: which run is recorded. */
  readonly helloChanged: Observable<void>;
  readonly #senses: Senses;
  readonly #drive: ((speed: number, turn: number) => void) | undefined;
  readonly #desk: RunDesk | undefined;

  /** @param drive the simulated rover, m/s and rad/s; undefined: the rover is a real one. */
  constructor(
    senses: Senses,
    messages: Observable<FeedMessage>,
    drive?: (speed: number, turn: number) => void,
    desk?: RunDesk,
  ) {
    this.#senses = senses;
    this.#drive = drive;
    this.#desk = desk;
    this.messages = messages;
    this.helloChanged =
      desk?.news.pipe(
        map(({ run }) => run),
        distinctUntilChanged(),
        skip(1), // a client has been greeted with the first
        map(() => undefined),
      ) ?? NEVER;
  }

  /** @returns the newest message of a feed, made anew for sending now; undefined where there is none yet. */
  newest(feed: number): FeedMessage | undefined {
    return this.#senses.newest(feed);
  }

  hello(role: string): FeedMessage {
    return this.#senses.hello(role, this.#desk?.name);
  }

  /** @throws {Fault} MESSAGE_UNREADABLE, ENUM_UNKNOWN, WANTS_EMPTY, LIMIT_EXCEEDED. */
  read(format: Format, data: Uint8Array | string): Request {
    return readRequest(format, data);
  }

  /**
   * Takes what a client sent beside subscribe. A real rover is never driven from here: that becomes a finding.
   * @throws {Fault} ROLE_TOO_LOW; LIMIT_EXCEEDED where a number is none or a text too long; RUN_...
   */
  act(request: Request, role: string): void {
    if (request.kind !== 'other') return;
    const { drive, odometry, mark, record, keep } = request.body;
    if (drive) {
      needRole(role, 'drive');
      const speed = finite('vx_mps', drive.vxMps);
      const turn = finite('turn_radps', drive.turnRadps);
      if (this.#drive === undefined) this.#senses.remark(new Fault('DRIVE_IGNORED'));
      else this.#drive(speed, turn);
    } else if (odometry) {
      needRole(role, 'drive');
      const place = [
        finite('x_m', odometry.xM),
        finite('y_m', odometry.yM),
        finite('heading_rad', odometry.headingRad),
      ];
      this.#desk?.odometry(finite('time_s', odometry.timeS), place[0], place[1], place[2]);
    } else if (mark) {
      needRole(role, 'drive');
      this.#desk?.mark(short(mark.text));
    } else if (record) {
      needRole(role, 'drive');
      this.#desk?.record(record.on === true, short(record.title));
    } else if (keep) {
      needRole(role, keep.remove === true ? 'admin' : 'drive');
      this.#desk?.keep(keep.run ?? '', {
        ...(typeof keep.pinned === 'boolean' && { pinned: keep.pinned }),
        ...(typeof keep.title === 'string' && { title: short(keep.title) }),
        ...(keep.remove === true && { remove: true }),
      });
    }
  }
}

/** Reads what a client sent. @throws {Fault} MESSAGE_UNREADABLE, ENUM_UNKNOWN, WANTS_EMPTY, LIMIT_EXCEEDED. */
export function readRequest(format: Format, data: Uint8Array | string): Request {
  const message = readClientMessage(format, data);
  if (message.subscribe === undefined || message.subscribe === null) {
    const { odometry, mark, drive, record, keep, replay } = message;
    if (!(odometry ?? mark ?? drive ?? record ?? keep ?? replay))
      throw new Fault('MESSAGE_UNREADABLE', { reason: 'no body' });
    return { kind: 'other', body: message };
  }
  const wants = message.subscribe.wants ?? [];
  if (wants.length === 0) throw new Fault('WANTS_EMPTY');
  if (wants.length > WANTS_MAX) throw new Fault('LIMIT_EXCEEDED', { wants: wants.length, wants_max: WANTS_MAX });
  return {
    kind: 'subscribe',
    wants: wants.map(({ feed, maxRateHz }) => {
      if (!feed) throw new Fault('ENUM_UNKNOWN', { where: 'wants.feed', value: 'FEED_UNSPECIFIED' });
      if (maxRateHz === undefined || maxRateHz === null) return { feed };
      if (!(maxRateHz > 0 && maxRateHz <= RATE_MAX))
        throw new Fault('LIMIT_EXCEEDED', { max_rate_hz: maxRateHz, most_hz: RATE_MAX });
      return { feed, maxRate: maxRateHz };
    }),
  };
}

/** @throws {Fault} ROLE_TOO_LOW. */
function needRole(role: string, needed: string): void {
  if (RANKS.indexOf(role) < RANKS.indexOf(needed)) throw new Fault('ROLE_TOO_LOW', { role, needed });
}

/** @throws {Fault} LIMIT_EXCEEDED. */
function finite(name: string, value: number | null | undefined): number {
  const number = value ?? 0;
  if (!Number.isFinite(number)) throw new Fault('LIMIT_EXCEEDED', { [name]: number });
  return number;
}

/** @throws {Fault} LIMIT_EXCEEDED. */
function short(text: string | null | undefined): string {
  if ((text ?? '').length > MARK_MAX) throw new Fault('LIMIT_EXCEEDED', { characters_max: MARK_MAX });
  return text ?? '';
}
