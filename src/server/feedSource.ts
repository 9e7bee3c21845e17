import type { Observable } from 'rxjs';

/** How messages are written on the wire: binary protobuf or ProtoJSON text. */
export type Format = 'proto' | 'json';
export type Role = 'watch' | 'drive' | 'admin';

/** One message of a feed, encoded once a format, on demand. */
export interface FeedMessage {
  readonly feed: number;
  readonly sequence: number;
  /** No rate a client asked for delays it. */
  readonly urgent: boolean;
  bytes(format: Format): Uint8Array | string;
}

/** What a client sent. */
export type Request =
  | { readonly kind: 'subscribe'; readonly wants: ReadonlyArray<{ readonly feed: number; readonly maxRate?: number }> }
  | { readonly kind: 'other'; readonly body: unknown };

/** The feeds as the server needs them: it sends their bytes and never looks inside. */
export interface FeedSource {
  /** Every message of every feed as it is made; completes when the daemon stops. */
  readonly messages: Observable<FeedMessage>;
  /** @returns the newest message of a feed, made anew for sending now; undefined where there is none yet. */
  newest(feed: number): FeedMessage | undefined;
  /** @returns the greeting of every connection. */
  hello(role: Role): FeedMessage;
  /** When what the greeting says has changed. */
  readonly helloChanged: Observable<void>;
  /** @throws {Fault} MESSAGE_UNREADABLE, ENUM_UNKNOWN, WANTS_EMPTY, LIMIT_EXCEEDED. */
  read(format: Format, data: Uint8Array | string): Request;
  /** Takes what is not a subscription. */
  act(request: Request, role: Role): void;
}
