import { encodeJson, encodeProto, type ServerMessage } from '../messages/codec.js';

export type Format = 'proto' | 'json';

/** One message of a feed, encoded at most once a format and only when somebody wants it. */
export class FeedMessage {
  readonly feed: number;
  readonly sequence: number;
  /** An urgent fall of leeway, or a sector that became unknown: no rate a client asked for delays it. */
  readonly urgent: boolean;
  /** What it says. */
  readonly message: ServerMessage;
  #proto: Uint8Array | undefined;
  #json: string | undefined;

  constructor(feed: number, message: ServerMessage, urgent = false) {
    this.feed = feed;
    this.sequence = message.sequence ?? 0;
    this.urgent = urgent;
    this.message = message;
  }

  bytes(format: Format): Uint8Array | string {
    if (format === 'json') {
      this.#json ??= encodeJson(this.message);
      return this.#json;
    }
    this.#proto ??= encodeProto(this.message);
    return this.#proto;
  }
}
