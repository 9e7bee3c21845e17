import type { Observable } from 'rxjs';

/** How messages are written: binary protobuf, or ProtoJSON text. */
export type Format = 'proto' | 'json';

/** What a client may do: see; also drive the simulated rover and report odometry; everything. */
export type Role = 'watch' | 'drive' | 'admin';

/** One message of a feed. */
export interface FeedMessage {
  readonly feed: number;
  /** Counts the messages of this feed since the daemon began; 0 for hello. */
  readonly sequence: number;
  /** An urgent fall of leeway, or a sector that became unknown: no rate that a client asked for delays it. */
  readonly urgent: boolean;
  /** Encoded once a format, on demand; the same bytes for every client. */
  bytes(format: Format): Uint8Array | string;
}

/** What a client sent: which feeds it wants from now on (at most `maxRate` Hz, absent: every message), or anything else. */
export type Request =
  | { readonly kind: 'subscribe'; readonly wants: readonly Want[] }
  | { readonly kind: 'other'; readonly body: unknown };
export interface Want {
  readonly feed: number;
  readonly maxRate?: number;
}

/** The feeds as the server needs them. It sends their bytes and never looks inside. */
export interface FeedSource {
  /** Every message of every feed as it is made; completes when the daemon stops. */
  readonly messages: Observable<FeedMessage>;
  /** @returns the newest message of a feed, made anew for sending now; undefined where there is none yet. */
  newest(feed: number): FeedMessage | undefined;
  /** @returns the greeting of a client of that role. */
  hello(role: Role): FeedMessage;
  /** When what hello says has changed. */
  readonly helloChanged: Observable<void>;
  /** @throws {Fault} MESSAGE_UNREADABLE, ENUM_UNKNOWN, WANTS_EMPTY, LIMIT_EXCEEDED. */
  read(format: Format, data: Uint8Array | string): Request;
  /** Takes what is no subscription. @throws {Fault} where it is refused; the client stays. */
  act(request: Request, role: Role): void;
}
