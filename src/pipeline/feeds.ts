import { NEVER, type Observable } from 'rxjs';
import { Fault } from '../core/fault.js';
import { type ClientMessage, readClientMessage } from '../messages/codec.js';
import type { FeedMessage, Format } from './feedMessage.js';
import type { Senses } from './senses.js';

const WANTS_MAX = 16;
const RATE_MAX = 1000; // Hz

/** What a client asks for. */
export type Request =
  | { readonly kind: 'subscribe'; readonly wants: ReadonlyArray<{ readonly feed: number; readonly maxRate?: number }> }
  | { readonly kind: 'other'; readonly body: ClientMessage };

/** The daemon's feeds as the server needs them: it sends their bytes and never looks inside. */
export class Feeds {
  /** Every message of every feed as it is made. */
  readonly messages: Observable<FeedMessage>;
  /** When what hello says has changed: nothing of it does while the daemon runs. */
  readonly helloChanged: Observable<void> = NEVER;
  readonly #senses: Senses;
  readonly #drive: ((speed: number, turn: number) => void) | undefined;

  /** @param drive the simulated rover, m/s and rad/s; undefined: the rover is a real one. */
  constructor(senses: Senses, messages: Observable<FeedMessage>, drive?: (speed: number, turn: number) => void) {
    this.#senses = senses;
    this.#drive = drive;
    this.messages = messages;
  }

  /** @returns the newest message of a feed, made anew for sending now; undefined where there is none yet. */
  newest(feed: number): FeedMessage | undefined {
    return this.#senses.newest(feed);
  }

  hello(role: string): FeedMessage {
    return this.#senses.hello(role);
  }

  /** @throws {Fault} MESSAGE_UNREADABLE, ENUM_UNKNOWN, WANTS_EMPTY, LIMIT_EXCEEDED. */
  read(format: Format, data: Uint8Array | string): Request {
    const message = readClientMessage(format, data);
    if (message.subscribe === undefined || message.subscribe === null) {
      if (!(message.odometry ?? message.mark ?? message.drive))
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

  /**
   * Takes what a client sent beside subscribe. Wheel data and marks are not used yet: the rover's motion is not estimated and
   * nothing is recorded. A real rover is never driven from here: that becomes a finding.
   * @throws {Fault} ROLE_TOO_LOW; LIMIT_EXCEEDED where a speed is no number.
   */
  act(request: Request, role: string): void {
    if (request.kind !== 'other') return;
    const { drive } = request.body;
    if (drive === undefined || drive === null) return;
    if (role === 'watch') throw new Fault('ROLE_TOO_LOW', { role, needed: 'drive' });
    const speed = drive.vxMps ?? 0;
    const turn = drive.turnRadps ?? 0;
    if (!Number.isFinite(speed) || !Number.isFinite(turn))
      throw new Fault('LIMIT_EXCEEDED', { vx_mps: speed, turn_radps: turn });
    if (this.#drive === undefined) this.#senses.remark(new Fault('DRIVE_IGNORED'));
    else this.#drive(speed, turn);
  }
}
