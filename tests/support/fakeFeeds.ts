import { Subject } from 'rxjs';
import { encodeJson, encodeProto, Feed, type ServerMessage } from '../../src/messages/codec.js';
import { Feeds } from '../../src/pipeline/feeds.js';
import type { FeedMessage, FeedSource, Format, Request, Role } from '../../src/server/feedSource.js';

const OUTLINE = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
] as const;

/** Feeds that say what a test tells them to. Client messages are read by the real reader. */
export class FakeFeeds implements FeedSource {
  readonly messages = new Subject<FeedMessage>();
  readonly helloChanged = new Subject<void>();
  readonly acted: Request[] = [];
  /** How often a message was made anew. */
  renewals = 0;
  rover = 'test cart';
  version = '0.1.0';
  /** Throws in the place of acting. */
  actFault: Error | undefined;
  /** Unix time that messages carry, s. */
  now: () => number = () => Date.now() / 1000;
  readonly #bodies = new Map<number, Partial<ServerMessage>>();
  readonly #sequences = new Map<number, number>();
  readonly #reader = new Feeds({} as never, this.messages as never);

  /** Makes a message of a feed and sends it out. */
  say(feed: Feed, body: Partial<ServerMessage>, urgent = false): void {
    this.#bodies.set(feed, body);
    this.#sequences.set(feed, (this.#sequences.get(feed) ?? 0) + 1);
    this.messages.next(this.#make(feed, urgent));
  }

  newest(feed: number): FeedMessage | undefined {
    if (!this.#bodies.has(feed)) return undefined;
    this.renewals++;
    return this.#make(feed, false);
  }

  hello(role: Role): FeedMessage {
    const hello = {
      ...{
        version: this.version,
        rover: this.rover,
        role,
        source: 'simulated',
        reachM: [0.15, 12],
        stopM: 0.225,
        run: '',
      },
      outlineM: OUTLINE.map(([xM, yM]) => ({ xM, yM })),
    };
    return frozen(Feed.FEED_UNSPECIFIED, { sequence: 0, timeS: this.now(), sentS: this.now(), hello }, false);
  }

  read(format: Format, data: Uint8Array | string): Request {
    return this.#reader.read(format, data);
  }

  act(request: Request): void {
    if (this.actFault !== undefined) throw this.actFault;
    this.acted.push(request);
  }

  #make(feed: number, urgent: boolean): FeedMessage {
    const now = this.now();
    const stamps = { sequence: this.#sequences.get(feed) ?? 0, timeS: now - 0.02, sentS: now };
    return frozen(feed, { ...stamps, ...this.#bodies.get(feed) }, urgent);
  }
}

/** A message that is encoded once a format. */
function frozen(feed: number, message: ServerMessage, urgent: boolean): FeedMessage {
  const bytes = new Map<Format, Uint8Array | string>();
  return {
    feed,
    sequence: message.sequence ?? 0,
    urgent,
    bytes: (format) => {
      const known = bytes.get(format);
      if (known !== undefined) return known;
      const made = format === 'json' ? encodeJson(message) : encodeProto(message);
      bytes.set(format, made);
      return made;
    },
  };
}
