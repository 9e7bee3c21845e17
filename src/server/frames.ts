import type { FeedMessage, Format } from './feedSource.js';

/** What goes on the wire. Text is made into bytes once a message, not once a client. */
export class Frames {
  #message: FeedMessage | undefined;
  #text: Buffer = Buffer.alloc(0);

  /** @returns the message's bytes; one message asked for many times in a row gives the same ones. */
  of(message: FeedMessage, format: Format): Uint8Array {
    if (format === 'json' && message === this.#message) return this.#text;
    const bytes = message.bytes(format);
    if (typeof bytes !== 'string') return bytes;
    this.#message = message;
    this.#text = Buffer.from(bytes, 'utf8');
    return this.#text;
  }
}
